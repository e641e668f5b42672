//! Where a function that falls or rises crosses nought, between two bounds.

/// The crossing of `f` between `a` and `b`, to `within`; `None` if both ends have the same sign.
///
/// False position with the Illinois rule (a stale end counts half), and halving when that is
/// slow, so it always ends.
#[must_use]
pub fn root(mut a: f64, mut b: f64, within: f64, mut f: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Some(a);
    }
    if fb == 0.0 {
        return Some(b);
    }
    if fa * fb > 0.0 || !(fa + fb).is_finite() {
        return None;
    }
    let mut width = (b - a).abs();
    for step in 0..200 {
        let halve = step % 3 == 2 && (b - a).abs() > 0.5 * width;
        if step % 3 == 2 {
            width = (b - a).abs();
        }
        let x = if halve { f64::midpoint(a, b) } else { (a * fb - b * fa) / (fb - fa) };
        let fx = f(x);
        if fx == 0.0 || (b - a).abs() < within {
            return Some(x);
        }
        if fx * fb < 0.0 {
            (a, fa) = (b, fb);
        } else {
            fa *= 0.5;
        }
        (b, fb) = (x, fx);
    }
    Some(f64::midpoint(a, b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_crossing_of_a_steep_curve() {
        let x = root(0.0, 10.0, 1e-12, |x| libm::exp(x) - 5.0).unwrap();
        assert!((x - libm::log(5.0)).abs() < 1e-10, "{x}");
        assert_eq!(root(0.0, 1.0, 1e-9, |x| x + 1.0), None);
        assert_eq!(root(0.0, 1.0, 1e-9, |_| f64::NAN), None);
    }
}
