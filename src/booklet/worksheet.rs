//! The class editions: the calculations of a plan as exercises, and their key.
//!
//! Of each kind of calculation the first is worked; the others are to be done. Numbers that are put
//! in stand with all the digits it takes, so that a pocket calculator gives the key's answer.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use minijinja::value::Value;

use super::Grow;
use super::accept;
use super::block::{Align, Block, Column, Line, Table, Worked, plain};
use super::compose::bound;
use super::folio::{Booklet, Page};
use super::key::{answer, answered};
use super::language::Language;
use super::lesson::{TOPICS, hints, trivial, unit};
use super::page::repeated::Inputs;
use super::page::working::{self, Fold};
use super::page::{fan, logarithm};
use super::values::group;
use super::words::{Blocks, Words};
use crate::number::{From, Given, Step, Symbol};
use crate::plan::{Plan, Sheet};

/// Exercises of one kind that are printed; more would be drill.
const MOST: usize = 5;

/// Share of a column that a result is written in by hand.
const WRITTEN: usize = 15;

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

    /// The pages for one group: sums with the numbers of `grow`, readings of the plan's `own` bins. `group` is
    /// its number, 0 if there is but one.
    ///
    /// # Errors
    /// A fault in a page template, with its place.
    pub fn pages(
        &self,
        own: &Grow<'_>,
        grow: &Grow<'_>,
        group: usize,
    ) -> Result<Vec<Page>, String> {
        let words = self.words()?;
        let name = if group > 0 { group.to_string() } else { String::new() };
        let mut pages = sheets(&words, grow, &name, self.key)?;
        pages.extend(around(&words, [own, grow], &name, self.key)?);
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
        let mut own: Vec<&Fold<'_>> =
            folds.iter().filter(|f| topic.has(f.first().card.id)).collect();
        // In the order of what is asked: the first of a kind may be trivial, and another rest on what comes between.
        own.sort_by_key(|fold| fold.all().find(|step| !trivial(step)).map(std::ptr::from_ref));
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

/// The pages around the sums: what a unit of pH means, readings to write down and to plot. What is read is
/// read in the plan's `own` bins: over the curves of a group's numbers every reading would be wrong.
fn around(
    words: &Words,
    [own, grow]: [&Grow<'_>; 2],
    name: &str,
    key: bool,
) -> Result<Vec<Page>, String> {
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
    let blocks = Blocks::from([("readings_form", logarithm::readings_form(own))]);
    pages.push(page("readings", "", blocks)?);
    // Equal bins have one, to be copied.
    let mut kinds: Vec<&str> = Vec::new();
    for (i, bin) in own.plan.bins.iter().enumerate() {
        let plot = fan::to_plot(own, i, name);
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
        // Nor is one asked whose key would take what is worked above it.
        let copied = steps.first().is_some_and(|first| accept::within(first.value, step));
        if steps.len() <= MOST
            && !told
            && !copied
            && met.insert((step.card.id, step.numbers.as_str()))
        {
            steps.push(step);
        }
    }
    steps
}

/// One kind of calculation: to be worked, or the first of several worked, and the others of its kind.
fn exercise(grow: &Grow<'_>, steps: &[&Step], number: usize, key: bool) -> Option<Block> {
    let (first, others) = steps.split_first()?;
    let worked = sum(grow, first, number, key || !others.is_empty());
    let done = if key {
        answered(worked, steps, grow.plan.system)
    } else {
        let legend = first.givens.iter().map(|g| explained(grow, g, worked.shown)).collect();
        let others = (!others.is_empty()).then(|| blanks(first, others, grow.plan.paper));
        let source = working::source_of(first, grow.library);
        Worked { legend, source, others, ..worked }
    };
    Some(Block::Worked(Box::new(done)))
}

/// The sum of an exercise, with its numbers and result or with room for them.
fn sum(grow: &Grow<'_>, step: &Step, number: usize, shown: bool) -> Worked {
    let blank = || "_".repeat(24);
    let lines = if shown { 0 } else { lines(&step.numbers, grow.plan.paper) };
    let result = match (shown, unit(step)) {
        (true, _) => answer(step),
        (false, "") => format!("{} (no unit)", blank()),
        (false, unit) => format!("{} {unit}", blank()),
    };
    Worked {
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
        accept: String::new(),
        wrong: Vec::new(),
        legend: Vec::new(),
        source: String::new(),
        others: None,
    }
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
    let inputs = Inputs::of(first, others, &names, (paper, WRITTEN));
    let mut columns = inputs.columns();
    columns.push(Column::under(&first.symbol, Align::Left, inputs.result()));
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
