//! From a weight on the scale to a rate, and two-bottle concentrates.

use crate::number::{Card, Formula, Number, unit};

/// Rate that a weight gives in a volume (g/L).
pub struct RateAsWeighed<N> {
    /// Weighed (g).
    pub m: N,
    /// In so much solution (L).
    pub v: N,
}
impl<N: Number> Formula<N> for RateAsWeighed<N> {
    const CARD: Card = Card {
        id: "rate-as-weighed",
        says: "Weight over volume; the weight was found by least squares and rounded to the scale",
        unit: unit::GRAM_PER_LITRE,
        source: "lawson-hanson",
        at: "the search; this is its check",
    };
    fn value(self) -> N {
        self.m / self.v
    }
}

/// Solution that a bottle of concentrate makes (L).
pub struct Makes<N> {
    /// Bottle (L).
    pub bottle: N,
    /// How many times stronger than the solution.
    pub n: N,
}
impl<N: Number> Formula<N> for Makes<N> {
    const CARD: Card = Card {
        id: "makes",
        says: "Size of the bottle times its strength",
        unit: unit::LITRE,
        source: "plain-arithmetic",
        at: "product",
    };
    fn value(self) -> N {
        self.bottle * self.n
    }
}

/// Content of a concentrate (g/L).
pub struct BottleContent<N> {
    /// Weighed into the bottle (g).
    pub m: N,
    /// Bottle (L).
    pub bottle: N,
}
impl<N: Number> Formula<N> for BottleContent<N> {
    const CARD: Card = Card {
        id: "bottle-content",
        says: "Weight over the size of the bottle",
        unit: unit::GRAM_PER_LITRE,
        source: "si-brochure",
        at: "mass concentration",
    };
    fn value(self) -> N {
        self.m / self.bottle
    }
}

/// Share of what would dissolve (no unit).
pub struct ShareDissolved<N> {
    /// Content (g/L).
    pub c: N,
    /// What dissolves (g/L).
    pub most: N,
}
impl<N: Number> Formula<N> for ShareDissolved<N> {
    const CARD: Card = Card {
        id: "share-dissolved",
        says: "Content over what dissolves of this salt alone in water",
        unit: unit::NONE,
        source: "common-practice",
        at: "shares of one bottle are added up, on the safe side",
    };
    fn value(self) -> N {
        self.c / self.most
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Common practice, no source: a litre of a hundredfold concentrate makes a hundred litres.
    #[test]
    fn a_bottle_makes_its_size_times_its_strength() {
        let litres = Makes { bottle: 1.0, n: 100.0 }.value();
        assert!((litres - 100.0).abs() < 1e-12);
        assert!((RateAsWeighed { m: 50.0, v: litres }.value() - 0.5).abs() < 1e-12);
        assert!((BottleContent { m: 50.0, bottle: 1.0 }.value() - 50.0).abs() < 1e-12);
        assert!((ShareDissolved { c: 50.0, most: 130.0 }.value() - 0.3846).abs() < 1e-4);
    }
}
