//! The harvest: when it is time, and what it gave.

use jiff::civil::Date;

use super::super::Grow;
use super::super::block::{Block, Table, plain};
use super::{cells, one, short_window, words};
use crate::compute::dates::after;
use crate::library::Crop;
use crate::number::figures::{self, System};

/// When each crop of the plan is ready, and how it is taken; days from the first bin to the last.
pub(in super::super) fn harvest_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut crops: Vec<(&Crop, [Date; 2])> = Vec::new();
    for (bin, r) in grow.plan.bins.iter().zip(&grow.results.bins) {
        for planting in &bin.plants {
            let span = &planting.crop.set_out_to_harvest;
            let [low, high] = [span.low, span.high].map(|d| after(r.dates.set_out, d));
            match crops.iter_mut().find(|(crop, _)| crop.name == planting.crop.name) {
                Some((_, days)) => *days = [days[0].min(low), days[1].max(high)],
                None => crops.push((&planting.crop, [low, high])),
            }
        }
    }
    let system = grow.plan.system;
    let rows = crops.into_iter().map(|(crop, days)| {
        cells([
            crop.name.clone(),
            short_window(days),
            lengths(&crop.ready, system),
            lengths(&crop.take, system),
        ])
    });
    let columns =
        words([("Crop", 4), ("First harvest", 5), ("Ready when", 6), ("What to take, and how", 6)]);
    one(Table::printed("", columns, rows.collect()))
}

pub(in super::super) fn harvest_form(grow: &Grow<'_>) -> Vec<Block> {
    let rows = grow.plan.bins.iter().map(|bin| {
        let mut row = vec![plain(bin.name.clone())];
        row.resize(6, Vec::new());
        row
    });
    let columns = words([
        ("Bin", 4),
        ("Harvested on", 4),
        ("Weight", 3),
        ("Water added in all", 4),
        ("Level at the end", 4),
        ("Remarks", 7),
    ]);
    one(Table::to_fill("Harvest.", columns, rows.collect()))
}

/// A text with its lengths, such as "{20 cm}" or "{15 to 20 cm}", in both systems, inches to the nearest
/// whole.
fn lengths(text: &str, system: System) -> String {
    let length = |metric: &str| {
        let inches = metric.trim_end_matches(" cm").split(" to ").map(|cm| {
            cm.parse::<f64>().map_or_else(|_| cm.to_string(), |cm| figures::decimals(cm / 2.54, 0))
        });
        let inches = format!("{} in", inches.collect::<Vec<_>>().join(" to "));
        match system {
            System::Us => format!("{inches} ({metric})"),
            System::Metric => format!("{metric} ({inches})"),
        }
    };
    let piece = |(i, piece): (usize, &str)| {
        if i % 2 == 0 { piece.to_string() } else { length(piece) }
    };
    text.split(['{', '}']).enumerate().map(piece).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_come_in_both_systems() {
        let text = "about {15 to 20 cm} tall, {8 cm} wide";
        assert_eq!(
            lengths(text, System::Metric),
            "about 15 to 20 cm (6 to 8 in) tall, 8 cm (3 in) wide"
        );
        assert_eq!(
            lengths(text, System::Us),
            "about 6 to 8 in (15 to 20 cm) tall, 3 in (8 cm) wide"
        );
    }
}
