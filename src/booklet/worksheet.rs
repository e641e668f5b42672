//! The class editions: the calculations of a plan as exercises, and their key.
//!
//! Of each kind of calculation the first is worked; the others are to be done. Numbers that are put
//! in stand with all the digits it takes, so that a pocket calculator gives the key's answer.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use minijinja::value::Value;

use super::block::{Align, Block, Column, Line, Table, Worked, plain};
use super::compose::bound;
use super::folio::{Booklet, Page};
use super::language::Language;
use super::lesson::{SLIPS, Slip, TOPICS, hints, trivial, unit};
use super::page::repeated::Inputs;
use super::page::working::{self, Fold};
use super::page::{fan, logarithm};
use super::values::group;
use super::words::{Blocks, Words};
use super::{Grow, accept, page};
use crate::number::figures::System;
use crate::number::{From, Given, Step, Symbol};
use crate::plan::{Plan, Sheet};

/// Exercises of one kind that are printed; more would be drill.
const MOST: usize = 5;

/// A class edition: exercises, or their answers, for one group of pupils or for several.
pub struct Edition {
    language: Arc<Language>,
    key: bool,
}

impl Edition {
    /// Exercises, or with `key` their answers, in the language of a plan.
    #[must_use]
    pub fn new(plan: &Plan, key: bool) -> Self {
        Self { language: Arc::new(Language::of(plan)), key }
    }

    /// The pages for one group; `group` is its number, 0 if there is but one.
    ///
    /// # Errors
    /// A fault in a page template, with its place.
    pub fn pages(&self, grow: &Grow<'_>, group: usize) -> Result<Vec<Page>, String> {
        let words = self.words()?;
        let name = if group > 0 { group.to_string() } else { String::new() };
        let mut pages = sheets(&words, grow, &name, self.key)?;
        pages.extend(around(&words, grow, &name, self.key)?);
        if group > 0 {
            let running = self.language.say(&format!("group {group}"));
            for page in &mut pages {
                page.running.clone_from(&running);
            }
        }
        // A key is not handed out sheet by sheet.
        for page in pages.iter_mut().filter(|page| self.key && page.id == "worksheet") {
            page.id = "key".into();
        }
        Ok(pages)
    }

    /// The whole edition; `grow` is the plan as it is written.
    ///
    /// # Errors
    /// As [`Edition::pages`].
    pub fn bind(&self, grow: &Grow<'_>, pages: Vec<Page>) -> Result<Booklet, String> {
        let kind = if self.key { ": key" } else { ": worksheet" };
        Ok(self.words()?.finish(bound(grow, pages), kind))
    }

    fn words(&self) -> Result<Words<'static>, String> {
        Words::new(BTreeMap::new(), Arc::clone(&self.language))
    }
}

/// The sheets of one group, one a topic.
fn sheets(words: &Words, grow: &Grow<'_>, name: &str, key: bool) -> Result<Vec<Page>, String> {
    let folds = working::folds(&grow.results.steps);
    let mut pages: Vec<Page> = Vec::new();
    let mut number = 0;
    let mut met = BTreeSet::new();
    for topic in &TOPICS {
        let own: Vec<&Fold<'_>> = folds.iter().filter(|f| topic.has(f.first().card.id)).collect();
        let (mut exercises, mut practised) = (Vec::new(), Vec::new());
        for fold in own {
            let steps = different(fold, &grow.results.steps, &mut met);
            if !steps.is_empty() {
                number += 1;
                exercises.extend(exercise(grow, &steps, number, key));
                practised.extend(steps);
            }
        }
        if exercises.is_empty() {
            continue;
        }
        let codes = grow.plan.curriculum.iter().find(|(key, _)| *key == topic.key);
        let sheet = group([
            ("title", topic.title.into()),
            ("codes", codes.map_or("", |(_, said)| said.as_str()).into()),
            ("goals", topic.goals(&practised).into()),
            ("hints", hints(&practised).into()),
            ("group", name.into()),
            ("key", key.into()),
            ("plan", grow.plan.title.as_str().into()),
        ]);
        let values = Value::from_pairs([("sheet", sheet)]);
        pages.push(words.page("worksheet", &values, &Blocks::from([("exercises", exercises)]))?);
    }
    Ok(pages)
}

/// The pages around the sums: what a unit of pH means, readings to write down and to plot.
fn around(words: &Words, grow: &Grow<'_>, name: &str, key: bool) -> Result<Vec<Page>, String> {
    let page = |id: &str, bin: &str, blocks: Blocks| {
        let sheet = group([("group", name.into()), ("key", key.into()), ("bin", bin.into())]);
        words.page(id, &Value::from_pairs([("sheet", sheet)]), &blocks)
    };
    let blocks = Blocks::from([
        ("acidity_numbers", logarithm::table(grow, key)),
        ("ratios", logarithm::ratios(grow, key)),
        ("number_line", logarithm::line(grow, key, name)),
    ]);
    let mut pages = vec![page("ph-unit", "", blocks)?];
    if key {
        return Ok(pages);
    }
    let blocks = Blocks::from([("readings_form", logarithm::readings_form(grow))]);
    pages.push(page("readings", "", blocks)?);
    // Equal bins have one, to be copied.
    let mut kinds: Vec<&str> = Vec::new();
    for (i, bin) in grow.plan.bins.iter().enumerate() {
        let plot = fan::to_plot(grow, i, name);
        if kinds.contains(&bin.called.as_str()) || plot.is_empty() {
            continue;
        }
        kinds.push(&bin.called);
        pages.push(page("plotting", &bin.called, Blocks::from([("plot", plot)]))?);
    }
    Ok(pages)
}

/// Steps to be worked: with numbers of their own, for eight equal jars are one exercise, and a sum
/// that was `met` before, under another name, is none. What is trivial is left out.
fn different<'a>(
    fold: &Fold<'a>,
    all: &[Step],
    met: &mut BTreeSet<(&'static str, &'a str)>,
) -> Vec<&'a Step> {
    let mut steps: Vec<&'a Step> = Vec::new();
    let takes = |step: &Step, other: &Step| {
        let is = |from: &From| matches!(from, From::Step(i) if all[*i] == *other);
        step.givens.iter().any(|given| is(&given.from))
    };
    for step in fold.all().filter(|step| !trivial(step)) {
        // What begins with the result of the row above would tell it; the first of all is worked.
        let above = steps.get(1..).and_then(<[_]>::last);
        let told = above.is_some_and(|above| takes(step, above));
        if steps.len() <= MOST && !told && met.insert((step.card.id, step.numbers.as_str())) {
            steps.push(step);
        }
    }
    steps
}

/// One kind of calculation: worked or to be worked, and the others of its kind.
fn exercise(grow: &Grow<'_>, steps: &[&Step], number: usize, key: bool) -> Vec<Block> {
    let Some((first, others)) = steps.split_first() else { return Vec::new() };
    // A single one is the exercise itself; of several the first shows how.
    let alone = others.is_empty();
    let shown = key || !alone;
    let table = (!alone && !key).then(|| blanks(first, others, grow.plan.paper));
    let mut blocks = vec![worked(grow, first, number, shown, table)];
    if key {
        // In large letters it may stand on the sheet after its exercise.
        let named = if grow.plan.large { format!(" in {number}") } else { String::new() };
        blocks.extend(answers(if alone { steps } else { others }, &named, grow.plan.system));
    }
    blocks
}

fn worked(
    grow: &Grow<'_>,
    step: &Step,
    number: usize,
    shown: bool,
    others: Option<Table>,
) -> Block {
    let blank = || "_".repeat(24);
    let lines = if shown { 0 } else { lines(&step.numbers, grow.plan.paper) };
    let result = match (shown, unit(step)) {
        (true, _) => answer(step),
        (false, "") => format!("{} (no unit)", blank()),
        (false, unit) => format!("{} {unit}", blank()),
    };
    Block::Worked(Box::new(Worked {
        number,
        title: step.what.into(),
        about: working::about(step),
        symbol: Symbol::of(&step.symbol),
        expression: step.expression.clone(),
        formula: step.formula.clone(),
        shown,
        numbers: if shown { step.numbers.clone() } else { blank().repeat(lines) },
        lines,
        result,
        legend: step.givens.iter().map(|g| explained(grow, g, shown)).collect(),
        source: working::source_of(step, grow.library),
        others,
    }))
}

/// A symbol, what it is, and where its number comes from.
fn explained(grow: &Grow<'_>, given: &Given, shown: bool) -> (Symbol, String, String) {
    // What is to be put in stands with its meaning.
    let what = if shown { given.what.clone() } else { format!("{}, {}", given.what, given.shown) };
    let from = match &given.from {
        // What it rests on may be no exercise of this sheet.
        From::Step(_) | From::Found => "given".into(),
        from @ (From::Plan | From::Label | From::Data(..)) => working::origin(from, grow.library),
    };
    (Symbol::of(&given.symbol), what, from)
}

/// Lines it takes to write numbers by hand: 3 mm a sign.
fn lines(numbers: &str, paper: Sheet) -> usize {
    let signs = match paper {
        Sheet::A4 | Sheet::Letter => 48,
        Sheet::A5 | Sheet::HalfLetter => 30,
    };
    numbers.chars().count().div_ceil(signs).max(1)
}

/// The numbers of the other exercises, with room for their results.
fn blanks(first: &Step, others: &[&Step], paper: Sheet) -> Table {
    let names: Vec<String> = others.iter().map(|step| working::about(step)).collect();
    let inputs = Inputs::of(first, others, &names, paper);
    let mut columns = inputs.columns();
    columns.push(Column::under(&first.symbol, Align::Left, 15));
    let row = |step: &&Step| -> Vec<Line> {
        let mut row = inputs.cells(working::about(step), step);
        row.push(plain(String::new()));
        row
    };
    let rest = if inputs.some_are_left_out() { " All else is as above." } else { "" };
    let caption = match unit(first) {
        "" => format!("To be worked the same way; the result has no unit.{rest}"),
        unit => format!("To be worked the same way; the result in {unit}.{rest}"),
    };
    let table = Table::to_fill(&caption, columns, others.iter().map(row).collect());
    Table { row_height: 10.0, ..table }
}

/// A result with its unit, or with what it counts.
fn answer(step: &Step) -> String {
    match step.card.unit.text {
        "" => format!("{} {}", step.result, unit(step)).trim_end().to_string(),
        _ => step.result.clone(),
    }
}

/// Results, what to accept, and what a likely wrong answer reveals: beside a result, or under the
/// table what all of them have in common, `named` by the number of its exercise.
fn answers(steps: &[&Step], named: &str, system: System) -> Vec<Block> {
    let wrong = |slip: &Slip| steps.iter().map(|s| slip.of(s, system)).collect::<Vec<_>>();
    let slips: Vec<(&Slip, Vec<Option<String>>)> =
        SLIPS.iter().map(|slip| (slip, wrong(slip))).collect();
    let likely = slips.iter().filter(|(_, wrong)| wrong.iter().any(Option::is_some));
    let (common, some): (Vec<_>, Vec<_>) =
        likely.partition(|(_, wrong)| wrong.iter().all(Option::is_some));
    let row = |(i, step): (usize, &&Step)| -> Vec<Line> {
        let mut row = vec![working::about(step), answer(step), accept::range(step, unit(step))];
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
    let table = Table::printed("", columns, steps.iter().enumerate().map(row).collect());
    let under = common.iter().map(|(slip, wrong)| {
        let numbers: Vec<&str> = wrong.iter().flatten().map(String::as_str).collect();
        let text = match &numbers[..] {
            [one] => format!("Likely wrong{named}: {one}. Somebody {}.", slip.says),
            all => {
                let all = all.join("; ");
                format!("Likely wrong{named}, row by row: {all}. Somebody {}.", slip.says)
            }
        };
        Block::Paragraph { text: plain(text) }
    });
    [Block::Table(table)].into_iter().chain(under).collect()
}
