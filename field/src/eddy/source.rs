//! Conductors as sources: their uniform current, integrated over whatever triangles they cover.

use std::collections::BTreeMap;

use num_complex::Complex64;

use super::active::is_active;
use crate::element::{GAUSS_3, depth_m, double_area, shapes};
use crate::error::FieldError;
use crate::finder::Finder;
use crate::mesh::{Mesh, Region};
use crate::section::{Point, Section, Shape, Winding};
use crate::space::Space;

/// Rings and points a ring of the rule for a disc.
const DISC_POINTS_A_RING: usize = 12;
/// Radii over the disc's radius and weights of its four rings: Gauss points of the square of the radius on 0..1.
const DISC_RINGS: [(f64, f64); 4] = [
    (0.263_499_229_985_542_3, 0.173_927_422_568_726_92),
    (0.574_464_514_315_350_8, 0.326_072_577_431_273_1),
    (0.818_529_487_430_005_9, 0.326_072_577_431_273_1),
    (0.964_659_606_180_867_4, 0.173_927_422_568_726_92),
];
/// Panels of a rectangle, of three Gauss points each way, are no longer than its smaller half width nor than the
/// triangles they lie in; there are at most so many a side.
const MOST_PANELS: f64 = 48.0;
/// Places across a rectangle where triangles are looked at.
const LOOKS: usize = 5;

/// A winding on the mesh: the load of one ampere, which is also what its flux linkage is read with.
#[derive(Clone, Debug, Default)]
pub struct Source {
    /// (node, weight), weights in turns times m (times 2 pi r).
    pub(crate) weights: Vec<(u32, f64)>,
    /// Sum of its turns, and of their sizes.
    pub(crate) net_turns: f64,
    pub(crate) total_turns: f64,
}

impl Source {
    /// Flux that a potential links with the winding.
    pub fn linkage_wb(&self, potential_wb_m: &[Complex64]) -> Complex64 {
        self.weights
            .iter()
            .map(|&(node, weight)| potential_wb_m[node as usize] * weight)
            .sum()
    }
}

/// Integrates a winding: equation (5) of docs/theory/eddy-currents.md.
///
/// # Errors
/// [`FieldError::ConductorOutside`] and [`FieldError::ConductorInBody`] where a conductor does not lie in the air.
pub(crate) fn source(
    section: &Section,
    mesh: &Mesh,
    space: &Space,
    finder: &Finder,
    winding: &Winding,
) -> Result<Source, FieldError> {
    let mut weights = BTreeMap::new();
    for (number, conductor) in winding.conductors.iter().enumerate() {
        for (place_m, share) in shape_rule(&conductor.shape, |place| {
            triangle_size_m(mesh, finder, place)
        }) {
            let (name, conductor_number) = (winding.name.clone(), number + 1);
            let Some((triangle, at)) = finder.find(mesh, place_m) else {
                return Err(FieldError::ConductorOutside {
                    winding: name,
                    conductor: conductor_number,
                    place_m,
                });
            };
            if let Region::Body(body) = mesh.regions[triangle] {
                let body = &section.bodies[body as usize];
                if is_active(body) {
                    let (winding, body) = (name, body.name.clone());
                    return Err(FieldError::ConductorInBody {
                        winding,
                        conductor: conductor_number,
                        body,
                        place_m,
                    });
                }
            }
            let weight = conductor.turns * share * depth_m(section.symmetry, place_m);
            for (node, n) in space.elements[triangle].into_iter().zip(shapes(at)) {
                *weights.entry(node).or_insert(0.0) += weight * n;
            }
        }
    }
    let turns = || winding.conductors.iter().map(|conductor| conductor.turns);
    Ok(Source {
        weights: weights.into_iter().collect(),
        net_turns: turns().sum(),
        total_turns: turns().map(f64::abs).sum(),
    })
}

/// Side of a square of the area of two triangles like the one at a place.
fn triangle_size_m(mesh: &Mesh, finder: &Finder, place: Point) -> Option<f64> {
    let (triangle, _) = finder.find(mesh, place)?;
    let corners = mesh.triangles[triangle].map(|corner| mesh.points[corner as usize]);
    Some(double_area(corners).sqrt())
}

/// Points and weights (sum 1) for the mean over a conductor, given the size of triangles at a place.
fn shape_rule(shape: &Shape, size_m: impl Fn(Point) -> Option<f64>) -> Vec<(Point, f64)> {
    match *shape {
        Shape::Circle {
            center_m: [u, v],
            radius_m,
        } => DISC_RINGS
            .iter()
            .enumerate()
            .flat_map(|(ring, &(radius, weight))| {
                (0..DISC_POINTS_A_RING).map(move |k| {
                    // Every second ring is turned by half a step.
                    let step = k as f64 + 0.5 * (ring % 2) as f64;
                    let angle = 2.0 * std::f64::consts::PI * step / DISC_POINTS_A_RING as f64;
                    let place = [
                        u + radius_m * radius * libm::cos(angle),
                        v + radius_m * radius * libm::sin(angle),
                    ];
                    (place, weight / DISC_POINTS_A_RING as f64)
                })
            })
            .collect(),
        Shape::Rectangle { min_m, max_m } => {
            let looks = (0..LOOKS * LOOKS).map(|look| {
                let share = |step: usize| (step as f64 + 0.5) / LOOKS as f64;
                let at =
                    |axis: usize, share: f64| min_m[axis] + share * (max_m[axis] - min_m[axis]);
                [at(0, share(look % LOOKS)), at(1, share(look / LOOKS))]
            });
            let panel_m = looks
                .filter_map(size_m)
                .fold(shape.half_width_m(), f64::min);
            let along = |axis: usize| {
                let long_m = max_m[axis] - min_m[axis];
                let panels = (long_m / panel_m).ceil().clamp(1.0, MOST_PANELS);
                (0..panels as usize).flat_map(move |panel| {
                    GAUSS_3.map(|(x, weight)| {
                        let share = (panel as f64 + 0.5 + 0.5 * x) / panels;
                        (min_m[axis] + share * long_m, 0.5 * weight / panels)
                    })
                })
            };
            along(0)
                .flat_map(|(u, du)| along(1).map(move |(v, dv)| ([u, v], du * dv)))
                .collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The mean of x^2 over a disc of radius a is a^2/4, over a rectangle of width w it is w^2/12.
    #[test]
    fn rules_give_the_mean_of_quadratics() {
        let circle = Shape::Circle {
            center_m: [1.0, 2.0],
            radius_m: 0.3,
        };
        let bar = Shape::Rectangle {
            min_m: [0.7, 1.9],
            max_m: [1.3, 2.1],
        };
        let mean = |shape: &Shape, f: fn(Point) -> f64| {
            shape_rule(shape, |_| None)
                .iter()
                .map(|&(p, w)| w * f(p))
                .sum::<f64>()
        };
        for (shape, second) in [(circle, 0.3 * 0.3 / 4.0), (bar, 0.6 * 0.6 / 12.0)] {
            assert!((mean(&shape, |_| 1.0) - 1.0).abs() < 1e-14);
            assert!((mean(&shape, |[_, v]| v) - 2.0).abs() < 1e-13);
            assert!((mean(&shape, |[u, _]| (u - 1.0) * (u - 1.0)) - second).abs() < 1e-13);
        }
    }
}
