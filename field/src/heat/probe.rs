//! Reading the temperature at a point.

use super::model::{HeatElement, State};
use crate::FieldError;
use crate::element::{Triangle, shapes};
use crate::section::Point;

/// A point of the metal: six unknowns and their weights.
#[derive(Clone, Copy, Debug)]
pub struct Probe {
    unknowns: [u32; 6],
    weights: [f64; 6],
}

/// How far outside a triangle a point may seem to lie, as a share of the triangle: points on an outline are given
/// with rounded coordinates.
const OUTSIDE: f64 = 1e-6;

impl Probe {
    pub(super) fn new(
        elements: &[HeatElement],
        places_m: &[Point],
        place_m: Point,
    ) -> Result<Probe, FieldError> {
        let corners =
            |element: &HeatElement| [0, 1, 2].map(|i| places_m[element.unknowns[i] as usize]);
        let inside = |at: &[f64; 3]| at.iter().copied().fold(f64::INFINITY, f64::min);
        elements
            .iter()
            .map(|element| {
                (
                    element,
                    Triangle::new(corners(element)).barycentric(place_m),
                )
            })
            .max_by(|(_, a), (_, b)| inside(a).total_cmp(&inside(b)))
            .filter(|(_, at)| inside(at) > -OUTSIDE)
            .map(|(element, at)| Probe {
                unknowns: element.unknowns,
                weights: shapes(at),
            })
            .ok_or(FieldError::OutsideMetal { place_m })
    }

    /// The temperature there in degrees Celsius.
    pub fn temperature_c(&self, state: &State) -> f64 {
        self.value(&state.temperature_c)
    }

    /// The value there of anything given for each unknown.
    pub fn value(&self, nodal: &[f64]) -> f64 {
        self.unknowns
            .iter()
            .zip(&self.weights)
            .map(|(&unknown, weight)| weight * nodal[unknown as usize])
            .sum()
    }
}
