//! A TOML table that is asked for its keys one by one and remembers which were asked for.
//!
//! What is missing, of the wrong kind or unknown becomes a finding, and reading goes on: one run
//! finds everything. (A derive would stop at its first complaint.)

use std::cell::RefCell;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::finding::{Finding, Findings, Severity, meant};

/// A value with its place in the plan.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed<T> {
    pub(super) value: T,
    pub(super) place: Range<usize>,
}

/// A table being read.
pub(super) struct Table<'a> {
    /// What a person calls it: "the plan", "bin 2".
    name: String,
    pub(super) keys: &'a DeTable<'a>,
    /// Where it stands.
    pub(super) place: Range<usize>,
    asked: RefCell<Vec<&'static str>>,
    pub(super) findings: &'a Findings,
}

/// Opens a plan text and reads it with `read`; `None` if it is not TOML.
pub(super) fn open<T>(
    text: &str,
    findings: &Findings,
    read: impl FnOnce(&Table<'_>) -> T,
) -> Option<T> {
    // More letters than a plan could use would only cost the reader of the findings time.
    if text.trim().is_empty() {
        findings.add(Finding::new(
            Severity::Error,
            "empty-plan",
            "the plan is empty",
            "`binleaf new` writes a plan to start from",
        ));
        return None;
    }
    let (document, errors) = DeTable::parse_recoverable(text);
    for error in &errors {
        let place = error.span().unwrap_or(0..0);
        let finding = Finding::new(
            Severity::Error,
            "not-toml",
            format!("this is not TOML: {}", error.message()),
            "text stands in \"quotes\"; compare with the plan that `binleaf new` writes",
        );
        findings.add(finding.at(place, "here"));
    }
    if !errors.is_empty() {
        return None;
    }
    let root = Table {
        name: "the plan".into(),
        keys: document.get_ref(),
        place: 0..0,
        asked: RefCell::default(),
        findings,
    };
    let result = read(&root);
    root.close();
    Some(result)
}

impl<'a> Table<'a> {
    /// Says something is wrong.
    pub(super) fn error(
        &self,
        code: &'static str,
        place: &Range<usize>,
        message: String,
        help: &str,
    ) {
        let finding = Finding::new(Severity::Error, code, message, help);
        self.findings.add(finding.at(place.clone(), "here"));
    }

    /// A key that nothing here makes use of: a note.
    pub(super) fn not_used(&self, key: &'static str, help: &str) {
        let Some(place) = self.get(key).map(Spanned::span) else { return };
        let message = format!("`{key}` is not used here");
        let finding = Finding::new(Severity::Note, "not-used", message, help);
        self.findings.add(finding.at(place, "has no effect"));
    }

    pub(super) fn get(&self, key: &'static str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.asked.borrow_mut().push(key);
        self.keys.get(key)
    }

    /// Whether the key is there (and is known).
    pub(super) fn has(&self, key: &'static str) -> bool {
        self.get(key).is_some()
    }

    pub(super) fn missing(&self, key: &'static str, example: &str) {
        let message = format!("{} has no `{key}`", self.name);
        let finding = Finding::new(
            Severity::Error,
            "missing",
            message,
            format!("add a line such as  {key} = {example}"),
        );
        self.findings.add(finding.at(self.place.clone(), format!("`{key}` is missing here")));
    }

    pub(super) fn wrong_kind(
        &self,
        key: &str,
        value: &Spanned<DeValue<'_>>,
        wanted: &str,
        example: &str,
    ) {
        self.error(
            "wrong-kind",
            &value.span(),
            format!("`{key}` must be {wanted}, not {}", kind(value.get_ref())),
            &format!("write  {key} = {example}"),
        );
    }

    /// A text, if the key is there; trimmed, at most `most` characters.
    pub(super) fn text(&self, key: &'static str, most: usize) -> Option<Placed<String>> {
        let value = self.get(key)?;
        let DeValue::String(text) = value.get_ref() else {
            self.wrong_kind(key, value, "text", "\"...\"");
            return None;
        };
        let place = value.span();
        let text = text.replace("\r\n", "\n");
        if let Some(bad) = text.chars().find(|c| unprintable(*c)) {
            self.error(
                "control-character",
                &place,
                format!(
                    "`{key}` holds a character that cannot be printed: {}",
                    bad.escape_unicode()
                ),
                "delete it; ordinary letters, numbers, signs and line ends are fine",
            );
            return None;
        }
        // A line is one line; notes keep their paragraphs.
        let text = if most > 100 {
            text.trim().to_string()
        } else {
            text.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        if text.chars().count() > most {
            let message = format!("`{key}` is longer than {most} characters");
            self.error("too-long", &place, message, "shorten it; it has to fit on paper");
            return None;
        }
        Some(Placed { value: text, place })
    }

    /// A text that must be there and not be empty.
    pub(super) fn need_text(&self, key: &'static str, example: &str) -> Option<Placed<String>> {
        if !self.has(key) {
            self.missing(key, example);
            return None;
        }
        // A name has to fit a column of a table, a title a line.
        let most = if key == "name" { 40 } else { 80 };
        let text = self.text(key, most)?;
        if text.value.is_empty() {
            let help = format!("write  {key} = {example}");
            self.error("empty-text", &text.place, format!("`{key}` is empty"), &help);
            return None;
        }
        Some(text)
    }

    /// One of some words.
    pub(super) fn word<T: Copy>(&self, key: &'static str, of: &[(&str, T)]) -> Option<Placed<T>> {
        let text = self.text(key, 80)?;
        let found = of.iter().find(|(word, _)| *word == text.value.to_lowercase());
        if let Some((_, value)) = found {
            return Some(Placed { value: *value, place: text.place });
        }
        let words: Vec<&str> = of.iter().map(|(word, _)| *word).collect();
        let guess = meant(&text.value, words.iter().copied());
        let guess = guess.map_or(String::new(), |g| format!("did you mean \"{g}\"? "));
        let help = format!("{guess}it may be \"{}\"", words.join("\", \""));
        let message = format!("`{key}` cannot be \"{}\"", text.value);
        self.error("unknown-word", &text.place, message, &help);
        None
    }

    /// A table under a key, if it is there.
    pub(super) fn table(&self, key: &'static str) -> Option<Table<'a>> {
        let value = self.get(key)?;
        self.inner(key, format!("`{key}`"), value)
    }

    /// Tables under a key: `[[key]]`, or a list of inline tables.
    pub(super) fn tables(&self, key: &'static str, most: usize) -> Vec<Table<'a>> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let DeValue::Array(items) = value.get_ref() else {
            self.wrong_kind(key, value, "a list of tables", &format!("[{{ ... }}], or [[{key}]]"));
            return Vec::new();
        };
        if items.len() > most {
            let message = format!("{} has {} of `{key}`", self.name, items.len());
            let help = format!("at most {most} are allowed; make several plans");
            self.error("too-many", &value.span(), message, &help);
            return Vec::new();
        }
        // Said once: all are written alike.
        if let Some(odd) = items.iter().find(|i| !matches!(i.get_ref(), DeValue::Table(_))) {
            self.wrong_kind(key, odd, "a list of tables", "[{ ... }, { ... }]");
            return Vec::new();
        }
        let named = |(i, item)| self.inner(key, format!("{key} {}", i + 1), item);
        items.iter().enumerate().filter_map(named).collect()
    }

    /// A list of texts, each with its place.
    pub(super) fn texts(
        &self,
        key: &'static str,
        most: usize,
        example: &str,
    ) -> Vec<Placed<String>> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let DeValue::Array(items) = value.get_ref() else {
            self.wrong_kind(key, value, "a list of texts", example);
            return Vec::new();
        };
        let mut texts = Vec::new();
        for item in items.iter().take(most) {
            if let DeValue::String(text) = item.get_ref() {
                texts.push(Placed { value: text.trim().to_string(), place: item.span() });
            } else {
                self.wrong_kind(key, item, "a list of texts", example);
            }
        }
        texts
    }

    fn inner(&self, key: &str, name: String, value: &'a Spanned<DeValue<'a>>) -> Option<Table<'a>> {
        let DeValue::Table(table) = value.get_ref() else {
            self.wrong_kind(key, value, "a table", "{ ... }");
            return None;
        };
        let (place, findings) = (value.span(), self.findings);
        Some(Table { name, keys: table, place, asked: RefCell::default(), findings })
    }

    /// Finds the keys nobody asked for.
    pub(super) fn close(&self) {
        let asked = self.asked.borrow();
        for (key, _) in self.keys {
            if !asked.contains(&key.get_ref().as_ref()) {
                self.unknown(key.get_ref(), &key.span(), &asked);
            }
        }
    }

    pub(super) fn unknown(&self, key: &str, place: &Range<usize>, known: &[&str]) {
        let guess = meant(key, known.iter().copied());
        let guess = guess.map_or(String::new(), |g| format!("did you mean `{g}`? "));
        let mut known: Vec<&str> = known.to_vec();
        known.sort_unstable();
        known.dedup();
        let help = format!("{guess}here may stand: {}", known.join(", "));
        let message = format!("{} knows no `{}`", self.name, key.escape_debug());
        self.error("unknown-key", place, message, &help);
    }
}

/// Characters that no font has or that would reorder the line.
pub(crate) fn unprintable(c: char) -> bool {
    let reorders =
        matches!(c, '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}');
    let private = matches!(c, '\u{E000}'..='\u{F8FF}' | '\u{F0000}'..='\u{10FFFF}');
    (c.is_control() && !matches!(c, '\n' | '\t')) || reorders || private || c == '\u{FEFF}'
}

fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
