//! What the water report and the feed say of a solution's pH and conductivity.

use super::super::Grow;
use super::super::block::{Block, Column, Line, Table, plain};
use super::acidity::amount;
use super::{by_bin, cells, one, paragraph, words};
use crate::compute::chemistry::{Chemistry, Dosing};
use crate::number::figures;

pub(super) fn of<'a>(grow: &Grow<'a>, mix: usize) -> Option<&'a Chemistry> {
    grow.results.chemistry[mix].as_ref()
}

pub(super) fn ph(value: f64) -> String {
    // The last bits of a search must not decide how a half is rounded.
    figures::decimals((value * 1e6).round() / 1e6, 1)
}

/// Doses from the water report, bin by bin.
pub(in super::super) fn report_dose_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dosing) = of(grow, mix).and_then(|c| c.dosing.as_ref()) else {
        return Vec::new();
    };
    if of(grow, mix).is_some_and(|c| c.jar_differs) {
        return vec![paragraph(
            "The jar trial began far from what the water report says, so one of the two is wrong: no \
             dose is printed from the report. Measure the alkalinity again, check label and meter, \
             and make a new jar trial.",
        )];
    }
    let bins = &grow.results.mixing[mix].bins;
    let each = bins
        .iter()
        .zip(&dosing.bins)
        .map(|(bin, doses)| (*bin, cells(doses.map(|d| amount(grow, dosing.adjuster, d)))));
    let mut columns = words([("Bin", 4)]);
    for head in ["At once", "In all, in air"] {
        columns.push(Column::numbers(head, 4));
    }
    let name = &grow.plan.adjusters[dosing.adjuster].name;
    let caption = format!(
        "{name}, from the water report: {} mmol/L at once, {} mmol/L in all, when the solution stands \
         in air. To compare: pour by the pH page and its limits.",
        figures::plain(dosing.closed, 3),
        figures::plain(dosing.open, 3)
    );
    let mut blocks = one(Table::printed(&caption, columns, by_bin(grow, each)));
    if !dosing.adds.is_empty() {
        blocks.push(paragraph(format!("The dose of the pH page brings in all {}.", added(dosing))));
    }
    blocks
}

/// How far off the dose by the water report may be, for the grower.
pub(in super::super) fn report_note(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dosing) = of(grow, mix).and_then(|c| c.dosing.as_ref()) else { return Vec::new() };
    if dosing.closed <= 0.0 {
        return Vec::new();
    }
    let part = |d: f64| figures::decimals(100.0 * d / dosing.closed, 0);
    let [low, high] = dosing.band;
    vec![paragraph(format!(
        "Report and label are never exact: what is right for the first day may lie from {} to {} % of \
         \"Not more on the first day\", and likewise of \"Not more in all days\". So stop where your reading says; the limits still hold.",
        part(low),
        part(high)
    ))]
}

/// What a dose brings of each element.
pub(super) fn added(dosing: &Dosing) -> String {
    let of = |(e, mg): &(String, f64)| format!("{} mg/L of {e}", figures::plain(*mg, 3));
    dosing.adds.iter().map(of).collect::<Vec<_>>().join(", ")
}

/// Look-up from the chemistry, beside the jar trial where there is one.
pub(in super::super) fn report_lookup_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = of(grow, mix) else { return Vec::new() };
    let Some(dosing) = chemistry.dosing.as_ref().filter(|_| !chemistry.lookup.is_empty()) else {
        return Vec::new();
    };
    // Per litre of the first bin: every bin takes the same per litre.
    let bins = &grow.results.mixing[mix].bins;
    let Some((first, [_, all])) = bins.first().zip(dosing.bins.first()) else { return Vec::new() };
    let volume = grow.results.bins[*first].fill.start_volume;
    let per_millimole = all / volume / dosing.open;
    let jar = grow.results.acidity[mix].trials.iter().find(|t| t.adjuster == dosing.adjuster);
    let has_jar = jar.is_some();
    let aim = grow.results.acidity[mix].target;
    let rows = chemistry.lookup.iter().map(|[reads, millimoles]| {
        let own = amount(grow, dosing.adjuster, 10.0 * millimoles * per_millimole);
        let jar = jar.and_then(|t| Some(10.0 * t.per_litre(*reads, aim)?));
        let jar = jar.map(|j| amount(grow, dosing.adjuster, j));
        // From what is printed, so that it can be done again.
        let off = jar.as_ref().and_then(|j| Some(apart(number(j)? / number(&own)? - 1.0)));
        let not_tried = || "not tried".to_string();
        let mut row = cells([ph(*reads), own]);
        if has_jar {
            row.push(plain(jar.unwrap_or_else(not_tried)));
            row.push(plain(off.unwrap_or_else(not_tried)));
        }
        row
    });
    let target = ph(aim);
    let name = &grow.plan.adjusters[dosing.adjuster].name;
    one(lookup(&format!("{name}: what brings a reading to {target}"), has_jar, rows.collect()))
}

/// The number of a printed amount.
fn number(amount: &str) -> Option<f64> {
    amount.split(' ').next()?.parse().ok()
}

/// How far one number is from another, in words: nobody has to think what a sign means.
fn apart(part: f64) -> String {
    let percent = figures::decimals(100.0 * part.abs(), 0);
    match percent.as_str() {
        "0" => "the same".into(),
        _ if part < 0.0 => format!("{percent} % less"),
        _ => format!("{percent} % more"),
    }
}

/// The look-up table, with or without the jar.
fn lookup(what: &str, has_jar: bool, rows: Vec<Vec<Line>>) -> Table {
    let mut columns = vec![
        Column::numbers("It reads (pH)", 2),
        Column::numbers("Water report: to 10 L (2.64 gal)", 4),
    ];
    let mut caption = format!("{what} at once, by the water report.");
    if has_jar {
        columns.push(Column::numbers("Jar trial: to 10 L", 4));
        columns.push(Column::numbers("The jar takes", 3));
        caption = format!(
            "{what} at once, by the water report and by the jar. The jar counts; where they are far \
             apart, measure the alkalinity of the water again."
        );
    }
    Table::printed(&caption, columns, rows)
}

/// What was taken for granted.
pub(in super::super) fn assumptions(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = of(grow, mix) else { return Vec::new() };
    let mut items = Vec::new();
    if chemistry.phosphate_open {
        items.push(
            "The label does not say how its phosphorus is bound; it is counted as dihydrogen \
             phosphate. A feed with much citric or free phosphoric acid reads lower."
                .to_string(),
        );
    }
    if chemistry.assumed_ph {
        items.push(
            "The pH of the water is not in the plan; it is taken as after a day in air.".into(),
        );
    }
    if !chemistry.left_out.is_empty() {
        items.push(format!(
            "Not in the water report and taken as nought: {}.",
            chemistry.left_out.join(", ")
        ));
    }
    items.push(
        "Air: carbon dioxide at 0.00042 atm, and the solution in balance with it, which takes a day or \
         two under a lid. A room full of people has two or three times as much, and the pH climbs less."
            .into(),
    );
    let items = items.into_iter().map(|text| vec![Block::Paragraph { text: plain(text) }]);
    vec![Block::List { ordered: false, items: items.collect() }]
}
