//! The front lines of a page of one's own: where it stands, and for what it is made again.
//!
//! ```text
//! ---
//! after: mixing
//! for: each bin
//! ---
//! ```

use std::ops::Range;

use super::catalogue::Repeats;
use crate::finding::{Finding, Findings, Severity, meant};

/// What may stand before the colon.
const KEYS: [&str; 3] = ["after", "before", "for"];

/// What may stand after `for:`.
const WORDS: [(&str, Repeats); 3] =
    [("once", Repeats::Once), ("each bin", Repeats::Bin), ("each solution", Repeats::Mix)];

/// A word with its place in the page.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Word {
    pub(super) text: String,
    pub(super) place: Range<usize>,
}

/// The front lines as far as they could be read.
#[derive(Debug, Default)]
pub(super) struct Front {
    /// Beside which page, and whether before it.
    pub(super) beside: Option<(Word, bool)>,
    /// For what it is made again.
    pub(super) repeats: Option<(Repeats, Range<usize>)>,
    /// Where the page itself begins (bytes).
    pub(super) end: usize,
}

fn error(findings: &Findings, code: &'static str, place: Range<usize>, says: String, help: &str) {
    findings.add(Finding::new(Severity::Error, code, says, help).at(place, "here"));
}

/// Reads the front lines of a page, if it has any.
pub(super) fn read(text: &str, findings: &Findings) -> Front {
    let mut front = Front::default();
    let mut lines = text.split_inclusive('\n');
    let Some(first) = lines.next().filter(|l| l.trim_end() == "---") else { return front };
    let mut at = first.len();
    for line in lines {
        let place = at..at + line.trim_end().len();
        at += line.len();
        if line.trim_end() == "---" {
            front.end = at;
            return front;
        }
        if !line.trim().is_empty() {
            entry(line, &place, &mut front, findings);
        }
    }
    let help = "close them with a line of three dashes, as they begin";
    error(findings, "page-front", 0..3, "the front lines of this page do not end".into(), help);
    front.end = text.len();
    front
}

/// One front line.
fn entry(line: &str, place: &Range<usize>, front: &mut Front, findings: &Findings) {
    let Some((key, value)) = line.split_once(':') else {
        let help = "a front line is a word, a colon and what it says, such as  after: mixing";
        let says = "this is not a front line".to_string();
        return error(findings, "page-front", place.clone(), says, help);
    };
    let (name, word) = (key.trim(), value.trim());
    let from = place.start + key.len() + 1 + (value.len() - value.trim_start().len());
    let word = Word { text: word.into(), place: from..from + word.len() };
    match name {
        "after" | "before" if front.beside.is_some() => {
            let says = "this page says twice where it stands".to_string();
            error(findings, "page-front", place.clone(), says, "keep one of the two lines");
        }
        "after" | "before" => front.beside = Some((word, name == "before")),
        "for" => {
            let found = WORDS.iter().find(|(w, _)| *w == word.text);
            if let Some((_, repeats)) = found {
                front.repeats = Some((*repeats, place.clone()));
                return;
            }
            let known = WORDS.map(|(w, _)| w);
            let guess =
                meant(&word.text, known).map_or(String::new(), |g| format!("did you mean `{g}`? "));
            let help = format!("{guess}it may be {}", known.join(", "));
            let says = format!("a page cannot be made for `{}`", word.text.escape_debug());
            error(findings, "unknown-word", word.place, says, &help);
        }
        _ => {
            let guess =
                meant(name, KEYS).map_or(String::new(), |g| format!("did you mean `{g}`? "));
            let help = format!("{guess}here may stand: {}", KEYS.join(", "));
            let says = format!("the front lines know no `{}`", name.escape_debug());
            error(findings, "unknown-key", place.clone(), says, &help);
        }
    }
}
