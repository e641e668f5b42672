//! pH and conductivity of a solution from the water report and the feed: what it reads just mixed
//! and in air, what dose brings it to the target now, and where it stands tomorrow.

use super::acidity::Acidity;
use super::fill::Worked;
use super::mixing::Mixing;
use super::{Desk, batch_scope, bin_scope, reagent};
use crate::library::Library;
use crate::plan::{Feed, LabelRate, Plan, Water};
use crate::science::electrolyte;
use crate::science::speciation::{AIR, Equilibrium, Solution};
use crate::science::species::{Amounts, COMPONENTS, Component, Constants};

/// What a meter would read, and what could fall out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// pH.
    pub ph: f64,
    /// Conductivity at 25 °C (mS/cm).
    pub conductivity: f64,
    /// Ionic strength (mmol/L).
    pub strength: f64,
    /// Saturation index of brushite, a calcium phosphate.
    pub brushite: f64,
    /// Saturation index of gypsum.
    pub gypsum: f64,
}

/// A dose and what comes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Dosing {
    /// Index into the plan's adjusters.
    pub adjuster: usize,
    /// Whether it moves pH up.
    pub up: bool,
    /// Dose now, in the closed pail (mmol/L), at most what is needed in all; 0 if it is in range.
    pub closed: f64,
    /// The same for an alkalinity 10 mg/L lower and higher (mmol/L).
    pub band: [f64; 2],
    /// Dose in all, once carbon dioxide has left (mmol/L); at least `closed`.
    pub open: f64,
    /// Reading after the closed dose.
    pub after: Reading,
    /// Reading after the closed dose and a day in air.
    pub next_day: Reading,
    /// Reading after the open dose, in air.
    pub at_last: Reading,
    /// Closed and open dose for each bin (mL, or g of a powder).
    pub bins: Vec<[f64; 2]>,
    /// What the open dose adds of each element (mg/L).
    pub adds: Vec<(String, f64)>,
}

/// Chemistry of a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Chemistry {
    /// Just mixed.
    pub closed: Reading,
    /// In air.
    pub open: Reading,
    /// A dose, if one is needed and an adjuster of known strength is there.
    pub dosing: Option<Dosing>,
    /// Dose (mmol/L) and pH of the closed and of the open solution, for the curve.
    pub curve: Vec<[f64; 3]>,
    /// For readings outside the range: reading and dose to the target (mmol/L), closed.
    pub lookup: Vec<[f64; 2]>,
    /// Whether the water's own pH was taken to be that in air, for want of a reading.
    pub assumed_ph: bool,
    /// What the water report leaves out, taken as nought.
    pub left_out: Vec<&'static str>,
}

/// How far the alkalinity of a test kit may be off (mg/L as CaCO₃): a drop.
const DROP: f64 = 10.0;

/// Milligrams of calcium carbonate in a milliequivalent.
const EQUIVALENT: f64 = 50.04;

/// Works the chemistry of one solution; `None` if water or feed are not known well enough.
pub(crate) fn work<'s>(
    desk: &Desk<'s>,
    mix: usize,
    fills: &[Worked<'s>],
    mixing: &Mixing,
    acidity: &Acidity,
) -> Option<Chemistry> {
    let plan = desk.plan;
    let constants = desk.library.species.at(plan.water.temperature);
    let feeds = feed_amounts(plan, mix, mixing, desk.library)?;
    let Some(alkalinity) = plan.water.alkalinity else {
        desk.note("no-alkalinity", &plan.mixes[mix].place, NO_ALKALINITY);
        return None;
    };
    let in_water =
        |alkalinity: f64| mixed(&constants, &plan.water, alkalinity, &feeds, desk.library);
    let Some((solution, assumed_ph)) = in_water(alkalinity) else {
        impossible(desk, mix);
        return None;
    };
    let closed = solution.equilibrium(&constants)?;
    let open = solution.in_air(AIR).equilibrium(&constants)?;
    desk.sheet.about(&batch_scope(&plan.mixes[mix].name));
    reagent::show_conductivity(desk.sheet, &constants, &closed);
    let bench = Bench { constants: &constants, solution, acidity };
    let [low, high] = [-DROP, DROP].map(|off| {
        in_water((alkalinity + off).max(0.0)).map_or(solution, |(solution, _)| solution)
    });
    let scopes = mixing.bins.iter().map(|b| bin_scope(&plan.bins[*b].name));
    let volumes: Vec<_> =
        scopes.zip(&mixing.bins).map(|(scope, b)| (scope, fills[*b].start_volume)).collect();
    let dosing = bench.dosing(desk, mix, [&closed, &open], [low, high], &volumes);
    if dosing.is_none() && bench.outside(&open) {
        desk.note("no-adjuster", &plan.mixes[mix].place, NO_ADJUSTER);
    }
    let chemistry = Chemistry {
        closed: reading(&constants, &closed),
        open: reading(&constants, &open),
        curve: bench.curve(desk, dosing.as_ref()),
        lookup: bench.lookup(desk, dosing.as_ref()),
        dosing,
        assumed_ph,
        left_out: left_out(&plan.water),
    };
    cloudy(desk, mix, &chemistry);
    Some(chemistry)
}

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

/// Says so if calcium phosphate may fall out of the solution as it will stand.
fn cloudy(desk: &Desk<'_>, mix: usize, chemistry: &Chemistry) {
    let stands = match &chemistry.dosing {
        Some(dosing) => vec![dosing.after, dosing.next_day, dosing.at_last],
        None => vec![chemistry.closed, chemistry.open],
    };
    let worst = stands.iter().map(|r| r.brushite).fold(f64::NEG_INFINITY, f64::max);
    if worst > desk.library.limits.cloud_index.value {
        let batch = &desk.plan.mixes[mix];
        let message =
            format!("\"{}\" may cloud: calcium phosphate is above saturation", batch.name);
        let help = "bring the pH into range on the day it is mixed and again the next day, or mix \
                    it weaker; what has fallen out feeds nobody";
        desk.caution("may-cloud", &batch.place, message, help);
    }
}

/// What a meter would read.
pub(super) fn reading(c: &Constants<'_>, e: &Equilibrium) -> Reading {
    Reading {
        ph: e.ph,
        conductivity: electrolyte::conductivity(c, e),
        strength: 1000.0 * e.strength,
        brushite: electrolyte::brushite(c, e),
        gypsum: electrolyte::gypsum(c, e),
    }
}

fn impossible(desk: &Desk<'_>, mix: usize) {
    let message = "no water has this alkalinity at this pH".to_string();
    let help = "below pH 4.5 there is no alkalinity: measure both again; the alkalinity with a \
                drop kit, the pH of fresh water";
    desk.caution("impossible-water", &desk.plan.mixes[mix].place, message, help);
}

/// The water with the feeds in it, closed; whether its pH had to be assumed.
fn mixed(
    c: &Constants<'_>,
    report: &Water,
    alkalinity: f64,
    feeds: &Amounts,
    library: &Library,
) -> Option<(Solution, bool)> {
    let ions = ions(report, library);
    let equivalents = alkalinity / EQUIVALENT / 1000.0;
    let ph = report.ph.or_else(|| resting_ph(c, &ions, equivalents));
    let water = electrolyte::water(c, &ions, equivalents, ph?)?;
    Some((water.with(feeds, 1.0), report.ph.is_none()))
}

/// pH of a water that has stood in air.
fn resting_ph(c: &Constants<'_>, ions: &Amounts, equivalents: f64) -> Option<f64> {
    let mut totals = *ions;
    let charge: f64 = (0..COMPONENTS).map(|i| f64::from(c.table.charge[i]) * ions[i]).sum();
    let short = equivalents - charge;
    let fill = if short > 0.0 { Component::Sodium } else { Component::Chloride };
    totals[fill as usize] += short.abs();
    let water = Solution { totals, air: Some(AIR) };
    water.equilibrium(c).map(|e| e.ph)
}

/// The ions of a water report (mol/L), without carbonate.
fn ions(report: &Water, library: &Library) -> Amounts {
    let weight = |symbol: &str| library.element(symbol).atomic_weight;
    let oxygen = weight("O");
    let mut all = [0.0; COMPONENTS];
    let mut set = |component: Component, mg: Option<f64>, mass: f64| {
        all[component as usize] = mg.unwrap_or(0.0) / mass / 1000.0;
    };
    set(Component::Calcium, report.calcium, weight("Ca"));
    set(Component::Magnesium, report.magnesium, weight("Mg"));
    set(Component::Sodium, report.sodium, weight("Na"));
    set(Component::Potassium, report.potassium, weight("K"));
    set(Component::Chloride, report.chloride, weight("Cl"));
    set(Component::Sulfate, report.sulfate, weight("S") + 4.0 * oxygen);
    set(Component::Nitrate, report.nitrate, weight("N") + 3.0 * oxygen);
    all
}

fn left_out(report: &Water) -> Vec<&'static str> {
    let asked = [
        ("calcium", report.calcium),
        ("magnesium", report.magnesium),
        ("sodium", report.sodium),
        ("potassium", report.potassium),
        ("chloride", report.chloride),
        ("sulfate", report.sulfate),
        ("nitrate", report.nitrate),
    ];
    asked.into_iter().filter(|(_, value)| value.is_none()).map(|(name, _)| name).collect()
}

/// What the feeds bring (mol/L), phosphorus as dihydrogen phosphate, made neutral with chloride
/// or sodium; `None` if the weight of a feed is not known.
///
/// Labels are rounded and leave chloride out, so the acid is never worked from their charge:
/// dihydrogen phosphate says what acid a blend brings.
fn feed_amounts(plan: &Plan, mix: usize, mixing: &Mixing, library: &Library) -> Option<Amounts> {
    let mut all = [0.0; COMPONENTS];
    for dose in &mixing.feeds {
        let grams = grams_per_litre(plan, mix, dose)?;
        for (form, percent) in &plan.feeds[dose.feed].contents {
            let Some(component) = component_of(form) else { continue };
            let form = library.forms.iter().find(|f| f.form == *form)?;
            let atom = library.element(&form.element).atomic_weight;
            let share = f64::from(form.atoms) * atom / form.molar_mass(library);
            all[component as usize] += grams * percent / 100.0 * share / atom;
        }
    }
    let charge: f64 = (0..COMPONENTS)
        .map(|i| {
            let own = f64::from(library.species.charge[i]);
            let as_fed = if i == Component::Phosphate as usize { -1.0 } else { own };
            as_fed * all[i]
        })
        .sum();
    let fill = if charge > 0.0 { Component::Chloride } else { Component::Sodium };
    all[fill as usize] += charge.abs();
    Some(all)
}

fn grams_per_litre(plan: &Plan, mix: usize, dose: &super::mixing::FeedDose) -> Option<f64> {
    let feed: &Feed = &plan.feeds[dose.feed];
    match feed.rate {
        LabelRate::Mass { .. } => Some(dose.rate),
        LabelRate::Spoons { .. } => {
            let pail = plan.mixes[mix].pail;
            dose.amounts.first()?.grams.map(|grams| grams / pail)
        }
        LabelRate::Liquid { density, .. } => density.map(|d| dose.rate * d),
    }
}

/// The component a label form brings; urea and micronutrients bring none that moves pH.
fn component_of(form: &str) -> Option<Component> {
    Some(match form {
        "N" | "N-nitrate" | "NO3" => Component::Nitrate,
        "N-ammonium" | "NH4" => Component::Ammonium,
        "P" | "P2O5" => Component::Phosphate,
        "K" | "K2O" => Component::Potassium,
        "Ca" | "CaO" => Component::Calcium,
        "Mg" | "MgO" => Component::Magnesium,
        "S" | "SO3" | "SO4" => Component::Sulfate,
        "Cl" => Component::Chloride,
        "Na" => Component::Sodium,
        _ => return None,
    })
}

/// A solution with what its pH is to be.
pub(super) struct Bench<'c> {
    /// Constants at the temperature of the water.
    pub(super) constants: &'c Constants<'c>,
    /// The mixed solution, closed.
    pub(super) solution: Solution,
    /// What to aim at.
    pub(super) acidity: &'c Acidity,
}
