//! Where the level of a bin in section is expected at each check.

use jiff::civil::Date;

use super::super::super::Grow;
use super::super::super::block::Align;
use super::super::super::dimension::thin;
use super::super::super::drawing::Mark;
use super::{LETTERS, Scale, View, spread};

/// Room for the days on its other side, from there to the wall (mm of paper); and where several lines
/// share a row.
pub(super) const DAYS: [f64; 2] = [16.2, 25.0];
const DAY_LEADER: f64 = 5.0;
/// From the wall to the bracket of later checks (mm).
const BRACKET: f64 = 4.4;
/// A bracket that is no higher is a line at the wall (mm).
const FLAT: f64 = 0.4;
/// Days whose levels are not further apart in print share a line at the wall, half way between them (mm).
const CLOSE: f64 = 0.4;
/// Least distance between two rows of days (mm).
const DAYS_APART: f64 = 3.4;

/// A day of a check, and the level expected on it (mm).
type Day = (Date, f64);

/// Checks up to the first that raises the level, with the level expected before it.
pub(super) fn falling(grow: &Grow<'_>, index: usize) -> Vec<Day> {
    let checks = &grow.results.bins[index].season.checks;
    let first = checks.iter().position(|c| c.event.is_some()).map_or(checks.len(), |i| i + 1);
    checks.iter().take(first).map(|c| (c.day, c.level.expected)).collect()
}

/// Days in a drawing of 1 to `ratio`, those together that share a line.
fn together(days: &[Day], ratio: f64) -> Vec<&[Day]> {
    let mut all = Vec::new();
    let mut rest = days;
    while let Some((_, first)) = rest.first() {
        let near = rest.iter().take_while(|(_, h)| (first - h).abs() <= CLOSE * ratio).count();
        let (group, others) = rest.split_at(near.max(1));
        all.push(group);
        rest = others;
    }
    all
}

/// Whether a day has a dash in a drawing of 1 to `ratio`, for others follow at its line or in its
/// bracket.
pub(super) fn dashed(grow: &Grow<'_>, index: usize, ratio: f64) -> bool {
    let days = falling(grow, index);
    together(&days, ratio).iter().any(|days| days.len() > 1) || later_rows(grow, index) > 1
}

/// The checks after that, first and last, and between which levels they are expected (lowest, highest).
pub(super) fn later(grow: &Grow<'_>, index: usize) -> Option<([Date; 2], [f64; 2])> {
    let checks = &grow.results.bins[index].season.checks;
    let rest = checks.get(falling(grow, index).len()..)?;
    let levels = || rest.iter().map(|c| c.level.expected);
    let between = [levels().fold(f64::INFINITY, f64::min), levels().fold(0.0, f64::max)];
    Some(([rest.first()?.day, rest.last()?.day], between))
}

/// Whether the later checks are at one level, in a drawing that is `by` as large as the bin.
pub(super) fn flat([low, high]: [f64; 2], by: f64) -> bool {
    (high - low) * by < FLAT
}

/// Rows that the later checks take.
fn later_rows(grow: &Grow<'_>, index: usize) -> usize {
    later(grow, index).map_or(0, |([first, last], _)| if first == last { 1 } else { 2 })
}

/// Height of all rows of days in a drawing of 1 to `ratio`, from the middle of the first to that of the
/// last (mm).
pub(super) fn high(grow: &Grow<'_>, index: usize, ratio: f64) -> f64 {
    rows(together(&falling(grow, index), ratio).len() + later_rows(grow, index))
}

fn rows(count: usize) -> f64 {
    DAYS_APART * f64::from(u32::try_from(count.saturating_sub(1)).unwrap_or(u32::MAX))
}

/// How many lines at the wall share a row between two heights of the drawing, so that all days have
/// room.
pub(super) fn share(
    grow: &Grow<'_>,
    index: usize,
    ratio: f64,
    [highest, lowest]: [f64; 2],
) -> usize {
    let (lines, later) = (together(&falling(grow, index), ratio).len(), later_rows(grow, index));
    let fits = |share: &usize| rows(lines.div_ceil(*share) + later) <= lowest - highest + 1e-9;
    (1..=lines).find(fits).unwrap_or(lines).max(1)
}

/// A short line at the wall: its first day and its last, and where it stands on paper.
#[derive(Clone, Copy)]
struct Tick {
    days: [Date; 2],
    y: f64,
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
    let ticks = ticks(scale, &falling(grow, index));
    for Tick { y, .. } in &ticks {
        tick(marks, wall(*y), *y);
    }
    let shared = ticks.chunks(share(grow, index, scale.ratio, room));
    let ends = shared.filter_map(|row| Some([*row.first()?, *row.last()?]));
    let ends: Vec<[Tick; 2]> = ends.collect();
    let mut own: Vec<f64> = ends.iter().map(|[a, b]| f64::midpoint(a.y, b.y)).collect();
    let later = later(grow, index);
    let middle = later.map_or(0.0, |(_, [low, high])| f64::midpoint(low, high));
    own.extend(std::iter::repeat_n(scale.at(0.0, middle)[1], later_rows(grow, index)));
    let places = spread(&own, DAYS_APART, room);
    for ([first, last], row) in ends.iter().zip(&places) {
        thin(marks, [wall(first.y) - 0.5, first.y], [edge, *row]);
        if last.y > first.y {
            thin(marks, [wall(last.y) - 0.5, last.y], [edge, *row]);
        }
        let [from, to] = [first.days[0], last.days[1]];
        // Up to the day of the next row, which is shorter to say.
        let one = if last.y > first.y { from_to(from, to) } else { since(from, to) };
        marks.push(word(edge, *row, one));
    }
    if let Some((days, levels)) = later {
        let from = all_at(marks, scale, levels, wall);
        led(marks, (from, edge), (days, &places[ends.len()..]));
    }
}

/// The levels of later checks: a bracket, or a line if they are at one level; where they are led from.
fn all_at(
    marks: &mut Vec<Mark>,
    scale: &Scale,
    levels: [f64; 2],
    wall: impl Fn(f64) -> f64,
) -> [f64; 2] {
    let paper = levels.map(|h| scale.at(0.0, h)[1]);
    if flat(levels, scale.by) {
        let y = f64::midpoint(paper[0], paper[1]);
        tick(marks, wall(y), y);
        return [wall(y) - 0.5, y];
    }
    // Clear of the short lines, and of the wall where it leans in most.
    bracket(marks, wall(paper[0]).max(wall(paper[1])) + BRACKET, paper)
}

fn word(edge: f64, row: f64, text: String) -> Mark {
    // A dash would seem to be the beginning of its leader.
    let gap = if text.ends_with('–') { 1.5 } else { 0.6 };
    Mark::Words { at: [edge - gap, row], align: Align::Right, size: LETTERS, text }
}

/// A short line at the wall.
fn tick(marks: &mut Vec<Mark>, wall: f64, y: f64) {
    thin(marks, [wall, y], [wall + 3.0, y]);
}

/// The bracket of later checks, from the lowest to the highest of their levels; its middle.
fn bracket(marks: &mut Vec<Mark>, x: f64, [low, high]: [f64; 2]) -> [f64; 2] {
    thin(marks, [x, low], [x, high]);
    for y in [low, high] {
        thin(marks, [x - 1.0, y], [x, y]);
    }
    [x, f64::midpoint(low, high)]
}

/// Later checks, led from a place to their first day and their last.
fn led(
    marks: &mut Vec<Mark>,
    (from, edge): ([f64; 2], f64),
    ([first, last], rows): ([Date; 2], &[f64]),
) {
    let middle =
        rows.iter().sum::<f64>() / f64::from(u32::try_from(rows.len()).unwrap_or(1).max(1));
    thin(marks, from, [edge, middle]);
    match rows {
        [row] => marks.push(word(edge, *row, from_to(first, last))),
        [row, next, ..] => {
            marks.push(word(edge, *row, since(first, last)));
            marks.push(word(edge, *next, from_to(last, last)));
        }
        [] => {}
    }
}

/// The short lines for days with their levels.
fn ticks(scale: &Scale, days: &[Day]) -> Vec<Tick> {
    let line = |days: &[Day]| {
        let [first, last] = [*days.first()?, *days.last()?];
        let y = scale.at(0.0, f64::midpoint(first.1, last.1))[1];
        Some(Tick { days: [first.0, last.0], y })
    };
    together(days, scale.ratio).into_iter().filter_map(line).collect()
}

/// A day without a year, with a dash if others follow.
fn since(first: Date, last: Date) -> String {
    let dash = if first < last { "–" } else { "" };
    format!("{}{dash}", first.strftime("%-d %b"))
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
