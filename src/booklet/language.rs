//! Another language for the whole booklet: its pages are a folder of templates, and every other text
//! is found in a table of English texts, some with gaps, and what they are in that language.
//!
//! The booklet is composed in English; the texts that go into its pages pass through here. So nothing
//! in the code knows of languages, and a language is two things: `templates/xx/pages` and
//! `templates/xx/words.toml`. What the table does not have is kept as it is and remembered, and a test
//! demands that there is none.
//!
//! Pages and words are written with the decimal comma. A metric plan is printed so, with its numbers;
//! where gallons and inches are used, all have the point.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::names::Names;
use super::pattern::{Pattern, has_word};
use crate::library::tongue::tongue;
use crate::number::figures::System;
use crate::plan::Plan;

/// A language.
#[derive(Debug, Default)]
pub struct Language {
    pub(super) table: BTreeMap<String, String>,
    /// Patterns that say enough, and such as `{a} to {b}`; the surest first.
    patterns: [Vec<Pattern>; 2],
    /// Words of the plan, which stay as they are.
    kept: Names,
    /// Texts that the table does not have.
    unknown: Mutex<BTreeSet<String>>,
    /// Texts met before: a class set says everything thirty times.
    met: Mutex<BTreeMap<String, String>>,
    /// Texts that were not found, and how deep they were looked for: nearer the top they may be.
    missed: Mutex<BTreeMap<String, u8>>,
    pages: &'static [(&'static str, &'static str)],
    code: &'static str,
    comma: bool,
    pub(super) foreign: bool,
}

impl Language {
    /// The language of a plan.
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        let Some(tongue) = plan.language.as_deref().and_then(tongue) else {
            return Self::default();
        };
        let comma = plan.system == System::Metric;
        let mut table = tongue.words();
        if !comma {
            for text in table.values_mut() {
                *text = remarked(text, ',', '.');
            }
        }
        Self {
            patterns: patterns(&table),
            table,
            kept: Names::of(plan),
            pages: tongue.pages,
            code: tongue.code,
            comma,
            foreign: true,
            ..Self::default()
        }
    }

    /// Its code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        if self.foreign { self.code } else { "en" }
    }

    /// A page in this language, if it has one.
    #[must_use]
    pub fn page(&self, name: &str) -> Option<Cow<'static, str>> {
        let (_, text) = self.pages.iter().find(|(own, _)| *own == name)?;
        Some(if self.comma { (*text).into() } else { remarked(text, ',', '.').into() })
    }

    /// Texts it had no words for.
    #[must_use]
    pub fn unknown(&self) -> Vec<String> {
        held(&self.unknown).iter().cloned().collect()
    }

    /// A text in this language.
    #[must_use]
    pub fn say(&self, text: &str) -> String {
        if !self.foreign {
            return text.to_string();
        }
        self.told(text).unwrap_or_else(|| {
            if has_word(text) {
                held(&self.unknown).insert(text.to_string());
            }
            self.number(text)
        })
    }

    /// The text, if all of it is in the table: names of the plan are kept out of it, lest their words
    /// are taken for ours.
    fn told(&self, text: &str) -> Option<String> {
        let known = self.known(text);
        let hidden = || self.found(&self.kept.hidden(text)?, 0).map(|t| self.kept.shown(&t));
        known.or_else(hidden).or_else(|| self.found(text, 0))
    }

    fn known(&self, text: &str) -> Option<String> {
        self.kept.printed(text).or_else(|| self.table.get(text).cloned())
    }

    /// The text, if all of it is in the table: as it stands, as a pattern whose gaps are, or piece by
    /// piece.
    fn found(&self, text: &str, depth: u8) -> Option<String> {
        if let Some(known) = self.known(text) {
            return Some(known);
        }
        if !text.chars().any(char::is_alphabetic) {
            return Some(self.number(text));
        }
        if depth > DEEPEST {
            return None;
        }
        if let Some(known) = held(&self.met).get(text) {
            return Some(known.clone());
        }
        if held(&self.missed).get(text).is_some_and(|at| *at <= depth) {
            return None;
        }
        let sentences = |between: &[&str]| self.by_pieces(text, depth, between);
        let found = self
            .by_pattern(text, depth, &self.patterns[0])
            .or_else(|| sentences(&SEPARATORS[..CLAUSES]))
            .or_else(|| self.by_pattern(text, depth, &self.patterns[1]))
            .or_else(|| sentences(&SEPARATORS[CLAUSES..]))
            .or_else(|| Some(self.found(text.strip_suffix('.')?, depth + 1)? + "."))
            .or_else(|| (!has_word(text)).then(|| self.number(text)));
        match &found {
            Some(found) => drop(held(&self.met).insert(text.to_string(), found.clone())),
            None => drop(held(&self.missed).insert(text.to_string(), depth)),
        }
        found
    }

    /// Numbers as they are written there: where gallons and inches are used, so is the point.
    pub(super) fn number(&self, text: &str) -> String {
        if self.comma { remarked(text, '.', ',') } else { text.to_string() }
    }

    fn by_pattern(&self, text: &str, depth: u8, patterns: &[Pattern]) -> Option<String> {
        patterns.iter().find_map(|pattern| {
            let mut becomes = pattern.becomes.clone();
            for (gap, value) in pattern.gaps.iter().zip(pattern.fill(text)?) {
                let value = self.found(value, depth + 1)?;
                becomes = becomes.replace(&format!("{{{gap}}}"), &value);
            }
            Some(becomes)
        })
    }

    fn by_pieces(&self, text: &str, depth: u8, separators: &[&str]) -> Option<String> {
        separators.iter().find_map(|between| {
            let (first, rest) = text.split_once(between)?;
            // The rest of a list is no deeper than its first piece.
            let (first, rest) = (self.found(first, depth + 1)?, self.found(rest, depth)?);
            Some(format!("{first}{between}{rest}"))
        })
    }
}

/// The patterns of a table.
fn patterns(table: &BTreeMap<String, String>) -> [Vec<Pattern>; 2] {
    let pattern = |(english, text): (&String, &String)| Pattern::new(english, text);
    let mut all: Vec<Pattern> = table.iter().filter_map(pattern).collect();
    all.sort_by_key(|p| std::cmp::Reverse(p.letters()));
    let little = all.split_off(all.partition_point(|p| p.letters() >= SURE));
    [all, little]
}

/// What a lock holds; nobody panics while holding it.
fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

/// How deep patterns and pieces nest.
const DEEPEST: u8 = 8;

/// Where a text may be taken apart, sentences before lists.
const SEPARATORS: [&str; 6] = [". ", ": ", "; ", ", ", " · ", " "];
/// How many of them part clauses: there a text is parted before a pattern that says little is tried.
const CLAUSES: usize = 3;
/// Letters of a pattern that says enough.
const SURE: usize = 6;

/// Another decimal mark; where there are two, as in a version, it is none.
fn remarked(text: &str, from: char, to: char) -> String {
    let letters: Vec<char> = text.chars().collect();
    let is = |i: Option<usize>, wanted: char| i.and_then(|i| letters.get(i)) == Some(&wanted);
    let digit = |i: Option<usize>| i.and_then(|i| letters.get(i)).is_some_and(char::is_ascii_digit);
    // The first letter before or behind the digits beside a mark.
    let beyond = |mut i: Option<usize>, next: fn(usize) -> Option<usize>| {
        while digit(i) {
            i = i.and_then(next);
        }
        (is(i, from) && digit(i.and_then(next))).then_some(())
    };
    let (back, on) = (|i: usize| i.checked_sub(1), |i: usize| i.checked_add(1));
    let mark = |(i, c): (usize, &char)| {
        let between = *c == from && digit(back(i)) && digit(on(i));
        let alone = || beyond(back(i), back).is_none() && beyond(on(i), on).is_none();
        if between && alone() { to } else { *c }
    };
    letters.iter().enumerate().map(mark).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn language(table: &[(&str, &str)]) -> Language {
        let table: BTreeMap<String, String> =
            table.iter().map(|(a, b)| ((*a).to_string(), (*b).to_string())).collect();
        let patterns = patterns(&table);
        let kept = Names::new(
            ["Lower tote", "Mon to A", "Mon to B"].map(|n| (n.to_string(), n.to_string())).into(),
        );
        Language { table, patterns, kept, comma: true, foreign: true, ..Language::default() }
    }

    #[test]
    fn patterns_fill_and_nest() {
        let spanish = language(&[
            ("Mon", "lun"),
            ("Jan", "ene"),
            ("{d} {n} {m}", "{d} {n} {m}"),
            ("{a} to {b}", "{a} a {b}"),
            ("top up; dry about {day}", "reponer; seco hacia el {day}"),
            ("{n} gal ({b} L)", "{n} gal ({b} L)"),
            ("{who} {n} g", "{n} g de {who}"),
        ]);
        for (english, wanted) in [
            ("Mon 11 Jan to Mon 18 Jan", "lun 11 ene a lun 18 ene"),
            ("top up; dry about Mon 4 Jan", "reponer; seco hacia el lun 4 ene"),
            ("8.68 gal (32.9 L)", "8,68 gal (32,9 L)"),
            ("5.8 to 6.2", "5,8 a 6,2"),
            ("Lower tote", "Lower tote"),
            ("Lower tote 35.6 g", "35,6 g de Lower tote"),
            ("mL", "mL"),
            // Words of a name are not ours, wherever it stands.
            ("Mon to A to Mon, Mon to B", "Mon to A a lun, Mon to B"),
        ] {
            assert_eq!(spanish.say(english), wanted);
        }
        assert!(spanish.unknown().is_empty(), "{:?}", spanish.unknown());
        assert_eq!(spanish.say("Never seen 1.5"), "Never seen 1,5");
        assert_eq!(spanish.unknown(), ["Never seen 1.5"]);
    }

    #[test]
    fn one_mark_is_decimal_two_are_a_version() {
        assert_eq!(remarked("0.1.0, 1.5 to 2.25. 3", '.', ','), "0.1.0, 1,5 to 2,25. 3");
        assert_eq!(remarked("1.10.2.4 is 10.5", '.', ','), "1.10.2.4 is 10,5");
        assert_eq!(remarked("6,8; pH 5, 6 y 7,5", ',', '.'), "6.8; pH 5, 6 y 7.5");
    }

    #[test]
    fn english_is_left_alone() {
        assert_eq!(Language::default().say("1.5 L to go"), "1.5 L to go");
    }
}
