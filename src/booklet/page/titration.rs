//! The curve of pH against the dose.

use super::super::Grow;
use super::super::block::{Block, letters, plain};
use super::chart::{Chart, Curve, SMALL, Signs, round_ticks};
use super::chemistry::{of, ph};
use super::{by_bin, paragraph};
use crate::number::figures;

const CAPTION: &str = "How the dose moves the pH, by the water report. Grey: the range to be in.";

/// Dose against pH, closed and in air.
pub(in super::super) fn curve(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = of(grow, mix) else { return Vec::new() };
    let Some(dosing) = chemistry.dosing.as_ref().filter(|_| chemistry.curve.len() > 2) else {
        return Vec::new();
    };
    let bins = &grow.results.mixing[mix].bins;
    let Some((first, [_, all])) = bins.first().zip(dosing.bins.first()) else { return Vec::new() };
    let per_millimole = 10.0 * all / grow.results.bins[*first].fill.start_volume / dosing.open;
    let line = |column: usize| {
        chemistry.curve.iter().map(|p| [p[0] * per_millimole, p[column]]).collect::<Vec<_>>()
    };
    let (closed, open) = (line(1), line(2));
    let range = grow.results.acidity[mix].range;
    let reach = reach(range, closed.iter().chain(&open).map(|p| p[1]));
    let adjuster = &grow.plan.adjusters[dosing.adjuster];
    let unit = if adjuster.dry { "g" } else { "mL" };
    let alt = curve_in_words(&adjuster.name, unit, range, [&closed, &open]);
    let most = closed[closed.len() - 1][0];
    let chart = Chart {
        across: format!("{}, {unit} to 10 L (2.64 gal)", adjuster.name),
        up: "pH".into(),
        most,
        ticks: round_ticks(most),
        reach: [reach[0], reach[1], 1.0],
        area: vec![[0.0, range[0]], [most, range[0]], [most, range[1]], [0.0, range[1]]],
        edged: false,
        levels: Vec::new(),
        signs: Signs::default(),
        field: SMALL,
        fine: None,
        feet: Vec::new(),
        curves: vec![
            Curve { points: closed, dashed: false, name: "just mixed" },
            Curve { points: open, dashed: true, name: "in air" },
        ],
    };
    vec![
        Block::Figure(chart.draw(format!("titration-{}", mix + 1), alt, CAPTION.into())),
        paragraph(for_bins(grow, mix)),
    ]
}

/// From one whole pH to another, around the range and all of a curve.
fn reach([low, high]: [f64; 2], all: impl Iterator<Item = f64> + Clone) -> [f64; 2] {
    [all.clone().fold(low, f64::min).floor(), all.fold(high, f64::max).ceil()]
}

/// What the scale of the curve is in each bin.
fn for_bins(grow: &Grow<'_>, mix: usize) -> String {
    let tens = |bin: usize| figures::plain(grow.results.bins[bin].fill.start_volume / 10.0, 3);
    let bins = grow.results.mixing[mix].bins.iter();
    let each = by_bin(grow, bins.map(|bin| (*bin, vec![plain(tens(*bin))])));
    let each = each.iter().map(|row| format!("{} ({})", letters(&row[1]), letters(&row[0])));
    format!(
        "For a full bin, multiply the amounts by {}. To compare: pour by the pH page and its limits.",
        each.collect::<Vec<_>>().join("; ")
    )
}

/// The curve for someone who cannot see it.
fn curve_in_words(
    name: &str,
    unit: &str,
    [low, high]: [f64; 2],
    [closed, open]: [&[[f64; 2]]; 2],
) -> String {
    let end = closed.len() - 1;
    format!(
        "Curve of pH against the dose of {name} in 10 L. Without a dose {} just mixed and {} in \
         air; at {} {unit} {} just mixed and {} in air. Aimed at: {} to {}.",
        ph(closed[0][1]),
        ph(open[0][1]),
        figures::sized(closed[end][0]),
        ph(closed[end][1]),
        ph(open[end][1]),
        ph(low),
        ph(high),
    )
}
