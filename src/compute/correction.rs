//! What to do with a mix that reads too strong or too weak.

use super::chemistry::Reading;
use super::fill::data;
use super::{Desk, take};
use crate::number::unit::{CELSIUS, LITRE, MILLISIEMENS_PER_CENTIMETRE, PER_CELSIUS};
use crate::number::{Name, Origin, Pen, Sheet, Traced, figures};
use crate::plan::Mix;
use crate::science::dosing::{FeedMore, Swap, Uncorrected};

/// What to do at one reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correction {
    /// The meter reads this (mS/cm at 25 °C).
    pub reads: f64,
    /// Too strong: take out of a full pail and fill up with water (L).
    pub swap: Option<f64>,
    /// Too weak: stir in this part of the pail's feed once more.
    pub more: Option<f64>,
}

/// Readings beside the expected one, as parts of it.
const PARTS: [f64; 6] = [0.7, 0.8, 0.9, 1.1, 1.2, 1.3];
/// The same, where a tenth may be the forecast's.
const COARSE: [f64; 6] = [0.7, 0.8, 0.85, 1.15, 1.2, 1.3];

/// Works what to do for readings beside the expected one: what the water reads alone, and the part by
/// which a right mix may read off.
pub(super) fn work(
    sheet: &Sheet,
    batch: &Mix,
    expected: &Reading,
    (water, doubt): (f64, f64),
) -> Vec<Correction> {
    let unit = MILLISIEMENS_PER_CENTIMETRE;
    let found = |symbol, what, value| take(sheet, symbol, what, value, unit, Origin::Found);
    let of_part = |part: &f64| {
        let reads = (part * expected.conductivity * 100.0).round() / 100.0;
        let wanted = found("κ", "to read, from the water report", expected.conductivity);
        let alone = found("κ_w", "the water alone", water);
        let now = found("κ_now", "the meter reads", reads);
        let v = take(sheet, "V_pail", "one full pail", batch.pail, LITRE, Origin::Plan);
        let item = format!("it reads {}", figures::decimals(reads, 2));
        let strong = reads > expected.conductivity && reads > water;
        let swap = strong.then(|| {
            let name = Name::new("swap-for-water", "V_out", "Take out and replace by water");
            let name = name.of(&item);
            sheet.work(&name, Swap { v, now, wanted, alone }).number()
        });
        let more = (!strong && expected.conductivity > water).then(|| {
            let name = Name::new("feed-more", "x", "Stir in once more, part of the dose");
            let name = name.of(&item);
            sheet.work(&name, FeedMore { now, wanted, alone }).number()
        });
        Correction { reads, swap, more }
    };
    // Where the feed hardly shows on the meter, the meter cannot correct it.
    if expected.conductivity < SHOWS * water {
        return Vec::new();
    }
    // A right mix is not corrected.
    let parts = if doubt < 0.1 { PARTS } else { COARSE };
    parts.iter().filter(|part| (*part - 1.0).abs() > doubt).map(of_part).collect()
}

/// The mix conducts at least this much better than its water, or its meter tells nothing.
pub const SHOWS: f64 = 1.3;

/// What a meter shows that does not correct for temperature (mS/cm).
pub(super) fn uncorrected<'s>(desk: &Desk<'s>, reading: &Reading) -> f64 {
    let (sheet, limits) = (desk.sheet, &desk.library.limits);
    let celsius = desk.plan.water.temperature;
    let what = "conductivity at 25 °C";
    let unit = MILLISIEMENS_PER_CENTIMETRE;
    let k: Traced<'s> = take(sheet, "κ_25", what, reading.conductivity, unit, Origin::Found);
    let rate = &limits.conductivity_per_degree;
    let a = take(sheet, "a", "change by a degree", rate.value, PER_CELSIUS, data(rate));
    let t = take(sheet, "t", "water", celsius, CELSIUS, Origin::Plan);
    let reference = &limits.conductivity_reference;
    let what = "reference temperature";
    let t25 = take(sheet, "t_25", what, reference.value, CELSIUS, data(reference));
    let name = Name::new("uncorrected-conductivity", "κ_t", "Shown without temperature correction");
    sheet.work(&name, Uncorrected { k, a, t, t25 }).number()
}
