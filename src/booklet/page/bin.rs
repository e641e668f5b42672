//! Lines, dates, top-ups and log of one bin.

use super::super::Grow;
use super::super::block::{Block, Column, Table, plain};
use super::{cells, day, one, paragraph, short_day, window, words};
use crate::compute::season::{Event, Pour};
use crate::number::figures::{self, System};

pub(in super::super) fn lines_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let (fill, system) = (&grow.results.bins[bin].fill, grow.plan.system);
    let [start, ceiling, reserve] = fill.per_litre;
    let row = |name: &str, h: f64, v: Option<f64>, m: Option<f64>| {
        cells([
            name.into(),
            figures::length(h, system),
            figures::length(fill.depth - h, system),
            v.map_or(String::new(), |v| figures::volume(v, system)),
            m.map_or(String::new(), |m| per_volume(m, system)),
        ])
    };
    let rows = vec![
        row("Start line: fill to here", fill.start, Some(fill.start_volume), Some(start)),
        row("Pots' floor", fill.pot_bottom, None, None),
        row("Ceiling: no top-up above", fill.ceiling, Some(fill.ceiling_volume), Some(ceiling)),
        row("Reserve: do not fall below", fill.reserve, Some(fill.reserve_volume), Some(reserve)),
    ];
    let mut columns = words([("Line", 6)]);
    for head in ["Above the floor", "Below the rim", "Holds", "Level falls"] {
        columns.push(Column::numbers(head, 5));
    }
    one(Table::printed("", columns, rows))
}

/// How far the level falls for a litre or a gallon.
pub(in super::super) fn per_volume(mm_per_litre: f64, system: System) -> String {
    match system {
        System::Metric => format!("{} mm per L", figures::plain(mm_per_litre, 3)),
        System::Us => {
            let per_gallon = mm_per_litre * crate::number::unit::LITRES_PER_US_GALLON;
            format!("{} mm per gal", figures::plain(per_gallon, 3))
        }
    }
}

pub(in super::super) fn dates_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let dates = &grow.results.bins[bin].dates;
    let last = if dates.end == dates.harvest[1] { "Last harvest" } else { "Last picking" };
    let rows = vec![
        cells(["Sown".into(), day(dates.sown)]),
        cells(["Roots may show".into(), window(dates.roots)]),
        cells(["Set out about, when roots show".into(), day(dates.set_out)]),
        cells(["First harvest".into(), window(dates.harvest)]),
        cells([last.into(), day(dates.end)]),
    ];
    one(Table::printed("", words([("What", 1), ("When (a window, not a promise)", 2)]), rows))
}

pub(in super::super) fn topup_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let (r, system) = (&grow.results.bins[bin], grow.plan.system);
    let rows: Vec<_> = r
        .season
        .events()
        .map(|(check, event)| {
            let (what, pour) = match event {
                Event::TopUp(pour) => ("top up", pour),
                Event::ChangeOut(pour) => ("change", pour),
            };
            cells([
                short_day(check.day),
                what.into(),
                figures::length(check.level.expected, system),
                figures::length(pour.to, system),
                figures::volume(pour.litres, system),
                pours(pour),
            ])
        })
        .collect();
    if rows.is_empty() {
        return vec![paragraph("No top-up is planned: the first filling should last.")];
    }
    let mut columns = words([("Day", 3), ("What", 2)]);
    for head in ["From about", "To, not higher", "About"] {
        columns.push(Column::numbers(head, 4));
    }
    columns.push(Column::words("How", 4));
    one(Table::printed("Planned top-ups, as expected; go by the level you read.", columns, rows))
}

fn pours(pour: &Pour) -> String {
    match pour.pours {
        1 => "at once".into(),
        n => format!("in {n} parts, a day apart"),
    }
}

pub(in super::super) fn log_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let (season, system) = (&grow.results.bins[bin].season, grow.plan.system);
    let unit = if system == System::Us { "in" } else { "mm" };
    let level = |mm: f64| match system {
        System::Us => figures::decimals(mm / 25.4, 1),
        System::Metric => figures::decimals(mm, 0),
    };
    let rows = season.checks.iter().map(|check| {
        let band = check.level;
        let (low, high) = (level(band.low), level(band.high));
        let expected = if low == high {
            level(band.expected)
        } else {
            format!("{} ({low} to {high})", level(band.expected))
        };
        let planned = match &check.event {
            Some(Event::TopUp(p)) => format!("to {}", level(p.to)),
            Some(Event::ChangeOut(p)) => format!("change, to {}", level(p.to)),
            None => String::new(),
        };
        let mut row = vec![plain(short_day(check.day)), plain(expected)];
        row.resize(5, Vec::new());
        row.push(plain(planned));
        row.push(Vec::new());
        row
    });
    let mut columns = words([("Day", 4)]);
    columns.push(Column::words(&format!("Expected level, {unit}"), 6));
    columns.push(Column::words(&format!("Level, {unit}"), 3));
    columns.extend(words([("pH", 3), ("EC", 3), ("Added", 4), ("What you see", 7)]));
    one(Table::to_fill("Log. Level above the floor, before anything is added.", columns, rows.collect()))
}
