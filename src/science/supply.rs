//! A steady supply: how many places, and how often to sow.

use crate::number::{Card, Formula, Number, unit};

/// Days from one sowing of a bin to the next (d).
pub struct SowingInterval<N> {
    /// Days in a week (d).
    pub week: N,
    /// Plants in a bin.
    pub plants: N,
    /// Heads wanted in a week.
    pub heads: N,
}
impl<N: Number> Formula<N> for SowingInterval<N> {
    const CARD: Card = Card {
        id: "sowing-interval",
        says: "A bin of so many plants lasts the table so long",
        unit: unit::DAY,
        source: "plain-arithmetic",
        at: "proportion",
    };
    fn value(self) -> N {
        self.week * self.plants / self.heads
    }
}

/// Bins in turn (no unit; so many, or the next whole number).
pub struct BinsInTurn<N> {
    /// Days a bin is taken, from set-out to the next (d).
    pub taken: N,
    /// Days from sowing to sowing (d).
    pub interval: N,
}
impl<N: Number> Formula<N> for BinsInTurn<N> {
    const CARD: Card = Card {
        id: "bins-in-turn",
        says: "Days a bin is taken, over the days from sowing to sowing",
        unit: unit::NONE,
        source: "plain-arithmetic",
        at: "quotient; the plan takes the next whole number",
    };
    fn value(self) -> N {
        self.taken / self.interval
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Common practice, no source: six heads a week from bins of six is a sowing every week, and a
    /// bin that is taken five weeks needs five in turn.
    #[test]
    fn six_a_week_from_bins_of_six() {
        let interval = SowingInterval { week: 7.0, plants: 6.0, heads: 6.0 }.value();
        assert!((interval - 7.0).abs() < 1e-12);
        assert!((BinsInTurn { taken: 35.0, interval }.value() - 5.0).abs() < 1e-12);
    }
}
