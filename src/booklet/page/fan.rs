//! The forecast of a bin's level as a fan, with room to plot what was read.

use jiff::civil::Date;

use super::super::Grow;
use super::super::block::Block;
use super::chart::{Chart, Curve, SMALL, Signs, round_step};
use super::check_lines::{Marked, marked};
use super::{days, short_day};
use crate::compute::Band;
use crate::compute::review::{BinReview, Reading};
use crate::compute::season::{Check, Event};
use crate::number::figures::{self, System};
use crate::plan::{Plan, Sheet};

/// A field for the larger papers (mm).
const LARGE: [f64; 2] = [128.0, 64.0];

/// More top-ups than this want more room.
const TEETH: usize = 10;

/// The level from set-out to the end: lowest, expected, highest, with the planned top-ups.
pub(in super::super) fn fan(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let r = &grow.results.bins[bin];
    let caption = "Put a dot for every level you read, and join them. The solid line is what is \
                   expected; if your dots run towards the thirsty curve, look every day and top up \
                   earlier.";
    let name = format!("forecast-{}", bin + 1);
    let alt = in_words(grow, bin, &grow.plan.bins[bin].name, &r.season.checks);
    let mut field = usual(grow.plan);
    // Many top-ups make many teeth: they get more room.
    if r.season.events().count() > TEETH {
        field.size[1] *= 1.5;
    }
    drawn(
        grow,
        bin,
        &r.season.checks,
        Vec::new(),
        field,
        [name, alt, told(caption, &r.season.checks)],
    )
}

/// The rest of the season, with what was read.
pub(in super::super) fn rest(grow: &Grow<'_>, review: &BinReview) -> Vec<Block> {
    let r = &grow.results.bins[review.bin];
    let Some(last) = review.readings.last() else { return Vec::new() };
    let level = Band { low: last.level, expected: last.level, high: last.level };
    let held = Check { day: last.day, level, left: 0.0, drunk: 0.0, event: None, after: None };
    let checks: Vec<Check> = [held].into_iter().chain(review.checks.iter().cloned()).collect();
    let size = size(grow.plan.system);
    let dot = |reading: &Reading| [days(r.dates.set_out, reading.day), reading.level / size];
    let dots = review.readings.iter().map(dot).collect();
    let caption = "Crosses: what was read. The lines go on from the last of them.";
    let name = format!("rest-{}", review.bin + 1);
    let alt = in_words(grow, review.bin, &grow.plan.bins[review.bin].name, &checks);
    drawn(grow, review.bin, &checks, dots, usual(grow.plan), [name, alt, told(caption, &checks)])
}

/// The forecast as large as the paper, to plot on: no grey, and a grid that can be copied.
pub(in super::super) fn to_plot(grow: &Grow<'_>, bin: usize, group: &str) -> Vec<Block> {
    let checks = &grow.results.bins[bin].season.checks;
    // Beside large letters it is drawn small, and then made larger with its letters; those around it
    // take more of the sheet.
    let field = match (grow.plan.paper, grow.plan.large) {
        (Sheet::A4, true) => [88.0, 78.0],
        (Sheet::Letter, true) => [88.0, 66.0],
        (Sheet::A4, false) => [134.0, 192.0],
        (Sheet::Letter, false) => [134.0, 172.0],
        (Sheet::A5, _) => [86.0, 120.0],
        (Sheet::HalfLetter, _) => [78.0, 122.0],
    };
    let caption = "A cross for every level you read, on its day; join them with a ruler. The solid \
                   line is the forecast, the broken curves a thirsty and a frugal season.";
    let name = format!("to-plot-{group}{}{}", if group.is_empty() { "" } else { "-" }, bin + 1);
    let alt = in_words(grow, bin, &grow.plan.bins[bin].called, checks);
    let field = Field { size: field, fine: true };
    drawn(grow, bin, checks, Vec::new(), field, [name, alt, told(caption, checks)])
}

fn is_change(check: &Check) -> bool {
    matches!(check.event, Some(Event::ChangeOut(_)))
}

/// A caption; where the solution is changed, it says how that is shown.
fn told(caption: &str, checks: &[Check]) -> String {
    let changed = checks.iter().any(is_change);
    let how = " A lozenge is a change: the old solution goes out, and a line may step down.";
    format!("{caption}{}", if changed { how } else { "" })
}

/// Where the curves stand.
#[derive(Clone, Copy)]
struct Field {
    /// Width and height (mm of paper).
    size: [f64; 2],
    /// With a grid to plot on.
    fine: bool,
}

impl Field {
    /// At eighths of an inch or fifths of the scale.
    fn fine_lines(self, between: f64, system: System) -> Option<f64> {
        let parts = if system == System::Us { 8.0 } else { 5.0 };
        self.fine.then_some(between / parts)
    }
}

fn usual(plan: &Plan) -> Field {
    // Beside large letters it is drawn small, and then made larger with its letters.
    let large = roomy(plan.paper) && !plan.large;
    Field { size: if large { LARGE } else { SMALL }, fine: false }
}

fn roomy(paper: Sheet) -> bool {
    matches!(paper, Sheet::A4 | Sheet::Letter)
}

/// Millimetres in a unit of the upright axis.
fn size(system: System) -> f64 {
    if system == System::Us { 25.4 } else { 1.0 }
}

fn drawn(
    grow: &Grow<'_>,
    bin: usize,
    checks: &[Check],
    dots: Vec<[f64; 2]>,
    field: Field,
    [name, alt, caption]: [String; 3],
) -> Vec<Block> {
    let (r, system) = (&grow.results.bins[bin], grow.plan.system);
    let from = r.dates.set_out;
    let most = last_day(from, checks, &dots);
    if most <= 0.0 {
        return Vec::new();
    }
    let size = size(system);
    let [low, expected, high] = BAND.map(|of| path(checks, from, size, of));
    // Grey is no ground to plot on.
    let area = low.iter().chain(high.iter().rev()).copied().filter(|_| !field.fine).collect();
    let (top, between) = rows((r.fill.start + 10.0) / size, system);
    let planned = r.season.checks.iter().chain(checks).map(|c| days(from, c.day));
    let signs = Signs { read: dots, changes: changes(checks, from, size) };
    let Marked { ticks, feet, across } = marked(from, planned.collect(), most, field.size[0]);
    let curves = [(low, true, "thirsty"), (expected, false, "expected"), (high, true, "frugal")];
    let curves = curves.map(|(points, dashed, name)| Curve { points, dashed, name }).into();
    let chart = Chart {
        across: across.into(),
        up: if system == System::Us { "level, in" } else { "level, mm" }.into(),
        most,
        ticks,
        feet,
        reach: [0.0, top, between],
        area,
        edged: true,
        levels: vec![(r.fill.ceiling / size, "ceiling"), (r.fill.reserve / size, "reserve")],
        curves,
        signs,
        fine: field.fine_lines(between, system),
        field: field.size,
    };
    vec![Block::Figure(chart.draw(name, alt, caption))]
}

/// Half-way up or down each change, in days and in millimetres or inches.
fn changes(checks: &[Check], from: Date, size: f64) -> Vec<[f64; 2]> {
    let changed = |c: &Check| {
        let after = c.after.filter(|_| is_change(c))?;
        Some([days(from, c.day), f64::midpoint(c.level.expected, after.expected) / size])
    };
    checks.iter().filter_map(changed).collect()
}

/// The last day that is drawn, counted from the first.
fn last_day(from: Date, checks: &[Check], dots: &[[f64; 2]]) -> f64 {
    let ends = dots.iter().map(|d| d[0]).chain(checks.last().map(|c| days(from, c.day)));
    ends.fold(0.0, f64::max)
}

/// Highest value and distance of the lines across, so that `wanted` fits.
fn rows(wanted: f64, system: System) -> (f64, f64) {
    let between = round_step(wanted / 8.0).max(if system == System::Us { 1.0 } else { 10.0 });
    ((wanted / between).ceil() * between, between)
}

/// The lines of a fan: lowest, expected, highest.
const BAND: [fn(&Band) -> f64; 3] = [|b| b.low, |b| b.expected, |b| b.high];

/// Points of one line of the fan, in days and in millimetres or inches.
fn path(checks: &[Check], from: Date, size: f64, of: fn(&Band) -> f64) -> Vec<[f64; 2]> {
    let at = |c: &Check| {
        let x = days(from, c.day);
        [Some([x, of(&c.level) / size]), c.after.as_ref().map(|after| [x, of(after) / size])]
    };
    checks.iter().flat_map(at).flatten().collect()
}

fn in_words(grow: &Grow<'_>, bin: usize, name: &str, checks: &[Check]) -> String {
    let (r, system) = (&grow.results.bins[bin], grow.plan.system);
    let length = |mm: f64| match system {
        System::Us => format!("{} in", figures::mixed(mm / 25.4, 8)),
        System::Metric => format!("{} mm", figures::decimals(mm, 0)),
    };
    // Four of them, with the last.
    let every = checks.len().div_ceil(4).max(1);
    let first = checks.len().saturating_sub(1) % every;
    let point = |check: &Check| {
        let band = check.level;
        let day = short_day(check.day);
        format!(
            "; {day}: {} to {}, expected {}",
            length(band.low),
            length(band.high),
            length(band.expected)
        )
    };
    let points: String = checks.iter().skip(first).step_by(every).map(point).collect();
    let changes: Vec<_> =
        checks.iter().filter(|c| is_change(c)).map(|c| short_day(c.day)).collect();
    let changed = match changes.join(", ") {
        days if days.is_empty() => days,
        days => format!(" Changed on {days}."),
    };
    format!(
        "Forecast of the level in {name}: {} at set-out on {}{points}. Ceiling {}, reserve {}.{changed}",
        figures::short_length(r.fill.start, system),
        short_day(r.dates.set_out),
        figures::short_length(r.fill.ceiling, system),
        figures::short_length(r.fill.reserve, system)
    )
}
