//! The points of an outline, each with the area that it stands for.

use std::collections::BTreeMap;

use crate::element::depth_m;
use crate::mesh::Mesh;
use crate::section::{Point, Symmetry};
use crate::space::Space;

/// A node on one straight edge of an outline.
#[derive(Clone, Copy, Debug)]
pub struct SurfacePoint {
    pub node: u32,
    pub place_m: Point,
    /// Unit vector out of the body.
    pub normal: Point,
    pub area_m2: f64,
}

/// The nodes of some pieces of outline; a node at a corner comes once for each of its edges.
///
/// Areas are Simpson's weights times the depth at the node: the integral of a quadratic shape function times the
/// radius along a straight side is exactly that (docs/theory/heat.md, equation 5).
pub fn surface_points(
    mesh: &Mesh,
    space: &Space,
    symmetry: Symmetry,
    pieces: &[u32],
) -> Vec<SurfacePoint> {
    let mut found: BTreeMap<(u16, u16, u32), SurfacePoint> = BTreeMap::new();
    for &number in pieces {
        let piece = mesh.outlines[number as usize];
        let [a, b] = piece.points;
        let (p, q) = (mesh.points[a as usize], mesh.points[b as usize]);
        let length_m = libm::hypot(q[0] - p[0], q[1] - p[1]);
        let normal = [(q[1] - p[1]) / length_m, (p[0] - q[0]) / length_m];
        let middle = space
            .middle(a, b)
            .expect("a piece of outline is a side of a triangle");
        for (node, weight) in [(a, 1.0 / 6.0), (middle, 4.0 / 6.0), (b, 1.0 / 6.0)] {
            let place_m = space.nodes[node as usize];
            let empty = SurfacePoint {
                node,
                place_m,
                normal,
                area_m2: 0.0,
            };
            let point = found.entry((piece.body, piece.edge, node)).or_insert(empty);
            point.area_m2 += weight * length_m * depth_m(symmetry, place_m);
        }
    }
    found
        .into_values()
        .filter(|point| point.area_m2 > 0.0)
        .collect()
}
