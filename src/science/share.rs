//! How much of its water a plant has drunk by when.
//!
//! Use grows with the leaves, nearly exponentially, until they cover the ground of the plant. What is
//! cut whole is cut about then; what is picked again and again, or bears fruit, stands at full cover
//! from then on and drinks the same every day.

use crate::number::{Card, Formula, Number, unit};

/// Share of its water a plant has drunk after a share of its days (no unit), 0 at 0 and 1 at 1.
///
/// One shape number `k` above 0: 3 for salads, which drink half their water in the last quarter of
/// their days.
pub struct ShareDrunk<N> {
    /// Shape number.
    pub k: N,
    /// Share of the days from set-out to the end of harvest.
    pub x: N,
}
impl<N: Number> Formula<N> for ShareDrunk<N> {
    const CARD: Card = Card {
        id: "share-drunk",
        says: "Use grows with the leaves: an exponential share curve with one shape number",
        unit: unit::NONE,
        source: "derived",
        at: "one-parameter curve fitted to a published lettuce leaf-area curve",
    };
    fn value(self) -> N {
        let Self { k, x } = self;
        ((k * x).exp() - N::from(1.0)) / (k.exp() - N::from(1.0))
    }
}

/// The same for a plant that reaches its full cover at a part of its days and keeps it (no unit).
pub struct ShareWithCover<N> {
    /// Shape number of the growth.
    pub k: N,
    /// Share of the days from set-out to the end of harvest.
    pub x: N,
    /// Share of these days at which the leaves cover their ground, above 0 and at most 1.
    pub b: N,
}
impl<N: Number> Formula<N> for ShareWithCover<N> {
    const CARD: Card = Card {
        id: "share-with-cover",
        says: "Use grows with the leaves until they cover their ground, and stays as it is then",
        unit: unit::NONE,
        source: "derived",
        at: "the one-parameter curve up to full cover, its last daily use from then on",
    };
    fn value(self) -> N {
        let Self { k, x, b } = self;
        let one = N::from(1.0);
        let grown = (k * x.min(b) / b).exp() - one;
        let steady = k * k.exp() * (x - x.min(b)) / b;
        (grown + steady) / (k.exp() - one + k * k.exp() * (one - b) / b)
    }
}

/// Cover of a crop at a part `x` of its days, 0 to 1, for a shape number `k` above 0, full cover at the
/// part `b` of its days, and a mean cover over the whole season (no unit, at most 1): it grows as the
/// use does.
#[must_use]
pub fn cover(k: f64, b: f64, mean: f64, x: f64) -> f64 {
    // The slope of the share curve, whose mean is 1.
    let e = libm::exp(k);
    let slope = k * libm::exp(k * x.min(b) / b) / b;
    (mean * slope / (e - 1.0 + k * e * (1.0 - b) / b)).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The curve's own shares for k = 3: 25, 50, 75 and 90 % of the days → 6, 18, 45 and 73 %.
    #[test]
    fn the_share_curve_has_its_tabulated_values() {
        for (x, share) in [(0.25, 0.06), (0.5, 0.18), (0.75, 0.45), (0.9, 0.73), (1.0, 1.0)] {
            let worked = ShareDrunk { k: 3.0, x }.value();
            assert!((worked - share).abs() < 0.006, "{worked} at {x}");
        }
    }

    /// By hand, k = 3 and full cover halfway: all is 19.0855 + 60.2566 = 79.3421; at x = 0.25
    /// exp(1.5) - 1 = 3.4817, a share of 0.0439; at 0.5 19.0855, 0.2405; at 0.75 + 30.1283, 0.6203.
    #[test]
    fn the_curve_with_cover_has_its_worked_values() {
        for (x, share) in [(0.0, 0.0), (0.25, 0.0439), (0.5, 0.2405), (0.75, 0.6203), (1.0, 1.0)] {
            let worked = ShareWithCover { k: 3.0, x, b: 0.5 }.value();
            assert!((worked - share).abs() < 0.00006, "{worked} at {x}");
        }
    }

    #[test]
    fn full_cover_at_the_end_is_the_plain_curve() {
        for x in [0.0, 0.3, 0.7, 1.0] {
            let (with, plain) =
                (ShareWithCover { k: 3.0, x, b: 1.0 }.value(), ShareDrunk { k: 3.0, x }.value());
            assert!((with - plain).abs() < 1e-12);
        }
    }

    #[test]
    fn cover_grows_and_has_its_mean() {
        for b in [0.4, 1.0] {
            let at = |i: u32| (f64::from(i) + 0.5) / 1000.0;
            let mean = (0..1000).map(|i| cover(1.0, b, 0.6, at(i))).sum::<f64>() / 1000.0;
            assert!((mean - 0.6).abs() < 0.01, "{mean}");
        }
        assert!(cover(3.0, 1.0, 0.47, 1.0) <= 1.0 && cover(3.0, 1.0, 0.47, 0.0) > 0.0);
    }
}
