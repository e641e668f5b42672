//! Lines, dates, top-ups and log of one bin.

use jiff::civil::Date;

use super::super::Grow;
use super::super::block::{Block, Column, Table, plain};
use super::glance;
use super::{cells, one, short_day, short_window, words};
use crate::compute::dates::{after, season_days};
use crate::compute::fill;
use crate::compute::season::{Event, Season};
use crate::library::crop::Span;
use crate::number::figures::{self, System};
use crate::plan::Planting;

pub(in super::super) fn lines_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let (fill, system) = (&grow.results.bins[bin].fill, grow.plan.system);
    let [start, ceiling, reserve] = fill.per_litre;
    let row = |name: &str, h: f64, v: Option<f64>, m: Option<f64>| {
        cells([
            name.into(),
            figures::length(h, system),
            figures::length(fill.depth - h, system),
            v.map_or("–".into(), |v| figures::volume(v, system)),
            m.map_or("–".into(), |m| per_volume(m, system)),
        ])
    };
    let holds = |h: f64| fill::liquid(&grow.plan.bins[bin], grow.library, h);
    let rows = vec![
        row("Start line", fill.start, Some(fill.start_volume), Some(start)),
        row("Pots' floor", fill.pot_bottom, Some(holds(fill.pot_bottom)), None),
        row("Ceiling", fill.ceiling, Some(fill.ceiling_volume), Some(ceiling)),
        row("Halfway", fill.halfway(), Some(holds(fill.halfway())), None),
        row("Reserve", fill.reserve, Some(fill.reserve_volume), Some(reserve)),
    ];
    let mut columns = words([("Line", 4)]);
    for head in ["Above the floor", "Below the rim", "Holds", "Level falls"] {
        columns.push(Column::numbers(head, 5));
    }
    one(Table::printed("", columns, rows))
}

/// How far the level falls for a litre or a gallon.
pub(in super::super) fn per_volume(mm_per_litre: f64, system: System) -> String {
    match system {
        System::Metric => format!("{} mm a litre", figures::sized(mm_per_litre)),
        System::Us => {
            let per_gallon = mm_per_litre * crate::number::unit::LITRES_PER_US_GALLON;
            format!("{} a gal", figures::length(per_gallon, system))
        }
    }
}

pub(in super::super) fn dates_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let dates = &grow.results.bins[bin].dates;
    let last = if dates.end == dates.harvest[1] { "Last harvest" } else { "Last picking" };
    let mixed = glance::leaves_early(&grow.plan.bins[bin], dates).next().is_some();
    let mut columns = words([("Sown", 4), ("Roots may show", 5), ("Set out, if they do", 4)]);
    columns.extend(words([("First harvest", 5), (last, 4)]));
    let days = |roots: [Date; 2], harvest: [Date; 2], end: Date| {
        cells([
            short_day(dates.sown),
            short_window(roots),
            short_day(dates.set_out),
            short_window(harvest),
            short_day(end),
        ])
    };
    let rows = if mixed {
        columns.insert(0, Column::words("Plants", 5));
        let of_crop = |p: &Planting| {
            let from = |day: Date, span: &Span| [span.low, span.high].map(|d| after(day, d));
            let roots = from(dates.sown, &p.crop.sow_to_set_out);
            let harvest = from(dates.set_out, &p.crop.set_out_to_harvest);
            let mut row = days(roots, harvest, after(dates.set_out, season_days(&p.crop)));
            row.insert(0, plain(p.crop.name.clone()));
            row
        };
        grow.plan.bins[bin].plants.iter().map(of_crop).collect()
    } else {
        vec![days([dates.first_roots, dates.roots[1]], dates.harvest, dates.end)]
    };
    let year = dates.sown.year();
    let mut caption = format!("Days of {year}: windows, not promises.");
    if mixed {
        caption.push_str(
            " All are set out together, when the slowest shows its root; who is done first makes \
             room: close its holes.",
        );
    }
    one(Table::printed(&caption, columns, rows))
}

/// What the plan does at a check.
fn planned(event: Option<&Event>, level: impl Fn(f64) -> String) -> String {
    match event {
        Some(Event::TopUp(p)) if p.pours > 1 => {
            format!("top up to {}, in {} parts", level(p.to), p.pours)
        }
        Some(Event::TopUp(p)) => format!("top up to {}", level(p.to)),
        Some(Event::ChangeOut(p)) => format!("change, to {}", level(p.to)),
        None => String::new(),
    }
}

/// The unit in which what is poured is written down.
pub(in super::super) fn liquid(system: System) -> &'static str {
    match system {
        System::Us => "gal",
        System::Metric => "L",
    }
}

pub(in super::super) fn log_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let (season, system) = (&grow.results.bins[bin].season, grow.plan.system);
    let unit = if system == System::Us { "in" } else { "mm" };
    let level = |mm: f64| match system {
        System::Us => figures::mixed(mm / 25.4, 8),
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
        let planned = planned(check.event.as_ref(), level);
        // Beside the level, so that what was added has a cell to itself.
        let mut expected = plain(expected);
        if !planned.is_empty() {
            expected.extend(plain("; ").into_iter().chain(plain(planned)));
        }
        let mut row = vec![plain(short_day(check.day)), expected];
        row.resize(7, Vec::new());
        row
    });
    let mut columns = words([("Day", 5)]);
    let fine = if system == System::Us { ", to 1/8" } else { "" };
    columns.push(Column::words(&format!("Expected level, {unit}{fine}; plan"), 8));
    columns.push(Column::words(&format!("Level, {unit}"), 4));
    let added = format!("Added, {}", liquid(system));
    columns.extend(words([("pH", 3), ("EC, mS/cm", 4), (&added, 4), ("What you see", 6)]));
    let caption = log_caption(season);
    one(Table { row_height: 7.6, ..Table::to_fill(&caption, columns, rows.collect()) })
}

/// How the log is kept.
fn log_caption(season: &Season) -> String {
    let mut caption = "Log. Measure from the floor with a clean ruler before you add anything; a \
                       blank is better than a guess."
        .to_string();
    let parts = |event: &Event| matches!(event, Event::TopUp(pour) if pour.pours > 1);
    if season.events().any(|(_, event)| parts(event)) {
        caption.push_str(" Parts of a top-up go into one cell, as in 1 + 1.");
    }
    if season.events().any(|(_, event)| matches!(event, Event::ChangeOut(_))) {
        caption.push_str(" Of a change: all that went in, and \"change\" beside it.");
    }
    caption
}
