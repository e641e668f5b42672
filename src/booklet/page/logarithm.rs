//! What one pH unit means: hydrogen ions by tens, with the class's own numbers.

use super::super::block::{Align, Block, Column, Line, Table, plain};
use super::super::drawing::{Drawing, Mark};
use super::super::values::used_mixes;
use super::super::{Grow, accept};
use crate::number::figures;
use crate::plan::Sheet;

/// The pH that all classes work.
const STEPS: [f64; 6] = [5.0, 5.5, 6.0, 6.5, 7.0, 8.0];
/// Pairs that all classes compare.
const PAIRS: [[f64; 2]; 5] = [[5.0, 6.0], [5.0, 5.5], [6.0, 6.5], [5.0, 7.0], [5.5, 8.0]];
/// What is accepted, as a share of the answer: reading and rounding.
const WITHIN: f64 = 0.02;
/// Height of a row to write in (mm).
const ROW: f64 = 8.0;
/// Pairs in all, as far as that leaves the first three: they share a sheet with the rest.
const COMPARED: usize = 6;
/// Solutions of the class's own; more would be drill, and crowd the line.
const MOST: usize = 4;

/// Hydrogen ions (µmol/L) as far as the pH tells.
fn hydrogen(ph: f64) -> f64 {
    libm::pow(10.0, 6.0 - ph)
}

/// The class's own: solution, pH at first and aimed at.
fn own(grow: &Grow<'_>) -> Vec<(String, f64, f64)> {
    let of_mix = |m: usize| {
        let acidity = &grow.results.acidity[m];
        let read = acidity.trials.first().and_then(|t| t.readings.first()).map(|r| r.1);
        let worked = grow.results.chemistry[m].as_ref().map(|c| c.closed.ph);
        // As a meter shows it, to a tenth.
        let tenth = |ph: f64| (10.0 * ph).round() / 10.0;
        let before = tenth(read.or(worked)?);
        let name = grow.plan.mixes[m].name.clone();
        Some((name, before, tenth(acidity.target))).filter(|(_, a, b)| (a - b).abs() > 0.05)
    };
    used_mixes(grow).filter_map(of_mix).take(MOST).collect()
}

/// pH and hydrogen ions; the first row is worked, the others are blank but in the key. A pH that all
/// work and the class has met is one row.
pub(in super::super) fn table(grow: &Grow<'_>, key: bool) -> Vec<Block> {
    let own = own(grow).into_iter().flat_map(|(name, before, after)| {
        [(before, format!("{name}, before")), (after, format!("{name}, aimed at"))]
    });
    let mut all: Vec<(f64, Vec<String>)> = STEPS.iter().map(|ph| (*ph, Vec::new())).collect();
    for (ph, name) in own {
        match all.iter_mut().find(|(met, _)| (met - ph).abs() < 0.05) {
            Some((_, names)) => names.push(name),
            None => all.push((ph, vec![name])),
        }
    }
    let row = |(i, (ph, names)): (usize, &(f64, Vec<String>))| {
        let what =
            if names.is_empty() { String::new() } else { format!(" ({})", names.join("; ")) };
        let mut row = vec![plain(format!("{}{what}", figures::decimals(*ph, 1)))];
        row.extend(answer(hydrogen(*ph), " µmol/L", key || i == 0, key));
        row
    };
    let columns = heads(&[("pH", 6), ("H⁺ in a litre", 6)], key);
    let rows = all.iter().enumerate().map(row).collect();
    vec![Block::Table(filled("", columns, rows, key))]
}

/// How many times as many hydrogen ions; the first row is worked.
pub(in super::super) fn ratios(grow: &Grow<'_>, key: bool) -> Vec<Block> {
    let own = own(grow);
    let own = own.iter().map(|(_, a, b)| [a.min(*b), a.max(*b)]);
    let mut pairs = PAIRS[..COMPARED.saturating_sub(own.len()).clamp(3, PAIRS.len())].to_vec();
    for pair in own {
        if !pairs.contains(&pair) {
            pairs.push(pair);
        }
    }
    let row = |(i, [low, high]): (usize, &[f64; 2])| {
        let ph = |v: &f64| plain(format!("pH {}", figures::decimals(*v, 1)));
        let mut row = vec![ph(low), ph(high)];
        row.extend(answer(hydrogen(*low) / hydrogen(*high), " times", key || i == 0, key));
        row
    };
    let columns = heads(&[("At", 4), ("there are, compared with", 5), ("as many H⁺", 6)], key);
    let rows = pairs.iter().enumerate().map(row).collect();
    vec![Block::Table(filled("", columns, rows, key))]
}

fn heads(columns: &[(&str, u32)], key: bool) -> Vec<Column> {
    let mut all: Vec<Column> =
        columns.iter().map(|(head, share)| Column::words(head, *share)).collect();
    all.extend(key.then(|| Column::words("Accept", 6)));
    all
}

fn filled(caption: &str, columns: Vec<Column>, rows: Vec<Vec<Line>>, key: bool) -> Table {
    let row_height = if key { 0.0 } else { ROW };
    Table { row_height, ..Table::printed(caption, columns, rows) }
}

/// The answer, or the unit at the end of a blank; in the key also what is accepted.
fn answer(value: f64, unit: &str, shown: bool, key: bool) -> Vec<Line> {
    let number = if shown { figures::plain(value, 3) } else { "_".repeat(12) };
    let mut cells = vec![plain(format!("{number}{unit}"))];
    if key {
        let range = accept::between(value, WITHIN * value).unwrap_or(number);
        cells.push(plain(format!("{range}{unit}")));
    }
    cells
}

/// A line with logarithmic ticks to put the answers on; in the key they stand there.
pub(in super::super) fn line(grow: &Grow<'_>, key: bool, group: &str) -> Vec<Block> {
    let own: Vec<f64> = own(grow).iter().flat_map(|(_, a, b)| [*a, *b]).collect();
    let all = || STEPS.iter().chain(&own).copied();
    let (least, most) = (all().fold(5.0, f64::min).floor(), all().fold(8.0, f64::max).ceil());
    let width = match grow.plan.paper {
        // Made larger with its letters.
        Sheet::A4 | Sheet::Letter if grow.plan.large => 102.0,
        Sheet::A4 | Sheet::Letter => 150.0,
        Sheet::A5 | Sheet::HalfLetter => 98.0,
    };
    // A hand needs less above the line than stalks that lean.
    let line = if key { LINE } else { LINE - 5.0 };
    let scale = Scale { least, most, width, line };
    let mut marks = scale.ticks();
    if key {
        let mut points: Vec<f64> = all().collect();
        points.sort_by(f64::total_cmp);
        points.dedup();
        marks.extend(scale.answers(&points));
    }
    let name = format!(
        "number-line{}{group}{}",
        if group.is_empty() { "" } else { "-" },
        if key { "-key" } else { "" }
    );
    let alt = format!(
        "A line with logarithmic ticks from {} to {} micromoles of hydrogen ions in a litre, pH {} \
         to pH {}{}.",
        figures::plain(hydrogen(most), 3),
        figures::plain(hydrogen(least), 3),
        figures::decimals(most, 0),
        figures::decimals(least, 0),
        if key { ", with the answers as crosses" } else { "" }
    );
    let task =
        "Put a cross on the line for every pH of the first table, and write the pH above it.";
    let caption = "H⁺ in µmol/L. Every ten times is the same length.";
    let caption = if key { caption.into() } else { format!("{task} {caption}") };
    let height = line + 14.0;
    vec![Block::Figure(Drawing { name, width: width + 2.0 * EDGE, height, marks, alt, caption })]
}

/// Beside the ends of the line (mm).
const EDGE: f64 = 8.0;
/// Where the line of a key lies (mm from the top).
const LINE: f64 = 22.0;
/// Where the row of pH above the line stands (mm from the top).
const ROW_OF_PH: f64 = 6.0;
/// Room for a pH (mm).
const ROOM: f64 = 6.2;

struct Scale {
    least: f64,
    most: f64,
    width: f64,
    /// Where it lies (mm from the top).
    line: f64,
}

impl Scale {
    /// Place of a pH (mm): more hydrogen ions to the right.
    fn at(&self, ph: f64) -> f64 {
        EDGE + self.width * (self.most - ph) / (self.most - self.least)
    }

    fn ticks(&self) -> Vec<Mark> {
        let solid = |from, to, weight| Mark::Line { from, to, weight, dashed: false };
        let ends = [[EDGE, self.line], [EDGE + self.width, self.line]];
        let mut marks = vec![solid(ends[0], ends[1], 0.5)];
        let decades = (0..20).map(|i| self.most - f64::from(i)).take_while(|ph| *ph >= self.least);
        for ph in decades {
            for k in 1..=9 {
                let x = self.at(ph - libm::log10(f64::from(k)));
                if x > ends[1][0] + 1e-6 {
                    break;
                }
                let long = match k {
                    1 => 6.0,
                    5 => 4.5,
                    _ => 3.0,
                };
                marks.push(solid(
                    [x, self.line],
                    [x, self.line + long],
                    if k == 1 { 0.5 } else { 0.25 },
                ));
            }
            let text = figures::plain(hydrogen(ph), 3);
            let at = [self.at(ph), self.line + 9.0];
            marks.push(Mark::Words { at, align: Align::Centre, size: 2.6, text });
        }
        marks
    }

    /// The answers: crosses, and their pH in a row above. Where they lie close, the words keep
    /// apart and their stalks lean, so that none touches the words beside its own.
    fn answers(&self, points: &[f64]) -> Vec<Mark> {
        let solid = |from, to| Mark::Line { from, to, weight: 0.4, dashed: false };
        // From the left, so from the largest pH.
        let crosses: Vec<f64> = points.iter().rev().map(|ph| self.at(*ph)).collect();
        let places = apart(&crosses, [EDGE, EDGE + self.width]);
        let words = |x: f64, align, text: String| Mark::Words {
            at: [x, ROW_OF_PH],
            align,
            size: 2.2,
            text,
        };
        let mut marks = vec![words(0.0, Align::Left, "pH".into())];
        for ((x, place), ph) in crosses.iter().zip(places).zip(points.iter().rev()) {
            let way =
                |s: f64| solid([x - 1.3, self.line - 1.3 * s], [x + 1.3, self.line + 1.3 * s]);
            let stalk = solid([place, ROW_OF_PH + 2.4], [*x, self.line]);
            let text = words(place, Align::Centre, figures::decimals(*ph, 1));
            marks.extend([stalk, way(1.0), way(-1.0), text]);
        }
        marks
    }
}

/// Where words stand so that each has room, as near to their own places as may be: `places` from
/// left to right, between two ends (mm).
fn apart(places: &[f64], [from, to]: [f64; 2]) -> Vec<f64> {
    let spaces = u32::try_from(places.len().saturating_sub(1)).map_or(1.0, f64::from).max(1.0);
    let between = ((to - from) / spaces).min(ROOM);
    let mut all = places.to_vec();
    // Neighbours push each other away, until all have room.
    for _ in 0..200 {
        for i in 1..all.len() {
            let lacks = between - (all[i] - all[i - 1]);
            if lacks > 0.0 {
                all[i - 1] -= lacks / 2.0;
                all[i] += lacks / 2.0;
            }
        }
        for x in &mut all {
            *x = x.clamp(from, to);
        }
    }
    all
}

/// Readings of a strip, of drops and of a meter side by side.
pub(in super::super) fn readings_form(grow: &Grow<'_>) -> Vec<Block> {
    let count = match grow.plan.paper {
        Sheet::A4 | Sheet::Letter => 12,
        Sheet::A5 | Sheet::HalfLetter => 8,
    };
    let heads = [
        ("Date", 5),
        ("Bin", 5),
        ("Time", 4),
        ("Colour seen", 7),
        ("pH by chart", 4),
        ("pH by meter", 4),
        ("Difference", 5),
        ("Who", 5),
    ];
    let columns: Vec<Column> = heads.into_iter().map(|(h, s)| Column::words(h, s)).collect();
    let rows = vec![vec![plain(""); columns.len()]; count];
    vec![Block::Table(Table { row_height: 11.0, ..Table::to_fill("", columns, rows) })]
}
