//! Moving pH by trial: what a jar showed, carried over to a bin.

use crate::number::{Card, Formula, Number, unit};

/// Reading on the curve through a jar trial (pH): a cubic between two readings that never turns
/// back, in powers of the dose beyond the first of them.
pub struct TrialReading<N> {
    /// Reading at the start of the piece (pH).
    pub p: N,
    /// Dose beyond that (mL).
    pub x: N,
    /// Slope there (per mL).
    pub b: N,
    /// Second coefficient (per mL²).
    pub c: N,
    /// Third coefficient (per mL³).
    pub d: N,
}
impl<N: Number> Formula<N> for TrialReading<N> {
    const CARD: Card = Card {
        id: "trial-reading",
        says: "The smooth curve through the readings, with the dose that was found put in",
        unit: unit::NONE,
        source: "fritsch-carlson-1980",
        at: "monotone piecewise cubic",
    };
    fn value(self) -> N {
        let Self { p, x, b, c, d } = self;
        p + x * (b + x * (c + x * d))
    }
}

/// A jar's dose carried over to a bin, or last time's to this (mL).
pub struct ScaledDose<N> {
    /// Dose that did it (mL).
    pub dose: N,
    /// Volume to dose now (L).
    pub v: N,
    /// Volume that dose was for (L).
    pub sample: N,
}
impl<N: Number> Formula<N> for ScaledDose<N> {
    const CARD: Card = Card {
        id: "scaled-dose",
        says: "In proportion to the volume: the same solution needs the same per litre",
        unit: unit::MILLILITRE,
        source: "fertilizer-calculations",
        at: "concentration times volume",
    };
    fn value(self) -> N {
        self.dose * self.v / self.sample
    }
}

/// First part of a dose (mL).
pub struct FirstPart<N> {
    /// Share to add first.
    pub share: N,
    /// Whole dose (mL).
    pub dose: N,
}
impl<N: Number> Formula<N> for FirstPart<N> {
    const CARD: Card = Card {
        id: "first-part",
        says: "A share first, so that one cannot go too far",
        unit: unit::MILLILITRE,
        source: "common-practice",
        at: "part, stir, wait, read again, rest",
    };
    fn value(self) -> N {
        self.share * self.dose
    }
}

/// What a substance leaves behind in a bin (mg/L): sodium of baking soda, acetate of vinegar.
pub struct LeftBehind<N> {
    /// Mass of the substance (mg).
    pub m: N,
    /// Molar mass of the part that stays, as often as it occurs (g/mol).
    pub part: N,
    /// Molar mass of the substance (g/mol).
    pub whole: N,
    /// Volume (L).
    pub v: N,
}
impl<N: Number> Formula<N> for LeftBehind<N> {
    const CARD: Card = Card {
        id: "left-behind",
        says: "Mass times the part's share of the molar mass, over the volume",
        unit: unit::MILLIGRAM_PER_LITRE,
        source: "iupac-2021",
        at: "standard atomic weights",
    };
    fn value(self) -> N {
        self.m * self.part / self.whole / self.v
    }
}

/// Mass of the acid in a vinegar (mg).
pub struct AcidMass<N> {
    /// Vinegar (mL).
    pub v: N,
    /// Strength (mg/mL).
    pub strength: N,
}
impl<N: Number> Formula<N> for AcidMass<N> {
    const CARD: Card = Card {
        id: "acid-mass",
        says: "Volume times strength",
        unit: unit::MILLIGRAM,
        source: "laliberte-2009",
        at: "5 % vinegar, 1.005 g/mL",
    };
    fn value(self) -> N {
        self.v * self.strength
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 g of sodium bicarbonate is 27.37 % sodium (salt table, IUPAC 2021 weights): in 10 L
    /// that is 27.37 mg/L.
    #[test]
    fn a_gram_of_baking_soda_in_ten_litres() {
        let (sodium, soda) = (22.990, 22.990 + 1.008 + 12.011 + 3.0 * 15.999);
        let c = LeftBehind { m: 1000.0, part: sodium, whole: soda, v: 10.0 }.value();
        assert!((c - 27.37).abs() < 0.005, "{c}");
    }
}
