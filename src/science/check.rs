//! What the tests of this folder share: a number against print, a card on a sheet.

use crate::number::{Datum, Origin, Pen, Sheet, Traced, Unit, audit, figures};

/// The number, rounded as in its source, is the number printed there.
#[track_caller]
pub(super) fn printed(value: f64, text: &str) {
    let places = text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    assert_eq!(figures::decimals(value, places), text, "{value}");
}

/// A number put on a sheet.
pub(super) fn put(sheet: &Sheet, value: f64, unit: Unit) -> Traced<'_> {
    sheet.given(&Datum { symbol: "x", what: "", value, unit, origin: Origin::Plan })
}

/// Units balance and a pocket calculator agrees in all steps, and the last has this result.
#[track_caller]
pub(super) fn sound(sheet: Sheet, result: &str) {
    let steps = sheet.into_steps();
    for step in &steps {
        let faults = audit::faults(step);
        assert!(faults.is_empty(), "{}: {faults:?}", step.card.id);
    }
    assert_eq!(steps.last().map(|s| s.result.as_str()), Some(result));
}
