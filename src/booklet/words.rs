//! Page templates → blocks: minijinja fills in the values, comrak reads the Markdown, and a block
//! call that stands alone is replaced by the block itself.
//!
//! Values are finished text and are escaped, so that nothing in a plan can become a template,
//! Markdown or anything else than letters.

use std::collections::BTreeMap;
use std::sync::Arc;

use comrak::nodes::{AlertType, ListType, Node, NodeValue, TableAlignment};
use comrak::{Arena, Options, escape_commonmark_inline, parse_document};
use minijinja::syntax::SyntaxConfig;
use minijinja::value::Value;
use minijinja::{AutoEscape, Environment, Error, ErrorKind, UndefinedBehavior};

use super::block::{Align, Block, Column, Inline, Line, Table, Voice};
use super::calls::add_calls;
use super::catalogue::{PAGES, SHEETS};
use super::fault::{Budget, Fault, Spans};
use super::folio::{Booklet, Page};
use super::language::Language;
use super::large;
use super::reader::{Reader, row_height};
use super::scope::LINES;

/// Blocks a page may call, by name.
pub type Blocks = BTreeMap<&'static str, Vec<Block>>;

/// Words that the writers print themselves.
const FIXED: [&str; 12] = [
    "Note",
    "Caution",
    "WARNING",
    "DANGER",
    "plan",
    "page {n} of {n2}",
    "part {n} of {n2}",
    "larger of",
    "smaller of",
    "Contents",
    "Page",
    "What",
];

/// Marks where a block goes; plans cannot contain these characters.
pub(super) const MARK: [char; 2] = ['\u{E000}', '\u{E001}'];

/// What filling one page may take: a step of the template or a byte of its text costs one.
const FUEL: u64 = 500_000;

/// A table with more columns does not fit on paper.
const WIDEST: usize = 12;

/// Templates ready to be filled.
pub struct Words<'a> {
    pub(super) environment: Environment<'a>,
    pub(super) language: Arc<Language>,
    /// What pages of one's own may still fill in.
    pub(super) budget: Budget,
}

/// How templates are written.
pub(super) fn syntax() -> Result<SyntaxConfig, Error> {
    SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build()
}

impl Words<'_> {
    /// Loads the templates; `numbered` gives the number of a calculation by its id.
    ///
    /// # Errors
    /// A template that cannot be read, with its place.
    pub fn new(
        numbered: BTreeMap<&'static str, usize>,
        language: impl Into<Arc<Language>>,
    ) -> Result<Self, String> {
        let language = language.into();
        let mut environment = Environment::empty();
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        environment.set_syntax(syntax().map_err(|e| e.to_string())?);
        environment.set_fuel(Some(FUEL));
        environment.set_auto_escape_callback(|_| AutoEscape::Custom("markdown".into()));
        environment.set_formatter(|out, _, value| {
            // The number of a part of a list.
            if value.is_integer() {
                return out.write_str(&value.to_string()).map_err(Error::from);
            }
            let text = value.as_str().ok_or_else(|| {
                Error::new(ErrorKind::InvalidOperation, format!("{value} is not finished text"))
            })?;
            out.write_str(&escape_commonmark_inline(text)).map_err(Error::from)
        });
        add_calls(&mut environment, numbered, &language);
        for (name, text) in PAGES.into_iter().chain(SHEETS) {
            let text = language.page(name).unwrap_or_else(|| text.into());
            environment.add_template_owned(name, text).map_err(|e| located(name, &e))?;
        }
        Ok(Self { environment, language, budget: Budget::default() })
    }

    /// A finished booklet, its title with `ending`, in the language of its words.
    pub(super) fn finish(&self, mut booklet: Booklet, ending: &str) -> Booklet {
        booklet.title.push_str(&self.language.say(ending));
        if booklet.large {
            booklet.pages = large::spread(booklet.pages, &self.language.say("In words"));
        }
        booklet.language = self.language.code().into();
        booklet.words = FIXED.into_iter().map(|word| (word, self.language.say(word))).collect();
        booklet.untold = self.language.unknown();
        booklet
    }

    /// Fills one page of ours.
    ///
    /// # Errors
    /// A value or block the page calls but does not get, or Markdown that is not supported.
    pub fn page(&self, id: &str, values: &Value, blocks: &Blocks) -> Result<Page, String> {
        let filled = self.fill(id, values, [blocks; 2], None, &Budget::default());
        filled.map_err(|faults| {
            let template = self.environment.get_template(id);
            let source = template.as_ref().map_or("", |t| t.source());
            faults.iter().map(|f| f.line(id, source)).collect::<Vec<_>>().join("; ")
        })
    }

    pub(super) fn fill(
        &self,
        id: &str,
        values: &Value,
        blocks: [&Blocks; 2],
        needed: Option<&'static str>,
        budget: &Budget,
    ) -> Result<Page, Vec<Fault>> {
        let stopped = |e: Error| vec![Fault::stopped(&e)];
        let template = self.environment.get_template(id).map_err(stopped)?;
        let (text, spans) =
            template.render_with_spans(self.language.value(values)).map_err(stopped)?;
        if !budget.spend(text.len()) {
            return Err(vec![Fault::too_much(0..0)]);
        }
        let arena = Arena::new();
        let mut options = Options::default();
        options.extension.table = true;
        options.extension.tasklist = true;
        options.extension.alerts = true;
        let root = parse_document(&arena, &text, &options);
        let spans = Spans::new(template.source(), &text, &spans);
        let reader = Reader::new(blocks, spans, (budget, &self.language));
        let mut title = None;
        let mut all = Vec::new();
        for node in root.children() {
            match (&node.data().value, &title) {
                (NodeValue::Heading(h), None) if h.level == 1 => {
                    title = Some(reader.line(node));
                }
                _ => all.extend(reader.block(node)),
            }
        }
        let faults = reader.faults(needed, title.as_ref());
        match title {
            Some(title) if faults.is_empty() => {
                Ok(Page { id: id.into(), title, running: String::new(), blocks: all })
            }
            _ => Err(faults),
        }
    }
}

fn located(id: &str, error: &Error) -> String {
    let line = error.line().map_or(String::new(), |l| format!(", line {l}"));
    format!("templates/pages/{id}.md{line}: {error}")
}

impl Reader<'_> {
    #[expect(clippy::wildcard_enum_match_arm, reason = "all else of Markdown is not supported")]
    fn block(&self, node: Node<'_>) -> Vec<Block> {
        let value = node.data().value.clone();
        match value {
            NodeValue::Paragraph => self.paragraph(node),
            NodeValue::Heading(h) if h.level > 1 && self.depth.get() == 0 => {
                vec![self.heading(node, h.level)]
            }
            NodeValue::List(list) => {
                let items: Vec<_> = node.children().collect();
                if items.iter().any(|i| matches!(i.data().value, NodeValue::TaskItem(_))) {
                    let ticks = items.iter().map(|i| self.only_line(i));
                    vec![Block::Ticks { items: ticks.collect() }]
                } else {
                    let ordered = list.list_type == ListType::Ordered;
                    let items = items.iter().map(|i| self.blocks(i));
                    vec![Block::List { ordered, items: items.collect() }]
                }
            }
            NodeValue::Table(table) => self.table(node, &table.alignments).into_iter().collect(),
            NodeValue::Alert(alert) => {
                let voice = match alert.alert_type {
                    AlertType::Note | AlertType::Tip => Voice::Note,
                    AlertType::Caution => Voice::Caution,
                    AlertType::Warning => Voice::Warning,
                    AlertType::Important => Voice::Danger,
                };
                let blocks = self.blocks(node);
                self.check_frame(node, &blocks);
                vec![Block::Alert { voice, blocks }]
            }
            other => {
                self.unsupported(node, &other);
                Vec::new()
            }
        }
    }

    fn blocks(&self, node: Node<'_>) -> Vec<Block> {
        self.deeper(node, || node.children().flat_map(|c| self.block(c)).collect())
    }

    fn paragraph(&self, node: Node<'_>) -> Vec<Block> {
        let text = self.line(node);
        let letters = super::block::letters(&text);
        let Some(name) = letters.strip_prefix(MARK[0]).and_then(|l| l.strip_suffix(MARK[1])) else {
            if letters.contains(MARK) {
                let help = "put it between two empty lines, with nothing else in its paragraph";
                self.fault(node, "block-place", "a block must stand alone in its paragraph", help);
            }
            return vec![Block::Paragraph { text }];
        };
        if let Some(count) = name.strip_prefix("write-lines ") {
            let last = node.next_sibling().is_none() && self.depth.get() == 0;
            if count == "0" && !last {
                let says = "lines to the end of the sheet leave no room under them";
                self.fault(node, "block-place", says, "put it last on its page, by itself");
            }
            return vec![Block::Lines { count: count.parse().unwrap_or(1).min(LINES) }];
        }
        self.called(node, name)
    }

    fn table(&self, node: Node<'_>, aligns: &[TableAlignment]) -> Option<Block> {
        if aligns.len() > WIDEST {
            let says = format!("a table of {} columns does not fit on paper", aligns.len());
            self.fault(node, "not-on-paper", says, "at most 12; make two tables of it");
            return None;
        }
        let cells = |row: Node<'_>| -> Vec<Line> {
            let mut cells: Vec<Line> = row.children().map(|c| self.line(c)).collect();
            cells.resize(aligns.len(), Line::new());
            cells
        };
        let mut rows = node.children().map(cells);
        let (head, rows) = (rows.next()?, rows.collect::<Vec<_>>());
        let column = |(i, head): (usize, Line)| {
            let align = match aligns.get(i) {
                Some(TableAlignment::Right) => Align::Right,
                Some(TableAlignment::Center) => Align::Centre,
                _ => Align::Left,
            };
            let length = |row: &Vec<Line>| super::block::letters(&row[i]).chars().count();
            // Room by the longest cell, so that long remarks get the width.
            let longest = rows.iter().map(length).max().unwrap_or(0).clamp(12, 60);
            Column { head, align, share: u32::try_from(longest).unwrap_or(12) }
        };
        let columns: Vec<Column> = head.into_iter().enumerate().map(column).collect();
        let row_height = row_height(&columns, &rows);
        Some(Block::Table(Table { caption: String::new(), columns, rows, row_height }))
    }

    #[expect(clippy::wildcard_enum_match_arm, reason = "all else of Markdown is not supported")]
    pub(super) fn line(&self, node: Node<'_>) -> Line {
        let mut line: Line = Vec::new();
        for child in node.children() {
            let value = child.data().value.clone();
            let piece = match value {
                NodeValue::Text(text) => Inline::Text { text: text.to_string() },
                NodeValue::SoftBreak | NodeValue::LineBreak => Inline::Text { text: " ".into() },
                NodeValue::Code(code) => Inline::Code { text: code.literal },
                NodeValue::Strong => Inline::Strong { of: self.inner(child) },
                NodeValue::Emph => Inline::Emphasis { of: self.inner(child) },
                other => {
                    self.unsupported(child, &other);
                    continue;
                }
            };
            self.check_letters(child, &piece);
            match (line.last_mut(), piece) {
                (Some(Inline::Text { text: before }), Inline::Text { text }) => {
                    before.push_str(&text);
                }
                (_, piece) => line.push(piece),
            }
        }
        line
    }
}
