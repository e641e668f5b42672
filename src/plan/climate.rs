//! Air, light and weather around the bins, as far as they are known.

use std::ops::Range;

use super::table::Table;
use super::value::Want;
use super::water::temperature;
use super::{Climate, Lamp, Light, Month};
use crate::number::unit;
use crate::science::{air, radiation};

const HUMIDITY: Want = Want { unit: unit::PERCENT, least: 5.0, most: 100.0, offer: "\"55 %\"" };
const PPFD: Want = Want {
    unit: unit::MICROMOLE_PER_SQUARE_METRE_SECOND,
    least: 5.0,
    most: 2500.0,
    offer: "\"180 umol/m2/s\"",
};
const DLI: Want = Want {
    unit: unit::MOLE_PER_SQUARE_METRE_DAY,
    least: 0.5,
    most: 70.0,
    offer: "\"12 mol/m2/d\"",
};
/// 1 µmol/m²/s for an hour, in mol/m².
const DLI_OF_AN_HOUR: f64 = 0.0036;
const HOURS: Want = Want { unit: unit::HOUR_PER_DAY, least: 0.5, most: 24.0, offer: "\"14 h/d\"" };
const ALTITUDE: Want =
    Want { unit: unit::METRE, least: -400.0, most: 5000.0, offer: "\"120 m\" or \"400 ft\"" };
const WIND: Want =
    Want { unit: unit::METRE_PER_SECOND, least: 0.0, most: 30.0, offer: "\"2 m/s\" or \"5 mph\"" };
const SUN: Want = Want { offer: "\"6 h/d\"", least: 0.0, ..HOURS };
const RADIATION: Want = Want {
    unit: unit::MEGAJOULE_PER_SQUARE_METRE_DAY,
    least: 0.0,
    most: 45.0,
    offer: "\"18 MJ/m2/d\"",
};
const POWER: Want = Want { unit: unit::WATT, least: 1.0, most: 5000.0, offer: "\"45 W\"" };

const MONTHS: [(&str, u8); 12] = [
    ("january", 1),
    ("february", 2),
    ("march", 3),
    ("april", 4),
    ("may", 5),
    ("june", 6),
    ("july", 7),
    ("august", 8),
    ("september", 9),
    ("october", 10),
    ("november", 11),
    ("december", 12),
];

pub(super) fn read(root: &Table<'_>) -> Climate {
    let nothing = Climate { indoors: true, ..Climate::default() };
    let Some(table) = root.table("climate") else { return nothing };
    let places = [("indoors", true), ("outdoors", false)];
    let indoors = table.word("where", &places).is_none_or(|w| w.value);
    let air = temperature(&table, "air", [-20.0, 50.0]);
    let humidity = table.measure("humidity", &HUMIDITY).map(|h| h.value / 100.0);
    let light = light(&table);
    let lamp = lamp(&table);
    let altitude = table.measure("altitude", &ALTITUDE).map_or(0.0, |a| a.value);
    let latitude = table.number("latitude", -66.0, 66.0).map(|l| l.value);
    let months = months(&table, latitude, altitude);
    if indoors {
        table
            .not_used("month", "the weather of the months counts outdoors: `where = \"outdoors\"`");
    }
    table.close();
    Climate { indoors, air, humidity, light, lamp, latitude, altitude, months }
}

fn light(table: &Table<'_>) -> Option<Light> {
    let dli = table.measure("daily-light", &DLI);
    let ppfd = table.measure("light", &PPFD);
    let hours = table.measure("hours", &HOURS);
    if let (Some(dli), Some(_)) = (&dli, &ppfd) {
        let message = "say either `daily-light`, or `light` and `hours`".into();
        let help = "light times hours times 0.0036 is the daily light; keep the one you measured";
        table.error("counted-twice", &dli.place, message, help);
    }
    if ppfd.is_some() && !table.has("hours") {
        table.missing("hours", "\"14 h/d\"");
    }
    if let (Some(ppfd), Some(hours)) = (&ppfd, &hours)
        && ppfd.value * hours.value * DLI_OF_AN_HOUR > DLI.most
    {
        let message = "so much light for so many hours is more than the sun gives".into();
        let help = "PPFD is measured at the leaves, in umol/m2/s; lux is another thing: divide it by \
                    about 60 for a white lamp";
        table.error("out-of-range", &ppfd.place, message, help);
    }
    if ppfd.is_none() && !table.has("light") {
        table.not_used("hours", "hours of light need how much: `light = \"180 umol/m2/s\"`");
    }
    match (dli, ppfd, hours) {
        (Some(dli), _, _) => Some(Light::Daily(dli.value)),
        (None, Some(ppfd), Some(hours)) => {
            Some(Light::Lamp { ppfd: ppfd.value, hours: hours.value })
        }
        _ => None,
    }
}

fn lamp(table: &Table<'_>) -> Option<Lamp> {
    let power = table.measure("lamp-power", &POWER);
    let price = table.number("price-per-kwh", 0.0, 100.0).map(|p| p.value);
    if !table.has("hours") {
        table.not_used("lamp-power", "what it takes depends on the hours: `hours = \"14 h\"`");
    }
    if power.is_none() && !table.has("lamp-power") {
        table.not_used("price-per-kwh", "it needs the lamp's power: `lamp-power = \"45 W\"`");
    }
    power.map(|power| Lamp { power: power.value, price })
}

fn months(table: &Table<'_>, latitude: Option<f64>, altitude: f64) -> Vec<Month> {
    let tables = table.tables("month", 12);
    if !tables.is_empty() && latitude.is_none() && !table.has("latitude") {
        table.missing("latitude", "51.5");
    }
    let mut all: Vec<Month> = Vec::new();
    for inner in &tables {
        let Some((month, place)) = month(inner, latitude.unwrap_or(0.0), altitude) else {
            continue;
        };
        if all.iter().any(|m| m.of == month.of) {
            let message = "this month is there twice".into();
            table.error("same-name", &place, message, "keep one");
            continue;
        }
        all.push(month);
    }
    all
}

/// One month, and where it is named.
fn month(inner: &Table<'_>, latitude: f64, altitude: f64) -> Option<(Month, Range<usize>)> {
    if !inner.has("of") {
        inner.missing("of", "\"april\"");
    }
    let of = inner.word("of", &MONTHS);
    let ends = ["coolest", "warmest"].map(|key| {
        if !inner.has(key) {
            inner.missing(key, "\"12 C\"");
        }
        temperature(inner, key, [-40.0, 55.0])
    });
    let humidity = inner.need_measure("humidity", &HUMIDITY);
    let wind = inner.measure("wind", &WIND).map_or(CALM, |w| w.value);
    let sun = inner.measure("sun", &SUN).map(|s| s.value);
    let radiation = inner.measure("radiation", &RADIATION).map(|r| r.value);
    inner.close();
    let (of, [coolest, warmest], humidity) = (of?, ends, humidity?.value / 100.0);
    let (coolest, warmest) = (coolest?, warmest?);
    if coolest > warmest {
        let message = "`coolest` is above `warmest`".into();
        inner.error("out-of-order", &inner.place, message, "swap the two");
        return None;
    }
    let sky = Sky { sun, radiation, latitude, altitude };
    let radiation = sky.radiation(inner, of.value)?;
    let vapour = air::actual_from_mean(warmest, coolest, humidity);
    Some((Month { of: of.value, coolest, warmest, humidity, vapour, wind, radiation }, of.place))
}

/// Wind at 2 m where none is given (m/s): FAO-56, chapter 3, the mean of 2000 stations.
const CALM: f64 = 2.0;

/// What is known of a month's sky.
struct Sky {
    sun: Option<f64>,
    radiation: Option<f64>,
    latitude: f64,
    altitude: f64,
}

impl Sky {
    /// Radiation (MJ/m²/d), from what is given; at most what a clear sky lets through.
    fn radiation(&self, table: &Table<'_>, month: u8) -> Option<f64> {
        let sky = radiation::Sun::new(self.latitude, middle(month));
        let above = sky.extraterrestrial();
        let clear = radiation::clear_sky(above, self.altitude);
        match (self.radiation, self.sun) {
            (Some(given), None) if given > 1.1 * clear => {
                let message = "`radiation` is more than a clear sky gives there".to_string();
                let help = "it is in MJ/m2/d, a month's mean; or write the hours of sun";
                table.error("out-of-range", &table.place, message, help);
                None
            }
            (Some(given), None) => Some(given.min(clear)),
            (None, Some(hours)) => {
                let daylight = sky.daylight();
                Some(radiation::from_sunshine(above, hours.min(daylight), daylight))
            }
            (Some(_), Some(_)) => {
                let message = "say either `sun` or `radiation`".into();
                table.error("counted-twice", &table.place, message, "keep the measured one");
                None
            }
            (None, None) => {
                // One that could not be read has been told already.
                if !table.has("sun") && !table.has("radiation") {
                    table.missing("sun", "\"6 h/d\"");
                }
                None
            }
        }
    }
}

/// The day of the year in the middle of a month.
pub(crate) fn middle(month: u8) -> f64 {
    30.4 * f64::from(month) - 15.0
}
