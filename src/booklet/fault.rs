//! What is wrong with a filled page, and where in its template; and how much pages may fill in.

use std::cell::Cell;
use std::ops::Range;

use comrak::nodes::NodeValue;
use minijinja::{Error, ErrorKind, OutputSpan};

use super::block::{Block, Table};

/// Something wrong with a page, at a place of its template (bytes).
#[derive(Debug, Clone)]
pub(super) struct Fault {
    pub(super) code: &'static str,
    pub(super) place: Range<usize>,
    pub(super) says: String,
    pub(super) help: String,
}

impl Fault {
    /// The template could not be filled in to its end.
    pub(super) fn stopped(error: &Error) -> Self {
        if error.kind() == ErrorKind::OutOfFuel {
            return Self::too_much(error.range().unwrap_or(0..0));
        }
        let says = error.detail().map_or_else(|| error.to_string(), ToString::to_string);
        Self {
            code: "page-syntax",
            place: error.range().unwrap_or(0..0),
            says: format!("this cannot be filled in: {says}"),
            help: "compare it with a page that `binleaf pages NAME` prints".into(),
        }
    }

    pub(super) fn too_much(place: Range<usize>) -> Self {
        Self {
            code: "too-long",
            place,
            says: "pages of one's own fill in more than fits a booklet".into(),
            help: "loops within loops, or long blocks on pages for each bin: take some out".into(),
        }
    }

    pub(super) fn no_title(place: Range<usize>) -> Self {
        Self {
            code: "no-title",
            place,
            says: "this page has no title".into(),
            help: "begin it with a line such as  # Rota".into(),
        }
    }

    pub(super) fn safety_dropped(block: &str, place: Range<usize>) -> Self {
        Self {
            code: "safety-dropped",
            place,
            says: format!("this page stands for one that carries safety, but has no `{block}`"),
            help: format!("put  {{{{ {block}() }}}}  on a line of its own, for every reader"),
        }
    }

    /// As one line, for a page of ours.
    pub(super) fn line(&self, id: &str, source: &str) -> String {
        let before = source.get(..self.place.start).unwrap_or("");
        let line = before.matches('\n').count() + 1;
        format!("templates/pages/{id}.md, line {line}: {}", self.says)
    }
}

/// A kind of Markdown in words, and what to write instead.
#[expect(clippy::wildcard_enum_match_arm, reason = "the rest shares one name")]
pub(super) fn name_of(value: &NodeValue) -> (&'static str, &'static str) {
    match value {
        NodeValue::HtmlBlock(_) | NodeValue::HtmlInline(_) => (
            "HTML",
            "write Markdown: headings, lists, tables, boxes to tick, **strong**, *emphasis*",
        ),
        NodeValue::Image(_) => (
            "a picture",
            "drawings come from blocks, such as  {{ section() }}  on a page for each bin",
        ),
        NodeValue::Link(_) => ("a link", "paper is not clicked: write the address as plain words"),
        NodeValue::CodeBlock(_) => (
            "a block of code",
            "take out the four spaces in front or the fence; `words` may stand in a line",
        ),
        NodeValue::BlockQuote | NodeValue::MultilineBlockQuote(_) => {
            ("a quotation", "for a frame begin it with  > [!NOTE]  or  > [!WARNING]")
        }
        NodeValue::ThematicBreak => ("a rule", "a heading parts a page, or an empty line"),
        NodeValue::Heading(h) if h.level == 1 => {
            ("a second title", "a page has one; begin headings with ##")
        }
        NodeValue::Heading(_) => ("a heading in a list or frame", "let it stand by itself"),
        _ => ("this", "`binleaf pages` tells what may stand on a page"),
    }
}

/// From places in filled text back to the template.
pub(super) struct Spans<'a> {
    source: &'a str,
    text: &'a str,
    parts: &'a [OutputSpan],
}

impl<'a> Spans<'a> {
    pub(super) fn new(source: &'a str, text: &'a str, parts: &'a [OutputSpan]) -> Self {
        Self { source, text, parts }
    }

    /// The first line with a letter in it.
    pub(super) fn first_line(&self) -> Range<usize> {
        let start = self.source.len() - self.source.trim_start().len();
        let line = self.source[start..].lines().next().unwrap_or("");
        start..start + line.len()
    }

    /// The place in the template of what stands from one line and column (from 1, bytes) to
    /// another, both counted in.
    pub(super) fn place(&self, from: (usize, usize), to: (usize, usize)) -> Range<usize> {
        let (from, to) = (self.offset(from), self.offset(to) + 1);
        let Some(span) = self.parts.iter().find(|s| s.output_range().end > from) else {
            return self.first_line();
        };
        let (out, within) = (span.output_range(), span.source_range());
        let filled = self.text.get(out.clone()).unwrap_or("");
        let template = self.source.get(within.clone()).unwrap_or("");
        // Where letters went over as they are, the place is exact.
        match template.find(filled).filter(|_| !filled.is_empty()) {
            Some(shift) => {
                let start = within.start + shift + from.saturating_sub(out.start);
                let end = within.start + shift + to.min(out.end).saturating_sub(out.start);
                start..end.max(start)
            }
            None => within,
        }
    }

    fn offset(&self, (line, column): (usize, usize)) -> usize {
        let starts = std::iter::once(0).chain(self.text.match_indices('\n').map(|(i, _)| i + 1));
        let start = starts.into_iter().nth(line.saturating_sub(1)).unwrap_or(self.text.len());
        (start + column.saturating_sub(1)).min(self.text.len())
    }
}

/// What all pages of one's own of a booklet may fill in, in bytes, about.
pub(super) struct Budget(Cell<usize>);

impl Default for Budget {
    fn default() -> Self {
        Self(Cell::new(8_000_000))
    }
}

impl Budget {
    /// Whether there is room for so many more.
    pub(super) fn spend(&self, bytes: usize) -> bool {
        let left = self.0.get().checked_sub(bytes);
        self.0.set(left.unwrap_or(0));
        left.is_some()
    }

    pub(super) fn spend_blocks(&self, blocks: &[Block]) -> bool {
        self.spend(blocks.iter().map(weight).sum())
    }
}

/// About how many bytes a block is worth.
fn weight(block: &Block) -> usize {
    let table = |t: &Table| 40 * t.columns.len() * (t.rows.len() + 1);
    match block {
        Block::Table(t) => table(t),
        Block::Figure(drawing) => 100 * drawing.marks.len(),
        Block::Worked(worked) => 1000 + worked.others.as_ref().map_or(0, table),
        Block::Verbatim { text } => text.len(),
        Block::List { items, .. } => items.iter().flatten().map(weight).sum(),
        Block::Alert { blocks, .. } => blocks.iter().map(weight).sum(),
        Block::Labels { labels } => labels.iter().flat_map(|l| &l.blocks).map(weight).sum(),
        Block::Heading { .. }
        | Block::Paragraph { .. }
        | Block::Ticks { .. }
        | Block::Lines { .. } => 200,
    }
}
