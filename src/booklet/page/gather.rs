//! What to gather before the grow begins.

use std::collections::BTreeMap;

use super::super::Grow;
use super::super::block::{Block, Table};
use super::acidity;
use super::care::started;
use super::mixing::spoons;
use super::stock;
use super::{cells, one, words};
use crate::compute::BinResults;
use crate::compute::season::Event;
use crate::number::figures;
use crate::plan::{LabelRate, Light};
use crate::science::vessel::Vessel;

/// What is needed, and how much of it.
pub(super) type Item = (String, String);

pub(in super::super) fn gather_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut items = living(grow);
    items.extend(wet(grow));
    let tools = [
        ("pH strips or meter; conductivity meter if you have one", "for every check"),
        ("Ruler or stick that stands on the bin's floor", "one, kept clean"),
        ("Syringes of 1 mL and 10 mL, a measured jug, a clean jar", "one each"),
        ("Tray for seedlings, thermometer", "one each"),
        ("Washing-up liquid and household bleach, for the end", "one bottle each"),
        ("Goggles, gloves, apron for whoever mixes, doses pH or cleans", "one set each"),
    ];
    let dry = |i: usize| !stock::unused(grow, i) && !liquid(&grow.plan.feeds[i].rate);
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
    items.push(lamp(grow));
    let rows = items.into_iter().map(|(what, how_much)| cells([what, how_much, String::new()]));
    let columns = words([("What", 10), ("How much", 7), ("Got it", 2)]);
    one(Table { row_height: 6.2, ..Table::printed("", columns, rows.collect()) })
}

/// Cubes of which the plan says nothing.
const FITTING: &str = "Growing cubes that fit their pots";

/// Plants, pots, cubes and bins, with spares.
fn living(grow: &Grow<'_>) -> Vec<Item> {
    let mut pots: BTreeMap<String, u32> = BTreeMap::new();
    let mut plants: BTreeMap<(&str, &str), u32> = BTreeMap::new();
    let mut cubes: BTreeMap<String, BTreeMap<&str, u32>> = BTreeMap::new();
    for bin in &grow.plan.bins {
        let deep = figures::length(bin.pot.depth, grow.plan.system);
        *pots.entry(format!("{}, {deep} deep under its lip", bin.pot.name)).or_default() +=
            bin.pots();
        for planting in &bin.plants {
            let crop = &planting.crop;
            *plants.entry((&crop.name, started(crop.start))).or_default() += planting.count;
        }
        let size = match bin.cube {
            Some(cube) => figures::length(cube.side, grow.plan.system),
            None => FITTING.into(),
        };
        let crops = cubes.entry(size).or_default();
        for planting in &bin.plants {
            *crops.entry(&planting.crop.name).or_default() += planting.count;
        }
    }
    let spare = 1.0 + grow.library.limits.spare_share.value;
    let spares = |n: u32| (f64::from(n) * spare - 1e-9).ceil();
    let item = |what: String, n: u32| (what, format!("{n}; with spares {}", spares(n)));
    // Every seed gets a cube, the spare ones too.
    let cube = |(size, crops): (String, BTreeMap<&str, u32>)| {
        let (n, all) =
            (crops.values().sum::<u32>(), crops.values().map(|n| spares(*n)).sum::<f64>());
        let sized = if size == FITTING { size } else { format!("Growing cubes, {size}") };
        let what = crops.into_keys().collect::<Vec<_>>().join(", ");
        (format!("{sized}: {what}"), format!("{n}; with spares {all}"))
    };
    let mut items = Vec::new();
    items.extend(plants.into_iter().map(|((c, from), n)| item(format!("{c}, {from}"), n)));
    items.extend(pots.into_iter().map(|(pot, n)| item(pot, n)));
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

/// The most that may go in of what moves pH: in the first filling, and in all that is poured into each bin,
/// at as much for a litre.
fn bottle(grow: &Grow<'_>, adjuster: usize) -> String {
    let [mut first, mut all] = [0.0; 2];
    for (mix, mixing) in grow.results.mixing.iter().enumerate() {
        let dose = acidity::of(grow, mix).filter(|dose| dose.adjuster == adjuster);
        let own = dose.iter().flat_map(|dose| &dose.bins);
        for (portions, bin) in own.zip(&mixing.bins) {
            let r = &grow.results.bins[*bin];
            first += portions.all;
            all += portions.all * (1.0 + poured(r) / r.fill.start_volume);
        }
    }
    if first == 0.0 {
        return "one bottle".into();
    }
    let [first, all] = [first, all].map(|amount| acidity::most(grow, adjuster, amount));
    let in_all = if all == first { String::new() } else { format!(", in all {all}") };
    format!("one bottle; for the first filling at most {first}{in_all}")
}

/// What is poured into a bin after its first filling (L).
fn poured(r: &BinResults) -> f64 {
    let each = r.season.events().map(|(_, event)| match event {
        Event::TopUp(pour) | Event::ChangeOut(pour) => pour.litres,
    });
    each.sum()
}

/// Water of the whole season, where it is more than the first filling.
fn in_all(grow: &Grow<'_>) -> String {
    match grow.results.bins.iter().map(poured).sum() {
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
    items.extend(stock::feeds(grow));
    for (i, adjuster) in plan.adjusters.iter().enumerate() {
        let way = if adjuster.up { "moves pH up" } else { "moves pH down" };
        items.push((format!("{} ({way})", adjuster.name), bottle(grow, i)));
    }
    let filled = |i: usize| plan.bins.iter().any(|b| b.mix == i);
    for (_, mix) in plan.mixes.iter().enumerate().filter(|(i, _)| filled(*i)) {
        let size = figures::volume(mix.pail, plan.system);
        items.push((format!("Clean pail for {}", mix.name), format!("marked at {size}")));
    }
    let changed =
        |r: &BinResults| r.season.events().any(|(_, event)| matches!(event, Event::ChangeOut(_)));
    let fillings = grow.results.bins.iter().filter(|r| changed(r)).map(|r| r.fill.start_volume);
    if let Some(most) = fillings.reduce(f64::max) {
        let what = "Second bin or clean tub that takes a lid with its plants; clean pails for";
        let filling = figures::short_volume(most, plan.system);
        items.push((format!("{what} {filling}"), "for a change of the solution".into()));
    }
    items
}

/// The lamp, if there is one or may be one.
fn lamp(grow: &Grow<'_>) -> Item {
    let climate = &grow.plan.climate;
    let [what, how_much] = match climate.light {
        Some(Light::Lamp { ppfd, hours }) => {
            let [ppfd, hours] = [ppfd, hours].map(|n| figures::plain(n, 3));
            let power = climate.lamp.map(|lamp| format!(", {} W", figures::plain(lamp.power, 3)));
            let light = format!("{ppfd} µmol/m²/s at the leaves, {hours} h a day");
            return ("Lamp on a timer".into(), light + &power.unwrap_or_default());
        }
        _ if climate.indoors => ["Bright window or lamp", "for the tray and the bins"],
        _ => ["Bright window or lamp", "for the tray"],
    };
    (what.into(), how_much.into())
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
