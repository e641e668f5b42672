//! From files to files: what each command does, from the text of a plan to what is written.

mod class;
mod paper;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::booklet::block::Block;
use crate::booklet::folio::Carried;
use crate::booklet::own::Own;
use crate::booklet::{self, Booklet, Grow, compose};
use crate::cli::{Class, Edition, Form};
use crate::compute::{self, Results};
use crate::disk;
use crate::finding::{self, Finding, Findings};
use crate::library::Library;
use crate::log;
use crate::plan::{self, Plan};
use crate::write::{carry, explain, log as blank_log, markdown, numbers, svg};

use paper::linked;
pub(crate) use paper::to_fold;
pub use paper::{FOLD, LOOK};

/// The plan that `binleaf new` writes.
pub const STARTER: &str = include_str!("../data/plans/starter.toml");

/// A plan as far as it could be worked.
#[derive(Debug)]
pub struct Worked {
    /// The plan text.
    pub text: String,
    /// What a person calls it: its path.
    pub name: String,
    /// What there is to say.
    pub findings: Vec<Finding>,
    /// The plan and its results, if nothing found is an error.
    pub done: Option<(Plan, Results)>,
    /// Short digest of the text.
    pub digest: String,
    /// What whoever prints should know, once it is made.
    pub advice: Vec<String>,
    /// Pages of one's own.
    pub own: Own,
}

impl Worked {
    /// Whether something found stops the booklet.
    #[must_use]
    pub fn failed(&self) -> bool {
        self.done.is_none()
    }

    /// Composes the booklet.
    ///
    /// # Errors
    /// A fault in the page templates of ours; of others it is said in their findings.
    #[must_use]
    pub fn booklet(&self) -> Option<Result<Booklet, String>> {
        let (plan, results) = self.done.as_ref()?;
        let (library, findings) = (Library::embedded(), self.findings.as_slice());
        let grow = Grow { plan, results, library, findings, digest: &self.digest };
        let booklet = compose(&grow, &self.own);
        Some(booklet.and_then(|booklet| Ok(Booklet { carries: self.carried()?, ..booklet })))
    }

    /// What a booklet carries so that it can be made again: the plan and its results. Sheets for
    /// pupils carry nothing, or the answers would be in them.
    fn carried(&self) -> Result<Vec<Carried>, String> {
        let own = self.own.pages.iter();
        let pages = own.map(|(name, page)| (name.as_str(), page.text.as_str())).collect();
        Ok(carry::files(&self.text, numbers(self)?, &pages))
    }
}

impl Worked {
    /// Composes the paper for the bins themselves.
    ///
    /// # Errors
    /// A fault in the page templates.
    #[must_use]
    pub fn shelf(&self) -> Option<Result<Booklet, String>> {
        let (plan, results) = self.done.as_ref()?;
        let (library, findings) = (Library::embedded(), self.findings.as_slice());
        Some(booklet::shelf(&Grow { plan, results, library, findings, digest: &self.digest }))
    }
}

/// Reads, checks and computes a plan text.
#[must_use]
pub fn work(text: String, name: &str) -> Worked {
    work_with(text, name, Own::default())
}

/// The same for a plan with pages of one's own.
#[must_use]
pub fn work_with(text: String, name: &str, own: Own) -> Worked {
    let findings = Findings::default();
    let mut plan = plan::read(&text, &findings);
    if let Some(read) = &plan {
        booklet::sequence::check(&read.pages, &own, &findings);
        plan = plan.filter(|_| !findings.has_errors());
    }
    let done = plan.map(|plan| {
        let results = compute::compute(&plan, Library::embedded(), &findings);
        (plan, results)
    });
    let digest = digest(&text);
    let mut worked = Worked {
        name: name.into(),
        findings: findings.sorted(),
        done,
        digest,
        text,
        own,
        advice: Vec::new(),
    };
    if !worked.own.is_empty() {
        // What is wrong with pages is known once they are filled in.
        let _ = worked.booklet();
        worked.done = worked.done.filter(|_| !worked.own.has_errors());
    }
    worked
}

/// Short digest of a plan text.
pub(crate) fn digest(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    let [a, b, c, d, ..] = *digest else { return String::new() };
    format!("{:08x}", u32::from_be_bytes([a, b, c, d]))
}

/// Reads the plan at `path`, or from standard input if it is `-`.
///
/// # Errors
/// One line: what could not be read and what to do.
pub fn read(path: &Path) -> Result<String, String> {
    disk::read_text(path, plan::LONGEST, "a plan")
}

/// Reads the log at `path`, or from standard input if it is `-`.
///
/// # Errors
/// One line: what could not be read and what to do.
pub fn read_log(path: &Path) -> Result<String, String> {
    disk::read_text(path, log::LONGEST, "a log")
}

/// Makes the booklet of one plan and returns the files written.
///
/// # Errors
/// One line each: a file that could not be written, or a fault of the typesetter.
pub fn make(
    worked: &mut Worked,
    forms: &[Form],
    dir: &Path,
    class: &Class,
) -> Result<Vec<PathBuf>, Vec<String>> {
    let stem = stem(&worked.name);
    let own_files = class.apart && class.groups > 1;
    if own_files && forms.contains(&Form::Fold) {
        return Err(vec![
            "sheets of each group apart are not folded: leave out --apart, or fold".into(),
        ]);
    }
    let booklets = std::thread::scope(|scope| {
        // The typesetter reads its templates and fonts meanwhile.
        if forms.iter().any(|form| *form != Form::Md) {
            scope.spawn(paper::ready);
        }
        class::booklets(worked, class, &stem)
    });
    let Some(booklets) = booklets else { return Ok(Vec::new()) };
    let booklets = booklets.map_err(|e| vec![e])?;
    let named: Vec<_> = booklets.iter().map(|(name, booklet)| (name.clone(), booklet)).collect();
    let mut files = in_forms(worked, &named, forms, dir)?;
    if forms.contains(&Form::Fold) {
        files.extend(paper::folded(worked, &stem, class, dir)?);
        if files.is_empty() {
            return Err(std::mem::take(&mut worked.advice));
        }
    }
    if let Some((plan, results)) =
        worked.done.as_ref().filter(|_| class.editions.contains(&Edition::Grower))
    {
        let blank = blank_log::blank(plan, results).map_err(|e| vec![e])?;
        files.push((dir.join(format!("{stem}-log.csv")), blank));
    }
    disk::write_all(&files, Path::new(&worked.name))
}

/// Booklets, each with the stem of its files, in the forms that are asked for.
pub(crate) fn in_forms(
    worked: &mut Worked,
    booklets: &[(String, &Booklet)],
    forms: &[Form],
    dir: &Path,
) -> Result<Vec<disk::File>, Vec<String>> {
    let typeset = forms.contains(&Form::Pdf);
    let mut pdfs = if typeset { paper::pdfs(booklets) } else { Vec::new() }.into_iter();
    let mut files = Vec::new();
    for (stem, booklet) in booklets {
        if forms.contains(&Form::Md) {
            let folder = format!("{stem}-drawings");
            let text = markdown::write(booklet, &format!("{}/", linked(&folder)));
            for drawing in drawings(booklet) {
                let path = dir.join(&folder).join(format!("{}.svg", drawing.name));
                files.push((path, svg::write(drawing).into_bytes()));
            }
            files.push((dir.join(format!("{stem}.md")), text.into_bytes()));
        }
        if let Some(pdf) = pdfs.next() {
            let bytes = pdf.map_err(|e| paper::no_glyph(worked, e))?;
            files.push((dir.join(format!("{stem}.pdf")), bytes));
        }
    }
    Ok(files)
}

/// File name of a plan without its ending; "booklet" for standard input.
#[must_use]
pub fn stem(name: &str) -> String {
    let stem = Path::new(name).file_stem().map(|s| s.to_string_lossy().into_owned());
    stem.filter(|s| s != "-").unwrap_or_else(|| "booklet".into())
}

fn drawings(booklet: &Booklet) -> impl Iterator<Item = &booklet::drawing::Drawing> {
    let blocks = booklet.pages.iter().flat_map(|p| &p.blocks);
    blocks.filter_map(|b| if let Block::Figure(drawing) = b { Some(drawing) } else { None })
}

/// Writes the starter plan, never over a file that is there.
///
/// # Errors
/// One line: what could not be written and what to do.
pub fn new(path: &Path) -> Result<(), String> {
    disk::new(path, STARTER)
}

/// How a quantity was worked, in every scope it has, and what it rests on.
///
/// # Errors
/// One line, if the plan has no such calculation: what was probably meant.
pub fn explain(worked: &Worked, id: &str) -> Result<String, String> {
    let Some((_, results)) = &worked.done else { return Err("the plan has errors".into()) };
    let text = explain::write(&results.steps, id, Library::embedded());
    if !text.is_empty() {
        return Ok(text);
    }
    let ids: BTreeSet<&str> = results.steps.iter().map(|s| s.id).collect();
    let guess = finding::meant(id, ids.iter().copied());
    let guess = guess.map_or(String::new(), |g| format!("did you mean {g}? "));
    let known: Vec<&str> = ids.into_iter().collect();
    Err(format!(
        "nothing called {id} is worked in this plan; {guess}there are: {}",
        known.join(", ")
    ))
}

/// Every computed quantity as JSON.
///
/// # Errors
/// If a quantity is no number, which a test excludes.
pub fn numbers(worked: &Worked) -> Result<String, String> {
    let quantities = worked.done.as_ref().map_or(&[][..], |(_, results)| &results.quantities);
    numbers::write(&worked.digest, &worked.findings, &worked.text, quantities)
}
