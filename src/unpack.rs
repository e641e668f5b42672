//! A booklet that comes back: its plan and results written out again.

use std::path::{Path, PathBuf};

use serde::Deserialize;

use crate::disk;
use crate::finding::{Finding, Severity};
use crate::read;
use crate::run::digest;
use crate::write::carry;

/// A booklet as far as it could be read.
#[derive(Debug)]
pub struct Unpacked {
    /// What there is to say about it.
    pub findings: Vec<Finding>,
    /// Version of binleaf that made it, if its results tell.
    pub version: Option<String>,
    /// What it carries, if it could be read.
    pub carried: Option<read::Carried>,
}

/// What is read of the results.
#[derive(Deserialize)]
struct Head {
    version: String,
    digest: String,
}

/// Reads the booklet at `path`.
///
/// # Errors
/// One line: what could not be read and what to do.
pub fn read(path: &Path) -> Result<Vec<u8>, String> {
    disk::read_bytes(path, read::LONGEST, "a booklet")
}

/// Takes the plan and the results out of a booklet.
#[must_use]
pub fn unpack(bytes: &[u8]) -> Unpacked {
    let carried = match read::carried(bytes) {
        Ok(carried) => carried,
        Err(finding) => return Unpacked { findings: vec![finding], version: None, carried: None },
    };
    let head = carried.results.as_ref().and_then(|r| serde_json::from_str::<Head>(r).ok());
    let head = head.filter(|head| head.digest == digest(&carried.plan));
    let mut findings = Vec::new();
    let Some(head) = head else {
        findings.push(Finding::new(
            Severity::Caution,
            "booklet-mixed",
            "the results in this booklet are not those of the plan in it",
            "someone has changed one of them; trust neither before you have read the plan and \
             made it again",
        ));
        return Unpacked { findings, version: None, carried: Some(carried) };
    };
    let version = Some(head.version).filter(|v| is_version(v));
    if version.as_ref().is_none_or(|v| v != THIS) {
        let made = version.as_deref().unwrap_or("another version");
        findings.push(Finding::new(
            Severity::Note,
            "booklet-version",
            format!("this booklet was made with binleaf {made}, and this is binleaf {THIS}"),
            "made again by this version it may differ in words and numbers; to get the same bytes, \
             use the version that made it",
        ));
    }
    Unpacked { findings, version, carried: Some(carried) }
}

/// Folder of the pages of one's own, in the folder that is written into.
pub const FOLDER: &str = "pages";

/// This version of binleaf.
pub const THIS: &str = env!("CARGO_PKG_VERSION");

/// Whether this can be printed as a version: the booklet may come from anyone.
fn is_version(text: &str) -> bool {
    let plain = |b: u8| b.is_ascii_alphanumeric() || b".+-".contains(&b);
    (1..=32).contains(&text.len()) && text.bytes().all(plain)
}

/// Writes what a booklet carries into `dir`, under names of the program's own.
///
/// # Errors
/// One line each: a file that is already there and differs, or cannot be written.
pub fn write(carried: &read::Carried, dir: &Path) -> Result<Vec<PathBuf>, Vec<String>> {
    let mut files = vec![(dir.join(carry::PLAN), carried.plan.clone().into_bytes())];
    if let Some(results) = &carried.results {
        files.push((dir.join(carry::RESULTS), results.clone().into_bytes()));
    }
    // A name was held to be one that a page may have: letters, digits and hyphens.
    for (name, page) in &carried.pages {
        files.push((dir.join(FOLDER).join(format!("{name}.md")), page.clone().into_bytes()));
    }
    disk::write_beside(&files)
}
