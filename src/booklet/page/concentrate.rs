//! The two bottles of concentrate: what goes into them, and how much of them into a pail.

use super::super::Grow;
use super::super::block::{Block, Column, Table, plain};
use super::mixing::weight;
use super::{cells, one, paragraph, words};
use crate::compute::concentrate::Part;
use crate::library::Bottle;
use crate::number::figures;

/// What to weigh for one bottle of each.
pub(in super::super) fn bottles_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(two) = &grow.results.mixing[mix].concentrate else { return Vec::new() };
    let plan = grow.plan;
    let step = plan.mixes[mix].scale;
    let row = |part: &Part| {
        let share =
            part.share.map_or("–".into(), |x| format!("{} %", figures::plain(100.0 * x, 2)));
        cells([
            if part.bottle == Bottle::A { "A" } else { "B" }.into(),
            plan.feeds[part.feed].name.clone(),
            weight(part.grams, step),
            figures::plain(part.content, 3),
            share,
            String::new(),
        ])
    };
    // What the search left out is not weighed.
    let of = |bottle: Bottle| {
        two.parts.iter().filter(move |p| p.bottle == bottle && p.grams > 0.0).map(row)
    };
    let rows = of(Bottle::A).chain(of(Bottle::B)).collect();
    let mut columns = words([("Bottle", 2), ("Salt", 7)]);
    columns.push(Column::numbers("To weigh", 3));
    columns.push(Column::numbers("g in a litre", 3));
    columns.push(Column::numbers("Of what dissolves", 3));
    columns.push(Column::words("Weighed", 3));
    let size = figures::volume(two.size, plan.system);
    let makes = figures::volume(two.makes, plan.system);
    let times = figures::plain(two.times, 4);
    let caption = format!(
        "For one bottle of {size} of each, {times} times as strong; together they make {makes} of \
         solution."
    );
    let mut blocks = one(Table { row_height: 7.5, ..Table::printed(&caption, columns, rows) });
    blocks.extend(two.in_one.map(why_two));
    blocks
}

fn why_two(limit: f64) -> Block {
    paragraph(format!(
        "Why two bottles: with everything in one, gypsum or calcium phosphate would begin to fall \
         out at about {} times the strength of the solution, worked for pure water.",
        figures::plain(limit, 2)
    ))
}

/// How much of each bottle goes into a pail or a bin.
pub(in super::super) fn dilution_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let mixing = &grow.results.mixing[mix];
    let Some(two) = &mixing.concentrate else { return Vec::new() };
    let volume = |v| figures::volume(v, grow.plan.system);
    let mut vessels = vec![("One full pail".to_string(), volume(grow.plan.mixes[mix].pail))];
    if mixing.part > 0.0 {
        vessels.push(("The part pail".into(), volume(mixing.part)));
    }
    for &bin in &mixing.bins {
        let v = grow.results.bins[bin].fill.start_volume;
        vessels.push((format!("{} alone", grow.plan.bins[bin].name), volume(v)));
    }
    let rows = vessels.into_iter().zip(&two.millilitres).map(|((name, water), ml)| {
        let ml = figures::dropper(*ml);
        vec![plain(name), plain(water), plain(ml.clone()), plain(ml)]
    });
    let columns = words([("For", 5), ("Solution", 6), ("Of bottle A", 4), ("Of bottle B", 4)]);
    let caption = "Concentrate to stir in, A first. Fill up with water to the amount of solution.";
    one(Table::printed(caption, columns, rows.collect()))
}
