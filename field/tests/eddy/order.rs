//! The measured order of convergence on meshes that halve: quadratic elements give the loss density to third order in
//! the mean square and total power to fourth (G. Strang & G. Fix, An Analysis of the Finite Element Method, 1973,
//! ch. 3: energy converges twice as fast as its gradient).

use field::eddy::{Problem, Solves, State, Temperature};
use field::mesh::{Mesh, OutlinePiece, Region};
use field::section::Symmetry;
use num_complex::Complex64;

use crate::sections::*;

const RESISTIVITY_OHM_M: f64 = 7.2e-7;
const FREQUENCY_HZ: f64 = 10_000.0;
const FIELD_A_M: f64 = 1e4;
const LONG_M: f64 = 0.01;
const HIGH_M: f64 = 0.0025;

/// A rectangle cut into squares and these into two triangles each.
fn squares(columns: u32) -> Mesh {
    let rows = columns / 4;
    let number = |x: u32, y: u32| y * (columns + 1) + x;
    let mut mesh = Mesh::default();
    for y in 0..=rows {
        for x in 0..=columns {
            mesh.points.push([
                LONG_M * f64::from(x) / f64::from(columns),
                HIGH_M * f64::from(y) / f64::from(rows),
            ]);
        }
    }
    for y in 0..rows {
        for x in 0..columns {
            let [a, b, c, d] = [
                number(x, y),
                number(x + 1, y),
                number(x + 1, y + 1),
                number(x, y + 1),
            ];
            mesh.triangles.extend([[a, b, c], [a, c, d]]);
            mesh.regions.extend([Region::Body(0); 2]);
        }
        let right = [number(columns, y), number(columns, y + 1)];
        let left = [number(0, y + 1), number(0, y)];
        mesh.outlines.push(OutlinePiece {
            body: 0,
            edge: 1,
            points: right,
        });
        mesh.outlines.push(OutlinePiece {
            body: 0,
            edge: 3,
            points: left,
        });
    }
    mesh
}

/// Power, and the error of the loss density against `exact` in the mean square.
fn errors(
    symmetry: Symmetry,
    columns: u32,
    exact_w: f64,
    exact_w_m3: impl Fn(f64) -> f64,
) -> [f64; 2] {
    let body = rectangle(
        "work",
        metal(RESISTIVITY_OHM_M, 1.0),
        [0.0, LONG_M, 0.0, HIGH_M],
    );
    let problem =
        Problem::on_mesh(&filled(symmetry, vec![body]), squares(columns)).expect("a plain mesh");
    let drive = edge_drive(FREQUENCY_HZ, [LONG_M, 0.0], [LONG_M, HIGH_M], FIELD_A_M);
    let solution = problem
        .solve(
            &mut State::default(),
            &drive,
            Temperature::Uniform(20.0),
            Solves::SETTLED,
        )
        .expect("a plain problem");
    let squares = solution.points(&problem, 0).map(|point| {
        let off = point.loss_w_m3 - exact_w_m3(point.place_m[0]);
        point.volume_m3 * off * off
    });
    [
        (solution.body_power_w[0] - exact_w).abs(),
        squares.sum::<f64>().sqrt(),
    ]
}

fn order(coarse: f64, fine: f64) -> f64 {
    (coarse / fine).log2()
}

/// Slab with a field on one face and none on the back: H = H0 sinh(g x)/sinh(g t), E = rho g H0 cosh(g x)/sinh(g t)
/// (Lammeraner & Stafl, Eddy Currents, 1966, ch. 2). The back carries no tangential field.
#[test]
fn a_plane_slab() {
    let depth_m = field::eddy::skin_depth_m(RESISTIVITY_OHM_M, 1.0, FREQUENCY_HZ);
    let g = Complex64::new(1.0, 1.0) / depth_m;
    let electric =
        |x: f64| RESISTIVITY_OHM_M * g * FIELD_A_M * (g * x).cosh() / (g * LONG_M).sinh();
    let power_w = 0.5 * (electric(LONG_M) * FIELD_A_M).re * HIGH_M;
    let loss_w_m3 = |x: f64| 0.5 * electric(x).norm_sqr() / RESISTIVITY_OHM_M;
    let errors = [16, 32].map(|columns| errors(Symmetry::Planar, columns, power_w, loss_w_m3));
    let orders = [0, 1].map(|which| order(errors[0][which], errors[1][which]));
    assert!(orders[0] > 3.7, "power converges with order {}", orders[0]);
    assert!(
        orders[1] > 2.8,
        "loss density converges with order {}",
        orders[1]
    );
}

/// Rod in an axial field, 420.4733 W/m (Lammeraner & Stafl, 1966, ch. 4; Bessel functions to 40 digits); elements
/// that touch the axis are as good as the rest.
#[test]
fn a_rod_with_its_axis() {
    let power_w = 420.47333677543213 * HIGH_M;
    let errors =
        [16, 32].map(|columns| errors(Symmetry::Axisymmetric, columns, power_w, |_| 0.0)[0]);
    let order = order(errors[0], errors[1]);
    assert!(order > 3.7, "power converges with order {order}");
}
