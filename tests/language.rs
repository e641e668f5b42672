//! Other languages: every text of every booklet has its words, and nothing else changes.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use binleaf::cli::Class;
use binleaf::library::tongue::TONGUES;
use binleaf::run::{self, Worked};

/// Plans that can be made: the examples, and bad plans whose worst is a caution.
fn plans() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders = ["data/plans", "tests/plans/good", "tests/plans/bad"];
    let mut all: Vec<PathBuf> = folders
        .iter()
        .flat_map(|folder| std::fs::read_dir(root.join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    all.sort();
    all
}

/// A plan in another language; `None` if it has errors.
fn spoken(path: &Path, code: &str) -> Option<Worked> {
    let text = std::fs::read_to_string(path).ok()?;
    let line = format!("language = \"{code}\"");
    let text = if text.contains("\n[print]\n") {
        text.replace("\n[print]\n", &format!("\n[print]\n{line}\n"))
    } else {
        format!("print = {{ {line} }}\n{text}")
    };
    let worked = run::work(text, &path.to_string_lossy());
    (!worked.failed()).then_some(worked)
}

/// Every text that a language has no words for.
fn untold(code: &str) -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    let mut made = 0;
    for path in plans() {
        let Some(worked) = spoken(&path, code) else { continue };
        made += 1;
        let class = Class::default();
        let sheets = [false, true].map(|key| worked.worksheet(key, &class));
        for booklet in [worked.booklet(), worked.shelf()].into_iter().chain(sheets) {
            let booklet = booklet.unwrap().unwrap();
            assert_eq!(booklet.language, code);
            all.extend(booklet.untold);
        }
    }
    assert!(made > 30, "{made}");
    all
}

#[test]
fn nothing_is_left_in_english() {
    for tongue in TONGUES {
        let untold = untold(tongue.code);
        if let Ok(path) = std::env::var("BINLEAF_UNTOLD") {
            let lines: Vec<&str> = untold.iter().map(String::as_str).collect();
            std::fs::write(path, lines.join("\n")).unwrap();
        }
        assert!(untold.is_empty(), "{} texts, such as {:#?}", untold.len(), untold.iter().take(12));
    }
}
