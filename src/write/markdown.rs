//! Booklet → Markdown (`CommonMark` with tables and task lists), complete by itself.
//!
//! Built as a syntax tree and written by comrak, so that letters of the plan stay letters.

use std::collections::BTreeMap;

use comrak::nodes::{
    AstNode, ListDelimType, ListType, Node, NodeCode, NodeCodeBlock, NodeHeading, NodeLink,
    NodeList, NodeTable, NodeTaskItem, NodeValue, TableAlignment,
};
use comrak::{Arena, Options, format_commonmark};

use crate::booklet::Booklet;
use crate::booklet::block::{Align, Block, Inline, Line, Table, Voice, plain};
use crate::booklet::drawing::Drawing;
use crate::number::Symbol;

/// The booklet as Markdown; pictures are referred to under `pictures`, with a slash.
///
/// # Panics
/// Never: writing to a string does not fail.
#[must_use]
pub fn write(booklet: &Booklet, pictures: &str) -> String {
    let arena = Arena::new();
    let writer = Writer { arena: &arena, pictures, words: &booklet.words };
    let root = writer.node(NodeValue::Document);
    writer.heading(root, 1, &plain(booklet.title.as_str()));
    let by: Vec<&str> = [booklet.keeper.as_str(), booklet.place.as_str()]
        .into_iter()
        .filter(|t| !t.is_empty())
        .collect();
    if !by.is_empty() {
        writer.paragraph(root, &plain(by.join(", ")));
    }
    for page in &booklet.pages {
        root.append(writer.node(NodeValue::ThematicBreak));
        writer.heading(root, 2, &page.title);
        writer.blocks(root, &page.blocks);
    }
    root.append(writer.node(NodeValue::ThematicBreak));
    let plan = booklet.words.get("plan").map_or("plan", String::as_str);
    let foot = format!("binleaf {} · {plan} {}", booklet.version, booklet.digest);
    writer.paragraph(root, &plain(foot));
    let mut text = String::new();
    format_commonmark(root, &options(), &mut text).expect("a string can be written to");
    text
}

/// The Markdown dialect of the booklet.
#[must_use]
pub fn options() -> Options<'static> {
    let mut options = Options::default();
    options.extension.table = true;
    options.extension.tasklist = true;
    options.render.width = 0;
    options
}

pub(super) struct Writer<'a, 'p> {
    arena: &'a Arena<'a>,
    pictures: &'p str,
    pub(super) words: &'p BTreeMap<&'static str, String>,
}

impl<'a> Writer<'a, '_> {
    pub(super) fn node(&self, value: NodeValue) -> Node<'a> {
        self.arena.alloc(AstNode::from(value))
    }

    fn heading(&self, parent: Node<'a>, level: u8, text: &[Inline]) {
        let heading =
            self.node(NodeValue::Heading(NodeHeading { level, ..NodeHeading::default() }));
        self.line(heading, text);
        parent.append(heading);
    }

    pub(super) fn paragraph(&self, parent: Node<'a>, text: &[Inline]) {
        let paragraph = self.node(NodeValue::Paragraph);
        self.line(paragraph, text);
        parent.append(paragraph);
    }

    fn line(&self, parent: Node<'a>, line: &[Inline]) {
        for piece in line {
            let node = match piece {
                // Leading spaces would make code of a paragraph.
                Inline::Text { text } => {
                    let trimmed =
                        if parent.first_child().is_none() { text.trim_start() } else { text };
                    self.words(parent, trimmed);
                    continue;
                }
                Inline::Symbol(Symbol { base, low }) => {
                    self.words(parent, base);
                    if !low.is_empty() {
                        parent.append(self.node(NodeValue::HtmlInline("<sub>".into())));
                        self.words(parent, low);
                        parent.append(self.node(NodeValue::HtmlInline("</sub>".into())));
                    }
                    continue;
                }
                Inline::Strong { of } => {
                    let node = self.node(NodeValue::Strong);
                    self.line(node, of);
                    node
                }
                Inline::Emphasis { of } => {
                    let node = self.node(NodeValue::Emph);
                    self.line(node, of);
                    node
                }
                Inline::Code { text } => {
                    let code = NodeCode { num_backticks: 1, literal: text.clone() };
                    self.node(NodeValue::Code(code))
                }
            };
            parent.append(node);
        }
    }

    /// Plain letters. A dollar sign is plain in `CommonMark`, but many readers set what stands
    /// between two of them as mathematics, so it is escaped.
    fn words(&self, parent: Node<'a>, text: &str) {
        for (i, part) in text.split('$').enumerate() {
            if i > 0 {
                parent.append(self.node(NodeValue::Raw("\\$".into())));
            }
            parent.append(self.node(NodeValue::Text(part.to_string().into())));
        }
    }

    fn blocks(&self, parent: Node<'a>, blocks: &[Block]) {
        for block in blocks {
            self.block(parent, block);
        }
    }

    fn block(&self, parent: Node<'a>, block: &Block) {
        match block {
            Block::Heading { level, text } => self.heading(parent, level + 1, text),
            Block::Paragraph { text } => self.paragraph(parent, text),
            Block::List { ordered, items } => {
                let (list, kind) = self.list(*ordered);
                for item in items {
                    let node = self.node(NodeValue::Item(kind));
                    self.blocks(node, item);
                    list.append(node);
                }
                parent.append(list);
            }
            Block::Ticks { items } => self.ticks(parent, items),
            Block::Table(table) => self.table(parent, table),
            Block::Alert { voice, blocks } => self.alert(parent, *voice, blocks),
            Block::Figure(drawing) => self.figure(parent, drawing),
            Block::Worked(worked) => self.worked(parent, worked),
            Block::Verbatim { text } => self.verbatim(parent, text),
            Block::Labels { labels } => {
                for label in labels {
                    self.heading(parent, 4, &label.title);
                    self.blocks(parent, &label.blocks);
                }
            }
            Block::Lines { count } => {
                // Where there are no sheets, some lines stand for the rest of one.
                for _ in 0..if *count == 0 { 8 } else { *count } {
                    self.paragraph(parent, &plain("_".repeat(60)));
                }
            }
        }
    }

    fn ticks(&self, parent: Node<'a>, items: &[Line]) {
        let (list, _) = self.list(false);
        for item in items {
            let open = NodeTaskItem { symbol: None, symbol_sourcepos: (0, 0, 0, 0).into() };
            let node = self.node(NodeValue::TaskItem(open));
            self.paragraph(node, item);
            list.append(node);
        }
        parent.append(list);
    }

    fn alert(&self, parent: Node<'a>, voice: Voice, blocks: &[Block]) {
        let quote = self.node(NodeValue::BlockQuote);
        let word = match voice {
            Voice::Note => "Note",
            Voice::Caution => "Caution",
            Voice::Warning => "WARNING",
            Voice::Danger => "DANGER",
        };
        let word = self.words.get(word).map_or(word, String::as_str);
        self.paragraph(quote, &[Inline::Strong { of: plain(word) }]);
        self.blocks(quote, blocks);
        parent.append(quote);
    }

    pub(super) fn list(&self, ordered: bool) -> (Node<'a>, NodeList) {
        let list_type = if ordered { ListType::Ordered } else { ListType::Bullet };
        let list = NodeList {
            list_type,
            start: 1,
            padding: if ordered { 3 } else { 2 },
            delimiter: ListDelimType::Period,
            bullet_char: b'-',
            tight: true,
            ..NodeList::default()
        };
        (self.node(NodeValue::List(list)), list)
    }

    pub(super) fn table(&self, parent: Node<'a>, table: &Table) {
        if !table.caption.is_empty() {
            let caption = Inline::Emphasis { of: plain(table.caption.as_str()) };
            self.paragraph(parent, &[caption]);
        }
        let align = |a: Align| match a {
            Align::Left => TableAlignment::None,
            Align::Right => TableAlignment::Right,
            Align::Centre => TableAlignment::Center,
        };
        let node = self.node(NodeValue::Table(Box::new(NodeTable {
            alignments: table.columns.iter().map(|c| align(c.align)).collect(),
            num_columns: table.columns.len(),
            num_rows: table.rows.len() + 1,
            num_nonempty_cells: 0,
        })));
        let head = table.columns.iter().map(|c| &c.head);
        self.row(node, true, head);
        for row in &table.rows {
            self.row(node, false, row.iter());
        }
        parent.append(node);
    }

    fn row<'l>(&self, table: Node<'a>, head: bool, cells: impl Iterator<Item = &'l Vec<Inline>>) {
        let row = self.node(NodeValue::TableRow(head));
        for cell in cells {
            let node = self.node(NodeValue::TableCell);
            self.line(node, cell);
            row.append(node);
        }
        table.append(row);
    }

    fn figure(&self, parent: Node<'a>, drawing: &Drawing) {
        let paragraph = self.node(NodeValue::Paragraph);
        let url = format!("{}{}.svg", self.pictures, drawing.name);
        let link = NodeLink { url, title: String::new() };
        let image = self.node(NodeValue::Image(Box::new(link)));
        self.line(image, &plain(drawing.alt.as_str()));
        paragraph.append(image);
        parent.append(paragraph);
        let caption = Inline::Emphasis { of: plain(drawing.caption.as_str()) };
        self.paragraph(parent, &[caption]);
    }

    fn verbatim(&self, parent: Node<'a>, text: &str) {
        // The fence is longer than any run of backticks inside.
        let runs = text.split(|c| c != '`').map(str::len);
        let block = NodeCodeBlock {
            fenced: true,
            fence_char: b'`',
            fence_length: runs.max().unwrap_or(0).max(2) + 1,
            fence_offset: 0,
            info: "text".into(),
            literal: if text.ends_with('\n') { text.into() } else { format!("{text}\n") },
            closed: true,
        };
        parent.append(self.node(NodeValue::CodeBlock(Box::new(block))));
    }
}
