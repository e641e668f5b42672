//! Pails: how many a solution takes, what goes into each, and the log of mixing them.

use super::super::Grow;
use super::super::block::{Block, Line, Table, plain};
use super::{by_bin, one, words};
use crate::compute::pails::Pails;
use crate::number::figures::{self, System};
use crate::number::unit::LITRES_PER_US_GALLON;

/// How full pails and the part pail of all the solution are told, if it is mixed on one day.
pub(in super::super) fn batches(grow: &Grow<'_>, mix: usize) -> String {
    let together = grow.results.mixing[mix].together;
    together.map_or(String::new(), |pails| told(pails, grow.plan.system))
}

/// Full pails and a part pail, in words.
fn told(pails: Pails, system: System) -> String {
    let part = figures::volume(pails.part, system);
    match (pails.full, pails.part > 0.0) {
        (0, _) => format!("one part pail of {part}"),
        (1, false) => "one full pail".into(),
        (1, true) => format!("one full pail and one part pail of {part}"),
        (n, false) => format!("{n} full pails"),
        (n, true) => format!("{n} full pails and one part pail of {part}"),
    }
}

/// Rows of doses: for a full pail, for the part pail of all, for each bin that is filled by itself and
/// its own part pail, and for a measure of any other amount. A row has its name, how much it holds, and
/// what it gets, by its place among them and the share of that.
pub(super) fn vessels(
    grow: &Grow<'_>,
    mix: usize,
    gets: impl Fn(usize, f64) -> Vec<Line>,
) -> Vec<Vec<Line>> {
    let mixing = &grow.results.mixing[mix];
    let system = grow.plan.system;
    let shared = |place: usize, water: String, share: f64| {
        let mut row = vec![plain(water)];
        row.extend(gets(place, share));
        row
    };
    let mut rows = vec![named(grow, &shared, (0, "One full pail", grow.plan.mixes[mix].pail))];
    if let Some((all, place)) = mixing.together.and_then(|all| Some((all, all.place?))) {
        rows.push(named(
            grow,
            &shared,
            (place, "The part pail, if all is mixed together", all.part),
        ));
    }
    let bins = of_bins(grow, mix, &shared);
    let width = rows[0].len();
    for mut row in by_bin(grow, bins) {
        let part = row.split_off(width);
        rows.push(row);
        rows.extend((!part.is_empty()).then_some(part));
    }
    // For a change or a top-up: a measure, to be taken as often as it takes.
    let (litres, name) = measure(grow, mix);
    let share = litres / grow.plan.mixes[mix].pail;
    let mut any = shared(0, figures::volume(litres, system), share);
    any.insert(0, plain(any_amount(name)));
    rows.push(any);
    rows
}

/// The cells of a row after its name: by place, water, and share of the dose.
type Shared<'a> = &'a dyn Fn(usize, String, f64) -> Vec<Line>;

/// A row by its place, name and litres.
fn named(grow: &Grow<'_>, shared: Shared<'_>, row: (usize, &str, f64)) -> Vec<Line> {
    let (place, name, litres) = row;
    let mut row = shared(place, figures::volume(litres, grow.plan.system), 1.0);
    row.insert(0, plain(name));
    row
}

/// The row of each bin without its name, and after it that of its part pail.
fn of_bins(grow: &Grow<'_>, mix: usize, shared: Shared<'_>) -> Vec<(usize, Vec<Line>)> {
    let (mixing, system) = (&grow.results.mixing[mix], grow.plan.system);
    let count = mixing.first_bin();
    let rows = mixing.bins.iter().zip(&mixing.pails).enumerate().map(|(i, (bin, pails))| {
        let water = figures::volume(grow.results.bins[*bin].fill.start_volume, system);
        let water =
            if pails.several() { format!("{water}: {}", told(*pails, system)) } else { water };
        let mut row = shared(count + i, water, 1.0);
        if let Some(place) = pails.place {
            let name = format!("Part pail for {}", grow.plan.bins[*bin].called);
            row.extend(named(grow, shared, (place, &name, pails.part)));
        }
        (*bin, row)
    });
    rows.collect()
}

/// What the last row of the doses is called, to which other pages refer.
pub(in super::super) fn any_amount(name: &str) -> String {
    format!("Any amount: for every {name}")
}

/// A round measure of solution (L) that every bin of a solution holds, and what it is called: nobody
/// shall read the dose of a large measure for a small bin.
pub(super) fn measure(grow: &Grow<'_>, mix: usize) -> (f64, &'static str) {
    let bins = grow.results.mixing[mix].bins.iter();
    let least = bins.map(|b| grow.results.bins[*b].fill.start_volume).fold(f64::INFINITY, f64::min);
    match grow.plan.system {
        System::Us if least < LITRES_PER_US_GALLON => (LITRES_PER_US_GALLON / 4.0, "quart"),
        System::Us => (LITRES_PER_US_GALLON, "gallon"),
        System::Metric if least < 10.0 => (1.0, "litre"),
        System::Metric => (10.0, "10 L"),
    }
}

/// Rows of the log of mixing; more would not be read.
const ROWS: usize = 28;

/// A row for each pail as it is mixed: of all the solution on one day, or bin by bin.
pub(in super::super) fn check_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let mixing = &grow.results.mixing[mix];
    let names: Vec<String> = match mixing.together {
        Some(all) => (1..=all.full + u32::from(all.part > 0.0)).map(|n| n.to_string()).collect(),
        None => mixing.bins.iter().zip(&mixing.pails).flat_map(|(b, p)| of(grow, *b, *p)).collect(),
    };
    let (pail, wide) = if mixing.together.is_some() { ("Pail", 2) } else { ("Pail for", 7) };
    let mut columns = words([(pail, wide), ("Date", 4), ("Water in", 4), ("Feed in", 4)]);
    columns.extend(words([("EC read", 3), ("Who", 4)]));
    let more = names.len() > ROWS;
    let rows = names.into_iter().take(ROWS).map(|name| {
        let mut row = vec![plain(name)];
        row.resize(6, Line::new());
        row
    });
    let caption = if more {
        "Fill in while mixing; more pails go on a sheet of your own."
    } else {
        "Fill in while mixing."
    };
    let table = Table::to_fill(caption, columns, rows.collect());
    // Many pails want less room each.
    one(if table.rows.len() > 6 { Table { row_height: 7.0, ..table } } else { table })
}

/// What the pails of one bin are called.
fn of(grow: &Grow<'_>, bin: usize, pails: Pails) -> Vec<String> {
    let name = &grow.plan.bins[bin].name;
    if !pails.several() {
        return vec![name.clone()];
    }
    let full = (1..=pails.full).map(|n| format!("{name}: full pail {n}"));
    full.chain((pails.part > 0.0).then(|| format!("{name}: part pail"))).collect()
}
