//! What to gather before the grow begins.

use std::collections::BTreeMap;

use super::super::Grow;
use super::super::block::{Block, Table};
use super::mixing::weight;
use super::{cells, one, words};
use crate::compute::Mixing;
use crate::number::figures;
use crate::plan::{LabelRate, Mix};

/// What is needed, and how much of it.
type Item = (String, String);

pub(in super::super) fn gather_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut items = living(grow);
    items.extend(wet(grow));
    let tools = [
        ("pH strips or meter; conductivity meter if you have one", "for every check"),
        ("Ruler or stick that stands on the bin's floor", "one, kept clean"),
        ("Measuring spoons down to 1/8 teaspoon", "one set"),
        ("Syringes of 1 mL and 10 mL, a measured jug, a clean jar", "one each"),
        ("Tray for seedlings, thermometer, lamp or a bright window", "one each"),
        ("Washing-up liquid and household bleach, for the end", "one bottle each"),
        ("Goggles, gloves, apron for whoever doses pH", "one set each"),
    ];
    items.push(("Scale".into(), scale(grow)));
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
    let mut cubes: BTreeMap<String, u32> = BTreeMap::new();
    for bin in &grow.plan.bins {
        *pots.entry(&bin.pot.name).or_default() += bin.pots();
        for planting in &bin.plants {
            *plants.entry(&planting.crop.name).or_default() += planting.count;
        }
        if let Some(cube) = bin.cube {
            let size = figures::length(cube.side, grow.plan.system);
            *cubes.entry(size).or_default() += bin.pots();
        }
    }
    let spare = 1.0 + grow.library.limits.spare_share.value;
    let item = |what: String, n: u32| {
        (what, format!("{n}; with spares {}", (f64::from(n) * spare).ceil()))
    };
    let mut items = Vec::new();
    items.extend(plants.into_iter().map(|(c, n)| item(format!("{c}, seeds or cuttings"), n)));
    items.extend(pots.into_iter().map(|(pot, n)| item(pot.into(), n)));
    items.extend(cubes.into_iter().map(|(size, n)| item(format!("Growing cubes, {size}"), n)));
    let bins = "Bins with lids, clean, food-safe, light-proof";
    items.push((bins.into(), grow.plan.bins.len().to_string()));
    items
}

/// Water, feeds, bottles, pails.
fn wet(grow: &Grow<'_>) -> Vec<Item> {
    let plan = grow.plan;
    let total = figures::volume(grow.results.total, plan.system);
    let water = format!("Water ({})", plan.water.name);
    let mut items = vec![(water, format!("{total} for the first filling"))];
    items.extend(feeds(grow));
    for adjuster in &plan.adjusters {
        let way = if adjuster.up { "moves pH up" } else { "moves pH down" };
        items.push((format!("{} ({way})", adjuster.name), "one bottle".into()));
    }
    let filled = |i: usize| plan.bins.iter().any(|b| b.mix == i);
    for (_, mix) in plan.mixes.iter().enumerate().filter(|(i, _)| filled(*i)) {
        let size = figures::volume(mix.pail, plan.system);
        items.push((format!("Clean pail for {}", mix.name), format!("marked at {size}")));
    }
    items
}

/// What the first filling takes of each feed.
fn feeds(grow: &Grow<'_>) -> Vec<Item> {
    let mut all = Vec::new();
    for (index, feed) in grow.plan.feeds.iter().enumerate() {
        let bottled = bottled(grow, index);
        let (mut grams, mut spoons, mut ml) = (0.0, 0.0, 0.0);
        for mixing in &grow.results.mixing {
            let pails = 1 + usize::from(mixing.part > 0.0);
            for dose in mixing.feeds.iter().filter(|d| d.feed == index) {
                for amount in &dose.amounts[pails.min(dose.amounts.len())..] {
                    grams += amount.grams.unwrap_or(0.0);
                    spoons += amount.spoons.unwrap_or(0.0);
                    ml += amount.millilitres.unwrap_or(0.0);
                }
            }
        }
        if unused(grow, index) {
            continue;
        }
        if let Some((grams, pairs)) = &bottled {
            let pairs = figures::plain(pairs.ceil(), 4);
            let how_much = format!("{grams} to a bottle; pairs of bottles: {pairs}");
            all.push((feed.name.clone(), how_much));
        }
        if bottled.is_some() && grams == 0.0 {
            continue;
        }
        let amount = match feed.rate {
            LabelRate::Liquid { .. } => figures::dropper(ml),
            LabelRate::Spoons { .. } | LabelRate::Mass { .. } if grams > 0.0 => {
                figures::mass(grams)
            }
            LabelRate::Spoons { .. } | LabelRate::Mass { .. } => {
                format!("{} tsp", figures::mixed(spoons, 8))
            }
        };
        all.push((feed.name.clone(), format!("{amount} for the first filling")));
    }
    all
}

/// What a bottle of concentrate takes of a feed, and how many pairs of bottles the grow takes.
fn bottled(grow: &Grow<'_>, feed: usize) -> Option<(String, f64)> {
    let of_mix = |(mix, mixing): (&Mix, &Mixing)| {
        let two = mixing.concentrate.as_ref()?;
        let own = two.parts.iter().find(|p| p.feed == feed)?;
        Some((weight(own.grams, mix.scale), mixing.total / two.makes))
    };
    grow.plan.mixes.iter().zip(&grow.results.mixing).find_map(of_mix)
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
