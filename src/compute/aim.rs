//! The pH to bring a solution to.

use super::Desk;

/// What to bring the pH to.
pub(super) struct Aim {
    /// Range that suits every crop (pH).
    pub(super) range: [f64; 2],
    /// Its middle (pH), to a tenth where it can be.
    pub(super) target: f64,
}

/// The pH that suits every crop in the solution; 5.5 to 6.5 if none does.
pub(super) fn aim(desk: &Desk<'_>, mix: usize) -> Aim {
    let crops = desk.plan.bins.iter().filter(|b| b.mix == mix).flat_map(|b| &b.plants);
    let spans: Vec<_> = crops.map(|p| &p.crop.ph).collect();
    let low = spans.iter().map(|s| s.low).fold(0.0, f64::max);
    let high = spans.iter().map(|s| s.high).fold(14.0, f64::min);
    if !spans.is_empty() && low < high {
        return Aim { range: [low, high], target: middle(low, high) };
    }
    let usual = &desk.library.limits;
    let range = [usual.ph_low.value, usual.ph_high.value];
    if !spans.is_empty() {
        let batch = &desk.plan.mixes[mix];
        let message = format!("no pH suits every crop in \"{}\"", batch.name);
        let help = "5.5 to 6.5 is printed; give crops that differ a mix of their own";
        desk.caution("no-common-ph", &batch.place, message, help);
    }
    Aim { range, target: middle(range[0], range[1]) }
}

/// The middle of a range, to a tenth where a tenth lies in it: nobody reads more of a strip.
fn middle(low: f64, high: f64) -> f64 {
    let middle = f64::midpoint(low, high);
    let tenth = (10.0 * middle).round() / 10.0;
    if (low..=high).contains(&tenth) { tenth } else { middle }
}
