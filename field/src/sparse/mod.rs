//! Symmetric sparse matrices and their factorization.
//!
//! A [`Pattern`] says which pairs of unknowns meet in an element, a [`Symbolic`] analysis orders the unknowns and
//! lays out the factor, a [`Factor`] holds L and D of A = L D L^T for one set of values. Real matrices (heat) and
//! complex symmetric ones (eddy currents) share the code. Theory: `docs/theory/factorization.md`.

mod dense;
mod factor;
mod number;
mod ordering;
mod pattern;
mod solve;
mod supernodes;
mod symbolic;

pub use factor::Factor;
pub use number::Number;
pub use pattern::Pattern;
pub use symbolic::Symbolic;

#[cfg(test)]
mod tests;
