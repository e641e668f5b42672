//! Results → booklet.

pub mod block;
