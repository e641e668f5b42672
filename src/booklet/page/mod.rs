//! The tables and figures that pages call, one subject a file.

use jiff::civil::Date;

use super::Grow;
use super::block::{Block, Column, Line, Table, plain};

pub(super) mod acidity;
pub(super) mod bin;
pub(super) mod care;
mod chart;
mod check_lines;
pub(super) mod chemistry;
pub(super) mod climate;
pub(super) mod concentrate;
pub(super) mod drift;
pub(super) mod electrolyte;
pub(super) mod expected;
pub(super) mod fan;
pub(super) mod gather;
pub(super) mod glance;
pub(super) mod harvest;
pub(super) mod holes;
pub(super) mod logarithm;
pub(super) mod mixing;
pub(super) mod pails;
pub(super) mod repeated;
pub(super) mod safety;
pub(super) mod season;
pub(super) mod section;
pub(super) mod sources;
mod stock;
pub(super) mod strength;
pub(super) mod supply;
pub(super) mod titration;
pub(super) mod topup;
pub(super) mod trial;
pub(super) mod working;

/// A day as people write it.
pub(super) fn day(date: Date) -> String {
    date.strftime("%a %-d %b %Y").to_string()
}

/// A day within a season, where the year is plain.
pub(super) fn short_day(date: Date) -> String {
    date.strftime("%a %-d %b").to_string()
}

/// Days from one to another.
fn days(from: Date, to: Date) -> f64 {
    from.until(to).map_or(0.0, |s| f64::from(s.get_days()))
}

/// From one day to another.
pub(super) fn window(days: [Date; 2]) -> String {
    if days[0] == days[1] {
        day(days[0])
    } else {
        format!("{} to {}", short_day(days[0]), day(days[1]))
    }
}

/// The same where the year is plain.
pub(super) fn short_window(days: [Date; 2]) -> String {
    if days[0] == days[1] {
        short_day(days[0])
    } else {
        format!("{} to {}", short_day(days[0]), short_day(days[1]))
    }
}

pub(super) fn cells<const N: usize>(texts: [String; N]) -> Vec<Line> {
    texts.into_iter().map(plain).collect()
}

/// Rows of bins, each headed by the name of its bin; copies of a bin whose rows are alike are one row.
pub(super) fn by_bin(
    grow: &Grow<'_>,
    rows: impl IntoIterator<Item = (usize, Vec<Line>)>,
) -> Vec<Vec<Line>> {
    let mut groups: Vec<(usize, u32, Vec<Line>)> = Vec::new();
    for (bin, row) in rows {
        let called = |b: usize| &grow.plan.bins[b].called;
        match groups.last_mut() {
            Some((first, count, same)) if called(*first) == called(bin) && *same == row => {
                *count += 1;
            }
            _ => groups.push((bin, 1, row)),
        }
    }
    let named = |(bin, count, mut row): (usize, u32, Vec<Line>)| {
        let bin = &grow.plan.bins[bin];
        let name = if count == 1 { bin.name.clone() } else { format!("{}, each", bin.called) };
        row.insert(0, plain(name));
        row
    };
    groups.into_iter().map(named).collect()
}

pub(super) fn words<const N: usize>(heads: [(&str, u32); N]) -> Vec<Column> {
    heads.into_iter().map(|(head, share)| Column::words(head, share)).collect()
}

pub(super) fn one(table: Table) -> Vec<Block> {
    vec![Block::Table(table)]
}

pub(super) fn paragraph(text: impl Into<String>) -> Block {
    Block::Paragraph { text: plain(text) }
}
