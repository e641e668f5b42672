//! What a plant drinks, from the mass that grows, from light and air, or from the weather.

use crate::number::{Card, Formula, Number, unit};

/// Water for a plant by its mass and how dry the air is (L).
pub struct MassWater<N> {
    /// Mass at harvest (kg).
    pub m: N,
    /// Litres a kilogram takes for each kilopascal (L/kg/kPa).
    pub k: N,
    /// Vapour pressure deficit by day (kPa).
    pub deficit: N,
    /// The rule is not used below (kPa).
    pub least: N,
    /// The rule is not used above (kPa).
    pub most: N,
}
impl<N: Number> Formula<N> for MassWater<N> {
    const CARD: Card = Card {
        id: "mass-water",
        says: "Mass times litres a kilogram, in proportion to the dryness of the air",
        unit: unit::LITRE,
        source: "derived",
        at: "measured 10 to 18 L a kg of lettuce for each kPa by day",
    };
    fn value(self) -> N {
        self.m * self.k * self.deficit.max(self.least).min(self.most)
    }
}

/// Light that the leaves catch in a day (MJ/m²/d).
pub struct LightCaught<N> {
    /// Energy of light for plants (MJ/mol).
    pub energy: N,
    /// Daily light integral (mol/m²/d).
    pub dli: N,
    /// How fast light fades in leaves.
    pub k: N,
    /// Leaf on ground (m²/m²).
    pub lai: N,
}
impl<N: Number> Formula<N> for LightCaught<N> {
    const CARD: Card = Card {
        id: "light-caught",
        says: "Energy of the light, less what falls through the leaves",
        unit: unit::MEGAJOULE_PER_SQUARE_METRE_DAY,
        source: "tei-1996",
        at: "light fades exponentially in a canopy, lettuce 0.66",
    };
    fn value(self) -> N {
        self.energy * self.dli * (N::from(1.0) - N::from(1.0) / (self.k * self.lai).exp())
    }
}

/// What a full canopy drinks in a day (mm/d, litres on a square metre).
pub struct CanopyUse<N> {
    /// Share of the light that evaporates water.
    pub a: N,
    /// Light caught (MJ/m²/d).
    pub light: N,
    /// Water a megajoule evaporates (mm·m²/MJ).
    pub w: N,
    /// Water the dryness of the air draws (mm/d/kPa).
    pub b: N,
    /// Leaf on ground (m²/m²).
    pub lai: N,
    /// Vapour pressure deficit over the day (kPa).
    pub deficit: N,
}
impl<N: Number> Formula<N> for CanopyUse<N> {
    const CARD: Card = Card {
        id: "canopy-use",
        says: "What the light evaporates and what the dryness of the air draws",
        unit: unit::MILLIMETRE_PER_DAY,
        source: "derived",
        at: "two terms, fitted here to a Penman-Monteith canopy model over 960 climates, not to plants",
    };
    fn value(self) -> N {
        self.a * self.light * self.w + self.b * self.lai * self.deficit
    }
}

/// Water for a plant from what a full canopy drinks (L).
pub struct CanopyWater<N> {
    /// What plants in bins drink beyond the model.
    pub f: N,
    /// Ground the leaves of one plant cover when full (m²).
    pub area: N,
    /// Days in the bin (d).
    pub days: N,
    /// Mean cover over these days.
    pub cover: N,
    /// What a full canopy drinks (mm/d).
    pub rate: N,
}
impl<N: Number> Formula<N> for CanopyWater<N> {
    const CARD: Card = Card {
        id: "canopy-water",
        says: "What a full canopy drinks, on the ground a plant covers, over its days and mean cover",
        unit: unit::LITRE,
        source: "derived",
        at: "a millimetre on a square metre is a litre",
    };
    fn value(self) -> N {
        self.f * self.area * self.days * self.cover * self.rate
    }
}

/// Water for a plant in one month outdoors (L).
pub struct MonthWater<N> {
    /// Reference evaporation of the month (mm/d).
    pub et_0: N,
    /// Crop coefficient at full cover.
    pub k_c: N,
    /// Mean cover in these days.
    pub cover: N,
    /// Ground the leaves of one plant cover when full (m²).
    pub area: N,
    /// Days of the month that the plant is in the bin (d).
    pub days: N,
    /// What a lone bin drinks beyond a field.
    pub exposure: N,
}
impl<N: Number> Formula<N> for MonthWater<N> {
    const CARD: Card = Card {
        id: "month-water",
        says: "What grass evaporates, times the crop coefficient, on the ground that leaf covers",
        unit: unit::LITRE,
        source: "fao-56",
        at: "chapter 6, with cover in the place of the early coefficients: a lid leaves no bare ground",
    };
    fn value(self) -> N {
        self.et_0 * self.k_c * self.cover * self.area * self.days * self.exposure
    }
}

/// What two months take together (L); longer sums are chains of it.
pub struct MonthsTogether<N> {
    /// So far (L).
    pub so_far: N,
    /// Next month (L).
    pub next: N,
}
impl<N: Number> Formula<N> for MonthsTogether<N> {
    const CARD: Card = Card {
        id: "months-together",
        says: "What came before, and the next month",
        unit: unit::LITRE,
        source: "plain-arithmetic",
        at: "sum",
    };
    fn value(self) -> N {
        self.so_far + self.next
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Test values of the derivation: 22 °C, 60 %, PPFD 200 for 16 h: 1.058 kPa, 11.52 mol/m²/d,
    /// 1.99 MJ/m²/d caught, 0.69 + 2.60 = 3.29 L/m²/d; a plant of 0.05 m² in 30 days at a mean cover
    /// of 0.47: 2.3 L, with the field factor 3.7 L.
    #[test]
    fn the_two_terms_have_their_worked_values() {
        let light = LightCaught { energy: 0.20, dli: 11.52, k: 0.66, lai: 3.0 }.value();
        assert!((light - 1.99).abs() < 0.006, "{light}");
        let use_ =
            CanopyUse { a: 0.85, light, w: 1.0 / 2.45, b: 0.82, lai: 3.0, deficit: 1.058 }.value();
        assert!((use_ - 3.29).abs() < 0.006, "{use_}");
        let plant = |f| CanopyWater { f, area: 0.05, days: 30.0, cover: 0.47, rate: use_ }.value();
        assert!((plant(1.0) - 2.3).abs() < 0.05);
        assert!((plant(1.6) - 3.7).abs() < 0.05);
    }

    /// Lettuce of 0.25 kg at 1.1 kPa: 3.6 L.
    #[test]
    fn mass_and_dryness_have_their_worked_value() {
        let litres = MassWater { m: 0.25, k: 13.0, deficit: 1.1, least: 0.5, most: 2.0 }.value();
        assert!((litres - 3.6).abs() < 0.05, "{litres}");
        assert!(
            (MassWater { m: 1.0, k: 13.0, deficit: 9.0, least: 0.5, most: 2.0 }.value() - 26.0)
                .abs()
                < 1e-9
        );
    }

    /// Values of the two terms at a leaf area of 3 (DLI, kPa, L/m²/d).
    #[test]
    fn the_two_terms_follow_their_table() {
        for (dli, deficit, wanted) in [
            (6.0, 0.8, 2.3),
            (10.0, 0.6, 2.1),
            (12.0, 1.0, 3.2),
            (14.0, 1.0, 3.3),
            (17.0, 1.2, 4.0),
        ] {
            let light = LightCaught { energy: 0.20, dli, k: 0.66, lai: 3.0 }.value();
            let found = CanopyUse { a: 0.85, light, w: 0.408, b: 0.82, lai: 3.0, deficit }.value();
            assert!((found - wanted).abs() < 0.06, "{found} for {wanted}");
        }
    }
}
