//! Where a fact comes from.

use serde::Deserialize;

/// How far a source can be trusted; printed with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Printed or posted by someone accountable, and opened.
    Published,
    /// Published, but seen only as another document repeats it.
    SecondHand,
    /// True by definition.
    Definition,
    /// Worked out in this project.
    Derived,
    /// What growers do; nobody to quote.
    CommonPractice,
    /// Remembered, still to be looked up.
    FromMemory,
}

impl Kind {
    /// The mark printed beside the fact.
    #[must_use]
    pub fn mark(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::SecondHand => "second-hand",
            Self::Definition => "definition",
            Self::Derived => "derived here",
            Self::CommonPractice => "common practice",
            Self::FromMemory => "from memory",
        }
    }
}

/// An entry of the list of sources.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// How far it can be trusted.
    pub kind: Kind,
    /// Authors or publisher.
    #[serde(default)]
    pub who: String,
    /// Year, if known.
    pub year: Option<i32>,
    /// Title.
    pub title: String,
    /// Journal, series, report number.
    #[serde(default, rename = "where")]
    pub place: String,
}
