//! Booklet → the data its Typst templates read (`booklet.json`): no markup, only letters.

use crate::booklet::Booklet;

/// The booklet as JSON.
///
/// # Panics
/// Never: a booklet holds nothing that JSON cannot.
#[must_use]
pub fn write(booklet: &Booklet) -> Vec<u8> {
    serde_json::to_vec(booklet).expect("a booklet is plain data")
}
