//! From a feed's label to grams, spoons, millilitres and milligrams of each element per litre.

use crate::number::{Card, Formula, Number, unit};

/// Feed per litre from a label in level teaspoons per gallon (g/L).
pub struct SpoonRate<N> {
    /// Rate (tsp/gal).
    pub r: N,
    /// Weight of a level teaspoon of this feed (g/tsp).
    pub m_tsp: N,
    /// Size of a gallon (L/gal).
    pub gallon: N,
}
impl<N: Number> Formula<N> for SpoonRate<N> {
    const CARD: Card = Card {
        id: "spoon-rate",
        says: "Spoons per gallon times the weight of a spoon, over the litres in a gallon",
        unit: unit::GRAM_PER_LITRE,
        source: "nist-hb-44",
        at: "US gallon of 231 cubic inches",
    };
    fn value(self) -> N {
        self.r * self.m_tsp / self.gallon
    }
}

/// A rate chosen as a part of the lowest rate on the label, in the label's own spoons (tsp/gal).
pub struct ChosenSpoons<N> {
    /// The chosen part.
    pub f: N,
    /// Lowest rate on the label (tsp/gal).
    pub low: N,
}
impl<N: Number> Formula<N> for ChosenSpoons<N> {
    const CARD: Card = Card {
        id: "chosen-spoons",
        says: "The chosen part of the lowest rate on the label",
        unit: unit::TEASPOON_PER_GALLON,
        source: "common-practice",
        at: "a factor a little under 1 suits salad in still water",
    };
    fn value(self) -> N {
        self.f * self.low
    }
}

/// A rate chosen as a part of the lowest rate on the label, by weight (g/L).
pub struct ChosenMass<N> {
    /// The chosen part.
    pub f: N,
    /// Lowest rate on the label (g/L).
    pub low: N,
}
impl<N: Number> Formula<N> for ChosenMass<N> {
    const CARD: Card = Card { id: "chosen-mass", unit: unit::GRAM_PER_LITRE, ..CHOSEN };
    fn value(self) -> N {
        self.f * self.low
    }
}

/// A rate chosen as a part of the lowest rate on the label, of a liquid (mL/L).
pub struct ChosenVolume<N> {
    /// The chosen part.
    pub f: N,
    /// Lowest rate on the label (mL/L).
    pub low: N,
}
impl<N: Number> Formula<N> for ChosenVolume<N> {
    const CARD: Card = Card { id: "chosen-volume", unit: unit::MILLILITRE_PER_LITRE, ..CHOSEN };
    fn value(self) -> N {
        self.f * self.low
    }
}

const CHOSEN: Card = Card {
    id: "chosen",
    says: "The chosen part of the lowest rate on the label",
    unit: unit::NONE,
    source: "common-practice",
    at: "a factor a little under 1 suits salad in still water",
};

/// Feed to weigh for a volume of water (g).
pub struct FeedMass<N> {
    /// Rate (g/L).
    pub r: N,
    /// Water (L).
    pub v: N,
}
impl<N: Number> Formula<N> for FeedMass<N> {
    const CARD: Card = Card {
        id: "feed-mass",
        says: "Rate times volume",
        unit: unit::GRAM,
        source: "fertilizer-calculations",
        at: "concentration times volume",
    };
    fn value(self) -> N {
        self.r * self.v
    }
}

/// Liquid feed to measure for a volume of water (mL).
pub struct FeedVolume<N> {
    /// Rate (mL/L).
    pub r: N,
    /// Water (L).
    pub v: N,
}
impl<N: Number> Formula<N> for FeedVolume<N> {
    const CARD: Card = Card {
        id: "feed-volume",
        says: "Rate times volume",
        unit: unit::MILLILITRE,
        source: "fertilizer-calculations",
        at: "concentration times volume",
    };
    fn value(self) -> N {
        self.r * self.v
    }
}

/// Level teaspoons that weigh a given mass (tsp).
pub struct Spoons<N> {
    /// Mass (g).
    pub m: N,
    /// Weight of a level teaspoon (g/tsp).
    pub m_tsp: N,
}
impl<N: Number> Formula<N> for Spoons<N> {
    const CARD: Card = Card {
        id: "spoons",
        says: "Mass over the weight of one level teaspoon",
        unit: unit::TEASPOON,
        source: "common-practice",
        at: "weigh ten level teaspoons and divide by ten",
    };
    fn value(self) -> N {
        self.m / self.m_tsp
    }
}

/// Level teaspoons for a volume of water, when the weight of a spoon is not known (tsp).
pub struct SpoonsFor<N> {
    /// Rate (tsp/gal).
    pub r: N,
    /// Water (L).
    pub v: N,
    /// Size of a gallon (L/gal).
    pub gallon: N,
}
impl<N: Number> Formula<N> for SpoonsFor<N> {
    const CARD: Card = Card {
        id: "spoons-for",
        says: "Spoons per gallon times the gallons",
        unit: unit::TEASPOON,
        source: "nist-hb-44",
        at: "US gallon of 231 cubic inches",
    };
    fn value(self) -> N {
        self.r * (self.v / self.gallon)
    }
}

/// Mass of an element in a gram of its label form (no unit): 0.4364 for phosphorus in P₂O₅.
pub struct ElementShare<N> {
    /// Atoms of the element in the form.
    pub n: N,
    /// Its atomic weight (g/mol).
    pub a: N,
    /// Molar mass of the form (g/mol).
    pub m: N,
}
impl<N: Number> Formula<N> for ElementShare<N> {
    const CARD: Card = Card {
        id: "element-share",
        says: "Weight of the element in the form the label names, over the weight of the form",
        unit: unit::NONE,
        source: "iupac-2021",
        at: "standard atomic weights",
    };
    fn value(self) -> N {
        self.n * self.a / self.m
    }
}

/// Of an element, what a dry feed adds (mg/L).
pub struct ElementAdded<N> {
    /// Rate of the feed (g/L).
    pub r: N,
    /// Label content (mg/g, ten times the percentage).
    pub w: N,
    /// Share of the element in the form the label names.
    pub f: N,
}
impl<N: Number> Formula<N> for ElementAdded<N> {
    const CARD: Card = Card {
        id: "element-added",
        says: "Rate times label content, turned from the label's form into the element",
        unit: unit::MILLIGRAM_PER_LITRE,
        source: "fertilizer-calculations",
        at: "parts per million from a percentage",
    };
    fn value(self) -> N {
        self.r * self.w * self.f
    }
}

/// Mass of liquid feed per litre of water (g/L).
pub struct LiquidMass<N> {
    /// Rate (mL/L).
    pub r: N,
    /// Density of the feed (g/mL).
    pub density: N,
}
impl<N: Number> Formula<N> for LiquidMass<N> {
    const CARD: Card = Card {
        id: "liquid-mass",
        says: "Volume of the liquid times its density",
        unit: unit::GRAM_PER_LITRE,
        source: "si-brochure",
        at: "density is mass over volume",
    };
    fn value(self) -> N {
        self.r * self.density
    }
}

/// Of several amounts of one kind, the sum of two (L); longer sums are chains of it.
pub struct TotalVolume<N> {
    /// So far (L).
    pub so_far: N,
    /// Next (L).
    pub next: N,
}
impl<N: Number> Formula<N> for TotalVolume<N> {
    const CARD: Card = Card {
        id: "total-volume",
        says: "What came before, and the next",
        unit: unit::LITRE,
        source: "plain-arithmetic",
        at: "sum",
    };
    fn value(self) -> N {
        self.so_far + self.next
    }
}

/// What two feeds, or two lines of a label, add of one element (mg/L).
pub struct ElementSum<N> {
    /// So far (mg/L).
    pub so_far: N,
    /// Next (mg/L).
    pub next: N,
}
impl<N: Number> Formula<N> for ElementSum<N> {
    const CARD: Card = Card {
        id: "element-sum",
        says: "What came before, and the next line",
        unit: unit::MILLIGRAM_PER_LITRE,
        source: "plain-arithmetic",
        at: "sum",
    };
    fn value(self) -> N {
        self.so_far + self.next
    }
}
