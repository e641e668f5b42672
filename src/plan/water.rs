//! Source water, as far as it is known, and temperatures.

use super::Water;
use super::table::{Placed, Table};
use super::value::Want;
use crate::number::{figures, unit};

const PER_LITRE: Want =
    Want { unit: unit::MILLIGRAM_PER_LITRE, least: 0.0, most: 2000.0, offer: "\"40 mg/L\"" };
const ALKALINITY: Want = Want { offer: "\"120 mg/L CaCO3\"", ..PER_LITRE };

/// Water is mixed at this temperature unless the plan says otherwise (°C).
const ROOM: f64 = 20.0;

pub(super) fn read(root: &Table<'_>) -> Water {
    let nothing = Water {
        name: "Tap water".into(),
        ph: None,
        alkalinity: None,
        calcium: None,
        magnesium: None,
        sodium: None,
        potassium: None,
        chloride: None,
        sulfate: None,
        nitrate: None,
        temperature: ROOM,
    };
    let Some(table) = root.table("water") else { return nothing };
    let ion = |key: &'static str, forms: &[(&str, f64)]| {
        table.concentration(key, &PER_LITRE, forms).map(|found| found.value)
    };
    // Factors are ratios of molar masses: bicarbonate, nitrogen, sulfur, calcium carbonate.
    let alkalinity = degrees(&table).or_else(|| {
        table.concentration("alkalinity", &ALKALINITY, &[("CaCO3", 1.0), ("HCO3", 0.8202)])
    });
    let water = Water {
        name: table.text("name", 60).map_or(nothing.name, |t| t.value),
        ph: table.number("ph", 3.0, 11.0).map(|n| n.value),
        alkalinity: alkalinity.map(|found| found.value),
        calcium: ion("calcium", &[("Ca", 1.0), ("CaCO3", 0.4004)]),
        magnesium: ion("magnesium", &[("Mg", 1.0), ("CaCO3", 0.2428)]),
        sodium: ion("sodium", &[("Na", 1.0)]),
        potassium: ion("potassium", &[("K", 1.0)]),
        chloride: ion("chloride", &[("Cl", 1.0)]),
        sulfate: ion("sulfate", &[("SO4", 1.0), ("S", 2.996)]),
        nitrate: ion("nitrate", &[("NO3", 1.0), ("N", 4.427)]),
        temperature: temperature(&table, "temperature", [5.0, 35.0]).unwrap_or(ROOM),
    };
    table.close();
    water
}

/// Alkalinity as drop kits count it: German and French degrees, parts per million, all of calcium
/// carbonate (mg/L in each: DIN 38409-6 and ISO 6059 for the degrees, from memory).
///
/// Laboratories count acid taken up to pH 4.3 or 4.5 (ISO 9963-1, from memory): a millimole of it
/// stands for 50.04 mg of calcium carbonate.
const DEGREES: [(&[&str], f64); 4] = [
    (&["mmol/L", "mmol/l", "meq/L", "meq/l", "mval/L", "mval/l"], 50.04),
    (&["dKH", "°dKH", "dH", "°dH", "KH", "°KH"], 17.848),
    (&["°f", "fH", "°fH", "TAC"], 10.0),
    (&["ppm", "ppm CaCO3"], 1.0),
];

/// Alkalinity in degrees, if it is written so (mg/L as calcium carbonate).
fn degrees(table: &Table<'_>) -> Option<Placed<f64>> {
    let text = table.text_of("alkalinity")?;
    let text = text.trim();
    let number = text.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let value: f64 = text[..text.len() - number.len()].parse().ok()?;
    let (_, each) = DEGREES.iter().find(|(names, _)| names.contains(&number.trim()))?;
    let place = table.get("alkalinity")?.span();
    table.bounded("alkalinity", Placed { value: value * each, place }, &ALKALINITY)
}

/// A temperature (°C). It has a zero of its own, so it is not a [`Want`].
pub(super) fn temperature(
    table: &Table<'_>,
    key: &'static str,
    [least, most]: [f64; 2],
) -> Option<f64> {
    let text = table.text(key, 20)?;
    let spelt = text.value.replace('°', "").replace('−', "-");
    let (number, unit) = spelt.split_at(spelt.trim_end_matches(char::is_alphabetic).len());
    let number: Option<f64> = number.trim().parse().ok().filter(|n: &f64| n.is_finite());
    let celsius = match (number, unit) {
        (Some(n), "C") => Some(n),
        (Some(n), "F") => Some((n - 32.0) * 5.0 / 9.0),
        _ => None,
    };
    match celsius {
        Some(c) if (least..=most).contains(&c) => Some(c),
        Some(_) => {
            let message = format!("`{key}` is a temperature in which nothing grows");
            let show = |t| figures::plain(t, 3);
            let help = format!("it should lie between {} C and {} C", show(least), show(most));
            table.error("out-of-range", &text.place, message, &help);
            None
        }
        None => {
            let message = format!("`{key}` is not a temperature: \"{}\"", text.value);
            table.error("unknown-unit", &text.place, message, "write it like \"70 F\" or \"21 C\"");
            None
        }
    }
}
