//! Level of a bin from check to check, and when and how far to top up.

use jiff::civil::Date;

use super::dates::after;
use super::fill::liquid;
use super::season::{Check, Event, Pour, days_between};
use super::{Band, Dates, Fill};
use crate::library::Library;
use crate::number::figures::System;
use crate::plan::Bin;

/// What a forecast goes by.
pub(super) struct Forecast<'a> {
    pub(super) bin: &'a Bin,
    pub(super) library: &'a Library,
    pub(super) lines: &'a Fill,
    pub(super) dates: &'a Dates,
    /// Litres that leave otherwise over the whole season.
    pub(super) loss: f64,
    /// Litres gone by a day after set-out, for low, expected and high use.
    pub(super) drunk: &'a dyn Fn(usize, f64) -> f64,
    /// Days on which the solution is changed although no change is due.
    pub(super) forced: &'a [Date],
    /// From a reading on: days after set-out, and what was left then (L). None from the first
    /// filling on.
    pub(super) from: Option<(f64, f64)>,
    /// Days after set-out of the last change of the solution before that; 0 for the first filling.
    pub(super) changed: f64,
    /// What a top-up is poured to can be read from a ruler of this system.
    pub(super) system: System,
}

/// Expected use, of low, expected and high.
const EXPECTED: usize = 1;
/// High use.
const HIGH: usize = 2;
/// What cannot be read from a ruler (mm): half of its finest step (common practice, no source).
const UNREAD: f64 = 0.5;

/// Where the bin stands on a check day.
#[derive(Clone, Copy)]
struct Stand {
    day: Date,
    /// Days after set-out.
    at: f64,
    /// Days after set-out of the check before, and of the next.
    before: f64,
    next: f64,
    /// Solution left with low, expected and high use (L).
    left: [f64; 3],
    /// Level (mm).
    level: Band,
    /// Days after set-out of the last change.
    changed: f64,
}

impl Forecast<'_> {
    /// Every check with its level and what is planned, and the first day before which even a
    /// full top-up runs short.
    pub(super) fn checks(&self) -> (Vec<Check>, Option<Date>) {
        let from = self.dates.set_out;
        let days: Vec<f64> = self.dates.checks.iter().map(|d| days_between(from, *d)).collect();
        let (mut checks, mut short) = (Vec::new(), None);
        let (begin, held) = self.from.unwrap_or((0.0, self.lines.start_volume));
        let mut left = [held; 3];
        let (mut before, mut changed) = (begin, self.changed);
        for (i, (&day, &at)) in self.dates.checks.iter().zip(&days).enumerate() {
            if self.from.is_some() && at <= begin {
                continue;
            }
            for (use_, v) in left.iter_mut().enumerate() {
                *v = (*v - self.gone(use_, before, at)).max(0.0);
            }
            let level = self.band(left);
            let held = left[EXPECTED];
            let lost = self.loss * (at - before) / self.last().max(1.0);
            let drunk = (self.gone(EXPECTED, before, at) - lost).max(0.0);
            let next = days.get(i + 1).copied().unwrap_or(self.last());
            let planned = if i == 0 {
                None
            } else {
                self.event(&Stand { day, at, before, next, left, level, changed })
            };
            if let Some((event, to)) = &planned {
                left = self.poured(event, self.volume(*to), left, next - at);
                changed = if matches!(event, Event::ChangeOut(_)) { at } else { changed };
            }
            let ahead = left[EXPECTED] - self.gone(EXPECTED, at, next);
            // A hundredth of the reserve is rounding, not thirst.
            if ahead < 0.99 * self.lines.reserve_volume && next > at && short.is_none() {
                short = Some(day);
            }
            let after = planned.is_some().then(|| self.band(left));
            let event = planned.map(|(event, _)| event);
            checks.push(Check { day, level, left: held, drunk, event, after });
            before = at;
        }
        (checks, short)
    }

    /// Levels of what low, expected and high use leave: most use leaves the lowest (mm).
    fn band(&self, left: [f64; 3]) -> Band {
        let [high, expected, low] = left.map(|v| self.level(v));
        Band { low, expected, high }
    }

    fn last(&self) -> f64 {
        f64::from(self.dates.days)
    }

    /// Litres gone between two days after set-out.
    fn gone(&self, use_: usize, from: f64, to: f64) -> f64 {
        (self.drunk)(use_, to) - (self.drunk)(use_, from)
    }

    /// Height of an amount (mm).
    fn level(&self, litres: f64) -> f64 {
        if litres < 1e-9 {
            return 0.0;
        }
        let height = self.bin.vessel.height_where(litres, |h| self.volume(h));
        // A reading may lie above the start line; a forecast never does.
        if self.from.is_some() { height } else { height.min(self.lines.start) }
    }

    /// Amount below a height (L).
    fn volume(&self, h: f64) -> f64 {
        liquid(self.bin, self.library, h)
    }

    /// What to do on a check day, and the level it is poured to (mm).
    fn event(&self, s: &Stand) -> Option<(Event, f64)> {
        let top_up = self.top_up(s);
        let change = self.change_due(s) || top_up.is_some_and(|to| self.better_changed(s, to));
        let to = if change { self.same_level(s) } else { top_up? };
        let litres = self.volume(to) - if change { 0.0 } else { s.left[EXPECTED] };
        let rise = to - s.level.expected;
        let pours = if change { 1 } else { self.pours(rise) };
        let pour = Pour { to, litres, pours };
        Some((if change { Event::ChangeOut(pour) } else { Event::TopUp(pour) }, to))
    }

    /// In a long crop the solution is changed every few weeks, but not just before the end; in any
    /// crop when it has become too strong and too poor at once.
    fn change_due(&self, s: &Stand) -> bool {
        if self.forced.contains(&s.day) {
            // Unless it came a check earlier.
            return s.changed < s.before || s.before <= 0.0;
        }
        let limits = &self.library.limits;
        let every = limits.change_out_days.value;
        self.last() > limits.change_out_above_days.value
            && s.at - s.changed >= every
            && self.last() - s.at > every / 2.0
    }

    /// Whether the change that is due at the next check is better made now than a top-up to this height
    /// (mm): more would go out then, for the plants would not drink what was added, and a change alone
    /// leaves enough until then.
    fn better_changed(&self, s: &Stand, to: f64) -> bool {
        let day = after(self.dates.set_out, s.next);
        let then = Stand { day, at: s.next, before: s.at, ..*s };
        let drunk = self.gone(EXPECTED, s.at, s.next);
        let enough = self.volume(self.same_level(s)) - drunk > self.lines.reserve_volume;
        enough && self.volume(to) - drunk > s.left[EXPECTED] && self.change_due(&then)
    }

    fn rise(&self) -> f64 {
        self.library.limits.top_up_rise.value
    }

    /// The highest a level (mm) may be lifted in so many days, at least one: a day's rise each, never above
    /// the ceiling, as a ruler tells it (mm).
    fn bearable(&self, level: f64, days: f64) -> f64 {
        let lifted = level + self.rise() * days.max(1.0) + UNREAD;
        self.system.ruler_down(lifted.min(self.lines.ceiling))
    }

    /// After a change: the level it had, a little higher, never above the ceiling (mm).
    fn same_level(&self, s: &Stand) -> f64 {
        self.bearable(s.level.expected, 1.0)
    }

    /// A top-up, if the bin will not last and is half empty: back to half, a day's rise at a
    /// time, or as far as the next check needs (mm). It ends where a ruler can tell: what is a
    /// limit is rounded down, what is needed up.
    fn top_up(&self, s: &Stand) -> Option<f64> {
        let lines = self.lines;
        let half = lines.halfway();
        let to_next = self.gone(EXPECTED, s.at, s.next);
        let rest = self.gone(HIGH, s.at, self.last());
        let will_run_dry =
            s.left[EXPECTED] - self.gone(EXPECTED, s.at, self.last()) < lines.reserve_volume;
        let low_enough =
            s.level.expected < half || s.left[EXPECTED] - to_next < lines.reserve_volume;
        // Never more than the roots bear until the next look, even if the bin then runs short.
        let bearable = self.bearable(s.level.expected, s.next - s.at);
        let gentle = bearable.min(self.system.ruler_down(half + self.rise()));
        let covers = self.system.ruler_up(self.level(lines.reserve_volume + to_next)).min(bearable);
        let enough = self.system.ruler_up(self.level(lines.reserve_volume + rest));
        let to = gentle.max(covers).min(enough);
        (will_run_dry && low_enough && rest > 0.0 && to > s.level.expected).then_some(to)
    }

    /// What low, expected and high use leave after something is poured: each goes to the line, but
    /// none rises more than the roots bear (L).
    fn poured(&self, event: &Event, target: f64, left: [f64; 3], days: f64) -> [f64; 3] {
        let days = if matches!(event, Event::ChangeOut(_)) { 1.0 } else { days };
        left.map(|v| {
            let bears = self.volume(self.bearable(self.level(v), days));
            match event {
                // All of it goes out, so it may also come back lower.
                Event::ChangeOut(_) => bears,
                Event::TopUp(_) => v.max(target.min(bears)),
            }
        })
    }

    /// Days a rise is spread over. What no ruler shows asks for no day more.
    fn pours(&self, rise: f64) -> u32 {
        (1..=20).find(|n| rise / f64::from(*n) <= self.rise() + UNREAD).unwrap_or(20)
    }
}
