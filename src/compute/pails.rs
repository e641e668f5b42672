//! Pails: how many full ones a volume takes, and what remains for the last.

use super::fill::Worked;
use super::mixing::Vessel;
use super::{Desk, batch_scope, bin_scope, dates, take};
use crate::number::unit::{LITRE, NONE};
use crate::number::{Name, Origin, Pen, Sheet, Traced};
use crate::plan::Mix;
use crate::science::pail::{Pails as Count, PartPail};

/// The pails of one volume.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pails {
    /// Full ones.
    pub full: u32,
    /// The last, part pail (L); 0 if none.
    pub part: f64,
    /// Place of the part pail among the volumes that are dosed.
    pub place: Option<usize>,
}

impl Pails {
    /// Whether one pail does not hold it.
    #[must_use]
    pub fn several(&self) -> bool {
        self.full > 1 || (self.full == 1 && self.part > 0.0)
    }
}

/// What is dosed of one solution: a full pail, the part pail of all of it, each bin, and the part
/// pail of each bin that holds more than a pail.
pub(super) struct Vessels<'s> {
    /// In this order.
    pub(super) all: Vec<Vessel<'s>>,
    /// All the solution, if it is mixed on one day.
    pub(super) together: Option<Pails>,
    /// Of each bin.
    pub(super) bins: Vec<Pails>,
}

/// Works the pails of a solution; `bins` are those that are filled with it.
pub(super) fn work<'s>(
    desk: &Desk<'s>,
    batch: &Mix,
    (bins, fills): (&[usize], &[Worked<'s>]),
    total: Option<Traced<'s>>,
) -> Vessels<'s> {
    let (plan, sheet) = (desk.plan, desk.sheet);
    let scope = batch_scope(&batch.name);
    sheet.about(&scope);
    let full = take(sheet, "V_pail", "one full pail", batch.pail, LITRE, Origin::Plan);
    let mut all = vec![(scope.clone(), "full pail", full)];
    let day = |bin: &usize| dates::dates(&plan.bins[*bin], &plan.checks).set_out;
    let one_day = bins.windows(2).all(|pair| day(&pair[0]) == day(&pair[1]));
    // What is mixed on several days is never counted into pails together.
    let together = total.filter(|_| one_day).map(|v| {
        let (pails, part) = count(sheet, batch, v);
        all.extend(part.map(|part| (scope.clone(), "part pail", part)));
        Pails { place: part.map(|_| 1), ..pails }
    });
    let of_bin = |bin: &usize| (bin_scope(&plan.bins[*bin].name), fills[*bin].start_volume);
    let own: Vec<_> = bins.iter().map(of_bin).collect();
    all.extend(own.iter().map(|(scope, v)| (scope.clone(), "", *v)));
    let bins = own.into_iter().map(|vessel| of_bin_alone(sheet, batch, vessel, &mut all)).collect();
    sheet.about(&scope);
    Vessels { all, together, bins }
}

/// The pails of one bin; its part pail is dosed too.
fn of_bin_alone<'s>(
    sheet: &'s Sheet,
    batch: &Mix,
    (scope, v): (String, Traced<'s>),
    all: &mut Vec<Vessel<'s>>,
) -> Pails {
    sheet.about(&scope);
    // One pail or less is dosed as the bin itself is.
    if v.number() <= batch.pail * (1.0 + LITTLE) {
        let full = u32::from(v.number() >= batch.pail * (1.0 - LITTLE));
        let part = if full == 1 { 0.0 } else { v.number() };
        return Pails { full, part, place: None };
    }
    let (pails, part) = count(sheet, batch, v);
    let place = part.map(|part| {
        all.push((scope, "part pail", part));
        all.len() - 1
    });
    Pails { place, ..pails }
}

/// So little of a pail more or less is no pail of its own (share of a pail).
const LITTLE: f64 = 0.005;

/// Full pails of a volume, and what they leave of it.
fn count<'s>(sheet: &'s Sheet, batch: &Mix, v: Traced<'s>) -> (Pails, Option<Traced<'s>>) {
    let pail = take(sheet, "V_pail", "one full pail", batch.pail, LITRE, Origin::Plan);
    let pails = sheet.work(&Name::new("pails", "n_pail", "Pails of solution"), Count { v, pail });
    let whole = (0..1_000_000).take_while(|n| f64::from(*n) + 1.0 - LITTLE < pails.number()).last();
    let full = whole.map_or(0, |n| n + 1);
    let left = v.number() - f64::from(full) * batch.pail;
    if left <= LITTLE * batch.pail {
        return (Pails { full, part: 0.0, place: None }, None);
    }
    let part = if full == 0 {
        v
    } else {
        let n = take(sheet, "n_full", "full pails of them", f64::from(full), NONE, Origin::Found);
        let name = Name::new("part-pail", "V_part", "For the part pail");
        sheet.work(&name, PartPail { v, n, pail })
    };
    (Pails { full, part: part.number(), place: None }, Some(part))
}
