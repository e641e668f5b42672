//! The inside of a bin: a box, a round vessel, or any shape measured by pouring.

use super::table::Table;
use super::value::Want;
use crate::number::unit;
use crate::science::vessel::Vessel;

const WIDTH: Want =
    Want { unit: unit::METRE, least: 0.03, most: 5.0, offer: "\"20 in\" or \"510 mm\"" };
const DEPTH: Want =
    Want { unit: unit::MILLIMETRE, least: 40.0, most: 1500.0, offer: "\"12 in\" or \"300 mm\"" };
const POURED: Want =
    Want { unit: unit::LITRE, least: 0.001, most: 5000.0, offer: "\"4 L\" or \"1 gal\"" };

#[derive(Clone, Copy)]
enum Shape {
    Box,
    Round,
    Measured,
}

pub(super) fn read(table: &Table<'_>) -> Option<Vessel> {
    let shapes = [("box", Shape::Box), ("round", Shape::Round), ("measured", Shape::Measured)];
    if !table.has("shape") {
        table.missing("shape", "\"box\"");
    }
    match table.word("shape", &shapes)?.value {
        Shape::Box => {
            if !table.has("floor") {
                table.missing("floor", "[\"20 in\", \"13 in\"]");
            }
            let floor = table.measures::<2>("floor", &WIDTH);
            let rim = table.measures::<2>("rim", &WIDTH);
            let depth = table.need_measure("depth", &DEPTH);
            let floor = floor?.map(|side| side.value);
            let rim = rim.map_or(floor, |rim| rim.map(|side| side.value));
            Some(Vessel::Box { floor, rim, depth: depth?.value })
        }
        Shape::Round => {
            let floor = table.need_measure("floor", &WIDTH);
            let rim = table.measure("rim", &WIDTH);
            let depth = table.need_measure("depth", &DEPTH);
            let floor = floor?.value;
            let rim = rim.map_or(floor, |rim| rim.value);
            Some(Vessel::Round { floor, rim, depth: depth?.value })
        }
        Shape::Measured => measured(table),
    }
}

/// How a reading is written.
const READINGS: &str = "{ depth = \"2 in\", volume = \"1 gal\" }";

fn measured(table: &Table<'_>) -> Option<Vessel> {
    let read = |inner: &Table<'_>| {
        let depth = inner.need_measure("depth", &Want { least: 1.0, ..DEPTH });
        let volume = inner.need_measure("volume", &POURED);
        inner.close();
        Some((depth?, volume?))
    };
    let tables = table.tables("poured", 100);
    let points: Vec<_> = tables.iter().filter_map(read).collect();
    if points.len() < 2 {
        let message = "a measured bin needs at least two depths, the last one the rim".into();
        let help = format!("poured = [{READINGS}, {{ depth = \"4 in\", volume = \"2.1 gal\" }}]");
        table.error("too-few-readings", &table.place, message, &help);
        return None;
    }
    let mut all = vec![(0.0, 0.0)];
    for (depth, volume) in points {
        let last = all[all.len() - 1];
        if depth.value <= last.0 || volume.value <= last.1 {
            let message = "depth and volume poured so far must both rise".into();
            let help = "volume is all that was poured so far, not only the last jug";
            table.error("poured-not-rising", &depth.place, message, help);
            return None;
        }
        all.push((depth.value, volume.value));
    }
    Some(Vessel::Measured(all))
}
