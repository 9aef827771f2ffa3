//! Which unknown stands where: nodes of the metal first, then the cells of blankets.

use super::boundary::Blanket;
use super::surface::SurfacePoint;
use crate::FieldError;
use crate::mesh::{Mesh, Region};
use crate::section::{Body, Section, Symmetry};
use crate::space::Space;

/// A node that takes no part in heat.
pub const NONE: u32 = u32::MAX;

/// The nodes that take part in heat.
pub struct Layout {
    pub unknown_of_node: Vec<u32>,
    pub node_of_unknown: Vec<u32>,
    /// Triangles of the metal with the body of each.
    pub triangles: Vec<(u32, u16)>,
}

/// Numbers the nodes of all bodies that conduct heat.
pub fn layout(section: &Section, mesh: &Mesh, space: &Space) -> Layout {
    let conducts: Vec<bool> = section.bodies.iter().map(conducts_heat).collect();
    let triangles: Vec<(u32, u16)> = mesh
        .regions
        .iter()
        .enumerate()
        .filter_map(|(number, region)| match region {
            Region::Body(body) if conducts[*body as usize] => Some((number as u32, *body)),
            _ => None,
        })
        .collect();
    let mut unknown_of_node = vec![NONE; space.nodes.len()];
    for &(triangle, _) in &triangles {
        space.elements[triangle as usize]
            .iter()
            .for_each(|&node| unknown_of_node[node as usize] = 0);
    }
    let node_of_unknown: Vec<u32> = (0..space.nodes.len() as u32)
        .filter(|&node| unknown_of_node[node as usize] != NONE)
        .collect();
    for (unknown, &node) in node_of_unknown.iter().enumerate() {
        unknown_of_node[node as usize] = unknown as u32;
    }
    Layout {
        unknown_of_node,
        node_of_unknown,
        triangles,
    }
}

/// A body whose conductivity is zero everywhere (air in a bore) takes no part in heat.
pub fn conducts_heat(body: &Body) -> bool {
    body.metal
        .conductivity_w_mk
        .points()
        .any(|(_, value)| value > 0.0)
}

/// A cell of a blanket between two unknowns.
#[derive(Clone, Copy, Debug)]
pub struct Cell {
    pub inner: u32,
    pub outer: u32,
    /// Area over thickness in m: the conductance is conductivity times this.
    pub shape_m: f64,
    /// Heat capacity in J/K that each end carries.
    pub capacities_j_k: [f64; 2],
    pub boundary: u32,
    /// Whether its inner end is the metal.
    pub touches_metal: bool,
}

/// The cells over one point of the surface, new unknowns counted from `first`; also the area of the outside.
///
/// Along a normal with radial part n the radius is r + n s and areas grow as it does; the conductance between two
/// radii takes their logarithmic mean (docs/theory/heat.md, equation 7).
pub fn column(
    blanket: &Blanket,
    point: &SurfacePoint,
    symmetry: Symmetry,
    at: (u32, u32, u32),
) -> Result<(Vec<Cell>, f64), FieldError> {
    let (metal, first, boundary) = at;
    let step_m = blanket.thickness_m / blanket.cells as f64;
    let growth_per_m = match symmetry {
        Symmetry::Axisymmetric => point.normal[0] / point.place_m[0],
        Symmetry::Planar => 0.0,
    };
    let area_m2 = |depth_m: f64| point.area_m2 * (1.0 + growth_per_m * depth_m);
    if area_m2(blanket.thickness_m) <= 0.0 {
        return Err(FieldError::OutOfRange {
            what: format!("thickness of the blanket of boundary {boundary}"),
            value: blanket.thickness_m,
            lowest: 0.0,
            highest: point.place_m[0],
            unit: "m",
        });
    }
    let cell = |number: usize| {
        let (inside, outside) = (
            area_m2(number as f64 * step_m),
            area_m2((number + 1) as f64 * step_m),
        );
        let half_j_k = 0.5 * step_m * blanket.heat_capacity_j_m3k;
        Cell {
            inner: if number == 0 {
                metal
            } else {
                first + number as u32 - 1
            },
            outer: first + number as u32,
            shape_m: logarithmic_mean(inside, outside) / step_m,
            capacities_j_k: [half_j_k * inside, half_j_k * outside],
            boundary,
            touches_metal: number == 0,
        }
    };
    Ok((
        (0..blanket.cells).map(cell).collect(),
        area_m2(blanket.thickness_m),
    ))
}

/// (b - a) / ln(b / a), by its series where a and b are almost equal.
fn logarithmic_mean(a: f64, b: f64) -> f64 {
    let half_ratio = (b - a) / (b + a);
    let square = half_ratio * half_ratio;
    if square < 1e-4 {
        // artanh(x) / x = 1 + x^2/3 + x^4/5 + x^6/7 + ...: what is left out is below 1e-16
        return 0.5 * (a + b) / (1.0 + square * (1.0 / 3.0 + square * (0.2 + square / 7.0)));
    }
    (b - a) / libm::log(b / a)
}

#[cfg(test)]
mod tests {
    use super::logarithmic_mean;

    #[test]
    fn the_logarithmic_mean_has_no_seam() {
        for share in [1e-9, 1e-3, 1.9e-2, 2.1e-2, 0.3, 4.0] {
            let (a, b) = (3.0, 3.0 * (1.0 + share));
            let direct = (b - a) / libm::log1p((b - a) / a);
            assert!(
                (logarithmic_mean(a, b) / direct - 1.0).abs() < 1e-13,
                "share {share}"
            );
        }
        assert_eq!(logarithmic_mean(2.0, 2.0), 2.0);
    }
}
