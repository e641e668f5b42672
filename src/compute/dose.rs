//! The dose that counts: one for each solution, in portions for the first day and the days after.
//! Jar trial before last time before water report, for the nearer to the bin a dose was tried the
//! better it is.

use super::acidity::{Acidity, BinDose};
use super::chemistry::Chemistry;
use super::jar::Jar;
use crate::library::Limits;
use crate::plan::Plan;
use crate::science::curve::Curve;

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
    /// Each step after it.
    pub step: f64,
    /// Not more on the first day.
    pub today: f64,
    /// Not more in all days together.
    pub all: f64,
}

impl Portions {
    /// The same for a part of the bin.
    #[must_use]
    pub fn times(&self, part: f64) -> Self {
        let Self { first, step, today, all } = self;
        Self { first: part * first, step: part * step, today: part * today, all: part * all }
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
        // Small enough to stop in range, and few enough to be done in an hour.
        let step = (share * share * share * self.all).min(share * first);
        let step = if dry { step } else { step.max(DROP.min(first)) };
        // What is left of a base waits, for the pH rises by itself.
        let today = if up { first } else { due };
        Portions { first, step, today, all: self.all }
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
    limits: &Limits,
) -> Option<Expected> {
    let share = limits.dose_stage_share.value;
    match dose.map(|d| d.basis) {
        Some(Basis::Jar) => of_jar(acidity, jar, (dose?.up, share)),
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
            let mixed = chemistry.closed_band;
            let at_last = Some(dosing.at_last_band);
            if dosing.up {
                // Half of a base goes in on the first day, and nobody asked what it reads then.
                return Some(Expected { mixed, dosed: None, next_day: None, at_last });
            }
            let dosed = (dosing.closed > 0.0).then_some(dosing.after_band);
            let at_last = at_last.filter(|_| dosing.open > dosing.closed);
            Some(Expected { mixed, dosed, next_day: Some(dosing.next_day_band), at_last })
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

/// What the jar read, and what it tells of the days after.
fn of_jar(acidity: &Acidity, jar: Option<&Jar>, (up, share): (bool, f64)) -> Option<Expected> {
    let trial = acidity.trials.iter().find(|t| t.dose.is_some())?;
    let mixed = [trial.readings.first()?.1; 2];
    let jar = jar.filter(|j| j.adjuster == trial.adjuster);
    let at_last = jar.map(|j| j.at_last);
    if up {
        // Half of a base goes in on the first day.
        let curve = Curve::through(&trial.readings)?;
        let part = share * trial.dose?;
        let dosed = Some([curve.at(part); 2]);
        return Some(Expected { mixed, dosed, next_day: None, at_last });
    }
    let dosed = Some([acidity.target; 2]);
    Some(Expected { mixed, dosed, next_day: jar.map(|j| j.next_day), at_last })
}
