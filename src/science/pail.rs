//! Pails of a solution: how many, and what remains for the last.

use crate::number::{Card, Formula, Number, unit};

/// Pails that a volume fills (no unit).
pub struct Pails<N> {
    /// The solution (L).
    pub v: N,
    /// One pail (L).
    pub pail: N,
}
impl<N: Number> Formula<N> for Pails<N> {
    const CARD: Card = Card {
        id: "pails",
        says: "The solution over the size of the pail",
        unit: unit::NONE,
        source: "plain-arithmetic",
        at: "division",
    };
    fn value(self) -> N {
        self.v / self.pail
    }
}

/// What is left of a volume for the last pail, after the full ones (L).
pub struct PartPail<N> {
    /// The solution (L).
    pub v: N,
    /// Full pails.
    pub n: N,
    /// One pail (L).
    pub pail: N,
}
impl<N: Number> Formula<N> for PartPail<N> {
    const CARD: Card = Card {
        id: "part-pail",
        says: "The solution less what the full pails hold",
        unit: unit::LITRE,
        source: "plain-arithmetic",
        at: "multiplication and difference",
    };
    fn value(self) -> N {
        self.v - self.n * self.pail
    }
}

#[cfg(test)]
mod tests {
    use super::{Pails, PartPail};
    use crate::number::Formula;

    /// 43.69 L in pails of 15 L: nearly three; two full ones leave 13.69 L.
    #[test]
    fn full_pails_and_the_rest_are_all_of_it() {
        let (v, pail) = (43.69, 15.0);
        let pails: f64 = Pails { v, pail }.value();
        let part: f64 = PartPail { v, n: 2.0, pail }.value();
        assert!((pails - 2.912_667).abs() < 1e-6, "{pails}");
        assert!((part - 13.69).abs() < 1e-9, "{part}");
        assert!((2.0 + part / pail - pails).abs() < 1e-12);
    }
}
