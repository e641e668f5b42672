//! A calculation written once: its inputs are the fields of a struct, its printed description is
//! a [`Card`], its arithmetic is generic over the number it is worked in.

use super::arithmetic::Number;
use super::unit::Unit;

/// What is printed about a formula.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Card {
    /// Stable name, kebab-case.
    pub id: &'static str,
    /// The statement: what is worked out.
    pub says: &'static str,
    /// Unit of the result.
    pub unit: Unit,
    /// Key of its source in `data/sources.toml`.
    pub source: &'static str,
    /// Where in the source.
    pub at: &'static str,
}

/// A formula: fields are the named inputs, `value` is the arithmetic.
///
/// The body holds symbols, bare whole numbers and halves; any number with a unit or a source is
/// an input.
pub trait Formula<N: Number> {
    /// What is printed about it.
    const CARD: Card;
    /// Works it.
    fn value(self) -> N;
}

/// What one use of a formula is called.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Name<'a> {
    /// Stable kebab-case id of the quantity, unique within its scope and item.
    pub id: &'static str,
    /// Symbol, `base` or `base_sub`.
    pub symbol: &'a str,
    /// What the quantity is, in words.
    pub what: &'static str,
    /// Which of several (a feed, an element, a line), or empty.
    pub item: &'a str,
}

impl<'a> Name<'a> {
    /// A quantity of which its scope has one.
    #[must_use]
    pub const fn new(id: &'static str, symbol: &'a str, what: &'static str) -> Self {
        Self { id, symbol, what, item: "" }
    }

    /// The same quantity for one of several items.
    #[must_use]
    pub const fn of(self, item: &'a str) -> Self {
        Self { item, ..self }
    }

    /// The same quantity under another symbol.
    #[must_use]
    pub const fn symbol(self, symbol: &'a str) -> Self {
        Self { symbol, ..self }
    }
}

/// Where a number that goes into a formula comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Origin<'a> {
    /// The grower's plan.
    Plan,
    /// The label on the bottle or bag, as the plan repeats it.
    Label,
    /// Found by trial, and checked by the formula it is put into.
    Found,
    /// Reference data: key in `data/sources.toml`, and where in that source.
    Data(&'a str, &'a str),
}

/// A number that goes into a formula.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Datum<'a> {
    /// Symbol, `base` or `base_sub`.
    pub symbol: &'a str,
    /// What it is, in words.
    pub what: &'a str,
    /// The number (`unit`).
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// Where it comes from.
    pub origin: Origin<'a>,
}

/// How a chain of formulas is carried out: silently, or with every step written down.
pub trait Pen: Copy {
    /// The kind of number it works in.
    type N: Number;
    /// Takes a number in.
    fn given(self, datum: &Datum<'_>) -> Self::N;
    /// Works one formula.
    fn work<F: Formula<Self::N>>(self, name: &Name<'_>, formula: F) -> Self::N;
}

/// Works in plain numbers and writes nothing down.
#[derive(Debug, Clone, Copy)]
pub struct Silent;

impl Pen for Silent {
    type N = f64;
    #[inline]
    fn given(self, datum: &Datum<'_>) -> f64 {
        datum.value
    }
    #[inline]
    fn work<F: Formula<f64>>(self, _: &Name<'_>, formula: F) -> f64 {
        formula.value()
    }
}
