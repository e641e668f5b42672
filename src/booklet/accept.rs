//! What a key accepts: close enough that no number can have been left out.

use crate::number::{Step, Symbol, figures};

/// Accepted beside the answer, as a share of it.
const SHARE: f64 = 0.01;
/// Digits a pupil writes.
const DIGITS: u32 = 4;

/// How far from the answer is still right (in the unit of the answer): one per cent, but at most half
/// of what leaving out any one number would change.
fn margin(step: &Step) -> f64 {
    let all = step.expression.value(None);
    let symbols = step.givens.iter().map(|g| Symbol::of(&g.symbol));
    let changes = symbols.map(|s| (step.expression.value(Some(&s)) - all).abs() / 2.0);
    // What changes nothing cannot be told.
    let told = changes.filter(|c| c.is_finite() && *c > 1e-9 * all.abs());
    told.fold(SHARE * step.value.abs(), f64::min)
}

/// Whether a wrong answer would pass.
pub(super) fn within(wrong: f64, step: &Step) -> bool {
    (wrong - step.value).abs() <= margin(step)
}

/// From the least to the largest answer that is right, in as few digits as part them, or the answer
/// alone, where four digits leave nothing beside it.
pub(super) fn range(step: &Step, unit: &str) -> String {
    let (value, margin) = (step.value, margin(step));
    let first = libm::log10(value.abs()).floor();
    let place = |digits: u32| libm::pow(10.0, first + 1.0 - f64::from(digits));
    let ends = (3..=DIGITS).map(place).find(|one| *one <= margin).map(|one| {
        // Inwards; 1e-9 for what is stored a hair beside a whole number.
        let low = ((value - margin) / one - 1e-9).ceil() * one;
        let high = ((value + margin) / one + 1e-9).floor() * one;
        // An end above the next power of ten has a digit more.
        [low, high].map(|end| figures::plain(end, 5))
    });
    let said = match ends {
        Some([low, high]) if low != high => format!("{low} to {high}"),
        _ => figures::result(value),
    };
    format!("{said} {unit}").trim_end().to_string()
}
