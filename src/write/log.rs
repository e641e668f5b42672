//! The blank log for a spreadsheet: the columns of the printed log, the days and the expected
//! levels filled in.

use csv::WriterBuilder;

use crate::compute::Results;
use crate::number::figures::{self, System};
use crate::plan::Plan;

/// Columns with their units.
fn heads(system: System) -> [&'static str; 9] {
    match system {
        System::Us => [
            "bin",
            "day",
            "expected level (in)",
            "level (in)",
            "pH",
            "EC (mS/cm)",
            "added (gal)",
            "harvest (lb)",
            "what you see",
        ],
        System::Metric => [
            "bin",
            "day",
            "expected level (mm)",
            "level (mm)",
            "pH",
            "EC (mS/cm)",
            "added (L)",
            "harvest (g)",
            "what you see",
        ],
    }
}

/// A blank log of every bin.
///
/// # Errors
/// None that a file in memory can have; the text of it if there were one.
pub fn blank(plan: &Plan, results: &Results) -> Result<Vec<u8>, String> {
    // A name that begins like a remark is put in quotes.
    let mut out = WriterBuilder::new().comment(Some(b'#')).from_writer(Vec::new());
    out.write_record(heads(plan.system)).map_err(|e| e.to_string())?;
    for (bin, r) in plan.bins.iter().zip(&results.bins) {
        let name = shielded(&bin.name);
        for check in &r.season.checks {
            let level = match plan.system {
                System::Us => figures::decimals(check.level.expected / 25.4, 1),
                System::Metric => figures::decimals(check.level.expected, 0),
            };
            let day = check.day.to_string();
            let row = [name.as_str(), &day, &level, "", "", "", "", "", ""];
            out.write_record(row).map_err(|e| e.to_string())?;
        }
    }
    out.into_inner().map_err(|e| e.to_string())
}

/// A name that a spreadsheet would take for a formula gets a mark in front.
fn shielded(name: &str) -> String {
    let formula = name.starts_with(['=', '+', '-', '@']);
    if formula { format!("'{name}") } else { name.to_string() }
}
