//! Air and light against what the crops like, and the ways the water was worked.

use std::collections::BTreeMap;

use super::super::Grow;
use super::super::block::{Block, Column, Line, Table};
use super::{by_bin, cells, one, words};
use crate::compute::Band;
use crate::compute::thirst::Way;
use crate::library::{Crop, Span};
use crate::number::figures::{self, System};

/// Whether there is anything to say about air and light.
pub(in super::super) fn known(grow: &Grow<'_>) -> bool {
    let climate = &grow.plan.climate;
    let of_air = climate.air.is_some() && climate.humidity.is_some();
    of_air || climate.light.is_some() || !climate.months.is_empty()
}

fn crops<'g>(grow: &'g Grow<'_>) -> Vec<&'g Crop> {
    let plants = grow.plan.bins.iter().flat_map(|b| &b.plants);
    let named: BTreeMap<&str, &Crop> = plants.map(|p| (p.crop.name.as_str(), &p.crop)).collect();
    named.into_values().collect()
}

/// What each crop likes of one thing, as it is written, and which of them the plan's own misses.
fn likes<'c>(
    crops: &[&'c Crop],
    own: f64,
    of: impl Fn(&'c Crop) -> &'c Span,
    written: impl Fn(&Span) -> String,
) -> String {
    let missed = |span: &Span| match own {
        own if own > span.high => ", yours is above",
        own if own < span.low => ", yours is below",
        _ => "",
    };
    let one = |c: &&'c Crop| format!("{} {}{}", c.name, written(of(c)), missed(of(c)));
    crops.iter().map(one).collect::<Vec<_>>().join("; ")
}

fn span(span: &Span, unit: &str) -> String {
    let (low, high) = (figures::plain(span.low, 3), figures::plain(span.high, 3));
    format!("{low} to {high} {unit}")
}

/// A temperature in both scales.
fn degrees(celsius: f64, system: System) -> String {
    let (c, f) = (figures::plain(celsius, 3), figures::decimals(32.0 + 1.8 * celsius, 0));
    match system {
        System::Us => format!("{f} °F ({c} °C)"),
        System::Metric => format!("{c} °C ({f} °F)"),
    }
}

/// A span of temperatures; in US units with what a US thermometer shows.
fn warmth(air: &Span, system: System) -> String {
    let celsius = span(air, "°C");
    let f = |c: f64| figures::decimals(32.0 + 1.8 * c, 0);
    match system {
        System::Us => format!("{} to {} °F ({celsius})", f(air.low), f(air.high)),
        System::Metric => celsius,
    }
}

/// The coldest and the warmest hours of the plan's months, as means of their days.
fn outdoors(grow: &Grow<'_>) -> Option<String> {
    let months = &grow.plan.climate.months;
    let coolest = months.iter().map(|m| m.coolest).min_by(f64::total_cmp)?;
    let warmest = months.iter().map(|m| m.warmest).max_by(f64::total_cmp)?;
    let [low, high] = [coolest, warmest].map(|t| degrees(t, grow.plan.system));
    Some(format!("{low} to {high}"))
}

/// What the lamp costs, if the price of a kilowatt hour is known.
fn price(cost: Option<f64>) -> String {
    let told = |cost| format!("; at your price {} in your money", figures::decimals(cost, 2));
    cost.map_or(String::new(), told)
}

/// What is measured beside what each crop likes. (Outdoors nights are below it and noons above: no news.)
pub(in super::super) fn climate_table(grow: &Grow<'_>) -> Vec<Block> {
    let (climate, facts, crops) = (&grow.results.climate, &grow.library.climate, crops(grow));
    let mut rows: Vec<Vec<Line>> = Vec::new();
    let mut row = |what: &str, yours: String, like: String| {
        rows.push(cells([what.into(), yours, like, String::new()]));
    };
    let warm = |span: &Span| warmth(span, grow.plan.system);
    let air_of = |own: f64| likes(&crops, own, |crop| &crop.air, warm);
    if let Some(air) = grow.plan.climate.air {
        row("Air by day", degrees(air, grow.plan.system), air_of(air));
    }
    if let Some(air) = outdoors(grow) {
        row("Air of the plan's months, coldest and warmest of a day", air, air_of(f64::NAN));
    }
    if let Some(deficit) = climate.deficit {
        let [low, high] = [&facts.deficit_low, &facts.deficit_high].map(|fact| fact.value);
        let like = format!("leaf crops {low} to {high} kPa");
        row("Dryness of the air (VPD)", format!("{} kPa", figures::decimals(deficit, 2)), like);
    }
    if let Some(dli) = climate.dli {
        let light = likes(&crops, dli, |crop| &crop.light, |light| span(light, "mol"));
        row("Light in a day (DLI)", format!("{} mol/m² a day", figures::decimals(dli, 1)), light);
    }
    if let Some(oxygen) = climate.oxygen {
        let low = figures::plain(facts.oxygen_low.value, 2);
        let like =
            format!("lettuce showed no loss down to {low} mg/L; roots in air breathe besides");
        let holds = format!("{} mg/L", figures::decimals(oxygen, 1));
        row("Oxygen that solution this warm can hold", holds, like);
    }
    if let Some(energy) = climate.energy {
        let yours = format!("{} kWh{}", figures::plain(energy, 3), price(climate.cost));
        row("Electricity of the lamp, first set-out to last harvest", yours, String::new());
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = words([("What", 5), ("Yours", 4), ("Suits", 8), ("You measure", 3)]);
    one(Table { row_height: 7.5, ..Table::printed("", columns, rows) })
}

fn called(way: Way) -> &'static str {
    match way {
        Way::Crop => "crop table",
        Way::Air => "mass and air",
        Way::Light => "light and air",
        Way::Weather => "weather",
        Way::Own => "your own figure",
    }
}

/// Litres of a plant by every way that has its numbers.
pub(in super::super) fn ways_table(grow: &Grow<'_>) -> Vec<Block> {
    let system = grow.plan.system;
    let show = |b: &Band| figures::volume_band(b.expected, b.low, b.high, system);
    let mut rows: Vec<(usize, Vec<Line>)> = Vec::new();
    for (i, (bin, results)) in grow.plan.bins.iter().zip(&grow.results.bins).enumerate() {
        for (planting, thirst) in bin.plants.iter().zip(&results.thirst) {
            let ways =
                thirst.ways.iter().map(|(way, band)| format!("{}: {}", called(*way), show(band)));
            let row = cells([
                planting.crop.name.clone(),
                ways.collect::<Vec<_>>().join("; "),
                called(thirst.way).into(),
            ]);
            rows.push((i, row));
        }
    }
    let columns = vec![
        Column::words("Bin", 4),
        Column::words("Crop", 4),
        Column::words("Water a plant: expected (low to high)", 11),
        Column::words("Planned with", 3),
    ];
    one(Table::printed("", columns, by_bin(grow, rows)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::Library;

    /// Every crop of the library, at, just outside and far inside the ends of its range.
    #[test]
    fn what_the_plan_misses_is_marked() {
        for crop in Library::embedded().crops.values() {
            let (low, high) = (crop.air.low, crop.air.high);
            let at = |own: f64| likes(&[crop], own, |crop| &crop.air, |air| span(air, "°C"));
            let plain = format!("{} {} to {} °C", crop.name, low, high);
            for inside in [low, f64::midpoint(low, high), high, f64::NAN] {
                assert_eq!(at(inside), plain);
            }
            assert_eq!(at(low - 0.1), format!("{plain}, yours is below"));
            assert_eq!(at(high + 0.1), format!("{plain}, yours is above"));
        }
    }
}
