//! At a glance, what to gather, cautions.

use std::collections::BTreeMap;

use jiff::ToSpan;
use jiff::civil::Date;

use super::super::Grow;
use super::super::block::{Block, Column, Table, Voice};
use super::{by_bin, cells, day, one, paragraph, short_day, words};
use crate::compute::season::Event;
use crate::compute::{Dates, dates};
use crate::finding::Severity;
use crate::library::crop::Start;
use crate::number::figures;
use crate::plan::Bin;

pub(in super::super) fn crops(bin: &Bin) -> String {
    let one = |p: &crate::plan::Planting| format!("{} × {}", p.count, p.crop.name);
    bin.plants.iter().map(one).collect::<Vec<_>>().join(", ")
}

pub(in super::super) fn bins_table(grow: &Grow<'_>) -> Vec<Block> {
    let system = grow.plan.system;
    let bins = grow.plan.bins.iter().zip(&grow.results.bins).enumerate();
    let rows = bins.map(|(i, (bin, r))| {
        let water = match r.season.dry {
            [_, Some(day), _] => format!("top up; at its reserve about {}", short_day(day)),
            [Some(day), None, _] => format!("lasts; in heat to {}", short_day(day)),
            [None, None, _] => "lasts".to_string(),
        };
        let row = cells([
            crops(bin),
            figures::short_length(r.fill.start, system),
            figures::short_volume(r.fill.start_volume, system),
            short_day(r.dates.set_out),
            short_day(r.dates.harvest[0]),
            water,
        ]);
        (i, row)
    });
    let rows = by_bin(grow, rows);
    let mut columns = words([("Bin", 8), ("Plants", 11)]);
    columns.push(Column::numbers("Fill to", 6));
    columns.push(Column::numbers("Solution", 6));
    columns.extend(words([("Set out about", 9), ("Harvest from", 9), ("Water", 9)]));
    one(Table::printed("Bins. Heights above the bin's floor.", columns, rows))
}

/// What is to be done, by day and order of the day, and in which bins.
type Calendar<'a> = BTreeMap<(Date, u8, String), Vec<&'a str>>;

fn calendar<'a>(grow: &Grow<'a>) -> Calendar<'a> {
    let mut events = Calendar::new();
    let mut add = |day, order, what: &str, bin| {
        events.entry((day, order, what.to_string())).or_default().push(bin);
    };
    for (bin, r) in grow.plan.bins.iter().zip(&grow.results.bins) {
        let (name, dates) = (bin.name.as_str(), &r.dates);
        let seeds = bin.plants.iter().filter(|p| p.crop.start == Start::Seed).count();
        let start = match bin.plants.len() - seeds {
            0 => "Sow",
            n if n == bin.plants.len() => "Set cuttings or runners",
            _ => "Sow, or set cuttings",
        };
        add(dates.sown, 0, start, name);
        add(dates.first_roots, 1, "From now on look for roots below the cube", name);
        // A day in the bin shows where the pH goes.
        let filled = dates.set_out.saturating_sub(1.day()).max(dates.sown);
        add(filled, 2, "Roots near: mix, fill, bring the pH into range", name);
        add(dates.set_out, 3, "Read the pH again; set out, if roots show", name);
        add(dates.harvest[0], 5, "First harvest possible", name);
        for (crop, end) in leaves_early(bin, dates) {
            add(end, 6, &format!("Cut the last of {crop}; close the holes"), name);
        }
        add(dates.end, 7, "Last harvest, then empty and clean", name);
        let top_up = r.season.events().find(|(_, e)| matches!(e, Event::TopUp(_)));
        if let Some((check, _)) = top_up {
            add(check.day, 4, "Top-ups begin (see the bin's page)", name);
        }
        let changes = r.season.events().filter(|(_, e)| matches!(e, Event::ChangeOut(_)));
        for (check, _) in changes {
            add(check.day, 4, "Change the solution (see the bin's page)", name);
        }
    }
    events
}

pub(in super::super) fn calendar_table(grow: &Grow<'_>) -> Vec<Block> {
    let all = grow.plan.bins.len();
    let rows = calendar(grow).into_iter().map(|((date, _, what), bins)| {
        let bins = match bins.len() {
            n if n == all && all > 1 => "all bins".to_string(),
            n if n > 6 => format!("{n} bins, from {} to {}", bins[0], bins[n - 1]),
            _ => bins.join(", "),
        };
        cells([day(date), what, bins])
    });
    let columns = words([("Day", 9), ("What", 16), ("Bins", 15)]);
    one(Table::printed(
        "Calendar. Days are expected; what you see decides.",
        columns,
        rows.collect(),
    ))
}

/// Crops of a bin that are done before the bin is, and when.
pub(super) fn leaves_early<'a>(
    bin: &'a Bin,
    dates: &'a Dates,
) -> impl Iterator<Item = (&'a str, Date)> {
    let end = |p: &'a crate::plan::Planting| {
        (p.crop.name.as_str(), dates::after(dates.set_out, dates::season_days(&p.crop)))
    };
    bin.plants.iter().map(end).filter(|(_, day)| *day < dates.end)
}

pub(in super::super) fn findings(grow: &Grow<'_>) -> Vec<Block> {
    let cautions = grow.findings.iter().filter(|f| f.severity == Severity::Caution);
    // A class set has the same caution for every bin; eight are read, eighty are not.
    let all: Vec<_> = cautions.collect();
    let mut items: Vec<Vec<Block>> = all
        .iter()
        .take(8)
        .map(|f| vec![paragraph(format!("{}. What to do: {}.", capital(&f.message), f.help))])
        .collect();
    if all.is_empty() {
        return vec![paragraph("The program has no cautions about this plan.")];
    }
    if all.len() > items.len() {
        let more = all.len() - items.len();
        items.push(vec![paragraph(format!("... and {more} more: see `binleaf check`."))]);
    }
    let blocks = vec![Block::List { ordered: false, items }];
    vec![Block::Alert { voice: Voice::Caution, blocks }]
}

/// With a capital letter at its head.
pub(in super::super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
}
