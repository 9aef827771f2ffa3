//! Pieces of outline by their place.

use crate::FieldError;
use crate::mesh::Mesh;
use crate::mesh::geometry::{distance, distance_to_segment};
use crate::section::{Point, Section};

use super::layout::conducts_heat;

/// Pieces count as on an edge within this share of its length.
const ON_EDGE: f64 = 1e-6;

/// The pieces of outline of bodies that conduct heat on a straight line: what a [`super::Boundary`] is made of.
///
/// # Errors
/// [`FieldError::NoSuchEdge`] unless they cover the line exactly.
pub fn pieces_between(
    section: &Section,
    mesh: &Mesh,
    from_m: Point,
    to_m: Point,
) -> Result<Vec<u32>, FieldError> {
    let wanted_m = distance(from_m, to_m);
    let near_m = ON_EDGE * wanted_m;
    let place = |corner: u32| mesh.points[corner as usize];
    let on_edge = |corner: u32| distance_to_segment(from_m, to_m, place(corner)) < near_m;
    let found: Vec<u32> = (0..mesh.outlines.len() as u32)
        .filter(|&number| {
            let piece = mesh.outlines[number as usize];
            conducts_heat(&section.bodies[piece.body as usize])
                && piece.points.iter().all(|&corner| on_edge(corner))
        })
        .collect();
    let covered_m: f64 = found
        .iter()
        .map(|&number| mesh.outlines[number as usize].points.map(place))
        .map(|[a, b]| distance(a, b))
        .sum();
    let fits = wanted_m > 0.0 && (covered_m - wanted_m).abs() <= 10.0 * near_m;
    fits.then_some(found)
        .ok_or(FieldError::NoSuchEdge { from_m, to_m })
}
