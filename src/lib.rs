//! binleaf: from one plan of a still-water grow to the sums and the field booklet.
//!
//! The flow, one direction, a module using only those above it:
//! `plan text → plan → compute → booklet → write`, with `number`, `library` and `science` beneath
//! and `run`, the only module that touches files, at the end.

pub mod number;
pub mod finding;
pub mod science;
pub mod library;
pub mod plan;
pub mod compute;
pub mod booklet;
pub mod write;
