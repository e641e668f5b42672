//! What to gather before the grow begins.

use std::collections::BTreeMap;

use super::super::Grow;
use super::super::block::{Block, Table};
use super::acidity;
use super::drift;
use super::mixing::{spoons, weight};
use super::{cells, one, words};
use crate::compute::Mixing;
use crate::compute::season::Event;
use crate::number::figures;
use crate::plan::{LabelRate, Mix};
use crate::science::vessel::Vessel;

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

/// What is needed, and how much of it.
type Item = (String, String);

pub(in super::super) fn gather_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut items = living(grow);
    items.extend(wet(grow));
    let tools = [
        ("pH strips or meter; conductivity meter if you have one", "for every check"),
        ("Ruler or stick that stands on the bin's floor", "one, kept clean"),
        ("Syringes of 1 mL and 10 mL, a measured jug, a clean jar", "one each"),
        ("Tray for seedlings, thermometer, lamp or a bright window", "one each"),
        ("Washing-up liquid and household bleach, for the end", "one bottle each"),
        ("Goggles, gloves, apron for whoever doses pH", "one set each"),
    ];
    let dry = |i: usize| !unused(grow, i) && !liquid(&grow.plan.feeds[i].rate);
    if (0..grow.plan.feeds.len()).any(dry) || grow.plan.adjusters.iter().any(|a| a.dry) {
        items.push(("Scale".into(), scale(grow)));
    }
    if (0..grow.plan.mixes.len()).any(|mix| spoons(grow, mix)) {
        items.push(("Measuring spoons down to 1/8 teaspoon".into(), "one set".into()));
    }
    if let Some(two) = grow.plan.mixes.iter().find_map(|m| m.concentrate) {
        let size = figures::volume(two.bottle, grow.plan.system);
        let bottles = "Bottles that never held drinks or food, child-proof caps, labels, a funnel";
        items.push((bottles.into(), format!("two of {size}")));
        items.push(("Measuring cups, one for each bottle, marked A and B".into(), "two".into()));
        items.push((
            "Rain or distilled water, close-fitting dust mask".into(),
            "for the bottles".into(),
        ));
    }
    items.extend(tools.map(|(what, how_much)| (what.into(), how_much.into())));
    let rows = items.into_iter().map(|(what, how_much)| cells([what, how_much, String::new()]));
    let columns = words([("What", 10), ("How much", 7), ("Got it", 2)]);
    one(Table { row_height: 6.2, ..Table::printed("", columns, rows.collect()) })
}

/// Plants, pots, cubes and bins, with spares.
fn living(grow: &Grow<'_>) -> Vec<Item> {
    let mut pots: BTreeMap<&str, u32> = BTreeMap::new();
    let mut plants: BTreeMap<&str, u32> = BTreeMap::new();
    let mut cubes: BTreeMap<String, BTreeMap<&str, u32>> = BTreeMap::new();
    for bin in &grow.plan.bins {
        *pots.entry(&bin.pot.name).or_default() += bin.pots();
        for planting in &bin.plants {
            *plants.entry(&planting.crop.name).or_default() += planting.count;
        }
        if let Some(cube) = bin.cube {
            let size = figures::length(cube.side, grow.plan.system);
            let crops = cubes.entry(size).or_default();
            for planting in &bin.plants {
                *crops.entry(&planting.crop.name).or_default() += planting.count;
            }
        }
    }
    let spare = 1.0 + grow.library.limits.spare_share.value;
    let spares = |n: u32| (f64::from(n) * spare - 1e-9).ceil();
    let item = |what: String, n: u32| (what, format!("{n}; with spares {}", spares(n)));
    // Every seed gets a cube, the spare ones too.
    let cube = |(size, crops): (String, BTreeMap<&str, u32>)| {
        let (n, all) =
            (crops.values().sum::<u32>(), crops.values().map(|n| spares(*n)).sum::<f64>());
        (format!("Growing cubes, {size}"), format!("{n}; with spares {all}"))
    };
    let mut items = Vec::new();
    items.extend(plants.into_iter().map(|(c, n)| item(format!("{c}, seeds or cuttings"), n)));
    items.extend(pots.into_iter().map(|(pot, n)| item(pot.into(), n)));
    items.extend(cubes.into_iter().map(cube));
    items.extend(sizes(grow));
    items
}

/// Insides and holes of bins, copies together.
fn sizes(grow: &Grow<'_>) -> Vec<Item> {
    let mut all: Vec<Item> = Vec::new();
    let length = |metres: f64| figures::short_length(1000.0 * metres, grow.plan.system);
    for bin in &grow.plan.bins {
        let name = format!("Bin with lid, clean, food-safe, light-proof: {}", bin.called);
        let copies = grow.plan.bins.iter().filter(|other| other.called == bin.called).count();
        let each = if copies > 1 { "each inside" } else { "inside" };
        if all.last().is_some_and(|(last, _)| *last == name) {
            continue;
        }
        let depth = figures::short_length(bin.vessel.depth(), grow.plan.system);
        let inside = match &bin.vessel {
            Vessel::Box { floor: [a, b], rim: [c, d], .. }
                if (a - c).abs() + (b - d).abs() < 1e-6 =>
            {
                format!("about {} by {}", length(*a), length(*b))
            }
            Vessel::Box { floor: [a, b], rim: [c, d], .. } => {
                let (floor, rim) = ([a, b].map(|x| length(*x)), [c, d].map(|x| length(*x)));
                format!(
                    "about {} by {} at the floor, {} by {} at the rim",
                    floor[0], floor[1], rim[0], rim[1]
                )
            }
            Vessel::Round { floor, rim, .. } if (floor - rim).abs() < 1e-6 => {
                format!("about {} across", length(*floor))
            }
            Vessel::Round { floor, rim, .. } => {
                format!("about {} across at the floor, {} at the rim", length(*floor), length(*rim))
            }
            Vessel::Measured(_) => "as measured".into(),
        };
        let holes = if bin.pots() == 1 { "1 hole".into() } else { format!("{} holes", bin.pots()) };
        let hole = figures::short_length(bin.pot.hole, grow.plan.system);
        all.push((name, format!("{copies}, {each} {inside}, {depth} deep; {holes} of {hole}")));
    }
    all
}

/// Water of the whole season, where it is more than the first filling.
fn in_all(grow: &Grow<'_>) -> String {
    let poured = |r: &crate::compute::BinResults| -> f64 {
        let each = r.season.events().map(|(_, event)| match event {
            Event::TopUp(pour) | Event::ChangeOut(pour) => pour.litres,
        });
        each.sum()
    };
    let more: f64 = grow.results.bins.iter().map(poured).sum();
    match more {
        0.0 => String::new(),
        more => {
            let all = figures::volume(grow.results.total + more, grow.plan.system);
            format!(", about {all} in all")
        }
    }
}

/// Water, feeds, bottles, pails.
fn wet(grow: &Grow<'_>) -> Vec<Item> {
    let plan = grow.plan;
    let total = figures::volume(grow.results.total, plan.system);
    let water = format!("Water ({})", plan.water.name);
    let mut items = vec![(water, format!("{total} for the first filling{}", in_all(grow)))];
    items.extend(feeds(grow));
    for (i, adjuster) in plan.adjusters.iter().enumerate() {
        let way = if adjuster.up { "moves pH up" } else { "moves pH down" };
        let doses = (0..plan.mixes.len()).filter_map(|mix| acidity::of(grow, mix));
        let own = doses.filter(|dose| dose.adjuster == i).flat_map(|dose| &dose.bins);
        let how_much = match own.map(|portions| portions.all).sum() {
            0.0 => "one bottle".into(),
            all => {
                format!("one bottle; for the first filling at most {}", acidity::most(grow, i, all))
            }
        };
        items.push((format!("{} ({way})", adjuster.name), how_much));
    }
    let filled = |i: usize| plan.bins.iter().any(|b| b.mix == i);
    for (_, mix) in plan.mixes.iter().enumerate().filter(|(i, _)| filled(*i)) {
        let size = figures::volume(mix.pail, plan.system);
        items.push((format!("Clean pail for {}", mix.name), format!("marked at {size}")));
    }
    items
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
fn feeds(grow: &Grow<'_>) -> Vec<Item> {
    let mut all = Vec::new();
    for (index, feed) in grow.plan.feeds.iter().enumerate() {
        let bottled = bottled(grow, index);
        let [first, season] = needs(grow, index);
        if unused(grow, index) {
            continue;
        }
        if let Some((grams, pairs)) = &bottled {
            let pairs = figures::plain(pairs.ceil(), 4);
            let how_much = format!("{grams} to a bottle; pairs of bottles: {pairs}");
            all.push((feed.name.clone(), how_much));
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
        all.push((feed.name.clone(), how_much));
    }
    all
}

/// What a bottle of concentrate takes of a feed, and how many pairs of bottles the grow takes.
fn bottled(grow: &Grow<'_>, feed: usize) -> Option<(String, f64)> {
    let of_mix = |(index, (mix, mixing)): (usize, (&Mix, &Mixing))| {
        let two = mixing.concentrate.as_ref()?;
        let own = two.parts.iter().find(|p| p.feed == feed)?;
        let season = season_share(grow, index);
        Some((weight(own.grams, mix.scale), season * mixing.total / two.makes))
    };
    grow.plan.mixes.iter().zip(&grow.results.mixing).enumerate().find_map(of_mix)
}

/// The steps the plan weighs in: small salts need a finer scale than big ones bear.
fn scale(grow: &Grow<'_>) -> String {
    let aimed = grow.plan.mixes.iter().filter(|m| m.aim.is_some());
    let finest = aimed.map(|m| m.scale).fold(KITCHEN, f64::min);
    let step = figures::plain(finest, 3);
    if finest < KITCHEN {
        format!("one to {step} g for less than 10 g, one to {} g", figures::plain(KITCHEN, 2))
    } else {
        format!("to {step} g")
    }
}

/// Whether a feed is measured by its volume.
fn liquid(rate: &LabelRate) -> bool {
    matches!(rate, LabelRate::Liquid { .. })
}

/// The step of a scale for letters (g).
const KITCHEN: f64 = 0.1;

/// Whether no bin gets anything of a feed.
fn unused(grow: &Grow<'_>, feed: usize) -> bool {
    let gets = |(mix, mixing): (usize, &Mixing)| {
        let filled = grow.plan.bins.iter().any(|b| b.mix == mix);
        filled && mixing.feeds.iter().any(|d| d.feed == feed && d.rate > 0.0)
    };
    !grow.results.mixing.iter().enumerate().any(gets)
}
