//! Feed for a volume in words: for the first filling of a bin, and for top-ups by their strength.

use super::super::Grow;
use super::drift::strength;
use super::mixing::amount;
use super::pails::measure;
use crate::compute::season::Event;
use crate::number::figures;
use crate::plan::Dose;

/// Feeds of a share of one of the volumes that are dosed.
fn feeds(grow: &Grow<'_>, mix: usize, (place, share): (usize, f64)) -> String {
    let mixing = &grow.results.mixing[mix];
    if let Some(two) = &mixing.concentrate {
        let ml = share * two.millilitres.get(place).copied().unwrap_or(0.0);
        let ml = figures::dropper(ml);
        let each = two.bottles().into_iter().map(|name| format!("{ml} of concentrate {name}"));
        return each.collect::<Vec<_>>().join(", stir, then ");
    }
    let parts = mixing.feeds.iter().zip(&grow.plan.mixes[mix].parts);
    let feeds = parts.filter(|(dose, _)| dose.rate > 0.0).filter_map(|(dose, part)| {
        let of = &grow.plan.feeds[dose.feed].name;
        let step = (part.dose == Dose::ToAim).then_some(grow.plan.mixes[mix].scale);
        Some(format!("{} of {of}", amount(&dose.amounts.get(place)?.times(share), step)))
    });
    feeds.collect::<Vec<_>>().join(", then ")
}

/// Feeds of the first filling of one bin.
pub(in super::super) fn for_bin(grow: &Grow<'_>, bin: usize) -> String {
    let mix = grow.plan.bins[bin].mix;
    let mixing = &grow.results.mixing[mix];
    let place = mixing.bins.iter().position(|b| *b == bin).unwrap_or(0);
    feeds(grow, mix, (mixing.first_bin() + place, 1.0))
}

/// What the strengths of a bin's top-ups and changes are in feed: for which round measure, at full and
/// at half strength (empty if nothing is poured at that), and whether plain water is poured.
pub(in super::super) fn strengths(grow: &Grow<'_>, bin: usize) -> ([String; 3], bool) {
    let (r, mix) = (&grow.results.bins[bin], grow.plan.bins[bin].mix);
    let checks = r.season.checks.iter().enumerate();
    let used: Vec<f64> = checks
        .filter_map(|(i, check)| match check.event.as_ref()? {
            Event::TopUp(_) => Some(strength(r, i)),
            Event::ChangeOut(_) => Some(1.0),
        })
        .collect();
    let (litres, name) = measure(grow, mix);
    let share = litres / grow.plan.mixes[mix].pail;
    let [full, half] = [1.0, 0.5].map(|part| {
        if used.contains(&part) { feeds(grow, mix, (0, part * share)) } else { String::new() }
    });
    ([name.into(), full, half], used.contains(&0.0))
}

/// Whether a bin's planned top-ups stop lower than its ceiling.
pub(in super::super) fn stops_lower(grow: &Grow<'_>, bin: usize) -> bool {
    let r = &grow.results.bins[bin];
    let to = |event: &Event| match event {
        Event::TopUp(pour) | Event::ChangeOut(pour) => pour.to,
    };
    // Less than a ruler shows tells nobody anything.
    let ceiling = r.fill.ceiling - grow.plan.system.ruler_step();
    r.season.events().any(|(_, event)| to(event) < ceiling)
}
