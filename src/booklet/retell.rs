//! Every text of values and blocks, told in another language.

use minijinja::value::{Value, ValueKind};

use super::block::{Block, Inline, Line, Table, Worked};
use super::drawing::{Drawing, Mark};
use super::language::Language;
use crate::number::Expression;

impl Language {
    /// Every text in a value, lists and groups as well.
    #[expect(clippy::wildcard_enum_match_arm, reason = "all else holds no text")]
    pub(super) fn value(&self, value: &Value) -> Value {
        if !self.foreign {
            return value.clone();
        }
        match value.kind() {
            ValueKind::String => Value::from(self.say(value.as_str().unwrap_or_default())),
            ValueKind::Seq => {
                let items = value.try_iter().into_iter().flatten();
                items.map(|item| self.value(&item)).collect::<Vec<_>>().into()
            }
            ValueKind::Map => {
                let keys = value.try_iter().into_iter().flatten();
                let pair = |key: Value| {
                    let item = value.get_item(&key).unwrap_or_default();
                    // Pages compare these; they are never printed.
                    let code = ["kind", "opening"].contains(&key.as_str().unwrap_or_default());
                    (key.to_string(), if code { item } else { self.value(&item) })
                };
                Value::from_pairs(keys.map(pair))
            }
            _ => value.clone(),
        }
    }

    /// Every text in blocks; what is letter for letter stays.
    pub(super) fn blocks(&self, blocks: &[Block]) -> Vec<Block> {
        if self.foreign { blocks.iter().map(|b| self.block(b)).collect() } else { blocks.to_vec() }
    }

    fn block(&self, block: &Block) -> Block {
        let lines = |lines: &[Line]| lines.iter().map(|l| self.line(l)).collect();
        match block {
            Block::Heading { level, text } => {
                Block::Heading { level: *level, text: self.line(text) }
            }
            Block::Paragraph { text } => Block::Paragraph { text: self.line(text) },
            Block::List { ordered, items } => {
                let items = items.iter().map(|i| self.blocks(i)).collect();
                Block::List { ordered: *ordered, items }
            }
            Block::Ticks { items } => Block::Ticks { items: lines(items) },
            Block::Table(table) => Block::Table(self.table(table)),
            Block::Alert { voice, blocks } => {
                Block::Alert { voice: *voice, blocks: self.blocks(blocks) }
            }
            Block::Figure(drawing) => Block::Figure(self.drawing(drawing)),
            Block::Worked(worked) => Block::Worked(Box::new(self.worked(worked))),
            // Labels come from a page, which is in this language already.
            Block::Verbatim { .. } | Block::Lines { .. } | Block::Labels { .. } => block.clone(),
        }
    }

    fn line(&self, line: &[Inline]) -> Line {
        let piece = |piece: &Inline| match piece {
            Inline::Text { text } => Inline::Text { text: self.say(text) },
            Inline::Strong { of } => Inline::Strong { of: self.line(of) },
            Inline::Emphasis { of } => Inline::Emphasis { of: self.line(of) },
            Inline::Code { .. } | Inline::Symbol(_) => piece.clone(),
        };
        line.iter().map(piece).collect()
    }

    fn table(&self, table: &Table) -> Table {
        let mut columns = table.columns.clone();
        for column in &mut columns {
            column.head = self.line(&column.head);
        }
        let row = |row: &Vec<Line>| row.iter().map(|cell| self.line(cell)).collect();
        let rows = table.rows.iter().map(row).collect();
        Table { caption: self.say(&table.caption), columns, rows, ..table.clone() }
    }

    fn drawing(&self, drawing: &Drawing) -> Drawing {
        let mut drawing = drawing.clone();
        drawing.alt = self.say(&drawing.alt);
        drawing.caption = self.say(&drawing.caption);
        for mark in &mut drawing.marks {
            if let Mark::Words { text, .. } = mark {
                *text = self.say(text);
            }
        }
        drawing
    }

    fn worked(&self, worked: &Worked) -> Worked {
        let legend = worked.legend.iter();
        Worked {
            title: self.say(&worked.title),
            about: self.say(&worked.about),
            expression: self.expression(&worked.expression),
            formula: self.maths(&worked.formula),
            numbers: self.maths(&worked.numbers),
            result: self.maths(&worked.result),
            accept: self.say(&worked.accept),
            wrong: worked.wrong.iter().map(|wrong| self.say(wrong)).collect(),
            legend: legend
                .map(|(symbol, what, from)| (symbol.clone(), self.say(what), self.say(from)))
                .collect(),
            source: self.say(&worked.source),
            others: worked.others.as_ref().map(|t| self.table(t)),
            ..worked.clone()
        }
    }

    /// The numbers and units of a calculation as they are written in this language.
    fn expression(&self, whole: &Expression) -> Expression {
        let mut whole = whole.clone();
        whole.retell(&|number| self.number(number), &|unit| self.unit(unit));
        whole
    }

    /// A unit that is a word or holds one.
    fn unit(&self, unit: &str) -> String {
        let word = |word: &str| self.table.get(word).map_or_else(|| word.into(), Clone::clone);
        unit.split(' ').map(word).collect::<Vec<String>>().join(" ")
    }

    /// A formula: its few words and units, and the comma.
    fn maths(&self, text: &str) -> String {
        let words = self.table.iter();
        let words =
            words.filter_map(|(english, own)| Some((english.strip_prefix("maths: ")?, own)));
        let chosen = words.fold(text.to_string(), |text, (word, own)| text.replace(word, own));
        // A unit stands alone between spaces and brackets: a symbol such as m_tsp is another word.
        let word = |piece: &str| {
            let bare = piece.trim_end_matches(BETWEEN);
            self.unit(bare) + piece.strip_prefix(bare).unwrap_or_default()
        };
        let all: String = chosen.split_inclusive(BETWEEN).map(word).collect();
        self.number(&all)
    }
}

/// What stands around a unit in a line of a formula.
const BETWEEN: [char; 5] = [' ', '\u{a0}', '(', ')', ';'];
