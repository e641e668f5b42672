//! What a key accepts: close enough that no number can have been left out.

use crate::number::{Step, Symbol, figures};

/// Accepted beside the answer, as a share of it.
const SHARE: f64 = 0.01;

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

/// From the least to the largest answer that is right, or the answer alone, where four digits leave
/// nothing beside it.
pub(super) fn range(step: &Step, unit: &str) -> String {
    let said = between(step.value, margin(step));
    let said = said.unwrap_or_else(|| figures::result(step.value));
    format!("{said} {unit}").trim_end().to_string()
}

/// From `value` less a margin to `value` and the margin: in three digits, or in four where three would
/// take half of the margin away; none if that leaves nothing beside the value.
pub(super) fn between(value: f64, margin: f64) -> Option<String> {
    let first = libm::log10(value.abs()).floor();
    let place = |digits: f64| libm::pow(10.0, first + 1.0 - digits);
    let (three, four) = (place(3.0), place(4.0));
    let one = if three <= margin / 2.0 { three } else { four };
    // Inwards; 1e-9 for what is stored a hair beside a whole number.
    let low = ((value - margin) / one - 1e-9).ceil() * one;
    let high = ((value + margin) / one + 1e-9).floor() * one;
    // An end above the next power of ten has a digit more.
    let [from, to] = [low, high].map(|end| figures::plain(end, 5));
    (one <= margin && from != to).then(|| format!("{from} to {to}"))
}
