//! A chart of curves over a band, in millimetres of paper: told apart by line and by words on the
//! lines, never by colour.

use super::super::block::Align;
use super::super::drawing::{Drawing, Mark};
use crate::number::figures;

/// A curve: its points, whether it is broken, and the word on its end.
pub(super) struct Curve {
    pub(super) points: Vec<[f64; 2]>,
    pub(super) dashed: bool,
    pub(super) name: &'static str,
}

/// Signs on a chart.
#[derive(Default)]
pub(super) struct Signs {
    /// What was read, as crosses.
    pub(super) read: Vec<[f64; 2]>,
    /// Where the solution is changed, as lozenges.
    pub(super) changes: Vec<[f64; 2]>,
}

/// What a chart shows.
pub(super) struct Chart {
    /// Words along the bottom.
    pub(super) across: String,
    /// Words at the top of the upright axis.
    pub(super) up: String,
    /// Largest value across.
    pub(super) most: f64,
    /// Where the upright lines stand, and what is written under them.
    pub(super) ticks: Vec<(f64, String)>,
    /// Least and largest value up, and from line to line.
    pub(super) reach: [f64; 3],
    /// Grey area: its corners.
    pub(super) area: Vec<[f64; 2]>,
    /// Whether curves are its edges. Else it has an outline, for a copier may lose the grey.
    pub(super) edged: bool,
    /// Levels with a name, drawn across as broken lines.
    pub(super) levels: Vec<(f64, &'static str)>,
    pub(super) curves: Vec<Curve>,
    /// Crosses and lozenges.
    pub(super) signs: Signs,
    /// Size of the field of the curves (mm of paper).
    pub(super) field: [f64; 2],
    /// Fine lines to plot on: the space up between two.
    pub(super) fine: Option<f64>,
    /// Places without an upright line that have a short mark at the foot.
    pub(super) feet: Vec<f64>,
}

/// A field that fits the smallest paper (mm).
pub(super) const SMALL: [f64; 2] = [82.0, 46.0];
/// Its left upper corner.
const CORNER: [f64; 2] = [12.0, 8.0];
/// Height of capital letters (mm).
const LETTERS: f64 = 2.1;
/// Thickness of the lines of a grid, which a photocopier still shows (mm).
const FINE: f64 = 0.12;
/// What a line across keeps from a level with a name, lest they be taken for one (mm).
const CLEAR: f64 = 1.0;

impl Chart {
    fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [low, high, _] = self.reach;
        [
            CORNER[0] + self.field[0] * x / self.most,
            CORNER[1] + self.field[1] * (high - y.clamp(low, high)) / (high - low),
        ]
    }

    /// Draws it.
    pub(super) fn draw(&self, name: String, alt: String, caption: String) -> Drawing {
        let mut marks = self.grid();
        let mut ends = Vec::new();
        // All as thick as each other, or one would seem to count for more.
        let fine = self.fine.is_none() && self.curves.iter().any(|curve| saw(&curve.points));
        for curve in &self.curves {
            let points: Vec<[f64; 2]> = curve.points.iter().map(|p| self.at(*p)).collect();
            if !curve.name.is_empty() {
                ends.extend(points.last().map(|end| (*end, curve.name)));
            }
            if points.len() > 1 {
                let weight = if fine { 0.3 } else { 0.5 };
                marks.push(Mark::Path { points, weight, dashed: curve.dashed });
            }
        }
        let mut levels = Vec::new();
        for (y, name) in &self.levels {
            let (from, to) = (self.at([0.0, *y]), self.at([self.most, *y]));
            marks.push(Mark::Line { from, to, weight: 0.25, dashed: true });
            levels.push((to, *name));
        }
        for dot in &self.signs.read {
            let [x, y] = self.at(*dot);
            for way in [-1.0, 1.0] {
                let (from, to) = ([x - 1.1, y - 1.1 * way], [x + 1.1, y + 1.1 * way]);
                marks.push(Mark::Line { from, to, weight: 0.4, dashed: false });
            }
        }
        marks.extend(self.signs.changes.iter().map(|change| lozenge(self.at(*change))));
        marks.extend(named(levels, ends));
        let [width, height] = [CORNER[0] + self.field[0] + 24.0, CORNER[1] + self.field[1] + 12.0];
        Drawing { name, width, height, marks, alt, caption }
    }

    fn grid(&self) -> Vec<Mark> {
        let [low, high, between] = self.reach;
        let area = self.area.iter().map(|p| self.at(*p)).collect();
        let mut marks = Vec::new();
        if !self.area.is_empty() {
            let weight = if self.edged { 0.0 } else { 0.15 };
            marks.push(Mark::Area { points: area, grey: Some(0.88), weight });
        }
        let mut line = |from: [f64; 2], to: [f64; 2], weight| {
            let (from, to) = (self.at(from), self.at(to));
            marks.push(Mark::Line { from, to, weight, dashed: false });
        };
        line([0.0, low], [self.most, low], 0.3);
        line([0.0, low], [0.0, high], 0.3);
        let rows = (0..=40).map(|i| low + between * f64::from(i)).take_while(|y| *y <= high + 1e-9);
        let rows: Vec<f64> = rows.collect();
        // Round numbers stand out a little where there are finer lines between them.
        let [weight, round] = if self.fine.is_some() { [FINE, 1.6 * FINE] } else { [FINE; 2] };
        for y in rows.iter().skip(1).filter(|y| self.clear(**y)) {
            line([0.0, *y], [self.most, *y], round);
        }
        for (x, _) in &self.ticks {
            line([*x, low], [*x, high], weight);
        }
        let foot = 2.0 * (high - low) / self.field[1];
        for x in &self.feet {
            line([*x, low], [*x, low + foot], 0.25);
        }
        marks.extend(self.fine_grid(&rows));
        marks.extend(self.labels(&rows));
        marks
    }

    /// Far enough from every level with a name.
    fn clear(&self, y: f64) -> bool {
        let place = |y: f64| self.at([0.0, y])[1];
        self.levels.iter().all(|(level, _)| (place(*level) - place(y)).abs() > CLEAR)
    }

    /// Finer lines between the `rows`, to plot on.
    fn fine_grid(&self, rows: &[f64]) -> Vec<Mark> {
        let [low, high, _] = self.reach;
        let Some(up) = self.fine else { return Vec::new() };
        let steps = (1..1000).map(|i| low + up * f64::from(i)).take_while(|y| *y <= high + 1e-9);
        let own = |y: &f64| rows.iter().all(|row| (row - y).abs() > 1e-6) && self.clear(*y);
        let line = |y: f64| {
            let (from, to) = (self.at([0.0, y]), self.at([self.most, y]));
            Mark::Line { from, to, weight: FINE, dashed: false }
        };
        steps.filter(own).map(line).collect()
    }

    fn labels(&self, rows: &[f64]) -> Vec<Mark> {
        let low = self.reach[0];
        let mut marks = Vec::new();
        for y in rows {
            let [x, y_at] = self.at([0.0, *y]);
            marks.push(words([x - 1.2, y_at], Align::Right, &figures::decimals(*y, 0)));
        }
        for (x, text) in &self.ticks {
            let [x_at, y] = self.at([*x, low]);
            marks.push(words([x_at, y + 3.0], Align::Centre, text));
        }
        let middle = CORNER[0] + self.field[0] / 2.0;
        let below = CORNER[1] + self.field[1] + 7.5;
        marks.push(words([middle, below], Align::Centre, &self.across));
        marks.push(words([CORNER[0], CORNER[1] - 3.5], Align::Centre, &self.up));
        marks
    }
}

/// A change of the solution, on any drawing with days: white, and higher than wide.
pub(super) fn lozenge([x, y]: [f64; 2]) -> Mark {
    let (wide, high) = (1.3, 2.4);
    let points = vec![[x - wide, y], [x, y - high], [x + wide, y], [x, y + high]];
    Mark::Area { points, grey: Some(1.0), weight: 0.35 }
}

/// Whether a curve turns so often that a thick line would close its teeth, where it is not as large as a sheet.
fn saw(points: &[[f64; 2]]) -> bool {
    let turns = points.windows(3).filter(|p| (p[1][1] - p[0][1]) * (p[2][1] - p[1][1]) < 0.0);
    turns.count() > 10
}

/// Words farther from their curve's end than this are led to it (mm).
const LED: f64 = 1.2;
/// How far to the right a leader takes them (mm).
const LEADER: f64 = 2.6;

/// The words at the right: of a level beside its line, of a curve as near to its end as the others
/// leave room, in the order in which the curves end.
fn named(
    mut levels: Vec<([f64; 2], &'static str)>,
    mut ends: Vec<([f64; 2], &'static str)>,
) -> Vec<Mark> {
    let gap = 2.0 * LETTERS;
    let word = |x: f64, y: f64, name: &str| words([x + 1.5, y], Align::Left, name);
    let mut marks = Vec::new();
    let mut taken: Vec<f64> = Vec::new();
    levels.sort_by(|a, b| a.0[1].total_cmp(&b.0[1]));
    for ([x, y], name) in levels {
        let y = taken.last().map_or(y, |above: &f64| y.max(above + gap));
        taken.push(y);
        marks.push(word(x, y, name));
    }
    ends.sort_by(|a, b| a.0[1].total_cmp(&b.0[1]));
    let down: Vec<f64> = ends.iter().map(|end| end.0[1]).collect();
    // The same from below, seen upside down.
    let over = |all: &[f64]| all.iter().rev().map(|y| -y).collect::<Vec<_>>();
    let ways = [free(&down, &taken, gap), over(&free(&over(&down), &over(&taken), gap))];
    let moved = |way: &Vec<f64>| way.iter().zip(&down).map(|(a, b)| (a - b).abs()).sum::<f64>();
    let best = ways.into_iter().min_by(|a, b| moved(a).total_cmp(&moved(b))).unwrap_or_default();
    for (([x, end], name), y) in ends.into_iter().zip(best) {
        // Words that had to move away are led to their curve.
        let far = (y - end).abs() > LED;
        if far {
            let (from, to) = ([x + 0.4, end], [x + 1.0 + LEADER, y]);
            marks.push(Mark::Line { from, to, weight: 0.2, dashed: false });
        }
        marks.push(word(x + if far { LEADER } else { 0.0 }, y, name));
    }
    marks
}

/// Places one after the other, each as near to the wanted one as those before and the `taken` leave
/// room.
fn free(wanted: &[f64], taken: &[f64], gap: f64) -> Vec<f64> {
    let mut above = f64::NEG_INFINITY;
    let mut places = Vec::new();
    for y in wanted {
        let free = |at: &f64| *at >= above + gap && taken.iter().all(|t| (t - at).abs() >= gap);
        // From its own place on, up and down by turns.
        let mut near = (0..200).flat_map(|i| [-0.25, 0.25].map(|s| y + s * f64::from(i)));
        above = near.find(free).unwrap_or(*y);
        places.push(above);
    }
    places
}

/// Lines at round numbers, about five of them.
pub(super) fn round_ticks(most: f64) -> Vec<(f64, String)> {
    let step = round_step(most / 5.0);
    let ticks = (0..=20).map(|i| step * f64::from(i)).take_while(|x| *x <= most);
    ticks.map(|x| (x, figures::plain(x, 2))).collect()
}

/// The next of 1, 2, 2.5 and 5 times a power of ten.
pub(super) fn round_step(least: f64) -> f64 {
    let ten = libm::pow(10.0, libm::log10(least.max(1e-9)).floor());
    [1.0, 2.0, 2.5, 5.0, 10.0].into_iter().map(|n| n * ten).find(|s| *s >= least).unwrap_or(least)
}

fn words(at: [f64; 2], align: Align, text: &str) -> Mark {
    Mark::Words { at, align, size: LETTERS, text: text.into() }
}
