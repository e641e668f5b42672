//! The same plan with other numbers: for each group of a class its own.

use super::{Dose, Plan};

/// A part by which a number is changed: between these, in steps of a hundredth.
const WIDTHS: [f64; 2] = [1.0, 1.15];
const HEIGHTS: [f64; 2] = [1.0, 1.1];
const PAILS: [f64; 2] = [0.8, 1.25];
const DOSES: [f64; 2] = [0.8, 1.0];

impl Plan {
    /// The plan with bins a little wider and taller, pails larger or smaller, and feeds dosed a little weaker:
    /// safe, since nothing gets stronger or smaller. The same seed and group give the same numbers.
    #[must_use]
    pub fn varied(&self, seed: u64, group: u64) -> Self {
        let mut random =
            fastrand::Rng::with_seed(seed.wrapping_mul(0x9E37_79B9).wrapping_add(group));
        let mut part =
            |[low, high]: [f64; 2]| ((low + (high - low) * random.f64()) * 100.0).round() / 100.0;
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
        plan
    }
}
