//! Solutions: which feeds, how much, in which pail, and what a jar or last time showed of pH.

use std::collections::BTreeSet;

use super::grow::unique;
use super::recipe;
use super::table::{Placed, Table};
use super::value::Want;
use super::{Adjuster, Dose, Feed, LabelRate, LastTime, Mix, Part, Trial};
use crate::finding::meant;
use crate::number::{figures, unit};

const PAIL: Want =
    Want { unit: unit::LITRE, least: 0.2, most: 2000.0, offer: "\"5 gal\" or \"15 L\"" };
const SAMPLE: Want =
    Want { unit: unit::LITRE, least: 0.05, most: 20.0, offer: "\"1 L\" or \"1 qt\"" };
const DROP: Want =
    Want { unit: unit::MILLILITRE, least: 0.0, most: 1000.0, offer: "\"0.5 mL\" or \"1/4 tsp\"" };

pub(super) fn read(root: &Table<'_>, feeds: &[Feed], adjusters: &[Adjuster]) -> Vec<Mix> {
    let tables = root.tables("mix", 20);
    if tables.is_empty() {
        root.missing("mix", "(see `binleaf new`: a table [[mix]] with name, pail, feeds)");
    }
    let mut names = BTreeSet::new();
    let read = |table: &Table<'_>| {
        let name = table.need_text("name", "\"Leaf solution\"");
        let pail = table.need_measure("pail", &PAIL);
        let aim = recipe::aim(table);
        let parts = parts(table, feeds, table.has("aim") || table.has("recipe"));
        recipe::check(table, aim.as_ref(), feeds, &parts);
        let (scale, concentrate) =
            (recipe::scale(table), recipe::concentrate(table, feeds, &parts));
        let trials = trials(table, adjusters);
        let last_time = table.table("last-time").and_then(|t| last_time(&t, adjusters));
        table.close();
        let name = name?;
        unique(table, &name, &mut names, "mix");
        let place = name.place.clone();
        let (name, pail) = (name.value, pail?.value);
        Some(Mix { name, pail, parts, aim, scale, concentrate, trials, last_time, place })
    };
    tables.iter().filter_map(read).collect()
}

/// The index of the one called as `key` says.
pub(super) fn named<'n>(
    table: &Table<'_>,
    key: &'static str,
    names: impl Iterator<Item = &'n str> + Clone,
) -> Option<usize> {
    if names.clone().next().is_none() && table.has(key) {
        // Said already: there is none, or none that could be read.
        return None;
    }
    let name = table.need_text(key, "\"...\"")?;
    let found = names.clone().position(|n| n.to_lowercase() == name.value.to_lowercase());
    if found.is_none() {
        let guess = meant(&name.value, names.clone());
        let guess = guess.map_or(String::new(), |g| format!("did you mean \"{g}\"? "));
        let known: Vec<String> = names.map(|n| format!("\"{n}\"")).collect();
        let known = known.join(", ");
        let message = format!("no {key} is called \"{}\"", name.value);
        let help = format!("{guess}the plan has: {known}");
        table.error("no-such-name", &name.place, message, &help);
    }
    found
}

fn parts(table: &Table<'_>, feeds: &[Feed], aimed: bool) -> Vec<Part> {
    let tables = table.tables("feeds", 16);
    if tables.is_empty() {
        table.missing("feeds", "[{ feed = \"Leaf feed\", times-label-low = 0.9 }]");
    }
    let read = |inner: &Table<'_>| {
        let feed = named(inner, "feed", feeds.iter().map(|f| f.name.as_str()));
        let factor = inner.number("times-label-low", 0.05, 10.0);
        let want = feed.map(|f| want(&feeds[f].rate));
        let rate = want.and_then(|want| inner.measure("dose", &want));
        let said = [inner.has("times-label-low"), inner.has("dose")];
        inner.close();
        let salt = feed.is_some_and(|f| feeds[f].salt.is_some());
        let open = aimed && !said[0] && !said[1];
        if (said[0] == said[1] && !open) || (salt && said[0]) {
            let message = "say either `times-label-low` or `dose`".into();
            let help = "times-label-low = 0.9 is a little under the lowest label rate; \
                        dose = \"1 tsp/gal\" is a rate of your own; a salt has no label and takes \
                        a dose in g/L; with an `aim` or a `recipe` a dose may be left out, and is \
                        found";
            inner.error("dose-unclear", &inner.place, message, help);
        }
        let dose = factor.map(|f| Dose::OfLabelLow(f.value));
        let dose = dose.or(rate.map(|r| Dose::Rate(r.value)));
        Some(Part { feed: feed?, dose: if open { Dose::ToAim } else { dose? } })
    };
    let parts: Vec<Part> = tables.iter().filter_map(read).collect();
    for (i, part) in parts.iter().enumerate() {
        if parts[..i].iter().any(|before| before.feed == part.feed) {
            let message = format!("\"{}\" is listed twice in one mix", feeds[part.feed].name);
            table.error("same-name", &table.place, message, "list it once, with the whole dose");
        }
    }
    parts
}

fn want(rate: &LabelRate) -> Want {
    let (unit, offer) = match rate {
        LabelRate::Spoons { .. } => (unit::TEASPOON_PER_GALLON, "\"1 tsp/gal\""),
        LabelRate::Mass { .. } => (unit::GRAM_PER_LITRE, "\"1.2 g/L\""),
        LabelRate::Liquid { .. } => (unit::MILLILITRE_PER_LITRE, "\"2 mL/L\""),
    };
    Want { unit, least: 0.005, most: 3.0 * rate.ends().1, offer }
}

fn trials(table: &Table<'_>, adjusters: &[Adjuster]) -> Vec<Trial> {
    let tables = table.tables("trial", 2);
    let trials: Vec<Trial> = tables.iter().filter_map(|t| trial(t, adjusters)).collect();
    if let [a, b] = trials.as_slice()
        && adjusters[a.adjuster].up == adjusters[b.adjuster].up
    {
        let message = "two jar trials of this mix move pH the same way".into();
        table.error("same-name", &b.place, message, "keep the better one, or one up and one down");
    }
    trials
}

fn trial(table: &Table<'_>, adjusters: &[Adjuster]) -> Option<Trial> {
    let adjuster = named(table, "adjuster", adjusters.iter().map(|a| a.name.as_str()));
    let sample = table.need_measure("sample", &SAMPLE);
    let tables = table.tables("readings", 40);
    let read = |inner: &Table<'_>| {
        let added = inner.need_measure("added", &DROP);
        if !inner.has("ph") {
            inner.missing("ph", "5.8");
        }
        let ph = inner.number("ph", 1.0, 13.0);
        inner.close();
        Some((added?, ph?.value))
    };
    let readings: Vec<(Placed<f64>, f64)> = tables.iter().filter_map(read).collect();
    table.close();
    if readings.len() < 2 {
        let message = "a jar trial needs at least two readings".into();
        let help = "the first before anything was added (added = \"0 mL\"), then after each step";
        table.error("too-few-readings", &table.place, message, help);
        return None;
    }
    let adjuster = adjuster?;
    if adjusters[adjuster].dry {
        let message = format!("\"{}\" is a powder", adjusters[adjuster].name);
        let help = "a jar trial is made with a liquid: dissolve 10 g to 100 mL, write it as a liquid \
                    adjuster of 10 %, and dose that";
        table.error("trial-of-powder", &table.place, message, help);
        return None;
    }
    turned_back(table, &readings, adjusters[adjuster].up)?;
    if let (Some(sample), Some((last, _))) = (&sample, readings.last()) {
        too_much(table, last, sample.value);
    }
    let place = table.place.clone();
    let readings = readings.into_iter().map(|(added, ph)| (added.value, ph)).collect();
    Some(Trial { adjuster, sample: sample?.value, readings, place })
}

/// Finds readings that move the wrong way, or doses that do not rise.
fn turned_back(table: &Table<'_>, readings: &[(Placed<f64>, f64)], up: bool) -> Option<()> {
    for pair in readings.windows(2) {
        let [(before, from), (after, to)] = pair else { continue };
        if after.value <= before.value {
            let message = "`added` is all that was added so far, so it must rise".into();
            let help = "add each step to the sum: 0, 0.5, 1.0, 1.5 mL";
            table.error("trial-not-rising", &after.place, message, help);
            return None;
        }
        if (up && to < from) || (!up && to > from) {
            let way = if up { "fell" } else { "rose" };
            let message = format!("the reading {way} although the adjuster moves it the other way");
            let help = "stir, wait and read again; leave out a reading you do not trust";
            table.error("trial-turns-back", &after.place, message, help);
            return None;
        }
    }
    Some(())
}

/// No bottle made for pH is dosed like this; a slip of the pen would be carried to every bin.
fn too_much(table: &Table<'_>, dose: &Placed<f64>, litres: f64) {
    if dose.value > MOST_PER_LITRE * litres {
        let per_litre = figures::plain(dose.value / litres, 3);
        let message = format!("{per_litre} mL of an adjuster in a litre cannot be right");
        let help = "check dose and volume; a weak kit takes well under 20 mL a litre";
        table.error("out-of-range", &dose.place, message, help);
    }
}

/// Most of an adjuster that is believed (mL/L).
const MOST_PER_LITRE: f64 = 20.0;

fn last_time(table: &Table<'_>, adjusters: &[Adjuster]) -> Option<LastTime> {
    let adjuster = named(table, "adjuster", adjusters.iter().map(|a| a.name.as_str()));
    let volume = table.need_measure("volume", &PAIL);
    let dose = table.need_measure("dose", &DROP);
    table.close();
    if let (Some(volume), Some(dose)) = (&volume, &dose) {
        too_much(table, dose, volume.value);
    }
    Some(LastTime { adjuster: adjuster?, volume: volume?.value, dose: dose?.value })
}
