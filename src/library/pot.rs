//! Net pots.

use serde::Deserialize;

use super::Fact;

/// A net pot (mm).
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pot {
    /// Name as printed.
    pub name: String,
    /// Other names, lower case.
    #[serde(default)]
    pub also: Vec<String>,
    /// Hole in the lid (mm).
    pub hole: Fact,
    /// Outside of its rim (mm).
    pub rim: Fact,
    /// Depth under its lip (mm).
    pub depth: Fact,
    /// Outside at its floor (mm).
    pub bottom: Fact,
}

/// What of a pot's or cube's outline is solid (no unit).
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PotSolids {
    /// Plastic in the outline of a net pot.
    pub pot_solid_share: Fact,
    /// Fibre in a soaked growing cube.
    pub cube_solid_share: Fact,
}
