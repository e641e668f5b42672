//! The class editions: the calculations of a plan as exercises, and their key.
//!
//! Of each kind of calculation the first is worked; the others are to be done. Numbers that are put
//! in stand with all the digits it takes, so that a pocket calculator gives the key's answer.

use std::collections::BTreeMap;
use std::sync::Arc;

use minijinja::value::Value;

use super::block::{Align, Block, Column, Line, Table, Worked, plain};
use super::compose::bound;
use super::folio::{Booklet, Page};
use super::language::Language;
use super::lesson::{SLIPS, TOPICS};
use super::page::repeated::Inputs;
use super::page::working::{self, Fold};
use super::page::{fan, logarithm};
use super::values::group;
use super::words::{Blocks, Words};
use super::{Grow, page};
use crate::number::{From, Step, Symbol, figures};
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
    for topic in &TOPICS {
        let own: Vec<&Fold<'_>> =
            folds.iter().filter(|f| topic.cards.contains(&f.first().card.id)).collect();
        if own.is_empty() {
            continue;
        }
        let mut exercises = Vec::new();
        for fold in own {
            number += 1;
            exercises.extend(exercise(grow, fold, number, key));
        }
        let codes = grow.plan.curriculum.iter().find(|(key, _)| *key == topic.key);
        let sheet = group([
            ("title", topic.title.into()),
            ("codes", codes.map_or("", |(_, said)| said.as_str()).into()),
            ("goal", topic.goal.into()),
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

/// Steps with numbers of their own: eight equal jars are one exercise.
fn different<'a>(fold: &Fold<'a>) -> Vec<&'a Step> {
    let mut kept: Vec<&Step> = Vec::new();
    for step in fold.all() {
        let same = |other: &&Step| {
            let shown = |s: &Step| s.givens.iter().map(|g| g.shown.clone()).collect::<Vec<_>>();
            shown(other) == shown(step)
        };
        if !kept.iter().any(same) {
            kept.push(step);
        }
        if kept.len() > MOST {
            break;
        }
    }
    kept
}

/// One kind of calculation: worked or to be worked, and the others of its kind.
fn exercise(grow: &Grow<'_>, fold: &Fold<'_>, number: usize, key: bool) -> Vec<Block> {
    let steps = different(fold);
    let Some((first, others)) = steps.split_first() else { return Vec::new() };
    // A single one is the exercise itself; of several the first shows how.
    let alone = others.is_empty();
    let shown = key || !alone;
    let table = (!alone && !key).then(|| blanks(first, others, grow.plan.paper));
    let mut blocks = vec![worked(grow, first, number, shown, table)];
    if key {
        blocks.push(Block::Table(answers(if alone { &steps } else { others })));
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
    let unit = step.card.unit.text;
    Block::Worked(Box::new(Worked {
        number,
        title: step.what.into(),
        about: working::about(step),
        symbol: Symbol::of(&step.symbol),
        expression: step.expression.clone(),
        formula: step.formula.clone(),
        shown,
        numbers: if shown { step.numbers.clone() } else { blank() },
        result: if shown { step.result.clone() } else { format!("{} {unit}", blank()) },
        legend: step
            .givens
            .iter()
            .map(|g| {
                // What is to be put in stands with its meaning.
                let what = if shown { g.what.clone() } else { format!("{}, {}", g.what, g.shown) };
                let from = match &g.from {
                    // What it rests on may be no exercise of this sheet.
                    From::Step(_) => "given".into(),
                    from @ (From::Plan | From::Label | From::Found | From::Data(..)) => {
                        working::origin(from, grow.library)
                    }
                };
                (Symbol::of(&g.symbol), what, from)
            })
            .collect(),
        source: working::source_of(step, grow.library),
        others,
    }))
}

/// The numbers of the other exercises, with room for their results.
fn blanks(first: &Step, others: &[&Step], paper: Sheet) -> Table {
    let inputs = Inputs::of(first, others, paper);
    let mut columns = inputs.columns();
    columns.push(Column::under(&first.symbol, Align::Left, 6));
    let unit = first.card.unit.text;
    let row = |step: &&Step| -> Vec<Line> {
        let mut row = inputs.cells(working::about(step), step);
        row.push(plain(String::new()));
        row
    };
    let rest = if inputs.some_are_left_out() { " All else is as above." } else { "" };
    let caption = match unit {
        "" => format!("To be worked the same way.{rest}"),
        unit => format!("To be worked the same way; the result in {unit}.{rest}"),
    };
    let table = Table::to_fill(&caption, columns, others.iter().map(row).collect());
    Table { row_height: 10.0, ..table }
}

/// Results, what to accept, and what a likely wrong answer reveals.
fn answers(steps: &[&Step]) -> Table {
    let row = |step: &&Step| -> Vec<Line> {
        let wrong: Vec<String> = SLIPS.iter().filter_map(|slip| slip.of(step)).collect();
        page::cells([working::about(step), step.result.clone(), accepted(step), wrong.join("; ")])
    };
    let columns = page::words([
        ("For", 6),
        ("Answer", 4),
        ("Accept", 6),
        ("If it says ..., somebody ...", 9),
    ]);
    Table::printed("", columns, steps.iter().map(row).collect())
}

/// From one per cent below to one per cent above, in the digits a pupil writes.
fn accepted(step: &Step) -> String {
    let unit = step.card.unit.text;
    let ends = [0.99 * step.value, 1.01 * step.value];
    let [a, b] = ends.map(|v| figures::plain(v, 3));
    if a == b { format!("{a} {unit}") } else { format!("{a} to {b} {unit}") }.trim().to_string()
}
