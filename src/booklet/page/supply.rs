//! A steady supply: the calendar of sowings as a table and as bars.

use jiff::ToSpan;
use jiff::civil::Date;

use super::super::Grow;
use super::super::block::{Align, Block, Column, Table};
use super::super::drawing::{Drawing, Mark};
use super::{cells, days, one, paragraph, short_day, words};
use crate::compute::Supply;
use crate::compute::supply::Sowing;
use crate::number::figures;

/// How many bins, how often, in words.
pub(in super::super) fn supply_summary(grow: &Grow<'_>) -> Vec<Block> {
    let (Some(supply), Some(wish)) = (&grow.results.supply, &grow.plan.supply) else {
        return Vec::new();
    };
    let many = |n: u32, one: &str| if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") };
    let heads = figures::plain(wish.heads, 3);
    let (heads, take) =
        if heads == "1" { ("1 head".into(), "takes") } else { (format!("{heads} heads"), "take") };
    let bins = match supply.bins {
        1 => "one bin".into(),
        n => format!("{n} bins in turn"),
    };
    vec![paragraph(format!(
        "{heads} of {} a week {take} {bins}, with {} in each. Sow {} every {} days; the tray holds \
         up to {} at a time.",
        wish.crop.name,
        many(supply.plants, "plant"),
        many(supply.plants, "cube"),
        figures::plain(supply.interval, 3),
        many(supply.tray, "seedling"),
    ))]
}

/// Every sowing of the calendar.
pub(in super::super) fn supply_table(grow: &Grow<'_>) -> Vec<Block> {
    let Some(supply) = &grow.results.supply else { return Vec::new() };
    let row = |s: &Sowing| {
        cells([
            s.bin.to_string(),
            short_day(s.sow),
            short_day(s.set_out),
            short_day(s.harvest),
            String::new(),
        ])
    };
    let rows = supply.sowings.iter().map(row).collect();
    let mut columns = vec![Column::numbers("Bin", 3)];
    columns.extend(words([("Sow", 4), ("Set out", 4), ("Cut", 4), ("Done, heads", 4)]));
    let caption = "Middle dates: roots and heads decide, not the day.";
    one(Table { row_height: 7.5, ..Table::printed(caption, columns, rows) })
}

/// Field of the bars (mm): left edge, width, height of a row.
const BARS: [f64; 3] = [16.0, 100.0, 5.0];

/// Bars: when each bin is taken.
pub(in super::super) fn supply_bars(grow: &Grow<'_>) -> Vec<Block> {
    let Some(supply) = &grow.results.supply else { return Vec::new() };
    let (Some(first), Some(last)) = (supply.sowings.first(), supply.sowings.last()) else {
        return Vec::new();
    };
    let whole = days(first.sow, last.harvest).max(1.0);
    let [left, width, height] = BARS;
    let x = |day: Date| left + width * days(first.sow, day) / whole;
    let shown = supply.bins.min(24);
    let bottom = 6.0 + height * f64::from(shown);
    let mut marks = Vec::new();
    for month in months(first.sow, last.harvest) {
        let at = x(month).max(left);
        marks.push(Mark::Line { from: [at, 4.0], to: [at, bottom], weight: 0.1, dashed: true });
        let text = month.strftime("%b").to_string();
        marks.push(Mark::Words { at: [at + 0.8, 2.2], align: Align::Left, size: 2.1, text });
    }
    marks.extend((1..=shown).map(bin_name));
    let seen = supply.sowings.iter().filter(|s| s.bin <= shown);
    marks.extend(seen.flat_map(|s| bar(s, x)));
    let drawing = Drawing {
        name: "supply".into(),
        width: left + width + 4.0,
        height: bottom + 1.0,
        marks,
        alt: in_words(supply),
        caption: "A line under the bars: in the tray. A bar: in the bin, until it is cut.".into(),
    };
    vec![Block::Figure(drawing)]
}

fn bin_name(bin: u32) -> Mark {
    let y = 6.0 + BARS[2] * f64::from(bin - 1);
    let text = format!("Bin {bin}");
    Mark::Words { at: [BARS[0] - 1.5, y + 1.6], align: Align::Right, size: 2.1, text }
}

/// A thin line in the tray, a bar in the bin.
fn bar(s: &Sowing, x: impl Fn(Date) -> f64) -> [Mark; 2] {
    let y = 6.0 + BARS[2] * f64::from(s.bin - 1);
    // Under the bar that may stand there before it.
    let under = y + 3.7;
    let (from, to) = ([x(s.sow), under], [x(s.set_out), under]);
    let (a, b) = (x(s.set_out), x(s.harvest));
    let points = vec![[a, y], [b, y], [b, y + 3.0], [a, y + 3.0]];
    [
        Mark::Line { from, to, weight: 0.4, dashed: false },
        Mark::Area { points, grey: Some(0.8), weight: 0.2 },
    ]
}

/// The first of every month between two days.
fn months(from: Date, to: Date) -> Vec<Date> {
    let start = from.first_of_month();
    let next = |i: i32| start.checked_add(i.months()).ok();
    (1..60).map_while(next).take_while(|d| *d <= to).collect()
}

fn in_words(supply: &Supply) -> String {
    let one = |s: &Sowing| {
        format!("bin {} from {} to {}", s.bin, short_day(s.set_out), short_day(s.harvest))
    };
    let some: Vec<String> = supply.sowings.iter().take(4).map(one).collect();
    format!(
        "Bars of {} over {} sowings, one every {} days: {}, and so on.",
        if supply.bins == 1 { "one bin".into() } else { format!("{} bins in turn", supply.bins) },
        supply.sowings.len(),
        figures::plain(supply.interval, 3),
        some.join("; ")
    )
}
