//! The quadratic (P2) triangle: shape functions, gradients, and a rule of six points
//! (D. A. Dunavant, Int. J. Numer. Meth. Eng. 21 (1985) 1129, degree 4).

use crate::section::{Point, Symmetry};

/// Points of the rule.
pub const POINTS: usize = 6;

/// Pairs (i, j), j <= i, of an element's six nodes.
pub const PAIRS: usize = 21;

/// (barycentric coordinate of the two equal corners, share of the area).
const ORBITS: [(f64, f64); 2] = [
    (0.445_948_490_915_964_9, 0.223_381_589_678_011_47),
    (0.091_576_213_509_770_74, 0.109_951_743_655_321_87),
];

/// The barycentric coordinates and the share of the area of each point.
pub fn rule() -> [([f64; 3], f64); POINTS] {
    std::array::from_fn(|q| {
        let (equal, share) = ORBITS[q / 3];
        let mut at = [equal; 3];
        at[q % 3] = 1.0 - 2.0 * equal;
        (at, share)
    })
}

/// The six shape functions at barycentric coordinates: corners, then middles of sides 01, 12, 20.
pub fn shapes([a, b, c]: [f64; 3]) -> [f64; 6] {
    let corner = |x: f64| x * (2.0 * x - 1.0);
    [
        corner(a),
        corner(b),
        corner(c),
        4.0 * a * b,
        4.0 * b * c,
        4.0 * c * a,
    ]
}

/// The shape functions at the points of the rule: the same for every triangle.
pub fn shapes_at_points() -> [[f64; 6]; POINTS] {
    rule().map(|(at, _)| shapes(at))
}

/// Twice the area of a triangle in m2, positive when its corners run counter-clockwise.
pub fn double_area([a, b, c]: [Point; 3]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])
}

/// A triangle with straight sides.
#[derive(Clone, Copy, Debug)]
pub struct Triangle {
    corners: [Point; 3],
    /// Gradients of the barycentric coordinates in 1/m.
    slopes: [[f64; 2]; 3],
    /// Twice its area in m2.
    double_area_m2: f64,
}

impl Triangle {
    /// The triangle with these corners, counter-clockwise.
    pub fn new(corners: [Point; 3]) -> Triangle {
        let [a, b, c] = corners;
        let double_area_m2 = double_area(corners);
        let slopes = [[b, c], [c, a], [a, b]].map(|[p, q]| {
            [
                (p[1] - q[1]) / double_area_m2,
                (q[0] - p[0]) / double_area_m2,
            ]
        });
        Triangle {
            corners,
            slopes,
            double_area_m2,
        }
    }

    /// Its area.
    pub fn area_m2(&self) -> f64 {
        0.5 * self.double_area_m2
    }

    /// Barycentric coordinates of a place.
    pub fn barycentric(&self, place: Point) -> [f64; 3] {
        let from = self.corners[0];
        let at = |i: usize| {
            self.slopes[i][0] * (place[0] - from[0]) + self.slopes[i][1] * (place[1] - from[1])
        };
        [1.0 + at(0), at(1), at(2)]
    }

    /// The place with given barycentric coordinates.
    pub fn place(&self, at: [f64; 3]) -> Point {
        [0, 1].map(|axis| (0..3).map(|i| at[i] * self.corners[i][axis]).sum())
    }

    /// Gradients of the six shape functions, by axis, in 1/m.
    pub fn gradients(&self, [a, b, c]: [f64; 3]) -> [[f64; 6]; 2] {
        [0, 1].map(|axis| {
            let [ga, gb, gc] = self.slopes.map(|slope| slope[axis]);
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
}

/// How deep the section is at a place: a whole turn, or one meter.
pub fn depth_m(symmetry: Symmetry, place: Point) -> f64 {
    match symmetry {
        Symmetry::Axisymmetric => 2.0 * std::f64::consts::PI * place[0],
        Symmetry::Planar => 1.0,
    }
}

/// Nodes and weights of Gauss rules on -1..1 (Abramowitz & Stegun 1964, table 25.4).
pub const GAUSS_3: [(f64, f64); 3] = [
    (-0.774_596_669_241_483_4, 5.0 / 9.0),
    (0.0, 8.0 / 9.0),
    (0.774_596_669_241_483_4, 5.0 / 9.0),
];
/// The rule of five points.
pub const GAUSS_5: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

#[cfg(test)]
mod tests {
    use super::*;

    /// The integral of a^i b^j c^k over a triangle is 2 area i! j! k! / (i + j + k + 2)!
    /// (Eisenberg & Malvern, Int. J. Numer. Meth. Eng. 7 (1973) 574).
    #[test]
    fn the_rule_is_exact_to_degree_four() {
        let factorial = |n: i32| (1..=n).map(f64::from).product::<f64>();
        for (i, j, k) in [
            (0, 0, 0),
            (1, 0, 0),
            (2, 1, 0),
            (2, 1, 1),
            (4, 0, 0),
            (2, 2, 0),
        ] {
            let exact = 2.0 * factorial(i) * factorial(j) * factorial(k) / factorial(i + j + k + 2);
            let sum: f64 = rule()
                .iter()
                .map(|([a, b, c], share)| share * a.powi(i) * b.powi(j) * c.powi(k))
                .sum();
            assert!(
                (sum - exact).abs() < 1e-14,
                "{i} {j} {k}: {sum} instead of {exact}"
            );
        }
    }

    #[test]
    fn shapes_reproduce_quadratics_and_their_gradients() {
        let triangle = Triangle::new([[0.1, 0.0], [0.5, 0.2], [0.2, 0.9]]);
        let f = |[x, y]: Point| 1.0 + 2.0 * x - y + 3.0 * x * x - x * y + 0.5 * y * y;
        let halves = [
            [1.0, 0.0, 0.0],
            [0.0, 1.0, 0.0],
            [0.0, 0.0, 1.0],
            [0.5, 0.5, 0.0],
            [0.0, 0.5, 0.5],
            [0.5, 0.0, 0.5],
        ];
        let values = halves.map(|at| f(triangle.place(at)));
        let at = [0.2, 0.3, 0.5];
        let [x, y] = triangle.place(at);
        let sum = |weights: [f64; 6]| weights.iter().zip(values).map(|(w, v)| w * v).sum::<f64>();
        assert!((sum(shapes(at)) - f([x, y])).abs() < 1e-13);
        let [along_x, along_y] = triangle.gradients(at);
        assert!((sum(along_x) - (2.0 + 6.0 * x - y)).abs() < 1e-12);
        assert!((sum(along_y) - (-1.0 - x + y)).abs() < 1e-12);
        let back = triangle.barycentric([x, y]);
        assert!(
            back.iter()
                .zip(at)
                .all(|(got, want)| (got - want).abs() < 1e-14)
        );
    }
}
