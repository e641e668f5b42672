//! Stretches between readings of a log: what is compared with what, and what cannot be.

use super::review::Look;
use crate::log::Row;
use crate::number::figures;

/// A fall of more than this times what was planned is no drinking.
const FALL: f64 = 4.0;
/// Less than this part of what was planned, where much was planned, is no drinking plant.
const STILL: f64 = 0.05;
/// A rise of less than this is the ruler, not a top-up (mm).
const RISE: f64 = 6.0;

/// What a stretch tells.
#[derive(Debug, Clone, Copy)]
pub(super) struct Told {
    /// Drunk by the plants, as planned (L).
    pub(super) planned: f64,
    /// Drunk in truth, losses taken off (L).
    pub(super) used: f64,
    /// What the ruler may be off (L).
    pub(super) ruler: f64,
}

/// A stretch is expected to stray from its curve by this times the square of the plan's spread, so
/// that it counts half as much as the plan ...
const STRAY: f64 = 2.0;
/// ... as if so many stretches had told it, before the stretches themselves tell.
const HEARD: f64 = 3.0;

/// Real use over planned use, and its standard deviation, for the spread of the plan (a standard
/// deviation, as a part of what is expected).
pub(super) fn fit(spread: f64, told: &[Told]) -> (f64, f64) {
    let prior = STRAY * spread * spread;
    let (first, _) = mean(spread, prior, told);
    // How far the stretches are from each other, beyond what the ruler explains.
    let off = |t: &Told| {
        let (ratio, ruler) = (t.used / t.planned, t.ruler / t.planned);
        ((ratio - first) * (ratio - first) - 2.0 * ruler * ruler).max(0.0)
    };
    let scatter: f64 = told.iter().map(off).sum();
    let count = told.iter().fold(0.0, |n, _| n + 1.0);
    mean(spread, (HEARD * prior + scatter) / (HEARD + count), told)
}

/// Weighted mean of 1 and of each stretch, and its deviation.
fn mean(spread: f64, stray: f64, told: &[Told]) -> (f64, f64) {
    let mut weight = 1.0 / (spread * spread);
    let mut sum = weight;
    for t in told {
        let doubt = 2.0 * t.ruler * t.ruler + stray * t.planned * t.planned;
        weight += t.planned * t.planned / doubt;
        sum += t.planned * t.used / doubt;
    }
    (sum / weight, 1.0 / libm::sqrt(weight))
}

/// Readings one by one: what is compared with what.
pub(super) struct Stretches<'a> {
    look: &'a Look<'a>,
    /// Day and litres that the next reading is compared with.
    pub(super) base: (f64, f64),
    /// A reading that could not be, until the next one tells.
    odd: Option<(f64, f64)>,
}

impl<'a> Stretches<'a> {
    /// From the first filling on.
    pub(super) fn new(look: &'a Look<'a>, filled: f64) -> Self {
        Self { look, base: (0.0, filled), odd: None }
    }

    /// A reading: since when, and what was used; `None` if it cannot be.
    pub(super) fn read(&mut self, row: &Row, at: f64, level: f64) -> (f64, Option<f64>) {
        let volume = self.look.volume(level);
        let now = (at, volume);
        let since = self.base.0;
        if at <= since {
            self.base = now;
            return (since, None);
        }
        let Some(why) = self.impossible(self.base, now, level) else {
            let used = (self.base.1 - volume).max(0.0);
            (self.base, self.odd) = (now, None);
            return (since, Some(used));
        };
        // Two that agree with each other and not with the rest: something did happen before.
        if let Some(odd) = self.odd
            && self.impossible(odd, now, level).is_none()
        {
            (self.base, self.odd) = (now, None);
            return (odd.0, Some((odd.1 - volume).max(0.0)));
        }
        let help = "nothing is learnt from it: mend a slip of the pencil; write what was added into the \
                    row of the day it was added; look for a leak";
        let code = if why.contains("rose") { "level-rose" } else { "level-odd" };
        self.look.say(row, code, &why, help);
        self.odd = Some(now);
        (since, None)
    }

    /// Why a stretch cannot be, if it cannot.
    fn impossible(&self, from: (f64, f64), to: (f64, f64), level: f64) -> Option<String> {
        let look = self.look;
        let name = &look.bin.name;
        let show = |mm: f64| figures::decimals(mm, 0);
        if level > look.level(from.1) + RISE {
            let level = show(level);
            return Some(format!(
                "the level of \"{name}\" rose to {level} mm though nothing was added"
            ));
        }
        let (used, planned) = (from.1 - to.1, look.planned(from.0, to.0));
        let ruler = 2.0 * look.ruler(level);
        let litres = |v: f64| figures::plain(v, 3);
        if used > FALL * planned + 2.0 * ruler {
            let (used, planned) = (litres(used), litres(planned));
            return Some(format!("\"{name}\" lost {used} L where {planned} L were planned"));
        }
        if planned > 4.0 * ruler && used < STILL * planned {
            let days = figures::decimals(to.0 - from.0, 0);
            return Some(format!("the level of \"{name}\" stood still for {days} days"));
        }
        None
    }

    /// What went in after a reading; a change empties the bin first.
    pub(super) fn pour(&mut self, changed: bool, litres: f64) {
        if changed {
            (self.base.1, self.odd) = (litres, None);
            return;
        }
        self.base.1 += litres;
        if let Some(odd) = &mut self.odd {
            odd.1 += litres;
        }
    }
}
