//! The plan as a whole: title, dates, paper, water, air, bottles, bleach.

use std::collections::BTreeSet;

use super::table::{Placed, Table};
use super::value::Want;
use super::{
    Bleach, Plan, Sheet, adjuster, bin, checks, climate, crop, feed, mix, pages, supply, water,
};
use crate::finding::{Finding, Severity};
use crate::library::Library;
use crate::library::tongue::TONGUES;
use crate::number::figures::System;
use crate::number::unit;

const STRENGTH: Want = Want { unit: unit::PERCENT, least: 1.0, most: 15.0, offer: "\"6 %\"" };

pub(super) fn read(root: &Table<'_>, text: &str) -> Option<Plan> {
    let library = Library::embedded();
    let title = root.need_text("title", "\"Window shelf, spring lettuce\"");
    let sown = sowing_day(root);
    let Print { system, paper, language, large } = print(root);
    let adjusters = adjuster::read(root, library);
    let crops = crop::read(root, library);
    let feeds = feed::read(root, library);
    let mixes = mix::read(root, &feeds, &adjusters);
    let bins = bin::read(root, library, &mixes, &crops, sown);
    // Everything is read before anything missing can end the reading.
    let (place, keeper) = (optional(root, "place", 80), optional(root, "keeper", 80));
    let notes = optional(root, "notes", 4000);
    let (checks, water, climate) = (checks::read(root), water::read(root), climate::read(root));
    let supply = supply::read(root, &crops, sown);
    let (bleach, pages) = (bleach(root, library), pages::read(root));
    let plan = Plan {
        title: title?.value,
        place,
        keeper,
        notes,
        sown: sown?,
        system,
        paper,
        language,
        large,
        checks,
        water,
        climate,
        supply,
        curriculum: curriculum(root),
        bleach,
        pages,
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

/// The topics of the class editions.
const TOPICS: [&str; 5] = ["volume", "mixing", "acidity", "water", "air"];

/// Codes or goals of a curriculum: the teacher knows them, binleaf does not.
fn curriculum(root: &Table<'_>) -> Vec<(&'static str, String)> {
    let Some(class) = root.table("class") else { return Vec::new() };
    let said = TOPICS.into_iter().filter_map(|topic| Some((topic, class.text(topic, 200)?.value)));
    let all = said.collect();
    class.close();
    all
}

fn sowing_day(root: &Table<'_>) -> Option<jiff::civil::Date> {
    if !root.has("sown") {
        root.missing("sown", "2027-03-01");
    }
    root.date("sown").map(|d| d.value)
}

/// How a booklet is printed.
struct Print {
    system: System,
    paper: Sheet,
    language: Option<String>,
    large: bool,
}

fn print(root: &Table<'_>) -> Print {
    let Some(print) = root.table("print") else {
        return Print { system: System::Metric, paper: Sheet::A4, language: None, large: false };
    };
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
    let tongues: Vec<(&str, Option<&str>)> =
        [("en", None)].into_iter().chain(TONGUES.iter().map(|t| (t.code, Some(t.code)))).collect();
    let language = print.word("language", &tongues).and_then(|w| w.value).map(str::to_string);
    let letters = print.word("letters", &[("usual", false), ("large", true)]);
    let large = letters.as_ref().is_some_and(|w| w.value);
    if let Some(letters) = letters.filter(|_| large && paper.is_small()) {
        print.error(
            "large-on-small",
            &letters.place,
            "large letters leave too few words in a line of this paper".into(),
            "choose paper = \"letter\" or \"A4\", or leave the large letters out",
        );
    }
    print.close();
    Print { system, paper, language, large }
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
    let stated = root.table("cleaning").and_then(|table| {
        let strength = table.measure("bleach", &STRENGTH);
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
