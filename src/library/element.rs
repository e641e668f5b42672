//! Elements and the forms in which labels name them.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::Library;

/// An element.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Element {
    /// Its symbol.
    pub symbol: String,
    /// Its name.
    pub name: String,
    /// Atomic weight (g/mol).
    pub atomic_weight: f64,
    /// Key in `data/sources.toml`.
    pub source: String,
    /// Where in the source.
    pub at: String,
}

/// A form in which a label names an element, such as P2O5 for phosphorus.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LabelForm {
    /// As a plan writes it.
    pub form: String,
    /// The element.
    pub element: String,
    /// Atoms of the element in the form.
    pub atoms: u32,
    /// Its make-up, atoms by element.
    pub formula: BTreeMap<String, u32>,
}

impl LabelForm {
    /// Whether the label names the element itself.
    #[must_use]
    pub fn is_element(&self) -> bool {
        self.formula.len() == 1
    }

    /// Molar mass (g/mol).
    #[must_use]
    pub fn molar_mass(&self, library: &Library) -> f64 {
        let mass =
            |(symbol, n): (&String, &u32)| f64::from(*n) * library.element(symbol).atomic_weight;
        self.formula.iter().map(mass).sum()
    }
}
