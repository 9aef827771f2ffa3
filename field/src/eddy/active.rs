//! Triangles whose matrix follows temperature and field, with everything that integrals over them need.

use super::drive::Temperature;
use crate::element::{PAIRS, POINTS, Triangle, depth_m, rule, shapes, shapes_at_points};
use crate::mesh::{Mesh, Region};
use crate::section::{Body, Permeability, Section, Symmetry};
use crate::space::Space;
use crate::sparse::Pattern;

/// A node without an unknown: on the axis, where the potential is zero.
pub(crate) const FIXED: u32 = u32::MAX;
/// A pair of nodes without an entry in the matrix.
const NO_ENTRY: u32 = u32::MAX;

/// The shape functions and their products at the points of the rule: the same for every triangle.
pub(crate) struct Shapes {
    pub at: [[f64; 6]; POINTS],
    products: [[f64; PAIRS]; POINTS],
}

impl Shapes {
    pub fn new() -> Shapes {
        let at = shapes_at_points();
        let products = at.map(|n| {
            let mut products = [0.0; PAIRS];
            pairs()
                .zip(&mut products)
                .for_each(|((i, j), product)| *product = n[i] * n[j]);
            products
        });
        Shapes { at, products }
    }
}

/// The pairs (i, j), j <= i.
fn pairs() -> impl Iterator<Item = (usize, usize)> {
    (0..6).flat_map(|i| (0..=i).map(move |j| (i, j)))
}

/// One triangle.
#[derive(Clone, Debug)]
pub(crate) struct Active {
    pub triangle: u32,
    pub body: u16,
    pub nodes: [u32; 6],
    /// Flux density for each node's potential: B_u and B_v at each point, in 1/m (equation 3).
    pub curls: [[[f64; 6]; 2]; POINTS],
    /// Volume that each point stands for.
    pub volume_m3: [f64; POINTS],
    entries: [u32; PAIRS],
}

/// The curl of A in the section: (-dA/dz, dA/dr + A/r) when axisymmetric, (dA/dy, -dA/dx) when planar.
pub(crate) fn curl_rows(symmetry: Symmetry, triangle: &Triangle, at: [f64; 3]) -> [[f64; 6]; 2] {
    let [along_u, along_v] = triangle.gradients(at);
    match symmetry {
        Symmetry::Planar => [along_v, along_u.map(|slope| -slope)],
        Symmetry::Axisymmetric => {
            let (n, radius_m) = (shapes(at), triangle.place(at)[0]);
            let over_radius = |i: usize| {
                if radius_m > 0.0 {
                    n[i] / radius_m
                } else {
                    along_u[i]
                }
            };
            [
                along_v.map(|slope| -slope),
                std::array::from_fn(|i| along_u[i] + over_radius(i)),
            ]
        }
    }
}

impl Active {
    pub fn new(
        section: &Section,
        mesh: &Mesh,
        space: &Space,
        pattern: &Pattern,
        unknowns: &[u32],
        triangle: usize,
    ) -> Active {
        let shape =
            Triangle::new(mesh.triangles[triangle].map(|corner| mesh.points[corner as usize]));
        let nodes = space.elements[triangle];
        let mut entries = [NO_ENTRY; PAIRS];
        for ((i, j), entry) in pairs().zip(&mut entries) {
            let (row, column) = (unknowns[nodes[i] as usize], unknowns[nodes[j] as usize]);
            if row != FIXED && column != FIXED {
                *entry = pattern.id(row as usize, column as usize) as u32;
            }
        }
        let body = match mesh.regions[triangle] {
            Region::Body(body) => body,
            Region::Air => 0,
        };
        let rule = rule();
        Active {
            triangle: triangle as u32,
            body,
            nodes,
            curls: rule.map(|(at, _)| curl_rows(section.symmetry, &shape, at)),
            volume_m3: rule.map(|(at, share)| {
                share * shape.area_m2() * depth_m(section.symmetry, shape.place(at))
            }),
            entries,
        }
    }

    /// Adds equation (6): reluctivity times curl times curl, by entries of the matrix.
    pub fn add_stiffness(&self, reluctivity_m_h: [f64; POINTS], mut add: impl FnMut(usize, f64)) {
        for ((i, j), &entry) in pairs()
            .zip(&self.entries)
            .filter(|(_, entry)| **entry != NO_ENTRY)
        {
            let at = |q: usize| {
                let [u, v] = &self.curls[q];
                self.volume_m3[q] * reluctivity_m_h[q] * (u[i] * u[j] + v[i] * v[j])
            };
            add(entry as usize, (0..POINTS).map(at).sum());
        }
    }

    /// Adds equation (7): conductivity times shape times shape.
    pub fn add_mass(
        &self,
        shapes: &Shapes,
        conductivity_s_m: [f64; POINTS],
        mut add: impl FnMut(usize, f64),
    ) {
        for (pair, &entry) in self
            .entries
            .iter()
            .enumerate()
            .filter(|(_, entry)| **entry != NO_ENTRY)
        {
            let at = |q: usize| self.volume_m3[q] * conductivity_s_m[q] * shapes.products[q][pair];
            add(entry as usize, (0..POINTS).map(at).sum());
        }
    }

    /// Temperature at each point.
    pub fn temperatures_c(&self, shapes: &Shapes, temperature: Temperature) -> [f64; POINTS] {
        match temperature {
            Temperature::Uniform(temperature_c) => [temperature_c; POINTS],
            Temperature::Nodal(nodal_c) => {
                let own = self.nodes.map(|node| nodal_c[node as usize]);
                shapes
                    .at
                    .map(|n| n.iter().zip(own).map(|(n, t)| n * t).sum())
            }
        }
    }
}

/// Do the laws of this body ask for its matrix at every state?
pub(crate) fn is_active(body: &Body) -> bool {
    body.metal.resistivity_ohm_m.is_some()
        || matches!(body.metal.permeability, Permeability::Saturating { .. })
}
