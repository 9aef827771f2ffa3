//! Measured orders of convergence.

use super::{HIGH_U, LOW_U, Slab, assert_near, at, convection, metal, walk};
use crate::heat::{Conditions, Law, NoSource, Stepper, steady};
use crate::section::Symmetry::{Axisymmetric, Planar};
use crate::table::Table;

/// Quadratic elements: an error of third order in the mean of squares (Strang & Fix 1973, section 3.3).
#[test]
fn third_order_in_space() {
    let (r1, r2) = (0.01, 0.1);
    let exact = |r: f64| 500.0 * (r / r2).ln() / (r1 / r2).ln();
    let error = |across: u32| {
        let slab = Slab::new(
            Axisymmetric,
            [r1, r2, 0.0, 0.02],
            [across, 2],
            metal(45.0, 3.8e6),
        )
        .with(LOW_U, Law::Temperature(Table::constant(500.0)))
        .with(HIGH_U, Law::Temperature(Table::constant(0.0)));
        let model = slab.model();
        let conditions = Conditions {
            source: &NoSource,
            radiation_ambient_c: &[],
        };
        let state = steady(&model, &model.uniform(0.0), &conditions)
            .expect("it converges")
            .state;
        let samples = 397;
        let square = |i: u32| {
            let r = r1 + (r2 - r1) * (f64::from(i) + 0.5) / f64::from(samples);
            (at(&model, &state, [r, 0.0071]) - exact(r)).powi(2)
        };
        ((0..samples).map(square).sum::<f64>() / f64::from(samples)).sqrt()
    };
    let (coarse, fine) = (error(16), error(32));
    assert_near("order in space", (coarse / fine).log2(), 3.0, 0.3);
}

/// TR-BDF2: an error of second order (Bank et al. 1985).
#[test]
fn second_order_in_time() {
    let slab = Slab::new(Planar, [0.0, 0.05, 0.0, 0.01], [4, 1], metal(40.0, 3.9e6))
        .with(HIGH_U, convection(400.0, 0.0));
    let model = slab.model();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &model.radiation_ambient_c(),
    };
    // From a state without the first jolt of the surface, whose steep beginning hides the order.
    let begin = walk(&model, 100.0, 100.0, 1e-3);
    let after = |steps: u32| {
        let mut stepper = Stepper::default();
        let mut state = begin.clone();
        for _ in 0..steps {
            state = stepper
                .step(&model, &state, 200.0 / f64::from(steps), 1e-8, &conditions)
                .expect("it converges")
                .state;
        }
        at(&model, &state, [0.05, 0.005])
    };
    let exact = after(512);
    let (coarse, fine) = ((after(8) - exact).abs(), (after(16) - exact).abs());
    assert_near("order in time", (coarse / fine).log2(), 2.0, 0.2);
}

/// The estimate of the error leads to a result within a few times the tolerance of a step.
#[test]
fn the_tolerance_is_kept() {
    let slab = Slab::new(Planar, [0.0, 0.05, 0.0, 0.01], [4, 1], metal(40.0, 3.9e6))
        .with(HIGH_U, convection(400.0, 0.0));
    let model = slab.model();
    let end = |tolerance_k: f64| {
        at(
            &model,
            &walk(&model, 100.0, 300.0, tolerance_k),
            [0.05, 0.005],
        )
    };
    let exact = end(1e-4);
    for tolerance_k in [1.0, 0.1, 0.01] {
        assert_near("at the end", end(tolerance_k), exact, 3.0 * tolerance_k);
    }
}
