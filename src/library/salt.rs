//! Salts that are weighed.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::{Fact, Library};
use crate::science::species::{Amounts, COMPONENTS, Component, NAMES};

/// A salt.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Salt {
    /// Name as printed.
    pub name: String,
    /// Other names, lower case.
    pub also: Vec<String>,
    /// Molar mass with the water in its crystal (g/mol).
    pub molar_mass: Fact,
    /// What its label warns of, if anything.
    pub warns: Option<Warns>,
    /// What whoever weighs it has to know besides.
    #[serde(default)]
    pub care: String,
    /// How much dissolves (g of the salt as weighed in a litre of water).
    pub solubility: Fact,
    /// Components in one formula, by name in `data/species.toml`.
    pub compound: BTreeMap<String, f64>,
    /// Atoms in one formula that the chemistry does not count, by symbol.
    #[serde(default)]
    pub trace: BTreeMap<String, f64>,
    /// The concentrate it belongs in, where that does not follow from its components.
    pub bottle: Option<Bottle>,
}

/// What a label warns of.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Warns {
    /// Signal word.
    pub signal: String,
    /// Hazard statements.
    pub statements: Vec<String>,
    /// Key in `data/sources.toml`.
    pub source: String,
    /// Where in the source.
    pub at: String,
}

/// One of the two concentrates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Bottle {
    /// With the calcium.
    A,
    /// With the sulfate and the phosphate.
    B,
}

/// What a component is called on a label, and the element it is counted as.
const ON_LABELS: [(&str, &str, &str); 9] = [
    ("NO3", "N-nitrate", "N"),
    ("NH4", "N-ammonium", "N"),
    ("PO4", "P", "P"),
    ("SO4", "S", "S"),
    ("K", "K", "K"),
    ("Ca", "Ca", "Ca"),
    ("Mg", "Mg", "Mg"),
    ("Na", "Na", "Na"),
    ("Cl", "Cl", "Cl"),
];

impl Salt {
    /// The components of one formula, in their order. Trace atoms are made up for with sodium or
    /// chloride, which move no pH, so that the salt stays neutral.
    #[must_use]
    pub fn amounts(&self, charge: &[i32; COMPONENTS]) -> Amounts {
        let mut all: Amounts =
            std::array::from_fn(|i| self.compound.get(NAMES[i]).copied().unwrap_or(0.0));
        if !self.trace.is_empty() {
            let net: f64 = all.iter().zip(charge).map(|(n, z)| n * f64::from(*z)).sum();
            let fill = if net > 0.0 { Component::Chloride } else { Component::Sodium };
            all[fill as usize] += net.abs();
        }
        all
    }

    /// Its contents as a label would give them (% by mass of the pure salt).
    #[must_use]
    pub fn contents(&self, library: &Library) -> Vec<(String, f64)> {
        let share = |(component, form, element): &(&str, &str, &str)| {
            let n = self.compound.get(*component)?;
            let weight = library.element(element).atomic_weight;
            Some(((*form).to_string(), 100.0 * n * weight / self.molar_mass.value))
        };
        let trace = |(symbol, n): (&String, &f64)| {
            let weight = library.element(symbol).atomic_weight;
            (symbol.clone(), 100.0 * n * weight / self.molar_mass.value)
        };
        let trace = self.trace.iter().map(trace);
        ON_LABELS.iter().filter_map(share).chain(trace).collect()
    }
}
