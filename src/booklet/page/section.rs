//! A bin in section, to scale: lid, pots, cubes, lines with their heights, widths, and where the
//! level is expected as it falls. Dimensions stand outside, after ISO 129-1.

mod layout;
mod levels;

use super::super::Grow;
use super::super::block::{Align, Block};
use super::super::dimension::{across, thin};
use super::super::drawing::{Drawing, Mark};

use crate::number::figures;
use crate::science::vessel::Vessel;

use layout::{Layout, WIDTHS, layout};
use levels::{dashed, days, falling, flat, later};

/// From the bin's side to the words (mm of paper), so that lines lead to them at a slant that shows.
const LEADER: f64 = 5.0;
/// Height of capital letters (mm).
const LETTERS: f64 = 2.2;
/// Least distance between two lines of words (mm).
const APART: f64 = 4.4;

/// Turns millimetres of the bin into millimetres of paper.
struct Scale {
    by: f64,
    /// A length in the bin over its length in print.
    ratio: f64,
    /// Paper position of the middle of the bin.
    middle: f64,
    /// Paper position of the bin's floor.
    floor: f64,
    /// Lowest paper position of words.
    foot: f64,
}

impl Scale {
    fn at(&self, across: f64, up: f64) -> [f64; 2] {
        [self.middle + across * self.by, self.floor - up * self.by]
    }
}

/// Which bin is drawn, and how large.
#[derive(Clone, Copy)]
struct View<'a> {
    scale: &'a Scale,
    grow: &'a Grow<'a>,
    index: usize,
    /// Half the inside width at a height (mm).
    half: &'a dyn Fn(f64) -> f64,
}

pub(in super::super) fn section(grow: &Grow<'_>, index: usize) -> Vec<Block> {
    let bin = &grow.plan.bins[index];
    let half = |h: f64| 500.0 * width(&bin.vessel, h);
    let Layout { scale, grown, rows, size: [width, height] } = layout(grow, index, &half);
    let mut marks = Vec::new();
    let view = View { scale: &scale, grow, index, half: &half };
    solution_and_walls(&mut marks, &view);
    lid_and_pots(&mut marks, &view);
    lines(&mut marks, &view);
    days(&mut marks, &view, rows);
    widths(&mut marks, &view);
    let (name, alt) = (format!("section-{}", index + 1), alt(grow, index));
    let later = later(grow, index).is_some_and(|(_, levels)| !flat(levels, scale.by));
    let shown = [later, dashed(grow, index, scale.ratio)];
    let caption = caption(&bin.name, scale.ratio, ends(&bin.vessel).is_some(), shown);
    let drawing = Drawing { name, width, height, marks, alt, caption };
    vec![Block::Figure(drawing.grown(grown))]
}

/// Its name and scale, what its widths are, and which levels are shown how.
fn caption(name: &str, ratio: f64, widths: bool, [later, dash]: [bool; 2]) -> String {
    let widths = if widths { " Widths are inside." } else { " Widths as poured." };
    let later = if later { ", later ones bracketed" } else { "" };
    let dash = if dash { " A dash: until the next day shown." } else { "" };
    let ratio = figures::plain(ratio, 4);
    format!("{name} in section, scale 1 : {ratio}.{widths} Left: expected levels{later}.{dash}")
}

/// Inside width along the bin at a height (m); of a measured bin, as if it were round.
fn width(vessel: &Vessel, h: f64) -> f64 {
    let part = h / vessel.depth();
    match vessel {
        Vessel::Box { floor: [a0, _], rim: [a1, _], .. } => a0 + (a1 - a0) * part,
        Vessel::Round { floor, rim, .. } => floor + (rim - floor) * part,
        Vessel::Measured(_) => {
            libm::sqrt(vessel.area(h.clamp(0.01, vessel.depth())) * 4.0 / std::f64::consts::PI)
        }
    }
}

/// Heights at which the walls are drawn up to `top`: at the ends of straight walls; of measured ones
/// at both ends of what lies between two readings, which is taken to be straight upright.
fn stations(vessel: &Vessel, top: f64) -> Vec<f64> {
    /// From a reading, to be surely on one side of it (mm).
    const SIDE: f64 = 1e-6;
    let Vessel::Measured(points) = vessel else { return vec![0.0, top] };
    let between = points.windows(2).map(|pair| [pair[0].0 + SIDE, pair[1].0.min(top) - SIDE]);
    between.filter(|[low, high]| low < high).flatten().collect()
}

fn outline(view: &View<'_>, top: f64) -> Vec<[f64; 2]> {
    let View { scale, grow, index, half } = *view;
    let heights = stations(&grow.plan.bins[index].vessel, top);
    let left = heights.iter().rev().map(|h| scale.at(-half(*h), *h));
    left.chain(heights.iter().map(|h| scale.at(half(*h), *h))).collect()
}

fn solution_and_walls(marks: &mut Vec<Mark>, view: &View<'_>) {
    let fill = &view.grow.results.bins[view.index].fill;
    let points = outline(view, fill.start);
    marks.push(Mark::Area { points, grey: Some(0.9), weight: 0.0 });
    let points = outline(view, fill.depth);
    marks.push(Mark::Path { points, weight: 0.5, dashed: false });
}

fn lid_and_pots(marks: &mut Vec<Mark>, view: &View<'_>) {
    let View { scale, grow, index, half } = *view;
    let (bin, fill) = (&grow.plan.bins[index], &grow.results.bins[index].fill);
    let (lid, thick) = (fill.lid, bin.lid_thickness.max(1.0 / scale.by * 0.6));
    let reach = half(fill.depth.min(lid).max(0.0)) + 6.0;
    let corners = [(-reach, lid), (reach, lid), (reach, lid + thick), (-reach, lid + thick)];
    let points = corners.map(|(x, y)| scale.at(x, y)).to_vec();
    marks.push(Mark::Area { points, grey: Some(0.55), weight: 0.2 });
    let shown = match bin.vessel {
        Vessel::Box { .. } => bin.rows[0].min(bin.pots()).max(1),
        Vessel::Round { .. } | Vessel::Measured(_) => bin.pots().min(2),
    };
    let pot = &bin.pot;
    let room = 2.0 * half(fill.depth) / f64::from(shown);
    for i in 0..shown {
        let x = (f64::from(i) + 0.5 - f64::from(shown) / 2.0) * room;
        let (top, bottom) = (lid + thick, fill.pot_bottom);
        let corners = [
            (x - pot.hole / 2.0, top),
            (x + pot.hole / 2.0, top),
            (x + pot.bottom / 2.0, bottom),
            (x - pot.bottom / 2.0, bottom),
        ];
        let points = corners.map(|(x, y)| scale.at(x, y)).to_vec();
        marks.push(Mark::Area { points, grey: Some(1.0), weight: 0.3 });
        let [from, to] = [-0.5, 0.5].map(|side| scale.at(x + side * pot.rim, top));
        marks.push(Mark::Line { from, to, weight: 0.5, dashed: false });
        if let Some(cube) = bin.cube {
            let (low, high) = (bottom + cube.lift, bottom + cube.lift + cube.side);
            let side = cube.side / 2.0;
            let corners = [(x - side, low), (x + side, low), (x + side, high), (x - side, high)];
            let points = corners.map(|(x, y)| scale.at(x, y)).to_vec();
            marks.push(Mark::Area { points, grey: Some(0.75), weight: 0.2 });
        }
    }
}

/// The lines across the bin, each with its name and height beside it.
fn lines(marks: &mut Vec<Mark>, view: &View<'_>) {
    let View { scale, grow, index, half } = *view;
    let fill = &grow.results.bins[index].fill;
    let system = grow.plan.system;
    let height = |name: &str, h: f64| format!("{name} {}", figures::length(h, system));
    let all = [
        (fill.depth, height("rim", fill.depth), None),
        (fill.start, height("START LINE", fill.start), Some((0.5, false))),
        (fill.pot_bottom, height("pots' floor", fill.pot_bottom), None),
        (fill.ceiling, height("TOP-UP CEILING", fill.ceiling), Some((0.35, true))),
        (fill.reserve, height("RESERVE", fill.reserve), Some((0.25, true))),
        (0.0, "floor 0".to_string(), None),
    ];
    let own = all.each_ref().map(|(h, ..)| scale.at(0.0, *h)[1]);
    let rows = spread(&own, APART, [own[0], scale.foot]);
    let edge = scale.at(half(fill.depth).max(half(0.0)), 0.0)[0] + LEADER;
    for ((h, words, line), y) in all.into_iter().zip(rows) {
        let [x, level] = scale.at(half(h), h);
        if let Some((weight, dashed)) = line {
            let from = scale.at(-half(h), h);
            marks.push(Mark::Line { from, to: [x, level], weight, dashed });
        } else if h > 0.0 && h < fill.depth {
            thin(marks, [x - 3.0, level], [x, level]);
        }
        marks.push(Mark::Line {
            from: [x + 0.6, level],
            to: [edge, y],
            weight: 0.2,
            dashed: false,
        });
        let at = [edge + 1.0, y];
        marks.push(Mark::Words { at, align: Align::Left, size: LETTERS, text: words });
    }
}

/// Inside widths of the rim and the floor, of bins that have straight walls.
fn widths(marks: &mut Vec<Mark>, view: &View<'_>) {
    let View { scale, grow, index, half } = *view;
    let (bin, fill) = (&grow.plan.bins[index], &grow.results.bins[index].fill);
    let Some([floor, rim]) = ends(&bin.vessel) else { return };
    let text = |m: f64| span(grow, index, m);
    let pair = |h: f64| [scale.at(-half(h), h)[0], scale.at(half(h), h)[0]];
    let lid = bin.lid_thickness.max(1.0 / scale.by * 0.6);
    let top = scale.at(0.0, (fill.lid + lid).max(fill.depth))[1];
    across(marks, pair(fill.depth), top, top - WIDTHS + 2.0, &text(rim));
    across(marks, pair(0.0), scale.floor, scale.floor + WIDTHS, &text(floor));
}

/// An inside width (m) as it is written on the drawing.
fn span(grow: &Grow<'_>, index: usize, m: f64) -> String {
    let round = matches!(grow.plan.bins[index].vessel, Vessel::Round { .. });
    let sign = if round { "⌀ " } else { "" };
    format!("{sign}{}", figures::length(1000.0 * m, grow.plan.system))
}

/// Inside widths at floor and rim (m), unless they were not given.
fn ends(vessel: &Vessel) -> Option<[f64; 2]> {
    match vessel {
        Vessel::Box { floor: [a, _], rim: [b, _], .. } => Some([*a, *b]),
        Vessel::Round { floor, rim, .. } => Some([*floor, *rim]),
        Vessel::Measured(_) => None,
    }
}

/// Moves words that would run into each other apart, each as little as can be (least squares, by
/// pooling those that get in each other's way), within the room from `highest` to `lowest`.
fn spread(own: &[f64], apart: f64, [highest, lowest]: [f64; 2]) -> Vec<f64> {
    let number = |i: usize| f64::from(u32::try_from(i).unwrap_or(u32::MAX));
    let below = |i: usize| apart * number(i);
    let mean = |pool: &[f64]| pool.iter().sum::<f64>() / number(pool.len());
    let mut pools: Vec<Vec<f64>> = Vec::new();
    for (i, y) in own.iter().enumerate() {
        let mut pool = vec![y - below(i)];
        while let Some(above) = pools.pop_if(|above| mean(above) > mean(&pool)) {
            pool = [above, pool].concat();
        }
        pools.push(pool);
    }
    let rows = pools.iter().flat_map(|pool| std::iter::repeat_n(mean(pool), pool.len()));
    let within = |y: f64| y.max(highest).min(lowest - below(own.len().saturating_sub(1)));
    rows.enumerate().map(|(i, y)| within(y) + below(i)).collect()
}

fn alt(grow: &Grow<'_>, index: usize) -> String {
    let (bin, fill) = (&grow.plan.bins[index], &grow.results.bins[index].fill);
    let height = |h: f64| figures::length(h, grow.plan.system);
    let wide = ends(&bin.vessel).map_or(String::new(), |[floor, rim]| {
        let [floor, rim] = [floor, rim].map(|m| height(1000.0 * m));
        format!(" Inside width at the rim {rim}, at the floor {floor}.")
    });
    let on =
        |(day, h): (jiff::civil::Date, f64)| format!("{} {}", day.strftime("%-d %b"), height(h));
    let levels: Vec<String> = falling(grow, index).into_iter().map(on).collect();
    let later = later(grow, index).map_or(String::new(), |(_, [low, high])| {
        // What a ruler cannot tell apart is one height.
        let read = |h: f64| figures::short_length(h, grow.plan.system);
        let alike = read(low) == read(high);
        let [low, high] = [low, high].map(height);
        let to = if alike { String::new() } else { format!(" to {high}") };
        format!(" After something is added: {low}{to}.")
    });
    format!(
        "Section of {}, {} deep inside. From the floor up: reserve line at {}, top-up ceiling at \
         {}, floor of the pots at {}, start line at {}, underside of the lid at {}.{wide} Expected \
         level: {}.{later}",
        bin.name,
        height(fill.depth),
        height(fill.reserve),
        height(fill.ceiling),
        height(fill.pot_bottom),
        height(fill.start),
        height(fill.lid),
        levels.join(", "),
    )
}
