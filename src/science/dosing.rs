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
