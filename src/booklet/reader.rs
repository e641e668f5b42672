//! What reading the Markdown of a page remembers, and what it refuses. How Markdown becomes blocks
//! stands in [`super::words`].

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;

use comrak::nodes::{Node, NodeValue};

use super::block::{Block, Column, Inline, Line, WRITING_ROW, letters};
use super::fault::{Budget, Fault, Spans, name_of};
use super::language::Language;
use super::words::{Blocks, MARK};
use crate::plan::unprintable;

/// Letters that fit a line of small paper.
const LINE: usize = 60;

/// Lines that fit a frame, which is not parted between sheets.
const FRAME: usize = 25;

/// How deep lists, frames and emphasis may stand in each other.
const DEEPEST: usize = 6;

pub(super) struct Reader<'a> {
    blocks: [&'a Blocks; 2],
    spans: Spans<'a>,
    budget: &'a Budget,
    language: &'a Language,
    /// What is wrong, so far; reading goes on.
    faults: RefCell<Vec<Fault>>,
    /// Blocks that were called.
    called: RefCell<BTreeSet<String>>,
    pub(super) depth: Cell<usize>,
    /// Level of the heading before.
    level: Cell<u8>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(
        blocks: [&'a Blocks; 2],
        spans: Spans<'a>,
        (budget, language): (&'a Budget, &'a Language),
    ) -> Self {
        let (faults, called) = (RefCell::default(), RefCell::default());
        let (depth, level) = (Cell::new(0), Cell::new(1));
        Self { blocks, spans, budget, language, faults, called, depth, level }
    }

    pub(super) fn fault(
        &self,
        node: Node<'_>,
        code: &'static str,
        says: impl Into<String>,
        help: &str,
    ) {
        let at = node.data().sourcepos;
        let place =
            self.spans.place((at.start.line, at.start.column), (at.end.line, at.end.column));
        self.faults.borrow_mut().push(Fault { code, place, says: says.into(), help: help.into() });
    }

    /// All that is wrong, the title and the block a page must have counted in.
    pub(super) fn faults(self, needed: Option<&'static str>, title: Option<&Line>) -> Vec<Fault> {
        let mut faults = self.faults.into_inner();
        let first = self.spans.first_line();
        if title.is_none_or(wordless) {
            faults.push(Fault::no_title(first.clone()));
        }
        if let Some(block) = needed.filter(|n| !self.called.borrow().contains(*n)) {
            faults.push(Fault::safety_dropped(block, first));
        }
        faults
    }

    /// What is not supported is said, and left out.
    pub(super) fn unsupported(&self, node: Node<'_>, value: &NodeValue) {
        let (what, help) = name_of(value);
        self.fault(node, "not-on-paper", format!("{what} cannot stand on a page"), help);
    }

    /// Goes one level down, if there is one.
    pub(super) fn deeper<T: Default>(&self, node: Node<'_>, go: impl FnOnce() -> T) -> T {
        if self.depth.get() >= DEEPEST {
            let says = "this stands too deep in lists, frames or emphasis";
            self.fault(node, "not-on-paper", says, "write it flatter: headings part a page better");
            return T::default();
        }
        self.depth.set(self.depth.get() + 1);
        let all = go();
        self.depth.set(self.depth.get() - 1);
        all
    }

    pub(super) fn heading(&self, node: Node<'_>, level: u8) -> Block {
        // Whoever listens to a page goes from heading to heading; none may be missing.
        if level > self.level.get() + 1 {
            let help = format!("begin it with {}", "#".repeat(self.level.get().into()) + "#");
            self.fault(node, "heading-skips", "a heading skips a level", &help);
        }
        self.level.set(level);
        let text = self.line(node);
        if wordless(&text) {
            self.fault(node, "no-title", "a heading has no words", "write some, or take it out");
        }
        Block::Heading { level: level.min(3), text }
    }

    /// The blocks of a call.
    pub(super) fn called(&self, node: Node<'_>, name: &str) -> Vec<Block> {
        if self.depth.get() > 0 {
            let says = format!("the block `{name}` stands within a list or a frame");
            self.fault(node, "block-place", says, "let it stand by itself, before or after");
            return Vec::new();
        }
        if !self.called.borrow_mut().insert(name.into()) {
            let says = format!("the block `{name}` stands twice on this page");
            self.fault(node, "block-place", says, "leave one of the two out");
            return Vec::new();
        }
        let Some(blocks) = self.blocks.iter().find_map(|blocks| blocks.get(name)) else {
            let says = format!("this page has no block `{name}`");
            self.fault(node, "unknown-block", says, "`binleaf pages` lists them");
            return Vec::new();
        };
        if !self.budget.spend_blocks(blocks) {
            self.faults.borrow_mut().push(Fault::too_much(0..0));
            return Vec::new();
        }
        self.language.blocks(blocks)
    }

    /// The line of an item that holds one paragraph.
    pub(super) fn only_line(&self, node: Node<'_>) -> Line {
        let mut children = node.children();
        let one = children.next().filter(|c| matches!(c.data().value, NodeValue::Paragraph));
        if let (Some(child), None) = (one, children.next()) {
            return self.line(child);
        }
        self.fault(node, "not-on-paper", "a box to tick has one line", "part it into several");
        Line::new()
    }

    pub(super) fn inner(&self, node: Node<'_>) -> Line {
        self.deeper(node, || self.line(node))
    }

    /// No letters that cannot be printed, written as `&#8238;` or the like.
    pub(super) fn check_letters(&self, node: Node<'_>, piece: &Inline) {
        let (Inline::Text { text } | Inline::Code { text }) = piece else { return };
        if text.chars().any(|c| unprintable(c) && !MARK.contains(&c)) {
            let says = "a character that cannot be printed";
            self.fault(node, "control-character", says, "delete it");
        }
        if text.split_whitespace().any(|word| word.chars().count() > LINE) {
            let says = "a word is longer than a line of small paper";
            self.fault(node, "not-on-paper", says, "part it, or shorten it to 60 letters");
        }
    }

    /// A frame stands on one sheet.
    pub(super) fn check_frame(&self, node: Node<'_>, blocks: &[Block]) {
        if tall(blocks) > FRAME {
            let help = "put into it what nobody may miss, and the rest below it";
            self.fault(node, "not-on-paper", "a frame is taller than a sheet of small paper", help);
        }
    }
}

/// Whether there is nothing to read in a line.
fn wordless(line: &Line) -> bool {
    letters(line).chars().all(|c| c.is_whitespace() || c == '\u{AD}')
}

/// Lines that these take on small paper, about.
fn tall(blocks: &[Block]) -> usize {
    let words = |line: &Line| letters(line).chars().count().div_ceil(LINE).max(1);
    let one = |block: &Block| match block {
        Block::Heading { text, .. } | Block::Paragraph { text } => words(text) + 1,
        Block::List { items, .. } => items.iter().map(|item| tall(item).max(1)).sum(),
        Block::Ticks { items } => items.iter().map(words).sum(),
        Block::Alert { blocks, .. } => tall(blocks) + 2,
        Block::Table(t) => {
            let row = |row: &Vec<Line>| row.iter().map(words).sum::<usize>();
            2 + t.rows.iter().map(row).sum::<usize>()
        }
        Block::Lines { count: 0 } => FRAME,
        Block::Lines { count } => 2 * count,
        Block::Figure(_) | Block::Worked(_) | Block::Verbatim { .. } | Block::Labels { .. } => {
            FRAME
        }
    };
    blocks.iter().map(one).sum()
}

/// Height of the rows of a table (mm). A column without a word is there to be filled in: its rows
/// have room for a hand, and for the most words that another column holds.
pub(super) fn row_height(columns: &[Column], rows: &[Vec<Line>]) -> f64 {
    let blank = |i: usize| !rows.is_empty() && rows.iter().all(|row| row[i].is_empty());
    if !(0..columns.len()).any(blank) {
        return 0.0;
    }
    let all: u32 = columns.iter().map(|c| c.share).sum();
    let lines = |(column, cell): (&Column, &Line)| {
        let wide = LINE * column.share as usize / all as usize;
        letters(cell).chars().count().div_ceil(wide.max(1))
    };
    let most = rows.iter().flat_map(|row| columns.iter().zip(row)).map(lines).max().unwrap_or(1);
    // Two lines of print fit the height of a hand.
    WRITING_ROW.max(4.2 * f64::from(u32::try_from(most).unwrap_or(1)))
}
