//! The log comes back: rows of a spreadsheet → readings, with everything that is odd about them.
//!
//! Columns stand in any order, named as in the printed log, units in brackets; fields are parted
//! by commas, or by semicolons as spreadsheets with a decimal comma write them. Blank fields are
//! gaps, lines that begin with `#` are remarks.

mod column;

use std::cell::Cell;
use std::ops::Range;

use csv::{ReaderBuilder, StringRecord, Trim};
use jiff::civil::Date;

use crate::finding::{Finding, Findings, Severity, meant};
use crate::number::quantity::Measure;
use crate::plan::Plan;
use column::{Column, Field};

/// The longest log that is read (bytes), and the most rows.
pub const LONGEST: usize = 4_000_000;
const MOST_ROWS: usize = 20_000;

/// One row of a log, in the units the program works in.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Where it stands (bytes).
    pub place: Range<usize>,
    /// Index into the plan's bins.
    pub bin: usize,
    /// The day.
    pub day: Date,
    /// Level before anything was added (mm above the floor).
    pub level: Option<f64>,
    /// pH as read.
    pub ph: Option<f64>,
    /// Conductivity as read (mS/cm).
    pub conductivity: Option<f64>,
    /// Added after the reading (L).
    pub added: f64,
    /// Whether the row says that the solution was changed.
    pub changed: bool,
    /// Harvested (g).
    pub harvest: f64,
}

/// Reads a log; rows come in the order of bins and days.
#[must_use]
pub fn read(text: &str, plan: &Plan, findings: &Findings) -> Vec<Row> {
    let first = text.lines().find(|l| !l.trim_start().starts_with('#')).unwrap_or_default();
    let semicolons = first.contains(';');
    let mut reader = ReaderBuilder::new()
        .delimiter(if semicolons { b';' } else { b',' })
        .comment(Some(b'#'))
        .flexible(true)
        .trim(Trim::All)
        .from_reader(text.as_bytes());
    let sheet = Sheet { plan, findings, semicolons, said: Cell::new(0) };
    let heads = reader.headers().cloned().unwrap_or_default();
    let columns: Vec<Column> = heads.iter().map(|head| sheet.column(head)).collect();
    if !sheet.has_all(&columns) {
        return Vec::new();
    }
    let mut rows: Vec<Row> = Vec::new();
    for record in reader.records() {
        if rows.len() >= MOST_ROWS {
            sheet.say("log-row", &(0..0), "the log has more rows than can be true", "split it");
            break;
        }
        match record {
            Ok(record) => rows.extend(sheet.row(&columns, &record, text)),
            Err(e) => {
                sheet.say("log-row", &(0..0), &format!("a row cannot be read: {e}"), QUOTES);
            }
        }
    }
    sheet.in_order(rows)
}

/// A remark of more lines than this is a quote left open.
const LINES: usize = 6;

/// A remark that says that the solution was changed, in the languages of the booklet.
const CHANGE: [&str; 2] = ["change", "cambi"];

const QUOTES: &str = "it is left out; close its quotes, or save the sheet as CSV again";

/// What every row is read with.
struct Sheet<'a> {
    plan: &'a Plan,
    findings: &'a Findings,
    semicolons: bool,
    /// How often something was said.
    said: Cell<usize>,
}

/// After so many remarks a log has to be mended before more is said of it.
const MOST_SAID: usize = 60;

impl Sheet<'_> {
    fn say(&self, code: &'static str, place: &Range<usize>, what: &str, help: &str) {
        self.said.set(self.said.get() + 1);
        if self.said.get() > MOST_SAID {
            return;
        }
        if self.said.get() == MOST_SAID {
            let message = "there is more to say of this log";
            let help = "is it the log of this plan? mend what is said here, and look again";
            self.findings.add(Finding::new(Severity::Caution, "log-row", message, help));
            return;
        }
        let finding = Finding::new(Severity::Caution, code, what, help);
        let placed = !place.is_empty();
        self.findings.add(if placed { finding.at(place.clone(), "here") } else { finding });
    }

    fn row(&self, columns: &[Column], record: &StringRecord, text: &str) -> Option<Row> {
        let start = record.position().map_or(0, |p| usize::try_from(p.byte()).unwrap_or(0));
        let line = text.get(start..).and_then(|t| t.lines().next()).unwrap_or_default();
        let place = start..start + line.len();
        if record.len() > columns.len() {
            let help = "the row is left out; put a remark with a comma into quotes; a decimal comma parts \
                        fields too: write a point, or save with semicolons";
            self.say("log-row", &place, "a row has more fields than there are columns", help);
            return None;
        }
        if record.iter().any(|field| field.matches('\n').count() > LINES) {
            let what = "a quote that is never closed swallows the rest of the log";
            self.say("log-row", &place, what, QUOTES);
        }
        let cell = |field: Field| -> &str {
            let at = columns.iter().position(|c| c.field == field);
            at.and_then(|i| record.get(i)).unwrap_or_default()
        };
        let bin = self.bin(cell(Field::Bin), &place)?;
        let day = self.day(cell(Field::Day), &place)?;
        let number = |field: Field, [least, most]: [f64; 2]| {
            self.number(columns, field, cell(field), [least, most], &place)
        };
        let depth = self.plan.bins[bin].vessel.depth();
        let level = number(Field::Level, [0.0, depth]);
        let (ph, conductivity) =
            (number(Field::Acidity, [1.0, 13.0]), number(Field::Conductivity, [0.0, 10.0]));
        // What took several days may be written as a sum; if a part is none, all of it is blank.
        let sum = |field: Field, range: [f64; 2]| -> f64 {
            let parts = cell(field).split('+').map(str::trim).filter(|part| !part.is_empty());
            let parts = parts.map(|part| self.number(columns, field, part, range, &place));
            parts.sum::<Option<f64>>().unwrap_or(0.0)
        };
        let (added, harvest) = (sum(Field::Added, [0.0, 5000.0]), sum(Field::Harvest, [0.0, 1e6]));
        let seen = cell(Field::Seen).to_lowercase();
        let changed = CHANGE.iter().any(|word| seen.contains(word));
        Some(Row { place, bin, day, level, ph, conductivity, added, changed, harvest })
    }

    fn bin(&self, name: &str, place: &Range<usize>) -> Option<usize> {
        let names = || self.plan.bins.iter().map(|b| b.name.as_str());
        // Our own blank log shields names that a spreadsheet would take for a formula.
        let name = name.strip_prefix('\'').unwrap_or(name);
        let found = names().position(|n| n.to_lowercase() == name.to_lowercase());
        if found.is_none() {
            let guess = if self.said.get() < MOST_SAID { meant(name, names()) } else { None };
            let guess = guess.map_or(String::new(), |g| format!("did you mean \"{g}\"? "));
            let help = format!("{guess}the row is left out");
            self.say("log-row", place, &format!("the plan has no bin \"{name}\""), &help);
        }
        found
    }

    fn day(&self, text: &str, place: &Range<usize>) -> Option<Date> {
        let day = text.parse::<Date>().ok();
        if day.is_none() {
            let message = format!("\"{text}\" is not a day");
            let help = "the row is left out; write year-month-day, such as 2027-03-01";
            self.say("log-row", place, &message, help);
        }
        day
    }

    /// A number in the unit of its column; `None` for a blank or what cannot be true.
    fn number(
        &self,
        columns: &[Column],
        field: Field,
        text: &str,
        [least, most]: [f64; 2],
        place: &Range<usize>,
    ) -> Option<f64> {
        if text.is_empty() || text == "-" || text == "–" {
            return None;
        }
        let column = columns.iter().find(|c| c.field == field)?;
        let text = if self.semicolons { text.replace(',', ".") } else { text.to_string() };
        let value = match column.wanted {
            // The unit may stand in the field; otherwise the head's counts.
            Some(wanted) => Measure::parse(&text)
                .or_else(|_| Measure::parse(&format!("{text} {}", column.unit)))
                .ok()
                .and_then(|m| m.in_unit(wanted)),
            None => text.trim().parse::<f64>().ok(),
        };
        let value = value.filter(|v| v.is_finite());
        if value.is_some_and(|v| v >= least && v <= most) {
            return value;
        }
        let help = "this field is taken as blank; a pencil slip is better mended in the log";
        self.say(
            "log-row",
            place,
            &format!("\"{text}\" cannot be read here, or cannot be true"),
            help,
        );
        None
    }

    /// Rows by bin and day; of two for one day the later line counts.
    fn in_order(&self, rows: Vec<Row>) -> Vec<Row> {
        let mut sorted: Vec<Row> = Vec::new();
        for row in rows {
            let same = sorted.iter().position(|r| r.bin == row.bin && r.day == row.day);
            if let Some(i) = same {
                let help = "the later line counts";
                self.say("log-row", &row.place, "this bin and day stand in the log twice", help);
                sorted[i] = row;
            } else {
                sorted.push(row);
            }
        }
        sorted.sort_by_key(|r| (r.bin, r.day));
        sorted
    }
}
