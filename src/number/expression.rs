//! The arithmetic of a step as a small tree: one tree for the symbols and for the numbers put in,
//! written as a line of text in [`super::line`] and drawn by the templates as mathematics.

use std::borrow::Cow;

use serde::Serialize;

use super::figures;

/// A symbol: a letter, and what stands below the line beside it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Symbol {
    /// The letter or letters.
    pub base: String,
    /// Its subscript; may be empty.
    pub low: String,
}

impl Symbol {
    /// Takes `base` or `base_sub` apart.
    #[must_use]
    pub fn of(text: &str) -> Self {
        let (base, low) = text.split_once('_').unwrap_or((text, ""));
        Self { base: base.into(), low: low.into() }
    }

    /// In one line, `base` or `base_sub`.
    #[must_use]
    pub fn text(&self) -> String {
        if self.low.is_empty() { self.base.clone() } else { format!("{}_{}", self.base, self.low) }
    }
}

/// A part of a sum.
#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    /// Taken away instead of added.
    pub minus: bool,
    /// What is added or taken away.
    pub of: Expression,
}

/// A piece of arithmetic.
#[derive(Debug, Clone, PartialEq)]
pub enum Expression {
    /// A number that stands in the formula.
    Bare {
        /// As printed.
        number: String,
    },
    /// An input.
    Given {
        /// Its symbol.
        symbol: Symbol,
        /// Its number, as printed.
        number: String,
        /// Its unit, or empty.
        unit: Cow<'static, str>,
    },
    /// −a
    Negative {
        /// a
        of: Box<Expression>,
    },
    /// e to the a
    Exponential {
        /// a
        of: Box<Expression>,
    },
    /// Natural logarithm.
    Logarithm {
        /// Of what.
        of: Box<Expression>,
    },
    /// Square root.
    Root {
        /// Of what.
        of: Box<Expression>,
    },
    /// a + b − c
    Sum {
        /// Its parts, two or more.
        terms: Vec<Term>,
    },
    /// a × b × c
    Product {
        /// Its factors, two or more.
        factors: Vec<Expression>,
    },
    /// a × a × a
    Power {
        /// a
        of: Box<Expression>,
        /// How many times, 2 or more.
        times: u32,
    },
    /// a ÷ b
    Ratio {
        /// a
        over: Box<Expression>,
        /// b
        under: Box<Expression>,
    },
    /// The larger or the smaller.
    Choice {
        /// The larger rather than the smaller.
        larger: bool,
        /// Of which two.
        of: [Box<Expression>; 2],
    },
}

impl Expression {
    /// Writes every number in another way, and its unit by `says`.
    pub fn retell(&mut self, way: &dyn Fn(&str) -> String, says: &dyn Fn(&str) -> String) {
        self.leaves(&|leaf| {
            if let Self::Bare { number } | Self::Given { number, .. } = leaf {
                *number = way(number);
            }
            if let Self::Given { unit, .. } = leaf {
                *unit = says(unit).into();
            }
        });
    }

    /// Changes every number and input.
    fn leaves(&mut self, change: &dyn Fn(&mut Self)) {
        match self {
            Self::Bare { .. } | Self::Given { .. } => change(self),
            Self::Negative { of }
            | Self::Exponential { of }
            | Self::Logarithm { of }
            | Self::Root { of }
            | Self::Power { of, .. } => of.leaves(change),
            Self::Sum { terms } => terms.iter_mut().for_each(|term| term.of.leaves(change)),
            Self::Product { factors } => factors.iter_mut().for_each(|f| f.leaves(change)),
            Self::Ratio { over, under } => {
                over.leaves(change);
                under.leaves(change);
            }
            Self::Choice { of, .. } => of.iter_mut().for_each(|of| of.leaves(change)),
        }
    }

    /// What the printed numbers come to, in the units they stand in; an input `without` counts as
    /// nought.
    #[must_use]
    pub fn value(&self, without: Option<&Symbol>) -> f64 {
        let of = |e: &Self| e.value(without);
        match self {
            Self::Given { symbol, .. } if Some(symbol) == without => 0.0,
            Self::Bare { number } | Self::Given { number, .. } => figures::read(number),
            Self::Negative { of: a } => -of(a),
            Self::Exponential { of: a } => libm::exp(of(a)),
            Self::Logarithm { of: a } => libm::log(of(a)),
            Self::Root { of: a } => of(a).sqrt(),
            Self::Sum { terms } => {
                terms.iter().map(|t| if t.minus { -of(&t.of) } else { of(&t.of) }).sum()
            }
            Self::Product { factors } => factors.iter().map(of).product(),
            Self::Power { of: a, times } => libm::pow(of(a), f64::from(*times)),
            Self::Ratio { over, under } => of(over) / of(under),
            Self::Choice { larger, of: [a, b] } if *larger => of(a).max(of(b)),
            Self::Choice { of: [a, b], .. } => of(a).min(of(b)),
        }
    }

    /// a + b, or a − b; sums in a sum are taken up.
    #[must_use]
    pub fn plus(self, minus: bool, other: Self) -> Self {
        let mut terms = if let Self::Sum { terms } = self {
            terms
        } else {
            vec![Term { minus: false, of: self }]
        };
        if let (Self::Sum { terms: others }, false) = (&other, minus) {
            terms.extend(others.iter().cloned());
        } else {
            terms.push(Term { minus, of: other });
        }
        Self::Sum { terms }
    }

    /// a × b; products in a product are taken up, and an input times itself is a power.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        let factors = |e| if let Self::Product { factors } = e { factors } else { vec![e] };
        let mut all = factors(self);
        for factor in factors(other) {
            let input = matches!(factor, Self::Given { .. });
            // Once is as good as not at all.
            if matches!(&factor, Self::Bare { number } if number == "1") {
                continue;
            }
            match all.last_mut() {
                Some(Self::Power { of, times }) if **of == factor => *times += 1,
                Some(last) if input && *last == factor => {
                    *last = Self::Power { of: Box::new(factor), times: 2 };
                }
                _ => all.push(factor),
            }
        }
        match all.pop() {
            Some(only) if all.is_empty() => only,
            last => Self::Product { factors: all.into_iter().chain(last).collect() },
        }
    }

    /// How tightly it holds together in a line: sums 1, products 2, powers 8, all else 9.
    pub(crate) fn binds(&self, numbers: bool) -> u8 {
        match self {
            // A negative number put in gets brackets, as on paper.
            Self::Given { number, .. } if numbers && number.starts_with('−') => 1,
            Self::Negative { .. } | Self::Sum { .. } => 1,
            Self::Product { .. } | Self::Ratio { .. } => 2,
            Self::Power { .. } => 8,
            Self::Bare { .. }
            | Self::Given { .. }
            | Self::Exponential { .. }
            | Self::Logarithm { .. }
            | Self::Root { .. }
            | Self::Choice { .. } => 9,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(symbol: &str, number: &str, unit: &'static str) -> Expression {
        Expression::Given { symbol: Symbol::of(symbol), number: number.into(), unit: unit.into() }
    }

    #[test]
    fn brackets_stand_where_they_are_needed() {
        let (a, b) = (given("a", "2", "m"), given("b_1", "−3", "m"));
        let sum = a.clone().plus(false, b.clone());
        let all = a.clone().plus(true, sum.clone()).times(a.clone()).times(a.clone());
        assert_eq!(all.text(false), "(a − (a + b_1)) × a²");
        assert_eq!(all.text(true), "(2 m − (2 m + (−3 m))) × (2 m)²");
        let ratio = Expression::Ratio { over: Box::new(sum), under: Box::new(a.times(b)) };
        assert_eq!(ratio.text(true), "(2 m + (−3 m)) ÷ (2 m × (−3 m))");
    }

    #[test]
    fn the_same_thrice_is_a_cube() {
        let a = given("a", "1.5", "");
        let cube = a.clone().times(a.clone()).times(a);
        assert_eq!((cube.text(false), cube.text(true)), ("a³".into(), "1.5³".into()));
    }
}
