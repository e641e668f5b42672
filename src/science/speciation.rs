//! What a solution consists of at equilibrium: free ions, ion pairs, acids and their bases.
//!
//! Davies activities and mass balances by free components (`settle.rs`), and a bracketed search for
//! the pH at which all charges cancel. Amounts in mol/L, taken as mol/kg of water. A search, so in plain
//! numbers; what is printed is the check: the answer put back into the balances.

use super::root::root;
use super::settle::{Search, power};
use super::species::{Amounts, Component, Constants};

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

/// While the pH or the dose is far off, a charge this good (share of itself) does.
const ROUGH: f64 = 1e-4;

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
        let mut search = Search::new(constants, self);
        let charge = search.settle(self, ph, 0.0);
        search.equilibrium(ph, charge)
    }

    /// The equilibrium at which all charges cancel; `None` if there is none from pH 2 to 11.5.
    #[must_use]
    pub fn equilibrium(&self, constants: &Constants<'_>) -> Option<Equilibrium> {
        let mut search = Search::new(constants, self);
        let mut between = |a, b| root(a, b, 1e-9, |ph| search.settle(self, ph, ROUGH));
        // Most are near neutral, and far from it the search is slow.
        let ph = between(4.5, 8.5).or_else(|| between(REACH[0], REACH[1]))?;
        let charge = search.settle(self, ph, 0.0);
        Some(search.equilibrium(ph, charge))
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
        let mut search = Search::new(constants, &self.with(compound, most));
        let mut charge = |dose| search.settle(&self.with(compound, dose), ph, ROUGH);
        // What has the pH already needs none, though rounding may put it a hair beyond.
        let there = |charge: f64| (charge.abs() < 1e-11).then_some(0.0);
        root(0.0, most, 1e-12, &mut charge).or_else(|| there(charge(0.0)))
    }
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
