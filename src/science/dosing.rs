//! From a dose in millimoles to a syringe, and what it brings; the sums behind a conductivity.

use crate::number::{Card, Formula, Number, unit};

/// Strength of a bottle (mmol/mL).
pub struct BottleStrength<N> {
    /// Content (mg/g, ten times the percentage).
    pub w: N,
    /// Density (g/mL).
    pub density: N,
    /// Molar mass (g/mol).
    pub molar: N,
}
impl<N: Number> Formula<N> for BottleStrength<N> {
    const CARD: Card = Card {
        id: "bottle-strength",
        says: "Content times density, over the molar mass",
        unit: unit::MILLIMOLE_PER_MILLILITRE,
        source: "si-brochure",
        at: "amount of substance",
    };
    fn value(self) -> N {
        self.w * self.density / self.molar
    }
}

/// Volume of a bottle that brings a dose to a bin (mL).
pub struct DoseVolume<N> {
    /// Dose (mmol/L).
    pub d: N,
    /// Solution (L).
    pub v: N,
    /// Strength of the bottle (mmol/mL).
    pub c: N,
}
impl<N: Number> Formula<N> for DoseVolume<N> {
    const CARD: Card = Card {
        id: "dose-volume",
        says: "Dose times volume, over the strength of the bottle",
        unit: unit::MILLILITRE,
        source: "si-brochure",
        at: "amount of substance",
    };
    fn value(self) -> N {
        self.d * self.v / self.c
    }
}

/// Mass of a powder that brings a dose to a bin (mg).
pub struct DoseMass<N> {
    /// Dose (mmol/L).
    pub d: N,
    /// Solution (L).
    pub v: N,
    /// Molar mass (g/mol).
    pub molar: N,
}
impl<N: Number> Formula<N> for DoseMass<N> {
    const CARD: Card = Card {
        id: "dose-mass",
        says: "Dose times volume times molar mass",
        unit: unit::MILLIGRAM,
        source: "si-brochure",
        at: "amount of substance",
    };
    fn value(self) -> N {
        self.d * self.v * self.molar
    }
}

/// What a dose brings of an element (mg/L).
pub struct AddedByDose<N> {
    /// Dose (mmol/L).
    pub d: N,
    /// Atoms in a molecule.
    pub n: N,
    /// Atomic weight (g/mol).
    pub a: N,
}
impl<N: Number> Formula<N> for AddedByDose<N> {
    const CARD: Card = Card {
        id: "added-by-dose",
        says: "Dose times atoms times atomic weight",
        unit: unit::MILLIGRAM_PER_LITRE,
        source: "iupac-2021",
        at: "standard atomic weights",
    };
    fn value(self) -> N {
        self.d * self.n * self.a
    }
}

/// What an ion contributes to the conductivity (µS/cm).
pub struct ConductivityOf<N> {
    /// Limiting molar conductivity (S·cm²/mol).
    pub lambda: N,
    /// Free amount (mmol/L).
    pub c: N,
}
impl<N: Number> Formula<N> for ConductivityOf<N> {
    const CARD: Card = Card {
        id: "conductivity-of",
        says: "Molar conductivity times amount",
        unit: unit::MICROSIEMENS_PER_CENTIMETRE,
        source: "crc-vanysek",
        at: "limiting molar conductivities at 25 °C",
    };
    fn value(self) -> N {
        self.lambda * self.c
    }
}

/// Conductivity of the solution (µS/cm).
pub struct Conductivity<N> {
    /// Sum over all ions (µS/cm).
    pub sum: N,
    /// How ions hinder each other at this ionic strength.
    pub f: N,
}
impl<N: Number> Formula<N> for Conductivity<N> {
    const CARD: Card = Card {
        id: "conductivity",
        says: "The sum over all ions, less what they hinder each other",
        unit: unit::MICROSIEMENS_PER_CENTIMETRE,
        source: "derived",
        at: "fitted to 322 solutions worked with a geochemistry code; largest 3.6 % off",
    };
    fn value(self) -> N {
        self.sum * self.f
    }
}

/// Solution to take out of a pail and replace by water, so that it reads as wanted (L).
///
/// What leaves takes its salts along; the water brings its own.
pub struct Swap<N> {
    /// Solution (L).
    pub v: N,
    /// What it reads (mS/cm).
    pub now: N,
    /// What it should read (mS/cm).
    pub wanted: N,
    /// What the water reads alone (mS/cm).
    pub alone: N,
}
impl<N: Number> Formula<N> for Swap<N> {
    const CARD: Card = Card {
        id: "swap",
        says: "Volume times what is too much, over what the solution reads above its water",
        unit: unit::LITRE,
        source: "derived",
        at: "mass balance; conductivity taken as proportional, good to a few per cent",
    };
    fn value(self) -> N {
        self.v * (self.now - self.wanted) / (self.now - self.alone)
    }
}

/// Part of the feed's dose to stir in once more, so that a weak mix reads as wanted (no unit).
pub struct FeedMore<N> {
    /// What it reads (mS/cm).
    pub now: N,
    /// What it should read (mS/cm).
    pub wanted: N,
    /// What the water reads alone (mS/cm).
    pub alone: N,
}
impl<N: Number> Formula<N> for FeedMore<N> {
    const CARD: Card = Card {
        id: "feed-more",
        says: "What is missing, over what the whole dose brings",
        unit: unit::NONE,
        source: "derived",
        at: "mass balance; conductivity taken as proportional, good to a few per cent",
    };
    fn value(self) -> N {
        (self.wanted - self.now) / (self.wanted - self.alone)
    }
}

/// What a meter shows that does not correct for temperature (mS/cm).
pub struct Uncorrected<N> {
    /// Conductivity at 25 °C (mS/cm).
    pub k: N,
    /// Change by a degree, as a part of that at 25 °C (per °C).
    pub a: N,
    /// Temperature (°C).
    pub t: N,
    /// Temperature referred to (°C).
    pub t25: N,
}
impl<N: Number> Formula<N> for Uncorrected<N> {
    const CARD: Card = Card {
        id: "uncorrected",
        says: "Conductivity at 25 °C, less two per cent for each degree below",
        unit: unit::MILLISIEMENS_PER_CENTIMETRE,
        source: "derived",
        at: "PHREEQC: 2.0 to 2.1 % a degree over 322 nutrient solutions",
    };
    fn value(self) -> N {
        self.k * (N::from(1.0) + self.a * (self.t - self.t25))
    }
}

/// Charge left over once all ions are added up (mmol/L); nought at the pH that was found.
pub struct ChargeLeft<N> {
    /// Positive charges (mmol/L).
    pub plus: N,
    /// Negative charges (mmol/L).
    pub minus: N,
}
impl<N: Number> Formula<N> for ChargeLeft<N> {
    const CARD: Card = Card {
        id: "charge-left",
        says: "Positive less negative charges; a solution has as many of each",
        unit: unit::MILLIMOLE_PER_LITRE,
        source: "phreeqc-amm",
        at: "electroneutrality decides the pH",
    };
    fn value(self) -> N {
        self.plus - self.minus
    }
}

#[cfg(test)]
mod correction_tests {
    use super::*;

    /// Put back into the balance: what is left of the old solution and the water's own add up.
    #[test]
    fn a_correction_gives_the_wanted_reading() {
        let (now, wanted, alone, v) = (2.0, 1.6, 0.4, 10.0);
        let out = Swap { v, now, wanted, alone }.value();
        assert!((((v - out) * now + out * alone) / v - wanted).abs() < 1e-12);
        let (now, wanted) = (1.2, 1.6);
        let more = FeedMore { now, wanted, alone }.value();
        assert!((now + more * (wanted - alone) - wanted).abs() < 1e-12);
    }

    /// Ratios over all cases worked with PHREEQC: 0.70 at 10 °C, 0.80 at 15, 0.90 at 20, 1.06 at
    /// 28, 1.105 at 30.
    #[test]
    fn conductivity_falls_two_per_cent_a_degree() {
        for (t, ratio) in [(10.0, 0.70), (15.0, 0.80), (20.0, 0.90), (28.0, 1.06), (30.0, 1.105)] {
            let shown = Uncorrected { k: 1.0, a: 0.02, t, t25: 25.0 }.value();
            assert!((shown - ratio).abs() < 0.011, "{shown} for {ratio}");
        }
    }
}
