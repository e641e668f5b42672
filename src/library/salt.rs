//! Salts that are weighed.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::{Fact, Library};
use crate::science::species::{Amounts, NAMES};

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
    /// Components in one formula, by name in `data/species.toml`.
    pub compound: BTreeMap<String, f64>,
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
    /// The components of one formula, in their order.
    #[must_use]
    pub fn amounts(&self) -> Amounts {
        std::array::from_fn(|i| self.compound.get(NAMES[i]).copied().unwrap_or(0.0))
    }

    /// Its contents as a label would give them (% by mass of the pure salt).
    #[must_use]
    pub fn contents(&self, library: &Library) -> Vec<(String, f64)> {
        let share = |(component, form, element): &(&str, &str, &str)| {
            let n = self.compound.get(*component)?;
            let weight = library.element(element).atomic_weight;
            Some(((*form).to_string(), 100.0 * n * weight / self.molar_mass.value))
        };
        ON_LABELS.iter().filter_map(share).collect()
    }
}
