//! Feeds, from their labels.

use std::collections::BTreeSet;

use super::grow::unique;
use super::table::{Placed, Table};
use super::value::{Want, spoken_in};
use super::{Feed, LabelRate};
use crate::library::{Library, Salt};
use crate::number::unit;

const SHARE: Want = Want { unit: unit::PERCENT, least: 0.0, most: 100.0, offer: "\"8 %\"" };
const SPOON: Want = Want {
    unit: unit::GRAM,
    least: 0.5,
    most: 20.0,
    offer: "\"5.2 g\" (ten level spoons, over ten)",
};
const DENSITY: Want = Want {
    unit: unit::GRAM_PER_MILLILITRE,
    least: 0.7,
    most: 2.0,
    offer: "\"1.15 g/mL\" or \"1.15 kg/L\"",
};

/// The three ways a label gives its rate, each with bounds nobody sane goes beyond.
const BY_SPOON: Want = Want {
    unit: unit::TEASPOON_PER_GALLON,
    least: 0.01,
    most: 20.0,
    offer: "\"1 tsp/gal\" or \"1.2 g/L\"",
};
const BY_MASS: Want = Want {
    unit: unit::GRAM_PER_LITRE,
    least: 0.01,
    most: 20.0,
    offer: "\"1.2 g/L\" or \"1 tsp/gal\"",
};
const BY_VOLUME: Want =
    Want { unit: unit::MILLILITRE_PER_LITRE, least: 0.01, most: 50.0, offer: "\"2 mL/L\"" };

pub(super) fn read(root: &Table<'_>, library: &Library) -> Vec<Feed> {
    let tables = root.tables("feed", 20);
    if tables.is_empty() {
        root.missing("feed", "(see `binleaf new`: a table [[feed]] with name, rate, contents)");
    }
    let mut names = BTreeSet::new();
    let forms: Vec<&str> = library.forms.iter().map(|f| f.form.as_str()).collect();
    let read = |table: &Table<'_>| {
        let name = table.need_text("name", "\"Leaf feed\"");
        let liquid = table.word("form", &[("dry", false), ("liquid", true)]);
        let liquid = liquid.is_some_and(|w| w.value);
        let teaspoon = table.measure("teaspoon", &SPOON).map(|s| s.value);
        let density = table.measure("density", &DENSITY).map(|s| s.value);
        let forms_of = [("h3po4", 3), ("h2po4", 2), ("hpo4", 1)];
        let phosphate = table.word("phosphate-as", &forms_of).map(|w| w.value);
        let (salt, rate, contents) = match table.text("salt", 60) {
            Some(text) => {
                let salt = salt(table, library, &text);
                let contents = salt.map(|(_, s)| s.contents(library)).unwrap_or_default();
                let rate = LabelRate::Mass { low: 0.0, high: MOST_SALT, teaspoon };
                (salt.map(|(key, _)| key.to_string()), Some(rate), contents)
            }
            None => (None, rate(table, liquid, teaspoon, density), contents(table, &forms)),
        };
        table.close();
        let name = name?;
        unique(table, &name, &mut names, "feed");
        Some(Feed { name: name.value, rate: rate?, salt, phosphate, contents })
    };
    tables.iter().filter_map(read).collect()
}

/// Most of one salt that a solution for leaves or fruit holds (g/L; common practice: about 1.2).
const MOST_SALT: f64 = 3.0;

fn salt<'l>(
    table: &Table<'_>,
    library: &'l Library,
    text: &Placed<String>,
) -> Option<(&'l str, &'l Salt)> {
    let found = library.salt(&text.value);
    if found.is_none() {
        let known: Vec<&str> = library.salts.keys().map(String::as_str).collect();
        let message = format!("nothing is known of the salt \"{}\"", text.value);
        let help = format!("known are: {}", known.join(", "));
        table.error("unknown-substance", &text.place, message, &help);
    }
    found
}

fn contents(table: &Table<'_>, forms: &[&str]) -> Vec<(String, f64)> {
    let Some(inner) = table.table("contents") else {
        table.missing("contents", "{ N-nitrate = \"8 %\", P2O5 = \"5 %\", K2O = \"20 %\" }");
        return Vec::new();
    };
    let contents = inner.contents(forms, &SHARE);
    let sum: f64 = contents.iter().map(|c| c.1).sum();
    if sum > 100.0 {
        let message = "the label contents add up to more than 100 %".to_string();
        let help =
            "read the label again; N, or its parts N-nitrate, N-ammonium and N-urea, not both";
        table.error("over-hundred", &inner.place, message, help);
    }
    let has = |form: &str| contents.iter().any(|c| c.0 == form);
    let parts = has("N-nitrate") || has("N-ammonium") || has("N-urea");
    let twice = [("P", "P2O5"), ("K", "K2O"), ("Ca", "CaO"), ("Mg", "MgO"), ("S", "SO3")];
    let twice = twice.iter().find(|(a, b)| has(a) && has(b));
    let twice = twice.or(if has("N") && parts { Some(&("N", "N-nitrate")) } else { None });
    if let Some((a, b)) = twice {
        let message = format!("the contents name the same element twice: {a} and {b}");
        table.error("counted-twice", &inner.place, message, "keep the one on the label");
    }
    contents
}

fn rate(
    table: &Table<'_>,
    liquid: bool,
    teaspoon: Option<f64>,
    density: Option<f64>,
) -> Option<LabelRate> {
    let Some(inner) = table.table("rate") else {
        table.missing("rate", "{ low = \"1 tsp/gal\", high = \"2 tsp/gal\" }");
        return None;
    };
    let kind = if liquid {
        BY_VOLUME
    } else if spoken_in(&inner, "low", unit::TEASPOON_PER_GALLON) {
        BY_SPOON
    } else {
        BY_MASS
    };
    let (low, high) = (inner.need_measure("low", &kind), inner.need_measure("high", &kind));
    inner.close();
    let (low, high): (Placed<f64>, Placed<f64>) = (low?, high?);
    if low.value > high.value {
        let message = "the lowest label rate is above the highest".into();
        table.error("out-of-order", &low.place, message, "swap them");
        return None;
    }
    let (low, high) = (low.value, high.value);
    Some(match kind {
        BY_VOLUME => LabelRate::Liquid { low, high, density },
        BY_SPOON => LabelRate::Spoons { low, high, teaspoon },
        _ => LabelRate::Mass { low, high, teaspoon },
    })
}
