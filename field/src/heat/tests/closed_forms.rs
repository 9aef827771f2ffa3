//! Against formulas and published targets.

use super::{
    HIGH_U, HIGH_V, LOW_U, LOW_V, Slab, assert_near, at, convection, metal, radiation, walk,
};
use crate::heat::{Blanket, Conditions, Convection, Law, Loss, NoSource, Radiation, steady};
use crate::section::Symmetry::{Axisymmetric, Planar};
use crate::table::Table;

/// The tolerances of the published targets: they are printed to 0.01 K, a tenth is what they ask for.
const PUBLISHED_K: f64 = 0.1;

/// A series summed exactly: what is left is the error of steps of 0.02 K.
const SERIES_K: f64 = 0.1;

const STEP_K: f64 = 0.02;

/// Half a line where heat enters at a constant rate: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959,
/// section 2.9, equation (7).
#[test]
fn half_space_heated_at_constant_flux() {
    let (k, capacity, flux_w_m2, time_s) = (45.0, 490.0 * 7850.0, 1e5, 60.0);
    let slab = Slab::new(Planar, [0.0, 0.3, 0.0, 0.01], [60, 1], metal(k, capacity))
        .with(LOW_U, Law::Flux(Table::constant(flux_w_m2)));
    let model = slab.model();
    let state = walk(&model, 20.0, time_s, STEP_K);
    let spread_m = (k / capacity * time_s).sqrt();
    for x in [0.0, 0.01, 0.03] {
        let z = x / (2.0 * spread_m);
        let ierfc = (-z * z).exp() / std::f64::consts::PI.sqrt() - z * libm::erfc(z);
        let expected = 20.0 + 2.0 * flux_w_m2 * spread_m / k * ierfc;
        assert_near(
            &format!("x = {x} m"),
            at(&model, &state, [x, 0.005]),
            expected,
            SERIES_K,
        );
    }
}

/// A slab heated at one face, insulated at the other: Carslaw & Jaeger 1959, section 3.8, equation (3).
#[test]
fn slab_heated_at_constant_flux() {
    let (k, capacity, flux_w_m2, l, time_s) = (45.0, 490.0 * 7850.0, 4e4, 0.025, 60.0);
    let slab = Slab::new(Planar, [0.0, l, 0.0, 0.005], [6, 1], metal(k, capacity))
        .with(HIGH_U, Law::Flux(Table::constant(flux_w_m2)));
    let model = slab.model();
    let state = walk(&model, 20.0, time_s, STEP_K);
    let pi = std::f64::consts::PI;
    for x in [0.0, l] {
        let term = |n: i32| {
            let n = f64::from(n);
            let sign = if n % 2.0 == 0.0 { 1.0 } else { -1.0 };
            sign / (n * n)
                * (-k / capacity * (n * pi / l).powi(2) * time_s).exp()
                * (n * pi * x / l).cos()
        };
        let series: f64 = (1..40).map(term).sum();
        let shape = (3.0 * x * x - l * l) / (6.0 * l * l) - 2.0 / (pi * pi) * series;
        let expected = 20.0 + flux_w_m2 * time_s / (capacity * l) + flux_w_m2 * l / k * shape;
        assert_near(
            &format!("x = {x} m"),
            at(&model, &state, [x, 0.002]),
            expected,
            SERIES_K,
        );
    }
}

/// A plane wall cooled by convection: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, equation 5.42.
#[test]
fn wall_cooled_by_convection() {
    let (k, capacity, h, l, time_s) = (40.0, 500.0 * 7800.0, 400.0, 0.05, 292.5);
    let slab = Slab::new(Planar, [0.0, l, 0.0, 0.01], [8, 1], metal(k, capacity))
        .with(HIGH_U, convection(h, 0.0));
    let model = slab.model();
    let state = walk(&model, 100.0, time_s, STEP_K);
    let (biot, fourier) = (h * l / k, k / capacity * time_s / (l * l));
    for x in [0.0, l] {
        let term = |n: usize| {
            let zeta = root(
                |z| z * z.tan() - biot,
                n as f64 * std::f64::consts::PI,
                std::f64::consts::FRAC_PI_2,
            );
            4.0 * zeta.sin() / (2.0 * zeta + (2.0 * zeta).sin())
                * (-zeta * zeta * fourier).exp()
                * (zeta * x / l).cos()
        };
        let expected: f64 = 100.0 * (0..20).map(term).sum::<f64>();
        assert_near(
            &format!("x = {x} m"),
            at(&model, &state, [x, 0.003]),
            expected,
            SERIES_K,
        );
    }
}

/// A long cylinder cooled by convection: Incropera & DeWitt, equation 5.47; Carslaw & Jaeger 1959, section 7.7.
#[test]
fn cylinder_cooled_by_convection() {
    let (k, capacity, h, a, time_s) = (40.0, 500.0 * 7800.0, 800.0, 0.05, 121.875);
    let slab = Slab::new(
        Axisymmetric,
        [0.0, a, 0.0, 0.01],
        [8, 1],
        metal(k, capacity),
    )
    .with(HIGH_U, convection(h, 0.0));
    let model = slab.model();
    let state = walk(&model, 100.0, time_s, STEP_K);
    let (biot, fourier) = (h * a / k, k / capacity * time_s / (a * a));
    let excess = |z: f64| z * libm::j1(z) - biot * libm::j0(z);
    for r in [0.0, a] {
        let mut expected = 0.0;
        let mut low = 1e-6;
        while low < 40.0 {
            if excess(low) * excess(low + 0.1) < 0.0 {
                let z = root(excess, low, 0.1);
                let (j0, j1) = (libm::j0(z), libm::j1(z));
                expected += 100.0 * 2.0 / z * j1 / (j0 * j0 + j1 * j1)
                    * (-z * z * fourier).exp()
                    * libm::j0(z * r / a);
            }
            low += 0.1;
        }
        assert_near(
            &format!("r = {r} m"),
            at(&model, &state, [r, 0.004]),
            expected,
            SERIES_K,
        );
    }
}

/// NAFEMS benchmark T2 (1990): conduction to a radiating end; target 653.85 C.
#[test]
fn nafems_t2_radiating_end() {
    let slab = Slab::new(
        Planar,
        [0.0, 0.1, 0.0, 0.02],
        [10, 2],
        metal(55.6, 460.0 * 7850.0),
    )
    .with(LOW_U, Law::Temperature(Table::constant(726.85)))
    .with(HIGH_U, radiation(0.98, 26.85));
    let model = slab.model();
    let ambient_c = model.radiation_ambient_c();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &ambient_c,
    };
    let found = steady(&model, &model.uniform(500.0), &conditions).expect("it converges");
    assert_near(
        "radiating end",
        at(&model, &found.state, [0.1, 0.01]),
        653.85,
        PUBLISHED_K,
    );
    let (held_w, lost_w) = (
        model.heat_flow_w(0, &found.state, &conditions),
        model.heat_flow_w(1, &found.state, &conditions),
    );
    assert_near("what comes in goes out", held_w, -lost_w, 1e-6 * held_w);
}

/// NAFEMS benchmark T3 (1990): one end swings as 100 sin(pi t / 40); target 36.60 C at x = 0.08 m, t = 32 s.
#[test]
fn nafems_t3_swinging_end() {
    let swing = |i: i32| {
        let time_s = 0.25 * f64::from(i);
        (time_s, 100.0 * (std::f64::consts::PI * time_s / 40.0).sin())
    };
    let samples: Vec<(f64, f64)> = (0..=160).map(swing).collect();
    let slab = Slab::new(
        Planar,
        [0.0, 0.1, 0.0, 0.02],
        [10, 2],
        metal(35.0, 440.5 * 7200.0),
    )
    .with(LOW_U, Law::Temperature(Table::constant(0.0)))
    .with(
        HIGH_U,
        Law::Temperature(Table::new(&samples).expect("ascending")),
    );
    let model = slab.model();
    let state = walk(&model, 0.0, 32.0, STEP_K);
    assert_near(
        "x = 0.08 m",
        at(&model, &state, [0.08, 0.01]),
        36.60,
        PUBLISHED_K,
    );
}

/// NAFEMS benchmark T4 (1990): a plate held at its foot, cooled at two sides; target 18.25 C at (0.6, 0.2) m.
#[test]
fn nafems_t4_cooled_plate() {
    // Points crowd towards the corner where the held foot meets the cooled side: the flux is singular there.
    let place = |i: u32, j: u32| {
        let (u, v) = (f64::from(i) / 16.0, f64::from(j) / 24.0);
        [0.6 * (1.0 - (1.0 - u).powi(2)), v * v]
    };
    let slab = Slab::with_places(
        Planar,
        [0.0, 0.6, 0.0, 1.0],
        [16, 24],
        metal(52.0, 460.0 * 7850.0),
        place,
    )
    .with(LOW_V, Law::Temperature(Table::constant(100.0)))
    .with(HIGH_U, convection(750.0, 0.0))
    .with(HIGH_V, convection(750.0, 0.0));
    let model = slab.model();
    let ambient_c = model.radiation_ambient_c();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &ambient_c,
    };
    let found = steady(&model, &model.uniform(0.0), &conditions).expect("it converges");
    assert_near(
        "(0.6, 0.2) m",
        at(&model, &found.state, [0.6, 0.2]),
        18.25,
        PUBLISHED_K,
    );
}

/// A lump that cools by radiation: Incropera & DeWitt, equation 5.18 (its inverse found by bisection).
#[test]
fn lump_cooled_by_radiation() {
    let (capacity, thickness_m, emissivity, time_s) = (600.0 * 7850.0, 0.01, 0.8, 600.0);
    let slab = Slab::new(
        Planar,
        [0.0, thickness_m, 0.0, 0.01],
        [2, 2],
        metal(1e5, capacity),
    )
    .with(HIGH_U, radiation(emissivity, 26.85));
    let model = slab.model();
    let state = walk(&model, 726.85, time_s, STEP_K);
    let (begin_k, around_k, sigma) = (1000.0_f64, 300.0_f64, 5.670_374_419e-8);
    let taken_s = |t: f64| {
        let rate = 4.0 * emissivity * sigma * around_k.powi(3) / (capacity * thickness_m);
        let logs = ((around_k + t) / (around_k - t)).abs().ln()
            - ((around_k + begin_k) / (around_k - begin_k)).abs().ln();
        (logs + 2.0 * ((t / around_k).atan() - (begin_k / around_k).atan())) / rate
    };
    let expected = root(|t| taken_s(t) - time_s, 301.0, 698.0) - 273.15;
    assert_near(
        "the lump",
        at(&model, &state, [0.005, 0.005]),
        expected,
        SERIES_K,
    );
}

/// Conduction through a pipe's insulation: Incropera & DeWitt, equation 3.32. The flow is the reaction at the held
/// side, from both sides the same.
#[test]
fn heat_flow_through_a_ring() {
    let (k, r1, r2, length_m) = (0.15, 0.16195, 0.18695, 0.1);
    let slab = Slab::new(
        Axisymmetric,
        [r1, r2, 0.0, length_m],
        [2, 1],
        metal(k, 128e3),
    )
    .with(LOW_U, Law::Temperature(Table::constant(600.0)))
    .with(HIGH_U, Law::Temperature(Table::constant(80.0)));
    let model = slab.model();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &[],
    };
    let found = steady(&model, &model.uniform(100.0), &conditions).expect("it converges");
    let expected = 2.0 * std::f64::consts::PI * k * length_m * 520.0 / (r2 / r1).ln();
    assert_near(
        "in",
        model.heat_flow_w(0, &found.state, &conditions),
        expected,
        1e-5 * expected,
    );
    assert_near(
        "out",
        model.heat_flow_w(1, &found.state, &conditions),
        -expected,
        1e-5 * expected,
    );
}

/// The same insulation as a blanket on a pipe of metal: its columns grow with the radius, so that the closed form
/// comes out with any number of cells. Incropera & DeWitt, equation 3.32 and the sum of resistances of section 3.3.
#[test]
fn blanket_on_a_pipe() {
    let (k, r1, r2, length_m, h) = (0.15, 0.16195, 0.18695, 0.1, 8.0);
    let blanket = |cells| Blanket {
        thickness_m: r2 - r1,
        cells,
        conductivity_w_mk: Table::constant(k),
        heat_capacity_j_m3k: 128e3,
        outside: Loss {
            convection: Some(Convection {
                w_m2k: h,
                ambient_c: 20.0,
            }),
            ..Loss::default()
        },
    };
    for cells in [1, 4] {
        let slab = Slab::new(
            Axisymmetric,
            [0.14445, r1, 0.0, length_m],
            [2, 4],
            metal(45.0, 490.0 * 7850.0),
        )
        .with(LOW_U, Law::Temperature(Table::constant(600.0)))
        .with(HIGH_U, Law::Blanket(blanket(cells)));
        let model = slab.model();
        let conditions = Conditions {
            source: &NoSource,
            radiation_ambient_c: &model.radiation_ambient_c(),
        };
        let found = steady(&model, &model.uniform(100.0), &conditions).expect("it converges");
        let turn = 2.0 * std::f64::consts::PI * length_m;
        let resistance = (r1 / 0.14445_f64).ln() / (turn * 45.0)
            + (r2 / r1).ln() / (turn * k)
            + 1.0 / (turn * r2 * h);
        let expected = 580.0 / resistance;
        assert_near(
            "flow",
            model.heat_flow_w(0, &found.state, &conditions),
            expected,
            1e-5 * expected,
        );
        assert_near(
            "into the blanket",
            -model.heat_flow_w(1, &found.state, &conditions),
            expected,
            1e-5 * expected,
        );
    }
}

/// A blanket of steel is a wall of steel: the transient closed form of the half space must come out of a thin
/// sheet with a thick blanket. Carslaw & Jaeger 1959, section 2.9, equation (7).
#[test]
fn blanket_stores_heat() {
    let (k, capacity, flux_w_m2, time_s) = (45.0, 490.0 * 7850.0, 1e5, 30.0);
    let blanket = Blanket {
        thickness_m: 0.2,
        cells: 100,
        conductivity_w_mk: Table::constant(k),
        heat_capacity_j_m3k: capacity,
        outside: Loss {
            radiation: Some(Radiation {
                emissivity: 0.9,
                ambient_c: 20.0,
            }),
            ..Loss::default()
        },
    };
    let slab = Slab::new(Planar, [0.0, 1e-4, 0.0, 0.01], [1, 2], metal(k, capacity))
        .with(LOW_U, Law::Flux(Table::constant(flux_w_m2)))
        .with(HIGH_U, Law::Blanket(blanket));
    let model = slab.model();
    let state = walk(&model, 20.0, time_s, STEP_K);
    let expected =
        20.0 + 2.0 * flux_w_m2 / k * (k / capacity * time_s / std::f64::consts::PI).sqrt();
    assert_near("surface", at(&model, &state, [0.0, 0.005]), expected, 0.2);
}

/// The root of a function that changes sign once between low and low + width, by bisection.
fn root(f: impl Fn(f64) -> f64, low: f64, width: f64) -> f64 {
    let (mut low, mut high) = (low + 1e-12, low + width - 1e-12);
    let rising = f(low) < 0.0;
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if (f(middle) < 0.0) == rising {
            low = middle
        } else {
            high = middle
        }
    }
    0.5 * (low + high)
}
