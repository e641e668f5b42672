//! Where the level of a bin in section is expected at each check.

use jiff::civil::Date;

use super::super::super::Grow;
use super::super::super::block::Align;
use super::super::super::dimension::thin;
use super::super::super::drawing::Mark;
use super::{LETTERS, View, spread};

/// Room for the days on its other side, and from there to the wall (mm of paper).
pub(super) const DAYS: f64 = 15.5;
const DAY_LEADER: f64 = 5.0;
/// Least distance between two lines at the wall, or they cannot be told apart (mm).
const TICKS_APART: f64 = 0.6;
/// Least distance between two days (mm).
const DAYS_APART: f64 = 3.4;

/// Checks up to the first that raises the level, with the level expected before it.
pub(super) fn falling(grow: &Grow<'_>, index: usize) -> Vec<(Date, f64)> {
    let checks = &grow.results.bins[index].season.checks;
    let first = checks.iter().position(|c| c.event.is_some()).map_or(checks.len(), |i| i + 1);
    checks.iter().take(first).map(|c| (c.day, c.level.expected)).collect()
}

/// Where the level is expected at each check: a short line at the wall, and the day led to it, of as
/// many as can be told apart and have room. Whether these are all.
pub(super) fn days(marks: &mut Vec<Mark>, view: &View<'_>) -> bool {
    let View { scale, grow, index, half } = *view;
    // Beside the wall where it is widest; a jar bellies.
    let depth = grow.results.bins[index].fill.depth;
    let widest = (0..=20).map(|i| half(depth * f64::from(i) / 20.0)).fold(0.0, f64::max);
    let edge = scale.at(-widest, 0.0)[0] - DAY_LEADER;
    let levels = falling(grow, index);
    let mut apart: Vec<(Date, f64)> = Vec::new();
    for (day, h) in &levels {
        let y = scale.at(0.0, *h)[1];
        if apart.last().is_none_or(|(_, above)| y >= above + TICKS_APART) {
            apart.push((*day, y));
        }
    }
    let room = [scale.at(0.0, depth)[1], scale.floor + 3.0];
    let named = some(apart.len(), (room[1] - room[0]) / DAYS_APART);
    let named: Vec<(Date, f64)> = named.iter().map(|i| apart[*i]).collect();
    let own: Vec<f64> = named.iter().map(|(_, y)| *y).collect();
    for ((day, y), row) in named.iter().zip(spread(&own, DAYS_APART, room)) {
        let x = scale.at(-half((scale.floor - y) / scale.by), 0.0)[0];
        thin(marks, [x, *y], [x + 3.0, *y]);
        thin(marks, [x - 0.5, *y], [edge, row]);
        let text = day.strftime("%-d %b").to_string();
        let at = [edge - 0.6, row];
        marks.push(Mark::Words { at, align: Align::Right, size: LETTERS, text });
    }
    named.len() == levels.len()
}

/// Which of so many go into the room for `gaps` and one more: the first, the last, and some between.
fn some(all: usize, gaps: f64) -> Vec<usize> {
    let most = (1..all).take_while(|n| f64::from(u32::try_from(*n).unwrap_or(u32::MAX)) <= gaps);
    let gaps = most.count().max(1);
    let mut picked: Vec<usize> = (0..=gaps).map(|i| i * all.saturating_sub(1) / gaps).collect();
    picked.dedup();
    picked.truncate(all);
    picked
}
