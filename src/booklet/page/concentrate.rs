//! The two bottles of concentrate: what goes into them, and how much of them into a pail.

use super::super::Grow;
use super::super::block::{Block, Column, Line, Table, plain};
use super::mixing::weight;
use super::pails::vessels;
use super::{cells, one, paragraph, words};
use crate::compute::concentrate::Part;
use crate::library::Bottle;
use crate::number::figures;

/// What to weigh for one bottle of each.
pub(in super::super) fn bottles_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(two) = &grow.results.mixing[mix].concentrate else { return Vec::new() };
    let plan = grow.plan;
    let row = |part: &Part| bottle_row(grow, part, plan.mixes[mix].scale);
    // What the search left out is not weighed.
    let of = |bottle: Bottle| {
        two.parts.iter().filter(move |p| p.bottle == bottle && p.grams > 0.0).map(row)
    };
    let rows = of(Bottle::A).chain(of(Bottle::B)).collect();
    let mut columns = words([("Bottle", 7), ("Salt", 12)]);
    columns.push(Column::numbers("To weigh", 15));
    columns.push(Column::numbers("g in a litre", 6));
    columns.push(Column::numbers("Share of the most that dissolves", 8));
    columns.push(Column::words("Weighed", 7));
    let size = figures::volume(two.size, plan.system);
    let makes = figures::volume(two.makes, plan.system);
    let times = figures::plain(two.times, 4);
    let caption = format!(
        "For one bottle of {size} of each, {times} times as strong; together they make {makes} of \
         solution. Bottle A holds {} % of the most that would dissolve, bottle B {} %.",
        figures::plain(100.0 * two.load[0], 2),
        figures::plain(100.0 * two.load[1], 2)
    );
    let mut blocks = one(Table { row_height: 7.5, ..Table::printed(&caption, columns, rows) });
    blocks.extend(two.in_one.map(why_two));
    blocks
}

fn bottle_row(grow: &Grow<'_>, part: &Part, step: f64) -> Vec<Line> {
    let percent = |x: f64| format!("{} %", figures::plain(100.0 * x, 2));
    let grams = weight(part.grams, step);
    let to_weigh = if part.grams < FINE {
        format!("{grams}, or {} of 1 g in a litre", figures::dropper(1000.0 * part.grams))
    } else {
        grams
    };
    cells([
        if part.bottle == Bottle::A { "A" } else { "B" }.into(),
        grow.plan.feeds[part.feed].name.clone(),
        to_weigh,
        figures::plain(part.content, 3),
        part.share.map_or("–".into(), percent),
        String::new(),
    ])
}

/// Less than this is measured better as a part of a solution (g).
const FINE: f64 = 0.5;

fn why_two(limit: f64) -> Block {
    paragraph(format!(
        "Why two bottles: with everything in one, gypsum or calcium phosphate would begin to fall \
         out at about {} times the strength of the solution, worked for pure water as warm as yours.",
        figures::plain(limit, 2)
    ))
}

/// How much of each bottle goes into a pail or a bin.
pub(in super::super) fn dilution_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let mixing = &grow.results.mixing[mix];
    let Some(two) = &mixing.concentrate else { return Vec::new() };
    let there = two.bottles();
    let rows = vessels(grow, mix, |i, share| {
        there.iter().map(|_| plain(figures::dropper(share * two.millilitres[i]))).collect()
    });
    let mut columns = words([("For", 5), ("Solution", 7)]);
    columns.extend(there.iter().map(|name| Column::words(&format!("Of bottle {name}"), 4)));
    let caption = "Concentrate to stir in, A first. Fill up with water to the amount of solution.";
    one(Table::printed(caption, columns, rows))
}
