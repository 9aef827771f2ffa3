//! The section at one instant, for pictures.

use field::eddy::Solution;
use field::mesh::Region;

use crate::outcome::Snapshot;
use crate::prepare::Prepared;

/// Loss is known at so many points of a triangle.
const POINTS: usize = 6;

/// The section with temperatures of all nodes in °C and a field.
pub fn snapshot(
    prepared: &Prepared,
    solution: &Solution,
    time_s: f64,
    nodal_c: &[f64],
) -> Snapshot {
    let problem = &prepared.problem;
    let (mesh, space) = (problem.mesh(), problem.space());
    let mm = |place: [f64; 2]| place.map(|m| m * 1e3);
    let bodies: Vec<Option<u16>> = mesh
        .regions
        .iter()
        .map(|region| match region {
            Region::Body(body) => Some(*body),
            Region::Air => None,
        })
        .collect();
    let metal = |node: usize| prepared.heat.unknown_of_node(node as u32).is_some();
    let potential = solution.potential_wb_m.iter().zip(&space.nodes);
    Snapshot {
        time_s,
        nodes_mm: space.nodes.iter().copied().map(mm).collect(),
        elements: space.elements.clone(),
        temperature_c: nodal_c
            .iter()
            .enumerate()
            .map(|(node, &c)| metal(node).then_some(c))
            .collect(),
        loss_w_m3: losses(prepared, solution, &bodies),
        flux_wb: potential.map(|(a, place)| a.re * place[0]).collect(),
        bodies,
        metal_outlines_mm: prepared
            .joint
            .polygons
            .iter()
            .map(|polygon| polygon.iter().copied().map(mm).collect())
            .collect(),
        blanket_outline_mm: prepared.blanket_outline_m.iter().copied().map(mm).collect(),
        turns_mm: prepared
            .coil
            .rings
            .iter()
            .map(|ring| {
                (
                    mm([ring.radius_m, ring.axial_m]),
                    prepared.coil.cable_radius_m * 1e3,
                )
            })
            .collect(),
    }
}

/// Mean loss density of each triangle in W/m3.
fn losses(prepared: &Prepared, solution: &Solution, bodies: &[Option<u16>]) -> Vec<f64> {
    let mut losses = vec![0.0; bodies.len()];
    for body in 0..prepared.joint.polygons.len() {
        let points: Vec<_> = solution.points(&prepared.problem, body).collect();
        // The points come triangle by triangle, in the order of the mesh.
        let own = bodies
            .iter()
            .enumerate()
            .filter(|(_, of)| **of == Some(body as u16));
        for ((triangle, _), six) in own.zip(points.chunks(POINTS)) {
            let volume_m3: f64 = six.iter().map(|point| point.volume_m3).sum();
            let heat_w: f64 = six
                .iter()
                .map(|point| point.volume_m3 * point.loss_w_m3)
                .sum();
            losses[triangle] = heat_w / volume_m3;
        }
    }
    losses
}
