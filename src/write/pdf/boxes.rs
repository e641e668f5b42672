//! The room that words in tables, formulas and figures take, found out beforehand.
//!
//! The PDF says it of each such element, for programs that read aloud. The writer, which works alone,
//! would ask for it word by word; the typesetter remembers the answers, so all cores find them.

use typst::foundations::StyleChain;
use typst::introspection::Tag;
use typst::layout::{Frame, FrameItem};
use typst::model::HeadingElem;
use typst_layout::PagedDocument;

/// Elements whose room is told.
const TOLD: [&str; 3] = ["table", "equation", "figure"];

/// Finds the room of all words of a document that will be asked for.
pub(super) fn measure(document: &PagedDocument) {
    let mut open = Vec::new();
    for page in document.pages() {
        // Of what goes on from another page no room is told.
        open.fill(false);
        within(&page.frame, &mut open);
    }
}

/// Follows the words of a frame; `open` has an element for each that has begun: whether it is told of.
fn within(frame: &Frame, open: &mut Vec<bool>) {
    for (_, item) in frame.items() {
        match item {
            FrameItem::Group(group) => within(&group.frame, open),
            FrameItem::Tag(Tag::Start(element, _)) => {
                open.push(TOLD.contains(&element.elem().name()));
            }
            FrameItem::Tag(Tag::End(..)) => drop(open.pop()),
            FrameItem::Text(text) if open.contains(&true) => drop(text.bbox()),
            FrameItem::Text(_)
            | FrameItem::Shape(..)
            | FrameItem::Image(..)
            | FrameItem::Link(..) => {}
        }
    }
}

/// How many titles of pages, which are headings of the first level, stand in a frame.
pub(super) fn titles(frame: &Frame) -> usize {
    let own = frame.items().map(|(_, item)| match item {
        FrameItem::Group(group) => titles(&group.frame),
        FrameItem::Tag(Tag::Start(element, _)) => {
            let heading = element.to_packed::<HeadingElem>();
            let level = heading.map(|heading| heading.resolve_level(StyleChain::default()).get());
            usize::from(level == Some(1))
        }
        FrameItem::Tag(Tag::End(..))
        | FrameItem::Text(_)
        | FrameItem::Shape(..)
        | FrameItem::Image(..)
        | FrameItem::Link(..) => 0,
    });
    own.sum()
}
