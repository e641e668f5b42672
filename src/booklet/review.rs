//! The sheet that a log gives back: the forecast corrected by what was read.

use minijinja::value::Value;

use super::block::{Block, Column, Line, Table, Voice};
use super::compose::bound;
use super::folio::{Booklet, Page};
use super::language::Language;
use super::page::fan;
use super::values::group;
use super::words::{Blocks, Words};
use super::{Grow, page};
use crate::compute::review::{BinReview, Reading};
use crate::compute::season::Event;
use crate::finding::Finding;
use crate::number::figures::{self, System};
use crate::number::unit::LITRES_PER_US_GALLON;

/// Composes the sheet, one page a bin.
///
/// # Errors
/// A fault in the page template, with its place.
pub fn review(
    grow: &Grow<'_>,
    bins: &[BinReview],
    findings: &[Finding],
) -> Result<Booklet, String> {
    let words = Words::new(std::collections::BTreeMap::new(), Language::of(grow.plan))?;
    let page = |bin: &BinReview| -> Result<Page, String> {
        let blocks = Blocks::from([
            ("log_findings", said(grow, bin, findings)),
            ("fan", fan::rest(grow, bin)),
            ("ahead_table", ahead_table(grow, bin)),
            ("readings_table", readings_table(grow, bin)),
            ("paste", paste(grow, bin)),
        ]);
        let last = bins.last().is_some_and(|l| l.bin == bin.bin);
        let values = [("bin", values(grow, bin)), ("last", last.into())];
        words.page("review", &Value::from_pairs(values), &blocks)
    };
    let pages: Vec<Page> = bins.iter().map(page).collect::<Result<_, _>>()?;
    Ok(words.finish(bound(grow, pages), ": rest of the season"))
}

/// What was said of this bin's log, so that it stands on the paper too.
fn said(grow: &Grow<'_>, bin: &BinReview, findings: &[Finding]) -> Vec<Block> {
    let name = format!("\"{}\"", grow.plan.bins[bin.bin].name);
    let own = findings.iter().filter(|f| f.message.contains(&name));
    let items: Vec<Vec<Block>> = own
        .map(|f| vec![page::paragraph(format!("{}. What to do: {}.", f.message, f.help))])
        .collect();
    if items.is_empty() {
        return Vec::new();
    }
    let blocks = vec![Block::List { ordered: false, items }];
    vec![Block::Alert { voice: Voice::Caution, blocks }]
}

fn length(system: System, mm: f64) -> String {
    figures::length(mm, system)
}

fn values(grow: &Grow<'_>, bin: &BinReview) -> Value {
    let (plan, r) = (grow.plan, &grow.results.bins[bin.bin]);
    let own = &plan.bins[bin.bin];
    let last = bin.readings.last();
    let readings = match bin.readings.len() {
        1 => "1 reading".to_string(),
        n => format!("{n} readings"),
    };
    let ended = last.is_some_and(|l| l.day >= r.dates.harvest[0]) && bin.stretches >= 3;
    group([
        ("name", own.name.as_str().into()),
        ("crops", page::glance::crops(own).into()),
        ("readings", readings.into()),
        ("last_day", last.map_or(String::new(), |l| page::day(l.day)).into()),
        ("last_level", last.map_or(String::new(), |l| length(plan.system, l.level)).into()),
        ("thirst", thirst(bin).into()),
        ("dry", dry(grow, bin).into()),
        ("used", used(grow, bin).into()),
        ("paste", (ended && own.plants.len() == 1).into()),
    ])
}

/// How thirsty the plants are, in words.
fn thirst(bin: &BinReview) -> String {
    let percent = |f: f64| figures::decimals(100.0 * f, 0);
    let f = bin.factor;
    let trust = match bin.stretches {
        0 => "No stretch between two readings tells of it yet, so the plan's own band stands.",
        1 | 2 => "With so few readings the plan still weighs most; go on reading.",
        _ => "Three and more stretches: this is more to be trusted than the plan.",
    };
    format!(
        "The plants drink {} % of what was planned ({} to {} %). {trust}",
        percent(f.expected),
        percent(f.low),
        percent(f.high)
    )
}

fn dry(grow: &Grow<'_>, bin: &BinReview) -> String {
    let day = page::day;
    let last = grow.results.bins[bin.bin].dates.end;
    let end = day(last);
    if bin.readings.last().is_some_and(|r| r.day >= last) {
        return "The season is over.".into();
    }
    let fill = &grow.results.bins[bin.bin].fill;
    let short = bin.checks.iter().find(|check| check.level.expected < fill.reserve - 1.0);
    let short = short.map_or(String::new(), |check| {
        format!(
            " Even with what is planned below it is under the reserve on {}: top up a little every \
             day before, or cut by then.",
            day(check.day)
        )
    });
    let dry = match bin.dry {
        [early, Some(expected), late] => format!(
            "With nothing added it is at the reserve about {}{}{}; the last harvest is on {end}.",
            day(expected),
            early.map_or(String::new(), |d| format!(", at the earliest {}", day(d))),
            late.map_or(", or not at all".into(), |d| format!(", at the latest {}", day(d))),
        ),
        [Some(early), None, _] => format!(
            "It should last to the harvest on {end}; with thirsty plants it is at the reserve by {}.",
            day(early)
        ),
        [None, None, _] => format!("It lasts to the harvest on {end}, even with thirsty plants."),
    };
    format!("{dry}{short}")
}

/// What was used so far, and a plant's and a kilogram's part of it.
fn used(grow: &Grow<'_>, bin: &BinReview) -> String {
    let system = grow.plan.system;
    let plants = f64::from(grow.plan.bins[bin.bin].pots());
    let volume = |v| figures::volume(v, system);
    let whole = format!(
        "Used in the stretches that can be told: {}, {} a plant.",
        volume(bin.used),
        volume(bin.used / plants.max(1.0))
    );
    if bin.harvest <= 0.0 {
        return whole;
    }
    // Before the end what is harvested did not take all the water that was used.
    let end = grow.results.bins[bin.bin].dates.harvest[1];
    if bin.readings.last().is_none_or(|last| last.day < end) {
        return format!("{whole} Harvested so far: {}.", figures::mass(bin.harvest));
    }
    let per = figures::decimals(bin.used / (bin.harvest / 1000.0), 1);
    let harvest = figures::mass(bin.harvest);
    format!("{whole} Harvested: {harvest}, {per} L of water for a kilogram.")
}

/// The next checks, and what is planned on them.
fn ahead_table(grow: &Grow<'_>, bin: &BinReview) -> Vec<Block> {
    let system = grow.plan.system;
    let rows = bin.checks.iter().map(|check| {
        let planned = match &check.event {
            Some(Event::TopUp(pour)) => format!(
                "top up to {}, about {}{}",
                length(system, pour.to),
                figures::volume(pour.litres, system),
                if pour.pours > 1 { format!(", in {} days", pour.pours) } else { String::new() }
            ),
            Some(Event::ChangeOut(pour)) => format!(
                "change the solution, to {}, {}",
                length(system, pour.to),
                figures::volume(pour.litres, system)
            ),
            None => String::new(),
        };
        let band = check.level;
        page::cells([
            page::short_day(check.day),
            length(system, band.expected),
            format!("{} to {}", short(system, band.low), short(system, band.high)),
            planned,
            String::new(),
        ])
    });
    let rows: Vec<_> = rows.collect();
    if rows.is_empty() {
        return vec![page::paragraph("The season is over: no check is left.")];
    }
    let mut columns = page::words([("Day", 4)]);
    columns.push(Column::numbers("Expected", 5));
    columns.extend(page::words([("From, to", 5), ("Planned", 9), ("Level read", 4)]));
    let caption = "What comes next. The ceiling holds as ever: never above it, a small rise a day.";
    page::one(Table::to_fill(caption, columns, rows))
}

fn short(system: System, mm: f64) -> String {
    match system {
        System::Us => figures::mixed(mm / 25.4, 8),
        System::Metric => figures::decimals(mm, 0),
    }
}

fn reading_row(system: System, r: &Reading) -> Vec<Line> {
    // One unit for the column, so that its rows stay on one line.
    let size = if system == System::Us { LITRES_PER_US_GALLON } else { 1.0 };
    let volume = |v: f64| figures::decimals(v / size, 2);
    let off = r.level - r.expected;
    let size = short(system, off.abs());
    let sign = match off {
        _ if size == "0" => "",
        o if o > 0.0 => "+",
        _ => "−",
    };
    let number = |v: Option<f64>, places| v.map_or(String::new(), |v| figures::decimals(v, places));
    page::cells([
        page::short_day(r.day),
        short(system, r.level),
        short(system, r.expected),
        format!("{sign}{size}"),
        r.used.map_or("–".into(), volume),
        volume(r.planned),
        number(r.ph, 1),
        number(r.conductivity, 2),
        if r.added > 0.0 { volume(r.added) } else { String::new() },
    ])
}

fn readings_table(grow: &Grow<'_>, bin: &BinReview) -> Vec<Block> {
    let system = grow.plan.system;
    let rows = bin.readings.iter().map(|r| reading_row(system, r));
    let (unit, litres) = if system == System::Us { ("in", "gal") } else { ("mm", "L") };
    let mut columns = page::words([("Day", 4)]);
    for head in [
        format!("Read, {unit}"),
        format!("Planned, {unit}"),
        "Off by".into(),
        format!("Used since, {litres}"),
        format!("As planned, {litres}"),
        "pH".into(),
        "EC".into(),
        format!("Added, {litres}"),
    ] {
        columns.push(Column::numbers(&head, 3));
    }
    let caption =
        "Planned: with what was really added. A dash: nothing can be said of that stretch.";
    page::one(Table::printed(caption, columns, rows.collect()))
}

/// One line for the next plan.
fn paste(grow: &Grow<'_>, bin: &BinReview) -> Vec<Block> {
    let Some(planting) = grow.plan.bins[bin.bin].plants.first() else { return Vec::new() };
    let Some(thirst) = grow.results.bins[bin.bin].thirst.first() else { return Vec::new() };
    let litres = |f: f64| format!("\"{} L\"", figures::plain(f * thirst.litres.expected, 3));
    let f = bin.factor;
    let text = format!(
        "[[crop]]\nname = \"{0}, as we grew it\"\nlike = \"{0}\"\nwater = [{1}, {2}, {3}]\n",
        planting.crop.name,
        litres(f.low),
        litres(f.expected),
        litres(f.high)
    );
    vec![Block::Verbatim { text }]
}
