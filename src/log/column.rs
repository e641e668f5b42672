//! The columns of a log: which field each holds, and in which unit.

use super::Sheet;
use crate::finding::{Finding, Severity, meant};
use crate::number::quantity::Measure;
use crate::number::unit::{self, Unit};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Field {
    Bin,
    Day,
    Level,
    Acidity,
    Conductivity,
    Added,
    Harvest,
    Seen,
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
    ("what you see", Field::Seen, None),
];

/// A column of this log: what it holds and in which unit.
pub(super) struct Column {
    pub(super) name: String,
    pub(super) field: Field,
    pub(super) unit: String,
    pub(super) wanted: Option<Unit>,
}

impl Sheet<'_> {
    pub(super) fn column(&self, head: &str) -> Column {
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
            return Column {
                name: head.into(),
                field: Field::Other,
                unit: String::new(),
                wanted: None,
            };
        };
        Column { name: name.trim().into(), field: *field, unit: unit.to_string(), wanted: *wanted }
    }

    /// Whether bin, day and level are there, and every measure has its unit.
    pub(super) fn has_all(&self, columns: &[Column]) -> bool {
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
        for (i, column) in columns.iter().enumerate() {
            let twice = columns[..i].iter().any(|c| c.field == column.field);
            if twice && column.field != Field::Other {
                let message = format!("the log has two columns \"{}\"", column.name);
                self.say("log-column", &(0..0), &message, "the first of them is read");
            }
            // Without a unit in the head every field has to bring its own.
            let known = column.unit.is_empty()
                || column.wanted.is_none_or(|wanted| {
                    let one = Measure::parse(&format!("1 {}", column.unit)).ok();
                    one.is_some_and(|m| m.in_unit(wanted).is_some())
                });
            if !known {
                let message =
                    format!("the column \"{}\" of the log is in \"{}\"", column.name, column.unit);
                let help = "write the unit in brackets after its name: level (mm) or level (in), \
                            added (L) or added (gal), harvest (g) or harvest (lb)";
                self.findings.add(Finding::new(Severity::Error, "log-empty", message, help));
                fine = false;
            }
        }
        fine
    }
}
