//! The dose of one solution: bottle, portions for today and for the days after, other readings.

use super::super::Grow;
use super::super::block::{Block, Column, Inline, Line, Table, plain};
use super::chemistry::ph;
use super::expected::span;
use super::pails::measure;
use super::safety::contents;
use super::{cells, paragraph, words};
use crate::compute::Dose;
use crate::compute::dose::{self, Expected, Portions};
use crate::number::figures;
use crate::plan::Adjuster;

pub(super) fn of<'a>(grow: &Grow<'a>, mix: usize) -> Option<&'a Dose> {
    grow.results.doses[mix].as_ref()
}

/// What the solution will read, if something tells.
pub(in super::super) fn expected(grow: &Grow<'_>, mix: usize) -> Option<Expected> {
    let r = grow.results;
    let (jar, chemistry) = (r.jars[mix].as_ref(), r.chemistry[mix].as_ref());
    dose::expected(&r.acidity[mix], jar, chemistry, of(grow, mix), &grow.library.limits)
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

/// A limit in grams, as a scale shows it, and never more than it is.
fn weighed(grams: f64) -> String {
    let unit = match grams {
        v if v >= 99.95 => 1.0,
        v if v >= 9.995 => 0.1,
        _ => 0.01,
    };
    // What was worked out to be a round number is not to fall below it by its last bit.
    format!("{} g", figures::sized((grams / unit + 1e-9).floor() * unit))
}

/// A limit: never more than it is.
pub(super) fn most(grow: &Grow<'_>, adjuster: usize, limit: f64) -> String {
    if grow.plan.adjusters[adjuster].dry { weighed(limit) } else { figures::at_most(limit) }
}

/// Steps are for a syringe: a round number, not more than what was worked.
fn step(grow: &Grow<'_>, adjuster: usize, worked: f64) -> String {
    let unit = if grow.plan.adjusters[adjuster].dry { "g" } else { "mL" };
    format!("{} {unit}", figures::plain(figures::round_step(worked), 2))
}

/// What is in the bottles that move pH, for what they hold decides how much of them.
pub(in super::super) fn bottle_note(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let told = |a: &Adjuster| {
        let moves = if a.up { "raises" } else { "lowers" };
        format!("{} ({}) {moves} pH.", a.name, contents(grow, a))
    };
    let mut notes: Vec<String> = grow.plan.adjusters.iter().map(told).collect();
    if let Some(dose) = of(grow, mix) {
        let a = &grow.plan.adjusters[dose.adjuster];
        let known = a.substance.is_some() && (a.dry || a.strength.is_some());
        notes.push(if known {
            "Does the label on yours say otherwise, or no strength? Then add none of it by this page: \
             make a jar trial with that bottle, and go by what it gives."
                .into()
        } else {
            "The plan does not say how strong it is: the amounts below hold only for the bottle that was \
             tried. For another, make a jar trial first."
                .into()
        });
    }
    // Each sentence by itself, so that another language has it by itself.
    let words = notes.into_iter().map(|text| Inline::Text { text });
    let space = || Inline::Text { text: " ".into() };
    let mut line: Line = words.flat_map(|text| [text, space()]).collect();
    line.pop();
    if line.is_empty() { Vec::new() } else { vec![Block::Paragraph { text: line }] }
}

/// A bin that is not full takes a dose for what is in it.
pub(super) fn not_full(measure: &str) -> String {
    format!("Not full: for every {measure} in it")
}

/// First part and what the first day may take, as they add up in print.
fn printed(grow: &Grow<'_>, adjuster: usize, p: &Portions) -> [String; 2] {
    if grow.plan.adjusters[adjuster].dry {
        return [weighed(p.first), weighed(p.today)];
    }
    // What may not be passed is not rounded up.
    [figures::at_most(p.first), figures::at_most(p.today)]
}

/// One bin of the table of portions.
fn row(grow: &Grow<'_>, dose: &Dose, name: String, p: &Portions) -> Vec<Line> {
    let [first, today] = printed(grow, dose.adjuster, p);
    let mut row = cells([name, first]);
    if !dose.up {
        row.push(plain(today));
    }
    row.extend(cells([
        step(grow, dose.adjuster, p.step),
        most(grow, dose.adjuster, p.all),
        String::new(),
        String::new(),
    ]));
    row
}

/// What each bin takes, and a round measure of one that is not full, with room for what was added
/// and read.
pub(in super::super) fn portions_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dose) = of(grow, mix) else { return vec![paragraph(nothing_to_dose(grow, mix))] };
    let bins = &grow.results.mixing[mix].bins;
    let each = bins.iter().zip(&dose.bins);
    let mut rows: Vec<Vec<Line>> =
        each.map(|(bin, p)| row(grow, dose, grow.plan.bins[*bin].name.clone(), p)).collect();
    if let (Some(bin), Some(p)) = (bins.first(), dose.bins.first()) {
        let (size, name) = measure(grow, mix);
        let part = size / grow.results.bins[*bin].fill.start_volume;
        rows.push(row(grow, dose, not_full(name), &p.times(part)));
    }
    let mut columns = words([("Bin", 5)]);
    let heads = ["First part", "Not more on the first day", "Each step", "Not more in all days"];
    for head in heads.into_iter().enumerate().filter(|(i, _)| !(dose.up && *i == 1)) {
        columns.push(Column::numbers(head.1, 3));
    }
    columns.push(Column::words("First day: added, pH read", 5));
    columns.push(Column::words("Days after: added, pH read", 5));
    let name = &grow.plan.adjusters[dose.adjuster].name;
    let table =
        Table::to_fill(&format!("{name}, for bins filled to the start line."), columns, rows);
    let mut blocks = vec![Block::Table(Table { row_height: 8.5, ..table })];
    blocks.extend(forecast(grow, mix).map(paragraph));
    blocks
}

/// What the fresh mix should read, and what that means.
fn forecast(grow: &Grow<'_>, mix: usize) -> Option<String> {
    let acidity = &grow.results.acidity[mix];
    let expected = expected(grow, mix)?;
    let up = of(grow, mix)?.up;
    let reads = span(expected.mixed);
    let [one, other] = expected.mixed;
    if !acidity.outside(one) && !acidity.outside(other) && up {
        return Some(format!(
            "Just mixed, it should read {reads}. That is in range, so most likely nothing is needed."
        ));
    }
    if !acidity.outside(one) && !acidity.outside(other) {
        return Some(format!(
            "Just mixed, it should read {reads}. That is in range, so most likely nothing is needed on \
             the first day; as it climbs, the days after may need some. If it reads too high all the \
             same, take it below as \"as high as forecast\"."
        ));
    }
    // The end that is nearer to the range already counts.
    let (near, further) = if up { (one.max(other), "lower") } else { (one.min(other), "higher") };
    Some(format!(
        "Just mixed, it should read {reads}. In the steps below, \"as forecast\" means {} or {further}.",
        ph(near)
    ))
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

/// What brings a reading to the aim at once, by the jar, for plans whose water is not known.
pub(in super::super) fn lookup_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let acidity = &grow.results.acidity[mix];
    let Some(trial) = acidity.trials.iter().find(|t| t.lookup.len() > 1) else { return Vec::new() };
    let bins = unlike(grow, mix);
    let name = &grow.plan.adjusters[trial.adjuster].name;
    let aim = ph(acidity.target);
    let caption = format!(
        "{name}: what brings a full bin from a reading to {aim} in the end, by the jar. To look up, not \
         to pour: what goes in on which day is under \"How much\"."
    );
    // Readings down the page, at most six bins across; more bins, more tables.
    let table = |bins: &[(usize, String)]| {
        let mut columns = vec![Column::numbers("It reads (pH)", 3)];
        columns.extend(bins.iter().map(|(_, name)| Column::numbers(name, 3)));
        let rows = trial.lookup.iter().map(|look| {
            let mut row: Vec<Line> = vec![plain(ph(look.reads))];
            row.extend(bins.iter().map(|(i, _)| plain(figures::dropper(look.doses[*i]))));
            row
        });
        Block::Table(Table::printed(&caption, columns, rows.collect()))
    };
    bins.chunks(6).map(table).collect()
}

/// How a bottle behaves in the days after, where that is known.
pub(in super::super) fn drift_note(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dose) = of(grow, mix) else { return Vec::new() };
    let adjuster = &grow.plan.adjusters[dose.adjuster];
    let substance = adjuster.substance.as_ref().and_then(|k| grow.library.substances.get(k));
    let Some(substance) = substance else { return Vec::new() };
    let mut told = vec![paragraph(format!("{}: {}.", adjuster.name, substance.drift))];
    if substance.adds.is_empty() && !dose.up {
        told.push(paragraph(
            "So read every second day too, between the check days of the log. The climb of the first \
             two days is carbon dioxide, and normal. Has it climbed back twice after that? Then take \
             another acid: a jar trial with the new bottle first, in a sample from that bin.",
        ));
    }
    told
}

#[cfg(test)]
mod tests {
    use super::weighed;

    #[test]
    fn a_weight_is_not_rounded_up() {
        assert_eq!([weighed(5.678), weighed(12.39), weighed(0.3)], ["5.67 g", "12.3 g", "0.30 g"]);
    }
}
