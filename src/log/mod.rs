//! The log comes back: rows of a spreadsheet → readings, with everything that is odd about them.
//!
//! Columns stand in any order, named as in the printed log, units in brackets; fields are parted
//! by commas, or by semicolons as spreadsheets with a decimal comma write them. Blank fields are
//! gaps, lines that begin with `#` are remarks.

use std::ops::Range;

use csv::{ReaderBuilder, StringRecord, Trim};
use jiff::civil::Date;

use crate::finding::{Finding, Findings, Severity, meant};
use crate::number::quantity::Measure;
use crate::number::unit::{self, Unit};
use crate::plan::Plan;

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
    /// Harvested (g).
    pub harvest: f64,
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Field {
    Bin,
    Day,
    Level,
    Acidity,
    Conductivity,
    Added,
    Harvest,
    Other,
}

/// Columns by name; those after the sixth are for people.
const COLUMNS: [(&str, Field, Option<Unit>); 9] = [
    ("bin", Field::Bin, None),
    ("day", Field::Day, None),
    ("level", Field::Level, Some(unit::MILLIMETRE)),
    ("ph", Field::Acidity, None),
    ("ec", Field::Conductivity, None),
    ("added", Field::Added, Some(unit::LITRE)),
    ("harvest", Field::Harvest, Some(unit::GRAM)),
    ("expected level", Field::Other, None),
    ("what you see", Field::Other, None),
];

/// A column of this log: what it holds and in which unit.
struct Column {
    field: Field,
    unit: String,
    wanted: Option<Unit>,
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
    let sheet = Sheet { plan, findings, semicolons };
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

const QUOTES: &str = "it is left out; close its quotes, or save the sheet as CSV again";

/// What every row is read with.
struct Sheet<'a> {
    plan: &'a Plan,
    findings: &'a Findings,
    semicolons: bool,
}

impl Sheet<'_> {
    fn say(&self, code: &'static str, place: &Range<usize>, what: &str, help: &str) {
        let finding = Finding::new(Severity::Caution, code, what, help);
        let placed = !place.is_empty();
        self.findings.add(if placed { finding.at(place.clone(), "here") } else { finding });
    }

    fn column(&self, head: &str) -> Column {
        let plain = head.trim_start_matches('\u{FEFF}').to_lowercase();
        let (name, unit) = plain.split_once('(').unwrap_or((&plain, ""));
        // "in, to 1/8": the unit is what stands before the comma.
        let unit = unit.trim_end_matches(')').split(',').next().unwrap_or_default().trim();
        let found = COLUMNS.iter().find(|(known, ..)| *known == name.trim());
        let Some((_, field, wanted)) = found else {
            let guess = meant(name.trim(), COLUMNS.iter().map(|c| c.0));
            let guess = guess.map_or(String::new(), |g| format!("did you mean \"{g}\"? "));
            let known: Vec<&str> = COLUMNS.iter().map(|c| c.0).collect();
            let help = format!("{guess}it is not read; known are: {}", known.join(", "));
            self.say("log-column", &(0..0), &format!("the log has a column \"{head}\""), &help);
            return Column { field: Field::Other, unit: String::new(), wanted: None };
        };
        Column { field: *field, unit: unit.to_string(), wanted: *wanted }
    }

    /// Whether bin, day and level are there, and every measure has its unit.
    fn has_all(&self, columns: &[Column]) -> bool {
        let mut fine = true;
        for (name, field) in [("bin", Field::Bin), ("day", Field::Day), ("level", Field::Level)] {
            if !columns.iter().any(|c| c.field == field) {
                let help = "its first line names the columns, such as: bin, day, level (mm), pH, EC \
                            (mS/cm), added (L), what you see; `binleaf make` writes such a file";
                let message = format!("the log has no column \"{name}\"");
                self.findings.add(Finding::new(Severity::Error, "log-empty", message, help));
                fine = false;
            }
        }
        for column in columns {
            let known = column.wanted.is_none_or(|wanted| {
                let one = Measure::parse(&format!("1 {}", column.unit)).ok();
                one.is_some_and(|m| m.in_unit(wanted).is_some())
            });
            if !known {
                let message = format!("a column of the log is in \"{}\"", column.unit);
                let help = "write the unit in brackets after its name: level (mm) or level (in), \
                            added (L) or added (gal), harvest (g) or harvest (lb)";
                self.findings.add(Finding::new(Severity::Error, "log-empty", message, help));
                fine = false;
            }
        }
        fine
    }

    fn row(&self, columns: &[Column], record: &StringRecord, text: &str) -> Option<Row> {
        let start = record.position().map_or(0, |p| usize::try_from(p.byte()).unwrap_or(0));
        let line = text.get(start..).and_then(|t| t.lines().next()).unwrap_or_default();
        let place = start..start + line.len();
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
            (number(Field::Acidity, [1.0, 13.0]), number(Field::Conductivity, [0.0, 20.0]));
        let added = number(Field::Added, [0.0, 5000.0]).unwrap_or(0.0);
        let harvest = number(Field::Harvest, [0.0, 1e6]).unwrap_or(0.0);
        Some(Row { place, bin, day, level, ph, conductivity, added, harvest })
    }

    fn bin(&self, name: &str, place: &Range<usize>) -> Option<usize> {
        let names = || self.plan.bins.iter().map(|b| b.name.as_str());
        let found = names().position(|n| n.to_lowercase() == name.to_lowercase());
        if found.is_none() {
            let guess = meant(name, names());
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
