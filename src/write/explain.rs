//! One calculation in a terminal, and under it, set in, what it rests on.

use crate::library::Library;
use crate::number::{From, Step};

/// A chain deeper than this is cut; none of ours is.
const DEEPEST: usize = 40;

/// Every calculation of the quantity `id`, each with its chain; empty if there is none.
#[must_use]
pub fn write(steps: &[Step], id: &str, library: &Library) -> String {
    let mut out = String::new();
    let mut told = vec![false; steps.len()];
    for (i, _) in steps.iter().enumerate().filter(|(_, s)| s.id == id) {
        one(steps, i, 0, library, &mut told, &mut out);
    }
    out
}

fn one(
    steps: &[Step],
    i: usize,
    depth: usize,
    library: &Library,
    told: &mut [bool],
    out: &mut String,
) {
    let step = &steps[i];
    let pad = "    ".repeat(depth);
    let scope = step.scope.split_once('/').map_or("the grow", |(_, name)| name);
    let about = if step.item.is_empty() { scope.into() } else { format!("{scope}; {}", step.item) };
    if told[i] || depth > DEEPEST {
        let line =
            format!("{pad}{} = {} ({}; {about}, as above)\n", step.symbol, step.result, step.what);
        out.push_str(&line);
        return;
    }
    told[i] = true;
    out.extend(itself(step, &about, library).map(|line| format!("{pad}{line}\n")));
    for given in &step.givens {
        if let From::Step(j) = &given.from {
            one(steps, *j, depth + 1, library, told, out);
        } else {
            let from = origin(&given.from, library);
            let line = format!("{} = {}: {} ({from})", given.symbol, given.shown, given.what);
            out.extend([pad.as_str(), "    ", &line, "\n"]);
        }
    }
    if depth == 0 {
        out.push('\n');
    }
}

/// A calculation by itself: what, formula, numbers put in, result, source.
fn itself(step: &Step, about: &str, library: &Library) -> [String; 5] {
    let source = library.source(step.card.source);
    let who = if source.who.is_empty() { &source.title } else { &source.who };
    let under = " ".repeat(step.symbol.chars().count());
    [
        format!("{} ({about})", step.what),
        format!("{} = {}", step.symbol, step.formula),
        format!("{under} = {}", step.numbers),
        format!("{under} = {}", step.result),
        format!("{}. {who}, {} ({})", step.card.says, step.card.at, source.kind.mark()),
    ]
}

fn origin(from: &From, library: &Library) -> String {
    match from {
        From::Plan => "plan".to_string(),
        From::Label => "label".into(),
        From::Found | From::Step(_) => "found, checked here".into(),
        From::Data(key, at) => {
            let mark = library.source(key).kind.mark();
            if at.is_empty() { mark.into() } else { format!("{at}; {mark}") }
        }
    }
}
