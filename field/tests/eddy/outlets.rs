//! What can be asked of a solution agrees with itself.

use field::eddy::{Drive, Problem, Solves, State, Temperature, mesh_settings};
use field::permeability::effective_table;
use field::section::{Curie, Permeability, Section, Symmetry};
use num_complex::Complex64;

use crate::sections::*;

/// Eight turns round a pipe.
fn pipe() -> Section {
    let body = rectangle("pipe", metal(5e-7, 60.0), [0.14445, 0.16195, -0.4, 0.4]);
    turned(vec![body], solenoid(8, 0.19295, 0.02, 0.006))
}

/// The same pipe of iron that saturates (Froehlich's curve) and has a Curie point.
fn iron_pipe() -> Section {
    let mut section = pipe();
    let mu0 = field::permeability::VACUUM_PERMEABILITY_H_M;
    let curve = move |h: f64| mu0 * h + 1.9 * h / (1.9 / (999.0 * mu0) + h.abs());
    section.bodies[0].metal.permeability = Permeability::Saturating {
        effective: effective_table(curve),
        curie: Some(Curie {
            point_c: 750.0,
            exponent: 2.0,
            reference_c: 20.0,
        }),
    };
    section
}

#[test]
fn nodal_heat_adds_up_to_the_power_and_lies_in_the_metal() {
    let section = pipe();
    let (problem, solution) = solved(&section, &drive(&section, 8000.0, 300.0));
    let heat_w = solution.nodal_heat_w(&problem);
    assert_close(
        "sum of nodal heat",
        heat_w.iter().sum(),
        solution.body_power_w[0],
        1e-12,
    );
    for (place, heat_w) in problem.space().nodes.iter().zip(&heat_w) {
        let in_pipe = place[0] > 0.1444 && place[0] < 0.162;
        assert!(in_pipe || *heat_w == 0.0, "{heat_w} W at {place:?}");
    }
}

#[test]
fn flux_over_the_surface_adds_up_to_the_power() {
    let section = pipe();
    let (problem, solution) = solved(&section, &drive(&section, 8000.0, 300.0));
    let steps = 400;
    let flux = |k: usize| {
        let along_m = 0.8 * (k as f64 + 0.5) / steps as f64;
        solution
            .flux_w_m2(&problem, 0, 1, along_m)
            .expect("on the outside")
    };
    let area_m2 = 2.0 * std::f64::consts::PI * 0.16195 * 0.8 / steps as f64;
    let sum_w = (0..steps).map(flux).sum::<f64>() * area_m2;
    // Five lines a place and 2 mm between places; the ends are averaged over less.
    assert_close("flux times area", sum_w, solution.body_power_w[0], 5e-3);
}

#[test]
fn power_fed_is_heat_set_free_and_grows_with_the_square_of_current() {
    let section = pipe();
    let (_, one) = solved(&section, &drive(&section, 8000.0, 100.0));
    let (_, two) = solved(&section, &drive(&section, 8000.0, 200.0));
    assert!(one.imbalance() < 1e-9, "imbalance {}", one.imbalance());
    assert!(one.effort.residual < 1e-10);
    assert_close(
        "four times the power",
        two.body_power_w[0],
        4.0 * one.body_power_w[0],
        1e-9,
    );
}

#[test]
fn the_field_is_continuous_across_the_far_circle() {
    let section = pipe();
    let (problem, solution) = solved(&section, &drive(&section, 8000.0, 300.0));
    let circle = problem.mesh().far_circle.expect("open space");
    let size = |share: f64| {
        let place = [share * circle.radius_m * 0.6, share * circle.radius_m * 0.8];
        let [u, v] = solution
            .flux_density_t(&problem, place)
            .expect("everywhere in open space");
        (u.norm_sqr() + v.norm_sqr()).sqrt()
    };
    // One coarse element apart, and cubes of the distance; outer elements are half a radius long.
    let decay = (1.1_f64 / 0.9).powi(3);
    assert_close(
        "field inside over outside",
        size(0.9) / size(1.1),
        decay,
        0.15,
    );
}

/// On the axis of a ring B = mu0 I a^2 / (2 (a^2 + z^2)^(3/2)) (Biot & Savart 1820; any textbook).
#[test]
fn the_field_on_the_axis_of_a_ring() {
    let section = turned(vec![], vec![round(0.1, 0.0, 0.004, 1.0)]);
    let drive = drive(&section, 50.0, 1000.0);
    let mut settings = mesh_settings(&section, &drive, [20.0, 20.0]);
    settings.air_gradation = 0.25;
    let problem = Problem::new(&section, &settings).expect("a ring");
    let uniform = Temperature::Uniform(20.0);
    let solution = problem
        .solve(&mut State::default(), &drive, uniform, Solves::SETTLED)
        .expect("regular");
    let on_axis = |z: f64| {
        let squared: f64 = 0.01 + z * z;
        field::permeability::VACUUM_PERMEABILITY_H_M * 1000.0 * 0.01
            / (2.0 * squared * squared.sqrt())
    };
    // Derivatives of quadratic elements that grow towards the far circle; beyond it only the dipole is left.
    for (z, share) in [
        (0.0, 0.05),
        (0.05, 0.05),
        (0.2, 0.05),
        (0.5, 0.05),
        (2.0, 0.05),
    ] {
        let [_, along] = solution
            .flux_density_t(&problem, [0.0, z])
            .expect("everywhere in open space");
        assert_close(
            &format!("flux density at {z} m"),
            along.norm(),
            on_axis(z),
            share,
        );
    }
}

#[test]
fn windings_may_be_moved_and_added_up_on_one_factorization() {
    let mut section = pipe();
    let drive = drive(&section, 8000.0, 300.0);
    let (mut problem, _) = solved(&section, &drive);
    let moved = winding(solenoid(6, 0.188, 0.025, 0.006));
    problem
        .replace_windings(vec![moved.clone()])
        .expect("in the air");
    let solve = |problem: &Problem| {
        let uniform = Temperature::Uniform(20.0);
        problem
            .solve(&mut State::default(), &drive, uniform, Solves::Exactly(1))
            .expect("a sensible drive")
    };
    let on_old_mesh = solve(&problem);
    section.windings = vec![moved.clone()];
    let (_, fresh) = solved(&section, &drive);
    assert_close(
        "power",
        on_old_mesh.body_power_w[0],
        fresh.body_power_w[0],
        2e-3,
    );

    let frozen = problem
        .freeze(&State::default(), 8000.0, Temperature::Uniform(20.0))
        .expect("regular");
    let mut sum = vec![Complex64::ZERO; problem.space().nodes.len()];
    for &conductor in &moved.conductors {
        let source = problem
            .source(&winding(vec![conductor]))
            .expect("in the air");
        let one = frozen.potential(&problem, &source).expect("regular");
        sum.iter_mut()
            .zip(one)
            .for_each(|(sum, one)| *sum += 300.0 * one);
    }
    assert_close(
        "power of the sum",
        frozen.body_power_w(&problem, &sum)[0],
        on_old_mesh.body_power_w[0],
        1e-9,
    );
}

#[test]
fn two_windings_link_each_other_alike() {
    let mut section = pipe();
    section.windings = vec![
        winding(solenoid(3, 0.19295, 0.02, 0.006)),
        winding(vec![round(0.25, 0.1, 0.006, 1.0)]),
    ];
    let linked = |carrying: usize| {
        let mut currents_a = vec![Complex64::ZERO; 2];
        currents_a[carrying] = Complex64::ONE;
        let drive = Drive {
            frequency_hz: 8000.0,
            currents_a,
            edges: vec![],
        };
        solved(&section, &drive).1.circuits[1 - carrying].linkage_wb
    };
    // Each solve has a mesh of its own.
    assert!((linked(0) - linked(1)).norm() < 1e-6 * linked(0).norm());
}

#[test]
fn two_warm_solves_are_as_good_as_iterating() {
    let section = iron_pipe();
    let drive = drive(&section, 8000.0, 300.0);
    let settings = mesh_settings(&section, &drive, [20.0, 800.0]);
    let problem = Problem::new(&section, &settings).expect("a sensible section");
    let mut state = State::default();
    let power_w = |state: &mut State, temperature_c: f64, solves: Solves| {
        let uniform = Temperature::Uniform(temperature_c);
        problem
            .solve(state, &drive, uniform, solves)
            .expect("a sensible drive")
            .body_power_w[0]
    };
    power_w(&mut state, 400.0, Solves::SETTLED);
    let warm = power_w(&mut state.clone(), 420.0, Solves::Exactly(2));
    let settled = power_w(&mut state, 420.0, Solves::SETTLED);
    assert_close("power", warm, settled, 1e-3);
}

#[test]
fn above_the_curie_point_iron_is_air_that_conducts() {
    let mut section = iron_pipe();
    let drive = drive(&section, 8000.0, 300.0);
    let settings = mesh_settings(&section, &drive, [20.0, 800.0]);
    let power_w = |section: &Section| {
        let problem = Problem::new(section, &settings).expect("a sensible section");
        let nodal_c = vec![760.0; problem.space().nodes.len()];
        let nodal = Temperature::Nodal(&nodal_c);
        problem
            .solve(&mut State::default(), &drive, nodal, Solves::SETTLED)
            .expect("a sensible drive")
            .body_power_w[0]
    };
    let hot = power_w(&section);
    section.bodies[0].metal.permeability = Permeability::Constant(1.0);
    assert_close("power", hot, power_w(&section), 1e-9);
}

#[test]
fn a_mesh_half_as_coarse_changes_little() {
    let section = pipe();
    let drive = drive(&section, 8000.0, 300.0);
    let mut settings = mesh_settings(&section, &drive, [20.0, 20.0]);
    let watts = |settings: &field::mesh::MeshSettings| {
        let problem = Problem::new(&section, settings).expect("a sensible section");
        let uniform = Temperature::Uniform(20.0);
        problem
            .solve(&mut State::default(), &drive, uniform, Solves::SETTLED)
            .expect("regular")
            .body_power_w[0]
    };
    let usual = watts(&settings);
    settings.bodies[0].first_layer_m = settings.bodies[0].first_layer_m.map(|first| 0.5 * first);
    settings.bodies[0].largest_size_m *= 0.5;
    settings.growth = 1.25;
    settings.surface_spacing *= 0.5;
    settings.air_size *= 0.5;
    assert_close("power", usual, watts(&settings), 1e-3);
}

/// A body touching another along part of an edge sees the same field as one body of the same outline.
#[test]
fn cutting_a_body_in_two_changes_nothing() {
    let steel = metal(5e-7, 60.0);
    let turns = solenoid(4, 0.19, 0.03, 0.006);
    let whole = polygon(
        "whole",
        steel.clone(),
        &[
            [0.14, -0.3],
            [0.16, -0.3],
            [0.16, 0.0],
            [0.165, 0.0],
            [0.165, 0.3],
            [0.14, 0.3],
        ],
    );
    let lower = rectangle("lower", steel.clone(), [0.14, 0.16, -0.3, 0.0]);
    let upper = rectangle("upper", steel, [0.14, 0.165, 0.0, 0.3]);
    let (one, two) = (
        turned(vec![whole], turns.clone()),
        turned(vec![lower, upper], turns),
    );
    let drive = drive(&one, 8000.0, 300.0);
    assert_close("power", power_w(&two, &drive), power_w(&one, &drive), 2e-3);
}

#[test]
fn planar_results_are_for_a_meter_of_depth() {
    // A pipe of large radius is nearly straight: 2 pi r meters of it.
    let radius_m = 20.0;
    let strip = rectangle(
        "strip",
        metal(5e-7, 60.0),
        [radius_m - 0.01, radius_m, 0.0, 0.01],
    );
    let turned = filled(Symmetry::Axisymmetric, vec![strip.clone()]);
    let straight = filled(Symmetry::Planar, vec![strip]);
    let drive = edge_drive(8000.0, [radius_m, 0.0], [radius_m, 0.01], 1e4);
    let per_meter = power_w(&turned, &drive) / (2.0 * std::f64::consts::PI * radius_m);
    assert_close(
        "power per meter",
        per_meter,
        power_w(&straight, &drive),
        1e-3,
    );
}
