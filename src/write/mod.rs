//! Booklet → bytes.

#[cfg(feature = "pdf")]
pub mod pdf;
