//! Every bad plan, with the whole of what is said about it; a plan for every code.
//!
//! With `BINLEAF_BLESS=1` the expected texts are written anew; read the difference before
//! committing it.

use std::collections::BTreeSet;

use binleaf::finding::CODES;
use binleaf::{look, run, terminal};

use crate::files;

#[test]
fn every_bad_plan_says_what_is_wrong() {
    let bless = std::env::var_os("BINLEAF_BLESS").is_some();
    for (path, text) in files("tests/plans/bad", "toml") {
        let code = path.file_stem().unwrap().to_string_lossy().into_owned();
        if code == "no-glyph" {
            continue; // said by the typesetter: see typst.rs
        }
        let worked = run::work(text, "plan.toml");
        let found: BTreeSet<&str> = worked.findings.iter().map(|f| f.code).collect();
        assert!(found.contains(code.as_str()), "{code} was not found, but {found:?}");
        let said = terminal::render(&worked.findings, &worked.text, "plan.toml", false);
        let expected = path.with_extension("txt");
        if bless {
            std::fs::write(&expected, &said).unwrap();
        }
        let expected = std::fs::read_to_string(&expected).unwrap_or_default();
        assert_eq!(said, expected, "what is said about {code} has changed");
    }
}

#[test]
fn every_code_has_a_bad_plan() {
    let names = files("tests/plans/bad", "toml").into_iter();
    let names: BTreeSet<String> =
        names.map(|(p, _)| p.file_stem().unwrap().to_string_lossy().into_owned()).collect();
    let logs = files("tests/logs/bad", "csv").into_iter();
    let logs = logs.map(|(p, _)| p.file_stem().unwrap().to_string_lossy().into_owned());
    let booklets = files("tests/booklets/bad", "pdf").into_iter();
    let booklets = booklets.map(|(p, _)| p.file_stem().unwrap().to_string_lossy().into_owned());
    let pages = crate::pages::bad();
    let names: BTreeSet<String> =
        names.into_iter().chain(logs).chain(booklets).chain(pages).collect();
    let codes: BTreeSet<String> = CODES.iter().map(ToString::to_string).collect();
    assert_eq!(names, codes);
}

/// Every bad log, read for the shelf of totes, with the whole of what is said about it.
#[test]
fn every_bad_log_says_what_is_wrong() {
    let bless = std::env::var_os("BINLEAF_BLESS").is_some();
    let plan = run::work(include_str!("../data/plans/shelf-totes.toml").into(), "plan.toml");
    for (path, text) in files("tests/logs/bad", "csv") {
        let code = path.file_stem().unwrap().to_string_lossy().into_owned();
        let looked = look::review(&plan, &text);
        let found: BTreeSet<&str> = looked.findings.iter().map(|f| f.code).collect();
        assert!(found.contains(code.as_str()), "{code} was not found, but {found:?}");
        let said = terminal::render(&looked.findings, &text, "log.csv", false);
        let expected = path.with_extension("txt");
        if bless {
            std::fs::write(&expected, &said).unwrap();
        }
        let expected = std::fs::read_to_string(&expected).unwrap_or_default();
        assert_eq!(said, expected, "what is said about {code} has changed");
    }
}

#[test]
fn every_finding_says_what_to_do() {
    for (path, text) in files("tests/plans/bad", "toml") {
        for finding in run::work(text, "plan.toml").findings {
            assert!(!finding.help.is_empty(), "{}: {}", path.display(), finding.message);
            assert!(!finding.message.ends_with('.'), "{}", finding.message);
        }
    }
}

#[test]
fn everything_wrong_is_found_in_one_run() {
    let text =
        "titel = 'x'\nsown = 2027-13-01\n[[bin]]\nshape = 'cube'\ndepth = 12\npot = '9 in'\n";
    let worked = run::work(text.into(), "plan.toml");
    let found: BTreeSet<&str> = worked.findings.iter().map(|f| f.code).collect();
    // The date is not TOML, which stops the reader; mended, all the rest is said at once.
    assert_eq!(found, BTreeSet::from(["not-toml"]));
    let mended = text.replace("2027-13-01", "'2027-13-01'");
    let worked = run::work(mended, "plan.toml");
    let found: BTreeSet<&str> = worked.findings.iter().map(|f| f.code).collect();
    let wanted = ["missing", "unknown-key", "bad-date", "unknown-word", "unknown-pot"];
    assert!(wanted.iter().all(|code| found.contains(code)), "{found:?}");
}
