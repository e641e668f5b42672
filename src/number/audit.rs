//! Is a step sound? Units balance, and a pocket calculator gives the printed result.

use super::figures;
use super::step::Step;

/// Everything wrong with a step, in words; empty when it is sound.
///
/// ```
/// use binleaf::number::{audit, formula::Pen, sheet::Sheet};
/// use binleaf::number::{Card, Datum, Formula, Name, Number, Origin, unit};
/// struct Depth<N> { a: N, b: N }
/// impl<N: Number> Formula<N> for Depth<N> {
///     const CARD: Card = Card { id: "depth", says: "", unit: unit::LITRE, source: "", at: "" };
///     fn value(self) -> N { self.a + self.b }
/// }
/// let sheet = Sheet::new();
/// let given = |value, unit| sheet.given(&Datum { symbol: "a", what: "", value, unit, origin: Origin::Plan });
/// let formula = Depth { a: given(1.0, unit::LITRE), b: given(2.0, unit::GRAM) };
/// sheet.work(&Name::new("depth", "d", ""), formula);
/// assert!(audit::faults(&sheet.into_steps()[0])[0].contains("unlike units"));
/// ```
#[must_use]
pub fn faults(step: &Step) -> Vec<String> {
    let mut faults = step.faults.clone();
    let by_hand = figures::join(&figures::result(step.pocket), step.card.unit.text);
    if by_hand != step.result {
        faults.push(format!("a pocket calculator gives {by_hand}, printed is {}", step.result));
    }
    faults
}
