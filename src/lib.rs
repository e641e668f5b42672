//! binleaf: from one plan of a still-water grow to the sums and the field booklet.
//!
//! The flow goes one way, and a module uses only those above it:
//!
//! `plan text → plan → compute → booklet → write → files`
//!
//! `number` knows arithmetic and nothing of plants; `library` holds the reference data; `science`
//! holds formulas; `plan` is what the grower says; `compute` decides which formulas are worked on
//! which parts of it; `booklet` turns the results into pages; `write` turns pages into bytes;
//! `run` alone touches files.

pub mod finding;
pub mod number;

pub mod library;
pub mod science;

pub mod plan;

pub mod compute;

pub mod booklet;

pub mod write;

pub mod cli;
pub mod run;
pub mod terminal;
