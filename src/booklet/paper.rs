//! Lines and tables as the templates of paper read them. Most words are plain, and plain words are bare
//! texts there: a template that is called for each cell takes longer than the cell.

use serde::ser::SerializeSeq;
use serde::{Serialize, Serializer};

use super::block::{Column, Inline, Line, Table, plain};
use super::drawn::drawn;
use super::hold::{hold, kept, tears};
use crate::number::{Expression, Symbol};

/// Writes a text.
pub(super) fn held<S: Serializer>(text: &str, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(&hold(text))
}

/// Writes a line: a text if it is plain, and else its pieces.
pub(super) fn line<S: Serializer>(line: &Line, to: S) -> Result<S::Ok, S::Error> {
    match line.as_slice() {
        [] => to.serialize_str(""),
        [Inline::Text { text }] if tears(text) => words(text, to),
        [Inline::Text { text }] => held(text, to),
        pieces => pieces.serialize(to),
    }
}

/// Writes lines of running text.
pub(super) fn lines<S: Serializer>(lines: &[Line], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(lines.iter().map(|line| Running(line)))
}

/// A line of running text.
struct Running<'a>(&'a [Inline]);

impl Serialize for Running<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        running(self.0, to)
    }
}

/// Writes plain running texts.
pub(super) fn texts<S: Serializer>(all: &[String], to: S) -> Result<S::Ok, S::Error> {
    let line = |text: &String| plain(text.as_str());
    to.collect_seq(all.iter().map(line).collect::<Vec<_>>().iter().map(|line| Running(line)))
}

/// Writes a line of running text, in which some words break nowhere. (To say so of every cell of a
/// table would take long.)
pub(super) fn running<S: Serializer>(line: &[Inline], to: S) -> Result<S::Ok, S::Error> {
    if let [Inline::Text { text }] = line {
        return words(text, to);
    }
    let mut list = to.serialize_seq(None)?;
    for piece in line {
        let Inline::Text { text } = piece else {
            list.serialize_element(piece)?;
            continue;
        };
        for (whole, text) in &kept(text) {
            list.serialize_element(&Words { whole: *whole, text })?;
        }
    }
    list.end()
}

/// Writes plain running text. (What is to be filled in stays one text, for the template looks for it.)
pub(super) fn words<S: Serializer>(text: &str, to: S) -> Result<S::Ok, S::Error> {
    let pieces = kept(text);
    if text.contains("__") || pieces.iter().all(|(whole, _)| !whole) {
        return held(text, to);
    }
    to.collect_seq(pieces.iter().map(|(whole, text)| Words { whole: *whole, text }))
}

/// A piece of plain running text.
struct Words<'a> {
    whole: bool,
    text: &'a str,
}

impl Serialize for Words<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        if self.whole {
            return Piece::Kept { text: self.text }.serialize(to);
        }
        to.serialize_str(self.text)
    }
}

/// Writes a formula as its template draws it.
pub(super) fn arithmetic<S: Serializer>(whole: &Expression, to: S) -> Result<S::Ok, S::Error> {
    drawn(whole).serialize(to)
}

/// Writes what the symbols of a calculation are.
pub(super) fn legend<S: Serializer>(
    all: &[(Symbol, String, String)],
    to: S,
) -> Result<S::Ok, S::Error> {
    let lines = all.iter().map(|(symbol, what, from)| {
        let [what, from] = [what, from].map(|text| plain(text.as_str()));
        (symbol, what, from)
    });
    let lines: Vec<_> = lines.collect();
    let running = |(symbol, what, from)| (symbol, Running(what), Running(from));
    to.collect_seq(lines.iter().map(|(symbol, what, from)| running((*symbol, what, from))))
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
    Kept { text: &'a str },
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
        self.texts().map(|text| text.chars().count()).sum()
    }

    /// What it takes in one line, at most (em).
    fn reach(&self) -> f64 {
        let bold = if matches!(self, Self::Strong { .. }) { BOLD } else { 1.0 };
        bold * self.texts().flat_map(str::chars).map(reach).sum::<f64>()
    }

    fn texts(&self) -> Box<dyn Iterator<Item = &str> + '_> {
        match self {
            Self::Text { text } | Self::Code { text } => Box::new(std::iter::once(text.as_str())),
            Self::Symbol(symbol) => Box::new([symbol.base.as_str(), &symbol.low].into_iter()),
            Self::Strong { of } | Self::Emphasis { of } => {
                Box::new(of.iter().flat_map(Self::texts))
            }
        }
    }
}

/// How much wider bold letters are, at most.
const BOLD: f64 = 1.2;

/// How wide a letter of the face of the page is, at most (em); read from the face's own table.
fn reach(letter: char) -> f64 {
    match letter {
        ' ' | '\u{a0}' | '.' | ',' | ';' | ':' | '(' | ')' | '/' | '-' => 0.34,
        'f' | 'i' | 'j' | 'l' | 'r' | 's' | 't' | 'I' => 0.39,
        '0'..='9' => 0.47,
        'm' | 'w' => 0.79,
        'a'..='z' => 0.55,
        'M' | 'W' | '@' => 0.96,
        '°' | '–' | '×' | '−' | 'µ' | 'á' | 'é' | 'í' | 'ó' | 'ú' | 'ñ' | 'ü' => 0.56,
        _ if letter.is_ascii() => 0.75,
        // The widest there are.
        _ => 1.3,
    }
}

/// A table, and what its template would have to look at every cell for.
#[derive(Serialize)]
struct Cells<'a> {
    #[serde(serialize_with = "words")]
    caption: &'a str,
    columns: &'a [Column],
    rows: Vec<Vec<Printed<'a>>>,
    row_height: f64,
    /// All cells are plain texts.
    plain: bool,
    /// How much must have room across the table for every cell to take one line (em).
    reach: f64,
    /// Letters of all its cells.
    letters: usize,
}

/// Space on either side of a column, together (em).
const BESIDE: f64 = 1.5;

impl Serialize for Table {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let shares: u32 = self.columns.iter().map(|column| column.share).sum();
        let cells = || self.rows.iter().flat_map(|row| row.iter().zip(&self.columns));
        let letters = |cell: &Line| cell.iter().map(Inline::letters).sum::<usize>();
        let reach = |(cell, column): (&Line, &Column)| {
            let own = BESIDE + cell.iter().map(Inline::reach).sum::<f64>();
            own * f64::from(shares) / f64::from(column.share)
        };
        let plain = |(cell, _): (&Line, _)| match cell.as_slice() {
            [] => true,
            [Inline::Text { text }] => !tears(text),
            _ => false,
        };
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

    #[test]
    fn a_form_is_boxed_in_a_cell_too() {
        let table =
            Table::printed("", vec![Column::words("a", 1)], vec![vec![plain("N-urea 2 %")]]);
        let json = json(&table);
        assert!(json.contains(r#"[{"is":"kept","text":"N-urea"#), "{json}");
        assert!(json.contains(r#""plain":false"#), "{json}");
    }

    /// By hand: its letters and the space beside them in a third of the width.
    #[test]
    fn a_table_says_how_wide_its_words_reach() {
        let columns = vec![Column::words("a", 1), Column::words("b", 2)];
        let table = Table::to_fill("", columns, vec![vec![plain("Thursday"), Vec::new()]]);
        let json = json(&table);
        let (_, reach) = json.split_once(r#""plain":true,"reach":"#).unwrap();
        let (reach, rest) = reach.split_once(',').unwrap();
        // T 0.75; h, u, d, a, y 0.55; r, s 0.39.
        let by_hand = 3.0 * (0.75 + 5.0 * 0.55 + 2.0 * 0.39 + 1.5);
        assert!((reach.parse::<f64>().unwrap() - by_hand).abs() < 1e-9, "{json}");
        assert_eq!(rest, r#""letters":8}"#);
    }
}
