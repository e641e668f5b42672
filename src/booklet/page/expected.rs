//! What a meter is expected to read, from the fresh mix to the end of dosing.

use super::super::Grow;
use super::super::block::{Block, Column, Line, Table};
use super::chemistry::ph;
use super::{acidity, cells, one, paragraph, words};
use crate::compute::chemistry::{Chemistry, Reading};
use crate::compute::dose::Basis;
use crate::number::figures;

/// From lowest to highest, or one number.
pub(super) fn span([one, other]: [f64; 2]) -> String {
    let (low, high) = (ph(one.min(other)), ph(one.max(other)));
    if low == high { low } else { format!("{low} to {high}") }
}

/// A conductivity (mS/cm) as a meter with a scale shows it: from the printed figure, by tens.
pub(super) fn on_scale(conductivity: f64, scale: f64) -> String {
    let shown = (100.0 * conductivity).round() / 100.0;
    figures::decimals(10.0 * (shown * scale / 10.0 + 1e-9).round(), 0)
}

/// One stage of the reading table.
fn stage(what: &str, reads: [f64; 2], reading: Option<&Reading>) -> Vec<Line> {
    let mut row = cells([what.into(), span(reads)]);
    if let Some(r) = reading {
        let scale = |by| on_scale(r.conductivity, by);
        row.extend(cells([figures::decimals(r.conductivity, 2), scale(500.0), scale(700.0)]));
    }
    row.extend(cells([String::new()]));
    row
}

/// Conductivity at the four stages.
fn readings(chemistry: &Chemistry) -> [&Reading; 4] {
    match &chemistry.dosing {
        Some(d) => [&chemistry.closed, &d.after, &d.next_day, &d.at_last],
        None => [&chemistry.closed, &chemistry.closed, &chemistry.open, &chemistry.open],
    }
}

/// What a meter is expected to read, at every stage.
pub(in super::super) fn reading_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let chemistry = grow.results.chemistry[mix].as_ref();
    let Some(expected) = acidity::expected(grow, mix) else { return Vec::new() };
    let read = chemistry.map(readings);
    let up = acidity::of(grow, mix).is_some_and(|d| d.up);
    let dosed = if up { "After the first part" } else { "At the end of the first day" };
    let stages = [
        ("Just mixed", Some(expected.mixed)),
        (dosed, expected.dosed),
        ("A day or two later, before more goes in", expected.next_day),
        ("In the end, when it stays", expected.at_last),
    ];
    let rows = stages.into_iter().enumerate();
    let rows = rows.filter_map(|(i, (what, reads))| Some(stage(what, reads?, read.map(|r| r[i]))));
    let mut columns = words([("When", 8)]);
    columns.push(Column::numbers("pH", 4));
    if read.is_some() {
        columns.push(Column::numbers("EC, mS/cm", 3));
        columns.push(Column::numbers("on a 500 scale", 3));
        columns.push(Column::numbers("on a 700 scale", 3));
    }
    columns.push(Column::words("You read", 4));
    let jar = acidity::of(grow, mix).is_some_and(|d| d.basis == Basis::Jar);
    let caption = told(chemistry, jar);
    one(Table { row_height: 7.5, ..Table::printed(&caption, columns, rows.collect()) })
}

/// Where the forecast comes from and how good it is.
fn told(chemistry: Option<&Chemistry>, jar: bool) -> String {
    let Some(chemistry) = chemistry else {
        return "By the jar trial. Trust your meter.".into();
    };
    let percent = figures::decimals(100.0 * chemistry.doubt, 0);
    let ph = match (jar, chemistry.phosphate_open) {
        (true, _) => "pH by the jar trial",
        (false, false) => "pH by the water report, with the alkalinity up to 10 mg/L off",
        (false, true) => {
            "pH by the water report, with the alkalinity up to 10 mg/L off and the feed more or \
             less acid than its label tells"
        }
    };
    format!("{ph}; EC at 25 °C, within {percent} %. Trust your meter.")
}

/// What the scales mean, and a meter that does not know how warm the water is.
pub(in super::super) fn scale_note(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = grow.results.chemistry[mix].as_ref() else { return Vec::new() };
    let shows = figures::decimals(chemistry.uncorrected, 2);
    let scales = "The 500 and 700 scales are ways of showing the same reading; never take them for \
                  milligrams of feed.";
    if shows == figures::decimals(chemistry.closed.conductivity, 2) {
        return vec![paragraph(scales)];
    }
    vec![paragraph(format!(
        "{scales} A meter that does not correct for temperature shows about {shows} mS/cm of the fresh \
         mix, at {} °C.",
        figures::plain(grow.plan.water.temperature, 3)
    ))]
}
