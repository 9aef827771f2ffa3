//! Quadratic (P2) nodes on a mesh: its points, then the middles of its sides.

use std::collections::BTreeMap;

use crate::mesh::Mesh;
use crate::section::Point;

/// Node numbering of quadratic elements.
#[derive(Clone, Debug)]
pub struct Space {
    /// Places of the nodes in metres; the first ones are the points of the mesh.
    pub nodes: Vec<Point>,
    /// Six node numbers a triangle: corners 0, 1, 2, then the middles of sides 01, 12, 20.
    pub elements: Vec<[u32; 6]>,
    /// Node in the middle of a side, by its two corner numbers, smaller first.
    pub middles: BTreeMap<[u32; 2], u32>,
}

impl Space {
    /// Numbers the nodes of a mesh.
    pub fn new(mesh: &Mesh) -> Space {
        let mut nodes = mesh.points.clone();
        let mut middles = BTreeMap::new();
        let mut middle = |a: u32, b: u32| {
            *middles.entry([a.min(b), a.max(b)]).or_insert_with(|| {
                let (p, q) = (mesh.points[a as usize], mesh.points[b as usize]);
                nodes.push([0.5 * (p[0] + q[0]), 0.5 * (p[1] + q[1])]);
                (nodes.len() - 1) as u32
            })
        };
        let elements = mesh
            .triangles
            .iter()
            .map(|&[a, b, c]| [a, b, c, middle(a, b), middle(b, c), middle(c, a)])
            .collect();
        Space {
            nodes,
            elements,
            middles,
        }
    }

    /// The node in the middle of a side, if the mesh has that side.
    pub fn middle(&self, a: u32, b: u32) -> Option<u32> {
        self.middles.get(&[a.min(b), a.max(b)]).copied()
    }
}
