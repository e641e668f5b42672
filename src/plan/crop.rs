//! Crops described in the plan itself, from nothing or like one of the library.

use super::bin::unknown_crop;
use super::grow::unique;
use super::table::Table;
use super::value::Want;
use crate::library::{Crop, Library, Span};
use crate::number::unit;

const DAYS: Want = Want { unit: unit::DAY, least: 0.0, most: 400.0, offer: "\"28 days\"" };
const WATER: Want =
    Want { unit: unit::LITRE, least: 0.05, most: 500.0, offer: "\"3.8 L\" or \"1 gal\"" };
const APART: Want =
    Want { unit: unit::MILLIMETRE, least: 10.0, most: 2000.0, offer: "\"8 in\" or \"200 mm\"" };

/// What marks a value as the grower's own.
const PLAN: &str = "plan";

pub(super) fn read(root: &Table<'_>, library: &Library) -> Vec<Crop> {
    let tables = root.tables("crop", 40);
    let mut names = std::collections::BTreeSet::new();
    let read = |table: &Table<'_>| {
        let name = table.need_text("name", "\"Red oakleaf\"");
        let like = table.need_text("like", "\"lettuce\"");
        let base = like.as_ref().and_then(|like| {
            let found = library.crop(&like.value);
            if found.is_none() {
                unknown_crop(table, library, &like.value, &like.place);
            }
            found.cloned()
        });
        let mut crop = base.unwrap_or_else(|| library.crops["loose-leaf-lettuce"].clone());
        own_values(table, &mut crop);
        table.close();
        let name = name?;
        unique(table, &name, &mut names, "crop");
        crop.name = name.value;
        crop.also.clear();
        Some(crop)
    };
    tables.iter().filter_map(read).collect()
}

/// Puts the plan's own values in the place of the library's.
fn own_values(table: &Table<'_>, crop: &mut Crop) {
    let span = |low: f64, high: f64| Span { low, high, source: PLAN.into(), at: String::new() };
    let days = |key| ends(table, key, &DAYS);
    if let Some([low, high]) = days("sow-to-set-out") {
        crop.sow_to_set_out = span(low, high);
    }
    if let Some([low, high]) = days("set-out-to-harvest") {
        crop.set_out_to_harvest = span(low, high);
    }
    if let Some([low, high]) = days("pick-for") {
        crop.pick_for = span(low, high);
    }
    if let Some([low, high]) = ends(table, "spacing", &APART) {
        crop.spacing = span(low / 10.0, high / 10.0);
    }
    if let Some([low, high]) = ph(table) {
        crop.ph = span(low, high);
    }
    if let Some(litres) = table.measures::<3>("water", &WATER) {
        let [low, expected, high] = litres.map(|l| l.value);
        if low <= expected && expected <= high {
            (crop.water.low, crop.water.expected, crop.water.high) = (low, expected, high);
            (crop.water.source, crop.water.at) = (PLAN.into(), String::new());
        } else {
            let message = "`water` must rise: low, expected, high".into();
            table.error("out-of-order", &table.place, message, "put the three in order");
        }
    }
}

fn ends(table: &Table<'_>, key: &'static str, want: &Want) -> Option<[f64; 2]> {
    let [low, high] = if table.has(key) { table.measures::<2>(key, want) } else { None }?;
    if low.value > high.value {
        let message = format!("`{key}` must rise: low, high");
        table.error("out-of-order", &low.place, message, "swap the two");
        return None;
    }
    Some([low.value, high.value])
}

fn ph(table: &Table<'_>) -> Option<[f64; 2]> {
    let inner = table.table("ph")?;
    let (low, high) = (inner.number("low", 4.0, 8.0), inner.number("high", 4.0, 8.0));
    inner.close();
    let (low, high) = (low?, high?);
    if low.value >= high.value {
        let message = "`ph` must rise: low, high".into();
        table.error("out-of-order", &low.place, message, "swap the two");
        return None;
    }
    Some([low.value, high.value])
}
