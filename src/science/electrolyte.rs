//! What follows from an equilibrium: conductivity, saturation, the carbon of a water.

use super::root::root;
use super::speciation::{Equilibrium, Solution};
use super::species::{Amounts, Component, Constants};

/// Limiting molar conductivities of the proton and of hydroxide at 25 °C (S·cm²/mol): CRC
/// Handbook, table of Vanysek.
const PROTON: f64 = 349.65;
const HYDROXIDE: f64 = 198.0;

/// How conductivity falls with ionic strength: fitted in this project to 322 compositions worked
/// with PHREEQC, not published; mean 0.9 %, largest 3.6 % off.
const FALL: f64 = 0.46;

/// Conductivity at 25 °C (mS/cm) from free ions and charged pairs.
#[must_use]
pub fn conductivity(c: &Constants<'_>, e: &Equilibrium) -> f64 {
    let (sum, part) = conductivity_parts(c, e);
    sum * part
}

/// The sum over all ions (mS/cm), and how they hinder each other.
#[must_use]
pub fn conductivity_parts(c: &Constants<'_>, e: &Equilibrium) -> (f64, f64) {
    let free = e.free.iter().zip(&c.table.conductivity).map(|(m, l)| m * l);
    let pairs = e.species.iter().zip(&c.table.species).map(|(m, s)| m * s.conductivity);
    let water = e.water[0] * PROTON + e.water[1] * HYDROXIDE;
    let root = libm::sqrt(e.strength);
    (free.sum::<f64>() + pairs.sum::<f64>() + water, libm::exp10(-FALL * root / (1.0 + root)))
}

/// log₁₀ of the solubility product of brushite, CaHPO₄·2H₂O, at 25 °C: Gregory, Moreno & Brown
/// 1970, as in Dorozhkin 2010, Materials 3:3994, table 3. Its change from 15 to 30 °C is within
/// the noise of the rest.
const BRUSHITE: f64 = -6.59;
/// log₁₀ of the solubility product of gypsum, CaSO₄·2H₂O, at 25 °C: PHREEQC, Amm.dat.
const GYPSUM: f64 = -4.58;

/// log₁₀ of the solubility product of calcite, `CaCO₃`, at 25 °C: PHREEQC, Amm.dat. Its change from
/// 15 to 30 °C is 0.1.
const CALCITE: f64 = -8.48;

/// Saturation index of calcite, which is chalk and scale.
#[must_use]
pub fn calcite(c: &Constants<'_>, e: &Equilibrium) -> f64 {
    let calcium = e.activity(c, Component::Calcium);
    libm::log10(calcium * e.activity(c, Component::Carbonate)) - CALCITE
}

/// Saturation index of brushite: above 0 it may fall out. Minus infinity without its ions.
#[must_use]
pub fn brushite(c: &Constants<'_>, e: &Equilibrium) -> f64 {
    let calcium = e.activity(c, Component::Calcium);
    libm::log10(calcium * e.species_activity(c, "HPO4")) - BRUSHITE
}

/// Saturation index of gypsum.
#[must_use]
pub fn gypsum(c: &Constants<'_>, e: &Equilibrium) -> f64 {
    let calcium = e.activity(c, Component::Calcium);
    libm::log10(calcium * e.activity(c, Component::Sulfate)) - GYPSUM
}

/// A source water: its ions with the carbon that its alkalinity and pH stand for, and chloride or
/// sodium to make up what its report leaves out.
///
/// `alkalinity` in eq/L, `ph` of the water; `ions` (mol/L) without carbonate. `None` if no carbon
/// gives that alkalinity at that pH.
#[must_use]
pub fn water(c: &Constants<'_>, ions: &Amounts, alkalinity: f64, ph: f64) -> Option<Solution> {
    let carbonate = Component::Carbonate as usize;
    let with = |carbon: f64| {
        let mut totals = *ions;
        totals[carbonate] = carbon;
        Solution { totals, air: None }
    };
    let carbon =
        root(0.0, 1.0, 1e-12, |carbon| alkalinity_of(c, &with(carbon).at_ph(c, ph)) - alkalinity)?;
    let mut solution = with(carbon);
    // Reports leave ions out and round; chloride and sodium change neither pH nor alkalinity.
    let charge = solution.at_ph(c, ph).charge;
    let fill = if charge > 0.0 { Component::Chloride } else { Component::Sodium };
    solution.totals[fill as usize] += charge.abs();
    Some(solution)
}

/// Carbonate alkalinity: what acid it takes to turn all carbonate into carbon dioxide (eq/L).
fn alkalinity_of(c: &Constants<'_>, e: &Equilibrium) -> f64 {
    let carbonate = Component::Carbonate as usize;
    let species = e.species.iter().zip(&c.table.species);
    let holds = |s: &super::species::Species| s.first == carbonate || s.second == Some(carbonate);
    let bound = species.filter(|(_, s)| holds(s)).map(|(m, s)| m * f64::from(2 - s.protons));
    2.0 * e.free[carbonate] + bound.sum::<f64>() + e.water[1] - e.water[0]
}
