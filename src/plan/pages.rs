//! Which pages of the booklet stand first, and which are left out.
//!
//! Which pages there are is not known here: a folder of pages of one's own may add some.

use std::ops::Range;

use super::table::Table;

/// More names than a booklet has pages; what is beyond would be named twice.
const MOST: usize = 200;

/// The wishes of a plan.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pages {
    /// Pages that stand first, in this order; the others follow as usual.
    pub order: Vec<Named>,
    /// Pages that are left out.
    pub leave_out: Vec<Named>,
}

/// The name of a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// Name, without `.md`.
    pub name: String,
    /// Byte range in the plan, for findings.
    pub place: Range<usize>,
}

pub(super) fn read(root: &Table<'_>) -> Pages {
    let Some(table) = root.table("pages") else { return Pages::default() };
    let names = |key, example: &str| {
        let texts = table.texts(key, MOST, example).into_iter();
        texts.map(|t| Named { name: t.value, place: t.place }).collect()
    };
    let pages = Pages {
        order: names("order", "[\"glance\", \"safety\"]"),
        leave_out: names("leave-out", "[\"chemistry\"]"),
    };
    table.close();
    pages
}
