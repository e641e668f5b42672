//! Bottles and bags that move pH.

use std::collections::BTreeSet;

use super::Adjuster;
use super::grow::unique;
use super::table::{Placed, Table};
use super::value::{Want, spoken_in};
use crate::library::{Library, substance::Moves};
use crate::number::{figures, unit};

const STRENGTH: Want =
    Want { unit: unit::PERCENT, least: 0.01, most: 100.0, offer: "\"10 %\" or \"1 mol/L\"" };
const MOLAR: Want =
    Want { unit: unit::MOLE_PER_LITRE, least: 0.001, most: 20.0, offer: "\"1 mol/L\"" };

pub(super) fn read(root: &Table<'_>, library: &Library) -> Vec<Adjuster> {
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
        let spoken = spoken_in(table, "strength", unit::MOLE_PER_LITRE);
        let strength = table.measure("strength", if spoken { &MOLAR } else { &STRENGTH });
        let (molar, strength) = if spoken { (strength, None) } else { (None, strength) };
        let dry = table.word("form", &[("dry", true), ("liquid", false)]);
        let dry = dry.is_some_and(|w| w.value);
        table.close();
        let substance = contents.and_then(|text| contents_of(table, library, &text, up.as_ref()));
        let turned = molar.as_ref().zip(substance.as_ref());
        let turned = turned.and_then(|(c, key)| in_percent(table, library, key, c));
        let strength = strength.or(turned);
        too_strong(table, library, substance.as_ref(), strength.as_ref(), dry);
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
    dry: bool,
) {
    if let (true, Some(strength)) = (dry, strength) {
        let message = "a powder has no strength".into();
        let help = "leave `strength` out; or dissolve it (10 g made up to 100 mL is about 10 %), and \
                    write it as a liquid";
        table.error("powder-strength", &strength.place, message, help);
        return;
    }
    let dissolves = substance.and_then(|key| library.substances[key].dissolves.as_ref());
    if let (Some(most), Some(strength)) = (dissolves, strength)
        && strength.value > 1.001 * most.value
    {
        let percent = figures::plain(most.value, 3);
        let message = format!("water takes no more than about {percent} % of it");
        table.error("out-of-range", &strength.place, message, "read the label again");
    }
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
