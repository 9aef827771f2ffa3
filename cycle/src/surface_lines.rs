//! The outside and the bore as lines of nodes along the pipe, and temperatures read on them.

use field::mesh::{Mesh, OutlinePiece};
use field::space::Space;

use crate::joint::{FaceKind, JointSection};

/// Places along the pipe closer than this are one.
const SAME_PLACE_M: f64 = 1e-9;

/// Pieces of outline by what they are, as numbers in `Mesh::outlines`.
#[derive(Clone, Debug, Default)]
pub struct Pieces {
    /// Outside under the blanket, by side.
    pub covered: [Vec<u32>; 2],
    /// Outside beyond the blanket, by side.
    pub bare: [Vec<u32>; 2],
    /// Bore, by side.
    pub bore: [Vec<u32>; 2],
}

/// One stretch of a line: two corners and the node between.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stretch {
    axial_m: [f64; 2],
    nodes: [u32; 3],
}

/// A line of nodes along the pipe.
#[derive(Clone, Debug, Default)]
pub struct SurfaceLine {
    stretches: Vec<Stretch>,
}

/// Sorts the pieces of a mesh's outlines by face.
pub fn pieces(mesh: &Mesh, joint: &JointSection) -> Pieces {
    let mut pieces = Pieces::default();
    for (number, piece) in mesh.outlines.iter().enumerate() {
        let number = number as u32;
        match face_of(mesh, joint, piece) {
            Some((FaceKind::Covered, side)) => pieces.covered[side].push(number),
            Some((FaceKind::Bare, side)) => pieces.bare[side].push(number),
            Some((FaceKind::Bore, side)) => pieces.bore[side].push(number),
            Some((FaceKind::Cut, _)) | None => {}
        }
    }
    pieces
}

/// The face on which a piece lies: the nearest of those of its body.
fn face_of(mesh: &Mesh, joint: &JointSection, piece: &OutlinePiece) -> Option<(FaceKind, usize)> {
    let [a, b] = piece.points.map(|point| mesh.points[point as usize]);
    let middle = [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
    let length_m = libm::hypot(b[0] - a[0], b[1] - a[1]);
    joint
        .faces
        .iter()
        .filter(|face| face.body == usize::from(piece.body))
        .map(|face| (face.distance_m(middle), face))
        .filter(|(distance_m, _)| *distance_m < 0.01 * length_m)
        .min_by(|one, other| one.0.total_cmp(&other.0))
        .map(|(_, face)| (face.kind, face.side))
}

impl SurfaceLine {
    /// The line through pieces of outline.
    pub fn new(mesh: &Mesh, space: &Space, numbers: impl Iterator<Item = u32>) -> SurfaceLine {
        let mut stretches: Vec<Stretch> = numbers
            .filter_map(|number| {
                let [a, b] = mesh.outlines[number as usize].points;
                let middle = space.middle(a, b)?;
                let (za, zb) = (mesh.points[a as usize][1], mesh.points[b as usize][1]);
                // A step straight across the wall has no length along the pipe.
                ((za - zb).abs() > SAME_PLACE_M).then_some(match za < zb {
                    true => Stretch {
                        axial_m: [za, zb],
                        nodes: [a, middle, b],
                    },
                    false => Stretch {
                        axial_m: [zb, za],
                        nodes: [b, middle, a],
                    },
                })
            })
            .collect();
        stretches.sort_by(|one, other| one.axial_m[0].total_cmp(&other.axial_m[0]));
        SurfaceLine { stretches }
    }

    /// Nodes along the line with their places in m, ascending, each once.
    pub fn nodes(&self) -> Vec<(f64, u32)> {
        let mut nodes: Vec<(f64, u32)> = Vec::new();
        for stretch in &self.stretches {
            let [from, to] = stretch.axial_m;
            for (place_m, node) in [
                (from, stretch.nodes[0]),
                (0.5 * (from + to), stretch.nodes[1]),
                (to, stretch.nodes[2]),
            ] {
                if nodes
                    .last()
                    .is_none_or(|last| place_m > last.0 + SAME_PLACE_M)
                {
                    nodes.push((place_m, node));
                }
            }
        }
        nodes
    }

    /// A value given on nodes, at a place along the pipe in m; beyond the ends that of the end.
    pub fn at(&self, axial_m: f64, nodal: &[f64]) -> f64 {
        self.weights(axial_m)
            .map(|(node, weight)| weight * nodal[node as usize])
            .sum()
    }

    /// The three nodes and weights that give a value at a place.
    fn weights(&self, axial_m: f64) -> impl Iterator<Item = (u32, f64)> {
        let after = self
            .stretches
            .partition_point(|stretch| stretch.axial_m[0] <= axial_m);
        self.stretches
            .get(after.saturating_sub(1))
            .map(|stretch| {
                let [from, to] = stretch.axial_m;
                let x = (2.0 * (axial_m - from) / (to - from) - 1.0).clamp(-1.0, 1.0);
                let shapes = [0.5 * x * (x - 1.0), 1.0 - x * x, 0.5 * x * (x + 1.0)];
                stretch.nodes.into_iter().zip(shapes)
            })
            .into_iter()
            .flatten()
    }
}

#[cfg(test)]
mod tests {
    use field::mesh::{Mesh, OutlinePiece, Region};
    use field::space::Space;

    use super::SurfaceLine;

    #[test]
    fn a_quadratic_along_the_line_is_read_exactly() {
        let mesh = Mesh {
            points: vec![[1.0, 0.0], [1.0, 2.0], [1.0, 3.0], [0.0, 1.0]],
            triangles: vec![[0, 1, 3], [1, 2, 3]],
            regions: vec![Region::Body(0); 2],
            outlines: vec![
                OutlinePiece {
                    body: 0,
                    edge: 0,
                    points: [1, 2],
                },
                OutlinePiece {
                    body: 0,
                    edge: 0,
                    points: [0, 1],
                },
            ],
            ..Mesh::default()
        };
        let space = Space::new(&mesh);
        let line = SurfaceLine::new(&mesh, &space, 0..2);
        let nodal: Vec<f64> = space.nodes.iter().map(|p| 1.0 + p[1] * p[1]).collect();
        for z in [0.0, 0.7, 2.0, 2.9, 3.0] {
            assert!((line.at(z, &nodal) - 1.0 - z * z).abs() < 1e-12);
        }
        assert_eq!(line.at(5.0, &nodal), 10.0);
        let places: Vec<f64> = line.nodes().iter().map(|n| n.0).collect();
        assert_eq!(places, [0.0, 1.0, 2.0, 2.5, 3.0]);
    }
}
