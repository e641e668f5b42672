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
use minijinja::value::{Rest, Value};
use minijinja::{AutoEscape, Environment, Error, ErrorKind, UndefinedBehavior};

use super::block::{Align, Block, Booklet, Column, Inline, Line, Page, Table, Voice};
use super::catalogue::{CALLS, PAGES, SHEETS};
use super::language::Language;
use super::large;
use super::page::working;

/// Blocks a page may call, by name.
pub type Blocks = BTreeMap<&'static str, Vec<Block>>;

/// Words that the writers print themselves.
const FIXED: [&str; 7] =
    ["Note", "Caution", "WARNING", "DANGER", "plan", "page {n} of {n2}", "part {n} of {n2}"];

/// Marks where a block goes; plans cannot contain these characters.
const MARK: [char; 2] = ['\u{E000}', '\u{E001}'];

/// Templates ready to be filled.
pub struct Words {
    environment: Environment<'static>,
    language: Arc<Language>,
}

impl Words {
    /// Loads the templates; `numbered` gives the number of a calculation by its id.
    ///
    /// # Errors
    /// A template that cannot be read, with its place.
    pub fn new(
        numbered: BTreeMap<&'static str, usize>,
        language: Language,
    ) -> Result<Self, String> {
        let language = Arc::new(language);
        let mut environment = Environment::new();
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        let syntax = SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build();
        environment.set_syntax(syntax.map_err(|e| e.to_string())?);
        environment.set_auto_escape_callback(|_| AutoEscape::Custom("markdown".into()));
        environment.set_formatter(|out, _, value| {
            let text = value.as_str().ok_or_else(|| {
                Error::new(ErrorKind::InvalidOperation, format!("{value} is not finished text"))
            })?;
            out.write_str(&escape_commonmark_inline(text)).map_err(Error::from)
        });
        environment.remove_filter("safe");
        for call in CALLS {
            environment.add_function(call, move || mark(call));
        }
        environment.add_function("write_lines", |n: u32| mark(&format!("write-lines {n}")));
        let places = numbered.clone();
        let tongue = Arc::clone(&language);
        environment.add_function("worked", move |id: &str| match numbered.get(id) {
            Some(number) => Ok(tongue.say(&format!("calculation {number}"))),
            None => Ok::<_, Error>(tongue.say("the working")),
        });
        let tongue = Arc::clone(&language);
        environment.add_function("worked_in", move |ids: Rest<String>| {
            let all = ids.iter().filter_map(|id| places.get(id.as_str()).copied());
            tongue.say(&working::together(all))
        });
        for (name, text) in PAGES.into_iter().chain(SHEETS) {
            let text = language.page(name).unwrap_or(text);
            environment.add_template(name, text).map_err(|e| located(name, &e))?;
        }
        Ok(Self { environment, language })
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

    /// Fills one page.
    ///
    /// # Errors
    /// A value or block the page calls but does not get, or Markdown that is not supported.
    pub fn page(&self, id: &str, values: &Value, blocks: &Blocks) -> Result<Page, String> {
        let template = self.environment.get_template(id).map_err(|e| located(id, &e))?;
        let blocks: Blocks =
            blocks.iter().map(|(name, all)| (*name, self.language.blocks(all))).collect();
        let text = template.render(self.language.value(values)).map_err(|e| located(id, &e))?;
        let arena = Arena::new();
        let mut options = Options::default();
        options.extension.table = true;
        options.extension.tasklist = true;
        options.extension.alerts = true;
        let root = parse_document(&arena, &text, &options);
        let reader = Reader { id, blocks: &blocks };
        let mut title = None;
        let mut all = Vec::new();
        for node in root.children() {
            match (&node.data().value, &title) {
                (NodeValue::Heading(h), None) if h.level == 1 => {
                    title = Some(reader.line(node)?);
                }
                _ => all.extend(reader.block(node)?),
            }
        }
        let title = title.ok_or_else(|| format!("templates/pages/{id}.md has no title"))?;
        Ok(Page { id: id.into(), title, blocks: all })
    }
}

fn mark(name: &str) -> String {
    format!("{}{name}{}", MARK[0], MARK[1])
}

fn located(id: &str, error: &Error) -> String {
    let line = error.line().map_or(String::new(), |l| format!(", line {l}"));
    format!("templates/pages/{id}.md{line}: {error}")
}

struct Reader<'a> {
    id: &'a str,
    blocks: &'a Blocks,
}

impl Reader<'_> {
    fn fault(&self, node: Node<'_>, what: &str) -> String {
        let line = node.data().sourcepos.start.line;
        format!("templates/pages/{}.md, line {line} of its text: {what}", self.id)
    }

    #[expect(clippy::wildcard_enum_match_arm, reason = "all else of Markdown is not supported")]
    fn block(&self, node: Node<'_>) -> Result<Vec<Block>, String> {
        let value = node.data().value.clone();
        Ok(match value {
            NodeValue::Paragraph => self.paragraph(node)?,
            NodeValue::Heading(h) if h.level > 1 => {
                vec![Block::Heading { level: h.level.min(3), text: self.line(node)? }]
            }
            NodeValue::List(list) => {
                let items: Vec<_> = node.children().collect();
                if items.iter().any(|i| matches!(i.data().value, NodeValue::TaskItem(_))) {
                    let ticks = items.iter().map(|i| self.only_line(i));
                    vec![Block::Ticks { items: ticks.collect::<Result<_, _>>()? }]
                } else {
                    let ordered = list.list_type == ListType::Ordered;
                    let items = items.iter().map(|i| self.blocks(i));
                    vec![Block::List { ordered, items: items.collect::<Result<_, _>>()? }]
                }
            }
            NodeValue::Table(table) => vec![self.table(node, &table.alignments)?],
            NodeValue::Alert(alert) => {
                let voice = match alert.alert_type {
                    AlertType::Note | AlertType::Tip => Voice::Note,
                    AlertType::Caution => Voice::Caution,
                    AlertType::Warning => Voice::Warning,
                    AlertType::Important => Voice::Danger,
                };
                vec![Block::Alert { voice, blocks: self.blocks(node)? }]
            }
            other => return Err(self.fault(node, &format!("{other:?} is not supported"))),
        })
    }

    fn blocks(&self, node: Node<'_>) -> Result<Vec<Block>, String> {
        let blocks: Vec<Vec<Block>> =
            node.children().map(|c| self.block(c)).collect::<Result<_, _>>()?;
        Ok(blocks.into_iter().flatten().collect())
    }

    fn paragraph(&self, node: Node<'_>) -> Result<Vec<Block>, String> {
        let text = self.line(node)?;
        let letters = super::block::letters(&text);
        let Some(name) = letters.strip_prefix(MARK[0]).and_then(|l| l.strip_suffix(MARK[1])) else {
            if letters.contains(MARK) {
                return Err(self.fault(node, "a block call must stand alone in its paragraph"));
            }
            return Ok(vec![Block::Paragraph { text }]);
        };
        if let Some(count) = name.strip_prefix("write-lines ") {
            return Ok(vec![Block::Lines { count: count.parse().unwrap_or(1) }]);
        }
        let found = self.blocks.get(name).cloned();
        found.ok_or_else(|| self.fault(node, &format!("this page has no block `{name}`")))
    }

    /// The line of an item that holds one paragraph.
    fn only_line(&self, node: Node<'_>) -> Result<Line, String> {
        let mut children = node.children();
        match (children.next(), children.next()) {
            (Some(child), None) => self.line(child),
            _ => Err(self.fault(node, "a box to tick has one line")),
        }
    }

    fn table(&self, node: Node<'_>, aligns: &[TableAlignment]) -> Result<Block, String> {
        let mut rows = Vec::new();
        for row in node.children() {
            let cells: Vec<Line> =
                row.children().map(|c| self.line(c)).collect::<Result<_, _>>()?;
            rows.push(cells);
        }
        let head = rows.remove(0);
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
        let columns = head.into_iter().enumerate().map(column).collect();
        Ok(Block::Table(Table { caption: String::new(), columns, rows, row_height: 0.0 }))
    }

    #[expect(clippy::wildcard_enum_match_arm, reason = "all else of Markdown is not supported")]
    fn line(&self, node: Node<'_>) -> Result<Line, String> {
        let mut line: Line = Vec::new();
        for child in node.children() {
            let value = child.data().value.clone();
            let piece = match value {
                NodeValue::Text(text) => Inline::Text { text: text.to_string() },
                NodeValue::SoftBreak | NodeValue::LineBreak => Inline::Text { text: " ".into() },
                NodeValue::Code(code) => Inline::Code { text: code.literal },
                NodeValue::Strong => Inline::Strong { of: self.line(child)? },
                NodeValue::Emph => Inline::Emphasis { of: self.line(child)? },
                other => return Err(self.fault(child, &format!("{other:?} is not supported"))),
            };
            match (line.last_mut(), piece) {
                (Some(Inline::Text { text: before }), Inline::Text { text }) => {
                    before.push_str(&text);
                }
                (_, piece) => line.push(piece),
            }
        }
        Ok(line)
    }
}
