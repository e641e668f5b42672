//! One page of one's own, as far as it can be read without a plan.

use std::collections::BTreeMap;
use std::ops::Range;

use minijinja::value::Value;

use super::catalogue::{PAGES, Repeats, repeats};
use super::fault::Fault;
use super::folio::Page;
use super::front::{self, Front};
use super::lint;
use super::own::Own;
use super::words::{Blocks, Words};
use crate::finding::{Finding, Findings, Severity, meant};
use crate::plan::unprintable;

/// A page of one's own.
#[derive(Debug)]
pub struct OwnPage {
    /// Its path, for findings.
    pub path: String,
    /// Its text as written.
    pub text: String,
    /// What there is to say about it.
    pub findings: Findings,
    /// Its text as it is filled in: letter for letter where it was, front lines and what cannot be
    /// filled in blanked.
    pub(super) template: String,
    /// Calculations it asks for, with their places.
    pub(super) worked: Vec<(String, Range<usize>)>,
    /// Whether it can be filled in at all.
    pub(super) whole: bool,
    /// For what it is made again.
    pub(super) repeats: Repeats,
    /// Whether it stands in place of a page of ours.
    pub(super) replaces: bool,
    pub(super) front: Front,
}

impl OwnPage {
    pub(super) fn read(name: &str, path: String, text: String) -> Self {
        let findings = Findings::default();
        let front = front::read(&text, &findings);
        let replaces = PAGES.iter().any(|(id, _)| *id == name);
        let kind = front.repeats.as_ref().map_or(Repeats::Once, |(repeats, _)| *repeats);
        let mut page = Self {
            template: lint::blank(&text, 0..front.end),
            repeats: if replaces { repeats(name) } else { kind },
            path,
            text,
            findings,
            worked: Vec::new(),
            whole: true,
            replaces,
            front,
        };
        page.check_front(name);
        page.check_letters();
        lint::check(&mut page);
        page
    }

    pub(super) fn error(
        &self,
        code: &'static str,
        place: Range<usize>,
        message: String,
        help: &str,
    ) {
        // Whoever counts in bytes may end within a letter.
        let start = self.text.floor_char_boundary(place.start);
        let end = self.text.ceil_char_boundary(place.end.max(start));
        let finding = Finding::new(Severity::Error, code, message, help);
        self.findings.add(finding.at(start..end, "here"));
    }

    /// Whether it says other things than the page of ours that it stands for.
    pub(super) fn differs(&self, name: &str) -> bool {
        let ours = PAGES.iter().find(|(id, _)| *id == name).map(|(_, text)| text.trim());
        ours != self.text.get(self.front.end..).map(str::trim)
    }

    /// Says if a calculation is asked for that this plan has not.
    pub(super) fn ask_for(&self, numbers: &BTreeMap<&'static str, usize>) {
        // What only other plans have is no slip.
        let ours = |id: &str| PAGES.iter().any(|(_, text)| text.contains(&format!("\"{id}\"")));
        for (id, place) in self.worked.iter().filter(|(id, _)| !numbers.contains_key(id.as_str())) {
            if ours(id) {
                continue;
            }
            let says = format!("nothing called `{}` is worked in this plan", id.escape_debug());
            let near = meant(id, numbers.keys().copied());
            let near = near.map_or(String::new(), |n| format!("did you mean \"{n}\"? "));
            let help = format!("{near}`binleaf numbers` lists the names");
            let finding = Finding::new(Severity::Note, "not-worked", says, help);
            self.findings.add(finding.at(place.clone(), "here"));
        }
    }

    /// A page that replaces ours repeats as ours does; any other says where it stands.
    fn check_front(&self, name: &str) {
        if let Some((_, place)) = self.front.repeats.as_ref().filter(|_| self.replaces) {
            let says =
                format!("`{name}` is a page of the booklet and is made again as it always is");
            let help = "delete this line, or give the file a name of its own";
            return self.error("page-front", place.clone(), says, help);
        }
        if self.front.beside.is_some() || self.replaces {
            return;
        }
        let near = meant(name, PAGES.map(|(id, _)| id));
        let near = near.map_or(String::new(), |n| {
            format!("if it was to replace our page, call the file {n}.md; ")
        });
        let help = format!("{near}put these lines on top:  ---  after: mixing  ---");
        let says = "this page does not say where it stands".to_string();
        let first = self.text.find('\n').unwrap_or(self.text.len());
        self.error("missing", 0..first, says, &help);
    }

    /// No letters that cannot be printed.
    fn check_letters(&self) {
        for (at, bad) in self.text.char_indices().filter(|(_, c)| unprintable(*c)).take(5) {
            let says = format!("a character that cannot be printed: {}", bad.escape_unicode());
            let help = "delete it; ordinary letters, numbers, signs and line ends are fine";
            self.error("control-character", at..at + bad.len_utf8(), says, help);
        }
    }
}

impl<'a> Words<'a> {
    /// Puts pages of one's own beside ours and in their place.
    pub(super) fn with(mut self, own: &'a Own) -> Self {
        for (name, page) in own.pages.iter().filter(|(_, page)| page.whole) {
            if let Err(error) = self.environment.add_template(name, &page.template) {
                // Where something was blanked, that was said.
                let fault = Some(Fault::stopped(&error)).filter(|_| !page.findings.has_errors());
                if let Some(Fault { code, place, says, help }) = fault {
                    page.error(code, place, says, &help);
                }
            }
        }
        self
    }

    /// Fills one page of one's own with blocks of either list; it must call `needed`.
    ///
    /// # Errors
    /// Everything that is wrong with it, each with its place in the template.
    pub(super) fn own_page(
        &self,
        id: &str,
        values: &Value,
        blocks: [&Blocks; 2],
        needed: Option<&'static str>,
    ) -> Result<Page, Vec<Fault>> {
        self.fill(id, values, blocks, needed, &self.budget)
    }
}
