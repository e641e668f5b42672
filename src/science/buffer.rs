//! The unknown in a jar: how much acid or base, and how much buffer, a feed brings that its label
//! does not tell, from the readings of a jar trial in a water that is known.
//!
//! Least squares in pH by Gauss and Newton, held back by what is likely: at each reading the
//! charge left over at that pH, over the slope of the charge, is how far the pH is off.

use super::speciation::Solution;
use super::species::{Amounts, COMPONENTS, Component, Constants};

/// A reading of a strip or a cheap meter is this good (pH).
const READING: f64 = 0.1;
/// A label leaves so much acid or base untold, one time in three beyond it (mol/L).
const BASE: f64 = 2e-3;
/// The same for a phosphate-like buffer (mol/L).
const BUFFER: f64 = 1e-3;

/// What the jar told.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unknown {
    /// Base beyond what was counted (mol/L); negative for acid.
    pub base: f64,
    /// Buffer beyond what was counted, as dihydrogen phosphate (mol/L); negative if there is less.
    pub buffer: f64,
    /// How far the readings lie from the fitted curve, root of the mean square (pH).
    pub off: f64,
    /// The largest of these distances (pH).
    pub worst: f64,
}

impl Unknown {
    /// The solution with it.
    #[must_use]
    pub fn in_solution(&self, solution: &Solution) -> Solution {
        let base = if self.base > 0.0 { Component::Sodium } else { Component::Chloride };
        let mut own: Amounts = [0.0; COMPONENTS];
        own[base as usize] = self.base.abs();
        own[Component::Phosphate as usize] = self.buffer;
        // Dihydrogen phosphate comes with potassium; where there is less, with less of it.
        own[Component::Potassium as usize] += self.buffer;
        let mut changed = solution.with(&own, 1.0);
        let phosphate = &mut changed.totals[Component::Phosphate as usize];
        *phosphate = phosphate.max(0.0);
        changed
    }
}

/// Fits the unknown to readings: dose of `compound` (mol/L) and pH. The first is by base alone, the
/// second by base and buffer, where base alone stays clear of the readings and a buffer brings the
/// curve at least twice as near. `None` with fewer than two readings, or if no curve comes near.
#[must_use]
pub fn fit(
    c: &Constants<'_>,
    solution: &Solution,
    compound: &Amounts,
    readings: &[(f64, f64)],
) -> Option<(Unknown, Option<Unknown>)> {
    if readings.len() < 2 {
        return None;
    }
    let trial = Trial { c, solution, compound, readings };
    let alone = trial.search(false);
    let poor = alone.is_none_or(|x| x.off > POOR);
    let both = if readings.len() > 2 && poor { trial.search(true) } else { None };
    let nearer = |x: &Unknown| alone.is_none_or(|alone| 2.0 * x.off < alone.off);
    let both = both.filter(nearer);
    match (alone, both) {
        (Some(alone), both) => Some((alone, both)),
        (None, Some(both)) => Some((both, None)),
        (None, None) => None,
    }
}

/// Readings and what they were read in.
struct Trial<'a> {
    c: &'a Constants<'a>,
    solution: &'a Solution,
    compound: &'a Amounts,
    readings: &'a [(f64, f64)],
}

impl Trial<'_> {
    /// The best base, or base and buffer.
    fn search(&self, both: bool) -> Option<Unknown> {
        let mut x = [0.0, 0.0];
        for _ in 0..40 {
            let step = self.step(x, both)?;
            // A stride no longer than what is likely keeps the search from running away.
            let stride = (step[0] / BASE).abs().max((step[1] / BUFFER).abs()).max(1.0);
            let held = self.solution.totals[Component::Phosphate as usize];
            x[0] += step[0] / stride;
            x[1] = (x[1] + step[1] / stride).max(-held);
            if step[0].abs() < 1e-10 && step[1].abs() < 1e-10 {
                break;
            }
        }
        let unknown = Unknown { base: x[0], buffer: x[1], off: 0.0, worst: 0.0 };
        let there = unknown.in_solution(self.solution);
        let (mut sum, mut worst) = (0.0, 0.0_f64);
        for (dose, ph) in self.readings {
            let off = there.with(self.compound, *dose).equilibrium(self.c)?.ph - ph;
            sum += off * off;
            worst = worst.max(off.abs());
        }
        #[expect(clippy::cast_precision_loss, reason = "a handful of readings")]
        let off = libm::sqrt(sum / self.readings.len() as f64);
        (off < WORST).then_some(Unknown { off, worst, ..unknown })
    }

    /// One step of the search, from the residuals in pH and how they change with both unknowns.
    fn step(&self, x: [f64; 2], both: bool) -> Option<[f64; 2]> {
        let c = self.c;
        let at = |base, buffer| {
            Unknown { base, buffer, off: 0.0, worst: 0.0 }.in_solution(self.solution)
        };
        let (here, more) = (at(x[0], x[1]), at(x[0], x[1] + 1e-5));
        // Normal equations, with what is likely as two more rows.
        let mut a = [[1.0 / (BASE * BASE), 0.0], [0.0, 1.0 / (BUFFER * BUFFER)]];
        let mut b = [-x[0] * a[0][0], -x[1] * a[1][1]];
        for (dose, ph) in self.readings {
            let charge = |s: &Solution, ph: f64| s.with(self.compound, *dose).at_ph(c, ph).charge;
            let q = charge(&here, *ph);
            let slope = (charge(&here, ph + 0.01) - q) / 0.01;
            if slope >= 0.0 || slope.is_nan() {
                return None;
            }
            // Charge falls as pH rises: more base leaves more charge, and the true pH lies higher.
            let off = q / -slope;
            let change = [1.0 / -slope, (charge(&more, *ph) - q) / 1e-5 / -slope];
            for i in 0..2 {
                b[i] -= change[i] * off / (READING * READING);
                for j in 0..2 {
                    a[i][j] += change[i] * change[j] / (READING * READING);
                }
            }
        }
        if !both {
            return Some([b[0] / a[0][0], 0.0]);
        }
        let d = a[0][0] * a[1][1] - a[0][1] * a[1][0];
        (d > 0.0)
            .then(|| [(b[0] * a[1][1] - b[1] * a[0][1]) / d, (a[0][0] * b[1] - a[1][0] * b[0]) / d])
    }
}

/// Base alone this near needs no buffer; further off, a fit is not to be leant on (pH, root of the mean
/// square).
pub const POOR: f64 = 0.08;
/// A fit further than this from the readings tells nothing (pH).
const WORST: f64 = 0.5;
