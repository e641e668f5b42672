//! What a solution consists of at equilibrium: free ions, ion pairs, acids and their bases.
//!
//! Davies activities, mass balances by free components, and a bracketed search for the pH at
//! which all charges cancel. Amounts in mol/L, taken as mol/kg of water. A search, so in plain
//! numbers; what is printed is the check: the answer put back into the balances.

use super::root::root;
use super::species::{Amounts, COMPONENTS, Component, Constants};

/// A dissolved mixture of neutral compounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solution {
    /// All of each component (mol/L).
    pub totals: Amounts,
    /// In the open, the pressure of carbon dioxide above it (atm): its carbon then follows from
    /// that, not from `totals`.
    pub air: Option<f64>,
}

/// A solution at equilibrium.
#[derive(Debug, Clone, PartialEq)]
pub struct Equilibrium {
    /// pH, minus log₁₀ of the activity of the proton.
    pub ph: f64,
    /// Free amount of each component (mol/L).
    pub free: Amounts,
    /// Amount of each species of the table (mol/L).
    pub species: Vec<f64>,
    /// Ionic strength (mol/L).
    pub strength: f64,
    /// Activity coefficient of an ion of charge 1.
    pub gamma: f64,
    /// Protons and hydroxide (mol/L).
    pub water: [f64; 2],
    /// Sum of all charges (mol/L); nought at the pH that was searched for.
    pub charge: f64,
}

/// pH between which equilibria are sought: above 11.5 an open solution takes up carbon without
/// end.
pub const REACH: [f64; 2] = [2.0, 11.5];

/// Carbon dioxide in outdoor air (atm): about 417 ppm.
pub const AIR: f64 = 4.168693834703e-4;

/// The Davies equation stops here (mol/L).
const STRONGEST: f64 = 1.0;

impl Solution {
    /// The solution with `dose` mol/L of a compound added.
    #[must_use]
    pub fn with(&self, compound: &Amounts, dose: f64) -> Self {
        let totals = std::array::from_fn(|i| self.totals[i] + dose * compound[i]);
        Self { totals, ..*self }
    }

    /// The solution brought into air with this pressure of carbon dioxide (atm).
    #[must_use]
    pub fn in_air(&self, pressure: f64) -> Self {
        Self { air: Some(pressure), ..*self }
    }

    /// The equilibrium at a given pH, whatever its charge.
    #[must_use]
    pub fn at_ph(&self, constants: &Constants<'_>, ph: f64) -> Equilibrium {
        self.settle(constants, ph, None)
    }

    /// The equilibrium at which all charges cancel; `None` if there is none from pH 2 to 11.5.
    #[must_use]
    pub fn equilibrium(&self, constants: &Constants<'_>) -> Option<Equilibrium> {
        let mut last: Option<Equilibrium> = None;
        let ph = root(REACH[0], REACH[1], 1e-9, |ph| {
            let next = self.settle(constants, ph, last.as_ref());
            let charge = next.charge;
            last = Some(next);
            charge
        })?;
        Some(self.settle(constants, ph, last.as_ref()))
    }

    /// The dose of a compound (mol/L, up to `most`) that gives a pH; `None` if it cannot.
    #[must_use]
    pub fn dose(
        &self,
        constants: &Constants<'_>,
        compound: &Amounts,
        ph: f64,
        most: f64,
    ) -> Option<f64> {
        let mut last: Option<Equilibrium> = None;
        root(0.0, most, 1e-12, |dose| {
            let next = self.with(compound, dose).settle(constants, ph, last.as_ref());
            let charge = next.charge;
            last = Some(next);
            charge
        })
    }

    /// Free components and species at a pH, started from a neighbouring equilibrium.
    fn settle(&self, c: &Constants<'_>, ph: f64, near: Option<&Equilibrium>) -> Equilibrium {
        let proton = libm::exp10(-ph);
        let mut strength = near.map_or_else(|| self.rough_strength(c), |e| e.strength);
        let begin = |i: usize| near.map(|e| e.free[i]).filter(|f| *f > 0.0);
        let mut free = std::array::from_fn(|i| begin(i).unwrap_or(self.totals[i]));
        let mut species = vec![0.0; c.k.len()];
        let mut gamma = 1.0;
        for _ in 0..60 {
            gamma = coefficient(c.davies, strength);
            let ready = self.conditional(c, proton, gamma);
            let moved = self.balance(c, &ready, &mut free, &mut species);
            let next = ionic_strength(c, &free, &species, proton, gamma).min(STRONGEST);
            let changed = (next - strength).abs();
            strength = next;
            if moved < 1e-11 && changed < 1e-12 {
                break;
            }
        }
        let water = [proton / gamma, c.water / proton / gamma];
        let charge = water[0] - water[1]
            + sum(&free, |i| f64::from(c.table.charge[i]))
            + species
                .iter()
                .zip(&c.table.species)
                .map(|(m, s)| m * f64::from(s.charge))
                .sum::<f64>();
        Equilibrium { ph, free, species, strength, gamma, water, charge }
    }

    /// Ionic strength if nothing paired: where the search begins (mol/L).
    fn rough_strength(&self, c: &Constants<'_>) -> f64 {
        let square = |i: usize| f64::from(c.table.charge[i] * c.table.charge[i]);
        (0.3 * sum(&self.totals, square)).clamp(1e-6, STRONGEST)
    }

    /// Each species per product of free components, at this pH and these activities.
    fn conditional(&self, c: &Constants<'_>, proton: f64, gamma: f64) -> Conditional {
        let power = |charge: i32| power(gamma, charge * charge);
        let per = c.table.species.iter().zip(&c.k).map(|(s, k)| {
            let parts = power(c.table.charge[s.first])
                * s.second.map_or(1.0, |second| power(c.table.charge[second]));
            k * protons(proton, s.protons) * parts / power(s.charge)
        });
        let per: Vec<f64> = per.collect();
        // In the open the pressure fixes the free carbonate: CO₂ is the species with carbonate
        // alone and two protons.
        let carbonate = Component::Carbonate as usize;
        let gas = c
            .table
            .species
            .iter()
            .position(|s| s.first == carbonate && s.second.is_none() && s.protons == 2);
        let open = self.air.zip(gas).map(|(pressure, gas)| c.henry * pressure / per[gas]);
        Conditional { per, open }
    }

    /// A few sweeps of the mass balances; returns the largest relative change of the last one.
    fn balance(
        &self,
        c: &Constants<'_>,
        ready: &Conditional,
        free: &mut Amounts,
        species: &mut [f64],
    ) -> f64 {
        let mut moved = 0.0;
        for _ in 0..3 {
            moved = 0.0_f64;
            if let Some(carbonate) = ready.open {
                free[Component::Carbonate as usize] = carbonate;
            }
            let mut bound = [0.0; COMPONENTS];
            for ((m, s), per) in species.iter_mut().zip(&c.table.species).zip(&ready.per) {
                *m = per * free[s.first] * s.second.map_or(1.0, |second| free[second]);
                bound[s.first] += *m;
                if let Some(second) = s.second {
                    bound[second] += *m;
                }
            }
            for (i, free) in free.iter_mut().enumerate() {
                let fixed = i == Component::Carbonate as usize && ready.open.is_some();
                if fixed {
                    continue;
                }
                if self.totals[i] <= 0.0 {
                    *free = 0.0;
                    continue;
                }
                let next = self.totals[i] * *free / (*free + bound[i]);
                moved = moved.max((next / *free - 1.0).abs());
                *free = next;
            }
        }
        moved
    }
}

/// Species per product of free components; the free carbonate, if air fixes it.
struct Conditional {
    per: Vec<f64>,
    open: Option<f64>,
}

/// Davies: log γ = −A z² (√I/(1 + √I) − 0.3 I), for z = 1.
fn coefficient(a: f64, strength: f64) -> f64 {
    let root = libm::sqrt(strength);
    libm::exp10(-a * (root / (1.0 + root) - 0.3 * strength))
}

/// A small whole power.
fn power(base: f64, exponent: i32) -> f64 {
    (0..exponent).fold(1.0, |product, _| product * base)
}

/// A power of the proton's activity, also a negative one.
fn protons(activity: f64, n: i32) -> f64 {
    if n < 0 { 1.0 / power(activity, -n) } else { power(activity, n) }
}

fn sum(amounts: &Amounts, weight: impl Fn(usize) -> f64) -> f64 {
    amounts.iter().enumerate().map(|(i, m)| m * weight(i)).sum()
}

fn ionic_strength(
    c: &Constants<'_>,
    free: &Amounts,
    species: &[f64],
    proton: f64,
    gamma: f64,
) -> f64 {
    let square = |charge: i32| f64::from(charge * charge);
    let pairs = species.iter().zip(&c.table.species).map(|(m, s)| m * square(s.charge));
    let ions = sum(free, |i| square(c.table.charge[i]));
    0.5 * (ions + pairs.sum::<f64>() + (proton + c.water / proton) / gamma)
}

impl Equilibrium {
    /// All inorganic carbon (mol/L).
    #[must_use]
    pub fn carbon(&self, constants: &Constants<'_>) -> f64 {
        self.total(constants, Component::Carbonate)
    }

    /// All of a component, free and bound (mol/L).
    #[must_use]
    pub fn total(&self, constants: &Constants<'_>, component: Component) -> f64 {
        let i = component as usize;
        let holds = |s: &super::species::Species| s.first == i || s.second == Some(i);
        let bound = self.species.iter().zip(&constants.table.species);
        self.free[i] + bound.filter(|(_, s)| holds(s)).map(|(m, _)| m).sum::<f64>()
    }

    /// Activity of a free component.
    #[must_use]
    pub fn activity(&self, constants: &Constants<'_>, component: Component) -> f64 {
        let charge = constants.table.charge[component as usize];
        self.free[component as usize] * power(self.gamma, charge * charge)
    }

    /// Activity of a species of the table, by name.
    #[must_use]
    pub fn species_activity(&self, constants: &Constants<'_>, name: &str) -> f64 {
        let found = constants.table.species.iter().position(|s| s.name == name);
        found.map_or(0.0, |i| {
            let charge = constants.table.species[i].charge;
            self.species[i] * power(self.gamma, charge * charge)
        })
    }
}
