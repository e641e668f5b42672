//! How well a document fits its sheets.

use std::collections::{BTreeMap, BTreeSet};

use typst::foundations::Smart;
use typst::introspection::Tag;
use typst::layout::{Abs, Frame, FrameItem};
use typst::model::{TableCell, TableElem};
use typst_layout::{Page, PagedDocument};

/// Sheets of a document, and how many rows of tables stand alone on a sheet, apart from all others.
pub(super) fn flaws(document: &PagedDocument) -> (usize, usize) {
    let mut tables = Vec::new();
    for (sheet, page) in document.pages().iter().enumerate() {
        rows(&page.frame, sheet, &mut tables);
    }
    let parted = tables.iter().filter(|sheets| sheets.len() > 1);
    let lone = parted.flat_map(BTreeMap::values).filter(|rows| rows.len() == 1).count();
    (document.pages().len(), lone)
}

/// Rows of a table that stand on each sheet.
type Rows = BTreeMap<usize, BTreeSet<usize>>;

/// Adds the rows of tables, without their heads, of a part of a sheet.
fn rows(frame: &Frame, sheet: usize, tables: &mut Vec<Rows>) {
    for (_, item) in frame.items() {
        if let FrameItem::Group(group) = item {
            rows(&group.frame, sheet, tables);
        }
        let FrameItem::Tag(Tag::Start(element, _)) = item else { continue };
        if element.is::<TableElem>() {
            tables.push(Rows::new());
        } else if let (Some(cell), Some(table)) = (element.to_packed::<TableCell>(), tables.last_mut())
            && let Some(Smart::Custom(row @ 1..)) = cell.y.as_option()
        {
            table.entry(sheet).or_default().insert(*row);
        }
    }
}

/// How much of a sheet (0 to 1) is above its lowest letter, line or picture.
pub(super) fn filled(page: &Page) -> f64 {
    let inner = page.frame.items().find(|(_, item)| matches!(item, FrameItem::Group(_)));
    let margin = inner.map_or(Abs::zero(), |(place, _)| place.y);
    let high = page.frame.height() - margin * 2.0;
    (lowest(&page.frame) - margin) / high
}

/// Where the lowest letter, line or picture of a frame is, from its top.
fn lowest(frame: &Frame) -> Abs {
    let items = frame.items().map(|(place, item)| match item {
        FrameItem::Group(group) => place.y + lowest(&group.frame),
        FrameItem::Text(_) => place.y,
        FrameItem::Shape(shape, _) => place.y + shape.bbox(false).max.y,
        FrameItem::Image(_, size, _) => place.y + size.y,
        FrameItem::Link(..) | FrameItem::Tag(_) => Abs::zero(),
    });
    items.fold(Abs::zero(), Abs::max)
}
