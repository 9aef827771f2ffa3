//! The two kinds of numbers that a matrix may hold.

use std::ops::{Add, AddAssign, Div, DivAssign, Mul, MulAssign, Sub, SubAssign};

use faer::traits::ComplexField;
use num_complex::Complex64;

/// `f64` or `Complex64`: what a [`Factor`](super::Factor) can be made of.
pub trait Number:
    ComplexField
    + Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + AddAssign
    + SubAssign
    + MulAssign
    + DivAssign
{
    /// Zero.
    const ZERO: Self;
    /// One.
    const ONE: Self;
    /// Its absolute value.
    fn magnitude(self) -> f64;
}

impl Number for f64 {
    const ZERO: f64 = 0.0;
    const ONE: f64 = 1.0;
    fn magnitude(self) -> f64 {
        self.abs()
    }
}

impl Number for Complex64 {
    const ZERO: Complex64 = Complex64::ZERO;
    const ONE: Complex64 = Complex64::ONE;
    fn magnitude(self) -> f64 {
        libm::hypot(self.re, self.im)
    }
}
