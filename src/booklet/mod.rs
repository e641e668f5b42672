//! Results → booklet: which pages, in which order, with which words and tables. No layout, no
//! formulas.

use crate::compute::Results;
use crate::finding::Finding;
use crate::library::Library;
use crate::plan::Plan;

mod accept;
mod asked;
pub mod block;
mod calls;
pub mod catalogue;
pub mod compose;
mod dimension;
pub mod drawing;
mod drawn;
mod fault;
pub mod folio;
mod front;
mod hold;
mod key;
pub mod language;
mod large;
mod lesson;
mod lint;
mod names;
pub mod own;
mod own_page;
mod page;
pub mod paper;
mod pattern;
mod reader;
pub mod reference;
mod retell;
pub mod review;
mod scope;
pub mod sequence;
mod shelf;
mod values;
pub mod words;
mod words_of;
pub mod worksheet;

pub use compose::compose;
pub use folio::Booklet;
pub use shelf::shelf;

/// What a booklet is composed from.
#[derive(Clone, Copy)]
pub struct Grow<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// What was computed from it.
    pub results: &'a Results,
    /// Reference data.
    pub library: &'a Library,
    /// What there is to say about it.
    pub findings: &'a [Finding],
    /// Short digest of the plan.
    pub digest: &'a str,
}
