//! A formula as its template draws it. What the template would ask of each part again and again (how long it
//! is, how tightly it holds together, whether it has a bar) stands beside the part: a call of a template's
//! function takes longer than what it asks.

use serde::Serialize;

use crate::number::{Expression, Symbol};

/// A part of a formula.
#[derive(Debug, Serialize)]
struct Part<'a> {
    #[serde(flatten)]
    shape: Shape<'a>,
    /// Letters it takes on a line, about.
    long: f64,
    /// How tightly it holds together: see [`Expression::binds`].
    binds: u8,
    /// It has a ratio, and so needs a higher line.
    bar: bool,
}

/// What it is made of.
#[derive(Debug, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
enum Shape<'a> {
    /// A number, with its unit.
    Number { text: String },
    /// An input by its symbol; one letter is slanted, but for π.
    Symbol { base: &'a str, low: &'a str, slanted: bool },
    /// −a
    Negative { of: Box<Part<'a>> },
    /// e to the a; what is not `low` stands in brackets behind "exp".
    Exponential { of: Box<Part<'a>>, low: bool },
    /// Natural logarithm.
    Logarithm { of: Box<Part<'a>> },
    /// Square root.
    Root { of: Box<Part<'a>> },
    /// a + b − c
    Sum { terms: Vec<Term<'a>> },
    /// a × b × c
    Product { factors: Vec<Part<'a>> },
    /// a × a × a; what is not `alone` stands in brackets.
    Power { of: Box<Part<'a>>, times: String, alone: bool },
    /// a ÷ b
    Ratio { over: Box<Part<'a>>, under: Box<Part<'a>> },
    /// The larger or the smaller of two.
    Choice { larger: bool, of: [Box<Part<'a>>; 2] },
}

/// A part of a sum.
#[derive(Debug, Serialize)]
struct Term<'a> {
    minus: bool,
    of: Part<'a>,
}

/// Both trees of a formula: the first is the same for every group of a class, so that the typesetter draws
/// it once.
#[derive(Debug, Serialize)]
struct Both<'a> {
    symbols: Part<'a>,
    numbers: Part<'a>,
}

/// A formula in symbols and with what is put in.
pub(super) fn drawn(whole: &Expression) -> impl Serialize {
    let of = |numbers| Formula { numbers }.part(whole);
    Both { symbols: of(false), numbers: of(true) }
}

/// Draws symbols, or the numbers that are put in.
#[derive(Clone, Copy)]
struct Formula {
    numbers: bool,
}

impl Formula {
    fn part(self, e: &Expression) -> Part<'_> {
        let shape = self.shape(e);
        // A bar holds its own.
        let binds = if matches!(e, Expression::Ratio { .. }) { 9 } else { e.binds(self.numbers) };
        Part { long: self.long(e), binds, bar: shape.bar(), shape }
    }

    fn boxed(self, e: &Expression) -> Box<Part<'_>> {
        Box::new(self.part(e))
    }

    fn shape(self, e: &Expression) -> Shape<'_> {
        match e {
            Expression::Bare { number } => Shape::Number { text: number.clone() },
            Expression::Given { number, unit, .. } if self.numbers => {
                Shape::Number { text: quantity(number, unit) }
            }
            Expression::Given { symbol: Symbol { base, low }, .. } => {
                let slanted = base.chars().count() == 1 && base != "π";
                Shape::Symbol { base, low, slanted }
            }
            Expression::Negative { of } => Shape::Negative { of: self.boxed(of) },
            Expression::Exponential { of } => {
                Shape::Exponential { of: self.boxed(of), low: is_low(of) }
            }
            Expression::Logarithm { of } => Shape::Logarithm { of: self.boxed(of) },
            Expression::Root { of } => Shape::Root { of: self.boxed(of) },
            Expression::Sum { terms } => {
                let terms = terms.iter().map(|t| Term { minus: t.minus, of: self.part(&t.of) });
                Shape::Sum { terms: terms.collect() }
            }
            Expression::Product { factors } => {
                Shape::Product { factors: factors.iter().map(|f| self.part(f)).collect() }
            }
            Expression::Power { of, times } => Shape::Power {
                alone: matches!(&**of, Expression::Given { unit, .. } if !self.numbers || unit.is_empty()),
                of: self.boxed(of),
                times: times.to_string(),
            },
            Expression::Ratio { over, under } => self.ratio(over, under),
            Expression::Choice { larger, of: [a, b] } => {
                Shape::Choice { larger: *larger, of: [self.boxed(a), self.boxed(b)] }
            }
        }
    }

    /// A ratio in a ratio has but one bar, for two are hard to tell apart.
    fn ratio<'a>(self, over: &'a Expression, under: &'a Expression) -> Shape<'a> {
        let Expression::Ratio { over: inner, under: first } = over else {
            return Shape::Ratio { over: self.boxed(over), under: self.boxed(under) };
        };
        let factors = vec![self.part(first), self.part(under)];
        let long = 6.0 + self.long(first) + self.long(under);
        let shape = Shape::Product { factors };
        let under = Part { long, binds: 2, bar: shape.bar(), shape };
        Shape::Ratio { over: self.boxed(inner), under: Box::new(under) }
    }

    /// Letters it takes, about. (Bytes: a sign is as wide as two digits.)
    fn long(self, e: &Expression) -> f64 {
        let count = |text: &str| f64::from(u32::try_from(text.len()).unwrap_or(u32::MAX));
        let many = |n: usize| 3.0 * f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        match e {
            Expression::Bare { number } => count(number),
            Expression::Given { symbol, .. } if !self.numbers => 1.0 + count(&symbol.low) / 2.0,
            Expression::Given { number, unit, .. } => {
                count(number) + if unit.is_empty() { 0.0 } else { count(unit) + 1.0 }
            }
            Expression::Sum { terms } => {
                many(terms.len()) + 2.0 + terms.iter().map(|t| self.long(&t.of)).sum::<f64>()
            }
            Expression::Product { factors } => {
                many(factors.len()) + factors.iter().map(|f| self.long(f)).sum::<f64>()
            }
            Expression::Ratio { over, under } => self.long(over).max(self.long(under)) + 1.0,
            Expression::Choice { of: [a, b], .. } => self.long(a) + self.long(b) + 14.0,
            Expression::Negative { of }
            | Expression::Exponential { of }
            | Expression::Logarithm { of }
            | Expression::Root { of }
            | Expression::Power { of, .. } => self.long(of) + 3.0,
        }
    }
}

impl Shape<'_> {
    fn bar(&self) -> bool {
        match self {
            Self::Number { .. } | Self::Symbol { .. } => false,
            Self::Ratio { .. } => true,
            Self::Sum { terms } => terms.iter().any(|t| t.of.bar),
            Self::Product { factors } => factors.iter().any(|f| f.bar),
            Self::Choice { of, .. } => of.iter().any(|of| of.bar),
            Self::Negative { of }
            | Self::Exponential { of, .. }
            | Self::Logarithm { of }
            | Self::Root { of }
            | Self::Power { of, .. } => of.bar,
        }
    }
}

/// A number and its unit, which stay on one line.
fn quantity(number: &str, unit: &str) -> String {
    let unit = unit.replace(' ', "\u{a0}");
    if unit.is_empty() { number.into() } else { format!("{number}\u{a0}{unit}") }
}

/// Whether it may stand raised beside e.
fn is_low(e: &Expression) -> bool {
    let tall = |e: &_| matches!(e, Expression::Ratio { .. } | Expression::Sum { .. });
    if let Expression::Product { factors } = e {
        return !factors.iter().any(tall);
    }
    matches!(e, Expression::Given { .. })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(symbol: &str, number: &str, unit: &'static str) -> Expression {
        Expression::Given { symbol: Symbol::of(symbol), number: number.into(), unit: unit.into() }
    }

    fn json(whole: &Expression) -> serde_json::Value {
        serde_json::to_value(drawn(whole)).unwrap()
    }

    /// Symbols are the same whatever is put in, and numbers do not name what they are.
    #[test]
    fn symbols_and_numbers_come_apart() {
        let two = |a: &str, b: &str| {
            let half = Expression::Bare { number: "2".into() };
            json(&given("a_1", a, "m").plus(true, given("b", b, "s")).times(half))
        };
        let (one, other) = (two("3", "−4"), two("5", "6"));
        assert_eq!(one["symbols"], other["symbols"]);
        assert_ne!(one["numbers"], other["numbers"]);
        assert!(!one["numbers"].to_string().contains("symbol"), "{one}");
        assert_eq!(one["numbers"]["factors"][0]["terms"][0]["of"]["text"], "3\u{a0}m");
    }

    /// By hand: letters, three for each sign, two for brackets; a bar where there is a ratio.
    #[test]
    fn each_part_says_how_long_it_is_and_how_tightly_it_holds() {
        let sum = given("a_max", "2.5", "mL").plus(false, given("b", "−3", ""));
        let ratio = Expression::Ratio { over: Box::new(sum), under: Box::new(given("c", "7", "")) };
        let json = json(&ratio);
        let (symbols, numbers) = (&json["symbols"], &json["numbers"]);
        // a and half of three, b, and eight for the sum; one more for the bar.
        assert_eq!((&symbols["over"]["long"], &symbols["long"]), (&11.5.into(), &12.5.into()));
        // 2.5, a space and mL; a sign (three bytes) and 3.
        assert_eq!(numbers["over"]["long"], 6.0 + 4.0 + 8.0);
        assert_eq!((&numbers["binds"], &numbers["bar"]), (&9.into(), &true.into()));
        assert_eq!(
            (&numbers["over"]["binds"], &numbers["over"]["bar"]),
            (&1.into(), &false.into())
        );
        assert_eq!(numbers["over"]["terms"][1]["of"]["binds"], 1);
        assert_eq!(symbols["over"]["terms"][1]["of"]["binds"], 9);
    }

    #[test]
    fn a_ratio_in_a_ratio_has_one_bar() {
        let ratio =
            |over, under| Expression::Ratio { over: Box::new(over), under: Box::new(under) };
        let (a, b, c) = (given("a", "1", ""), given("b", "2", ""), given("c", "3", ""));
        let json = json(&ratio(ratio(a, b), c));
        let numbers = &json["numbers"];
        assert_eq!(
            (&numbers["over"]["text"], &numbers["under"]["is"]),
            (&"1".into(), &"product".into())
        );
        assert_eq!(numbers["under"]["bar"], false);
    }
}
