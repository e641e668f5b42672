//! What the water report and the feed say of a solution's pH and conductivity.

use super::super::Grow;
use super::super::block::{Block, Column, Line, Table, plain};
use super::acidity::not_full;
use super::pails::measure;
use super::{by_bin, cells, one, paragraph, words};
use crate::compute::chemistry::{Chemistry, Dosing, Reading};
use crate::number::figures;

pub(super) fn of<'a>(grow: &Grow<'a>, mix: usize) -> Option<&'a Chemistry> {
    grow.results.chemistry[mix].as_ref()
}

pub(super) fn ph(value: f64) -> String {
    // The last bits of a search must not decide how a half is rounded.
    figures::decimals((value * 1e6).round() / 1e6, 1)
}

/// An amount of an adjuster: a syringe, or a scale.
fn dose(grow: &Grow<'_>, dosing: &Dosing, amount: f64) -> String {
    if amount < 0.005 {
        return "nothing".into();
    }
    if grow.plan.adjusters[dosing.adjuster].dry {
        format!("{} g", figures::sized(amount))
    } else {
        figures::dropper(amount)
    }
}

/// One stage of the reading table.
fn stage(what: &str, reads: String, r: &Reading) -> Vec<Line> {
    // Meters that show a scale step by tens.
    let scale = |by: f64| figures::decimals(10.0 * (by / 10.0 * r.conductivity).round(), 0);
    cells([
        what.into(),
        reads,
        figures::decimals(r.conductivity, 2),
        scale(500.0),
        scale(700.0),
        String::new(),
    ])
}

fn with_band(value: f64, [low, high]: [f64; 2]) -> String {
    let (low, high) = (ph(low.min(high)), ph(low.max(high)));
    if low == high { ph(value) } else { format!("{} ({low} to {high})", ph(value)) }
}

/// What a meter is expected to read, at every stage.
pub(in super::super) fn reading_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = of(grow, mix) else { return Vec::new() };
    let closed = with_band(chemistry.closed.ph, chemistry.closed_band);
    let mut rows = vec![stage("Just mixed", closed, &chemistry.closed)];
    if let Some(dosing) = &chemistry.dosing {
        if dosing.closed > 0.0 {
            rows.push(stage("After the dose of the first day", ph(dosing.after.ph), &dosing.after));
        }
        let next = with_band(dosing.next_day.ph, dosing.next_day_band);
        rows.push(stage("The next day, in air", next, &dosing.next_day));
        if dosing.open > dosing.closed {
            rows.push(stage(
                "After all of the dose, in air",
                ph(dosing.at_last.ph),
                &dosing.at_last,
            ));
        }
    } else {
        let open = with_band(chemistry.open.ph, chemistry.open_band);
        rows.push(stage("A day later, in air", open, &chemistry.open));
    }
    let mut columns = words([("When", 8)]);
    columns.push(Column::numbers("pH", 4));
    columns.push(Column::numbers("EC, mS/cm", 3));
    columns.push(Column::numbers("on a 500 scale", 3));
    columns.push(Column::numbers("on a 700 scale", 3));
    columns.push(Column::words("You read", 4));
    let doubt = if chemistry.phosphate_open {
        " and a tenth of the feed's phosphate is bound otherwise"
    } else {
        ""
    };
    let caption = format!(
        "Expected from the water report and the feed; EC at 25 °C, within {} %. In brackets: if \
         the alkalinity is 10 mg/L off{doubt}. Trust your meter.",
        figures::decimals(100.0 * chemistry.doubt, 0)
    );
    one(Table { row_height: 7.5, ..Table::printed(&caption, columns, rows) })
}

/// Doses from the water report, bin by bin.
pub(in super::super) fn report_dose_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(dosing) = of(grow, mix).and_then(|c| c.dosing.as_ref()) else {
        return vec![paragraph(nothing_to_dose(grow, mix))];
    };
    if of(grow, mix).is_some_and(|c| c.jar_differs) {
        return vec![paragraph(
            "The jar trial began far from what the water report says, so one of the two is wrong: no \
             dose is printed from the report. Measure the alkalinity again, check label and meter, \
             and make a new jar trial.",
        )];
    }
    let rows = dose_rows(grow, mix, dosing);
    let mut columns = words([("Bin", 4)]);
    for head in ["First part, today", "Rest of today", "Next day, up to", "Not more in all"] {
        columns.push(Column::numbers(head, 4));
    }
    let name = &grow.plan.adjusters[dosing.adjuster].name;
    let caption = format!("{name}, from the water report.{}", spread(dosing));
    let mut blocks = one(Table::printed(&caption, columns, rows));
    if !dosing.adds.is_empty() {
        blocks.push(paragraph(format!("In all it brings {}.", added(dosing))));
    }
    blocks
}

/// Today's dose in two parts, the next day's, and all of it, for each bin and for any amount.
fn dose_rows(grow: &Grow<'_>, mix: usize, dosing: &Dosing) -> Vec<Vec<Line>> {
    let first = grow.library.limits.dose_stage_share.value;
    let row = |now: f64, all: f64| {
        let doses = [first * now, (1.0 - first) * now, all - now, all];
        cells(doses.map(|d| dose(grow, dosing, d)))
    };
    let bins = &grow.results.mixing[mix].bins;
    let each = bins.iter().zip(&dosing.bins).map(|(bin, [now, all])| (*bin, row(*now, *all)));
    let mut rows = by_bin(grow, each);
    if let (Some(bin), Some([now, all])) = (bins.first(), dosing.bins.first()) {
        let (litres, name) = measure(grow, mix);
        let part = litres / grow.results.bins[*bin].fill.start_volume;
        let mut any = row(part * now, part * all);
        any.insert(0, plain(not_full(name)));
        rows.push(any);
    }
    rows
}

/// How far off today's dose may be.
fn spread(dosing: &Dosing) -> String {
    let [low, high] = dosing.band;
    if dosing.closed > 0.0 {
        let part = |d: f64| figures::decimals(100.0 * d / dosing.closed, 0);
        format!(
            " The forecast may be off as said above: the dose that is right may lie from {} to {} % of this, so stop where your reading says.",
            part(low),
            part(high)
        )
    } else {
        String::new()
    }
}

/// What a dose brings of each element.
pub(super) fn added(dosing: &Dosing) -> String {
    let of = |(e, mg): &(String, f64)| format!("{} mg/L of {e}", figures::plain(*mg, 2));
    dosing.adds.iter().map(of).collect::<Vec<_>>().join(", ")
}

fn nothing_to_dose(grow: &Grow<'_>, mix: usize) -> String {
    let [low, high] = grow.results.acidity[mix].range;
    let Some(chemistry) = of(grow, mix) else { return String::new() };
    let reads = ph(chemistry.open.ph);
    if (low..=high).contains(&chemistry.open.ph) {
        format!(
            "In air it will stand at about pH {reads}, in range: let it stand a day and read again before you dose anything."
        )
    } else {
        format!(
            "In air it will stand at about pH {reads}, out of range, and the plan has no adjuster of known strength for that."
        )
    }
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
        let own = 10.0 * millimoles * per_millimole;
        let jar = jar.and_then(|t| Some(10.0 * t.per_litre(*reads, aim)?));
        let off = jar.map_or("not tried".into(), |j| {
            format!("{} %", figures::decimals(100.0 * (j / own - 1.0), 0))
        });
        let mut row = cells([ph(*reads), dose(grow, dosing, own)]);
        if has_jar {
            row.push(plain(jar.map_or("not tried".into(), |j| dose(grow, dosing, j))));
            row.push(plain(off));
        }
        row
    });
    let target = ph(aim);
    let name = &grow.plan.adjusters[dosing.adjuster].name;
    one(lookup(&format!("{name}: what brings a reading to {target}"), has_jar, rows.collect()))
}

/// The look-up table, with or without the jar.
fn lookup(what: &str, has_jar: bool, rows: Vec<Vec<Line>>) -> Table {
    let mut columns = vec![
        Column::numbers("It reads (pH)", 2),
        Column::numbers("Water report: to 10 L (2.64 gal)", 4),
    ];
    let mut caption = format!("{what}, by the water report.");
    if has_jar {
        columns.push(Column::numbers("Jar trial: to 10 L", 4));
        columns.push(Column::numbers("Jar differs by", 3));
        caption = format!(
            "{what}, by the water report and by the jar. Where they differ much, believe the jar, \
             and measure the alkalinity again."
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
    items.push(format!(
        "A meter that does not correct for temperature shows about {} mS/cm of the fresh mix, at \
         {} °C.",
        figures::decimals(chemistry.uncorrected, 2),
        figures::plain(grow.plan.water.temperature, 3)
    ));
    if let Some(dosing) = &chemistry.dosing {
        let adjuster = &grow.plan.adjusters[dosing.adjuster];
        let key = adjuster.substance.as_deref();
        if let Some(substance) = key.and_then(|k| grow.library.substances.get(k)) {
            items.push(format!("{} ({}): {}.", adjuster.name, substance.name, substance.drift));
        }
    }
    if chemistry.assumed_ph {
        items.push(
            "The pH of the water is not in the plan; it is taken as after a day in air.".into(),
        );
    }
    if !chemistry.left_out.is_empty() {
        items.push(format!(
            "Not in the water report and taken as nought: {}. Sodium or chloride makes up the \
             charge; neither moves pH.",
            chemistry.left_out.join(", ")
        ));
    }
    let items = items.into_iter().map(|text| vec![Block::Paragraph { text: plain(text) }]);
    vec![Block::List { ordered: false, items: items.collect() }]
}
