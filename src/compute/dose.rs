//! The dose that counts: one for each solution, in portions for the first day and the days after.
//! Jar trial before last time before water report, for the nearer to the bin a dose was tried the
//! better it is.

use super::acidity::{Acidity, BinDose};
use super::chemistry::Chemistry;
use super::jar::Jar;
use crate::library::Limits;
use crate::plan::Plan;

/// What a dose rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// A jar trial with the mixed solution.
    Jar,
    /// What worked last time.
    LastTime,
    /// Water report and feed.
    Report,
}

/// Portions for one bin (mL, or g of a powder).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Portions {
    /// First part, on the first day.
    pub first: f64,
    /// Each step after it on the first day; 0 where the rest has to wait.
    pub step: f64,
    /// Not more on the first day.
    pub today: f64,
    /// Each step on a later day.
    pub later: f64,
    /// Not more in all days together.
    pub all: f64,
}

impl Portions {
    /// The same for a part of the bin.
    #[must_use]
    pub fn times(&self, part: f64) -> Self {
        Self {
            first: part * self.first,
            step: part * self.step,
            today: part * self.today,
            later: part * self.later,
            all: part * self.all,
        }
    }
}

/// What a solution takes to bring its pH into range.
#[derive(Debug, Clone, PartialEq)]
pub struct Dose {
    /// Index into the plan's adjusters.
    pub adjuster: usize,
    /// Whether it moves pH up.
    pub up: bool,
    /// What it rests on.
    pub basis: Basis,
    /// Portions of each bin of the solution, in the order of its bins.
    pub bins: Vec<Portions>,
}

/// pH to expect, lowest and highest, where it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// Just mixed.
    pub mixed: [f64; 2],
    /// After the dose of the first day, if there is one.
    pub dosed: Option<[f64; 2]>,
    /// The day after, before more is added.
    pub next_day: Option<[f64; 2]>,
    /// When all was added and carbon dioxide has left.
    pub at_last: Option<[f64; 2]>,
}

/// Less than this is less than a drop (mL).
const DROP: f64 = 0.05;

/// A step, from what is left: a part of it, by hand.
fn steps(rest: f64, share: f64, dry: bool) -> f64 {
    let step = share * share * rest;
    if dry { step } else { step.max(DROP.min(rest)) }
}

/// The dose of a solution; `None` if nothing gives one.
pub(crate) fn work(
    plan: &Plan,
    limits: &Limits,
    (acidity, jar, chemistry): (&Acidity, Option<&Jar>, Option<&Chemistry>),
) -> Option<Dose> {
    by_jar(acidity, jar).or_else(|| last_time(plan, acidity)).or_else(|| by_report(chemistry?)).map(
        |(dose, most)| {
            let share = limits.dose_stage_share.value;
            let dry = plan.adjusters[dose.adjuster].dry;
            let portions = |m: &Most| m.portions(share, (dose.up, dry));
            Dose { bins: most.iter().map(portions).collect(), ..dose }
        },
    )
}

/// Most for the first day and for all days (mL or g).
struct Most {
    today: f64,
    all: f64,
}

impl Most {
    fn portions(&self, share: f64, (up, dry): (bool, bool)) -> Portions {
        // In range by the forecast, and yet it may read out of it: half may go in on the first day.
        let due = if self.today > 0.0 { self.today } else { share * self.all };
        let first = share * due;
        let rest = due - first;
        if up {
            // What is left of a base waits, for the pH rises by itself.
            let later = steps(self.all - first, share, dry);
            return Portions { first, step: 0.0, today: first, later, all: self.all };
        }
        let step = steps(rest, share, dry);
        let later = if self.all - due > step { steps(self.all - due, share, dry) } else { step };
        Portions { first, step, today: due, later, all: self.all }
    }
}

fn of(adjuster: usize, up: bool, basis: Basis) -> Dose {
    Dose { adjuster, up, basis, bins: Vec::new() }
}

fn by_jar(acidity: &Acidity, jar: Option<&Jar>) -> Option<(Dose, Vec<Most>)> {
    let trial = acidity.trials.iter().find(|t| t.dose.is_some())?;
    let jar = jar.filter(|j| j.adjuster == trial.adjuster);
    let most = trial.bins.iter().enumerate().map(|(i, today)| {
        let all = jar.map_or(today.whole, |j| j.bins[i].max(today.whole));
        Most { today: today.whole, all }
    });
    Some((of(trial.adjuster, trial.up, Basis::Jar), most.collect()))
}

fn last_time(plan: &Plan, acidity: &Acidity) -> Option<(Dose, Vec<Most>)> {
    let (adjuster, bins) = acidity.last_time.as_ref()?;
    let most = |dose: &BinDose| Most { today: dose.whole, all: dose.whole };
    let dose = of(*adjuster, plan.adjusters[*adjuster].up, Basis::LastTime);
    Some((dose, bins.iter().map(most).collect()))
}

fn by_report(chemistry: &Chemistry) -> Option<(Dose, Vec<Most>)> {
    let dosing = chemistry.dosing.as_ref().filter(|_| !chemistry.jar_differs)?;
    let most = |[today, all]: &[f64; 2]| Most { today: *today, all: *all };
    let dose = of(dosing.adjuster, dosing.up, Basis::Report);
    Some((dose, dosing.bins.iter().map(most).collect()))
}

/// What the solution will read; `None` if nothing tells.
#[must_use]
pub fn expected(
    acidity: &Acidity,
    jar: Option<&Jar>,
    chemistry: Option<&Chemistry>,
    dose: Option<&Dose>,
) -> Option<Expected> {
    let target = Some([acidity.target; 2]);
    match dose.map(|d| d.basis) {
        Some(Basis::Jar) => {
            let trial = acidity.trials.iter().find(|t| t.dose.is_some())?;
            let mixed = [trial.readings.first()?.1; 2];
            let jar = jar.filter(|j| j.adjuster == trial.adjuster);
            let next_day = jar.map(|j| j.next_day);
            let at_last = jar.map(|j| [j.at_last; 2]);
            Some(Expected { mixed, dosed: target, next_day, at_last })
        }
        Some(Basis::LastTime) => {
            let chemistry = chemistry?;
            let inside = !acidity.outside(chemistry.closed.ph);
            let dosed = if inside { None } else { Some(acidity.range) };
            let next_day = inside.then_some(chemistry.open_band);
            let at_last = Some(acidity.range);
            Some(Expected { mixed: chemistry.closed_band, dosed, next_day, at_last })
        }
        Some(Basis::Report) => {
            let chemistry = chemistry?;
            let dosing = chemistry.dosing.as_ref()?;
            let dosed = (dosing.closed > 0.0).then_some([dosing.after.ph; 2]);
            let at_last = (dosing.open > dosing.closed).then_some([dosing.at_last.ph; 2]);
            let next_day = Some(dosing.next_day_band);
            Some(Expected { mixed: chemistry.closed_band, dosed, next_day, at_last })
        }
        None => {
            let chemistry = chemistry?;
            let jar = acidity.trials.iter().find_map(|t| t.readings.first());
            let mixed = jar.map_or(chemistry.closed_band, |r| [r.1; 2]);
            let next_day = Some(chemistry.open_band);
            Some(Expected { mixed, dosed: None, next_day, at_last: None })
        }
    }
}
