//! Heat that a surface receives: loss integrated through a body along the normal, per area of the surface.

use super::frozen::weighted;
use super::problem::Problem;
use super::solution::Solution;
use crate::element::{GAUSS_3, GAUSS_5, Triangle, shapes};
use crate::error::FieldError;
use crate::mesh::Region;
use crate::mesh::geometry::{cross, direction, distance, dot, left_of, minus, plus, times};
use crate::section::{Point, Symmetry};

/// Lines lie within this share of the local spacing of surface nodes on both sides of the place; one line alone is
/// noisy, since |A|^2 differs between the sides and the middle of an element.
const HALF_WIDTH: f64 = 0.5;
/// Parts of a line shorter than this share of it are rounding.
const SHORTEST: f64 = 1e-9;

impl Solution {
    /// Heat per area of surface in W/m2 that edge `edge` of a body receives at a distance `along_m` from the edge's
    /// first corner: equation (16) of docs/theory/eddy-currents.md.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] where the body or edge does not exist or the place lies beyond the edge.
    pub fn flux_w_m2(
        &self,
        problem: &Problem,
        body: usize,
        edge: usize,
        along_m: f64,
    ) -> Result<f64, FieldError> {
        let bodies = &problem.section.bodies;
        within(
            "number of the body",
            body as f64,
            0.0,
            bodies.len() as f64 - 1.0,
            "(-)",
        )?;
        let polygon = &bodies[body].polygon;
        within(
            "number of the edge",
            edge as f64,
            0.0,
            polygon.len() as f64 - 1.0,
            "(-)",
        )?;
        let (a, b) = (polygon[edge], polygon[(edge + 1) % polygon.len()]);
        let (long_m, tangent) = (distance(a, b), direction(a, b));
        within("place along the edge", along_m, 0.0, long_m, "m")?;
        let half_m =
            HALF_WIDTH * self.spacing_m(problem, body, edge, plus(a, times(along_m, tangent)));
        // At the ends of an edge the lines stay on it, symmetric about the place.
        let half_m = half_m
            .min(along_m)
            .min(long_m - along_m)
            .max(SHORTEST * long_m);
        let mean = GAUSS_5.iter().map(|&(x, weight)| {
            let line_m = (along_m + half_m * x).clamp(SHORTEST * long_m, (1.0 - SHORTEST) * long_m);
            let start = plus(a, times(line_m, tangent));
            0.5 * weight * self.through_w_m2(problem, body, start, left_of(tangent))
        });
        Ok(mean.sum())
    }

    /// Length of the piece of outline at a place.
    fn spacing_m(&self, problem: &Problem, body: usize, edge: usize, place: Point) -> f64 {
        let pieces = problem
            .mesh
            .outlines
            .iter()
            .filter(|p| p.body as usize == body && p.edge as usize == edge);
        pieces
            .map(|piece| {
                piece
                    .points
                    .map(|corner| problem.mesh.points[corner as usize])
            })
            .find(|&[a, b]| dot(minus(place, a), minus(place, b)) <= 0.0)
            .map_or(0.0, |[a, b]| distance(a, b))
    }

    /// Loss along one line from the surface inwards until it leaves the body.
    fn through_w_m2(&self, problem: &Problem, body: usize, start: Point, inwards: Point) -> f64 {
        let mut crossed: Vec<(f64, f64, usize)> = Vec::new();
        for (number, corners) in problem.mesh.triangles.iter().enumerate() {
            if problem.mesh.regions[number] == Region::Body(body as u16) {
                let corners = corners.map(|corner| problem.mesh.points[corner as usize]);
                crossed.extend(
                    part_inside(corners, start, inwards).map(|[from, to]| (from, to, number)),
                );
            }
        }
        crossed.sort_by(|x, y| x.0.total_cmp(&y.0).then(x.2.cmp(&y.2)));
        let reach_m = crossed.iter().map(|part| part.1).fold(0.0, f64::max);
        let (mut sum, mut at_m) = (0.0, 0.0);
        for (from_m, to_m, triangle) in crossed {
            if from_m > at_m + SHORTEST * reach_m {
                break;
            }
            // A line along a side of triangles crosses both neighbors; each stretch counts once.
            if to_m > at_m {
                sum += self.part_w_m2(problem, triangle, start, inwards, [at_m, to_m]);
                at_m = to_m;
            }
        }
        sum
    }

    /// Loss along a part of a line inside one triangle.
    fn part_w_m2(
        &self,
        problem: &Problem,
        number: usize,
        start: Point,
        inwards: Point,
        [from, to]: [f64; 2],
    ) -> f64 {
        let Some(active) = self.active_of_triangle[number] else {
            return 0.0;
        };
        let triangle = Triangle::new(
            problem.mesh.triangles[number].map(|corner| problem.mesh.points[corner as usize]),
        );
        let own = problem.space.elements[number].map(|node| self.potential_wb_m[node as usize]);
        let omega = self.frozen.angular_frequency;
        let sigma = problem.conductivity_inside(&self.frozen, active as usize);
        let at = |&(x, weight): &(f64, f64)| {
            let place = plus(
                start,
                times(0.5 * (from + to) + 0.5 * (to - from) * x, inwards),
            );
            let at = triangle.barycentric(place);
            let loss = 0.5 * sigma(at) * omega * omega * weighted(&shapes(at), &own).norm_sqr();
            let widening = match problem.section.symmetry {
                Symmetry::Axisymmetric if start[0] > 0.0 => place[0] / start[0],
                _ => 1.0,
            };
            0.5 * (to - from) * weight * loss * widening
        };
        GAUSS_3.iter().map(at).sum()
    }
}

/// Where a ray is inside a triangle, as distances from its start.
fn part_inside(corners: [Point; 3], start: Point, ray: Point) -> Option<[f64; 2]> {
    let (mut from, mut to) = (0.0_f64, f64::INFINITY);
    for i in 0..3 {
        let (a, side) = (corners[i], minus(corners[(i + 1) % 3], corners[i]));
        // Inside is left of every side: cross(side, p - a) >= 0.
        let (value, slope) = (cross(side, minus(start, a)), cross(side, ray));
        let rounding = SHORTEST * dot(side, side);
        if slope.abs() * dot(side, side).sqrt() < rounding {
            if value < -rounding {
                return None;
            }
            continue;
        }
        let meets = -value / slope;
        if slope > 0.0 {
            from = from.max(meets)
        } else {
            to = to.min(meets)
        }
    }
    (to > from).then_some([from, to])
}

fn within(
    what: &str,
    value: f64,
    lowest: f64,
    highest: f64,
    unit: &'static str,
) -> Result<(), FieldError> {
    let fits = value >= lowest && value <= highest;
    fits.then_some(()).ok_or(FieldError::OutOfRange {
        what: what.into(),
        value,
        lowest,
        highest,
        unit,
    })
}
