//! The arithmetic of a step as a line of text, with as many brackets as it takes.

use super::expression::{Expression, Symbol, Term};

/// A piece of a written line.
#[derive(Debug, Clone, PartialEq)]
pub enum Written {
    /// Letters as they are.
    Letters(String),
    /// A symbol.
    Symbol(Symbol),
}

impl Expression {
    /// In one line: in symbols, or with the numbers put in.
    #[must_use]
    pub fn text(&self, numbers: bool) -> String {
        let text = |piece: &Written| match piece {
            Written::Letters(letters) => letters.clone(),
            Written::Symbol(symbol) => symbol.text(),
        };
        self.written(numbers).iter().map(text).collect()
    }

    /// The line in pieces, for a writer that sets symbols in a way of its own.
    #[must_use]
    pub fn written(&self, numbers: bool) -> Vec<Written> {
        let mut line = Line { numbers, pieces: Vec::new() };
        line.put(self, 0);
        line.pieces
    }
}

struct Line {
    numbers: bool,
    pieces: Vec<Written>,
}

impl Line {
    fn letters(&mut self, text: &str) {
        if let Some(Written::Letters(last)) = self.pieces.last_mut() {
            last.push_str(text);
        } else {
            self.pieces.push(Written::Letters(text.into()));
        }
    }

    /// Writes an expression, in brackets if it holds together less than its surroundings.
    fn put(&mut self, e: &Expression, outer: u8) {
        if e.binds(self.numbers) < outer {
            self.call("", e);
        } else {
            self.bare(e);
        }
    }

    fn call(&mut self, name: &str, of: &Expression) {
        self.letters(&format!("{name}("));
        self.put(of, 0);
        self.letters(")");
    }

    fn bare(&mut self, e: &Expression) {
        match e {
            Expression::Bare { number } => self.letters(number),
            Expression::Given { symbol, .. } if !self.numbers => {
                self.pieces.push(Written::Symbol(symbol.clone()));
            }
            Expression::Given { number, unit, .. } => {
                self.letters(&super::figures::join(number, unit));
            }
            Expression::Negative { of } => {
                self.letters("−");
                self.put(of, 3);
            }
            Expression::Exponential { of } => self.call("exp", of),
            Expression::Logarithm { of } => self.call("ln", of),
            Expression::Root { of } => self.call("√", of),
            Expression::Sum { terms } => self.sum(terms),
            Expression::Product { factors } => {
                for (i, factor) in factors.iter().enumerate() {
                    self.letters(if i > 0 { " × " } else { "" });
                    self.put(factor, 2);
                }
            }
            Expression::Power { of, times } => self.power(of, *times),
            Expression::Ratio { over, under } => {
                self.put(over, 2);
                self.letters(" ÷ ");
                self.put(under, 3);
            }
            Expression::Choice { larger, of: [a, b] } => {
                self.letters(if *larger { "larger of (" } else { "smaller of (" });
                self.put(a, 0);
                self.letters("; ");
                self.put(b, 0);
                self.letters(")");
            }
        }
    }

    fn sum(&mut self, terms: &[Term]) {
        for (i, term) in terms.iter().enumerate() {
            match (i, term.minus) {
                (0, false) => {}
                (0, true) => self.letters("−"),
                (_, false) => self.letters(" + "),
                (_, true) => self.letters(" − "),
            }
            self.put(&term.of, if i == 0 { 1 } else { 2 });
        }
    }

    fn power(&mut self, of: &Expression, times: u32) {
        // A number with its unit is bracketed, for 2 m² is not (2 m)².
        let unit = matches!(of, Expression::Given { unit, .. } if !unit.is_empty());
        self.put(of, if self.numbers && unit { u8::MAX } else { 9 });
        let raised = |c: char| match c {
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            '0' => '⁰',
            _ => char::from_u32(0x2070 + c.to_digit(10).unwrap_or(0)).unwrap_or(c),
        };
        let digits: String = times.to_string().chars().map(raised).collect();
        self.letters(&digits);
    }
}
