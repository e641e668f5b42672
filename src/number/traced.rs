//! The number that remembers how it arose: a copyable index into a [`Sheet`].

use std::ops::{Add, Div, Mul, Neg, Sub};

use super::arithmetic::Number;
use super::sheet::{Arg, Op, Sheet};
use super::unit::Dimension;

/// A number worked on a sheet: a bare constant of a formula, or a node of the sheet.
#[derive(Debug, Clone, Copy)]
pub enum Traced<'s> {
    /// A whole number or a half that stands in a formula.
    Bare(f64),
    /// A node of the sheet.
    At(&'s Sheet, u32),
}

impl Traced<'_> {
    /// The number itself (in the unit it was made with).
    #[must_use]
    pub fn number(self) -> f64 {
        match self {
            Self::Bare(v) => v,
            Self::At(sheet, i) => sheet.node(Arg::At(i)).0,
        }
    }

    pub(super) fn arg(self) -> Arg {
        match self {
            Self::Bare(v) => Arg::Bare(v),
            Self::At(_, i) => Arg::At(i),
        }
    }

    fn two(self, other: Self, op: Two) -> Self {
        let ((Self::At(sheet, _), _) | (_, Self::At(sheet, _))) = (self, other) else {
            return Self::Bare(op.apply(self.number(), other.number()));
        };
        let (a, b) = (self.arg(), other.arg());
        let ((x, dx), (y, dy)) = (sheet.node(a), sheet.node(b));
        let dimension = op.dimension(dx, dy).unwrap_or_else(|| {
            sheet.fault(format!("unlike units: {} and {}", sheet.text(a), sheet.text(b)));
            dx
        });
        Self::At(sheet, sheet.push(Op::Two(op, a, b), op.apply(x, y), dimension))
    }

    fn one(self, op: One) -> Self {
        let Self::At(sheet, _) = self else { return Self::Bare(op.apply(self.number())) };
        let (x, dimension) = sheet.node(self.arg());
        let dimension = match op {
            One::Neg => dimension,
            One::Sqrt => dimension.root(),
            One::Exp | One::Ln => {
                if !dimension.same(Dimension::NONE) {
                    sheet.fault(format!("{} of a quantity: {}", op.name(), sheet.text(self.arg())));
                }
                Dimension::NONE
            }
        };
        Self::At(sheet, sheet.push(Op::One(op, self.arg()), op.apply(x), dimension))
    }
}

/// An operation on one number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum One {
    /// −a
    Neg,
    /// e to the a
    Exp,
    /// natural logarithm
    Ln,
    /// square root
    Sqrt,
}

impl One {
    /// Works it.
    #[must_use]
    pub fn apply(self, a: f64) -> f64 {
        match self {
            Self::Neg => -a,
            Self::Exp => libm::exp(a),
            Self::Ln => libm::log(a),
            Self::Sqrt => libm::sqrt(a),
        }
    }

    /// As printed before its bracket.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Neg => "−",
            Self::Exp => "exp",
            Self::Ln => "ln",
            Self::Sqrt => "√",
        }
    }
}

/// An operation on two numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Two {
    /// a + b
    Add,
    /// a − b
    Sub,
    /// a × b
    Mul,
    /// a ÷ b
    Div,
    /// the larger
    Max,
    /// the smaller
    Min,
}

impl Two {
    /// Works it.
    #[must_use]
    pub fn apply(self, a: f64, b: f64) -> f64 {
        match self {
            Self::Add => a + b,
            Self::Sub => a - b,
            Self::Mul => a * b,
            Self::Div => a / b,
            Self::Max => a.max(b),
            Self::Min => a.min(b),
        }
    }

    fn dimension(self, a: Dimension, b: Dimension) -> Option<Dimension> {
        match self {
            Self::Mul => Some(a.times(b)),
            Self::Div => Some(a.over(b)),
            Self::Add | Self::Sub | Self::Max | Self::Min => a.same(b).then_some(a),
        }
    }
}

impl From<f64> for Traced<'_> {
    fn from(value: f64) -> Self {
        Self::Bare(value)
    }
}
impl Add for Traced<'_> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.two(other, Two::Add)
    }
}
impl Sub for Traced<'_> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.two(other, Two::Sub)
    }
}
impl Mul for Traced<'_> {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        self.two(other, Two::Mul)
    }
}
impl Div for Traced<'_> {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        self.two(other, Two::Div)
    }
}
impl Neg for Traced<'_> {
    type Output = Self;
    fn neg(self) -> Self {
        self.one(One::Neg)
    }
}
impl Number for Traced<'_> {
    fn exp(self) -> Self {
        self.one(One::Exp)
    }
    fn ln(self) -> Self {
        self.one(One::Ln)
    }
    fn sqrt(self) -> Self {
        self.one(One::Sqrt)
    }
    fn max(self, other: Self) -> Self {
        self.two(other, Two::Max)
    }
    fn min(self, other: Self) -> Self {
        self.two(other, Two::Min)
    }
}
