//! The plan as a whole: title, dates, paper, water, air, bottles, bleach.

use std::collections::BTreeSet;

use super::table::{Placed, Table};
use super::value::Want;
use super::{Adjuster, Bleach, Climate, Plan, Sheet, Water, bin, crop, feed, mix};
use crate::finding::{Finding, Severity};
use crate::library::{Library, substance::Moves};
use crate::number::figures::System;
use crate::number::unit;

const STRENGTH: Want = Want { unit: unit::PERCENT, least: 0.01, most: 100.0, offer: "\"10 %\"" };
const PER_LITRE: Want = Want {
    unit: unit::MILLIGRAM_PER_LITRE,
    least: 0.0,
    most: 2000.0,
    offer: "\"120 mg/L CaCO3\" or \"40 mg/L\"",
};

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
    let (checks, water, climate) = (checks(root), water(root), climate(root));
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

fn water(root: &Table<'_>) -> Water {
    let nothing = Water { name: "Tap water".into(), ph: None, alkalinity: None, calcium: None };
    let Some(table) = root.table("water") else { return nothing };
    let name = table.text("name", 60).map_or(nothing.name, |t| t.value);
    let water = Water {
        name,
        ph: table.number("ph", 3.0, 11.0).map(|n| n.value),
        alkalinity: table.measure("alkalinity", &PER_LITRE).map(|n| n.value),
        calcium: table.measure("calcium", &PER_LITRE).map(|n| n.value),
    };
    table.close();
    water
}

fn climate(root: &Table<'_>) -> Climate {
    let Some(table) = root.table("climate") else { return Climate { indoors: true, air: None } };
    let places = [("indoors", true), ("outdoors", false)];
    let indoors = table.word("where", &places).is_none_or(|w| w.value);
    let air = temperature(&table);
    table.close();
    Climate { indoors, air }
}

/// Air temperature (°C). A temperature has a zero of its own, so it is not a [`Want`].
fn temperature(table: &Table<'_>) -> Option<f64> {
    let text = table.text("air", 20)?;
    let spelt = text.value.replace('°', "").replace('−', "-");
    let (number, unit) = spelt.split_at(spelt.trim_end_matches(char::is_alphabetic).len());
    let number: Option<f64> = number.trim().parse().ok().filter(|n: &f64| n.is_finite());
    let celsius = match (number, unit) {
        (Some(n), "C") => Some(n),
        (Some(n), "F") => Some((n - 32.0) * 5.0 / 9.0),
        _ => None,
    };
    match celsius {
        Some(c) if (-20.0..=50.0).contains(&c) => Some(c),
        Some(_) => {
            let message = "`air` is a temperature in which nothing grows".into();
            table.error(
                "out-of-range",
                &text.place,
                message,
                "it should lie between -20 C and 50 C",
            );
            None
        }
        None => {
            let message = format!("`air` is not a temperature: \"{}\"", text.value);
            table.error("unknown-unit", &text.place, message, "write it like \"70 F\" or \"21 C\"");
            None
        }
    }
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
        let strength = table.measure("strength", &STRENGTH);
        table.close();
        let substance = contents.and_then(|text| contents_of(table, library, &text, up.as_ref()));
        let name = name?;
        unique(table, &name, &mut names, "adjuster");
        let strength = strength.map(|s| s.value);
        Some(Adjuster { name: name.value, up: up?.value, substance, strength })
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
    let most = Want { least: 1.0, most: 15.0, ..STRENGTH };
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
