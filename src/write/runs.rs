//! Which pages share sheets: the booklet in runs, each of which begins a sheet and is typeset by itself.

use serde::Serialize;

use crate::booklet::Booklet;
use crate::booklet::block::Block;
use crate::booklet::folio::Page;
use crate::booklet::paper::Printed;

/// Pages that begin under the one before them wherever it ends.
const FOLLOW: [&str; 5] = ["notes", "used-solution", "glossary", "sources", "key"];

/// Short pages that begin under the one before them if most of them has room there.
const JOIN: [&str; 6] = ["sowing", "supply", "climate", "trouble", "cleaning", "learned"];

/// Pages that begin under the one before them if half a sheet is left: what stands in a chain, and is
/// not handed out by itself.
const FLOW: [&str; 7] =
    ["gather", "safety", "mixing", "acidity", "working", "plan", "worksheet"];

/// Pages that are chains too tall for a sheet in large letters: the room they ask for would stay blank.
const TALL: [&str; 2] = ["worksheet", "climate"];


/// What a page needs of a sheet (0 to 1) to begin under the one before it; none if it begins a sheet.
fn room(booklet: &Booklet, before: &Page, page: &Page) -> Option<f64> {
    let is = |ids: &[&str]| ids.contains(&page.id.as_str());
    if before.running != page.running {
        // Where a group begins, a sheet begins.
        return None;
    }
    if is(&FOLLOW) || before.id == "shelf-lid" && page.id == "shelf-lid" {
        return Some(0.0);
    }
    if booklet.large && is(&TALL) {
        return None;
    }
    // What stands before a sheet of its own is rather whole.
    let joins = is(&JOIN).then(|| if is(&["sowing", "supply"]) { 0.6 } else { 0.4 });
    joins.or(is(&FLOW).then_some(0.5))
}

/// What is set of a page in one run: all of it, or a part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Part<'a> {
    /// The page's id.
    pub id: &'a str,
    /// Its title; none if it goes on here.
    pub title: Option<Printed<'a>>,
    /// Its blocks, as far as they are set here.
    pub blocks: &'a [Block],
    /// How much of a sheet (0 to 1) must be left for it to begin under what is before it in its run.
    pub room: f64,
    /// What each sheet says at its head besides the booklet's title.
    #[serde(skip)]
    pub running: &'a str,
}

/// So many calculations are some sheets: the next part of the working begins one.
const SHEETS_OF: usize = 20;

/// Where a page begins a sheet: first, and again at the titles of a long working, so that one core does not
/// set the longest chapter while the others wait.
fn seams(page: &Page) -> Vec<usize> {
    let (mut seams, mut since) = (vec![0], 0);
    for (i, block) in page.blocks.iter().enumerate() {
        if let Block::Heading { level: 2, .. } = block
            && since >= SHEETS_OF
        {
            seams.push(i);
            since = 0;
        }
        since += usize::from(matches!(block, Block::Worked(_)) && page.id == "working");
    }
    seams
}

/// The runs of a booklet, in order.
#[must_use]
pub fn runs(booklet: &Booklet) -> Vec<Vec<Part<'_>>> {
    let mut runs: Vec<Vec<Part<'_>>> = Vec::new();
    let mut before: Option<&Page> = None;
    for page in &booklet.pages {
        let mut room = before.and_then(|before| room(booklet, before, page));
        let seams = seams(page);
        let ends = seams.iter().skip(1).copied().chain([page.blocks.len()]);
        for (from, to) in seams.iter().copied().zip(ends) {
            let part = Part {
                id: &page.id,
                title: (from == 0).then_some(Printed(&page.title)),
                blocks: &page.blocks[from..to],
                room: room.unwrap_or(0.0),
                running: &page.running,
            };
            match room.take().and(runs.last_mut()) {
                Some(run) => run.push(part),
                None => runs.push(vec![part]),
            }
        }
        before = Some(page);
    }
    runs
}
