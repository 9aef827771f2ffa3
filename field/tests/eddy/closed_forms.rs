//! Against closed forms and published methods, each with its source.

use field::permeability::{VACUUM_PERMEABILITY_H_M, effective_table};
use field::section::{Conductor, Permeability, Section, Symmetry};
use field::table::Table;
use num_complex::Complex64;

use crate::sections::*;

/// Power on the mesh that `mesh_settings` chooses: first layers of 0.6 skin depths leave 0.05 %, turned bodies of a
/// few skin depths with coarse cores 0.1 %.
const POWER: f64 = 2e-3;
/// Local flux over the largest flux: surface spacing of 0.3 gaps.
const FLUX_OF_PEAK: f64 = 1e-2;
/// Reactance: air triangles of 0.4 gaps round turns that are not meshed.
const REACTANCE: f64 = 3e-3;

/// Rods and tubes in a uniform axial field of 10 kA/m: (outer and inner radius, resistivity, relative permeability,
/// frequency, W per meter of length).
///
/// J. Lammeraner & M. Stafl, Eddy Currents (Iliffe 1966) ch. 4; R. L. Stoll, The Analysis of Eddy Currents (Oxford
/// 1974) ch. 3: Bessel functions, evaluated to 40 digits; tubes with the field in the bore.
const RODS_AND_TUBES: [(f64, f64, f64, f64, f64, f64); 5] = [
    (0.05, 0.0, 2e-7, 300.0, 1000.0, 7613.514496150402),
    (0.01, 0.0, 7.2e-7, 1.0, 10_000.0, 420.47333677543213),
    (0.16195, 0.14445, 5e-7, 60.0, 8000.0, 49445.497388481905),
    (0.05715, 0.05115, 7.2e-7, 1.0, 5000.0, 2333.333550132669),
    (0.03, 0.027, 2.82e-8, 1.0, 1000.0, 100.41834360977437),
];

#[test]
fn rods_and_tubes_in_an_axial_field() {
    let height_m = 0.02;
    for (outer_m, inner_m, resistivity, relative, frequency_hz, w_per_m) in RODS_AND_TUBES {
        let mut bodies = vec![rectangle(
            "work",
            metal(resistivity, relative),
            [inner_m, outer_m, 0.0, height_m],
        )];
        if inner_m > 0.0 {
            bodies.push(rectangle(
                "bore",
                insulator(),
                [0.0, inner_m, 0.0, height_m],
            ));
        }
        let section = filled(Symmetry::Axisymmetric, bodies);
        let drive = edge_drive(frequency_hz, [outer_m, 0.0], [outer_m, height_m], 1e4);
        let (_, solution) = solved(&section, &drive);
        assert_close("power", solution.body_power_w[0], w_per_m * height_m, POWER);
        assert!(
            solution.imbalance() < 1e-9,
            "power fed and heat differ by {}",
            solution.imbalance()
        );
    }
}

/// Slabs with 10 kA/m on one face and none on the back: (thickness, resistivity, relative permeability, frequency,
/// W per square meter). Lammeraner & Stafl (1966) ch. 2: surface impedance rho g coth(g t).
const SLABS: [(f64, f64, f64, f64, f64); 4] = [
    (0.025, 2.5e-7, 100.0, 1000.0, 15707.963267948966),
    (0.025, 1.1e-6, 1.0, 10_000.0, 10417.806188566408),
    (0.006, 7.2e-7, 1.0, 1000.0, 6020.749809916449),
    (0.003, 1.724e-8, 1.0, 1000.0, 380.8603616987916),
];

#[test]
fn slabs_with_a_field_on_one_face() {
    for (thickness_m, resistivity, relative, frequency_hz, w_m2) in SLABS {
        let width_m = 0.5 * thickness_m;
        let body = rectangle(
            "slab",
            metal(resistivity, relative),
            [0.0, thickness_m, 0.0, width_m],
        );
        let section = filled(Symmetry::Planar, vec![body]);
        let drive = edge_drive(frequency_hz, [0.0, 0.0], [0.0, width_m], 1e4);
        assert_close("power", power_w(&section, &drive), w_m2 * width_m, POWER);
    }
}

/// Half-spaces of saturating iron, 8 kHz, 0.3 microohm meters: (is the curve Froehlich's, saturation in T, initial
/// permeability, field in A/m, W per square meter).
///
/// Nonlinear diffusion in time, converged to 3e-5; its limit is the rectangular curve of P. D. Agarwal, AIEE Trans.
/// 78 (1959) 169 and W. MacLean, J. Appl. Phys. 25 (1954) 1267.
const SATURATING: [(bool, f64, f64, f64, f64); 3] = [
    (true, 1.9, 1000.0, 10_000.0, 78029.46640944),
    (true, 1.9, 300.0, 40_000.0, 644001.280137055),
    (false, 1.8, 600.0, 40_000.0, 721517.029884198),
];

#[test]
fn saturating_iron_loses_what_it_loses_in_time() {
    let mu0 = VACUUM_PERMEABILITY_H_M;
    let (thickness_m, width_m) = (0.007, 0.00175);
    for (froehlich, saturation_t, initial, field_a_m, w_m2) in SATURATING {
        let excess = mu0 * (initial - 1.0);
        let curve = move |h: f64| {
            let magnetization = if froehlich {
                h / (saturation_t / excess + h.abs()) * saturation_t
            } else {
                let half_pi = std::f64::consts::FRAC_PI_2;
                saturation_t / half_pi * (half_pi * excess * h / saturation_t).atan()
            };
            mu0 * h + magnetization
        };
        let mut iron = metal(3e-7, 1.0);
        iron.permeability = Permeability::Saturating {
            effective: effective_table(curve),
            curie: None,
        };
        let section = filled(
            Symmetry::Planar,
            vec![rectangle("iron", iron, [0.0, thickness_m, 0.0, width_m])],
        );
        let drive = edge_drive(8000.0, [0.0, 0.0], [0.0, width_m], field_a_m);
        // The effective permeability itself is within 1 % of the calculation in time.
        assert_close("power", power_w(&section, &drive), w_m2 * width_m, 1e-2);
    }
}

/// A pancake of eight turns 25 mm above a plate of 0.6 m radius, 300 A peak at 10 kHz: thickness, resistivity and
/// permeability of the plate; power, reactance, and flux at radii of 30, 70, 110, 150 mm.
///
/// C. V. Dodd & W. E. Deeds, J. Appl. Phys. 39 (1968) 2829; layers: C. C. Cheng, C. V. Dodd & W. E. Deeds, Int. J.
/// Nondestr. Test. 3 (1971) 109; infinite plate.
const PANCAKE: ([f64; 3], f64, f64, [f64; 4]) = (
    [0.025, 2.5e-7, 100.0],
    2596.323752599912,
    0.4317712352963769,
    [
        11735.035137071387,
        37349.13160503353,
        39718.66940088525,
        16401.593448367184,
    ],
);
const PANCAKE_PEAK_W_M2: f64 = 41972.1144509553;

fn pancake() -> Vec<Conductor> {
    (0..8)
        .map(|i| {
            let inner = 0.03 + 0.11 * f64::from(i) / 7.0;
            bar([inner, inner + 0.01, 0.025, 0.035], 1.0)
        })
        .collect()
}

#[test]
fn a_pancake_over_a_plate() {
    let ([thickness_m, resistivity, relative], watts, reactance_ohm, flux_w_m2) = PANCAKE;
    let plate = rectangle(
        "plate",
        metal(resistivity, relative),
        [0.0, 0.6, -thickness_m, 0.0],
    );
    let section = turned(vec![plate], pancake());
    let (problem, solution) = solved(&section, &drive(&section, 10_000.0, 300.0));
    let impedance = solution.circuits[0]
        .impedance_ohm()
        .expect("it carries current");
    assert_close("power", solution.body_power_w[0], watts, POWER);
    assert_close(
        "resistance",
        impedance.re,
        2.0 * watts / (300.0 * 300.0),
        POWER,
    );
    assert_close("reactance", impedance.im, reactance_ohm, REACTANCE);
    for (radius_m, w_m2) in [0.03, 0.07, 0.11, 0.15].into_iter().zip(flux_w_m2) {
        // Edge 2 is the top; it runs from the rim inwards.
        let got = solution
            .flux_w_m2(&problem, 0, 2, 0.6 - radius_m)
            .expect("on the plate");
        let off = (got - w_m2).abs() / PANCAKE_PEAK_W_M2;
        assert!(
            off < FLUX_OF_PEAK,
            "at {radius_m} m: {got} instead of {w_m2}, {off} of the peak"
        );
    }
}

/// A single loop of 60 mm radius round an aluminum rod of 50 mm radius at 20 kHz; Dodd & Deeds (1968), infinite rod.
#[test]
fn a_loop_round_a_rod() {
    let rod = rectangle("rod", metal(2.82e-8, 1.0), [0.0, 0.05, -0.6, 0.6]);
    let section = turned(vec![rod], vec![round(0.06, 0.0, 0.003, 1.0)]);
    assert_close(
        "power",
        power_w(&section, &drive(&section, 20_000.0, 300.0)),
        11.615070558783495,
        POWER,
    );
}

/// Four conductors and their returns over a plate at 10 kHz, per meter: Fourier integral, Stoll (1974) ch. 3,
/// infinite plate.
#[test]
fn the_cross_section_of_a_racetrack() {
    let plate = rectangle("plate", metal(2.5e-7, 100.0), [-0.5, 0.5, -0.025, 0.0]);
    let mut section = turned(vec![plate], vec![]);
    section.symmetry = Symmetry::Planar;
    let go = [0.035, 0.05, 0.065, 0.08];
    let conductors = go.iter().flat_map(|&x| {
        [
            bar([x, x + 0.01, 0.02, 0.03], 1.0),
            bar([-x - 0.01, -x, 0.02, 0.03], -1.0),
        ]
    });
    section.windings = vec![winding(conductors.collect())];
    assert_close(
        "power",
        power_w(&section, &drive(&section, 10_000.0, 300.0)),
        3941.983416540246,
        POWER,
    );
}

/// Rings in open space: J. C. Maxwell, A Treatise on Electricity and Magnetism (1873) art. 701-706 (mutual inductance
/// by elliptic integrals; self-inductance with uniform current), evaluated to 12 digits.
#[test]
fn rings_in_open_space() {
    let coil = Section {
        bodies: vec![],
        ..turned(vec![], solenoid(8, 0.19295, 0.02, 0.006))
    };
    let inductance = |section: &Section, currents_a: Vec<Complex64>| {
        let mut drive = drive(section, 1000.0, 1.0);
        drive.currents_a = currents_a;
        solved(section, &drive).1.circuits
    };
    let own = inductance(&coil, vec![Complex64::ONE])[0]
        .inductance_h()
        .expect("it carries current");
    assert_close("inductance", own, 2.7654744649594343e-5, REACTANCE);

    let mut pair = coil;
    let ring = |v: f64| winding(vec![round(0.1939, v, 0.003, 1.0)]);
    pair.windings = vec![ring(0.0), ring(0.02)];
    let linked = inductance(&pair, vec![Complex64::ONE, Complex64::ZERO])[1]
        .linkage_wb
        .re;
    assert_close("mutual inductance", linked, 5.748133469249331e-7, REACTANCE);
}

/// Effective permeability by table, as a metal whose curve was measured brings it.
#[test]
fn a_table_of_equal_values_is_a_constant_permeability() {
    let slab = |law: Permeability| {
        let mut steel = metal(5e-7, 1.0);
        steel.permeability = law;
        let section = filled(
            Symmetry::Planar,
            vec![rectangle("slab", steel, [0.0, 0.01, 0.0, 0.01])],
        );
        power_w(&section, &edge_drive(8000.0, [0.0, 0.0], [0.0, 0.01], 5e3))
    };
    let table = Permeability::Saturating {
        effective: Table::constant(60.0),
        curie: None,
    };
    assert_close(
        "power",
        slab(table),
        slab(Permeability::Constant(60.0)),
        1e-12,
    );
}
