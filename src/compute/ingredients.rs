//! What water and feeds are made of, as the chemistry counts it.

use super::mixing::{FeedDose, Mixing};
use crate::library::Library;
use crate::plan::{Feed, LabelRate, Plan, Water};
use crate::science::electrolyte;
use crate::science::speciation::{AIR, Solution};
use crate::science::species::{Amounts, COMPONENTS, Component, Constants};

/// Milligrams of calcium carbonate in a milliequivalent (Bailey, NC State: 50.04).
const EQUIVALENT: f64 = 50.04;

/// The water, closed; whether its pH had to be assumed.
pub(super) fn water(
    c: &Constants<'_>,
    report: &Water,
    alkalinity: f64,
    library: &Library,
) -> Option<(Solution, bool)> {
    let ions = ions(report, library);
    let equivalents = alkalinity / EQUIVALENT / 1000.0;
    let ph = report.ph.or_else(|| resting_ph(c, &ions, equivalents));
    let water = electrolyte::water(c, &ions, equivalents, ph?)?;
    // A water this acid for its alkalinity would fizz; its pH was read wrong.
    let gas = water.equilibrium(c).map_or(f64::INFINITY, |e| {
        e.species
            .iter()
            .zip(&c.table.species)
            .filter(|(_, s)| s.name == "CO2")
            .map(|(m, _)| m)
            .sum::<f64>()
            / c.henry
    });
    (gas < FIZZY).then_some((water, report.ph.is_none()))
}

/// Pressure of carbon dioxide that no tap or well water keeps (atm); deep wells have a tenth.
const FIZZY: f64 = 0.3;

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

/// What a water brings of each element (mg/L), as far as its report says.
pub(super) fn of_water(report: &Water, library: &Library) -> Vec<(String, f64)> {
    let asked = [
        ("Ca", report.calcium, 1.0),
        ("Mg", report.magnesium, 1.0),
        ("Na", report.sodium, 1.0),
        ("K", report.potassium, 1.0),
        ("Cl", report.chloride, 1.0),
        ("S", report.sulfate, library.share("SO4")),
        ("N", report.nitrate, library.share("NO3")),
    ];
    let known = asked.into_iter().filter_map(|(e, mg, share)| Some((e.to_string(), mg? * share)));
    known.filter(|(_, mg)| *mg > 0.0).collect()
}

pub(super) fn left_out(report: &Water) -> Vec<&'static str> {
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

/// What the feeds bring (mol/L), made neutral with chloride or sodium; `None` if the weight of a
/// feed is not known.
///
/// Labels are rounded and leave chloride out, so the acid is never worked from their charge: the
/// form of the phosphate says what acid a blend brings, dihydrogen phosphate unless the plan says
/// otherwise. `doubt` is more base by so much for each phosphate of which the form is not known.
pub(super) fn feeds(
    plan: &Plan,
    mix: usize,
    mixing: &Mixing,
    library: &Library,
    doubt: f64,
) -> Option<Amounts> {
    let mut whole = [0.0; COMPONENTS];
    for dose in &mixing.feeds {
        let grams = grams_per_litre(plan, mix, dose)?;
        let feed = &plan.feeds[dose.feed];
        let salt = feed.salt.as_ref().and_then(|key| library.salts.get(key));
        // A salt is neutral by itself, and its phosphate is what its formula says.
        let own = match salt {
            Some(salt) => {
                let moles = grams / salt.molar_mass.value;
                salt.amounts(&library.species.charge).map(|n| moles * n)
            }
            None => blend(feed, grams, library, doubt)?,
        };
        whole.iter_mut().zip(own).for_each(|(all, n)| *all += n);
    }
    Some(whole)
}

/// Whether a feed of the mix leaves the form of its phosphate open.
pub(super) fn phosphate_open(plan: &Plan, mix: usize) -> bool {
    let open = |feed: &Feed| {
        let known = feed.salt.is_some() || feed.phosphate.is_some();
        !known && feed.contents.iter().any(|(f, share)| f.starts_with('P') && *share > 0.0)
    };
    plan.mixes[mix].parts.iter().any(|part| open(&plan.feeds[part.feed]))
}

/// Charge that labels leave open and that is made up with chloride or sodium (eq/L).
pub(super) fn made_up(plan: &Plan, mix: usize, mixing: &Mixing, library: &Library) -> f64 {
    let of_dose = |dose: &FeedDose| {
        let feed = &plan.feeds[dose.feed];
        let grams = grams_per_litre(plan, mix, dose)?;
        feed.salt.is_none().then(|| label(feed, grams, library, 0.0).map(|(_, q)| q.abs()))?
    };
    mixing.feeds.iter().filter_map(of_dose).sum()
}

/// Charge that the water report leaves open, made up likewise (eq/L).
pub(super) fn water_made_up(report: &Water, water: &Solution, library: &Library) -> f64 {
    let said = ions(report, library);
    let filled = [Component::Sodium as usize, Component::Chloride as usize];
    filled.into_iter().map(|i| (water.totals[i] - said[i]).abs()).sum()
}

/// What a labelled blend brings (mol/L), made neutral.
fn blend(feed: &Feed, grams: f64, library: &Library, doubt: f64) -> Option<Amounts> {
    let (mut all, charge) = label(feed, grams, library, doubt)?;
    let fill = if charge > 0.0 { Component::Chloride } else { Component::Sodium };
    all[fill as usize] += charge.abs();
    Some(all)
}

/// What a label says a blend brings (mol/L), and the charge that it leaves open (eq/L).
fn label(feed: &Feed, grams: f64, library: &Library, doubt: f64) -> Option<(Amounts, f64)> {
    let mut all = [0.0; COMPONENTS];
    for (form, percent) in &feed.contents {
        let Some(component) = component_of(form) else { continue };
        let form = library.forms.iter().find(|f| f.form == *form)?;
        let atom = library.element(&form.element).atomic_weight;
        let share = f64::from(form.atoms) * atom / form.molar_mass(library);
        all[component as usize] += grams * percent / 100.0 * share / atom;
    }
    let as_fed = match feed.phosphate {
        Some(protons) => f64::from(protons) - 3.0,
        None => -1.0 - doubt,
    };
    let charge: f64 = (0..COMPONENTS)
        .map(|i| {
            let own = f64::from(library.species.charge[i]);
            all[i] * if i == Component::Phosphate as usize { as_fed } else { own }
        })
        .sum();
    Some((all, charge))
}

fn grams_per_litre(plan: &Plan, mix: usize, dose: &FeedDose) -> Option<f64> {
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
