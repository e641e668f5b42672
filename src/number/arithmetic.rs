//! The arithmetic a formula may use, and its plain kind.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A number a formula can be worked in: plain `f64`, or [`super::Traced`], which remembers how it
/// arose.
pub trait Number:
    Copy
    + From<f64>
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
{
    /// e to the power of this bare number.
    #[must_use]
    fn exp(self) -> Self;
    /// Natural logarithm of this bare number, above 0.
    #[must_use]
    fn ln(self) -> Self;
    /// Square root, of 0 or more.
    #[must_use]
    fn sqrt(self) -> Self;
    /// The larger of two of the same unit.
    #[must_use]
    fn max(self, other: Self) -> Self;
    /// The smaller of two of the same unit.
    #[must_use]
    fn min(self, other: Self) -> Self;
}

impl Number for f64 {
    #[inline]
    fn exp(self) -> Self {
        libm::exp(self)
    }
    #[inline]
    fn ln(self) -> Self {
        libm::log(self)
    }
    #[inline]
    fn sqrt(self) -> Self {
        libm::sqrt(self)
    }
    #[inline]
    fn max(self, other: Self) -> Self {
        Self::max(self, other)
    }
    #[inline]
    fn min(self, other: Self) -> Self {
        Self::min(self, other)
    }
}
