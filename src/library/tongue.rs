//! Languages of the booklet beside English: a table of words and a folder of pages each.

use std::collections::BTreeMap;

/// A language of the booklet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tongue {
    /// Its code after BCP 47, such as `es`.
    pub code: &'static str,
    words: &'static str,
    /// Its pages, by name.
    pub pages: &'static [(&'static str, &'static str)],
}

impl Tongue {
    /// English texts, some with gaps in braces, and what they are in this language.
    #[must_use]
    pub fn words(&self) -> BTreeMap<String, String> {
        // A test reads it, so that it cannot be wrong here.
        toml::from_str(self.words).unwrap_or_default()
    }
}

/// The pages of a language, each by the name of its file.
macro_rules! pages {
    ($code:literal: $($name:literal)*) => {
        &[$(($name, include_str!(concat!("../../templates/", $code, "/pages/", $name, ".md")))),*]
    };
}

/// Pages in Spanish.
const ES_PAGES: &[(&str, &str)] = pages!("es":
    "acidity"
    "bin"
    "chemistry"
    "cleaning"
    "climate"
    "gather"
    "glance"
    "glossary"
    "harvest"
    "learned"
    "mixing"
    "notes"
    "ph-unit"
    "plan"
    "plotting"
    "readings"
    "review"
    "safety"
    "setting-out"
    "shelf"
    "shelf-card"
    "shelf-label"
    "shelf-labels"
    "shelf-lid"
    "shelf-strip"
    "sources"
    "sowing"
    "supply"
    "topping-up"
    "trouble"
    "used-solution"
    "working"
    "worksheet"
);

/// Every language beside English.
pub const TONGUES: &[Tongue] =
    &[Tongue { code: "es", words: include_str!("../../templates/es/words.toml"), pages: ES_PAGES }];

/// A language by its code.
#[must_use]
pub fn tongue(code: &str) -> Option<Tongue> {
    TONGUES.iter().find(|t| t.code == code).copied()
}
