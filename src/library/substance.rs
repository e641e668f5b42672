//! Acids, bases and bleach: what they are, and what their labels warn of.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::Fact;
use crate::science::root::root;
use crate::science::species::{Amounts, NAMES};

/// A hazard by strength.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hazard {
    /// From this strength (% by mass).
    pub from: f64,
    /// To below this strength (% by mass).
    pub to: f64,
    /// Signal word, or empty.
    pub signal: String,
    /// Hazard statements.
    pub statements: Vec<String>,
    /// Key in `data/sources.toml`.
    pub source: String,
    /// Where in the source.
    pub at: String,
}

/// Density of a solution by strength.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Density {
    /// Strength (% by mass) and density (g/mL), rising.
    pub points: Vec<[f64; 2]>,
    /// Key in `data/sources.toml`.
    pub source: String,
    /// Where in the source.
    pub at: String,
}

/// Density of water at 20 °C (g/mL).
const WATER: f64 = 0.998;

/// What an element gains from a substance.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Adds {
    /// Symbol.
    pub element: String,
    /// Atoms per molecule.
    pub atoms: u32,
}

/// Which way a substance moves pH.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Moves {
    /// Up: a base.
    Up,
    /// Down: an acid.
    Down,
    /// Not used for pH.
    None,
}

/// A substance.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Substance {
    /// Name as printed.
    pub name: String,
    /// Formula.
    pub formula: String,
    /// Molar mass (g/mol).
    pub molar_mass: Fact,
    /// Which way it moves pH.
    pub moves: Moves,
    /// Other names, lower case.
    #[serde(default)]
    pub also: Vec<String>,
    /// Elements it adds.
    #[serde(default)]
    pub adds: Vec<Adds>,
    /// Components it brings, by name in `data/species.toml`; protons follow from the charge.
    pub compound: BTreeMap<String, f64>,
    /// Density of its solutions.
    pub density: Density,
    /// Strongest that is sold to the public, if it is limited (% by mass).
    pub public_limit: Option<Fact>,
    /// Strongest solution there is (% by mass), where that is well short of the pure substance.
    pub dissolves: Option<Fact>,
    /// Hazards by strength.
    pub hazards: Vec<Hazard>,
    /// How to keep it.
    pub storage: String,
    /// Why its pH holds or drifts.
    pub drift: String,
}

impl Substance {
    /// The components it brings, in their order.
    #[must_use]
    pub fn amounts(&self) -> Amounts {
        std::array::from_fn(|i| self.compound.get(NAMES[i]).copied().unwrap_or(0.0))
    }

    /// Density of a solution of this strength (% by mass): straight lines between the points,
    /// from water on (g/mL).
    #[must_use]
    pub fn density_at(&self, percent: f64) -> f64 {
        let mut before = [0.0, WATER];
        for &point in &self.density.points {
            if percent <= point[0] || Some(&point) == self.density.points.last() {
                let part = (percent - before[0]) / (point[0] - before[0]);
                return before[1] + part * (point[1] - before[1]);
            }
            before = point;
        }
        WATER
    }

    /// The strength (% by mass) of a solution of `c` mol/L: 10 w ρ(w) ÷ M = c; `None` if none is
    /// so strong.
    #[must_use]
    pub fn percent_at(&self, c: f64) -> Option<f64> {
        let molar = self.molar_mass.value;
        root(0.0, 100.0, 1e-9, |w| 10.0 * w * self.density_at(w) / molar - c)
    }

    /// The hazard at a strength (% by mass); at the upper end of the list, the last one.
    #[must_use]
    pub fn hazard(&self, percent: f64) -> Option<&Hazard> {
        let within = |h: &&Hazard| percent >= h.from && (percent < h.to || h.to >= 100.0);
        self.hazards.iter().find(within)
    }
}

#[cfg(test)]
mod tests {
    use crate::library::Library;

    /// Laliberté 2009 through chemistry tables: 10 % phosphoric acid is 1.08 mol/L, 75 % is 12.06;
    /// 10 % potassium hydroxide 1.944; 5 % acetic acid 0.837.
    #[test]
    fn moles_in_a_litre_turn_into_percent() {
        for (key, c, percent) in [
            ("phosphoric-acid", 1.08, 10.0),
            ("phosphoric-acid", 12.06, 75.0),
            ("potassium-hydroxide", 1.944, 10.0),
            ("acetic-acid", 0.837, 5.0),
        ] {
            let found = Library::embedded().substances[key].percent_at(c).unwrap();
            assert!((found / percent - 1.0).abs() < 0.005, "{key}: {found} for {percent}");
        }
        assert_eq!(Library::embedded().substances["acetic-acid"].percent_at(99.0), None);
    }
}
