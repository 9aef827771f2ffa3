//! The quadratic triangle: shape functions and gradients at six points (Dunavant 1985, degree 4).

use crate::section::{Point, Symmetry};

/// Points of the quadrature.
pub const POINTS: usize = 6;

/// Pairs (i, j), j <= i, of an element's six unknowns.
pub const PAIRS: usize = 21;

/// (barycentric coordinate of the two equal corners, share of the area).
const ORBITS: [(f64, f64); 2] = [
    (0.445_948_490_915_964_9, 0.223_381_589_678_011_47),
    (0.091_576_213_509_770_74, 0.109_951_743_655_321_87),
];

/// The barycentric coordinates and the share of the area of each point.
fn quadrature() -> [([f64; 3], f64); POINTS] {
    let place = |(a, share): (f64, f64), corner: usize| {
        let mut at = [a; 3];
        at[corner] = 1.0 - 2.0 * a;
        (at, share)
    };
    std::array::from_fn(|q| place(ORBITS[q / 3], q % 3))
}

/// The six shape functions at barycentric coordinates: corners, then middles of sides 01, 12, 20.
pub fn shapes([a, b, c]: [f64; 3]) -> [f64; 6] {
    [
        a * (2.0 * a - 1.0),
        b * (2.0 * b - 1.0),
        c * (2.0 * c - 1.0),
        4.0 * a * b,
        4.0 * b * c,
        4.0 * c * a,
    ]
}

/// The shape functions at the points of the quadrature: the same for every triangle.
pub fn shapes_at_points() -> [[f64; 6]; POINTS] {
    quadrature().map(|(at, _)| shapes(at))
}

/// What integrals over a triangle need.
#[derive(Clone, Debug)]
pub struct Element {
    /// Volume that each point stands for in m3 (a whole turn, or one meter of depth).
    pub volume_m3: [f64; POINTS],
    /// Gradients of the shape functions at each point in 1/m.
    pub gradients: [[[f64; 6]; 2]; POINTS],
}

impl Element {
    /// Prepares the triangle with these corners, counter-clockwise.
    pub fn new(corners: [Point; 3], symmetry: Symmetry) -> Element {
        let double_area = double_area(corners);
        let slopes = [0, 1, 2].map(|i| {
            let (p, q) = (corners[(i + 1) % 3], corners[(i + 2) % 3]);
            [(p[1] - q[1]) / double_area, (q[0] - p[0]) / double_area]
        });
        let quadrature = quadrature();
        Element {
            volume_m3: quadrature.map(|(at, share)| {
                0.5 * double_area
                    * share
                    * depth_m(symmetry, (0..3).map(|i| at[i] * corners[i][0]).sum())
            }),
            gradients: quadrature.map(|(at, _)| gradients(at, slopes)),
        }
    }
}

/// Twice the area of a triangle in m2, positive when its corners run counter-clockwise.
pub fn double_area([a, b, c]: [Point; 3]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])
}

/// How deep the section is at a radius: a whole turn, or one meter.
pub fn depth_m(symmetry: Symmetry, radius_m: f64) -> f64 {
    match symmetry {
        Symmetry::Axisymmetric => 2.0 * std::f64::consts::PI * radius_m,
        Symmetry::Planar => 1.0,
    }
}

fn gradients([a, b, c]: [f64; 3], [ga, gb, gc]: [[f64; 2]; 3]) -> [[f64; 6]; 2] {
    [0, 1].map(|axis| {
        let (ga, gb, gc) = (ga[axis], gb[axis], gc[axis]);
        [
            (4.0 * a - 1.0) * ga,
            (4.0 * b - 1.0) * gb,
            (4.0 * c - 1.0) * gc,
            4.0 * (a * gb + b * ga),
            4.0 * (b * gc + c * gb),
            4.0 * (c * ga + a * gc),
        ]
    })
}
