//! A log that comes back: read, reviewed, made into the sheet for the rest of the season.

use std::path::{Path, PathBuf};

use crate::booklet::{self, Grow};
use crate::cli::Form;
use crate::compute;
use crate::compute::review::BinReview;
use crate::finding::{Finding, Findings};
use crate::library::Library;
use crate::run::{Worked, in_forms, stem, to_fold};
use crate::{disk, log};

/// A log as far as it could be read.
#[derive(Debug)]
pub struct Looked {
    /// What there is to say about the log.
    pub findings: Vec<Finding>,
    /// What it says of each bin; empty if nothing can be said.
    pub bins: Vec<BinReview>,
}

/// Reads a log text and reviews the plan's bins by it.
#[must_use]
pub fn review(worked: &Worked, text: &str) -> Looked {
    let findings = Findings::default();
    let Some((plan, results)) = &worked.done else {
        return Looked { findings: Vec::new(), bins: Vec::new() };
    };
    let rows = log::read(text, plan, &findings);
    let bins = if findings.has_errors() {
        Vec::new()
    } else {
        compute::review::review(plan, results, &rows, &findings)
    };
    Looked { findings: findings.sorted(), bins }
}

/// Makes the sheet for the rest of the season and returns the files written.
///
/// # Errors
/// One line each: a file that could not be written, or a fault of the typesetter.
pub fn make_review(
    worked: &mut Worked,
    looked: &Looked,
    forms: &[Form],
    dir: &Path,
) -> Result<Vec<PathBuf>, Vec<String>> {
    let compose = |worked: &Worked| {
        let (plan, results) = worked.done.as_ref().filter(|_| !looked.bins.is_empty())?;
        let (library, findings) = (Library::embedded(), worked.findings.as_slice());
        let grow = Grow { plan, results, library, findings, digest: &worked.digest };
        Some(booklet::review::review(&grow, &looked.bins, &looked.findings))
    };
    let Some(booklet) = compose(worked) else { return Ok(Vec::new()) };
    let booklet = booklet.map_err(|e| vec![e])?;
    let stem = format!("{}-rest", stem(&worked.name));
    let mut files = in_forms(worked, &[(stem.clone(), &booklet)], forms, dir)?;
    if forms.contains(&Form::Fold) {
        files.extend(to_fold(worked, compose, &stem, dir)?);
    }
    disk::write_all(&files, Path::new(&worked.name))
}
