//! What a crop takes out of its solution.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::Fact;

/// Dry plant for each litre, and what it is made of; from `data/uptake.toml`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Uptake {
    /// Dry plant for a litre drunk at a dryness of the air of 1 kPa (g/L).
    pub dry_matter: Fact,
    /// In the driest air (g/L).
    pub dry_matter_least: Fact,
    /// In the moistest air (g/L).
    pub dry_matter_most: Fact,
    /// Element in a gram of dry plant (mg/g), by symbol.
    pub tissue: BTreeMap<String, Fact>,
}
