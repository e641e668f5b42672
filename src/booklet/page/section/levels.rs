//! Where the level of a bin in section is expected at each check.

use jiff::civil::Date;

use super::super::super::Grow;
use super::super::super::block::Align;
use super::super::super::dimension::thin;
use super::super::super::drawing::Mark;
use super::{LETTERS, View, spread};

/// Room for the days on its other side, from there to the wall (mm of paper); and where several days share
/// a row.
pub(super) const DAYS: [f64; 2] = [15.5, 25.0];
const DAY_LEADER: f64 = 5.0;
/// Least distance between two lines at the wall, or they cannot be told apart (mm).
const TICKS_APART: f64 = 0.6;
/// Least distance between two rows of days (mm).
const DAYS_APART: f64 = 3.4;

/// Checks up to the first that raises the level, with the level expected before it.
pub(super) fn falling(grow: &Grow<'_>, index: usize) -> Vec<(Date, f64)> {
    let checks = &grow.results.bins[index].season.checks;
    let first = checks.iter().position(|c| c.event.is_some()).map_or(checks.len(), |i| i + 1);
    checks.iter().take(first).map(|c| (c.day, c.level.expected)).collect()
}

/// Height of a row for each day, from the middle of the first to that of the last (mm).
pub(super) fn high(grow: &Grow<'_>, index: usize) -> f64 {
    rows(falling(grow, index).len())
}

fn rows(count: usize) -> f64 {
    DAYS_APART * f64::from(u32::try_from(count.saturating_sub(1)).unwrap_or(u32::MAX))
}

/// How many days share a row between two heights of the drawing, so that all have room.
pub(super) fn share(grow: &Grow<'_>, index: usize, [highest, lowest]: [f64; 2]) -> usize {
    let days = falling(grow, index).len();
    let fits = |share: &usize| rows(days.div_ceil(*share)) <= lowest - highest + 1e-9;
    (1..=days).find(fits).unwrap_or(days).max(1)
}

/// Where the level is expected at each check: short lines at the wall, and the days led to them from
/// rows between two heights of the drawing. Days whose lines could not be told apart share one.
pub(super) fn days(marks: &mut Vec<Mark>, view: &View<'_>, room: [f64; 2]) {
    let View { scale, grow, index, half } = *view;
    // Beside the wall where it is widest; a jar bellies.
    let depth = grow.results.bins[index].fill.depth;
    let widest = (0..=20).map(|i| half(depth * f64::from(i) / 20.0)).fold(0.0, f64::max);
    let edge = scale.at(-widest, 0.0)[0] - DAY_LEADER;
    let mut ticks: Vec<f64> = Vec::new();
    let tick = |(day, h): (Date, f64)| {
        let y = scale.at(0.0, h)[1];
        let shared = ticks.last().copied().filter(|above| y < above + TICKS_APART);
        ticks.extend(shared.is_none().then_some(y));
        (day, shared.unwrap_or(y))
    };
    let days: Vec<(Date, f64)> = falling(grow, index).into_iter().map(tick).collect();
    let wall = |y: f64| scale.at(-half((scale.floor - y) / scale.by), 0.0)[0];
    for y in ticks {
        thin(marks, [wall(y), y], [wall(y) + 3.0, y]);
    }
    let rows: Vec<&[(Date, f64)]> = days.chunks(share(grow, index, room)).collect();
    let ends = rows.iter().filter_map(|row| Some([*row.first()?, *row.last()?]));
    let ends: Vec<[(Date, f64); 2]> = ends.collect();
    let own: Vec<f64> = ends.iter().map(|[first, last]| f64::midpoint(first.1, last.1)).collect();
    for ([first, last], row) in ends.iter().zip(spread(&own, DAYS_APART, room)) {
        thin(marks, [wall(first.1) - 0.5, first.1], [edge, row]);
        if last.1 > first.1 {
            thin(marks, [wall(last.1) - 0.5, last.1], [edge, row]);
        }
        let (at, text) = ([edge - 0.6, row], from_to(first.0, last.0));
        marks.push(Mark::Words { at, align: Align::Right, size: LETTERS, text });
    }
}

/// A day, or some, without a year.
fn from_to(first: Date, last: Date) -> String {
    let day = last.strftime("%-d %b");
    match (first == last, first.month() == last.month()) {
        (true, _) => day.to_string(),
        (false, true) => format!("{}–{day}", first.day()),
        (false, false) => format!("{}–{day}", first.strftime("%-d %b")),
    }
}
