//! What the integrals of heat over a triangle need.

pub use crate::element::shapes_at_points;
use crate::element::{POINTS, Triangle, depth_m, rule};
use crate::section::{Point, Symmetry};

/// A triangle prepared for integrals.
#[derive(Clone, Debug)]
pub struct Element {
    /// Volume that each point stands for in m3 (a whole turn, or one meter of depth).
    pub volume_m3: [f64; POINTS],
    /// Gradients of the shape functions at each point in 1/m, by axis.
    pub gradients: [[[f64; 6]; 2]; POINTS],
}

impl Element {
    /// Prepares the triangle with these corners, counter-clockwise.
    pub fn new(corners: [Point; 3], symmetry: Symmetry) -> Element {
        let triangle = Triangle::new(corners);
        Element {
            volume_m3: rule().map(|(at, share)| {
                share * triangle.area_m2() * depth_m(symmetry, triangle.place(at))
            }),
            gradients: rule().map(|(at, _)| triangle.gradients(at)),
        }
    }
}
