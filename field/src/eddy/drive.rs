//! What drives a field, and at which temperatures.

use num_complex::Complex64;

use crate::section::Point;

/// What drives a field.
#[derive(Clone, Debug, Default)]
pub struct Drive {
    /// Frequency in hertz, above zero.
    pub frequency_hz: f64,
    /// Peak current of each winding in amperes.
    pub currents_a: Vec<Complex64>,
    /// Fields given on the boundary of a domain with natural surroundings.
    pub edges: Vec<EdgeField>,
}

impl Drive {
    /// Angular frequency in 1/s.
    pub fn angular_frequency(&self) -> f64 {
        2.0 * std::f64::consts::PI * self.frequency_hz
    }
}

/// A tangential field strength on a straight piece of boundary.
#[derive(Clone, Copy, Debug)]
pub struct EdgeField {
    /// Where the piece begins.
    pub from_m: Point,
    /// Where it ends.
    pub to_m: Point,
    /// Peak field strength along it, from its beginning to its end, in A/m.
    pub tangential_a_m: Complex64,
}

/// Temperatures of the bodies in degrees Celsius.
#[derive(Clone, Copy, Debug)]
pub enum Temperature<'a> {
    /// The same everywhere.
    Uniform(f64),
    /// One value a node of the space (values in the air are not used).
    Nodal(&'a [f64]),
}

/// How often the field is solved while permeability follows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Solves {
    /// A fixed number; two are enough where the state comes from nearby conditions.
    Exactly(usize),
    /// Until total loss changes by less than a share, at most so many times.
    Until {
        /// Largest relative change of the total loss.
        change: f64,
        /// Most solves.
        most: usize,
    },
}

impl Solves {
    /// From a cold start to 1e-4 of the loss; 5 to 9 solves are usual.
    pub const SETTLED: Solves = Solves::Until {
        change: 1e-4,
        most: 40,
    };
}
