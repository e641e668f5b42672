//! Booklet → bytes. No words, no formulas: each writer draws the blocks in its own way.

pub mod carry;
pub mod contents;
pub(crate) mod crew;
pub mod explain;
pub mod fold;
pub mod log;
pub mod markdown;
pub mod numbers;
#[cfg(feature = "pdf")]
pub mod pdf;
pub mod reference;
pub mod runs;
pub mod svg;
pub mod typst;
mod worked;
