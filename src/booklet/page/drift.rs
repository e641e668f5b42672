//! What is left in a bin's solution as the season goes.

use super::super::Grow;
use super::super::block::{Block, Column, Table, plain};
use super::{one, paragraph, short_day, words};
use crate::compute::BinResults;
use crate::compute::drift::{Element, With, half_gone};
use crate::compute::season::{Check, Event};
use crate::number::figures;

/// What to top up with on a check day.
pub(in super::super) fn with(bin: &BinResults, check: usize) -> &'static str {
    match bin.drift.as_ref().and_then(|d| d.with.get(check).copied().flatten()) {
        Some(With::Plain | With::Spent) => "plain water",
        Some(With::Full) => "full strength",
        Some(With::Half) | None => "half strength",
    }
}

/// Its strength, as a part of the first filling's.
pub(super) fn strength(bin: &BinResults, check: usize) -> f64 {
    match bin.drift.as_ref().and_then(|d| d.with.get(check).copied().flatten()) {
        Some(With::Plain | With::Spent) => 0.0,
        Some(With::Full) => 1.0,
        Some(With::Half) | None => 0.5,
    }
}

/// The same in a word or two.
pub(super) fn with_in_short(bin: &BinResults, check: usize) -> &'static str {
    match bin.drift.as_ref().and_then(|d| d.with.get(check).copied().flatten()) {
        Some(With::Plain | With::Spent) => "plain water",
        Some(With::Full) => "full",
        Some(With::Half) | None => "half",
    }
}

/// Elements that are shown, in this order.
const SHOWN: [&str; 5] = ["N", "P", "K", "Ca", "Mg"];
/// Rows of the table: more would not be read.
const ROWS: usize = 6;

/// Elements and conductivity on some of the check days.
pub(in super::super) fn drift_table(grow: &Grow<'_>, bin: usize) -> Vec<Block> {
    let r = &grow.results.bins[bin];
    let Some(drift) = &r.drift else { return Vec::new() };
    let last = r.season.checks.len().saturating_sub(1);
    let step = r.season.checks.len().div_ceil(ROWS).max(1);
    let worked = half_gone(&r.fill, &r.season).map(|(check, _)| check.day);
    let is_worked = |i: usize| Some(r.season.checks[i].day) == worked;
    // The strongest too: the page on topping up names it.
    let peak = (0..=last).max_by(|a, b| drift.conductivity[*a].total_cmp(&drift.conductivity[*b]));
    let elements: Vec<_> =
        SHOWN.iter().filter_map(|s| drift.elements.iter().find(|e| e.symbol == *s)).collect();
    if elements.is_empty() {
        return Vec::new();
    }
    // Days an even number of checks apart would lie about what is short: all of them may follow a change.
    let low = short(&r.season.checks, &elements);
    let told =
        |i: &usize| [0, last].contains(i) || Some(*i) == peak || is_worked(*i) || low.contains(i);
    let many = (0..=last).filter(told).count() >= ROWS - 1;
    let shown = (0..=last).filter(|i| told(i) || !many && i % step == 0);
    let rows = shown.map(|i| {
        let check = &r.season.checks[i];
        let mut row = vec![plain(short_day(check.day))];
        row.push(plain(format!("{} %", figures::decimals(100.0 * drift.conductivity[i], 0))));
        row.extend(elements.iter().map(|e| plain(figures::decimals(e.days[i], 0))));
        row
    });
    let mut columns = words([("Day", 5)]);
    columns.push(Column::numbers("EC", 3));
    columns.extend(elements.iter().map(|e| Column::numbers(&e.symbol, 3)));
    let caption = "EC as a part of the first, elements in mg/L: what is left in the solution before \
                   anything is added, if the plants take what leaf crops usually take.";
    let mut blocks = one(Table::printed(caption, columns, rows.collect()));
    blocks.push(paragraph(in_words(grow, bin)));
    blocks
}

/// Checks at which nitrogen or potassium is first below half of what it was at first, since the last change,
/// and those at which all of it is changed, before it is.
fn short(checks: &[Check], elements: &[&Element]) -> Vec<usize> {
    let asked = || elements.iter().filter(|e| ["N", "K"].contains(&e.symbol.as_str()));
    let mut found = Vec::new();
    let mut hungry = false;
    for (i, check) in checks.iter().enumerate() {
        let changed = matches!(check.event, Some(Event::ChangeOut(_)));
        let poor = asked().any(|e| e.days[i] < 0.5 * e.days[0]);
        if changed || poor && !hungry {
            found.push(i);
        }
        hungry = poor && !changed;
    }
    found
}

/// What is left at the end, and which way pH may go.
fn in_words(grow: &Grow<'_>, bin: usize) -> String {
    let r = &grow.results.bins[bin];
    let mixing = &grow.results.mixing[grow.plan.bins[bin].mix];
    let left = |symbol: &str| {
        let e = r.drift.as_ref()?.elements.iter().find(|e| e.symbol == symbol)?;
        Some(format!("{} % of the {}", figures::decimals(100.0 * e.left, 0), name(symbol)))
    };
    let left: Vec<String> = ["N", "K"].into_iter().filter_map(left).collect();
    let ph = match mixing.ammonium {
        a if a > 0.15 => "Much of the nitrogen is ammonium: the pH may fall.",
        a if a < 0.05 => "Nearly all the nitrogen is nitrate: the pH may climb.",
        _ => "With nitrate and some ammonium the pH may go either way.",
    };
    let changed = r.season.events().any(|(_, event)| matches!(event, Event::ChangeOut(_)));
    format!(
        "On the last check day about {} that was put in{} is left. {ph}{} A meter reads all salts \
         together: it cannot tell nitrogen from calcium.",
        left.join(" and "),
        if changed { " since the last change" } else { "" },
        match super::mixing::fed_by_dose(grow, grow.plan.bins[bin].mix) {
            fed if fed.is_empty() => String::new(),
            fed => format!(
                " The pH dose is not counted: up to {fed} in the first filling, and it gets stronger as the level falls."
            ),
        },
    )
}

fn name(symbol: &str) -> &'static str {
    if symbol == "N" { "nitrogen" } else { "potassium" }
}
