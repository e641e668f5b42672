//! A finished booklet: pages of blocks, and what stands around them.

use std::collections::BTreeMap;
use std::mem::{Discriminant, discriminant};

use serde::Serialize;

use super::block::{Block, Line};

/// One page of the booklet; it may run over several sheets.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Page {
    /// Its template's name.
    pub id: String,
    /// Its title.
    pub title: Line,
    /// What each of its sheets says at its head besides the booklet's title; may be empty.
    pub running: String,
    /// Place of the first page that is as long as this one: its own, or that of one before it, of the same
    /// template and with the same parts, as the pages of equal bins are.
    pub like: usize,
    /// Its parts.
    pub blocks: Vec<Block>,
}

impl Page {
    /// About how much there is on it: its parts, and its letters as they are written down.
    fn make(&self) -> (Vec<Discriminant<Block>>, usize) {
        let letters = serde_json::to_string(&self.blocks).map_or(0, |text| text.len());
        (self.blocks.iter().map(discriminant).collect(), letters)
    }
}

/// Finds for each page the first that is as long.
pub(super) fn liken(pages: &mut [Page]) {
    let mut seen: Vec<(usize, Vec<Discriminant<Block>>, usize)> = Vec::new();
    for i in 0..pages.len() {
        let (parts, letters) = pages[i].make();
        // Names of bins differ by a digit or two, which makes no line more.
        let same = |(first, other, count): &(usize, Vec<Discriminant<Block>>, usize)| {
            let near = count.abs_diff(letters) * SAME <= letters;
            (pages[*first].id == pages[i].id && *other == parts && near).then_some(*first)
        };
        let first = seen.iter().find_map(same);
        pages[i].like = first.unwrap_or(i);
        if first.is_none() {
            seen.push((i, parts, letters));
        }
    }
}

/// Pages are as long if their letters differ by less than one in so many.
const SAME: usize = 300;

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
    pub pages: Vec<Page>,
    /// Language, after BCP 47.
    pub language: String,
    /// Words that the writers print themselves, by their English.
    pub words: BTreeMap<&'static str, String>,
    /// Texts that its language has no words for; they stand there in English.
    #[serde(skip)]
    pub untold: Vec<String>,
    /// What the PDF carries: the plan and its results, or nothing.
    pub carries: Vec<Carried>,
}
