//! Booklet → the data its Typst templates read (`booklet.json`, and for each run its own): no markup, only letters.

use serde::Serialize;

use super::contents::{self, Room};
use super::crew::side_by_side;
use super::runs::{Placed, runs};
use crate::booklet::Booklet;
use crate::booklet::block::letters;
use crate::booklet::folio::Carried;

/// What is typeset: letters, and the runs in which they are set.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Manuscript {
    /// What all pages share, as JSON: the booklet without its pages and what it carries.
    pub json: Vec<u8>,
    /// Its runs of pages.
    pub runs: Vec<Run>,
    /// What goes on a sheet that says where its pages are, if there is one.
    pub contents: Option<Room>,
}

/// Pages that are set together.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Run {
    /// The pages as JSON.
    pub json: Vec<u8>,
    /// Titles of its pages, in plain letters.
    pub titles: Vec<String>,
    /// What each sheet says at its head besides the title.
    pub running: String,
    /// Whether it is set as it is, for it is cut up.
    pub fixed: bool,
}

/// A run for its template.
#[derive(Serialize)]
struct Sheets<'a> {
    /// Whether the booklet begins here, with its title.
    first: bool,
    pages: &'a [Placed<'a>],
    carries: &'a [Carried],
}

/// The booklet for the typesetter.
///
/// # Panics
/// Never: a booklet holds nothing that JSON cannot.
#[must_use]
pub fn write(booklet: &Booklet) -> Manuscript {
    let contents = contents::wanted(booklet).then(|| Room::of(booklet));
    let runs = runs(booklet);
    let one = |i: usize| {
        let pages = &runs[i];
        Run {
            json: json(&Sheets {
                first: i == 0 && contents.is_none(),
                pages,
                carries: if i == 0 { &booklet.carries } else { &[] },
            }),
            titles: pages.iter().map(|page| letters(page.title.0)).collect(),
            running: pages.first().map(|page| page.running.to_string()).unwrap_or_default(),
            fixed: pages.iter().any(|page| page.id.starts_with("shelf-")),
        }
    };
    Manuscript { runs: side_by_side(runs.len(), one), json: json(booklet), contents }
}

fn json(what: &impl Serialize) -> Vec<u8> {
    serde_json::to_vec(what).expect("a booklet is plain data")
}
