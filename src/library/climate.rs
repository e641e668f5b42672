//! Coefficients of the ways a plant's thirst is worked.

use serde::Deserialize;

use super::Fact;

/// From air, light and weather to litres, from `data/climate.toml`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ClimateFacts {
    /// Litres a kilogram of leaf takes for each kilopascal of deficit (L/kg/kPa).
    pub litres_per_kilogram: Fact,
    /// Deficits below count as this (kPa).
    pub deficit_least: Fact,
    /// Deficits above count as this (kPa).
    pub deficit_most: Fact,
    /// Low and high by this factor.
    pub mass_band: Fact,
    /// Energy of light for plants (MJ/mol).
    pub photon_energy: Fact,
    /// How fast light fades in leaves.
    pub extinction: Fact,
    /// Leaf on ground at full cover (m²/m²).
    pub leaf_area: Fact,
    /// Share of the light that evaporates water.
    pub light_share: Fact,
    /// Water a megajoule evaporates (mm·m²/MJ).
    pub evaporated: Fact,
    /// Water the dryness of the air draws (mm/d/kPa).
    pub air_term: Fact,
    /// Mean cover over a crop that is cut once.
    pub cover_single: Fact,
    /// Mean cover over a crop that is picked again.
    pub cover_multi: Fact,
    /// What plants in bins drink beyond the model.
    pub field_factor: Fact,
    /// Low and high by this factor.
    pub light_band: Fact,
    /// What a lone bin outdoors drinks beyond a field.
    pub exposure: Fact,
    /// Low and high by this factor.
    pub weather_band: Fact,
    /// Ways further apart than this factor are both printed.
    pub apart: Fact,
    /// Least vapour pressure deficit that suits (kPa).
    pub deficit_low: Fact,
    /// Most of it that suits (kPa).
    pub deficit_high: Fact,
    /// Oxygen that lettuce needs at least (mg/L).
    pub oxygen_low: Fact,
}
