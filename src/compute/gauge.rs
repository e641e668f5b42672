//! Where the level stands for round amounts of solution: the second edge of a gauge strip.

use super::fill;
use crate::library::Library;
use crate::plan::Bin;

/// An amount on a gauge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// Where the level stands above the inside floor (mm).
    pub height: f64,
    /// What is left in the bin then, in the gauge's own unit.
    pub amount: f64,
    /// Whether its number is to be written beside it.
    pub named: bool,
}

/// Round amounts up to a height of `top` mm, in a unit of so many litres. Neighbours stand at
/// least `fine` mm apart, those that are named at least `coarse`.
///
/// The amount is the liquid: what pots and cubes take up is left out, as in the fill lines.
#[must_use]
pub fn amounts(
    bin: &Bin,
    library: &Library,
    top: f64,
    litres: f64,
    [fine, coarse]: [f64; 2],
) -> Vec<Amount> {
    let held = |h: f64| fill::liquid(bin, library, h) / litres;
    let most = held(top);
    let Some((step, heights)) = steps()
        // If even their mean distance is too small, so is the least.
        .filter(|step| most / step <= top / fine)
        .map(|step| (step, heights(bin, &held, most, step)))
        .find(|(_, heights)| nearest(heights, 1) >= fine)
    else {
        return Vec::new();
    };
    let every = [1, 2, 5, 10, 20, 50].into_iter().find(|n| nearest(&heights, *n) >= coarse);
    let every = every.unwrap_or(100);
    let mark = |(i, height): (usize, f64)| Amount {
        height,
        amount: whole(i + 1) * step,
        named: (i + 1) % every == 0,
    };
    heights.into_iter().enumerate().map(mark).collect()
}

/// Round steps, rising: 0.001, 0.002, 0.005, 0.01 and so on.
fn steps() -> impl Iterator<Item = f64> {
    let power = |k: i32| libm::exp10(f64::from(k));
    (-3..4).flat_map(move |k| [1.0, 2.0, 5.0].map(|n| n * power(k)))
}

fn whole(n: usize) -> f64 {
    u32::try_from(n).map_or(f64::MAX, f64::from)
}

fn heights(bin: &Bin, held: &dyn Fn(f64) -> f64, most: f64, step: f64) -> Vec<f64> {
    let amounts = (1..).map(|n| whole(n) * step).take_while(|v| *v <= most);
    amounts.map(|v| bin.vessel.height_where(v, held)).collect()
}

/// Least distance between every `n`-th mark, from the floor on (mm).
fn nearest(heights: &[f64], n: usize) -> f64 {
    let marks = heights.iter().skip(n - 1).step_by(n);
    let mut below = 0.0;
    let mut least = f64::INFINITY;
    for h in marks {
        least = least.min(h - below);
        below = *h;
    }
    least
}

/// How far along a wall a level of `h` mm reaches beyond its height, on the wall that leans least
/// (mm); none for a vessel whose walls are not known.
#[must_use]
pub fn along_wall(bin: &Bin, h: f64) -> Option<f64> {
    use crate::science::vessel::Vessel;
    let (lean, depth) = match &bin.vessel {
        Vessel::Box { floor, rim, depth } => {
            let lean = |i: usize| (rim[i] - floor[i]).abs();
            (lean(0).min(lean(1)), *depth)
        }
        Vessel::Round { floor, rim, depth } => ((rim - floor).abs(), *depth),
        Vessel::Measured(_) => return None,
    };
    // Half the difference of the widths, in metres, over the depth in millimetres.
    let slope = 500.0 * lean / depth;
    Some(h * (libm::sqrt(1.0 + slope * slope) - 1.0))
}
