//! Published nutrient solutions.

use std::collections::BTreeMap;

use serde::Deserialize;

/// A solution as it was published: what the finished solution holds.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Recipe {
    /// Name as printed.
    pub name: String,
    /// Other names, lower case.
    pub also: Vec<String>,
    /// Label form and how much of its element the solution holds (mg/L).
    pub aim: BTreeMap<String, f64>,
    /// Key in `data/sources.toml`.
    pub source: String,
    /// Where in the source, or how it was derived.
    pub at: String,
    /// Micronutrients (mg/L).
    pub traces: BTreeMap<String, f64>,
    /// Their key in `data/sources.toml`.
    pub traces_source: String,
    /// Where in that source.
    pub traces_at: String,
}
