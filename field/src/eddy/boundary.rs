//! Boundaries: the far circle, and pieces where a tangential field is given.

use num_complex::Complex64;

use super::active::FIXED;
use super::drive::EdgeField;
use crate::element::{GAUSS_3, depth_m};
use crate::error::FieldError;
use crate::mesh::geometry::{direction, distance, dot, minus, plus, times};
use crate::mesh::{Mesh, pieces_on};
use crate::permeability::VACUUM_PERMEABILITY_H_M;
use crate::section::{Point, Symmetry};
use crate::space::Space;
use crate::sparse::Pattern;

/// Shape functions of a quadratic side at -1..1: its start, its end, its middle.
fn side_shapes(x: f64) -> [f64; 3] {
    [0.5 * x * (x - 1.0), 0.5 * x * (x + 1.0), 1.0 - x * x]
}

/// The points of a side as (shape functions, area that the point stands for).
fn side_rule(symmetry: Symmetry, a: Point, b: Point) -> [([f64; 3], f64); 3] {
    let (middle, half) = (times(0.5, plus(a, b)), times(0.5, minus(b, a)));
    GAUSS_3.map(|(x, weight)| {
        let place = plus(middle, times(x, half));
        (
            side_shapes(x),
            0.5 * distance(a, b) * weight * depth_m(symmetry, place),
        )
    })
}

fn side_nodes(space: &Space, [a, b]: [u32; 2]) -> [u32; 3] {
    [a, b, space.middle(a, b).unwrap_or(a)]
}

/// Adds equation (8): beyond the far circle the field is that of a dipole at its center.
pub(crate) fn add_far_circle(
    symmetry: Symmetry,
    mesh: &Mesh,
    space: &Space,
    pattern: &Pattern,
    unknowns: &[u32],
    values: &mut [f64],
) {
    let Some(circle) = mesh.far_circle else {
        return;
    };
    let factor = 1.0 / (VACUUM_PERMEABILITY_H_M * circle.radius_m);
    for &piece in &mesh.arc {
        let own = side_nodes(space, piece).map(|node| unknowns[node as usize]);
        let [a, b] = piece.map(|corner| mesh.points[corner as usize]);
        for (n, area_m2) in side_rule(symmetry, a, b) {
            for i in (0..3).filter(|&i| own[i] != FIXED) {
                for j in (0..=i).filter(|&j| own[j] != FIXED) {
                    values[pattern.id(own[i] as usize, own[j] as usize)] +=
                        factor * area_m2 * n[i] * n[j];
                }
            }
        }
    }
}

/// The load of a tangential field on every node: equation (10).
///
/// # Errors
/// [`FieldError::NoSuchEdge`] unless pieces of outer boundary cover the edge exactly.
pub(crate) fn add_edge_load(
    symmetry: Symmetry,
    mesh: &Mesh,
    space: &Space,
    edge: &EdgeField,
    load: &mut [Complex64],
) -> Result<(), FieldError> {
    let EdgeField {
        from_m,
        to_m,
        tangential_a_m,
    } = *edge;
    if mesh.far_circle.is_some() {
        return Err(FieldError::NoSuchEdge { from_m, to_m });
    }
    for number in pieces_on(mesh, from_m, to_m, &|_| true)? {
        let piece = &mesh.outlines[number as usize];
        let [a, b] = piece.points.map(|corner| mesh.points[corner as usize]);
        let along = dot(direction(a, b), direction(from_m, to_m)).signum();
        // Counter-clockwise round the metal; in (r, z) the potential points into the plane, in (x, y) out of it.
        let sign = if symmetry == Symmetry::Axisymmetric {
            along
        } else {
            -along
        };
        let nodes = side_nodes(space, piece.points);
        for (n, area_m2) in side_rule(symmetry, a, b) {
            for (node, n) in nodes.into_iter().zip(n) {
                load[node as usize] += tangential_a_m * (sign * area_m2 * n);
            }
        }
    }
    Ok(())
}
