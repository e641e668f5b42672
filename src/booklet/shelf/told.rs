//! What a gauge strip shows, in words.

use super::super::Grow;
use super::ruler::{Scale, read};
use super::together;

/// Its lines, amounts and days, of the parts on its page.
pub(super) fn alt(grow: &Grow<'_>, scale: &Scale, bins: &[usize], parts: &[[f64; 2]]) -> String {
    let system = scale.system;
    let fill = &grow.results.bins[bins[0]].fill;
    let (low, high) = (parts[0][0], parts.iter().map(|p| p[1]).fold(0.0, f64::max));
    let inside = |h: f64| (low..=high).contains(&h);
    let amounts = scale.amounts.iter().filter(|(h, _)| inside(*h)).filter_map(|(h, number)| {
        let ([own, other], [_, unit, small]) = (number.as_ref()?, scale.units);
        Some(format!("{own} {unit} ({other} {small}) at {}", read(system, *h)))
    });
    let days = scale.days.iter().filter(|(h, _)| inside(*h));
    let days = days.map(|(h, day)| format!("{day} at {}", read(system, *h)));
    let days: Vec<String> = days.collect();
    let days = if days.is_empty() { "none".to_string() } else { days.join(", ") };
    format!(
        "Gauge strip at full size for {}, from {} to {} above the inside floor, with a check bar. \
         Start line at {}, ceiling at {}, reserve at {}. Left in the bin: {}. Expected levels: \
         {days}.",
        together(grow, bins),
        read(system, low),
        read(system, high),
        read(system, fill.start),
        read(system, fill.ceiling),
        read(system, fill.reserve),
        amounts.collect::<Vec<_>>().join(", "),
    )
}
