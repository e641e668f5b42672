//! The plan as a whole: title, dates, paper, water, air, bottles, bleach.

use std::collections::BTreeSet;

use super::table::{Placed, Table};
use super::value::{Want, spoken_in};
use super::{Adjuster, Bleach, Climate, Plan, Sheet, bin, crop, feed, mix, water};
use crate::finding::{Finding, Severity};
use crate::library::{Library, substance::Moves};
use crate::number::figures::System;
use crate::number::{figures, unit};

const STRENGTH: Want =
    Want { unit: unit::PERCENT, least: 0.01, most: 100.0, offer: "\"10 %\" or \"1 mol/L\"" };
const MOLAR: Want =
    Want { unit: unit::MOLE_PER_LITRE, least: 0.001, most: 20.0, offer: "\"1 mol/L\"" };

pub(super) fn read(root: &Table<'_>, text: &str) -> Option<Plan> {
    let library = Library::embedded();
    let title = root.need_text("title", "\"Window shelf, spring lettuce\"");
    let sown = sowing_day(root);
    let (system, paper) = print(root);
    let adjusters = adjusters(root, library);
    let crops = crop::read(root, library);
    let feeds = feed::read(root, library);
    let mixes = mix::read(root, &feeds, &adjusters);
    let bins = bin::read(root, library, &mixes, &crops, sown);
    // Everything is read before anything missing can end the reading.
    let (place, keeper) = (optional(root, "place", 80), optional(root, "keeper", 80));
    let notes = optional(root, "notes", 4000);
    let (checks, water, climate) = (checks(root), water::read(root), climate(root));
    let bleach = bleach(root, library);
    let plan = Plan {
        title: title?.value,
        place,
        keeper,
        notes,
        sown: sown?,
        system,
        paper,
        checks,
        water,
        climate,
        bleach,
        adjusters,
        feeds,
        mixes,
        bins,
        text: text.into(),
    };
    Some(plan)
}

fn optional(table: &Table<'_>, key: &'static str, most: usize) -> String {
    table.text(key, most).map_or(String::new(), |t| t.value)
}

fn sowing_day(root: &Table<'_>) -> Option<jiff::civil::Date> {
    if !root.has("sown") {
        root.missing("sown", "2027-03-01");
    }
    root.date("sown").map(|d| d.value)
}

fn print(root: &Table<'_>) -> (System, Sheet) {
    let Some(print) = root.table("print") else { return (System::Metric, Sheet::A4) };
    let units = [("us", System::Us), ("metric", System::Metric)];
    let system = print.word("units", &units).map_or(System::Metric, |w| w.value);
    let usual = if system == System::Us { Sheet::Letter } else { Sheet::A4 };
    let papers = [
        ("letter", Sheet::Letter),
        ("a4", Sheet::A4),
        ("a5", Sheet::A5),
        ("half-letter", Sheet::HalfLetter),
    ];
    let paper = print.word("paper", &papers).map_or(usual, |w| w.value);
    print.close();
    (system, paper)
}

fn checks(root: &Table<'_>) -> u8 {
    let Some(found) = root.count("checks-a-week", 7) else { return 2 };
    match found.value {
        1 => 1,
        2 => 2,
        3 => 3,
        7 => 7,
        n => {
            let message = format!("{n} checks a week do not fall on fixed weekdays");
            root.error("unknown-word", &found.place, message, "write 1, 2, 3 or 7");
            2
        }
    }
}

fn climate(root: &Table<'_>) -> Climate {
    let Some(table) = root.table("climate") else { return Climate { indoors: true, air: None } };
    let places = [("indoors", true), ("outdoors", false)];
    let indoors = table.word("where", &places).is_none_or(|w| w.value);
    let air = water::temperature(&table, "air", [-20.0, 50.0]);
    table.close();
    Climate { indoors, air }
}

fn adjusters(root: &Table<'_>, library: &Library) -> Vec<Adjuster> {
    let tables = root.tables("adjuster", 20);
    let mut names = BTreeSet::new();
    let read = |table: &Table<'_>| {
        let name = table.need_text("name", "\"Kit base\"");
        let ways = [("up", true), ("down", false)];
        if !table.has("moves") {
            table.missing("moves", "\"up\"");
        }
        let up = table.word("moves", &ways);
        let contents = table.text("contents", 60);
        let molar = spoken_in(table, "strength", unit::MOLE_PER_LITRE)
            .then(|| table.measure("strength", &MOLAR))
            .flatten();
        let strength = if molar.is_some() { None } else { table.measure("strength", &STRENGTH) };
        let dry = table.word("form", &[("dry", true), ("liquid", false)]);
        let dry = dry.is_some_and(|w| w.value);
        table.close();
        let substance = contents.and_then(|text| contents_of(table, library, &text, up.as_ref()));
        let turned = molar.as_ref().zip(substance.as_ref());
        let turned = turned.and_then(|(c, key)| in_percent(table, library, key, c));
        let strength = strength.or(turned);
        too_strong(table, library, substance.as_ref(), strength.as_ref());
        let name = name?;
        unique(table, &name, &mut names, "adjuster");
        let (strength, molar) = (strength.map(|s| s.value), molar.map(|s| s.value));
        Some(Adjuster { name: name.value, up: up?.value, substance, strength, molar, dry })
    };
    tables.iter().filter_map(read).collect()
}

fn contents_of(
    table: &Table<'_>,
    library: &Library,
    text: &Placed<String>,
    up: Option<&Placed<bool>>,
) -> Option<String> {
    let Some((key, substance)) = library.substance(&text.value) else {
        let known: Vec<_> = library.substances.keys().map(String::as_str).collect();
        let help = format!("known are: {}; or leave the line out", known.join(", "));
        let message = format!("nothing is known of \"{}\"", text.value);
        table.error("unknown-substance", &text.place, message, &help);
        return None;
    };
    let fits = match substance.moves {
        Moves::Up => up.is_none_or(|w| w.value),
        Moves::Down => up.is_none_or(|w| !w.value),
        Moves::None => false,
    };
    if !fits {
        let way = if up.is_some_and(|w| w.value) { "up" } else { "down" };
        let message = format!("{} does not move pH {way}", substance.name);
        let help = "read the label again; an acid moves it down, a base up; \
                    bleach is never used for pH";
        table.error("wrong-way", &text.place, message, help);
    }
    Some(key.into())
}

/// A strength in mol/L as a percentage by mass, by which hazards and density go.
fn in_percent(
    table: &Table<'_>,
    library: &Library,
    key: &str,
    molar: &Placed<f64>,
) -> Option<Placed<f64>> {
    let substance = &library.substances[key];
    let percent = substance.percent_at(molar.value);
    if percent.is_none() {
        let message = format!("{} cannot be that strong", substance.name);
        table.error("out-of-range", &molar.place, message, "read the label again");
    }
    percent.map(|value| Placed { value, place: molar.place.clone() })
}

/// Refuses what is too strong to be handled outside a laboratory.
fn too_strong(
    table: &Table<'_>,
    library: &Library,
    substance: Option<&String>,
    strength: Option<&Placed<f64>>,
) {
    let limited = substance.and_then(|key| library.substances[key].public_limit.as_ref());
    if let (Some(limit), Some(strength)) = (limited, strength)
        && strength.value > limit.value
    {
        let percent = figures::plain(limit.value, 3);
        let message = format!("more than {percent} % is not sold to the public in many places");
        let help = "it burns at once and gives off harmful fumes: use a ready diluted product \
                    made for pH";
        table.error("too-strong", &strength.place, message, help);
    }
}

/// Says so if a name was taken before.
pub(super) fn unique(
    table: &Table<'_>,
    name: &Placed<String>,
    names: &mut BTreeSet<String>,
    kind: &str,
) {
    if !names.insert(name.value.to_lowercase()) {
        let message = format!("two of `{kind}` are called \"{}\"", name.value);
        table.error("same-name", &name.place, message, "give each its own name");
    }
}

fn bleach(root: &Table<'_>, library: &Library) -> Bleach {
    let most = Want { least: 1.0, most: 15.0, offer: "\"6 %\"", ..STRENGTH };
    let stated = root.table("cleaning").and_then(|table| {
        let strength = table.measure("bleach", &most);
        table.close();
        strength
    });
    if stated.is_none() {
        root.findings.add(Finding::new(
            Severity::Note,
            "bleach-assumed",
            "the plan does not say how strong the bleach is; 6 % is assumed",
            "read it on the bottle and write  [cleaning]  bleach = \"6 %\"",
        ));
    }
    let strength = stated.as_ref().map_or(library.limits.bleach_assumed.value, |s| s.value);
    Bleach { strength, stated: stated.is_some() }
}
