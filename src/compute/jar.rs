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
use crate::science::speciation::AIR;
use crate::science::species::{Amounts, COMPONENTS};

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
    /// pH then: the target, if the jar went as far as that dose.
    pub at_last: f64,
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
        let what = "dose in air, fitted to the jar";
        let d = take(sheet, "d", what, jar.in_all, MILLIMOLE_PER_LITRE, Origin::Found);
        let name = Name::new("dose-jar-open", "v_all", "Dose in all, in air, fitted to the jar");
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
    let in_all = unknown.in_solution(&solution).in_air(AIR).dose(&c, compound, target, MOST)?;
    // The jar's own reading says what gives the target today; the fit only says what comes of it.
    let now = own * per_ml;
    let stands = |x: Unknown, dose: f64| {
        let after = x.in_solution(&solution).with(compound, dose).in_air(AIR);
        after.equilibrium(&c).map_or(f64::NAN, |e| e.ph)
    };
    let (one, other) = (stands(alone, now), stands(unknown, now));
    // Never past the largest dose that was tried.
    let in_all = in_all.min(readings.last()?.0).max(now);
    // A strip's tenth of a pH in the readings is a tenth in what follows.
    let next_day = [one.min(other) - STRIP, one.max(other) + STRIP];
    Some(Jar {
        adjuster: trial.adjuster,
        unknown,
        feed_known: fed.is_some(),
        now: 1000.0 * now,
        next_day,
        in_all: 1000.0 * in_all,
        at_last: stands(unknown, in_all),
        bins: Vec::new(),
    })
}
