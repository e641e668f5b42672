//! Bleach for cleaning an empty bin.

use crate::number::{Card, Formula, Number, unit};

/// Available chlorine in a bleach (mg/mL).
pub struct ChlorinePerMillilitre<N> {
    /// Sodium hypochlorite (mg/g, ten times the percentage).
    pub w: N,
    /// Density of the bleach (g/mL).
    pub density: N,
    /// Available chlorine per sodium hypochlorite, by mass.
    pub f: N,
}
impl<N: Number> Formula<N> for ChlorinePerMillilitre<N> {
    const CARD: Card = Card {
        id: "chlorine-per-millilitre",
        says: "Hypochlorite times density, counted as available chlorine",
        unit: unit::MILLIGRAM_PER_MILLILITRE,
        source: "hypochlorite-dilution",
        at: "available chlorine is 70.9 ÷ 74.44 of the hypochlorite",
    };
    fn value(self) -> N {
        self.w * self.density * self.f
    }
}

/// Bleach for a volume of water (mL).
pub struct BleachVolume<N> {
    /// Available chlorine wanted (mg/L).
    pub c: N,
    /// Water (L).
    pub v: N,
    /// Available chlorine in the bleach (mg/mL).
    pub s: N,
}
impl<N: Number> Formula<N> for BleachVolume<N> {
    const CARD: Card = Card {
        id: "bleach-volume",
        says: "Wanted strength times water, over the strength of the bleach",
        unit: unit::MILLILITRE,
        source: "hypochlorite-dilution",
        at: "dilution",
    };
    fn value(self) -> N {
        self.c * self.v / self.s
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 15 mL of household bleach (5.25 %) in 1 US gallon is about 205 mg/L: laboratory fact
    /// sheet on bleach dilution; worked with density 1.07 it is 208.
    #[test]
    fn fifteen_millilitres_in_a_gallon_is_about_two_hundred() {
        let s = ChlorinePerMillilitre { w: 52.5, density: 1.07, f: 70.9 / 74.44 }.value();
        let ml = BleachVolume { c: 208.0, v: 3.785, s }.value();
        assert!((ml - 15.0).abs() < 0.3, "{ml}");
    }
}
