//! A card for each bin: one page in large type, to laminate and hang up.

use jiff::civil::Date;

use super::super::Grow;
use super::super::block::{Block, Column, Table};
use super::super::page::{
    bin::liquid, cells, drift, glance, one, short_day, short_window, strength, topup::limits, words,
};
use super::super::values::Values;
use super::super::words::Blocks;
use super::values_of;
use crate::compute::fill;
use crate::compute::season::Event;
use crate::number::figures::{self, System};

/// Rows of planned top-ups that are still read at a glance.
const ROWS: usize = 9;
/// Rows of the log; paper has room for fewer (`templates/part/card.typ` prints what fits).
const LOG: usize = 20;

pub(super) fn page(grow: &Grow<'_>, index: usize) -> (Values, Blocks) {
    let (bin, r) = (&grow.plan.bins[index], &grow.results.bins[index]);
    let ph = &grow.results.acidity[bin.mix];
    let reading = |ph: f64| figures::decimals(ph, 1).into();
    let ([measure, full_dose, half_dose], plain) = strength::strengths(grow, index);
    let values = values_of(
        "card",
        [
            ("name", bin.name.as_str().into()),
            ("plants", glance::crops(bin).into()),
            ("mix", grow.plan.mixes[bin.mix].name.as_str().into()),
            ("volume", figures::volume(r.fill.start_volume, grow.plan.system).into()),
            ("feed", strength::for_bin(grow, index).into()),
            ("target", reading(ph.target)),
            ("low", reading(ph.range[0])),
            ("high", reading(ph.range[1])),
            ("measure", measure.into()),
            ("full_dose", full_dose.into()),
            ("half_dose", half_dose.into()),
            ("plain_water", plain.into()),
            ("lower", strength::stops_lower(grow, index).into()),
            ("topups", r.season.events().next().is_some().into()),
            ("adjusters", (!grow.plan.adjusters.is_empty()).into()),
        ],
    );
    let blocks = Blocks::from([
        ("card_lines", lines(grow, index)),
        ("card_dates", dates(grow, index)),
        ("card_topups", topups(grow, index)),
        ("card_log", log(grow)),
    ]);
    (values, blocks)
}

fn lines(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let (fill, system) = (&grow.results.bins[bin].fill, grow.plan.system);
    let row = |name: &str, h: f64, v: f64| {
        cells([name.into(), figures::length(h, system), figures::volume(v, system)])
    };
    let mut rows = vec![
        row("START LINE, once", fill.start, fill.start_volume),
        row("CEILING: top up no higher", fill.ceiling, fill.ceiling_volume),
        row("RESERVE: fall no lower", fill.reserve, fill.reserve_volume),
    ];
    let mut checks = grow.results.bins[bin].season.checks.iter();
    if checks.any(|check| matches!(check.event, Some(Event::TopUp(_)))) {
        let half = fill.halfway();
        let left = fill::liquid(&grow.plan.bins[bin], grow.library, half);
        rows.insert(2, row("HALFWAY: top-ups begin", half, left));
    }
    let mut columns = words([("Line", 8)]);
    columns.push(Column::numbers("Above the floor", 6));
    columns.push(Column::numbers("Left in the bin", 5));
    one(Table::printed("", columns, rows))
}

fn dates(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let dates = &grow.results.bins[bin].dates;
    let row = cells([
        short_day(dates.sown),
        short_day(dates.set_out),
        short_window(dates.harvest),
        short_day(dates.end),
    ]);
    let columns = words([("Sow", 4), ("Set out", 4), ("First harvest", 8), ("End", 4)]);
    one(Table::printed("", columns, vec![row]))
}

/// Planned top-ups that follow each other with the same, or one change.
struct Run {
    days: [Date; 2],
    times: u32,
    /// Not higher than, one after the other (mm).
    to: Vec<f64>,
    litres: f64,
    /// Days that a top-up is spread over, at the least and at the most.
    pours: [u32; 2],
    /// Whether it is a change.
    change: bool,
    /// What is poured, one after the other.
    what: Vec<&'static str>,
}

/// Whether a top-up joins the run before it.
type Join<'a> = &'a dyn Fn(&Run, &str) -> bool;

/// The fewest joins that make few rows: none, those of one strength, all between two changes.
fn runs(grow: &Grow<'_>, bin: usize) -> Vec<Run> {
    let alone = |_: &Run, _: &str| false;
    let of_a_kind = |run: &Run, what: &str| run.what == [what];
    let between = |_: &Run, _: &str| true;
    let joins: [Join<'_>; 3] = [&alone, &of_a_kind, &between];
    let all = joins.map(|join| joined(grow, bin, join));
    let few = all.iter().position(|runs| runs.len() <= ROWS).unwrap_or(2);
    all.into_iter().nth(few).unwrap_or_default()
}

fn joined(grow: &Grow<'_>, bin: usize, join: Join<'_>) -> Vec<Run> {
    let r = &grow.results.bins[bin];
    let mut runs: Vec<Run> = Vec::new();
    for (i, check) in r.season.checks.iter().enumerate() {
        let (what, pour) = match &check.event {
            Some(Event::TopUp(pour)) => (drift::with(r, i), pour),
            Some(Event::ChangeOut(pour)) => ("change: all out, fresh in at full strength", pour),
            None => continue,
        };
        let change = matches!(check.event, Some(Event::ChangeOut(_)));
        match runs.last_mut().filter(|run| !change && !run.change && join(run, what)) {
            Some(run) => {
                run.days[1] = check.day;
                run.times += 1;
                run.to.push(pour.to);
                run.litres += pour.litres;
                let [least, most] = run.pours;
                run.pours = [least.min(pour.pours), most.max(pour.pours)];
                if !run.what.contains(&what) {
                    run.what.push(what);
                }
            }
            None => runs.push(Run {
                days: [check.day; 2],
                times: 1,
                to: vec![pour.to],
                litres: pour.litres,
                pours: [pour.pours; 2],
                change,
                what: vec![what],
            }),
        }
    }
    runs
}

fn topups(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let system = grow.plan.system;
    let runs = runs(grow, bin);
    let row = |run: &Run| {
        let times = if run.times > 1 { format!(", {} times", run.times) } else { String::new() };
        let parts = match run.pours {
            [_, 0 | 1] => String::new(),
            // What is emptied is filled at once.
            _ if run.change => String::new(),
            [least, n] if least == n => format!(", in {n} parts, a day apart"),
            [_, n] => format!(", in up to {n} parts, a day apart"),
        };
        cells([
            format!("{}{times}", short_window(run.days)),
            format!("{}{parts}", run.what.join(", then ")),
            limits(&run.to, system),
            figures::short_volume(run.litres, system),
        ])
    };
    let mut rows: Vec<_> = runs.iter().take(ROWS).map(row).collect();
    if runs.len() > ROWS {
        let later = format!("from {}", short_day(runs[ROWS].days[0]));
        rows.push(cells([
            later,
            "see the bin's page in the booklet".into(),
            String::new(),
            String::new(),
        ]));
    }
    let mut columns = words([("Top up on", 6), ("With", 12)]);
    columns.push(Column::numbers("To, no higher", 5));
    columns.push(Column::numbers("About, in all", 6));
    one(Table::printed("", columns, rows))
}

fn log(grow: &Grow<'_>) -> Vec<Block> {
    let unit = match grow.plan.system {
        System::Us => "in",
        System::Metric => "mm",
    };
    let level = format!("Level, {unit}");
    let added = format!("Added, {}", liquid(grow.plan.system));
    let columns = words([("Day", 4), (&level, 4), ("pH", 3), ("EC, mS/cm", 4), (&added, 4)]);
    let rows = (0..LOG).map(|_| vec![Vec::new(); 5]).collect();
    one(Table::to_fill("", columns, rows))
}
