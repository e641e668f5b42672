//! What a jar trial in a known water tells of tomorrow: the feed's unknown acid and buffer, fitted,
//! and with them where the bin will stand in air.

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
    /// pH the day after that dose, in air.
    pub next_day: f64,
    /// Dose in all that gives the target in air (mmol/L).
    pub in_all: f64,
    /// The same for each bin of the solution (mL).
    pub bins: Vec<f64>,
}

/// No dose is sought beyond this (mol/L).
const MOST: f64 = 0.02;

/// Fits the first jar trial of a mix; `None` without one, without the alkalinity of the water, or
/// where content or strength of the adjuster are not known.
pub(crate) fn work<'s>(
    desk: &Desk<'s>,
    mix: usize,
    fills: &[Worked<'s>],
    mixing: &Mixing,
    target: f64,
) -> Option<Jar> {
    let (plan, library) = (desk.plan, desk.library);
    let trial: &Trial = plan.mixes[mix].trials.first()?;
    let adjuster = &plan.adjusters[trial.adjuster];
    let substance = library.substances.get(adjuster.substance.as_ref()?)?;
    let sheet = desk.sheet;
    sheet.about(&super::batch_scope(&plan.mixes[mix].name));
    let from = &substance.molar_mass;
    let molar = take(sheet, "M", "molar mass", from.value, GRAM_PER_MOLE, fill::data(from));
    let c = strength(sheet, adjuster, substance, molar, "bottle-strength-in-jar")?;
    let fed = ingredients::feeds(plan, mix, mixing, library, 0.0);
    let jar = fit(desk, trial, c.number(), &substance.amounts(), fed, target)?;
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
    target: f64,
) -> Option<Jar> {
    let report = &desk.plan.water;
    let c = desk.library.species.at(report.temperature);
    let (water, _) = ingredients::water(&c, report, report.alkalinity?, desk.library)?;
    let solution = water.with(&fed.unwrap_or([0.0; COMPONENTS]), 1.0);
    // Millimoles in a millilitre, over the litres of the sample, over 1000: mol/L.
    let per_ml = strength / trial.sample / 1000.0;
    let readings: Vec<(f64, f64)> =
        trial.readings.iter().map(|(ml, ph)| (ml * per_ml, *ph)).collect();
    let unknown = buffer::fit(&c, &solution, compound, &readings)?;
    let true_one = unknown.in_solution(&solution);
    let in_all = true_one.in_air(AIR).dose(&c, compound, target, MOST)?;
    let now = true_one.dose(&c, compound, target, MOST).unwrap_or(0.0).min(in_all);
    let after = true_one.with(compound, now).in_air(AIR);
    Some(Jar {
        adjuster: trial.adjuster,
        unknown,
        feed_known: fed.is_some(),
        now: 1000.0 * now,
        next_day: after.equilibrium(&c)?.ph,
        in_all: 1000.0 * in_all,
        bins: Vec::new(),
    })
}
