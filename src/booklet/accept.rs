//! What a key accepts: close enough that no number, part of a sum or factor can have been left out.

use crate::number::expression::Term;
use crate::number::{Expression, Step, Symbol, figures};

/// Accepted beside the answer, as a share of it.
const SHARE: f64 = 0.01;

/// How far from the answer is still right (in the unit of the answer): one per cent, but at most half
/// of what leaving out any one number, part of a sum or factor would change.
fn margin(step: &Step) -> f64 {
    let all = step.expression.value(None);
    let symbols = step.givens.iter().map(|g| step.expression.value(Some(&Symbol::of(&g.symbol))));
    let (_, parts) = shorter(&step.expression);
    let changes = symbols.chain(parts).map(|wrong| (wrong - all).abs() / 2.0);
    // What changes nothing cannot be told.
    let told = changes.filter(|c| c.is_finite() && *c > 1e-9 * all.abs());
    told.fold(SHARE * step.value.abs(), f64::min)
}

/// What a tree comes to, and what with one part of one sum, or factor of one product, left out, for each.
type Shorter = (f64, Vec<f64>);

/// Two trees under one sign.
fn both((a, less_a): Shorter, (b, less_b): Shorter, f: &dyn Fn(f64, f64) -> f64) -> Shorter {
    let (of_a, of_b) = (less_a.iter().map(|a| f(*a, b)), less_b.iter().map(|b| f(a, *b)));
    (f(a, b), of_a.chain(of_b).collect())
}

fn shorter(whole: &Expression) -> Shorter {
    let one = |of: &Expression, f: &dyn Fn(f64) -> f64| {
        let (all, without) = shorter(of);
        (f(all), without.into_iter().map(f).collect())
    };
    let two = |a: &Expression, b: &Expression, f: &dyn Fn(f64, f64) -> f64| {
        both(shorter(a), shorter(b), f)
    };
    match whole {
        Expression::Bare { .. } | Expression::Given { .. } => (whole.value(None), Vec::new()),
        Expression::Negative { of } => one(of, &|a| -a),
        Expression::Exponential { of } => one(of, &libm::exp),
        Expression::Logarithm { of } => one(of, &libm::log),
        Expression::Root { of } => one(of, &f64::sqrt),
        Expression::Power { of, times } => one(of, &|a| libm::pow(a, f64::from(*times))),
        Expression::Ratio { over, under } => two(over, under, &|a, b| a / b),
        Expression::Choice { larger: true, of: [a, b] } => two(a, b, &f64::max),
        Expression::Choice { of: [a, b], .. } => two(a, b, &f64::min),
        Expression::Product { factors } => {
            let first = (1.0, Vec::new());
            let times = |a, b| both(a, b, &|a, b| a * b);
            let (all, mut less) = factors.iter().map(shorter).fold(first, times);
            less.extend(factors.iter().map(|factor| all / factor.value(None)));
            (all, less)
        }
        Expression::Sum { terms } => {
            let signed = |t: &Term| one(&t.of, &|a| if t.minus { -a } else { a });
            let all = terms.iter().map(signed).collect::<Vec<_>>();
            let sum: f64 = all.iter().map(|of| of.0).sum();
            let less = |(own, parts): &Shorter| {
                let parts = parts.iter().map(|part| sum - own + part);
                [sum - own].into_iter().chain(parts).collect::<Vec<_>>()
            };
            (sum, all.iter().flat_map(less).collect())
        }
    }
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
    (low < high && from != to).then(|| format!("{from} to {to}"))
}
