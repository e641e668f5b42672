//! How well a document fits its sheets.

use typst::layout::{Abs, Frame, FrameItem};
use typst_layout::Page;

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
