//! Bins: shape, lid, pots, plants.

use std::collections::BTreeSet;
use std::ops::Range;

use jiff::civil::Date;

use super::grow::unique;
use super::mix::named;
use super::table::{Placed, Table};
use super::value::Want;
use super::{Bin, Cube, Mix, Planting, PotSize, fit, shape};
use crate::finding::meant;
use crate::library::{Crop, Fact, Library};
use crate::number::unit;

/// Bins a plan may have.
const MOST_BINS: usize = 200;
/// Days that all bins together may stand: 200 bins of salad, or 100 of tomatoes.
const MOST_DAYS: f64 = 13_000.0;
/// Days after which a seedling has outgrown its cube, of whatever crop (d).
const LONGEST_WAIT: i32 = 150;
/// Pots a bin may have.
const MOST_POTS: u32 = 400;

const SMALL: Want =
    Want { unit: unit::MILLIMETRE, least: 0.0, most: 300.0, offer: "\"1/2 in\" or \"13 mm\"" };
const SIGNED: Want = Want { least: -300.0, ..SMALL };
const SIZE: Want =
    Want { unit: unit::MILLIMETRE, least: 10.0, most: 400.0, offer: "\"2 in\" or \"50 mm\"" };

pub(super) fn read(
    root: &Table<'_>,
    library: &Library,
    mixes: &[Mix],
    crops: &[Crop],
    sown: Option<Date>,
) -> Vec<Bin> {
    let tables = root.tables("bin", MOST_BINS);
    if tables.is_empty() {
        root.missing("bin", "(see `binleaf new`: a table [[bin]] with name, shape, depth, plants)");
    }
    let mut names = BTreeSet::new();
    let mut bins = Vec::new();
    let mut looks = 0.0;
    for table in &tables {
        let Some((bin, copies)) = one(table, library, (mixes, crops), sown, &mut names) else {
            continue;
        };
        if bins.len() + copies as usize > MOST_BINS {
            let message = format!("the plan has more than {MOST_BINS} bins");
            table.error("too-many", &table.place, message, "make several plans");
            break;
        }
        fit::check(table, &bin, library);
        looks += f64::from(copies) * bin.plants.iter().map(|p| stands(&p.crop)).fold(0.0, f64::max);
        if looks > MOST_DAYS {
            let message = "all bins together stand longer than a booklet can log".to_string();
            table.error("too-many", &table.place, message, "make several plans");
            break;
        }
        bins.extend(copied(table, bin, copies, &mut names));
    }
    bins
}

/// Days a crop stands in its bin at the longest.
fn stands(crop: &Crop) -> f64 {
    crop.set_out_to_harvest.high + crop.pick_for.high
}

/// The bin itself, or its copies with a number behind the name.
fn copied(table: &Table<'_>, bin: Bin, copies: u32, names: &mut BTreeSet<String>) -> Vec<Bin> {
    if copies == 1 {
        return vec![bin];
    }
    let numbered = |i: u32| {
        let name = format!("{} {i}", bin.name);
        let placed = Placed { value: name.clone(), place: bin.place.clone() };
        unique(table, &placed, names, "bin");
        let called = format!("{} 1 {} {copies}", bin.name, if copies == 2 { "and" } else { "to" });
        Bin { name, called, ..bin.clone() }
    };
    (1..=copies).map(numbered).collect()
}

fn one(
    table: &Table<'_>,
    library: &Library,
    (mixes, crops): (&[Mix], &[Crop]),
    sown: Option<Date>,
    names: &mut BTreeSet<String>,
) -> Option<(Bin, u32)> {
    let name = table.need_text("name", "\"Tote A\"");
    let copies = table.count("copies", 200).map_or(1, |c| c.value);
    let (mix, vessel, limits) = (mix(table, mixes), shape::read(table), &library.limits);
    let lid_drop = table.measure("lid-drop", &SIGNED).map_or(0.0, |l| l.value);
    let lid_thickness = small(table, "lid-thickness", &limits.lid_thickness);
    let pot = pot(table, library);
    let immersion = small(table, "immersion", &limits.immersion_default);
    let cube = cube(table, library);
    let plants = plants(table, library, crops);
    let count = plants.iter().map(|p| p.count).sum();
    let rows = rows(table).or_else(|| Some(fit::rows(vessel.as_ref()?, count)));
    let [sown, set_out] = dates(table, sown);
    table.close();
    let name = name?;
    unique(table, &name, names, "bin");
    let Placed { value: name, place } = name;
    let bin = Bin {
        rows: rows?,
        mix: mix?,
        called: name.clone(),
        name,
        place,
        vessel: vessel?,
        lid_drop,
        lid_thickness,
        pot: pot?,
        immersion,
        cube,
        plants,
        sown: sown?,
        set_out,
    };
    (!bin.plants.is_empty()).then_some((bin, copies))
}

/// A small length, or what is usual (mm).
fn small(table: &Table<'_>, key: &'static str, usual: &Fact) -> f64 {
    table.measure(key, &SMALL).map_or(usual.value, |length| length.value)
}

/// The solution of a bin; with only one in the plan it need not be named.
fn mix(table: &Table<'_>, mixes: &[Mix]) -> Option<usize> {
    match mixes {
        [] => table.text("mix", 80).and(None),
        [_] if !table.has("mix") => Some(0),
        _ => named(table, "mix", mixes.iter().map(|m| m.name.as_str())),
    }
}

/// Sowing and set-out, in order.
fn dates(table: &Table<'_>, sown: Option<Date>) -> [Option<Date>; 2] {
    let sown = table.date("sown").map(|d| d.value).or(sown);
    let set_out = table.date("set-out");
    if let (Some(sown), Some(set_out)) = (sown, &set_out)
        && set_out.value < sown
    {
        let message = format!("set out on {} but sown only on {sown}", set_out.value);
        let help = "set-out comes after sowing; correct one of the two days";
        table.error("out-of-order", &set_out.place, message, help);
    }
    if let (Some(sown), Some(set_out)) = (sown, &set_out)
        && sown.until(set_out.value).map_or(0, |span| span.get_days()) > LONGEST_WAIT
    {
        let message = format!("sown on {sown}, but set out only on {}", set_out.value);
        let help = "no seedling waits that long in its cube; correct one of the two days";
        table.error("out-of-order", &set_out.place, message, help);
    }
    [sown, set_out.map(|d| d.value)]
}

fn pot(table: &Table<'_>, library: &Library) -> Option<PotSize> {
    if !table.has("pot") {
        table.missing("pot", "\"3 in\"");
        return None;
    }
    if table.text_of("pot").is_none() {
        return own_pot(&table.table("pot")?);
    }
    let name = table.text("pot", 40)?;
    let found = library.pot(&name.value).map(PotSize::typical);
    if found.is_none() {
        let sizes: Vec<_> = library.pots.keys().map(|k| format!("\"{k}\"")).collect();
        let message = format!("no net pot is called \"{}\"", name.value);
        let help = format!(
            "known are {}; or measure yours: pot = {{ hole = \"50 mm\", rim = \"60 mm\", \
             depth = \"52 mm\", bottom = \"38 mm\" }}",
            sizes.join(", ")
        );
        table.error("unknown-pot", &name.place, message, &help);
    }
    found
}

fn own_pot(table: &Table<'_>) -> Option<PotSize> {
    let name = table.text("name", 40).map_or("net pot".into(), |t| t.value);
    let hole = table.need_measure("hole", &SIZE);
    let rim = table.need_measure("rim", &SIZE);
    let depth = table.need_measure("depth", &SIZE);
    let bottom = table.need_measure("bottom", &SIZE);
    table.close();
    let (hole, rim) = (hole?, rim?.value);
    if hole.value >= rim {
        let message = "the hole is as wide as the pot's rim, so the pot falls through".into();
        table.error("pot-falls-through", &hole.place, message, "measure both again");
        return None;
    }
    let (hole, depth, bottom) = (hole.value, depth?.value, bottom?.value);
    Some(PotSize { name, hole, rim, depth, bottom, measured: true })
}

fn cube(table: &Table<'_>, library: &Library) -> Option<Cube> {
    let lift = small(table, "cube-lift", &library.limits.cube_lift);
    let side = table.measure("cube", &SIZE)?.value;
    Some(Cube { side, lift })
}

fn rows(table: &Table<'_>) -> Option<[u32; 2]> {
    let inner = table.table("rows")?;
    let (along, across) = (inner.count("along", MOST_POTS), inner.count("across", MOST_POTS));
    inner.close();
    Some([along?.value, across?.value])
}

fn plants(table: &Table<'_>, library: &Library, crops: &[Crop]) -> Vec<Planting> {
    let tables = table.tables("plants", 20);
    if tables.is_empty() {
        table.missing("plants", "[{ crop = \"lettuce\", count = 6 }]");
    }
    let read = |inner: &Table<'_>| {
        let name = inner.need_text("crop", "\"lettuce\"");
        if !inner.has("count") {
            inner.missing("count", "6");
        }
        let count = inner.count("count", MOST_POTS);
        inner.close();
        let name = name?;
        let own = crops.iter().find(|c| c.name.to_lowercase() == name.value.to_lowercase());
        let Some(crop) = own.or_else(|| library.crop(&name.value)) else {
            unknown_crop(inner, library, &name.value, &name.place);
            return None;
        };
        Some(Planting { crop: crop.clone(), count: count?.value })
    };
    tables.iter().filter_map(read).collect()
}

pub(super) fn unknown_crop(table: &Table<'_>, library: &Library, name: &str, place: &Range<usize>) {
    let also = |c: &'static Crop| c.also.iter().map(String::as_str);
    let crops = Library::embedded().crops.iter();
    let words: Vec<&str> = crops
        .flat_map(|(key, c)| [key.as_str(), c.name.as_str()].into_iter().chain(also(c)))
        .collect();
    let guess = meant(name, words.iter().copied());
    let guess = guess.map_or(String::new(), |g| format!("did you mean \"{g}\"? "));
    let known: Vec<&str> = library.crops.keys().map(String::as_str).collect();
    let message = format!("no crop is called \"{name}\"");
    let help =
        format!("{guess}known are: {}; or describe it in a table [[crop]]", known.join(", "));
    table.error("unknown-crop", place, message, &help);
}
