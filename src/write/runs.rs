//! Which pages share sheets: the booklet in runs, each of which begins a sheet and is typeset by itself.

use serde::Serialize;

use crate::booklet::Booklet;
use crate::booklet::block::{Block, letters};
use crate::booklet::folio::Page;
use crate::booklet::paper::Printed;

/// Pages that begin under the one before them wherever it ends.
const FOLLOW: [&str; 3] = ["glossary", "sources", "key"];

/// Short pages that begin under the one before them if most of them has room there.
const JOIN: [&str; 9] = [
    "sowing",
    "supply",
    "climate",
    "trouble",
    "harvest",
    "cleaning",
    "used-solution",
    "learned",
    "notes",
];

/// Pages that begin under the one before them if nearly half a sheet is left: what stands in a chain, and is
/// not handed out by itself.
const FLOW: [&str; 6] = ["gather", "safety", "mixing", "acidity", "plan", "worksheet"];

/// Pages that are chains too tall for a sheet in large letters: the room they ask for would stay blank.
const TALL: [&str; 2] = ["worksheet", "climate"];

/// What a page needs of a sheet (0 to 1) to begin under the one before it; none if it begins a sheet.
fn room(booklet: &Booklet, before: &Page, page: &Page) -> Option<f64> {
    let is = |ids: &[&str]| ids.contains(&page.id.as_str());
    // Where a group begins, a sheet begins; and after lines to the end of one.
    let filled = matches!(before.blocks.last(), Some(Block::Lines { count: 0 }));
    if before.running != page.running || filled {
        return None;
    }
    if is(&FOLLOW) || before.id == "shelf-lid" && page.id == "shelf-lid" && !booklet.large {
        return Some(0.0);
    }
    if booklet.large && is(&TALL) {
        return None;
    }
    // A key is not handed out sheet by sheet.
    if page.id == "ph-unit" && before.id == "key" && !booklet.large {
        return Some(0.5);
    }
    // What stands before a sheet of its own is rather whole; lines for notes fill any sheet.
    let most = match page.id.as_str() {
        "supply" => 0.6,
        "used-solution" => 0.25,
        "notes" => notes(booklet, page),
        _ => 0.4,
    };
    let joins = is(&JOIN).then_some(most);
    joins.or(is(&FLOW).then_some(0.42))
}

/// What notes need of a sheet: their heading, their words, and some lines to write on.
fn notes(booklet: &Booklet, page: &Page) -> f64 {
    let words = page
        .blocks
        .iter()
        .map(|block| if let Block::Paragraph { text } = block { letters(text).len() } else { 0 });
    let small = booklet.paper.width < 170.0;
    let [least, sheet] = match (booklet.large, small) {
        (true, _) => [0.4, 1000.0],
        (false, true) => [0.3, 1800.0],
        (false, false) => [0.2, 3000.0],
    };
    let words = u32::try_from(words.sum::<usize>()).unwrap_or(u32::MAX);
    (least + f64::from(words) / sheet).min(0.9)
}

/// A page in its run.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Placed<'a> {
    /// The page's id.
    pub id: &'a str,
    /// Its title.
    pub title: Printed<'a>,
    /// Its blocks.
    pub blocks: &'a [Block],
    /// How much of a sheet (0 to 1) must be left for it to begin under what is before it in its run.
    pub room: f64,
    /// What each sheet says at its head besides the booklet's title.
    #[serde(skip)]
    pub running: &'a str,
}

/// The runs of a booklet, in order.
#[must_use]
pub fn runs(booklet: &Booklet) -> Vec<Vec<Placed<'_>>> {
    let mut runs: Vec<Vec<Placed<'_>>> = Vec::new();
    let mut before: Option<&Page> = None;
    for page in &booklet.pages {
        let room = before.and_then(|before| room(booklet, before, page));
        let placed = Placed {
            id: &page.id,
            title: Printed(&page.title),
            blocks: &page.blocks,
            room: room.unwrap_or(0.0),
            running: &page.running,
        };
        match room.and(runs.last_mut()) {
            Some(run) => run.push(placed),
            None => runs.push(vec![placed]),
        }
        before = Some(page);
    }
    runs
}
