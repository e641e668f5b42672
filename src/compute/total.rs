//! All the solution of the first filling, bin by bin and solution by solution.

use super::fill::Worked;
use super::{Desk, batch_scope};
use crate::number::{Name, Pen, Traced};
use crate::plan::Plan;
use crate::science::mixing::TotalVolume;

const SO_FAR: Name<'_> = Name::new("batch-volume", "V_all", "All the solution so far");
/// The last sum has an id of its own: pages name its number.
const ALL: Name<'_> = Name::new("all-solution", "V_all", "All the solution");

fn bins_of(plan: &Plan, mix: usize) -> Vec<usize> {
    (0..plan.bins.len()).filter(|b| plan.bins[*b].mix == mix).collect()
}

/// Solutions that some bin is filled with.
fn used(plan: &Plan) -> Vec<usize> {
    (0..plan.mixes.len()).filter(|m| !bins_of(plan, *m).is_empty()).collect()
}

/// All of one solution; `None` if no bin is filled with it.
pub(super) fn of_mix<'s>(desk: &Desk<'s>, mix: usize, fills: &[Worked<'s>]) -> Option<Traced<'s>> {
    let bins = bins_of(desk.plan, mix);
    let alone = used(desk.plan).len() == 1;
    let mut so_far = fills[*bins.first()?].start_volume;
    for (i, &bin) in bins.iter().enumerate().skip(1) {
        let name = if alone && i + 1 == bins.len() { ALL } else { SO_FAR };
        let formula = TotalVolume { so_far, next: fills[bin].start_volume };
        so_far = desk.sheet.work(&name.of(&desk.plan.bins[bin].name), formula);
    }
    Some(so_far)
}

/// All the solutions together, if there are several: the sums of [`of_mix`], added up on the sheet.
pub(super) fn of_grow(desk: &Desk<'_>, fills: &[Worked<'_>]) {
    let (sheet, plan) = (desk.sheet, desk.plan);
    let of = |mix: &usize| {
        sheet.about(&batch_scope(&plan.mixes[*mix].name));
        let bins = bins_of(plan, *mix);
        let last = *bins.last()?;
        let sum = sheet.before(&SO_FAR.of(&plan.bins[last].name));
        Some((*mix, sum.unwrap_or(fills[last].start_volume)))
    };
    let volumes: Vec<_> = used(plan).iter().filter_map(of).collect();
    let Some((&(_, first), rest)) = volumes.split_first() else { return };
    sheet.about("grow");
    let mut so_far = first;
    for (i, &(mix, next)) in rest.iter().enumerate() {
        let name = if i + 1 == rest.len() { ALL } else { SO_FAR };
        so_far = sheet.work(&name.of(&plan.mixes[mix].name), TotalVolume { so_far, next });
    }
}
