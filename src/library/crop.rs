//! Crops and the ranges they like.

use serde::Deserialize;

use super::Fact;

/// How a crop is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Harvest {
    /// The whole plant at once.
    Once,
    /// Again and again.
    Repeated,
}

/// What is sown or set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Start {
    /// Seed.
    Seed,
    /// A rooted cutting.
    Cutting,
    /// A rooted runner or plug.
    Runner,
}

/// From low to high, with its source.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Span {
    /// Lower end (unit of the field).
    pub low: f64,
    /// Upper end (unit of the field).
    pub high: f64,
    /// Key in `data/sources.toml`.
    pub source: String,
    /// Where in the source.
    pub at: String,
}

/// Water of one plant from set-out to the end of picking.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Band {
    /// Cool, dim or small (L).
    pub low: f64,
    /// To plan with (L).
    pub expected: f64,
    /// Hot, bright or large (L).
    pub high: f64,
    /// Days it was worked for.
    pub days: f64,
    /// Key in `data/sources.toml`.
    pub source: String,
    /// Where in the source, or how it was derived.
    pub at: String,
}

/// A crop.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Crop {
    /// Name as printed.
    pub name: String,
    /// Other names, lower case.
    #[serde(default)]
    pub also: Vec<String>,
    /// How it is taken.
    pub harvest: Harvest,
    /// What is sown or set.
    pub start: Start,
    /// pH of the solution.
    pub ph: Span,
    /// Conductivity of the solution (mS/cm at 25 °C).
    pub conductivity: Span,
    /// Sowing to set-out (d).
    pub sow_to_set_out: Span,
    /// Set-out to the first harvest (d).
    pub set_out_to_harvest: Span,
    /// Further picking after the first harvest (d).
    pub pick_for: Span,
    /// Distance between plants (cm).
    pub spacing: Span,
    /// Water of one plant (L).
    pub water: Band,
    /// Ground that the leaves of one plant cover when full (m²).
    pub canopy: Fact,
    /// Crop coefficient at full cover.
    pub crop_coefficient: Fact,
    /// A plant at harvest (kg), where that is known well enough.
    pub fresh_mass: Option<Fact>,
    /// Shape number of the share curve.
    pub share_shape: Fact,
    /// Share of its days at which the leaves cover their ground; without it the harvest tells.
    pub full_cover: Option<Fact>,
    /// Best air (°C).
    pub air: Span,
    /// Warmest solution (°C).
    pub solution_ceiling: Fact,
    /// Daily light (mol/m²).
    pub light: Span,
    /// Days to emerge in a warm room (d).
    pub germination: Span,
    /// What it looks like when it is ready (common practice, no source).
    pub ready: String,
    /// What is taken, and how (common practice, no source).
    pub take: String,
    /// Plain words for the booklet.
    #[serde(default)]
    pub cautions: Vec<String>,
}
