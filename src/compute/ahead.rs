//! The rest of a bin's season, from the last row of its log on.

use jiff::civil::Date;

use super::forecast::Forecast;
use super::review::{Look, NEAR};
use super::season::{Check, Event, days_between};
use super::{Band, dates};

/// How a bin stands after its last row.
#[derive(Debug, Clone, Copy)]
pub(super) struct Now {
    /// What it holds (L).
    pub(super) held: f64,
    /// Day of the last change of its solution.
    pub(super) changed: Option<Date>,
}

impl Look<'_> {
    /// From the last reading on: dry days, and the checks with their top-ups.
    pub(super) fn ahead(&self, factor: Band, at: f64, now: Now) -> ([Option<Date>; 3], Vec<Check>) {
        let held = now.held;
        let dates = &self.r.dates;
        let uses = [factor.low, factor.expected, factor.high];
        let gone = |use_: usize, day: f64| self.plants(uses[use_], day) + self.lost(0.0, day);
        if at >= f64::from(dates.days) {
            return ([None; 3], Vec::new());
        }
        let spare = held - self.r.fill.reserve_volume;
        let dry = [2, 1, 0].map(|use_| {
            let days = (0..=dates.days).map(f64::from).filter(|d| *d >= at);
            let dry = days.into_iter().find(|d| gone(use_, *d) - gone(use_, at) > spare);
            dry.map(|d| dates::after(dates.set_out, d))
        });
        let (loss, from) = (self.r.season.loss, Some((at, held)));
        let lines = &self.r.fill;
        // Changes that the plan has, for the solution will be spent; one that was made stands for its own.
        let done = |day: Date| {
            now.changed.is_some_and(|made| days_between(day, made).abs() <= NEAR || made > day)
        };
        let planned = self.r.season.events().filter(|(_, e)| matches!(e, Event::ChangeOut(_)));
        let forced: Vec<Date> = planned.map(|(c, _)| c.day).filter(|day| !done(*day)).collect();
        let changed = now.changed.map_or(0.0, |made| days_between(dates.set_out, made));
        let forecast = Forecast {
            bin: self.bin,
            library: self.library,
            lines,
            dates,
            loss,
            drunk: &gone,
            from,
            forced: &forced,
            changed,
            system: self.system,
        };
        (dry, forecast.checks().0)
    }
}
