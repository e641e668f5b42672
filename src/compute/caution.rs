//! What there is to say about the chemistry of a solution.

use super::Desk;
use super::acidity::Acidity;
use super::chemistry::{Chemistry, Dosing};
use super::jar::Jar;
use super::mixing::Mixing;
use super::reagent;
use crate::library::Substance;
use crate::number::figures;
use crate::plan::Adjuster;

/// The alkalinity of the water; says so if it is not known.
pub(super) fn alkalinity(desk: &Desk<'_>, mix: usize) -> Option<f64> {
    let known = desk.plan.water.alkalinity;
    if known.is_none() {
        desk.note("no-alkalinity", &desk.plan.mixes[mix].place, NO_ALKALINITY);
    }
    known
}

/// No water has this alkalinity at this pH.
pub(super) fn impossible(desk: &Desk<'_>, mix: usize) {
    let [what, help] = IMPOSSIBLE;
    desk.caution("impossible-water", &desk.plan.mixes[mix].place, what.into(), help);
}

/// Nothing in the plan moves pH the way it has to go.
pub(super) fn no_adjuster(desk: &Desk<'_>, mix: usize, up: bool) {
    if reagent::adjuster(desk, up).is_none() {
        desk.note("no-adjuster", &desk.plan.mixes[mix].place, NO_ADJUSTER);
    }
}

/// What to say of a water that cannot be.
const IMPOSSIBLE: [&str; 2] = [
    "no water has this alkalinity at this pH",
    "measure both again, the alkalinity with a drop kit, the pH of fresh water that does not fizz: \
     below pH 4.5 there is no alkalinity, and so low a pH with so much of it would be soda water",
];
/// What to say when the water report has no alkalinity.
const NO_ALKALINITY: [&str; 2] = [
    "without the alkalinity of the water no pH can be worked out",
    "a drop kit for aquarium or pool water measures it in a minute: write [water] alkalinity = \
     \"90 mg/L CaCO3\" and ph; until then the jar trial decides",
];
/// What to say when nothing in the plan brings the solution into range.
const NO_ADJUSTER: [&str; 2] = [
    "in air this solution leaves its pH range, and no adjuster of known strength brings it back",
    "write an [[adjuster]] that moves the right way, with contents and strength",
];

/// Whether the dose would be so large that it raises the level and thins the solution; says so.
pub(super) fn too_weak(
    desk: &Desk<'_>,
    mix: usize,
    adjuster: &Adjuster,
    substance: &Substance,
    dose: f64,
) -> bool {
    if adjuster.dry {
        return false;
    }
    let strength = adjuster.molar.or(adjuster.strength.map(|percent| {
        10.0 * percent * substance.density_at(percent) / substance.molar_mass.value
    }));
    let per_litre = strength.map_or(0.0, |c| 1000.0 * dose / c);
    let weak = per_litre > MOST_PER_LITRE;
    if weak {
        let ml = figures::plain(per_litre, 2);
        let message = format!("\"{}\" would take {ml} mL to a litre of solution", adjuster.name);
        let help = "so much thins the solution and raises the level over the pots: use a stronger \
                    bottle made for pH, or softer water";
        desk.caution("too-weak", &desk.plan.mixes[mix].place, message, help);
    }
    weak
}

/// Most of an adjuster that is printed (mL/L).
const MOST_PER_LITRE: f64 = 20.0;

/// Much citric acid feeds microbes.
pub(super) fn citric(desk: &Desk<'_>, mix: usize, dosing: Option<&Dosing>, jar: Option<&Jar>) {
    let Some(dosing) = dosing else { return };
    let adjuster = &desk.plan.adjusters[dosing.adjuster];
    let hard = desk.library.limits.citric_alkalinity.value;
    let alkalinity = desk.plan.water.alkalinity.unwrap_or(0.0);
    if adjuster.substance.as_deref() != Some("citric-acid") || alkalinity <= hard {
        return;
    }
    // Where a jar trial gives the dose, that is the dose.
    let jar = jar.filter(|jar| jar.adjuster == dosing.adjuster);
    let dose = jar.map_or(dosing.open, |jar| jar.in_all.max(jar.now));
    let mg = figures::plain(CITRIC * dose, 2);
    let message =
        format!("\"{}\" comes to {mg} mg/L of citric acid in this hard water", adjuster.name);
    let help = "microbes eat it within days, use up the oxygen and let the pH climb back: use another \
                acid, or mix with rainwater";
    desk.caution("citric-hard", &desk.plan.mixes[mix].place, message, help);
}

/// Molar mass of citric acid (g/mol).
const CITRIC: f64 = 192.12;

/// No dose of an adjuster gives the target.
pub(super) fn out_of_reach(desk: &Desk<'_>, mix: usize, adjuster: &Adjuster) {
    let message = format!("no dose of \"{}\" brings this solution into range", adjuster.name);
    let help = "check the water report; use an adjuster that moves pH further";
    desk.caution("out-of-reach", &desk.plan.mixes[mix].place, message, help);
}

/// Says so if the dose feeds more of an element than the aim bears.
pub(super) fn on_elements(desk: &Desk<'_>, mix: usize, mixing: &Mixing, dosing: Option<&Dosing>) {
    let Some(dosing) = dosing else { return };
    let batch = &desk.plan.mixes[mix];
    let name = &desk.plan.adjusters[dosing.adjuster].name;
    for (symbol, added) in &dosing.adds {
        let element = mixing.elements.iter().find(|e| e.symbol == *symbol);
        let Some((all, aim)) = element.and_then(|e| Some((e.all, e.aim?))) else { continue };
        // An aim set low for the dose's sake is still measured by what was published.
        let published = batch.aim.as_ref().and_then(|aim| {
            let recipe = desk.library.recipes.get(aim.recipe.as_ref()?)?;
            Some(aim.strength * recipe.aim.get(symbol)?)
        });
        let aim = published.map_or(aim, |p| p.max(aim));
        if all + added > TOO_MUCH * aim {
            let show = |mg| figures::plain(mg, 2);
            let message = format!(
                "with \"{name}\" the solution comes to hold {} mg/L of {symbol}, not {}",
                show(all + added),
                show(aim)
            );
            let help = "the dose feeds too: leave that element out of the aim or lower it, take \
                        softer water, or an adjuster that brings something else";
            desk.caution("dose-feeds", &batch.place, message, help);
        }
    }
}

/// This part above its aim, an element is reported.
const TOO_MUCH: f64 = 1.3;

/// Whether jar and report contradict each other; says so.
pub(super) fn jar_differs(
    desk: &Desk<'_>,
    mix: usize,
    chemistry: &Chemistry,
    acidity: &Acidity,
) -> bool {
    let Some(trial) = acidity.trials.first() else { return false };
    let start = trial.readings.first().map_or(chemistry.closed.ph, |r| r.1);
    if (start - chemistry.closed.ph).abs() <= START_APART {
        return false;
    }
    let show = |ph| figures::decimals(ph, 1);
    let message = format!(
        "the jar of \"{}\" began at pH {}, the water report says {}",
        desk.plan.mixes[mix].name,
        show(start),
        show(chemistry.closed.ph)
    );
    let help = "one of the two is wrong, and no dose is printed from the report: measure the alkalinity \
                again, check the feed's label and the meter, make a new jar trial";
    desk.caution("jar-differs", &desk.plan.mixes[mix].place, message, help);
    true
}

/// Further apart than this, the first reading of a jar and the report contradict each other (pH).
const START_APART: f64 = 0.7;

/// Says so if calcium phosphate may fall out of the solution as it will stand.
pub(super) fn cloudy(desk: &Desk<'_>, mix: usize, chemistry: &Chemistry) {
    let stands = match &chemistry.dosing {
        Some(dosing) => vec![dosing.after, dosing.next_day, dosing.at_last],
        None => vec![chemistry.closed, chemistry.open],
    };
    let worst = stands.iter().map(|r| r.brushite).fold(f64::NEG_INFINITY, f64::max);
    if worst > desk.library.limits.cloud_index.value {
        let batch = &desk.plan.mixes[mix];
        let message =
            format!("\"{}\" may cloud: calcium phosphate is above saturation", batch.name);
        let help = "read the pH on the day it is mixed and the next, and bring it into range; or mix \
                    it weaker; what has fallen out feeds nobody";
        desk.caution("may-cloud", &batch.place, message, help);
    }
}
