//! A smooth curve through readings that never turns back between them.
//!
//! Fritsch & Carlson 1980, "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17:238,
//! with the slopes of their method: secants averaged, zero where the readings turn, and limited
//! so that each piece stays monotone.

/// One piece of a curve: y = p + x·(b + x·(c + x·d)), x beyond `from`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Where it starts.
    pub from: f64,
    /// Value there.
    pub p: f64,
    /// First coefficient.
    pub b: f64,
    /// Second coefficient.
    pub c: f64,
    /// Third coefficient.
    pub d: f64,
}

/// A monotone curve through at least two points with rising x.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    points: Vec<(f64, f64)>,
    slopes: Vec<f64>,
}

impl Curve {
    /// The curve through `points`; `None` for fewer than two, or if x does not rise or y turns.
    #[must_use]
    pub fn through(points: &[(f64, f64)]) -> Option<Self> {
        let secants: Vec<f64> =
            points.windows(2).map(|w| (w[1].1 - w[0].1) / (w[1].0 - w[0].0)).collect();
        let rising = points.windows(2).all(|w| w[1].0 > w[0].0);
        let one_way = secants.iter().all(|s| *s >= 0.0) || secants.iter().all(|s| *s <= 0.0);
        if secants.is_empty() || !rising || !one_way {
            return None;
        }
        Some(Self { points: points.to_vec(), slopes: slopes(&secants) })
    }

    /// The piece that holds `x`.
    #[must_use]
    pub fn piece(&self, x: f64) -> Piece {
        let last = self.points.len() - 2;
        let i = self.points[1..].iter().position(|p| x <= p.0).unwrap_or(last).min(last);
        let ((x0, y0), (x1, y1)) = (self.points[i], self.points[i + 1]);
        let (h, m0, m1) = (x1 - x0, self.slopes[i], self.slopes[i + 1]);
        let secant = (y1 - y0) / h;
        // Where a piece is straight, rounding leaves a trace that would be printed.
        let clean = |v: f64| if v.abs() < 1e-9 { 0.0 } else { v };
        Piece {
            from: x0,
            p: y0,
            b: m0,
            c: clean((3.0 * secant - 2.0 * m0 - m1) / h),
            d: clean((m0 + m1 - 2.0 * secant) / (h * h)),
        }
    }

    /// The value at `x`.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        let Piece { from, p, b, c, d } = self.piece(x);
        let x = x - from;
        p + x * (b + x * (c + x * d))
    }

    /// The least and greatest value the readings reach.
    #[must_use]
    pub fn reach(&self) -> (f64, f64) {
        let ends = (self.points[0].1, self.points[self.points.len() - 1].1);
        (ends.0.min(ends.1), ends.0.max(ends.1))
    }

    /// The first `x` at which the curve has the value `y`; `None` outside the readings.
    #[must_use]
    pub fn find(&self, y: f64) -> Option<f64> {
        let (low, high) = self.reach();
        if !(low..=high).contains(&y) {
            return None;
        }
        let falling = self.points[0].1 > self.points[self.points.len() - 1].1;
        let (mut a, mut b) = (self.points[0].0, self.points[self.points.len() - 1].0);
        for _ in 0..60 {
            let middle = f64::midpoint(a, b);
            let before = if falling { self.at(middle) > y } else { self.at(middle) < y };
            if before { a = middle } else { b = middle }
        }
        Some(f64::midpoint(a, b))
    }
}

fn slopes(secants: &[f64]) -> Vec<f64> {
    let n = secants.len();
    let mut slopes = vec![secants[0]; n + 1];
    slopes[n] = secants[n - 1];
    for i in 1..n {
        slopes[i] = f64::midpoint(secants[i - 1], secants[i]);
    }
    for (i, &secant) in secants.iter().enumerate() {
        if secant == 0.0 {
            (slopes[i], slopes[i + 1]) = (0.0, 0.0);
            continue;
        }
        let (a, b) = (slopes[i] / secant, slopes[i + 1] / secant);
        let size = libm::hypot(a, b);
        // Inside a circle of radius 3 the piece is monotone (their section 4).
        if size > 3.0 {
            slopes[i] = 3.0 * a / size * secant;
            slopes[i + 1] = 3.0 * b / size * secant;
        }
    }
    slopes
}

#[cfg(test)]
mod tests {
    use super::*;

    const TRIAL: [(f64, f64); 6] =
        [(0.0, 4.9), (0.5, 5.0), (1.0, 5.2), (1.5, 5.9), (2.0, 6.6), (2.5, 6.8)];

    #[test]
    fn the_curve_passes_through_the_readings_and_never_turns() {
        let curve = Curve::through(&TRIAL).unwrap();
        for (x, y) in TRIAL {
            assert!((curve.at(x) - y).abs() < 1e-12);
        }
        let values: Vec<f64> = (0..=250).map(|i| curve.at(f64::from(i) / 100.0)).collect();
        assert!(values.windows(2).all(|w| w[1] >= w[0] - 1e-12));
    }

    #[test]
    fn a_value_is_found_only_within_the_readings() {
        let curve = Curve::through(&TRIAL).unwrap();
        let x = curve.find(6.0).unwrap();
        assert!((curve.at(x) - 6.0).abs() < 1e-12);
        assert_eq!((curve.find(4.8), curve.find(7.0)), (None, None));
    }

    #[test]
    fn readings_that_turn_back_have_no_curve() {
        assert!(Curve::through(&[(0.0, 5.0), (1.0, 6.0), (2.0, 5.5)]).is_none());
        assert!(Curve::through(&[(0.0, 5.0)]).is_none());
        assert!(Curve::through(&[(1.0, 5.0), (1.0, 6.0)]).is_none());
    }
}
