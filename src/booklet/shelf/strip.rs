//! Gauge strips: which bins share one, how it is split over pages, and how to use it.

use super::super::Grow;
use super::super::block::{Block, Column, Table};
use super::super::drawing::{Drawing, Mark};
use super::super::page::{cells, one, strength, words};
use super::super::values::Values;
use super::super::words::Blocks;
use super::hand::{Hand, hand};
use super::ruler::{INSET, Part, Scale, Style, check_bar, draw};
use super::told::alt;
use super::{alike, nameless, together, values_of};
use crate::compute::gauge;
use crate::number::figures::{self, System};
use crate::number::unit::LITRES_PER_US_GALLON;

/// Between two strips on a page (mm).
const GAP: f64 = 4.0;
/// Two parts overlap so much (mm).
const OVERLAP: f64 = 12.0;
/// The strip goes on so far above the start line (mm).
const ABOVE: f64 = 7.0;
/// Least distance of two amounts (mm).
const AMOUNTS: f64 = 1.4;
/// What the words about walls that lean take of a page in large letters (mm).
const LEAN: f64 = 36.0;

/// A page of strips.
pub(super) struct Sheet {
    /// Bins it is for.
    bins: Vec<usize>,
    /// What it shows.
    drawing: Drawing,
    /// Parts on it, and in all.
    parts: [usize; 2],
    /// Which part comes first on it, from 0.
    first: usize,
    /// How often it is to be printed.
    prints: usize,
}

/// All pages of strips: one for all bins that are alike, more if it is tall.
pub(super) fn sheets(grow: &Grow<'_>, room: [f64; 2]) -> Vec<Sheet> {
    let groups = alike(&grow.plan.bins, nameless);
    groups.iter().enumerate().flat_map(|(i, bins)| of(grow, i, bins, room)).collect()
}

fn of(grow: &Grow<'_>, index: usize, bins: &[usize], room: [f64; 2]) -> Vec<Sheet> {
    let (mut scale, top) = scale(grow, bins);
    let hand = scale.hand;
    // With what part it is, a title has 33 letters more than the name.
    let lines = (scale.head[0].chars().count() + 33) / hand.titled;
    let more = hand.title * f64::from(u32::try_from(lines).unwrap_or(9));
    let leans = grow.plan.large && lean(grow, bins[0]).is_some();
    let words = hand.words + more + if leans { LEAN } else { 0.0 };
    let tallest = room[1] - words - hand.bar - hand.head;
    scale.glue = glue(&scale, top, tallest);
    days(grow, bins[0], &mut scale);
    let parts = parts(&scale.glue, top);
    // At least two stand side by side on the smallest paper.
    let side_by_side = (1..20).take_while(|n| columns_wide(hand, *n) <= room[0]).count().max(1);
    let times = (side_by_side / parts.len()).clamp(1, bins.len());
    let prints = bins.len().div_ceil(times);
    let mut sheets = Vec::new();
    for (page, own) in parts.chunks(side_by_side).enumerate() {
        let name = format!("strip-{}-{}", index + 1, page + 1);
        let all: Vec<[f64; 2]> = (0..times).flat_map(|_| own.to_vec()).collect();
        let first = page * side_by_side;
        sheets.push(Sheet {
            bins: bins.to_vec(),
            drawing: drawing(grow, &mut scale, (name, bins), &all, (first, parts.len())),
            parts: [own.len(), parts.len()],
            first,
            prints,
        });
    }
    sheets
}

fn columns_wide(hand: &Hand, columns: i32) -> f64 {
    f64::from(columns) * (hand.wide + GAP) - GAP + 2.0 * INSET
}

/// What the strip of some bins shows, and how high it reaches (mm); glue and days come later.
fn scale(grow: &Grow<'_>, bins: &[usize]) -> (Scale, f64) {
    let system = grow.plan.system;
    let (bin, fill) = (&grow.plan.bins[bins[0]], &grow.results.bins[bins[0]].fill);
    let top = (fill.start + ABOVE).min(fill.depth.max(fill.start));
    let (litres, units) = match system {
        System::Metric => (1.0, ["mm", "L", "gal"]),
        System::Us => (LITRES_PER_US_GALLON, ["in", "gal", "L"]),
    };
    let other = |amount: f64| match system {
        System::Metric => amount / LITRES_PER_US_GALLON,
        System::Us => amount * LITRES_PER_US_GALLON,
    };
    let names = |amount: f64| [figures::plain(amount, 4), small(other(amount))];
    let hand = hand(grow);
    let apart = [AMOUNTS, hand.amounts];
    let amounts = gauge::amounts(bin, grow.library, top.min(fill.depth), litres, apart);
    let amounts = amounts.iter().map(|a| (a.height, a.named.then(|| names(a.amount))));
    let scale = Scale {
        hand,
        system,
        lines: [
            (Style::Start, fill.start),
            (Style::Ceiling, fill.ceiling),
            (Style::Reserve, fill.reserve),
        ],
        amounts: amounts.collect(),
        days: Vec::new(),
        lower: bins.iter().any(|bin| strength::stops_lower(grow, *bin)),
        glue: Vec::new(),
        head: [together(grow, bins), String::new()],
        units,
    };
    (scale, top)
}

/// An amount in the other unit, to at least two digits.
fn small(amount: f64) -> String {
    figures::decimals(amount, if amount < 1.0 { 3 } else { 1 + usize::from(amount < 10.0) })
}

/// Where a strip is cut so that no part is taller than `tallest` (mm).
fn glue(scale: &Scale, top: f64, tallest: f64) -> Vec<f64> {
    if top <= tallest {
        return Vec::new();
    }
    let clear = |h: f64| scale.lines.iter().all(|(_, line)| (line - h).abs() > scale.hand.apart);
    let lines = |count: u32| -> Vec<f64> {
        let even = (1..count).map(|i| top * f64::from(i) / f64::from(count));
        let moved = even.map(|h| {
            let tries = (0..=14).map(f64::from).flat_map(|d| [h - d, h + d]);
            tries.into_iter().find(|h| clear(*h)).unwrap_or(h)
        });
        moved.collect()
    };
    let fits = |glue: &Vec<f64>| parts(glue, top).iter().all(|[a, b]| b - a <= tallest);
    (2..100).map(lines).find(fits).unwrap_or_default()
}

/// The parts between the glue lines, from the floor up.
fn parts(glue: &[f64], top: f64) -> Vec<[f64; 2]> {
    let froms = [0.0].into_iter().chain(glue.iter().map(|g| g - OVERLAP / 2.0));
    let tos = glue.iter().map(|g| g + OVERLAP / 2.0).chain([top]);
    froms.zip(tos).map(|(from, to)| [from, to]).collect()
}

/// Expected levels that do not run into the words of a line or into each other, early ones first.
fn days(grow: &Grow<'_>, bin: usize, scale: &mut Scale) {
    let by = scale.hand.by();
    let taken = |h: f64| {
        let by_line = scale.lines.iter().any(|(style, line)| {
            let (below, above) = match style {
                Style::Start => (1.8, 5.8),
                Style::Ceiling if scale.lower && scale.hand.both => (7.0, 5.8),
                Style::Ceiling if scale.lower => (9.4, 5.8),
                Style::Ceiling => (4.6, 5.8),
                Style::Reserve => (5.2, 1.8),
            };
            h > line - by * below && h < line + by * above
        });
        by_line || h < 5.0 * by || scale.glue.iter().any(|g| h > g - 1.8 * by && h < g + 4.6 * by)
    };
    let mut days: Vec<(f64, String)> = Vec::new();
    for check in &grow.results.bins[bin].season.checks {
        let h = check.level.expected;
        if !taken(h) && days.iter().all(|(other, _)| (other - h).abs() >= scale.hand.days) {
            days.push((h, check.day.strftime("%-d %b").to_string()));
        }
    }
    scale.days = days;
}

fn drawing(
    grow: &Grow<'_>,
    scale: &mut Scale,
    (name, bins): (String, &[usize]),
    parts: &[[f64; 2]],
    (first, all): (usize, usize),
) -> Drawing {
    let mut marks: Vec<Mark> = Vec::new();
    let Hand { wide, head, bar: above, .. } = *scale.hand;
    let bar = check_bar(&mut marks, scale.system, 0.0, scale.hand);
    let tall = parts.iter().map(|[from, to]| to - from).fold(0.0, f64::max) + head;
    let mut left = INSET;
    for (i, &[from, to]) in parts.iter().enumerate() {
        let foot = above + head + to - from;
        if all > 1 {
            scale.head[1] = format!("part {} of {all}", (first + i) % all + 1);
        }
        draw(&mut marks, scale, &Part { from, to, left, foot });
        left += wide + GAP;
    }
    Drawing {
        name,
        width: (left - GAP).max(INSET + bar) + INSET,
        height: above + tall + 0.5,
        marks,
        alt: alt(grow, scale, bins, parts),
        caption: format!("1 : 1. Cut along the thin frames; {}.", zero(first, all)),
    }
}

/// Where the zero of a strip in so many parts is; the first part on this page is so far on.
fn zero(first: usize, all: usize) -> &'static str {
    match (first, all) {
        (_, 1) => "the lower edge of a strip is its zero",
        (0, _) => "the lower edge of part 1 is the zero",
        _ => "the zero is the lower edge of part 1, on another sheet",
    }
}

/// The first page: what to print and how to use it.
pub(super) fn overview(grow: &Grow<'_>, sheets: &[Sheet]) -> (Values, Blocks) {
    // The first page of each strip stands for all of its pages.
    let rows = sheets.iter().filter(|sheet| sheet.first == 0).map(|sheet| {
        let pages = sheets.iter().filter(|other| other.bins == sheet.bins).count();
        cells([
            together(grow, &sheet.bins),
            sheet.bins.len().to_string(),
            sheet.parts[1].to_string(),
            pages.to_string(),
            sheet.prints.to_string(),
        ])
    });
    let mut columns = words([("Strips for", 6)]);
    let large = ["Strips", "Parts", "Pages", "Prints"];
    let usual = ["Strips needed", "Parts of one", "Pages", "Print each so often"];
    for head in if grow.plan.large { large } else { usual } {
        columns.push(Column::numbers(head, 3));
    }
    let table = Table::printed("", columns, rows.collect());
    let metric = grow.plan.system == System::Metric;
    let split = sheets.iter().any(|s| s.parts[1] > 1);
    let values = values_of(
        "shelf",
        [("metric", metric.into()), ("split", split.into()), ("large", grow.plan.large.into())],
    );
    (values, Blocks::from([("strips_table", one(table))]))
}

fn which(sheet: &Sheet) -> String {
    let [here, all] = sheet.parts;
    match (all, here) {
        (1, _) => "whole".into(),
        (2, 2) => "both parts".into(),
        (n, m) if n == m => format!("all {n} parts"),
        (n, 1) => format!("part {} of {n}", sheet.first + 1),
        (n, 2) => format!("parts {} and {} of {n}", sheet.first + 1, sheet.first + 2),
        (n, m) => format!("parts {} to {} of {n}", sheet.first + 1, sheet.first + m),
    }
}

/// How much too much a strip along the wall of a bin reads at the start line (mm); less than a millimetre
/// tells nobody anything.
fn lean(grow: &Grow<'_>, bin: usize) -> Option<f64> {
    let start = grow.results.bins[bin].fill.start;
    gauge::along_wall(&grow.plan.bins[bin], start).filter(|mm| *mm >= 1.0)
}

/// A page of strips.
pub(super) fn page(grow: &Grow<'_>, sheet: &Sheet) -> (Values, Blocks) {
    let system = grow.plan.system;
    let bin = sheet.bins[0];
    let values = values_of(
        "strip",
        [
            ("name", together(grow, &sheet.bins).into()),
            ("which", if sheet.parts[1] > 1 { which(sheet).into() } else { "".into() }),
            ("prints", sheet.prints.to_string().into()),
            ("metric", (system == System::Metric).into()),
            ("large", grow.plan.large.into()),
            ("lean", lean(grow, bin).map_or(String::new(), |mm| figures::decimals(mm, 1)).into()),
            ("split", (sheet.parts[1] > 1).into()),
            ("copies", sheet.bins.len().to_string().into()),
        ],
    );
    let strips = vec![Block::Figure(sheet.drawing.clone())];
    (values, Blocks::from([("strips", strips)]))
}
