//! Lines and tables as the templates of paper read them. Most words are plain, and plain words are bare
//! texts there: a template that is called for each cell takes longer than the cell.

use serde::ser::SerializeSeq;
use serde::{Serialize, Serializer};

use super::block::{Column, Inline, Line, Table};
use super::hold::hold;

/// Writes a text.
pub(super) fn held<S: Serializer>(text: &str, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(&hold(text))
}

/// Writes a line: a text if it is plain, and else its pieces.
pub(super) fn line<S: Serializer>(line: &Line, to: S) -> Result<S::Ok, S::Error> {
    match line.as_slice() {
        [] => to.serialize_str(""),
        [Inline::Text { text }] => held(text, to),
        pieces => pieces.serialize(to),
    }
}

/// Writes lines.
pub(super) fn lines<S: Serializer>(lines: &[Line], to: S) -> Result<S::Ok, S::Error> {
    let mut list = to.serialize_seq(Some(lines.len()))?;
    for line in lines {
        list.serialize_element(&Printed(line))?;
    }
    list.end()
}

/// A line, written as [`line`] writes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printed<'a>(pub &'a Line);

impl Serialize for Printed<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        line(self.0, to)
    }
}

/// A piece that is more than words.
#[derive(Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
enum Piece<'a> {
    Strong { of: &'a [Inline] },
    Emphasis { of: &'a [Inline] },
    Symbol { base: &'a str, low: &'a str },
    Code { text: &'a str },
}

impl Serialize for Inline {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Text { text } => held(text, to),
            Self::Strong { of } => Piece::Strong { of }.serialize(to),
            Self::Emphasis { of } => Piece::Emphasis { of }.serialize(to),
            Self::Symbol(s) => Piece::Symbol { base: &s.base, low: &s.low }.serialize(to),
            Self::Code { text } => Piece::Code { text }.serialize(to),
        }
    }
}

impl Inline {
    /// How many letters it has.
    fn letters(&self) -> usize {
        match self {
            Self::Text { text } | Self::Code { text } => text.chars().count(),
            Self::Symbol(symbol) => symbol.base.chars().count() + symbol.low.chars().count(),
            Self::Strong { of } | Self::Emphasis { of } => of.iter().map(Self::letters).sum(),
        }
    }
}

/// A table, and what its template would have to look at every cell for.
#[derive(Serialize)]
struct Cells<'a> {
    #[serde(serialize_with = "held")]
    caption: &'a str,
    columns: &'a [Column],
    rows: Vec<Vec<Printed<'a>>>,
    row_height: f64,
    /// All cells are plain texts.
    plain: bool,
    /// How many letters must have room across the table for every cell to take one line.
    reach: f64,
    /// Letters of all its cells.
    letters: usize,
}

/// Letters that the space on either side of a column is worth.
const BESIDE: usize = 2;

impl Serialize for Table {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let shares: u32 = self.columns.iter().map(|column| column.share).sum();
        let cells = || self.rows.iter().flat_map(|row| row.iter().zip(&self.columns));
        let letters = |cell: &Line| cell.iter().map(Inline::letters).sum::<usize>();
        let reach = |(cell, column): (&Line, &Column)| {
            f64::from(u32::try_from(letters(cell) + BESIDE).unwrap_or(u32::MAX)) * f64::from(shares)
                / f64::from(column.share)
        };
        let plain = |(cell, _): (&Line, _)| matches!(cell.as_slice(), [] | [Inline::Text { .. }]);
        let cells = Cells {
            caption: &self.caption,
            columns: &self.columns,
            rows: self.rows.iter().map(|row| row.iter().map(Printed).collect()).collect(),
            row_height: self.row_height,
            plain: cells().all(plain),
            reach: cells().map(reach).fold(0.0, f64::max),
            letters: cells().map(|(cell, _)| letters(cell)).sum(),
        };
        cells.serialize(to)
    }
}

#[cfg(test)]
mod tests {
    use super::super::block::plain;
    use super::*;
    use crate::number::Symbol;

    fn json(what: &impl Serialize) -> String {
        serde_json::to_string(what).unwrap()
    }

    #[test]
    fn plain_words_are_bare_texts() {
        assert_eq!(json(&Printed(&plain("20 L"))), "\"20\u{a0}L\"");
        assert_eq!(json(&Printed(&Vec::new())), "\"\"");
        let mixed = vec![Inline::Text { text: "in ".into() }, Inline::Symbol(Symbol::of("V_0"))];
        assert_eq!(json(&Printed(&mixed)), r#"["in ",{"is":"symbol","base":"V","low":"0"}]"#);
    }

    /// By hand: 8 letters and 2 for the space beside them in a third of the width.
    #[test]
    fn a_table_says_how_wide_its_words_reach() {
        let columns = vec![Column::words("a", 1), Column::words("b", 2)];
        let table = Table::to_fill("", columns, vec![vec![plain("Thursday"), Vec::new()]]);
        assert!(
            json(&table).ends_with(r#""plain":true,"reach":30.0,"letters":8}"#),
            "{}",
            json(&table)
        );
    }
}
