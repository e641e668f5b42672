//! Planned top-ups and changes of one bin: one by one, or week by week where they are many.

use jiff::ToSpan;
use jiff::civil::Date;

use super::super::Grow;
use super::super::block::{Block, Column, Table};
use super::drift;
use super::{cells, one, paragraph, short_day, words};
use crate::compute::BinResults;
use crate::compute::season::{Event, Pour};
use crate::number::figures::{self, System};

pub(in super::super) fn topup_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let (r, system) = (&grow.results.bins[bin], grow.plan.system);
    if r.season.events().count() > 8 {
        return topups_by_week(grow, bin);
    }
    let rows: Vec<_> = r
        .season
        .checks
        .iter()
        .enumerate()
        .filter_map(|(i, check)| Some((i, check, check.event.as_ref()?)))
        .map(|(i, check, event)| {
            let (what, pour) = match event {
                Event::TopUp(pour) => (format!("top up, {}", drift::with(r, i)), pour),
                Event::ChangeOut(pour) => ("change, full strength".into(), pour),
            };
            cells([
                short_day(check.day),
                what,
                figures::length(check.level.expected, system),
                figures::length(pour.to, system),
                figures::volume(pour.litres, system),
                pours(pour, check.day),
            ])
        })
        .collect();
    if rows.is_empty() {
        return vec![paragraph("No top-up is planned: the first filling should last.")];
    }
    let mut columns = words([("Day", 11), ("What", 13)]);
    for head in ["From about", "To, not higher", "About"] {
        columns.push(Column::numbers(head, 12));
    }
    columns.push(Column::words("How", 14));
    one(Table::printed(&caption(grow, r), columns, rows))
}

fn caption(grow: &Grow<'_>, r: &BinResults) -> String {
    if changes(r) {
        format!(
            "Planned top-ups and changes, as expected, parts a day apart; go by the level you read: after a \
             change leave it the same, or at most {} higher.",
            rise(grow)
        )
    } else {
        "Planned top-ups, as expected, parts a day apart; go by the level you read.".into()
    }
}

/// A week of small top-ups.
struct Week {
    from: Date,
    parts: u32,
    litres: f64,
    /// What its top-ups may not pass, one after the other (mm).
    to: Vec<f64>,
    with: Vec<&'static str>,
    change: String,
}

/// Many small top-ups, week by week.
fn topups_by_week(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let system = grow.plan.system;
    let rows = weeks(grow, bin).into_iter().map(|week| {
        let (parts, litres) = match week.parts {
            0 => ("–".into(), "–".into()),
            n => (n.to_string(), figures::volume(week.litres, system)),
        };
        let or_none = |text: String| if text.is_empty() { "–".into() } else { text };
        let (to, with) = (limits(&week.to, system), week.with.join(", then "));
        cells([
            short_day(week.from),
            parts,
            litres,
            or_none(to),
            or_none(with),
            or_none(week.change),
        ])
    });
    let mut columns = words([("Week from", 9)]);
    for (head, share) in [("Parts poured", 8), ("In all about", 8), ("Not higher than", 9)] {
        columns.push(Column::numbers(head, share));
    }
    columns.extend(words([("Strength", 11), ("Change, at full strength", 11)]));
    let rise = rise(grow);
    let [what, after] = if changes(&grow.results.bins[bin]) {
        [" and changes", &format!(": after a change leave it the same, or at most {rise} higher")]
    } else {
        ["", ""]
    };
    let caption = format!(
        "Planned top-ups{what}, week by week, none to rise more than {rise} a day; the log has each check day. Go by the level you read{after}."
    );
    one(Table::printed(&caption, columns, rows.collect()))
}

/// Whether the solution of a bin is changed.
fn changes(r: &BinResults) -> bool {
    r.season.events().any(|(_, event)| matches!(event, Event::ChangeOut(_)))
}

/// What roots bear at once.
fn rise(grow: &Grow<'_>) -> String {
    let system = grow.plan.system;
    figures::short_length(system.ruler_down(grow.library.limits.top_up_rise.value), system)
}

fn weeks(grow: &Grow<'_>, bin: usize) -> Vec<Week> {
    let (r, system) = (&grow.results.bins[bin], grow.plan.system);
    let mut weeks: Vec<Week> = Vec::new();
    for (i, check) in r.season.checks.iter().enumerate() {
        let Some(event) = &check.event else { continue };
        let days = r.dates.set_out.until(check.day).map_or(0, |s| s.get_days());
        let from = r.dates.set_out.saturating_add((days / 7 * 7).days());
        if weeks.last().is_none_or(|w| w.from != from) {
            let (to, with, change) = (Vec::new(), Vec::new(), String::new());
            weeks.push(Week { from, parts: 0, litres: 0.0, to, with, change });
        }
        let Some(week) = weeks.last_mut() else { continue };
        match event {
            Event::TopUp(pour) => {
                week.parts += pour.pours;
                week.litres += pour.litres;
                week.to.push(pour.to);
                let with = drift::with_in_short(r, i);
                if !week.with.contains(&with) {
                    week.with.push(with);
                }
            }
            Event::ChangeOut(pour) => {
                let litres = figures::volume(pour.litres, system);
                let to = limits(&[pour.to], system);
                week.change = format!("{}: {litres}, to {to}", short_day(check.day));
            }
        }
    }
    weeks
}

/// Limits of top-ups, one after the other (mm); of some that hardly differ the lowest.
pub(in super::super) fn limits(all: &[f64], system: System) -> String {
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let alike = all.iter().all(|mm| *mm - least < 2.5 * system.ruler_step());
    let read = all.iter().take(if alike { 1 } else { all.len() });
    let read = read.map(|mm| figures::short_length(if alike { least } else { *mm }, system));
    let mut read: Vec<String> = read.collect();
    read.dedup();
    read.join(", then ")
}

/// On how many days it is poured, and which is the last.
fn pours(pour: &Pour, from: Date) -> String {
    match pour.pours {
        1 => "at once".into(),
        n => {
            let last = from.saturating_add((i64::from(n) - 1).days());
            format!("in {n} parts, to {}", short_day(last))
        }
    }
}
