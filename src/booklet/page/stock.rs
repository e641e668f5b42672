//! Feeds of a grow: how much of each the first filling takes, and the season.

use super::super::Grow;
use super::drift;
use super::gather::Item;
use super::mixing::weight;
use crate::compute::Mixing;
use crate::compute::season::Event;
use crate::library::Bottle;
use crate::number::figures;
use crate::plan::{Feed, LabelRate, Mix};

/// All the solution of a season over the first filling of the bins of a solution, with changes, and
/// with top-ups by their strength.
fn season_share(grow: &Grow<'_>, mix: usize) -> f64 {
    let (mut first, mut all) = (0.0, 0.0);
    for bin in &grow.results.mixing[mix].bins {
        let r = &grow.results.bins[*bin];
        first += r.fill.start_volume;
        all += r.fill.start_volume;
        for (i, check) in r.season.checks.iter().enumerate() {
            all += match &check.event {
                Some(Event::ChangeOut(pour)) => pour.litres,
                Some(Event::TopUp(pour)) => drift::strength(r, i) * pour.litres,
                None => 0.0,
            };
        }
    }
    if first > 0.0 { all / first } else { 1.0 }
}

/// Grams, level teaspoons and millilitres of a feed: for the first filling, and for the season.
fn needs(grow: &Grow<'_>, feed: usize) -> [(f64, f64, f64); 2] {
    let mut all = [(0.0, 0.0, 0.0); 2];
    for (mix, mixing) in grow.results.mixing.iter().enumerate() {
        let before = mixing.first_bin();
        let season = season_share(grow, mix);
        for dose in mixing.feeds.iter().filter(|d| d.feed == feed) {
            for amount in dose.amounts.iter().skip(before).take(mixing.bins.len()) {
                for (sum, share) in all.iter_mut().zip([1.0, season]) {
                    sum.0 += share * amount.grams.unwrap_or(0.0);
                    sum.1 += share * amount.spoons.unwrap_or(0.0);
                    sum.2 += share * amount.millilitres.unwrap_or(0.0);
                }
            }
        }
    }
    all
}

/// What the first filling takes of each feed, and the season.
pub(super) fn feeds(grow: &Grow<'_>) -> Vec<Item> {
    let mut all = Vec::new();
    for (index, feed) in grow.plan.feeds.iter().enumerate() {
        let bottled = bottled(grow, index);
        let [first, season] = needs(grow, index);
        if unused(grow, index) {
            continue;
        }
        if let Some((grams, pairs)) = &bottled {
            let pairs = figures::plain(pairs.ceil(), 4);
            let how_much = format!("{grams}; pairs of bottles: {pairs}");
            all.push((labelled(feed), how_much));
        }
        if bottled.is_some() && first.0 == 0.0 {
            continue;
        }
        let amount = |(grams, spoons, ml): (f64, f64, f64)| match feed.rate {
            LabelRate::Liquid { .. } => figures::dropper(ml),
            LabelRate::Spoons { .. } | LabelRate::Mass { .. } if grams > 0.0 => {
                figures::mass(grams)
            }
            LabelRate::Spoons { .. } | LabelRate::Mass { .. } => {
                format!("{} tsp", figures::mixed(spoons, 8))
            }
        };
        let mut how_much = format!("{} for the first filling", amount(first));
        if amount(season) != amount(first) {
            how_much = format!("{how_much}, about {} in all", amount(season));
        }
        all.push((labelled(feed), how_much));
    }
    all
}

/// A feed with what its label says is in it, so that another of its kind can be bought.
fn labelled(feed: &Feed) -> String {
    let contents = feed.contents.iter().filter(|_| feed.salt.is_none());
    let parts: Vec<String> = contents
        .map(|(form, percent)| format!("{form} {} %", figures::plain(*percent, 3)))
        .collect();
    match parts.as_slice() {
        [] => feed.name.clone(),
        parts => format!("{}; on its label: {}", feed.name, parts.join(", ")),
    }
}

/// What which bottle of concentrate takes of a feed, and how many pairs of bottles the grow takes.
fn bottled(grow: &Grow<'_>, feed: usize) -> Option<(String, f64)> {
    let of_mix = |(index, (mix, mixing)): (usize, (&Mix, &Mixing))| {
        let two = mixing.concentrate.as_ref()?;
        let own = two.parts.iter().find(|p| p.feed == feed)?;
        let bottle = match own.bottle {
            Bottle::A => "A",
            Bottle::B => "B",
        };
        let taken = format!("{} to bottle {bottle}", weight(own.grams, mix.scale));
        let season = season_share(grow, index);
        Some((taken, season * mixing.total / two.makes))
    };
    grow.plan.mixes.iter().zip(&grow.results.mixing).enumerate().find_map(of_mix)
}

/// Whether no bin gets anything of a feed.
pub(super) fn unused(grow: &Grow<'_>, feed: usize) -> bool {
    let gets = |(mix, mixing): (usize, &Mixing)| {
        let filled = grow.plan.bins.iter().any(|b| b.mix == mix);
        filled && mixing.feeds.iter().any(|d| d.feed == feed && d.rate > 0.0)
    };
    !grow.results.mixing.iter().enumerate().any(gets)
}
