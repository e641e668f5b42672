//! How large a bin in section is drawn, and what has room beside it.

use super::super::super::Grow;
use super::super::super::dimension::outside;
use super::levels::{DAYS, high, share};
use super::{Scale, ends, span};
use crate::plan::Sheet;

/// Most height of the bin itself (mm of paper).
const TALL: f64 = 42.0;
/// Room for the words beside the bin (mm of paper).
const WORDS: f64 = 57.3;
/// Room for a width above the lid and below the floor (mm of paper).
pub(super) const WIDTHS: f64 = 7.0;
/// From the edge of the drawing to the middle of a day (mm).
const EDGE: f64 = 1.6;
/// How much larger all of it is beside large letters.
const LARGE: f64 = 1.5;

/// Most height of the rows of days (mm of paper).
const MOST: f64 = 56.0;

/// Scale, size and room of a drawing.
pub(super) struct Layout {
    pub(super) scale: Scale,
    /// How much larger all of it is printed than it is drawn.
    pub(super) grown: f64,
    /// Highest and lowest place for days.
    pub(super) rows: [f64; 2],
    /// Width and height.
    pub(super) size: [f64; 2],
}

/// Lays a bin out whose inside is `half` as wide to both sides at a height.
pub(super) fn layout(grow: &Grow<'_>, index: usize, half: &dyn Fn(f64) -> f64) -> Layout {
    let (bin, fill) = (&grow.plan.bins[index], &grow.results.bins[index].fill);
    let broadest = 2.0 * half(0.0).max(half(fill.depth)) + 20.0;
    let tall = fill.depth + above(fill.lid - fill.depth);
    let paper = text_width(grow.plan.paper);
    // Beside large letters it is drawn for less paper and grows with its letters.
    let grown = if grow.plan.large { LARGE } else { 1.0 };
    let [top, below] = match ends(&bin.vessel) {
        Some(_) => [WIDTHS, WIDTHS + 3.0],
        None => [1.5, 5.0],
    };
    let fitted = |days: f64| {
        let room = [paper / grown - WORDS - days, TALL];
        stated((broadest / room[0]).max(tall / room[1]) / grown)
    };
    let rows = |ratio: f64| {
        let by = 1.0 / (ratio * grown);
        let [lid, floor] = [tall - fill.depth, tall].map(|h| top + h * by);
        // Days keep off widths that stand left of their arrows; without them, a low bin gets a higher drawing.
        if beside(grow, index, broadest, by) > 0.0 {
            [lid, floor + 3.0]
        } else {
            let needed = EDGE + high(grow, index, ratio).min(MOST);
            [EDGE, needed.max(floor + below - EDGE)]
        }
    };
    let ratio = fitted(DAYS[0]);
    let days = DAYS[usize::from(share(grow, index, ratio, rows(ratio)) > 1)];
    // A width that stands left of its arrows asks for more than the days.
    let left = |ratio: f64| beside(grow, index, broadest, 1.0 / (ratio * grown)).max(days);
    let fits = |ratio: &f64| left(*ratio) + broadest / (ratio * grown) + WORDS <= paper / grown;
    let ratio = smaller(fitted(days)).find(fits).unwrap_or(ratio);
    let (by, left) = (1.0 / (ratio * grown), left(ratio));
    let floor = top + tall * by;
    let (middle, foot) = (left + broadest * by / 2.0, floor + below - 1.5);
    let scale = Scale { by, ratio, middle, floor, foot };
    let rows = rows(ratio);
    let size = [left + broadest * by + WORDS, (floor + below).max(rows[1] + EDGE)];
    Layout { scale, grown, rows, size }
}

/// A scale, and those after it that can be stated in full, down to three quarters of its size: what is smaller
/// shows less than a number in the margin costs.
fn smaller(ratio: f64) -> impl Iterator<Item = f64> {
    let tries = std::iter::successors(Some(ratio), |last| Some(stated(last + 0.05)));
    tries.take_while(move |smaller| *smaller <= ratio / 0.75)
}

/// Width of the text (mm); that of the larger papers is 170 mm, and 5 mm stay free.
fn text_width(paper: Sheet) -> f64 {
    match paper {
        Sheet::A5 | Sheet::HalfLetter => 115.0,
        Sheet::A4 | Sheet::Letter => 165.0,
    }
}

/// Room above the rim for the lid and the rims of pots (mm), with a lid so much above it.
fn above(lid: f64) -> f64 {
    lid.max(0.0) + 12.0
}

/// How far widths reach out to the left of the drawing's bin, of those that have no room between their
/// arrows (mm of paper).
fn beside(grow: &Grow<'_>, index: usize, broadest: f64, by: f64) -> f64 {
    let widths = ends(&grow.plan.bins[index].vessel).into_iter().flatten().map(|m| {
        let out = outside(1000.0 * m * by, &span(grow, index, m));
        let from = broadest / 2.0 * by - 500.0 * m * by;
        if out > 0.0 { out - from + 1.0 } else { 0.0 }
    });
    widths.fold(0.0, f64::max)
}

/// The next scale, 1 to so much, that can be stated in full, so that a length on paper times it is
/// the length in the bin.
fn stated(ratio: f64) -> f64 {
    let step = if ratio < 10.0 { 0.1 } else { 0.5 };
    (ratio / step - 1e-9).ceil() * step
}
