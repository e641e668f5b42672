//! What a jar trial in a known water tells of tomorrow: the feed's unknown acid and buffer, fitted,
//! and with them where the bin will stand in air.

use super::acidity::Acidity;
use super::fill::Worked;
use super::mixing::Mixing;
use super::reagent::strength;
use super::{Desk, bin_scope, fill, ingredients, take};
use crate::number::unit::{GRAM_PER_MOLE, MILLIMOLE_PER_LITRE};
use crate::number::{Name, Origin, Pen};
use crate::plan::Trial;
use crate::science::buffer::{self, Unknown};
use crate::science::dosing::DoseVolume;
use crate::science::speciation::{AIR, Solution};
use crate::science::species::{Amounts, COMPONENTS, Constants};

/// What a jar trial and the water report tell together.
#[derive(Debug, Clone, PartialEq)]
pub struct Jar {
    /// Index into the plan's adjusters.
    pub adjuster: usize,
    /// What the label does not tell.
    pub unknown: Unknown,
    /// Whether the feed's make-up was counted.
    pub feed_known: bool,
    /// Dose that gives the target at once (mmol/L).
    pub now: f64,
    /// pH the day after the jar's own dose, in air: lowest and highest that the readings allow.
    pub next_day: [f64; 2],
    /// Dose in all that gives the target in air (mmol/L).
    pub in_all: f64,
    /// pH then, lowest and highest: the target, if the jar went as far as that dose and the fit is good.
    pub at_last: [f64; 2],
    /// The same for each bin of the solution (mL).
    pub bins: Vec<f64>,
}

/// What a strip or a cheap meter is good for (pH).
const STRIP: f64 = 0.1;

/// No dose is sought beyond this (mol/L).
const MOST: f64 = 0.02;

/// Fits the first jar trial of a mix; `None` without one, without the alkalinity of the water, or
/// where content or strength of the adjuster are not known.
pub(crate) fn work<'s>(
    desk: &Desk<'s>,
    mix: usize,
    fills: &[Worked<'s>],
    mixing: &Mixing,
    acidity: &Acidity,
) -> Option<Jar> {
    let (plan, library) = (desk.plan, desk.library);
    let trial: &Trial = plan.mixes[mix].trials.first()?;
    plan.water.alkalinity?;
    let adjuster = &plan.adjusters[trial.adjuster];
    let substance = library.substances.get(adjuster.substance.as_ref()?)?;
    let sheet = desk.sheet;
    sheet.about(&super::batch_scope(&plan.mixes[mix].name));
    let from = &substance.molar_mass;
    let molar = take(sheet, "M", "molar mass", from.value, GRAM_PER_MOLE, fill::data(from));
    let c = strength(sheet, adjuster, substance, molar)?;
    let fed = ingredients::feeds(plan, mix, mixing, library, 0.0);
    let own = acidity.trials.iter().find(|t| t.adjuster == trial.adjuster)?.dose?;
    let jar = fit(desk, trial, c.number(), &substance.amounts(), fed, (acidity.target, own))?;
    let bins = mixing.bins.iter().map(|bin| {
        sheet.about(&bin_scope(&plan.bins[*bin].name));
        let what = "dose in air, by jar and report";
        let d = take(sheet, "d", what, jar.in_all, MILLIMOLE_PER_LITRE, Origin::Found);
        let name = Name::new("dose-jar-open", "v_all", "Dose in all, in air, by jar and report");
        let formula = DoseVolume { d, v: fills[*bin].start_volume, c };
        sheet.work(&name.of(&adjuster.name), formula).number()
    });
    let bins = bins.collect();
    Some(Jar { bins, ..jar })
}

/// Fits the unknown and asks it for tomorrow; `strength` of the bottle in mmol/mL.
fn fit(
    desk: &Desk<'_>,
    trial: &Trial,
    strength: f64,
    compound: &Amounts,
    fed: Option<Amounts>,
    (target, own): (f64, f64),
) -> Option<Jar> {
    let report = &desk.plan.water;
    let c = desk.library.species.at(report.temperature);
    let (water, _) = ingredients::water(&c, report, report.alkalinity?, desk.library)?;
    let solution = water.with(&fed.unwrap_or([0.0; COMPONENTS]), 1.0);
    // Millimoles in a millilitre, over the litres of the sample, over 1000: mol/L.
    let per_ml = strength / trial.sample / 1000.0;
    let readings: Vec<(f64, f64)> =
        trial.readings.iter().map(|(ml, ph)| (ml * per_ml, *ph)).collect();
    let (alone, both) = buffer::fit(&c, &solution, compound, &readings)?;
    let unknown = both.unwrap_or(alone);
    // A curve that does not come near its readings is held beside what water and label say.
    let poor = unknown.off > buffer::POOR && fed.is_some();
    let counted = Unknown { base: 0.0, buffer: 0.0, ..unknown };
    let may = [alone, unknown, if poor { counted } else { unknown }];
    let bench = Bench { c: &c, solution, compound };
    let counted = bench.in_all(counted, target).filter(|_| poor).unwrap_or(f64::INFINITY);
    // The jar's own reading says what gives the target today; the fit only says what comes of it.
    // Never past the largest dose that was tried.
    let now = own * per_ml;
    let in_all = counted.min(bench.in_all(unknown, target)?).min(readings.last()?.0).max(now);
    let [low, high] = bench.stands(may, now);
    Some(Jar {
        adjuster: trial.adjuster,
        unknown,
        feed_known: fed.is_some(),
        now: 1000.0 * now,
        // A strip's tenth of a pH in the readings is a tenth in what follows.
        next_day: [low - STRIP, high + STRIP],
        in_all: 1000.0 * in_all,
        at_last: bench.stands(may, in_all),
        bins: Vec::new(),
    })
}

/// The solution of the jar as it was counted, and what goes into it.
struct Bench<'a> {
    c: &'a Constants<'a>,
    solution: Solution,
    compound: &'a Amounts,
}

impl Bench<'_> {
    /// Dose (mol/L) that gives the target in air, with what the jar told.
    fn in_all(&self, told: Unknown, target: f64) -> Option<f64> {
        told.in_solution(&self.solution).in_air(AIR).dose(self.c, self.compound, target, MOST)
    }

    /// Lowest and highest pH in air after a dose (mol/L), by all that may be so.
    fn stands(&self, may: [Unknown; 3], dose: f64) -> [f64; 2] {
        let all = may.map(|told| {
            let after = told.in_solution(&self.solution).with(self.compound, dose).in_air(AIR);
            after.equilibrium(self.c).map_or(f64::NAN, |e| e.ph)
        });
        [all.into_iter().fold(f64::NAN, f64::min), all.into_iter().fold(f64::NAN, f64::max)]
    }
}
