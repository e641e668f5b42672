//! What a booklet is made of. Words and numbers are finished text here; only drawings hold
//! numbers, in millimetres of paper.

use serde::Serialize;

use super::drawing::Drawing;
use super::paper::{arithmetic, held, legend, line, lines, running, texts};
use crate::number::{Expression, Symbol};

/// A piece of a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Inline {
    /// Plain words, printed letter for letter.
    Text {
        /// The words.
        text: String,
    },
    /// Strongly emphasised.
    Strong {
        /// What is emphasised.
        of: Vec<Inline>,
    },
    /// Emphasised.
    Emphasis {
        /// What is emphasised.
        of: Vec<Inline>,
    },
    /// A symbol of a quantity.
    Symbol(Symbol),
    /// Something typed or keyed, in a fixed-width face.
    Code {
        /// What is typed.
        text: String,
    },
}

/// A line of words.
pub type Line = Vec<Inline>;

/// A line of plain words.
#[must_use]
pub fn plain(text: impl Into<String>) -> Line {
    vec![Inline::Text { text: text.into() }]
}

/// The letters of a line, without its emphasis.
#[must_use]
pub fn letters(line: &[Inline]) -> String {
    line.iter()
        .map(|piece| match piece {
            Inline::Text { text } | Inline::Code { text } => text.clone(),
            Inline::Symbol(symbol) => format!("{}{}", symbol.base, symbol.low),
            Inline::Strong { of } | Inline::Emphasis { of } => letters(of),
        })
        .collect()
}

/// How the words of a column stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
    /// Ticks and short marks.
    Centre,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Column {
    /// Its heading.
    #[serde(serialize_with = "running")]
    pub head: Line,
    /// How its words stand.
    pub align: Align,
    /// Its share of the width, relative to the other columns.
    pub share: u32,
}

impl Column {
    /// A column of words.
    #[must_use]
    pub fn words(head: &str, share: u32) -> Self {
        Self { head: plain(head), align: Align::Left, share }
    }

    /// A column under a symbol.
    #[must_use]
    pub fn under(symbol: &str, align: Align, share: u32) -> Self {
        Self { head: vec![Inline::Symbol(Symbol::of(symbol))], align, share }
    }

    /// A column of numbers.
    #[must_use]
    pub fn numbers(head: &str, share: u32) -> Self {
        Self { head: plain(head), align: Align::Right, share }
    }
}

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// What it shows; may be empty.
    pub caption: String,
    /// Its columns; every row has as many cells.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Vec<Line>>,
    /// Rows are at least this high (mm of paper), so that one can write in them; 0 for print.
    pub row_height: f64,
}

impl Table {
    /// A table to read.
    #[must_use]
    pub fn printed(caption: &str, columns: Vec<Column>, rows: Vec<Vec<Line>>) -> Self {
        Self { caption: caption.into(), columns, rows, row_height: 0.0 }
    }

    /// A table to write in.
    #[must_use]
    pub fn to_fill(caption: &str, columns: Vec<Column>, rows: Vec<Vec<Line>>) -> Self {
        Self { row_height: WRITING_ROW, ..Self::printed(caption, columns, rows) }
    }
}

/// Height of a row that is written in by hand (mm).
pub const WRITING_ROW: f64 = 8.0;

/// How loudly an alert speaks. Told by its word and frame, never by colour alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Voice {
    /// Worth knowing.
    Note,
    /// The crop may suffer.
    Caution,
    /// Someone may be hurt.
    Warning,
    /// Someone may be badly hurt.
    Danger,
}

/// A calculation as printed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Worked {
    /// Its number in the booklet, from 1.
    pub number: usize,
    /// What is worked out.
    #[serde(serialize_with = "held")]
    pub title: String,
    /// Which bin, batch or item the numbers are for.
    #[serde(serialize_with = "held")]
    pub about: String,
    /// Symbol of the result.
    pub symbol: Symbol,
    /// The formula.
    #[serde(serialize_with = "arithmetic")]
    pub expression: Expression,
    /// The formula in symbols, in one line.
    pub formula: String,
    /// The formula with the numbers put in, in one line, or a blank to fill in.
    pub numbers: String,
    /// The numbers are put in.
    pub shown: bool,
    /// Lines (of 8 mm) that putting them in by hand takes; 0 if they are printed.
    pub lines: usize,
    /// The result with its unit.
    pub result: String,
    /// What a key accepts for it; empty in all other editions.
    #[serde(serialize_with = "held")]
    pub accept: String,
    /// Likely wrong results and what each reveals, in a key.
    #[serde(serialize_with = "texts")]
    pub wrong: Vec<String>,
    /// Each symbol explained: symbol, meaning, where its number comes from.
    #[serde(serialize_with = "legend")]
    pub legend: Vec<(Symbol, String, String)>,
    /// Where the formula comes from, with its mark.
    #[serde(serialize_with = "held")]
    pub source: String,
    /// The same calculation for the other bins or items, folded into a table.
    pub others: Option<Table>,
}

/// A label to cut out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Label {
    /// What it names, in large letters.
    #[serde(serialize_with = "line")]
    pub title: Line,
    /// What else it says.
    pub blocks: Vec<Block>,
}

/// A part of a page.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub enum Block {
    /// A heading inside a page.
    Heading {
        /// 2 or 3; level 1 is the page's own title.
        level: u8,
        /// Its words.
        #[serde(serialize_with = "line")]
        text: Line,
    },
    /// A paragraph.
    Paragraph {
        /// Its words.
        #[serde(serialize_with = "running")]
        text: Line,
    },
    /// A list.
    List {
        /// Numbered, because the order matters.
        ordered: bool,
        /// Its items.
        items: Vec<Vec<Block>>,
    },
    /// A list with boxes to tick.
    Ticks {
        /// Its items.
        #[serde(serialize_with = "lines")]
        items: Vec<Line>,
    },
    /// A table.
    Table(Table),
    /// A framed warning.
    Alert {
        /// How loudly it speaks.
        voice: Voice,
        /// Its blocks.
        blocks: Vec<Block>,
    },
    /// A drawing.
    Figure(Drawing),
    /// A calculation.
    Worked(Box<Worked>),
    /// Text in a fixed-width face, letter for letter.
    Verbatim {
        /// The text.
        text: String,
    },
    /// Labels to cut out.
    Labels {
        /// The labels.
        labels: Vec<Label>,
    },
    /// Ruled lines to write on.
    Lines {
        /// How many; 0 for as many as the sheet has room for.
        count: usize,
    },
}
