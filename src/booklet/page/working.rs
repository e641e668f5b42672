//! The working: calculations of one kind fold into one worked in full and a table of the others.

use std::collections::{BTreeMap, BTreeSet};

use super::super::Grow;
use super::super::block::{Block, Worked, plain};
use super::repeated::{alike, others};
use crate::library::Library;
use crate::number::{From, Step, Symbol};

/// Calculations of one kind: the same quantity by the same formula.
pub(in super::super) struct Fold<'a> {
    steps: Vec<&'a Step>,
}

impl<'a> Fold<'a> {
    /// The one that is worked in full.
    pub(in super::super) fn first(&self) -> &'a Step {
        self.steps[0]
    }

    /// All of them.
    pub(in super::super) fn all(&self) -> impl Iterator<Item = &'a Step> {
        self.steps.iter().copied()
    }
}

/// Folds the steps, in the order in which each kind first occurs.
pub(in super::super) fn folds(steps: &[Step]) -> Vec<Fold<'_>> {
    let mut seen: BTreeMap<(&str, &str, &str), usize> = BTreeMap::new();
    let mut folds: Vec<Fold<'_>> = Vec::new();
    for step in steps {
        let key = (step.id, step.card.id, step.formula.as_str());
        let at = *seen.entry(key).or_insert_with(|| {
            folds.push(Fold { steps: Vec::new() });
            folds.len() - 1
        });
        folds[at].steps.push(step);
    }
    folds
}

/// The number of the first calculation of each quantity.
pub(in super::super) fn numbers(folds: &[Fold<'_>]) -> BTreeMap<&'static str, usize> {
    let mut numbers = BTreeMap::new();
    for (i, fold) in folds.iter().enumerate() {
        numbers.entry(fold.steps[0].id).or_insert(i + 1);
    }
    numbers
}

/// Several calculations by their numbers: "calculations 3, 5 and 7".
pub(in super::super) fn together(numbers: impl Iterator<Item = usize>) -> String {
    let numbers: BTreeSet<usize> = numbers.collect();
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    match numbers.split_last() {
        None => "the working".to_string(),
        Some((only, [])) => format!("calculation {only}"),
        Some((last, rest)) => format!("calculations {} and {last}", rest.join(", ")),
    }
}

/// Every calculation, numbered, under the titles of its parts.
pub(in super::super) fn working(grow: &Grow<'_>, folds: &[Fold<'_>]) -> Vec<Block> {
    let mut number_of = vec![0; grow.results.steps.len()];
    for (i, step) in grow.results.steps.iter().enumerate() {
        let same = |f: &Fold<'_>| f.steps.iter().any(|s| std::ptr::eq(*s, step));
        number_of[i] = folds.iter().position(same).map_or(0, |n| n + 1);
    }
    let mut part = "";
    let worked = folds.iter().enumerate().flat_map(|(i, fold)| {
        let first = fold.steps[0];
        let opens = first.part != std::mem::replace(&mut part, first.part);
        let heading = opens.then(|| Block::Heading { level: 2, text: plain(first.part) });
        let calculation = Block::Worked(Box::new(Worked {
            number: i + 1,
            title: first.what.into(),
            about: alike(&fold.steps),
            symbol: Symbol::of(&first.symbol),
            expression: first.expression.clone(),
            formula: first.formula.clone(),
            numbers: first.numbers.clone(),
            shown: true,
            lines: 0,
            result: first.result.clone(),
            accept: String::new(),
            wrong: Vec::new(),
            legend: legend(first, &number_of, grow.library),
            source: source_of(first, grow.library),
            others: others(&fold.steps, grow.plan.paper),
        }));
        heading.into_iter().chain([calculation])
    });
    worked.collect()
}

pub(in super::super) fn about(step: &Step) -> String {
    let scope = step.scope.split_once('/').map_or("the grow", |(_, name)| name);
    if step.item.is_empty() { scope.into() } else { format!("{scope}; {}", step.item) }
}

/// What a formula says, and where it comes from.
pub(in super::super) fn source_of(step: &Step, library: &Library) -> String {
    format!("{}. {}", step.card.says, source(step, library))
}

fn source(step: &Step, library: &Library) -> String {
    let source = library.source(step.card.source);
    let year = source.year.map_or(String::new(), |y| format!(" {y}"));
    let who = if source.who.is_empty() { &source.title } else { &source.who };
    let mark = source.kind.mark();
    if who.to_lowercase().starts_with(mark) {
        format!("{}: {}", who, step.card.at)
    } else {
        format!("{who}{year}, {} ({mark})", step.card.at)
    }
}

/// Where a number comes from, in words.
pub(in super::super) fn origin(from: &From, library: &Library) -> String {
    match from {
        From::Plan => "plan".to_string(),
        From::Label => "label".into(),
        From::Found => "found, checked here".into(),
        From::Data(key, at) => {
            let mark = library.source(key).kind.mark();
            if at.is_empty() { mark.into() } else { format!("{at}; {mark}") }
        }
        From::Step(_) => "worked before".into(),
    }
}

fn legend(step: &Step, number_of: &[usize], library: &Library) -> Vec<(Symbol, String, String)> {
    let from = |from: &From| match from {
        From::Step(i) => format!("calculation {}", number_of[*i]),
        From::Plan | From::Label | From::Found | From::Data(..) => origin(from, library),
    };
    let row = |g: &crate::number::Given| (Symbol::of(&g.symbol), g.what.clone(), from(&g.from));
    step.givens.iter().map(row).collect()
}
