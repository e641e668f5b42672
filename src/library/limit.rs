//! Thresholds that trigger a caution, and defaults.

use serde::Deserialize;

use super::Fact;

/// Every threshold and default of the program, from `data/limits.toml`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// How deep the pot stands in the solution on the first day (mm).
    pub immersion_default: Fact,
    /// Least of it that is known to work (mm).
    pub immersion_min: Fact,
    /// Most of it that is known to work (mm).
    pub immersion_max: Fact,
    /// Air kept between the pot's floor and a top-up (mm).
    pub top_up_gap: Fact,
    /// Rise at once that may injure air roots (mm).
    pub top_up_rise: Fact,
    /// Least depth the roots are left with (mm).
    pub reserve_depth: Fact,
    /// Least share of the filling that is left.
    pub reserve_share: Fact,
    /// Share of the filling that leaves otherwise than through the plants.
    pub loss_share: Fact,
    /// Days between changes of the solution in a long crop (d).
    pub change_out_days: Fact,
    /// Length of a crop that needs none (d).
    pub change_out_above_days: Fact,
    /// Share of the nitrogen as ammonium and urea above which a caution is due.
    pub ammonium_share: Fact,
    /// The same, above which it is no hydroponic feed.
    pub soil_feed_share: Fact,
    /// Part of the lowest label rate under which plants starve.
    pub label_factor_low: Fact,
    /// Sodium that a caution is due at (mg/L).
    pub sodium_caution: Fact,
    /// First part of a pH dose.
    pub dose_stage_share: Fact,
    /// Wait between the parts (min).
    pub dose_wait: Fact,
    /// A level teaspoon of baking soda (g).
    pub soda_spoon: Fact,
    /// The vinegar whose acetate is shown (mL).
    pub vinegar_sample: Fact,
    /// Acetic acid in vinegar (mg/mL).
    pub vinegar_strength: Fact,
    /// Available chlorine for a clean bin (mg/L).
    pub bleach_target: Fact,
    /// How long it stays wet (min).
    pub bleach_wait: Fact,
    /// Density of household bleach (g/mL).
    pub bleach_density: Fact,
    /// Available chlorine per sodium hypochlorite, by mass.
    pub bleach_available: Fact,
    /// Strength of bleach if the plan does not say (% by mass).
    pub bleach_assumed: Fact,
    /// Share of the usual spacing under which plants are crowded.
    pub crowded_share: Fact,
    /// A cube's floor above the pot's floor (mm).
    pub cube_lift: Fact,
    /// Thickness of a lid (mm).
    pub lid_thickness: Fact,
    /// pH range where no crop says better (pH).
    pub ph_low: Fact,
    /// Its upper end (pH).
    pub ph_high: Fact,
    /// Calcium at which the water brings its own (mg/L).
    pub water_calcium: Fact,
    /// Saturation index of brushite above which a solution may cloud.
    pub cloud_index: Fact,
    /// Share of what dissolves that a concentrate may hold.
    pub dissolved_share: Fact,
    /// How much conductivity changes by a degree, as a part of that at 25 °C (per °C).
    pub conductivity_per_degree: Fact,
    /// Temperature that meters refer to (°C).
    pub conductivity_reference: Fact,
    /// How far a right mix may read off on a meter (a part).
    pub meter_tolerance: Fact,
    /// Acid by which a blend's phosphate may differ from dihydrogen phosphate (eq in a mol).
    pub phosphate_doubt: Fact,
    /// Alkalinity above which citric acid is a poor choice (mg/L as calcium carbonate).
    pub citric_alkalinity: Fact,
    /// Days to empty, clean and fill a bin (d).
    pub turnaround: Fact,
    /// A crop whose best air begins here is tender (°C).
    pub tender_from: Fact,
    /// Coldest usual night that a tender crop bears (°C).
    pub tender_night: Fact,
    /// Coldest usual night that any other crop bears (°C).
    pub hardy_night: Fact,
    /// Colder than a crop likes by so much, and it suffers (°C).
    pub air_slack: Fact,
    /// Share of the least light that a crop likes, under which it suffers.
    pub light_share: Fact,
    /// Spare pots, cubes and seeds to gather.
    pub spare_share: Fact,
}
