//! Jar trials and what worked last time; what kitchen remedies would leave.

use super::super::Grow;
use super::super::block::{Block, Column, Table};
use super::chemistry::ph;
use super::pails::measure;
use super::{by_bin, cells, one, paragraph, words};
use crate::number::figures;

pub(in super::super) fn trial_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let mut blocks = Vec::new();
    for trial in &grow.results.acidity[mix].trials {
        let name = &grow.plan.adjusters[trial.adjuster].name;
        // In one column all are told to a tenth, or to a hundredth.
        let fine = |(added, _): &(f64, f64)| (10.0 * added - (10.0 * added).round()).abs() > 1e-6;
        let places = if trial.readings.iter().any(fine) { 2 } else { 1 };
        let added = |ml: f64| format!("{} mL", figures::decimals(ml, places));
        let row = |(ml, read): &(f64, f64)| cells([added(*ml), ph(*read)]);
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

/// What worked last time, to the litre.
pub(in super::super) fn last_time_note(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(last) = &grow.plan.mixes[mix].last_time else { return Vec::new() };
    let name = &grow.plan.adjusters[last.adjuster].name;
    let (litres, measure) = measure(grow, mix);
    vec![paragraph(format!(
        "Last time {} of {name} in {} brought it into range: {} for every {measure}.",
        figures::dropper(last.dose),
        figures::volume(last.volume, grow.plan.system),
        figures::dropper(last.dose / last.volume * litres)
    ))]
}

pub(in super::super) fn jar_trial_form() -> Vec<Block> {
    let columns =
        words([("Step", 2), ("Added now (mL)", 4), ("Added in all (mL)", 4), ("pH read", 3)]);
    let rows = (0..8).map(|i| {
        let added = if i == 0 { "0" } else { "" };
        cells([i.to_string(), added.into(), added.into(), String::new()])
    });
    one(Table::to_fill(
        "A jar trial of your own. Sample: ________________",
        columns,
        rows.collect(),
    ))
}

pub(in super::super) fn household_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let bins = &grow.results.mixing[mix].bins;
    let rows = bins.iter().zip(&grow.results.acidity[mix].household).map(|(bin, left)| {
        (*bin, cells([figures::plain(left.sodium, 3), figures::plain(left.acetate, 3)]))
    });
    let rows = by_bin(grow, rows);
    let columns = vec![
        Column::words("Bin", 4),
        Column::words("Sodium, mg/L, from 1 level tsp of baking soda", 6),
        Column::words("Acetate, mg/L, from 10 mL of 5 % vinegar", 6),
    ];
    one(Table::printed("What kitchen remedies leave in the water.", columns, rows))
}
