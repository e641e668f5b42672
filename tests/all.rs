//! The one test binary: each integration binary of its own would link the typesetter again.
#![expect(clippy::disallowed_methods, reason = "tests read their fixtures")]
#![expect(clippy::unwrap_used, reason = "a test that cannot read its fixture has failed")]

mod booklet;
mod calendar;
mod cases;
mod chemistry;
mod class;
mod cli;
mod doses;
mod findings;
#[cfg(feature = "pdf")]
mod fold;
mod formulas;
#[cfg(feature = "pdf")]
mod ink;
mod language;
#[cfg(feature = "pdf")]
mod large;
mod layers;
mod library;
#[cfg(feature = "pdf")]
mod measured;
mod pages;
#[cfg(feature = "pdf")]
mod paper;
mod plans;
#[cfg(feature = "pdf")]
mod print;
mod problems;
mod properties;
mod readme;
mod recipe;
mod reference;
mod review;
#[cfg(feature = "pdf")]
mod sheets;
mod shelf;
mod sums;
#[cfg(feature = "pdf")]
mod typst;
mod unpack;
mod water;
mod worked;

use std::path::PathBuf;

/// Files of a folder of the project with this ending, sorted, with their texts.
fn files(folder: &str, ending: &str) -> Vec<(PathBuf, String)> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let mut all: Vec<PathBuf> = std::fs::read_dir(root.join(folder))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == ending))
        .collect();
    all.sort();
    all.into_iter().map(|p| (p.clone(), std::fs::read_to_string(&p).unwrap())).collect()
}

/// Every plan that must compute: the examples and `plans/good`.
fn good_plans() -> Vec<(String, String)> {
    let all = [files("data/plans", "toml"), files("tests/plans/good", "toml")].concat();
    let named = |(path, text): (PathBuf, String)| {
        (path.file_name().unwrap().to_string_lossy().into_owned(), text)
    };
    all.into_iter().map(named).collect()
}
