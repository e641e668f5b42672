//! The season as a picture: for each bin when it is sown, set out and cut, and what is poured when.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

use super::super::Grow;
use super::super::block::{Align, Block};
use super::super::drawing::{Drawing, Mark};
use super::chart::lozenge;
use super::{days, short_day};
use crate::compute::BinResults;
use crate::compute::season::Event;
use crate::plan::Sheet;

/// Rows of one drawing: as many as a sheet of any paper holds.
const ROWS: usize = 12;
/// More days than this are told by their first and last.
const TOLD: usize = 4;
/// Left edge of the field (mm), and what is left at its right for half a date.
const SIDES: [f64; 2] = [5.0, 7.0];
/// Height of a row, from its top to the middle of its bar, and what its name takes (mm).
const ROW: [f64; 3] = [9.5, 5.6, 3.9];
/// Half of the height of a bar (mm).
const HALF: f64 = 1.5;
/// Least distance of two dates, and height of letters (mm).
const DATES: f64 = 13.0;
const LETTERS: f64 = 2.1;
/// Grey of a harvest, which a copier still shows.
const GREY: f64 = 0.8;

/// One row: a bin, or several that do the same on the same days.
struct Row<'a> {
    name: String,
    /// What the bin and its copies are called together.
    called: &'a str,
    r: &'a BinResults,
    top_ups: Vec<Date>,
    changes: Vec<Date>,
}

fn rows<'a>(grow: &Grow<'a>) -> Vec<Row<'a>> {
    let mut rows: Vec<Row<'a>> = Vec::new();
    for (bin, r) in grow.plan.bins.iter().zip(&grow.results.bins) {
        let of = |is: fn(&Event) -> bool| -> Vec<Date> {
            r.season.events().filter(|(_, e)| is(e)).map(|(check, _)| check.day).collect()
        };
        let top_ups = of(|e| matches!(e, Event::TopUp(_)));
        let changes = of(|e| matches!(e, Event::ChangeOut(_)));
        let alike = |row: &&mut Row<'_>| {
            let same = row.r.dates == r.dates && row.top_ups == top_ups && row.changes == changes;
            same && row.called == bin.called
        };
        if let Some(row) = rows.last_mut().filter(alike) {
            row.name.clone_from(&bin.called);
        } else {
            let (name, called) = (bin.name.clone(), bin.called.as_str());
            rows.push(Row { name, called, r, top_ups, changes });
        }
    }
    rows
}

/// Where days stand on paper.
struct Axis {
    first: Date,
    days: f64,
    width: f64,
}

impl Axis {
    fn at(&self, day: Date) -> f64 {
        SIDES[0] + self.width * days(self.first, day) / self.days
    }
}

/// The season of all bins, a row for each; more drawings if there are many.
pub(in super::super) fn chart(grow: &Grow<'_>) -> Vec<Block> {
    let rows = rows(grow);
    let dates = || rows.iter().map(|row| &row.r.dates);
    let ends = (dates().map(|d| d.sown).min(), dates().map(|d| d.end).max());
    let (Some(first), Some(last)) = ends else { return Vec::new() };
    // Beside large letters it is drawn small, and then made larger with its letters.
    let paper = match grow.plan.paper {
        _ if grow.plan.large => 112.0,
        Sheet::A4 => 172.0,
        Sheet::Letter => 177.0,
        Sheet::A5 => 124.0,
        Sheet::HalfLetter => 115.0,
    };
    let axis = Axis { first, days: days(first, last).max(1.0), width: paper - SIDES[0] - SIDES[1] };
    let drawn = rows.chunks(ROWS).enumerate().map(|(i, rows)| {
        let height = ROW[0] * (0..rows.len()).fold(0.0, |sum, _| sum + 1.0);
        let mut marks = weeks(&axis, last, height);
        let mut top = 0.0;
        for row in rows {
            draw(&mut marks, &axis, row, top);
            top += ROW[0];
        }
        let poured = [
            rows.iter().any(|r| !r.top_ups.is_empty()),
            rows.iter().any(|r| !r.changes.is_empty()),
        ];
        let below = legend(&mut marks, axis.width, height + 9.0, poured);
        Block::Figure(Drawing {
            name: format!("season-{}", i + 1),
            width: paper,
            height: height + 6.0 + below,
            marks,
            alt: format!(
                "Calendar of the season. {}",
                rows.iter().map(in_words).collect::<Vec<_>>().join(" ")
            ),
            caption: "The same season as a picture; a line for every Monday.".into(),
        })
    });
    drawn.collect()
}

/// A line for every Monday, with dates under as many as have room.
fn weeks(axis: &Axis, last: Date, height: f64) -> Vec<Mark> {
    let foot = axis.at(axis.first);
    let mut marks = vec![Mark::Line {
        from: [foot, height],
        to: [axis.at(last), height],
        weight: 0.3,
        dashed: false,
    }];
    let monday = axis.first.saturating_add(i64::from(to_monday(axis.first)).days());
    let mondays =
        (0..600_i64).map(|w| monday.saturating_add((7 * w).days())).take_while(|d| *d <= last);
    let mondays: Vec<Date> = mondays.collect();
    // Rows' names are read between them.
    let tops = (0..=ROWS).scan(0.0, |top, _| Some(std::mem::replace(top, *top + ROW[0])));
    let tops: Vec<f64> = tops.take_while(|top| *top < height).collect();
    let line = |x: f64, top: f64| [[x, top + ROW[2]], [x, top + ROW[0]]];
    let lines = mondays.iter().flat_map(|day| tops.iter().map(|top| line(axis.at(*day), *top)));
    marks.push(Mark::Comb { lines: lines.collect(), weight: 0.12 });
    let mut before = f64::NEG_INFINITY;
    for day in mondays {
        let x = axis.at(day);
        if x - before >= DATES {
            marks.push(words(
                [x, height + 3.2],
                Align::Centre,
                &day.strftime("%-d %b").to_string(),
            ));
            before = x;
        }
    }
    marks
}

/// Days until the next Monday, 0 on one.
fn to_monday(day: Date) -> i8 {
    (7 - day.weekday().since(Weekday::Monday)) % 7
}

fn words(at: [f64; 2], align: Align, text: &str) -> Mark {
    Mark::Words { at, align, size: LETTERS, text: text.into() }
}

fn draw(marks: &mut Vec<Mark>, axis: &Axis, row: &Row<'_>, top: f64) {
    let dates = &row.r.dates;
    let y = top + ROW[1];
    let [sown, out, cut, end] =
        [dates.sown, dates.set_out, dates.harvest[0], dates.end].map(|d| axis.at(d));
    marks.push(words([sown, top + 1.8], Align::Left, &row.name));
    marks.extend(tray([sown, out], y));
    marks.push(bar([out, cut.min(end)], y, None));
    if end > cut {
        marks.push(bar([cut, end], y, Some(GREY)));
    }
    marks.extend(row.changes.iter().map(|day| lozenge([axis.at(*day), y])));
    // In front, for one may follow a change by two days.
    marks.extend(row.top_ups.iter().map(|day| top_up(axis.at(*day), y)));
}

/// A line with a mark where it begins.
fn tray([from, to]: [f64; 2], y: f64) -> [Mark; 2] {
    let line = |from, to| Mark::Line { from, to, weight: 0.4, dashed: false };
    [line([from, y], [to, y]), line([from, y - 1.0], [from, y + 1.0])]
}

fn bar([from, to]: [f64; 2], y: f64, grey: Option<f64>) -> Mark {
    let points = vec![[from, y - HALF], [to, y - HALF], [to, y + HALF], [from, y + HALF]];
    // White, too, hides the lines of the weeks.
    Mark::Area { points, grey: Some(grey.unwrap_or(1.0)), weight: 0.25 }
}

/// A black wedge that points down into the bar.
fn top_up(x: f64, y: f64) -> Mark {
    let (wide, high) = (0.8, 2.2);
    let points = vec![[x - wide, y - HALF], [x + wide, y - HALF], [x, y - HALF + high]];
    Mark::Area { points, grey: Some(0.0), weight: 0.0 }
}

/// Height of a line of what the signs are (mm), and columns of narrow paper.
const SIGNS: f64 = 5.5;
const COLUMNS: usize = 3;

/// What each sign is, in words beside it; in two lines on narrow paper. The height it takes (mm).
fn legend(marks: &mut Vec<Mark>, width: f64, y: f64, [top_ups, changes]: [bool; 2]) -> f64 {
    type Sign = fn(f64, f64) -> Vec<Mark>;
    let all: [(bool, Sign, &str); 5] = [
        (true, |x, y| tray([x, x + 5.0], y).into(), "in the tray"),
        (true, |x, y| vec![bar([x, x + 5.0], y, None)], "in the bin"),
        (true, |x, y| vec![bar([x, x + 5.0], y, Some(GREY))], "harvest"),
        (top_ups, |x, y| vec![bar([x, x + 5.0], y, None), top_up(x + 2.5, y)], "top-up"),
        (changes, |x, y| vec![bar([x, x + 5.0], y, None), lozenge([x + 2.5, y])], "change"),
    ];
    let shown: Vec<_> = all.into_iter().filter(|(shown, ..)| *shown).collect();
    let columns = if width > 130.0 { shown.len() } else { COLUMNS };
    let number = |n: usize| (0..n).fold(0.0, |sum, _| sum + 1.0);
    // As if there were five, so that they stand alike on all sheets.
    let step = width / if width > 130.0 { 5.0 } else { number(COLUMNS) };
    for (i, (_, sign, text)) in shown.iter().enumerate() {
        let x = SIDES[0] + step * number(i % columns);
        let y = y + SIGNS * number(i / columns);
        marks.extend(sign(x, y));
        marks.push(words([x + 6.0, y], Align::Left, text));
    }
    SIGNS * number(shown.len().div_ceil(columns))
}

/// The days of a row, for someone who cannot see it.
fn in_words(row: &Row<'_>) -> String {
    let dates = &row.r.dates;
    let poured = |done: &str, days: &[Date]| match days {
        [] => String::new(),
        [first, .., last] if days.len() > TOLD => {
            let (first, last) = (short_day(*first), short_day(*last));
            format!("; {done} {} times from {first} to {last}", days.len())
        }
        days => {
            let days: Vec<String> = days.iter().map(|day| short_day(*day)).collect();
            format!("; {done} on {}", days.join(", "))
        }
    };
    format!(
        "{}: sown {}; in the bin from {}; harvest from {} to {}{}{}.",
        row.name,
        short_day(dates.sown),
        short_day(dates.set_out),
        short_day(dates.harvest[0]),
        short_day(dates.end),
        poured("topped up", &row.top_ups),
        poured("changed", &row.changes),
    )
}
