//! A finished booklet: pages of blocks, and what stands around them.

use std::collections::BTreeMap;

use serde::Serialize;

use super::block::{Block, Line};
use super::paper::line;

/// One page of the booklet; it may run over several sheets.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Page {
    /// Its template's name.
    pub id: String,
    /// Its title.
    #[serde(serialize_with = "line")]
    pub title: Line,
    /// What each of its sheets says at its head besides the booklet's title; may be empty.
    pub running: String,
    /// Its parts.
    pub blocks: Vec<Block>,
}

/// Paper by its size (mm).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Paper {
    /// Width (mm).
    pub width: f64,
    /// Height (mm).
    pub height: f64,
}

/// A day, for the document's date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Day {
    /// Year.
    pub year: i16,
    /// Month, 1 to 12.
    pub month: i8,
    /// Day, 1 to 31.
    pub day: i8,
}

/// A file that the PDF carries with it. Its name and descriptions are the program's own words, never
/// a plan's.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Carried {
    /// File name.
    pub name: &'static str,
    /// What it is to the booklet: "source" or "data".
    pub relation: &'static str,
    /// Media type.
    pub media: &'static str,
    /// What it is, for a person.
    pub about: &'static str,
    /// What is in it.
    pub text: String,
}

/// A finished booklet, still without a look.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Booklet {
    /// Title.
    pub title: String,
    /// Who keeps the grow; may be empty.
    pub keeper: String,
    /// Where it grows; may be empty.
    pub place: String,
    /// The day the grow starts.
    pub date: Day,
    /// Short digest of the plan, in every footer.
    pub digest: String,
    /// Version of binleaf.
    pub version: String,
    /// Paper.
    pub paper: Paper,
    /// Whether letters are large.
    pub large: bool,
    /// Pages in order.
    #[serde(skip)]
    pub pages: Vec<Page>,
    /// Language, after BCP 47.
    pub language: String,
    /// Words that the writers print themselves, by their English.
    pub words: BTreeMap<&'static str, String>,
    /// Texts that its language has no words for; they stand there in English.
    #[serde(skip)]
    pub untold: Vec<String>,
    /// What the PDF carries: the plan and its results, or nothing.
    #[serde(skip)]
    pub carries: Vec<Carried>,
}
