//! The order of the modules, enforced: `use crate::` points only upwards; one package, one door.

use std::path::{Path, PathBuf};

/// Modules in the order of the flow; each uses only those before it.
const ORDER: [&str; 17] = [
    "number", "finding", "science", "library", "plan", "log", "compute", "booklet", "write",
    "read", "cli", "terminal", "disk", "run", "look", "unpack", "club",
];

/// A package and the files that may name it.
const DOORS: [(&str, &[&str]); 13] = [
    ("typst_as_lib", &["write/pdf.rs"]),
    ("typst_pdf", &["write/pdf.rs"]),
    (
        "comrak",
        &[
            "booklet/words.rs",
            "booklet/reader.rs",
            "booklet/fault.rs",
            "write/markdown.rs",
            "write/worked.rs",
        ],
    ),
    (
        "minijinja",
        &[
            "booklet/words.rs",
            "booklet/calls.rs",
            "booklet/scope.rs",
            "booklet/asked.rs",
            "booklet/own_page.rs",
            "booklet/lint.rs",
            "booklet/fault.rs",
            "booklet/reference.rs",
            "booklet/compose.rs",
            "booklet/values.rs",
            "booklet/retell.rs",
            "booklet/review.rs",
            "booklet/shelf/label.rs",
            "booklet/shelf/mod.rs",
            "booklet/worksheet.rs",
        ],
    ),
    ("toml::", &["plan/table.rs", "plan/value.rs", "library/mod.rs", "library/tongue.rs"]),
    ("clap", &["cli.rs", "main.rs"]),
    ("mimalloc", &["main.rs"]),
    ("annotate_snippets", &["terminal.rs"]),
    ("std::fs", &["disk.rs"]),
    ("nnls", &["compute/recipe.rs"]),
    ("hayro_syntax", &["read/mod.rs", "read/table.rs"]),
    ("miniz_oxide", &["read/mod.rs"]),
    ("csv::", &["log/mod.rs", "write/log.rs"]),
];

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

fn all() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    sources(&root, &mut paths);
    paths.sort();
    let read = |path: PathBuf| {
        let name = path.strip_prefix(&root).unwrap().to_string_lossy().replace('\\', "/");
        (name, std::fs::read_to_string(&path).unwrap())
    };
    paths.into_iter().map(read).collect()
}

#[test]
fn modules_use_only_those_above_them() {
    for (name, text) in all() {
        let own = name.split(['/', '.']).next().unwrap();
        let Some(place) = ORDER.iter().position(|m| *m == own) else { continue };
        for part in text.split("crate::").skip(1) {
            let used: String = part.chars().take_while(char::is_ascii_lowercase).collect();
            let Some(above) = ORDER.iter().position(|m| *m == used) else { continue };
            assert!(above <= place, "{name} uses {used}, which stands below it");
        }
    }
}

#[test]
fn every_package_has_its_door() {
    for (name, text) in all() {
        // Tests at the foot of a file may use what they like.
        let text = text.split("#[cfg(test)]").next().unwrap();
        for (package, doors) in DOORS {
            let names = text.lines().any(|l| l.contains(package) && !l.trim().starts_with("//"));
            assert!(!names || doors.contains(&name.as_str()), "{name} names {package}");
        }
    }
}

#[test]
fn files_and_functions_stay_short() {
    let mut long = Vec::new();
    for (name, text) in all() {
        let lines: Vec<&str> = text.lines().collect();
        if lines.len() > 300 {
            long.push(format!("{name} has {} lines", lines.len()));
        }
        for (start, line) in lines.iter().enumerate() {
            let code = line.trim_start();
            let starts = ["fn ", "pub fn ", "pub(super) fn ", "pub(crate) fn ", "pub(in "];
            if !starts.iter().any(|s| code.starts_with(s)) || line.ends_with(';') {
                continue;
            }
            let end = format!("{}}}", &line[..line.len() - code.len()]);
            let length = lines[start..].iter().position(|l| *l == end).unwrap_or(0);
            if length > 40 {
                long.push(format!("{name}: {code} has {length} lines"));
            }
        }
    }
    assert!(long.is_empty(), "{long:#?}");
}
