//! What a log says of the forecast: how thirsty the plants really are, and the rest of the season.
//!
//! One factor a bin scales the use that was planned. It is the weighted mean of 1, with the weight
//! that the plan's own band gives it, and of used over planned in each stretch between two readings,
//! each with about half that weight at first, and more as the stretches agree: one reading moves it
//! little, three are trusted. A log equal to the forecast leaves it at 1. A stretch that cannot be, a rise with nothing
//! added or a fall that no plant drinks, teaches nothing.

use jiff::civil::Date;

use super::ahead::Now;
use super::fill::liquid;
use super::season::{Check, Event, days_between, drunk};
use super::stretch::{Stretches, Told, fit};
use super::{Band, BinResults, Results, dates};
use crate::finding::{Finding, Findings, Severity};
use crate::library::Library;
use crate::log::Row;
use crate::number::figures::System;
use crate::plan::{Bin, Plan};

/// A level is read to this (mm), one standard deviation.
const RULER: f64 = 3.0;
/// Nine in ten of a normal distribution lie within this many deviations above the middle, or below
/// the other end: the ends of a band are its one in ten and nine in ten.
const TENTH: f64 = 1.2816;
/// Nobody drinks less, or more, than this part of what was planned.
const FACTORS: [f64; 2] = [0.1, 5.0];

/// The harvest may last so much longer than planned (d).
const AFTER: f64 = 14.0;

/// A planned change may come so much earlier or later (d).
pub(super) const NEAR: f64 = 3.0;

/// A reading beside the forecast.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The day.
    pub day: Date,
    /// Level read (mm).
    pub level: f64,
    /// Level the plan expects there, with what was really added (mm).
    pub expected: f64,
    /// Days after set-out of the reading it is compared with.
    pub since: f64,
    /// Used by plants and losses since then (L), if that can be said.
    pub used: Option<f64>,
    /// The same as planned (L).
    pub planned: f64,
    /// pH as read.
    pub ph: Option<f64>,
    /// Conductivity as read (mS/cm).
    pub conductivity: Option<f64>,
    /// Added after it (L).
    pub added: f64,
}

/// A bin and what its log says.
#[derive(Debug, Clone, PartialEq)]
pub struct BinReview {
    /// Index into the plan's bins.
    pub bin: usize,
    /// Readings by day.
    pub readings: Vec<Reading>,
    /// Real use over planned use: low, expected, high.
    pub factor: Band,
    /// How many stretches between readings were used for it.
    pub stretches: usize,
    /// Days on which the level reaches the reserve from the last reading on, if nothing is added:
    /// early, expected, late.
    pub dry: [Option<Date>; 3],
    /// Check days from now on.
    pub checks: Vec<Check>,
    /// Used in all until the last reading (L).
    pub used: f64,
    /// Harvested in all (g).
    pub harvest: f64,
}

/// Reviews every bin that has readings.
#[must_use]
pub fn review(plan: &Plan, results: &Results, rows: &[Row], findings: &Findings) -> Vec<BinReview> {
    let library = Library::embedded();
    let of_bin = |(i, (bin, r)): (usize, (&Bin, &BinResults))| {
        let own: Vec<&Row> = rows.iter().filter(|row| row.bin == i).collect();
        let look = Look { bin, r, library, findings, system: plan.system };
        look.review(i, &own)
    };
    let all: Vec<BinReview> =
        plan.bins.iter().zip(&results.bins).enumerate().filter_map(of_bin).collect();
    if all.is_empty() {
        let message = "the log has no level of any bin of this plan";
        let help = "fill in `level` for the days on which you looked, and save the file";
        findings.add(Finding::new(Severity::Error, "log-empty", message, help));
    }
    all
}

/// What a bin is looked at with.
pub(super) struct Look<'a> {
    pub(super) bin: &'a Bin,
    pub(super) r: &'a BinResults,
    pub(super) library: &'a Library,
    findings: &'a Findings,
    pub(super) system: System,
}

impl Look<'_> {
    fn review(&self, index: usize, rows: &[&Row]) -> Option<BinReview> {
        let rows: Vec<&&Row> = rows.iter().filter(|row| self.in_season(row)).collect();
        let (readings, now) = self.readings(&rows);
        let last = readings.last()?;
        let (factor, stretches) = self.factor(&readings);
        let at = days_between(self.r.dates.set_out, last.day);
        let (dry, checks) = self.ahead(factor, at, now);
        Some(BinReview {
            bin: index,
            used: readings.iter().filter_map(|r| r.used).sum(),
            harvest: rows.iter().map(|r| r.harvest).sum(),
            readings,
            factor,
            stretches,
            dry,
            checks,
        })
    }

    /// Rows outside the season are pencil slips; roots may show early, and a harvest last longer.
    fn in_season(&self, row: &Row) -> bool {
        let dates = &self.r.dates;
        let first = dates.roots[0].min(dates.set_out);
        let inside = row.day >= first && row.day <= dates::after(dates.end, AFTER);
        if !inside {
            let message = format!("{} is not in the season of \"{}\"", row.day, self.bin.name);
            let help = "the row is left out; check the day, or the plan's dates";
            self.say(row, "log-row", &message, help);
        }
        inside
    }

    pub(super) fn say(&self, row: &Row, code: &'static str, message: &str, help: &str) {
        let finding = Finding::new(Severity::Caution, code, message, help);
        self.findings.add(finding.at(row.place.clone(), "here"));
    }

    /// Readings with what was used between them, the first filling counting as the first; and how the bin
    /// stands after them.
    fn readings(&self, rows: &[&&Row]) -> (Vec<Reading>, Now) {
        let from = self.r.dates.set_out;
        let mut walk = Stretches::new(self, self.r.fill.start_volume);
        let mut expected = walk.base;
        let mut now = Now { held: walk.base.1, changed: None };
        let mut all: Vec<Reading> = Vec::new();
        for row in rows {
            let at = days_between(from, row.day).max(0.0);
            expected = (at, (expected.1 - self.planned(expected.0, at)).max(0.0));
            if let Some(level) = row.level {
                now.held = self.volume(level);
                let (since, used) = walk.read(row, at, level);
                all.push(Reading {
                    day: row.day,
                    level,
                    expected: self.level(expected.1),
                    since,
                    used,
                    planned: self.planned(since, at),
                    ph: row.ph,
                    conductivity: row.conductivity,
                    added: row.added,
                });
            }
            let changed = self.changed(row, walk.base.1);
            let added = self.added(row, if changed { 0.0 } else { walk.base.1 });
            walk.pour(changed, added);
            expected.1 = if changed { added } else { expected.1 + added };
            now.held = if changed { added } else { now.held + added };
            now.changed = if changed { Some(row.day) } else { now.changed };
        }
        (all, now)
    }

    /// Whether what was added was a change of the solution: the row says so, or one is planned about
    /// that day and more went in than a top-up takes.
    fn changed(&self, row: &Row, held: f64) -> bool {
        let planned = self.r.season.events().any(|(check, event)| {
            let near = days_between(check.day, row.day).abs() <= NEAR;
            near && matches!(event, Event::ChangeOut(_))
        });
        row.added > 0.0 && (row.changed || (planned && row.added > 0.5 * held))
    }

    /// What was added, if the bin can hold it (L).
    fn added(&self, row: &Row, held: f64) -> f64 {
        let room = self.volume(self.r.fill.depth) - held;
        if row.added <= room + 1e-9 {
            return row.added;
        }
        let message = format!("more was added to \"{}\" than it has room for", self.bin.name);
        let help = "counted as filled to the rim; after a change of the solution write \"change\" into \
                    the last column, so that the old solution is not counted as drunk";
        self.say(row, "log-row", &message, help);
        room.max(0.0)
    }

    /// Plants and losses between two days, as planned (L).
    pub(super) fn planned(&self, from: f64, to: f64) -> f64 {
        let plants = self.plants(1.0, to) - self.plants(1.0, from);
        plants + self.lost(from, to)
    }

    pub(super) fn lost(&self, from: f64, to: f64) -> f64 {
        self.r.season.loss * (to - from) / f64::from(self.r.dates.days.max(1))
    }

    /// What the plants drink by a day, times a factor (L).
    pub(super) fn plants(&self, factor: f64, day: f64) -> f64 {
        let litres: Vec<f64> = self.r.thirst.iter().map(|t| factor * t.litres.expected).collect();
        drunk(self.bin, &litres, day)
    }

    pub(super) fn volume(&self, level: f64) -> f64 {
        liquid(self.bin, self.library, level)
    }

    pub(super) fn level(&self, litres: f64) -> f64 {
        if litres < 1e-9 {
            return 0.0;
        }
        self.bin.vessel.height_where(litres, |h| self.volume(h))
    }

    /// Real use over planned use, and how many stretches told of it.
    fn factor(&self, readings: &[Reading]) -> (Band, usize) {
        let plan: Band = self.r.season.need;
        let spread = ((plan.high - plan.low) / (2.0 * TENTH * plan.expected)).max(0.05);
        let of = |reading: &Reading| {
            let at = days_between(self.r.dates.set_out, reading.day).max(0.0);
            let planned = self.plants(1.0, at) - self.plants(1.0, reading.since);
            let used = reading.used.filter(|_| planned > 1e-6)? - self.lost(reading.since, at);
            Some(Told { planned, used, ruler: self.ruler(reading.level) })
        };
        let told: Vec<Told> = readings.iter().filter_map(of).collect();
        let (middle, deviation) = fit(spread, &told);
        let [least, most] = FACTORS;
        let middle = middle.clamp(least, most);
        let band = Band {
            low: (middle - TENTH * deviation).clamp(least, middle),
            expected: middle,
            high: (middle + TENTH * deviation).min(most).max(middle),
        };
        if told.is_empty() {
            let part = |v: f64| v / plan.expected;
            return (Band { low: part(plan.low), expected: 1.0, high: part(plan.high) }, 0);
        }
        (band, told.len())
    }

    /// Litres that the ruler may be off at a level.
    pub(super) fn ruler(&self, level: f64) -> f64 {
        self.volume(level + RULER) - self.volume(level)
    }
}
