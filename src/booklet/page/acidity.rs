//! The dose of one solution: bottle, portions for today and for the days after, other readings.

use super::super::Grow;
use super::super::block::{Block, Column, Line, Table, plain};
use super::chemistry::ph;
use super::pails::measure;
use super::safety::contents;
use super::{cells, paragraph, words};
use crate::compute::Dose;
use crate::compute::dose::{Basis, Portions};
use crate::number::figures;

pub(super) fn of<'a>(grow: &Grow<'a>, mix: usize) -> Option<&'a Dose> {
    grow.results.doses[mix].as_ref()
}

/// An amount of an adjuster: a syringe, or a scale.
pub(super) fn amount(grow: &Grow<'_>, adjuster: usize, amount: f64) -> String {
    if amount < 0.005 {
        return "nothing".into();
    }
    if grow.plan.adjusters[adjuster].dry {
        format!("{} g", figures::sized(amount))
    } else {
        figures::dropper(amount)
    }
}

/// Steps are for a syringe: a round number, not more than what was worked.
fn step(grow: &Grow<'_>, adjuster: usize, worked: f64) -> String {
    let unit = if grow.plan.adjusters[adjuster].dry { "g" } else { "mL" };
    format!("{} {unit}", figures::plain(figures::round_step(worked), 2))
}

/// What is in the bottles that move pH, for what they hold decides how much of them.
pub(in super::super) fn bottle_note(grow: &Grow<'_>) -> Vec<Block> {
    let told = |a: &crate::plan::Adjuster| {
        let moves = if a.up { "raises" } else { "lowers" };
        format!("{} ({}) {moves} pH", a.name, contents(grow, a))
    };
    let all: Vec<String> = grow.plan.adjusters.iter().map(told).collect();
    if all.is_empty() {
        return Vec::new();
    }
    let text = format!(
        "{}. If the label on yours says otherwise, the amounts below do not hold.",
        all.join("; ")
    );
    vec![paragraph(text)]
}

/// A bin that is not full takes a dose for what is in it.
pub(super) fn not_full(measure: &str) -> String {
    format!("Not full: for every {measure} in it")
}

/// Portions of every bin of a solution, and of a round measure for one that is not full.
fn rows(
    grow: &Grow<'_>,
    mix: usize,
    dose: &Dose,
    row: impl Fn(String, String, Portions) -> Vec<Line>,
) -> Vec<Vec<Line>> {
    let bins = &grow.results.mixing[mix].bins;
    let full = |bin: usize| grow.results.bins[bin].fill.start_volume;
    let litres = |v: f64| figures::volume(v, grow.plan.system);
    let each = bins.iter().zip(&dose.bins);
    let mut rows: Vec<Vec<Line>> = each
        .map(|(bin, p)| row(grow.plan.bins[*bin].name.clone(), litres(full(*bin)), *p))
        .collect();
    if let (Some(bin), Some(p)) = (bins.first(), dose.bins.first()) {
        let (size, name) = measure(grow, mix);
        rows.push(row(not_full(name), litres(size), p.times(size / full(*bin))));
    }
    rows
}

/// First part and rest of today, as they add up in print.
fn printed(grow: &Grow<'_>, adjuster: usize, p: &Portions) -> [String; 2] {
    if grow.plan.adjusters[adjuster].dry {
        return [amount(grow, adjuster, p.first), amount(grow, adjuster, p.today)];
    }
    let [first, _, today] = figures::parts(p.first, p.today);
    [first, today]
}

/// The first day's portions, bin by bin, with room for what was added and read.
pub(in super::super) fn today_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dose) = of(grow, mix) else { return vec![paragraph(nothing_to_dose(grow, mix))] };
    let name = &grow.plan.adjusters[dose.adjuster].name;
    let rows = rows(grow, mix, dose, |bin, litres, p| {
        let [first, today] = printed(grow, dose.adjuster, &p);
        if dose.up {
            return cells([bin, litres, first, String::new()]);
        }
        cells([bin, litres, first, step(grow, dose.adjuster, p.step), today, String::new()])
    });
    let mut columns = words([("Bin", 5), ("Solution", 5)]);
    columns.push(Column::numbers("First part", 3));
    if !dose.up {
        columns.push(Column::numbers("Then, each step", 3));
        columns.push(Column::numbers("Not more today", 3));
    }
    columns.push(Column::words("Added, and pH read", 7));
    let caption = format!("{name}, the first day.");
    let table = Table::to_fill(&caption, columns, rows);
    vec![Block::Table(Table { row_height: 7.5, ..table })]
}

/// What a later day may take.
pub(in super::super) fn later_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dose) = of(grow, mix) else { return Vec::new() };
    let name = &grow.plan.adjusters[dose.adjuster].name;
    let rows = rows(grow, mix, dose, |bin, _, p| {
        let all = amount(grow, dose.adjuster, p.all);
        cells([bin, step(grow, dose.adjuster, p.later), all, String::new()])
    });
    let mut columns = words([("Bin", 5)]);
    columns.push(Column::numbers("Each step", 3));
    columns.push(Column::numbers("Not more in all days", 3));
    columns.push(Column::words("Added, and pH read", 9));
    let caption = format!("{name}, the days after. What went in on the first day counts.");
    let table = Table::to_fill(&caption, columns, rows);
    vec![Block::Table(Table { row_height: 7.5, ..table })]
}

/// Why there is no dose to print.
fn nothing_to_dose(grow: &Grow<'_>, mix: usize) -> String {
    let acidity = &grow.results.acidity[mix];
    if let Some(trial) = acidity.trials.first() {
        return format!(
            "{}: no dose is printed. The jar began at pH {} and its trial either needed nothing or \
             stopped before the target; measure again before you add anything.",
            grow.plan.adjusters[trial.adjuster].name,
            ph(trial.readings[0].1)
        );
    }
    let Some(chemistry) = &grow.results.chemistry[mix] else {
        return "No dose is printed: the plan has no jar trial, no earlier dose and no usable water \
                report. Make a jar trial first: it takes ten minutes and no guessing."
            .into();
    };
    let reads = ph(chemistry.open.ph);
    if acidity.outside(chemistry.open.ph) {
        format!(
            "In air it will stand at about pH {reads}, out of range, and the plan has no adjuster of \
             known strength for that: make a jar trial with the bottle you have."
        )
    } else {
        format!(
            "In air it will stand at about pH {reads}, in range: let it stand a day and read again \
             before you dose anything."
        )
    }
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

/// One reading and the amount for each of [`unlike`] bins (mL or g).
type Look = (f64, Vec<f64>);

/// Amounts for readings nearer to the range than the forecast, up to the forecast itself.
fn looks(grow: &Grow<'_>, mix: usize, dose: &Dose) -> Vec<Look> {
    let bins = unlike(grow, mix);
    match dose.basis {
        Basis::Jar => {
            let trials = &grow.results.acidity[mix].trials;
            let trial = trials.iter().find(|t| t.dose.is_some());
            let look = |l: &crate::compute::acidity::Lookup| {
                (l.reads, bins.iter().map(|(i, _)| l.doses[*i]).collect())
            };
            trial.map_or(Vec::new(), |t| t.lookup.iter().map(look).collect())
        }
        Basis::Report => {
            let Some(chemistry) = &grow.results.chemistry[mix] else { return Vec::new() };
            let Some(dosing) = chemistry.dosing.as_ref().filter(|d| d.closed > 0.0) else {
                return Vec::new();
            };
            let look = |[reads, millimoles]: &[f64; 2]| {
                let each = bins.iter().map(|(i, _)| millimoles * dosing.bins[*i][1] / dosing.open);
                (*reads, each.collect())
            };
            chemistry.lookup.iter().map(look).collect()
        }
        Basis::LastTime => Vec::new(),
    }
}

/// The day's amount for other readings than the forecast.
pub(in super::super) fn lookup_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dose) = of(grow, mix) else { return Vec::new() };
    let looks = looks(grow, mix, dose);
    // The forecast alone is the table of today.
    if looks.len() < 2 {
        return Vec::new();
    }
    let bins = unlike(grow, mix);
    let name = &grow.plan.adjusters[dose.adjuster].name;
    let caption = format!(
        "{name}, the first day, by what the bin reads before anything is added: this much brings it to {}.",
        ph(grow.results.acidity[mix].target)
    );
    // Readings down the page, at most six bins across; more bins, more tables.
    let places: Vec<usize> = (0..bins.len()).collect();
    let table = |places: &[usize]| {
        let mut columns = vec![Column::numbers("It reads (pH)", 3)];
        columns.extend(places.iter().map(|i| Column::numbers(&bins[*i].1, 3)));
        let rows = looks.iter().map(|(reads, amounts)| {
            let mut row: Vec<Line> = vec![plain(ph(*reads))];
            row.extend(places.iter().map(|i| plain(amount(grow, dose.adjuster, amounts[*i]))));
            row
        });
        Block::Table(Table::printed(&caption, columns, rows.collect()))
    };
    let mut blocks: Vec<Block> = places.chunks(6).map(table).collect();
    let rest = if dose.up { "the rest waits for the next day" } else { "the rest in steps" };
    blocks.push(paragraph(format!(
        "Half of it is the first part, {rest}, and stop in range. Between two rows take the smaller \
         amount. Further out than the last row: it is not what was forecast; use the table of the \
         first day, not more, and make a new jar trial if that is not enough."
    )));
    blocks
}

/// How a bottle behaves in the days after, where that is known.
pub(in super::super) fn drift_note(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dose) = of(grow, mix) else { return Vec::new() };
    let adjuster = &grow.plan.adjusters[dose.adjuster];
    let substance = adjuster.substance.as_ref().and_then(|k| grow.library.substances.get(k));
    let told = substance.map(|s| paragraph(format!("{}: {}.", adjuster.name, s.drift)));
    told.into_iter().collect()
}
