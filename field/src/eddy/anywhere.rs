//! Flux density at any place: in metal, in the air, and beyond the mesh.

use num_complex::Complex64;

use super::frozen::weighted;
use super::problem::Problem;
use super::solution::Solution;
use crate::mesh::FarCircle;
use crate::section::{Point, Symmetry};

impl Solution {
    /// Peak flux density (u, v components) in T at any place: in the mesh from the elements, beyond the far circle
    /// as that of the dipole which the circle sees; none where neither reaches.
    pub fn flux_density_t(&self, problem: &Problem, place: Point) -> Option<[Complex64; 2]> {
        if let Some((triangle, at)) = problem.finder.find(&problem.mesh, place) {
            let own =
                problem.space.elements[triangle].map(|node| self.potential_wb_m[node as usize]);
            return Some(
                problem
                    .curl_at(triangle, at)
                    .map(|row| weighted(&row, &own)),
            );
        }
        let circle = problem.mesh.far_circle?;
        Some(self.dipole_t(problem, circle, place))
    }

    /// Equation (15): moments that fit the potential on the far circle best, and their field.
    fn dipole_t(&self, problem: &Problem, circle: FarCircle, place: Point) -> [Complex64; 2] {
        let axisymmetric = problem.section.symmetry == Symmetry::Axisymmetric;
        let power = if axisymmetric { 3 } else { 2 };
        let relative = |p: Point| [p[0] - circle.center_m[0], p[1] - circle.center_m[1]];
        // A of unit moments along u and v: a planar dipole has two directions, a turned one has only r / rho^3.
        let units = |p: Point| {
            let distance_m = libm::hypot(p[0], p[1]);
            let scale = libm::pow(distance_m, f64::from(power));
            [p[0] / scale, if axisymmetric { 0.0 } else { p[1] / scale }]
        };
        let mut fit = [(Complex64::ZERO, 0.0); 2];
        for corner in problem.mesh.arc.iter().flatten() {
            let potential = self.potential_wb_m[*corner as usize];
            let unit = units(relative(problem.mesh.points[*corner as usize]));
            for axis in 0..2 {
                fit[axis] = (
                    fit[axis].0 + potential * unit[axis],
                    fit[axis].1 + unit[axis] * unit[axis],
                );
            }
        }
        let moments = fit.map(|(sum, weight)| {
            if weight > 0.0 {
                sum / weight
            } else {
                Complex64::ZERO
            }
        });
        let [u, v] = relative(place);
        let squared = u * u + v * v;
        let distance_m = squared.sqrt();
        if axisymmetric {
            let scale = libm::pow(distance_m, 5.0);
            return [
                moments[0] * (3.0 * u * v / scale),
                moments[0] * ((2.0 * v * v - u * u) / scale),
            ];
        }
        // A = (m_u u + m_v v) / rho^2, B = (dA/dv, -dA/du)
        let sum = moments[0] * u + moments[1] * v;
        let fourth = squared * squared;
        [
            moments[1] / squared - sum * (2.0 * v / fourth),
            sum * (2.0 * u / fourth) - moments[0] / squared,
        ]
    }
}
