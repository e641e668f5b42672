//! The same plan with other numbers: for each group of a class its own.

use super::{Climate, Dose, Light, Plan, Trial};

/// A part by which a number is changed: between these, in steps of a hundredth.
const WIDTHS: [f64; 2] = [1.0, 1.15];
const HEIGHTS: [f64; 2] = [1.0, 1.1];
const PAILS: [f64; 2] = [0.8, 1.25];
const DOSES: [f64; 2] = [0.8, 1.0];
const ADDED: [f64; 2] = [0.9, 1.1];
const STRENGTHS: [f64; 2] = [0.9, 1.0];
const LIGHTS: [f64; 2] = [0.9, 1.0];
/// Between these a number is moved, in steps of a tenth.
const READINGS: [f64; 2] = [-0.1, 0.1];
const WARMTHS: [f64; 2] = [-2.0, 2.0];
const HUMIDITIES: [f64; 2] = [-0.5, 0.5];

impl Plan {
    /// The plan with bins a little wider and taller, pails larger or smaller, feeds dosed and pH bottles a little
    /// weaker: safe, since nothing gets stronger or smaller; with other readings of its jar trials, and another
    /// climate. The same seed and group give the same numbers.
    #[must_use]
    pub fn varied(&self, seed: u64, group: u64) -> Self {
        let mut random =
            fastrand::Rng::with_seed(seed.wrapping_mul(0x9E37_79B9).wrapping_add(group));
        let mut between = |[low, high]: [f64; 2]| low + (high - low) * random.f64();
        let mut part = |ends: [f64; 2]| (between(ends) * 100.0).round() / 100.0;
        let mut plan = self.clone();
        for bin in &mut plan.bins {
            bin.vessel = bin.vessel.larger(part(WIDTHS), part(HEIGHTS));
        }
        for mix in &mut plan.mixes {
            // Pails are sold in halves of a litre.
            mix.pail = (2.0 * mix.pail * part(PAILS)).round().max(1.0) / 2.0;
            for dose in &mut mix.parts {
                dose.dose = match dose.dose {
                    Dose::OfLabelLow(f) => {
                        Dose::OfLabelLow((100.0 * f * part(DOSES)).round() / 100.0)
                    }
                    Dose::Rate(r) => Dose::Rate((1000.0 * r * part(DOSES)).round() / 1000.0),
                    Dose::ToAim => Dose::ToAim,
                };
            }
        }
        for adjuster in &mut plan.adjusters {
            let by = part(STRENGTHS);
            for strength in [&mut adjuster.strength, &mut adjuster.molar].into_iter().flatten() {
                *strength = (1000.0 * *strength * by).round() / 1000.0;
            }
        }
        for trial in plan.mixes.iter_mut().flat_map(|mix| &mut mix.trials) {
            vary_trial(trial, part(ADDED), tenths(part(READINGS)));
        }
        vary_climate(&mut plan.climate, &mut part);
        plan
    }
}

/// Other amounts, which still rise, and other readings, which are as far apart as they were.
fn vary_trial(trial: &mut Trial, by: f64, moved: f64) {
    for (added, ph) in &mut trial.readings {
        *added = (1000.0 * *added * by).round() / 1000.0;
        *ph = (100.0 * (*ph + moved)).round() / 100.0;
    }
}

fn vary_climate(climate: &mut Climate, part: &mut dyn FnMut([f64; 2]) -> f64) {
    let (warmer, damper, lit) = (tenths(part(WARMTHS)), tenths(part(HUMIDITIES)), part(LIGHTS));
    climate.air = climate.air.map(|air| air + warmer);
    let humid = |h: f64| (h + damper / 10.0).clamp(0.1, 0.98);
    climate.humidity = climate.humidity.map(|h| (100.0 * humid(h)).round() / 100.0);
    if let Some(Light::Daily(amount) | Light::Lamp { ppfd: amount, .. }) = &mut climate.light {
        *amount = (*amount * lit).round();
    }
}

fn tenths(number: f64) -> f64 {
    (10.0 * number).round() / 10.0
}
