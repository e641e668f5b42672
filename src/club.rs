//! Pages of one's own, from a folder to findings; and the reference of what they may use.

use std::path::Path;

use crate::booklet::own::Own;
use crate::booklet::{self, Grow};
use crate::disk;
use crate::finding;
use crate::library::Library;
use crate::run::{self, Worked};
use crate::terminal::{self, Said};
use crate::write::reference;

/// The plan the examples of the reference come from.
const EXAMPLE: &str = include_str!("../data/plans/shelf-totes.toml");

/// Reads the pages of a folder; what is wrong with them is in their findings.
///
/// # Errors
/// One line, if the folder itself cannot be read.
pub fn read(dir: &Path) -> Result<Own, String> {
    Ok(Own::read(&dir.display().to_string(), disk::read_pages(dir)?))
}

/// All there is to say of a plan and the pages that go with it, as a terminal shows it.
#[must_use]
pub fn said(worked: &Worked, styled: bool) -> String {
    let own = &worked.own;
    let folder = own.findings.sorted();
    let pages: Vec<_> = own.pages.values().map(|page| (page, page.findings.sorted())).collect();
    let mut said = vec![
        Said { findings: &worked.findings, text: &worked.text, path: &worked.name },
        Said { findings: &folder, text: "", path: &own.path },
    ];
    said.extend(pages.iter().map(|(page, findings)| Said {
        findings,
        text: &page.text,
        path: &page.path,
    }));
    terminal::render_all(&said, styled)
}

/// A page of ours as it is written, to begin from.
///
/// # Errors
/// One line, if there is none of that name: what was probably meant.
pub fn page(name: &str) -> Result<&'static str, String> {
    let name = name.strip_suffix(".md").unwrap_or(name);
    booklet::reference::text(name).ok_or_else(|| {
        let names: Vec<&str> = booklet::reference::names().collect();
        let guess = finding::meant(name, names.iter().copied());
        let guess = guess.map_or(String::new(), |g| format!("did you mean {g}? "));
        format!("there is no page {name}; {guess}there are: {}", names.join(", "))
    })
}

/// The reference of what pages may use, with examples from the example plan: for a terminal, or as
/// Markdown.
///
/// # Errors
/// If the example plan does not work, which a test excludes.
pub fn reference(as_markdown: bool) -> Result<String, String> {
    let worked = run::work(EXAMPLE.into(), "shelf-totes.toml");
    let Some((plan, results)) = &worked.done else { return Err("the example has errors".into()) };
    let (library, findings) = (Library::embedded(), worked.findings.as_slice());
    let grow = Grow { plan, results, library, findings, digest: &worked.digest };
    let sections = booklet::reference::reference(&grow);
    Ok(if as_markdown { reference::markdown(&sections) } else { reference::plain(&sections) })
}

/// Writes a text to a new file, never over one that is there.
///
/// # Errors
/// One line: what could not be written and what to do.
pub fn write(path: &Path, text: &str) -> Result<(), String> {
    disk::new(path, text)
}
