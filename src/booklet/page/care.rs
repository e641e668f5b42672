//! Setting out, topping up, cleaning, the end of the grow.

use super::super::Grow;
use super::super::block::{Block, Column, Table, Voice, plain};
use super::glance::crops;
use super::{cells, one, paragraph, short_day, short_window, words};
use crate::compute::season::Event;
use crate::number::figures;

pub(in super::super) fn setting_out_table(grow: &Grow<'_>) -> Vec<Block> {
    let rows = grow.plan.bins.iter().zip(&grow.results.bins).map(|(bin, r)| {
        cells([
            bin.name.clone(),
            crops(bin),
            short_window(r.dates.roots),
            short_day(r.dates.set_out),
            String::new(),
        ])
    });
    let columns = words([
        ("Bin", 4),
        ("Plants", 6),
        ("Roots may show", 6),
        ("Set out about", 5),
        ("Done on", 4),
    ]);
    let table = Table::to_fill("Roots decide, not the day.", columns, rows.collect());
    one(Table { row_height: 7.5, ..table })
}

/// Cautions of the crops in the plan, each once.
pub(in super::super) fn crop_notes(grow: &Grow<'_>) -> Vec<Block> {
    let mut items: Vec<Vec<Block>> = Vec::new();
    for planting in grow.plan.bins.iter().flat_map(|b| &b.plants) {
        for caution in &planting.crop.cautions {
            let item = vec![paragraph(format!("{}: {caution}", planting.crop.name))];
            if !items.contains(&item) {
                items.push(item);
            }
        }
    }
    if items.is_empty() { Vec::new() } else { vec![Block::List { ordered: false, items }] }
}

pub(in super::super) fn topup_overview(grow: &Grow<'_>) -> Vec<Block> {
    let system = grow.plan.system;
    let rows = grow.plan.bins.iter().zip(&grow.results.bins).map(|(bin, r)| {
        let need = r.season.need;
        let count = r.season.events().filter(|(_, e)| matches!(e, Event::TopUp(_))).count();
        cells([
            bin.name.clone(),
            figures::short_length(r.fill.ceiling, system),
            figures::short_volume(r.fill.usable, system),
            figures::volume_band(need.expected, need.low, need.high, system),
            r.season.dry[1].map_or("lasts".into(), short_day),
            count.to_string(),
        ])
    });
    let mut columns = words([("Bin", 4)]);
    columns.push(Column::numbers("Ceiling", 3));
    columns.push(Column::numbers("Holds, start to reserve", 4));
    columns.push(Column::words("Needs in all (low to high)", 7));
    columns.push(Column::words("At reserve about", 4));
    columns.push(Column::numbers("Top-ups", 2));
    let caption = "Water of every bin. Needs are estimates from the crop table: within a factor \
                   of two until your log says better.";
    one(Table::printed(caption, columns, rows.collect()))
}

pub(in super::super) fn changeout_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut rows = Vec::new();
    for (bin, r) in grow.plan.bins.iter().zip(&grow.results.bins) {
        let days: Vec<String> = r
            .season
            .events()
            .filter(|(_, e)| matches!(e, Event::ChangeOut(_)))
            .map(|(check, _)| short_day(check.day))
            .collect();
        let days = if days.is_empty() { "none planned".into() } else { days.join(", ") };
        rows.push(cells([bin.name.clone(), format!("{} days", r.dates.days), days]));
    }
    let columns = words([("Bin", 4), ("Set-out to end", 4), ("Changes of the solution", 10)]);
    one(Table::printed("", columns, rows))
}

pub(in super::super) fn bleach_table(grow: &Grow<'_>) -> Vec<Block> {
    let rows = grow.plan.bins.iter().zip(&grow.results.bins).zip(&grow.results.cleaning.bins);
    let rows = rows.map(|((bin, r), ml)| {
        cells([
            bin.name.clone(),
            figures::volume(r.fill.start_volume, grow.plan.system),
            figures::dropper(*ml),
        ])
    });
    let columns =
        vec![Column::words("Bin", 4), Column::numbers("Water", 4), Column::numbers("Bleach", 3)];
    one(Table::printed("If you fill the bin to its start line.", columns, rows.collect()))
}

pub(in super::super) fn harvest_form(grow: &Grow<'_>) -> Vec<Block> {
    let rows = grow.plan.bins.iter().map(|bin| {
        let mut row = vec![plain(bin.name.clone())];
        row.resize(6, Vec::new());
        row
    });
    let columns = words([
        ("Bin", 4),
        ("Harvested on", 4),
        ("Weight", 3),
        ("Water added in all", 4),
        ("Level at the end", 4),
        ("Remarks", 7),
    ]);
    one(Table::to_fill("Harvest.", columns, rows.collect()))
}

/// The grower's own notes, letter for letter, a paragraph for each of theirs.
pub(in super::super) fn notes(grow: &Grow<'_>) -> Vec<Block> {
    let paragraphs = grow.plan.notes.split("\n\n").map(str::trim).filter(|p| !p.is_empty());
    paragraphs.map(|p| paragraph(p.split_whitespace().collect::<Vec<_>>().join(" "))).collect()
}

/// What must be said about kitchen and kit acids wherever they are dosed.
pub(in super::super) fn acid_cautions() -> Vec<Block> {
    let text = "Goggles and gloves on. Adults dose. Acid or base goes into water, never water \
                into acid. One bottle at a time; never two together; never near bleach. The \
                label and local rules win.";
    vec![Block::Alert { voice: Voice::Warning, blocks: vec![paragraph(text)] }]
}
