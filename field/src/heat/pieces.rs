//! Pieces of outline by their place.

use super::layout::conducts_heat;
use crate::FieldError;
use crate::mesh::{Mesh, pieces_on};
use crate::section::{Point, Section};

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
    let conducts = |body: u16| conducts_heat(&section.bodies[body as usize]);
    pieces_on(mesh, from_m, to_m, &conducts)
}
