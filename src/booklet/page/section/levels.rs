//! Where the level of a bin in section is expected at each check.

use jiff::civil::Date;

use super::super::super::Grow;
use super::super::super::block::Align;
use super::super::super::dimension::thin;
use super::super::super::drawing::Mark;
use super::{LETTERS, Scale, View, spread};

/// Room for the days on its other side, from there to the wall (mm of paper); and where several days share
/// a row.
pub(super) const DAYS: [f64; 2] = [15.5, 25.0];
const DAY_LEADER: f64 = 5.0;
/// From the wall to the bracket of later checks (mm).
const BRACKET: f64 = 4.4;
/// A bracket that is no higher is a line (mm).
const FLAT: f64 = 0.4;
/// Lines at the wall that are nearer than this lie on each other (mm).
const TICKS_APART: f64 = 0.1;
/// Least distance between two rows of days (mm).
const DAYS_APART: f64 = 3.4;

/// Checks up to the first that raises the level, with the level expected before it.
pub(super) fn falling(grow: &Grow<'_>, index: usize) -> Vec<(Date, f64)> {
    let checks = &grow.results.bins[index].season.checks;
    let first = checks.iter().position(|c| c.event.is_some()).map_or(checks.len(), |i| i + 1);
    checks.iter().take(first).map(|c| (c.day, c.level.expected)).collect()
}

/// The checks after that, first and last, and between which levels they are expected (lowest, highest).
pub(super) fn later(grow: &Grow<'_>, index: usize) -> Option<([Date; 2], [f64; 2])> {
    let checks = &grow.results.bins[index].season.checks;
    let rest = checks.get(falling(grow, index).len()..)?;
    let levels = || rest.iter().map(|c| c.level.expected);
    let between = [levels().fold(f64::INFINITY, f64::min), levels().fold(0.0, f64::max)];
    Some(([rest.first()?.day, rest.last()?.day], between))
}

/// Rows that the later checks take.
fn later_rows(grow: &Grow<'_>, index: usize) -> usize {
    later(grow, index).map_or(0, |([first, last], _)| if first == last { 1 } else { 2 })
}

/// Height of all rows of days, from the middle of the first to that of the last (mm).
pub(super) fn high(grow: &Grow<'_>, index: usize) -> f64 {
    rows(falling(grow, index).len() + later_rows(grow, index))
}

fn rows(count: usize) -> f64 {
    DAYS_APART * f64::from(u32::try_from(count.saturating_sub(1)).unwrap_or(u32::MAX))
}

/// How many days share a row between two heights of the drawing, so that all have room.
pub(super) fn share(grow: &Grow<'_>, index: usize, [highest, lowest]: [f64; 2]) -> usize {
    let (days, later) = (falling(grow, index).len(), later_rows(grow, index));
    let fits = |share: &usize| rows(days.div_ceil(*share) + later) <= lowest - highest + 1e-9;
    (1..=days).find(fits).unwrap_or(days).max(1)
}

/// Where the level is expected at each check: short lines at the wall, and the days led to them from
/// rows between two heights of the drawing. Checks
/// after something is added share a bracket from the lowest of their levels to the highest.
pub(super) fn days(marks: &mut Vec<Mark>, view: &View<'_>, room: [f64; 2]) {
    let View { scale, grow, index, half } = *view;
    // Beside the wall where it is widest; a jar bellies.
    let depth = grow.results.bins[index].fill.depth;
    let widest = (0..=20).map(|i| half(depth * f64::from(i) / 20.0)).fold(0.0, f64::max);
    let edge = scale.at(-widest, 0.0)[0] - DAY_LEADER;
    let wall = |y: f64| scale.at(-half((scale.floor - y) / scale.by), 0.0)[0];
    let days = ticks(marks, scale, &falling(grow, index), &wall);
    let rows: Vec<&[(Date, f64)]> = days.chunks(share(grow, index, room)).collect();
    let ends = rows.iter().filter_map(|row| Some([*row.first()?, *row.last()?]));
    let ends: Vec<[(Date, f64); 2]> = ends.collect();
    let mut own: Vec<f64> =
        ends.iter().map(|[first, last]| f64::midpoint(first.1, last.1)).collect();
    let later = later(grow, index).map(|(days, h)| (days, h.map(|h| scale.at(0.0, h)[1])));
    let middle = later.map_or(0.0, |(_, [low, high])| f64::midpoint(low, high));
    own.extend(std::iter::repeat_n(middle, later_rows(grow, index)));
    let places = spread(&own, DAYS_APART, room);
    for ([first, last], row) in ends.iter().zip(&places) {
        thin(marks, [wall(first.1) - 0.5, first.1], [edge, *row]);
        if last.1 > first.1 {
            thin(marks, [wall(last.1) - 0.5, last.1], [edge, *row]);
        }
        marks.push(word(edge, *row, from_to(first.0, last.0)));
    }
    if let Some((days, [low, high])) = later {
        // Clear of the short lines, and of the wall where it leans in most.
        let x = wall(low).max(wall(high)) + BRACKET;
        bracket(marks, [x, edge], [low, high], (days, &places[ends.len()..]));
    }
}

fn word(edge: f64, row: f64, text: String) -> Mark {
    Mark::Words { at: [edge - 0.6, row], align: Align::Right, size: LETTERS, text }
}

/// The bracket of later checks, from the lowest to the highest of their levels, led to their first day and
/// their last.
fn bracket(
    marks: &mut Vec<Mark>,
    [x, edge]: [f64; 2],
    [low, high]: [f64; 2],
    ([first, last], rows): ([Date; 2], &[f64]),
) {
    if (low - high).abs() < FLAT {
        let y = f64::midpoint(low, high);
        thin(marks, [x - 1.0, y], [x + 2.0, y]);
    } else {
        thin(marks, [x, low], [x, high]);
        for y in [low, high] {
            thin(marks, [x - 1.0, y], [x, y]);
        }
    }
    let middle =
        rows.iter().sum::<f64>() / f64::from(u32::try_from(rows.len()).unwrap_or(1).max(1));
    thin(marks, [x, f64::midpoint(low, high)], [edge, middle]);
    match rows {
        [row] => marks.push(word(edge, *row, from_to(first, last))),
        [row, next, ..] => {
            marks.push(word(edge, *row, format!("{}–", first.strftime("%-d %b"))));
            marks.push(word(edge, *next, from_to(last, last)));
        }
        [] => {}
    }
}

/// Short lines at the wall for days with their levels; where each day's line stands on paper.
fn ticks(
    marks: &mut Vec<Mark>,
    scale: &Scale,
    days: &[(Date, f64)],
    wall: &dyn Fn(f64) -> f64,
) -> Vec<(Date, f64)> {
    let mut drawn: Option<f64> = None;
    let tick = |(day, h): &(Date, f64)| {
        let y = scale.at(0.0, *h)[1];
        let shared = drawn.filter(|above| y < above + TICKS_APART);
        if shared.is_none() {
            thin(marks, [wall(y), y], [wall(y) + 3.0, y]);
            drawn = Some(y);
        }
        (*day, shared.unwrap_or(y))
    };
    days.iter().map(tick).collect()
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
