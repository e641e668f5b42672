//! What a solution is to hold, the scale it is weighed on, the concentrates it is mixed from.

use super::table::Table;
use super::value::Want;
use super::{Aim, Concentrate, Dose, Feed, LabelRate, Part};
use crate::finding::meant;
use crate::library::Library;
use crate::number::unit;

const HOLDS: Want =
    Want { unit: unit::MILLIGRAM_PER_LITRE, least: 0.001, most: 2000.0, offer: "\"150 mg/L\"" };
const PART: Want = Want { unit: unit::PERCENT, least: 5.0, most: 200.0, offer: "\"70 %\"" };
const STEP: Want =
    Want { unit: unit::GRAM, least: 0.0001, most: 10.0, offer: "\"0.1 g\" or \"0.01 g\"" };
const BOTTLE: Want =
    Want { unit: unit::LITRE, least: 0.05, most: 200.0, offer: "\"1 L\" or \"1 gal\"" };

/// The step of a scale for letters and small parcels (g), unless the plan says better.
const KITCHEN: f64 = 0.1;

/// Strongest concentrate that is read: salts stop dissolving long before.
const STRONGEST: f64 = 500.0;

/// What may be aimed at: elements, and the two forms of nitrogen.
const AIMS: [&str; 14] =
    ["N", "N-nitrate", "N-ammonium", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo"];

/// The aim of a mix, from a published solution, the plan's own numbers, or both.
pub(super) fn aim(table: &Table<'_>) -> Option<Aim> {
    let mut aim = published(table);
    if table.has("recipe-strength") && !table.has("recipe") {
        let message = "`recipe-strength` stands without a `recipe`".to_string();
        table.error(
            "aim-unclear",
            &table.place,
            message,
            "name the recipe, or write the aim itself",
        );
    }
    let Some(inner) = table.table("aim") else { return aim };
    let own = inner.contents(&AIMS, &HOLDS);
    sound(&inner, &own);
    if let Some(aim) = &mut aim
        && !own.is_empty()
    {
        aim.name.push_str(", changed in the plan");
    }
    let mut all = aim.take().unwrap_or(Aim {
        name: "the plan".into(),
        recipe: None,
        strength: 1.0,
        contents: Vec::new(),
    });
    for (form, mg) in own {
        // What the plan says of an element takes the place of what was published.
        all.contents.retain(|(other, _)| *other != form && !same_nitrogen(other, &form));
        all.contents.push((form, mg));
    }
    (!all.contents.is_empty()).then_some(all)
}

/// A published solution, at the strength the plan wants it.
fn published(table: &Table<'_>) -> Option<Aim> {
    let library = Library::embedded();
    let times = table.measure("recipe-strength", &PART).map_or(1.0, |p| p.value / 100.0);
    table.text("recipe", 60).and_then(|text| {
        let Some(recipe) = library.recipe(&text.value) else {
            let known: Vec<&str> = library.recipes.keys().map(String::as_str).collect();
            let guess = meant(&text.value, known.iter().copied());
            let guess = guess.map_or(String::new(), |g| format!("did you mean \"{g}\"? "));
            let message = format!("nothing is known of a solution called \"{}\"", text.value);
            let help = format!("{guess}known are: {}; or write aim = {{ ... }}", known.join(", "));
            table.error("unknown-recipe", &text.place, message, &help);
            return None;
        };
        let key = library.recipes.iter().find(|(_, r)| *r == recipe).map(|(key, _)| key.clone());
        let all = recipe.aim.iter().chain(&recipe.traces);
        let contents = all.map(|(form, mg)| (form.clone(), times * mg)).collect();
        Some(Aim { name: recipe.name.clone(), recipe: key, strength: times, contents })
    })
}

/// Says so if the plan's own aim is empty or names nitrogen twice.
fn sound(inner: &Table<'_>, own: &[(String, f64)]) {
    if inner.keys.is_empty() {
        let message = "the aim is empty".to_string();
        inner.error("aim-unclear", &inner.place, message, "write it like { K = \"200 mg/L\" }");
    }
    if own.iter().any(|(a, _)| own.iter().any(|(b, _)| same_nitrogen(a, b))) {
        let message = "the aim names nitrogen twice".to_string();
        let help = "say N, or N-nitrate and N-ammonium, not both";
        inner.error("counted-twice", &inner.place, message, help);
    }
}

/// Whether one is all nitrogen and the other a part of it.
fn same_nitrogen(a: &str, b: &str) -> bool {
    (a == "N" && b.starts_with("N-")) || (b == "N" && a.starts_with("N-"))
}

/// The smallest step of the scale (g).
pub(super) fn scale(table: &Table<'_>) -> f64 {
    table.measure("scale", &STEP).map_or(KITCHEN, |s| s.value)
}

/// The concentrates; refuses what would fall out in the bottle.
pub(super) fn concentrate(
    table: &Table<'_>,
    feeds: &[Feed],
    parts: &[Part],
) -> Option<Concentrate> {
    let inner = table.table("concentrate")?;
    if !inner.has("times") {
        inner.missing("times", "100");
    }
    let times = inner.number("times", 2.0, STRONGEST);
    let bottle = inner.need_measure("bottle", &BOTTLE);
    inner.close();
    for part in parts {
        let feed = &feeds[part.feed];
        if !matches!(feed.rate, LabelRate::Mass { .. }) {
            let message = format!("\"{}\" is not dosed by weight", feed.name);
            let help = "only what is weighed, in g/L, can go into a concentrate; a liquid feed is \
                        a concentrate already";
            table.error("not-weighed", &inner.place, message, help);
        } else if holds(feed, &["Ca", "CaO"]) && holds(feed, &["P", "P2O5", "S", "SO3", "SO4"]) {
            let message = format!("\"{}\" holds calcium with sulfate or phosphate", feed.name);
            let help = "in a concentrate they fall out as gypsum and chalky sludge: stir it into \
                        the pail as it is, without `concentrate`";
            table.error("never-in-one-bottle", &inner.place, message, help);
        }
    }
    Some(Concentrate { times: times?.value, bottle: bottle?.value })
}

/// Whether a feed holds one of these forms.
pub(crate) fn holds(feed: &Feed, forms: &[&str]) -> bool {
    feed.contents.iter().any(|(form, share)| forms.contains(&form.as_str()) && *share > 0.0)
}

/// Doses to be found need an aim, and something that is weighed.
pub(super) fn check(table: &Table<'_>, aim: Option<&Aim>, feeds: &[Feed], parts: &[Part]) {
    let place = &table.place;
    let open = |p: &&Part| p.dose == Dose::ToAim;
    if aim.is_some() && !parts.iter().any(|p| open(&p)) && !parts.is_empty() {
        let message = "there is an aim, but every feed has its dose".to_string();
        let help = "leave `dose` out for the feeds whose dose is to be found";
        table.error("aim-unclear", place, message, help);
    }
    for part in parts.iter().filter(open) {
        let feed = &feeds[part.feed];
        if !matches!(feed.rate, LabelRate::Mass { .. }) {
            let message = format!("no dose can be found for \"{}\"", feed.name);
            let help = "a dose is found for what is weighed: a salt, or a feed with a rate in g/L";
            table.error("not-weighed", place, message, help);
        }
    }
}
