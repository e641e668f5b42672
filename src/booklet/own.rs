//! Pages of one's own: files of a folder that replace pages of the booklet or add some.
//!
//! They come from a stranger: sizes are bounded, and `lint.rs` lets only a small language
//! through.

use std::collections::BTreeMap;

use sha2::{Digest, Sha256};

use super::catalogue::{PAGES, SHEETS};
pub use super::own_page::OwnPage;
use crate::finding::{Finding, Findings, Severity, meant};

/// The longest page that is read (bytes).
pub const LONGEST: usize = 60_000;

/// The most pages a folder may hold.
pub const MOST: usize = 60;

/// Whether a page may be called so.
#[must_use]
pub fn is_name(name: &str) -> bool {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    (1..=40).contains(&name.len()) && name.chars().all(plain)
}

/// What was found in a folder under a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// Text of a page.
    Text(String),
    /// No page, and not taken for one: why.
    Passed(&'static str),
    /// Meant as a page, but unreadable: what is wrong and what to do.
    Unreadable(&'static str, &'static str),
}

impl Found {
    /// A page from the bytes of its file.
    #[must_use]
    pub fn page(bytes: Vec<u8>) -> Self {
        if bytes.len() > LONGEST {
            return Self::Unreadable("is longer than 60000 bytes", "part it into several pages");
        }
        let Ok(text) = String::from_utf8(bytes) else {
            let help = "open it in a plain text editor and save it as UTF-8";
            return Self::Unreadable("is not text in UTF-8", help);
        };
        // Line ends of either kind, and without the mark some editors put in front.
        Self::Text(text.strip_prefix('\u{FEFF}').unwrap_or(&text).replace("\r\n", "\n"))
    }
}

/// The pages of a folder.
#[derive(Debug, Default)]
pub struct Own {
    /// The folder, for findings.
    pub path: String,
    /// What there is to say of the folder, without a place.
    pub findings: Findings,
    /// By name.
    pub pages: BTreeMap<String, OwnPage>,
}

impl Own {
    /// Reads what was found in a folder, by file name.
    #[must_use]
    pub fn read(path: &str, found: Vec<(String, Found)>) -> Self {
        let mut own = Self { path: path.into(), ..Self::default() };
        for (file, found) in found {
            match found {
                Found::Text(text) => {
                    let path = own.shown(&file);
                    if let Some(name) = own.name(&file) {
                        own.pages.insert(name.clone(), OwnPage::read(&name, path, text));
                    }
                }
                Found::Passed(why) => {
                    let help = "nothing to do, unless it was meant as a page: NAME.md";
                    own.says(
                        Severity::Note,
                        "page-passed",
                        format!("{} is not read: it {why}", own.shown(&file)),
                        help,
                    );
                }
                Found::Unreadable(what, help) => {
                    own.says(
                        Severity::Error,
                        "page-file",
                        format!("{} {what}", own.shown(&file)),
                        help,
                    );
                }
            }
        }
        own.stand();
        own
    }

    /// Path of a file, letter for letter.
    fn shown(&self, file: &str) -> String {
        format!("{}/{file}", self.path.trim_end_matches('/')).escape_debug().to_string()
    }

    fn says(&self, severity: Severity, code: &'static str, message: String, help: &str) {
        self.findings.add(Finding::new(severity, code, message, help));
    }

    /// The name of a page by its file, if it can be one.
    fn name(&self, file: &str) -> Option<String> {
        let name = file.strip_suffix(".md").unwrap_or(file);
        let sheet = SHEETS.iter().any(|(id, _)| *id == name);
        if sheet {
            let says =
                format!("{} cannot be replaced: it is no page of the booklet", self.shown(file));
            self.says(Severity::Error, "page-name", says, "give the file another name");
            return None;
        }
        if !is_name(name) {
            let says = format!("{} cannot be the name of a page", self.shown(file));
            let lower = name.to_lowercase().replace([' ', '_'], "-");
            let guess = meant(&lower, PAGES.map(|(id, _)| id))
                .map_or(String::new(), |g| format!("did you mean {g}.md? "));
            let help = format!(
                "{guess}name it in small letters a to z, digits and hyphens, at most 40, such as \
                 rota.md"
            );
            self.says(Severity::Error, "page-name", says, &help);
            return None;
        }
        Some(name.into())
    }

    /// Whether there is nothing, and nothing to say.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.pages.is_empty() && self.findings.sorted().is_empty()
    }

    /// Points at letters that the fonts do not have, in the pages and in the text of the plan; none
    /// if that is not what the typesetter complains of.
    #[must_use]
    pub fn no_glyphs(&self, plan: &str, complaints: &[String]) -> Option<Vec<Finding>> {
        let shown = |c: char| !c.is_ascii() && complaints.iter().any(|line| line.contains(c));
        let strange = |text: &str| -> Vec<Finding> {
            let letters = text.char_indices().filter(|(_, c)| shown(*c));
            letters.take(20).map(|(at, c)| no_glyph(at, c)).collect()
        };
        if !complaints.iter().any(|line| line.contains("font")) {
            return None;
        }
        let in_plan = strange(plan);
        let mut none = in_plan.is_empty();
        for page in self.pages.values() {
            let in_page = strange(&page.text);
            none &= in_page.is_empty();
            for finding in in_page {
                page.findings.add(finding);
            }
        }
        (!none).then_some(in_plan)
    }

    /// Whether anything found stops the booklet.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.findings.has_errors() || self.pages.values().any(|p| p.findings.has_errors())
    }

    /// The digest of a booklet: of its plan, and of these pages if there are any.
    pub(super) fn digest(&self, plan: &str) -> String {
        if self.pages.is_empty() {
            return plan.into();
        }
        let mut digest = Sha256::new();
        for (name, page) in &self.pages {
            // Lengths part the texts: no two folders run together to the same.
            digest.update(format!("{name} {}\n{}", page.text.len(), page.text));
        }
        let [a, b, c, d, ..] = *digest.finalize() else { return plan.into() };
        format!("{plan}, pages {:08x}", u32::from_be_bytes([a, b, c, d]))
    }

    /// Says of each page whether the one it stands beside is there.
    fn stand(&self) {
        let placed = self.usual();
        for (name, page) in &self.pages {
            let Some((beside, _)) = &page.front.beside else { continue };
            let known =
                PAGES.map(|(id, _)| id).into_iter().chain(self.pages.keys().map(String::as_str));
            let known: Vec<&str> = known.filter(|k| k != name).collect();
            if !known.contains(&beside.text.as_str()) {
                let says = format!("there is no page `{}`", beside.text.escape_debug());
                let help = guess(&beside.text, &known);
                page.error("unknown-page", beside.place.clone(), says, &help);
            } else if !placed.contains(&name.as_str()) {
                let says = "this page stands beside one that stands beside it".to_string();
                let help =
                    "let one of them stand beside a page of the booklet, such as  after: mixing";
                page.error("page-circle", beside.place.clone(), says, help);
            }
        }
    }

    /// Names of all pages in their usual order: ours, with each of one's own beside its page.
    pub(super) fn usual(&self) -> Vec<&str> {
        let moved = |id: &str| self.pages.get(id).is_some_and(|p| p.front.beside.is_some());
        let mut order: Vec<&str> =
            PAGES.iter().map(|(id, _)| *id).filter(|id| !moved(id)).collect();
        let mut waiting: Vec<(&str, &str, bool)> = Vec::new();
        for (name, page) in &self.pages {
            match &page.front.beside {
                Some((word, before)) => waiting.push((name, &word.text, *before)),
                // Without its place, which is said, it is still looked at.
                None if !page.replaces => order.push(name),
                None => {}
            }
        }
        // Those after one page: the first is put in last, next to it.
        waiting.sort_by(|a, b| if a.2 { a.0.cmp(b.0) } else { b.0.cmp(a.0) });
        loop {
            let before = waiting.len();
            waiting.retain(|(name, beside, first)| {
                let Some(at) = order.iter().position(|id| id == beside) else { return true };
                order.insert(if *first { at } else { at + 1 }, name);
                false
            });
            if waiting.is_empty() || waiting.len() == before {
                return order;
            }
        }
    }
}

/// A letter that the fonts do not have.
fn no_glyph(at: usize, letter: char) -> Finding {
    let says = format!("the booklet's fonts have no letter {letter}");
    let help = "write it in Latin, Greek or Cyrillic letters; or make Markdown only: --to md";
    let finding = Finding::new(Severity::Error, "no-glyph", says, help);
    finding.at(at..at + letter.len_utf8(), "this letter")
}

/// What was probably meant, and what there is.
pub(super) fn guess(name: &str, known: &[&str]) -> String {
    let guess = meant(name, known.iter().copied());
    let guess = guess.map_or(String::new(), |g| format!("did you mean `{g}`? "));
    format!("{guess}there are: {}", known.join(", "))
}
