//! A bin's solution followed from check to check: what is drunk, what is poured.

use jiff::civil::Date;

use super::drift::{EMPTY, With};
use super::mixing::Added;
use super::season::{Check, Event};
use crate::number::{Formula, Traced};
use crate::science::drift::Drifted;

/// Milligrams of an ion that carry one milliequivalent of positive charge: atomic weights over
/// charges. The conductivity of a nutrient solution goes with its cations (a tenth of a mS/cm each
/// milliequivalent, 6 % off in the median of 322 worked solutions).
const CATIONS: [(&str, f64); 4] = [("K", 39.098), ("Ca", 20.039), ("Mg", 12.153), ("Na", 22.990)];

/// Above this part of the start conductivity a top-up is plain water, below the other it is of full
/// strength (common practice, no source).
const STRONG: f64 = 1.3;
const WEAK: f64 = 0.7;
/// With less than this part of nitrogen or potassium a top-up is of full strength too.
const HUNGRY: f64 = 0.5;
/// With less than this part of one of them the plants starve.
const STARVED: f64 = 0.1;
/// The elements that run down first.
const FIRST: [&str; 2] = ["N", "K"];

/// A bin followed from check to check.
pub(super) struct Walk<'a> {
    added: &'a [Added],
    /// Taken with each litre of each element (mg/L).
    rates: Vec<f64>,
    /// First filling (L).
    filling: f64,
    /// Solution now (L).
    v: f64,
    /// Of each element now (mg/L).
    now: Vec<f64>,
    /// Of each element put in since the last change (mg).
    pub(super) masses: Vec<f64>,
    pub(super) days: Vec<Vec<f64>>,
    pub(super) conductivity: Vec<f64>,
    pub(super) with: Vec<Option<With>>,
    /// On each check day, whether the solution is too strong and too poor at once.
    pub(super) spent: Vec<bool>,
    /// First day without one of the elements that run down first.
    pub(super) starved: Option<(Date, &'static str)>,
}

impl<'a> Walk<'a> {
    pub(super) fn new(filling: f64, added: &'a [Added], uptake: &[(String, Traced<'_>)]) -> Self {
        let rate = |e: &Added| {
            let own = uptake.iter().find(|(symbol, _)| *symbol == e.symbol);
            own.map_or(0.0, |(_, u)| u.number())
        };
        Self {
            added,
            rates: added.iter().map(rate).collect(),
            filling,
            v: filling,
            now: start(added),
            masses: added.iter().map(|e| e.all * filling).collect(),
            days: vec![Vec::new(); added.len()],
            conductivity: Vec::new(),
            with: Vec::new(),
            spent: Vec::new(),
            starved: None,
        }
    }

    /// Lets the plants drink until a check day, then does what is planned for it.
    pub(super) fn to(&mut self, check: &Check) {
        let empty = check.left < EMPTY * self.filling;
        for (i, c) in self.now.iter_mut().enumerate() {
            if !empty {
                let (v, u) = (self.v, self.rates[i]);
                let formula = Drifted { c: *c, v, u, drunk: check.drunk, left: check.left };
                *c = formula.value().max(0.0);
            }
            self.days[i].push(*c);
        }
        let at_first = cations(self.added, &start(self.added)).max(1e-9);
        let part = cations(self.added, &self.now) / at_first;
        self.conductivity.push(part);
        let (element, rest) = scarcest(self.added, &self.now);
        if rest < STARVED && !empty {
            self.starved.get_or_insert((check.day, element));
        }
        self.spent.push(is_spent([part, rest]) && !empty);
        self.v = check.left;
        let poured = top_up(check.event.as_ref(), [part, rest]);
        let change = matches!(check.event, Some(Event::ChangeOut(_)));
        self.with.push(poured.map(|(with, ..)| with).filter(|_| !change));
        if let Some((_, strength, litres)) = poured {
            self.pour(change, strength, litres);
        }
    }

    /// Adds solution of a strength; a change empties the bin first.
    fn pour(&mut self, change: bool, strength: f64, litres: f64) {
        let kept = if change { 0.0 } else { self.v };
        for (i, e) in self.added.iter().enumerate() {
            // Plain water brings its own minerals too.
            let fresh = (e.water.unwrap_or(0.0) + strength * e.amount) * litres;
            self.masses[i] = if change { fresh } else { self.masses[i] + fresh };
            self.now[i] = (self.now[i] * kept + fresh) / (kept + litres).max(1e-9);
        }
        self.v = kept + litres;
    }
}

fn start(added: &[Added]) -> Vec<f64> {
    added.iter().map(|e| e.all).collect()
}

/// Positive charges (meq/L).
fn cations(added: &[Added], now: &[f64]) -> f64 {
    let charge = |(e, mg): (&Added, &f64)| {
        let of = CATIONS.iter().find(|(symbol, _)| *symbol == e.symbol);
        of.map_or(0.0, |(_, weight)| mg / weight)
    };
    added.iter().zip(now).map(charge).sum()
}

/// Of nitrogen and potassium the scarcer, as a part of what it was at first.
fn scarcest(added: &[Added], now: &[f64]) -> (&'static str, f64) {
    let part = |symbol: &&'static str| {
        let (e, mg) = added.iter().zip(now).find(|(e, _)| e.symbol == *symbol)?;
        (e.all > 0.0).then_some((*symbol, mg / e.all))
    };
    FIRST.iter().filter_map(part).min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or(("N", 1.0))
}

/// Strong and hungry at once.
fn is_spent([conductivity, rest]: [f64; 2]) -> bool {
    conductivity > STRONG && rest < HUNGRY
}

/// What to top up with, at what strength, and litres. Strong and hungry at once is no case for a
/// top-up: the salts that are left are those the plants do not want.
fn top_up(event: Option<&Event>, [conductivity, rest]: [f64; 2]) -> Option<(With, f64, f64)> {
    let pour = match event? {
        Event::ChangeOut(pour) => return Some((With::Full, 1.0, pour.litres)),
        Event::TopUp(pour) => pour,
    };
    let (with, strength) = match conductivity {
        c if is_spent([c, rest]) => (With::Spent, 0.0),
        c if c > STRONG => (With::Plain, 0.0),
        c if c < WEAK || rest < HUNGRY => (With::Full, 1.0),
        _ => (With::Half, 0.5),
    };
    Some((with, strength, pour.litres))
}
