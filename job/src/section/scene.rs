//! What a solved section looks like: values for a picture.

use field::eddy::{Problem, Solution};
use field::heat::{Model, State};
use field::mesh::{Mesh, Region};
use field::section::{Point, Symmetry};
use field::space::Space;

/// Values at the nodes of the quadratic elements of a solved section. Each element is split into four triangles, so that
/// its curvature is seen.
#[derive(Clone, Debug, Default)]
pub struct Scene {
    /// Nodes in meters.
    pub nodes_m: Vec<Point>,
    /// Every triangle by its nodes, the air included.
    pub triangles: Vec<[usize; 3]>,
    /// The triangles of the bodies.
    pub metal: Vec<[usize; 3]>,
    /// Temperature in °C; not a number where there is none.
    pub temperature_c: Option<Vec<f64>>,
    /// Flux between a node and the axis (or far away) at the moment of the largest current, in Wb up to a factor.
    pub flux_wb: Option<Vec<f64>>,
    /// Loss density in W/m3; zero in the air.
    pub loss_w_m3: Option<Vec<f64>>,
}

impl Scene {
    /// A section without values.
    pub(super) fn new(mesh: &Mesh, space: &Space) -> Scene {
        let with_regions = space.elements.iter().zip(&mesh.regions);
        let metal = with_regions.filter(|(_, region)| **region != Region::Air);
        Scene {
            nodes_m: space.nodes.clone(),
            triangles: space.elements.iter().flat_map(split).collect(),
            metal: metal.flat_map(|(nodes, _)| split(nodes)).collect(),
            ..Scene::default()
        }
    }

    /// Adds temperatures.
    pub(super) fn with_heat(mut self, model: &Model, state: &State) -> Scene {
        let at = |node: usize| {
            let unknown = model.unknown_of_node(node as u32);
            unknown.map_or(f64::NAN, |unknown| state.temperature_c[unknown as usize])
        };
        self.temperature_c = Some((0..self.nodes_m.len()).map(at).collect());
        self
    }

    /// Adds flux and losses.
    pub(super) fn with_field(mut self, problem: &Problem, solution: &Solution) -> Scene {
        let axisymmetric = problem.section().symmetry == Symmetry::Axisymmetric;
        let flux = self
            .nodes_m
            .iter()
            .zip(&solution.potential_wb_m)
            .map(|(point, potential)| potential.re * if axisymmetric { point[0] } else { 1.0 });
        self.flux_wb = Some(flux.collect());
        self.loss_w_m3 = Some(loss_at_nodes(problem, solution));
        self
    }
}

/// An element as four triangles: its corners and the middles of its sides.
fn split(nodes: &[u32; 6]) -> [[usize; 3]; 4] {
    let [a, b, c, ab, bc, ca] = nodes.map(|node| node as usize);
    [[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]]
}

/// The mean loss density of the elements round each node, by their volumes.
fn loss_at_nodes(problem: &Problem, solution: &Solution) -> Vec<f64> {
    let (mesh, space) = (problem.mesh(), problem.space());
    let mut sums = vec![(0.0, 0.0); space.nodes.len()];
    for body in 0..problem.section().bodies.len() {
        let own = |number: &usize| mesh.regions[*number] == Region::Body(body as u16);
        let triangles: Vec<usize> = (0..mesh.triangles.len()).filter(own).collect();
        let points: Vec<_> = solution.points(problem, body).collect();
        // An insulator has no points.
        let each = (points.len() / triangles.len().max(1)).max(1);
        for (&triangle, points) in triangles.iter().zip(points.chunks(each)) {
            let volume_m3: f64 = points.iter().map(|point| point.volume_m3).sum();
            let loss_w: f64 = points
                .iter()
                .map(|point| point.loss_w_m3 * point.volume_m3)
                .sum();
            for node in space.elements[triangle] {
                let sum = &mut sums[node as usize];
                *sum = (sum.0 + loss_w, sum.1 + volume_m3);
            }
        }
    }
    let mean = |(loss_w, volume_m3): (f64, f64)| {
        if volume_m3 > 0.0 {
            loss_w / volume_m3
        } else {
            0.0
        }
    };
    sums.into_iter().map(mean).collect()
}
