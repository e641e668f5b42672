//! Results → booklet: which pages, in which order, with which words and tables. No layout, no
//! formulas.

use crate::compute::Results;
use crate::finding::Finding;
use crate::library::Library;
use crate::plan::Plan;

pub mod block;
pub mod catalogue;
pub mod compose;
pub mod drawing;
pub mod language;
mod large;
mod lesson;
mod page;
mod retell;
pub mod review;
mod shelf;
mod values;
pub mod words;
pub mod worksheet;

pub use block::Booklet;
pub use compose::compose;
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
