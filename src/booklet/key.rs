//! The key of a class edition: what to accept, and what likely wrong answers reveal. Symbols and sources
//! stand on the pupils' sheet, where the first of several is worked, too.

use super::block::{Column, Line, Table, Worked, plain};
use super::lesson::{SLIPS, Slip, unit};
use super::page::working::about;
use super::{accept, page};
use crate::number::Step;
use crate::number::figures::System;

/// An exercise of a key: `steps` is the one that is asked, or one that is worked and those that are asked.
pub(super) fn answered(worked: Worked, steps: &[&Step], system: System) -> Worked {
    let alone = steps.len() == 1;
    let asked = if alone { steps } else { &steps[1..] };
    let wrong = |slip: &Slip| asked.iter().map(|s| slip.of(s, system)).collect::<Vec<_>>();
    let slips: Vec<Slipped<'_>> = SLIPS.iter().map(|slip| (slip, wrong(slip))).collect();
    let likely = slips.into_iter().filter(|(_, wrong)| wrong.iter().any(Option::is_some));
    let (common, some): (Vec<_>, Vec<_>) =
        likely.partition(|(_, wrong)| wrong.iter().all(Option::is_some));
    let told = |(slip, wrong): &Slipped<'_>| {
        let numbers = wrong.iter().flatten().map(String::as_str).collect::<Vec<_>>().join("; ");
        let rows = match (alone, asked.len()) {
            (true, _) => "",
            (false, 1) => " in the table",
            (false, _) => " in the table, row by row",
        };
        format!("Likely wrong{rows}: {numbers}. Somebody {}.", slip.says)
    };
    let accept = if alone { accepted(steps[0]) } else { String::new() };
    let others = (!alone).then(|| answers(asked, &some));
    Worked { accept, wrong: common.iter().map(told).collect(), others, ..worked }
}

/// A mistake, and what it makes of each answer.
type Slipped<'a> = (&'a Slip, Vec<Option<String>>);

fn accepted(step: &Step) -> String {
    format!("Accept {}", accept::range(step, unit(step)))
}

/// Results, what to accept, and what a wrong answer reveals that is likely in `some` of the rows.
fn answers(steps: &[&Step], some: &[Slipped<'_>]) -> Table {
    let row = |(i, step): (usize, &&Step)| -> Vec<Line> {
        let mut row = vec![about(step), answer(step), accept::range(step, unit(step))];
        let own = some
            .iter()
            .filter_map(|(slip, wrong)| Some(format!("{}: {}", wrong[i].as_ref()?, slip.says)));
        row.extend((!some.is_empty()).then(|| own.collect::<Vec<_>>().join("; ")));
        row.into_iter().map(plain).collect()
    };
    let mut columns = page::words([("For", 6), ("Answer", 4), ("Accept", 6)]);
    if !some.is_empty() {
        columns.push(Column::words("If it says ..., somebody ...", 9));
    }
    Table::printed("", columns, steps.iter().enumerate().map(row).collect())
}

/// A result with its unit, or with what it counts.
pub(super) fn answer(step: &Step) -> String {
    match step.card.unit.text {
        "" => format!("{} {}", step.result, unit(step)).trim_end().to_string(),
        _ => step.result.clone(),
    }
}
