//! For those who want to see it: ions, charges and sums; a mix that reads off; jar and report
//! together.

use super::super::Grow;
use super::super::block::{Align, Block, Column, Inline, Line, Table};
use super::{cells, one, paragraph, words};
use crate::compute::Jar;
use crate::compute::balance::Ion;
use crate::compute::correction::SHOWS;
use crate::number::figures;
use crate::science::buffer::POOR;

/// A part of a full pail's feed.
fn more(grow: &Grow<'_>, mix: usize, part: f64) -> String {
    let mixing = &grow.results.mixing[mix];
    if let Some(two) = &mixing.concentrate {
        let ml = figures::dropper(part * two.millilitres.first().copied().unwrap_or(0.0));
        let each = two.bottles().into_iter().map(|name| format!("{ml} of {name}"));
        return each.collect::<Vec<_>>().join(", stir, ");
    }
    let each = mixing.feeds.iter().filter_map(|dose| {
        let amount = dose.amounts.first()?;
        let grams = amount.grams.map(|g| figures::mass(part * g));
        let how_much = grams.or(amount.millilitres.map(|ml| figures::dropper(part * ml)));
        Some(format!("{} of {}", how_much?, grow.plan.feeds[dose.feed].name))
    });
    let each: Vec<String> = each.collect();
    if each.is_empty() {
        format!("{} % of the pail's feed once more", figures::decimals(100.0 * part, 0))
    } else {
        each.join(", then ")
    }
}

/// What to do with a mix that reads too strong or too weak.
pub(in super::super) fn correction_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = &grow.results.chemistry[mix] else { return Vec::new() };
    let percent = figures::decimals(100.0 * chemistry.doubt, 0);
    if chemistry.closed.conductivity < SHOWS * chemistry.water {
        let text =
            "The feed hardly shows on a conductivity meter in this water: go by the weights.";
        return vec![paragraph(text)];
    }
    if chemistry.corrections.is_empty() {
        return vec![paragraph(format!(
            "The forecast of the conductivity is only good to {percent} %, for the labels leave ions \
             out: go by the weights."
        ))];
    }
    let why = if percent == "5" {
        "meters, labels and forecast are no better"
    } else {
        "the forecast is no better, for the labels leave ions out"
    };
    let system = grow.plan.system;
    let rows = chemistry.corrections.iter().map(|c| {
        let strong = c
            .swap
            .map(|v| format!("take out {} and fill up with water", figures::volume(v, system)));
        let weak = c.more.map(|part| format!("stir in {}", more(grow, mix, part)));
        cells([figures::decimals(c.reads, 2), strong.or(weak).unwrap_or_default()])
    });
    let mut columns = vec![Column::numbers("It reads, mS/cm", 3)];
    columns.extend(words([("What to do with one full pail", 10)]));
    let caption = format!(
        "A full pail should read about {} mS/cm at 25 °C before pH is touched; within {percent} % leave it: {why}. \
         The water alone reads about {}.{}",
        figures::decimals(chemistry.closed.conductivity, 2),
        figures::decimals(chemistry.water, 2),
        cold(grow, chemistry)
    );
    let between =
        "Between two rows go by the nearer one; less than a full pail takes its part of it.";
    vec![Block::Table(Table::printed(&caption, columns, rows.collect())), paragraph(between)]
}

fn ion_row(ion: &Ion) -> Vec<Line> {
    let charge = match ion.charge {
        0 => "0".into(),
        n => format!("{}{}", n.abs(), if n > 0 { "+" } else { "−" }),
    };
    let product = f64::from(ion.charge) * ion.amount;
    cells([
        ion.name.clone(),
        charge,
        figures::decimals(ion.amount, 3),
        if ion.charge == 0 { "–".into() } else { figures::decimals(product, 3) },
    ])
}

/// What a meter without a correction shows of the right mix, where that looks like another.
fn cold(grow: &Grow<'_>, chemistry: &crate::compute::Chemistry) -> String {
    let off = (chemistry.uncorrected / chemistry.closed.conductivity - 1.0).abs();
    if off < 0.03 {
        return String::new();
    }
    format!(
        " A meter that does not correct for temperature shows {} of the right mix at {} °C: bring a \
         sample to 25 °C before you go by these rows.",
        figures::decimals(chemistry.uncorrected, 2),
        figures::plain(grow.plan.water.temperature, 3)
    )
}

/// Every ion of the fresh mix.
pub(in super::super) fn ions_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = &grow.results.chemistry[mix] else { return Vec::new() };
    let balance = &chemistry.balance;
    // Two columns side by side take half the paper.
    let half = balance.ions.len().div_ceil(2);
    let rows = (0..half).map(|i| {
        let mut line = ion_row(&balance.ions[i]);
        let blank = || cells([String::new(), String::new(), String::new(), String::new()]);
        line.extend(balance.ions.get(half + i).map_or_else(blank, ion_row));
        line
    });
    let four = || {
        let centred = Column { align: Align::Centre, ..Column::words("Charge", 3) };
        [
            Column::words("Ion or pair", 4),
            centred,
            Column::numbers("mmol/L", 3),
            Column::numbers("Charges", 3),
        ]
    };
    let columns = four().into_iter().chain(four()).collect();
    let [plus, minus] = balance.charges;
    let caption = format!(
        "Just mixed, above 0.001 mmol/L; micronutrients stand as sodium or chloride. All positive charges: {}; all negative: {} mmol/L.",
        figures::decimals(plus, 3),
        figures::decimals(minus, 3)
    );
    one(Table::printed(&caption, columns, rows.collect()))
}

/// Each component put in, and found again.
pub(in super::super) fn sums_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = &grow.results.chemistry[mix] else { return Vec::new() };
    let rows = chemistry.balance.sums.iter().map(|(name, put_in, found)| {
        let show = |v: f64| figures::decimals(v, 4);
        cells([(*name).into(), show(*put_in), show(*found), show(found - put_in)])
    });
    let mut columns = words([("Component", 4)]);
    for head in ["Water and feed, mmol/L", "Free and bound, mmol/L", "Difference"] {
        columns.push(Column::numbers(head, 4));
    }
    let mut blocks = one(Table::printed("What went in is what is there.", columns, rows.collect()));
    if chemistry.made_up + chemistry.made_up_water > 0.01 {
        let show = |v: f64| if v < 0.005 { "0".into() } else { figures::plain(v, 2) };
        blocks.push(paragraph(format!(
            "Reports and labels leave ions out and round: {} mmol/L of charge of the water and {} of \
             the feed were made up with sodium or chloride. These move no pH, and are in the ions \
             above though no page before has them. Were it an acid or a base that is missing, the pH \
             would be another: the jar trial shows it.",
            show(chemistry.made_up_water),
            show(chemistry.made_up)
        )));
    }
    blocks
}

/// Saturation at every stage.
pub(in super::super) fn saturation_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let Some(chemistry) = &grow.results.chemistry[mix] else { return Vec::new() };
    let mut stages = vec![("Just mixed", chemistry.closed), ("In air, no dose", chemistry.open)];
    if let Some(dosing) = &chemistry.dosing {
        stages.push(("After the dose now", dosing.after));
        stages.push(("The next day, in air", dosing.next_day));
        stages.push(("After all of the dose, in air", dosing.at_last));
    }
    let index = |v: f64| if v.is_finite() { figures::decimals(v, 2) } else { "–".into() };
    let rows = stages.into_iter().map(|(when, r)| {
        cells([
            when.into(),
            figures::decimals(r.ph, 2),
            figures::decimals(r.strength, 1),
            index(r.brushite),
            index(r.gypsum),
            index(r.calcite),
        ])
    });
    let mut columns = words([("When", 5)]);
    let heads =
        ["pH", "Ionic strength, mmol/L", "Brushite, index", "Gypsum, index", "Calcite, index"];
    for head in heads {
        columns.push(Column::numbers(head, 3));
    }
    let caption = format!(
        "Saturation index: above 0 a solid may fall out. An ion of charge 1 has the activity \
         coefficient {}.",
        figures::decimals(chemistry.balance.gamma, 3)
    );
    one(Table::printed(&caption, columns, rows.collect()))
}

/// Jar trial and water report together: what comes the next day.
pub(in super::super) fn jar_note(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let note = |jar| Block::Paragraph { text: sentences(told(jar)) };
    grow.results.jars[mix].iter().map(note).collect()
}

/// Sentences of a paragraph, each a text of its own: other languages have words for each, not for all that may
/// stand together.
fn sentences(all: Vec<String>) -> Line {
    let text = |text: String| Inline::Text { text };
    let after = |(i, sentence): (usize, String)| {
        [(i > 0).then(|| text(" ".into())), Some(text(sentence))].into_iter().flatten()
    };
    all.into_iter().enumerate().flat_map(after).collect()
}

/// What the jar told, in words.
fn told(jar: &Jar) -> Vec<String> {
    let ph = |v: f64| figures::decimals(v, 1);
    let count = |mol: f64| figures::plain((1000.0 * mol).abs(), 2);
    let unknown = jar.unknown;
    let kind = if unknown.base >= 0.0 { "base" } else { "acid" };
    let buffer = match unknown.buffer {
        0.0 => String::new(),
        more if more > 0.0 => format!(", and {} mmol/L of buffer more", count(more)),
        less => format!(", and {} mmol/L of buffer less", count(less)),
    };
    let [low, high] = jar.next_day.map(ph);
    let next = if low == high { low } else { format!("{low} to {high}") };
    let (off, most) = (figures::decimals(unknown.off, 2), figures::decimals(unknown.worst, 2));
    let mut all = vec![
        "If the jar was read at once, its carbon dioxide was still in it.".to_string(),
        format!(
            "With the water's carbon counted, the jar tells what the label does not: {} mmol/L of {kind} \
             more than counted{buffer}.",
            count(unknown.base)
        ),
    ];
    if !jar.feed_known {
        all.push("The feed itself was not counted: its weight is not known.".into());
    }
    all.push(format!("The curve then lies about {off} from the readings, {most} at most."));
    if unknown.off > POOR {
        let poor =
            "That is not near: the dose in all is the smaller of this and what the report says.";
        all.push(poor.into());
    }
    all.push(format!(
        "After the first day's dose by the jar the bin will stand at about pH {next} in air."
    ));
    all
}
