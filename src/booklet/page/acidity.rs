//! pH tables of one solution.

use super::super::Grow;
use super::super::block::{Block, Column, Line, Table, plain};
use super::pails::measure;
use super::{by_bin, cells, one, paragraph, words};
use crate::compute::Jar;
use crate::compute::acidity::{BinDose, TrialResult};
use crate::number::figures;

fn reading(ph: f64) -> String {
    figures::decimals(ph, 1)
}

fn way(up: bool) -> &'static str {
    if up { "up" } else { "down" }
}

fn trials<'a>(grow: &Grow<'a>, mix: usize) -> impl Iterator<Item = &'a TrialResult> {
    grow.results.acidity[mix].trials.iter()
}

pub(in super::super) fn trial_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let mut blocks = Vec::new();
    for trial in trials(grow, mix) {
        let name = &grow.plan.adjusters[trial.adjuster].name;
        let row = |(added, ph): &(f64, f64)| cells([figures::dropper(*added), reading(*ph)]);
        let columns =
            vec![Column::numbers("Added in all", 1), Column::numbers("Then it read (pH)", 1)];
        let caption = format!(
            "Jar trial with {name}: {} of the mixed solution.",
            figures::volume(trial.sample, grow.plan.system)
        );
        let rows = trial.readings.iter().map(row).collect();
        blocks.push(Block::Table(Table::printed(&caption, columns, rows)));
    }
    blocks
}

fn doses(grow: &Grow<'_>, mix: usize, doses: &[BinDose], caption: &str) -> Block {
    let bins = &grow.results.mixing[mix].bins;
    let row = |name: String, litres: f64, dose: &BinDose| {
        let [first, rest, whole] = figures::parts(dose.first, dose.whole);
        let litres = figures::volume(litres, grow.plan.system);
        cells([name, litres, first, rest, whole, String::new()])
    };
    let full = |bin: &usize| grow.results.bins[*bin].fill.start_volume;
    let mut rows: Vec<Vec<Line>> = bins
        .iter()
        .zip(doses)
        .map(|(bin, dose)| row(grow.plan.bins[*bin].name.clone(), full(bin), dose))
        .collect();
    if let (Some(bin), Some(dose)) = (bins.first(), doses.first()) {
        let (litres, name) = measure(grow, mix);
        let part = litres / full(bin);
        let dose = BinDose { first: part * dose.first, whole: part * dose.whole };
        rows.push(row(not_full(name), litres, &dose));
    }
    let mut columns = words([("Bin", 4), ("Solution", 5)]);
    for head in ["First part", "Then, if still needed", "Not more in all"] {
        columns.push(Column::numbers(head, 4));
    }
    columns.push(Column::words("Added, and pH read", 5));
    let table = Table::to_fill(caption, columns, rows);
    Block::Table(Table { row_height: 7.5, ..table })
}

/// A bin that is not full takes a dose for what is in it.
pub(super) fn not_full(measure: &str) -> String {
    format!("Not full: for every {measure} in it")
}

/// Doses of the jar for today, and what the water report adds for the next day.
fn two_days(grow: &Grow<'_>, mix: usize, doses: &[BinDose], (jar, name): (&Jar, &str)) -> Block {
    let bins = &grow.results.mixing[mix].bins;
    let row = |name: String, dose: &BinDose, all: f64, part: f64| {
        let [first, rest, _] = figures::parts(part * dose.first, part * dose.whole);
        let [_, next, all] = figures::parts(part * dose.whole, part * all.max(dose.whole));
        cells([name, first, rest, next, all, String::new()])
    };
    let each = bins.iter().zip(doses).zip(&jar.bins);
    let mut rows: Vec<Vec<Line>> = each
        .map(|((bin, dose), all)| row(grow.plan.bins[*bin].name.clone(), dose, *all, 1.0))
        .collect();
    if let (Some(bin), Some(dose), Some(all)) = (bins.first(), doses.first(), jar.bins.first()) {
        let (litres, name) = measure(grow, mix);
        let part = litres / grow.results.bins[*bin].fill.start_volume;
        rows.push(row(not_full(name), dose, *all, part));
    }
    let mut columns = words([("Bin", 4)]);
    for head in ["First part, today", "Rest of today", "Next day, up to", "Not more in all"] {
        columns.push(Column::numbers(head, 4));
    }
    columns.push(Column::words("Added, and pH read", 5));
    let caption =
        format!("{name}: today by the jar, the next day by jar and water report together.");
    let table = Table::to_fill(&caption, columns, rows);
    Block::Table(Table { row_height: 7.5, ..table })
}

pub(in super::super) fn stage_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let mut blocks = Vec::new();
    for trial in trials(grow, mix) {
        let name = &grow.plan.adjusters[trial.adjuster].name;
        if trial.dose.is_some() {
            let caption = format!("{name}, in two parts.");
            let jar = grow.results.jars[mix].as_ref();
            let jar = jar.filter(|j| j.adjuster == trial.adjuster);
            blocks.push(match jar {
                Some(jar) => two_days(grow, mix, &trial.bins, (jar, name)),
                None => doses(grow, mix, &trial.bins, &caption),
            });
        } else {
            let start = trial.readings[0].1;
            blocks.push(paragraph(format!(
                "{name}: no dose is printed. The jar began at pH {} and its trial either needed \
                 nothing or stopped before the target; measure again before you add anything.",
                reading(start)
            )));
        }
    }
    blocks
}

/// Bins of a solution that take doses of their own, by their place among its bins; copies of a bin
/// take the same.
fn unlike(grow: &Grow<'_>, mix: usize) -> Vec<(usize, String)> {
    let mut all: Vec<(usize, String)> = Vec::new();
    for (place, bin) in grow.results.mixing[mix].bins.iter().enumerate() {
        let bin = &grow.plan.bins[*bin];
        if all.last().is_none_or(|(_, called)| *called != bin.called) {
            all.push((place, bin.called.clone()));
        }
    }
    all
}

pub(in super::super) fn lookup_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let bins = unlike(grow, mix);
    let mut blocks = Vec::new();
    for trial in trials(grow, mix).filter(|t| !t.lookup.is_empty()) {
        let name = &grow.plan.adjusters[trial.adjuster].name;
        // Readings down the page, at most six bins across; more bins, more tables.
        for bins in bins.chunks(6) {
            let mut columns = vec![Column::numbers("It reads (pH)", 3)];
            columns.extend(bins.iter().map(|(_, name)| Column::numbers(name, 3)));
            let rows = trial.lookup.iter().map(|look| {
                let mut row: Vec<Line> = vec![plain(reading(look.reads))];
                row.extend(bins.iter().map(|(i, _)| plain(figures::dropper(look.doses[*i]))));
                row
            });
            let caption = format!(
                "{name}, to move pH {}: if a bin filled to its start line reads this, this much \
                 brings it to {}. A bin that is half full takes half. Half of it first; stir, \
                 wait, read again.",
                way(trial.up),
                reading(grow.results.acidity[mix].target)
            );
            blocks.push(Block::Table(Table::printed(&caption, columns, rows.collect())));
        }
    }
    if blocks.is_empty() {
        blocks
            .push(paragraph("There is no table yet: it needs a jar trial that passes the target."));
    }
    blocks
}

pub(in super::super) fn last_time_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some((adjuster, all)) = &grow.results.acidity[mix].last_time else { return Vec::new() };
    let Some(last) = &grow.plan.mixes[mix].last_time else { return Vec::new() };
    let caption = format!(
        "{}: last time {} in {}, carried over to each bin.",
        grow.plan.adjusters[*adjuster].name,
        figures::dropper(last.dose),
        figures::volume(last.volume, grow.plan.system)
    );
    vec![doses(grow, mix, all, &caption)]
}

pub(in super::super) fn jar_trial_form() -> Vec<Block> {
    let columns =
        words([("Step", 2), ("Added now (mL)", 4), ("Added in all (mL)", 4), ("pH read", 3)]);
    let rows = (0..8).map(|i| {
        let added = if i == 0 { "0" } else { "" };
        cells([i.to_string(), added.into(), added.into(), String::new()])
    });
    one(Table::to_fill("A jar trial of your own. Sample: ________", columns, rows.collect()))
}

pub(in super::super) fn household_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let bins = &grow.results.mixing[mix].bins;
    let rows = bins.iter().zip(&grow.results.acidity[mix].household).map(|(bin, left)| {
        (*bin, cells([figures::plain(left.sodium, 3), figures::plain(left.acetate, 3)]))
    });
    let rows = by_bin(grow, rows);
    let columns = vec![
        Column::words("Bin", 4),
        Column::numbers("Sodium, mg/L, from 1 level tsp of baking soda", 6),
        Column::numbers("Acetate, mg/L, from 10 mL of 5 % vinegar", 6),
    ];
    one(Table::printed("What kitchen remedies leave in the water.", columns, rows))
}
