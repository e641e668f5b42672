//! binleaf: from one plan of a still-water grow to the sums and the field booklet.
//!
//! The flow goes one way, and a module uses only those above it:
//!
//! `plan text → plan → compute → booklet → write → files`
//!
//! `number` knows arithmetic and nothing of plants; `library` holds the reference data; `science`
//! holds formulas; `plan` is what the grower says, `log`
//! what they read later; `compute` decides which formulas are worked on
//! which parts of it; `booklet` turns the results into pages; `write` turns pages into bytes;
//! `read` finds in a booklet what it carries;
//! `run` does what a command asks; `disk` alone touches files.

pub mod finding;
pub mod number;

pub mod library;
pub mod science;

pub mod plan;

pub mod log;

pub mod compute;

pub mod booklet;

pub mod write;

pub mod read;

pub mod cli;
pub mod club;
mod disk;
pub mod look;
pub mod run;
pub mod terminal;
pub mod unpack;
