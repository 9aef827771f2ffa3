//! Short hands for sections and solutions.

use field::eddy::{Drive, EdgeField, Problem, Solution, Solves, State, Temperature, mesh_settings};
use field::section::{
    Body, Conductor, Metal, Outer, Permeability, Point, Section, Shape, Symmetry, Winding,
};
use field::table::Table;
use num_complex::Complex64;

/// A metal with constant laws; thermal ones are those of a plain steel and matter nowhere here.
pub fn metal(resistivity_ohm_m: f64, relative_permeability: f64) -> Metal {
    Metal {
        resistivity_ohm_m: Some(Table::constant(resistivity_ohm_m)),
        permeability: Permeability::Constant(relative_permeability),
        conductivity_w_mk: Table::constant(45.0),
        heat_content_j_m3: Table::new(&[(0.0, 0.0), (1000.0, 3.8e9)]).expect("ascending"),
    }
}

/// Air or another insulator.
pub fn insulator() -> Metal {
    Metal {
        resistivity_ohm_m: None,
        ..metal(1.0, 1.0)
    }
}

pub fn polygon(name: &str, metal: Metal, corners: &[Point]) -> Body {
    Body {
        name: name.into(),
        polygon: corners.to_vec(),
        metal,
    }
}

/// A rectangle from its sides u1, u2, v1, v2.
pub fn rectangle(name: &str, metal: Metal, [u1, u2, v1, v2]: [f64; 4]) -> Body {
    polygon(name, metal, &[[u1, v1], [u2, v1], [u2, v2], [u1, v2]])
}

pub fn round(u: f64, v: f64, radius_m: f64, turns: f64) -> Conductor {
    Conductor {
        shape: Shape::Circle {
            center_m: [u, v],
            radius_m,
        },
        turns,
    }
}

pub fn bar([u1, u2, v1, v2]: [f64; 4], turns: f64) -> Conductor {
    Conductor {
        shape: Shape::Rectangle {
            min_m: [u1, v1],
            max_m: [u2, v2],
        },
        turns,
    }
}

pub fn winding(conductors: Vec<Conductor>) -> Winding {
    Winding {
        name: "coil".into(),
        conductors,
    }
}

/// Bodies in open space, turned about the axis.
pub fn turned(bodies: Vec<Body>, conductors: Vec<Conductor>) -> Section {
    let windings = vec![winding(conductors)];
    Section {
        symmetry: Symmetry::Axisymmetric,
        outer: Outer::Far,
        bodies,
        windings,
    }
}

/// Bodies that fill the domain.
pub fn filled(symmetry: Symmetry, bodies: Vec<Body>) -> Section {
    Section {
        symmetry,
        outer: Outer::Natural,
        bodies,
        windings: vec![],
    }
}

/// Round turns at one radius, symmetric about v = 0.
pub fn solenoid(turns: usize, radius_m: f64, pitch_m: f64, wire_radius_m: f64) -> Vec<Conductor> {
    let first = -0.5 * pitch_m * (turns - 1) as f64;
    (0..turns)
        .map(|i| round(radius_m, first + pitch_m * i as f64, wire_radius_m, 1.0))
        .collect()
}

/// One current in every winding.
pub fn drive(section: &Section, frequency_hz: f64, current_a: f64) -> Drive {
    let currents_a = vec![Complex64::from(current_a); section.windings.len()];
    Drive {
        frequency_hz,
        currents_a,
        edges: vec![],
    }
}

/// A tangential field on a piece of boundary.
pub fn edge_drive(frequency_hz: f64, from_m: Point, to_m: Point, field_a_m: f64) -> Drive {
    let edges = vec![EdgeField {
        from_m,
        to_m,
        tangential_a_m: field_a_m.into(),
    }];
    Drive {
        frequency_hz,
        currents_a: vec![],
        edges,
    }
}

/// Meshes and solves at 20 degrees Celsius.
pub fn solved(section: &Section, drive: &Drive) -> (Problem, Solution) {
    let settings = mesh_settings(section, drive, [20.0, 20.0]);
    let problem = Problem::new(section, &settings).expect("a sensible section");
    let solution = problem
        .solve(
            &mut State::default(),
            drive,
            Temperature::Uniform(20.0),
            Solves::SETTLED,
        )
        .expect("a sensible drive");
    (problem, solution)
}

/// Total heat in all bodies at 20 degrees Celsius in W.
pub fn power_w(section: &Section, drive: &Drive) -> f64 {
    solved(section, drive).1.body_power_w.iter().sum()
}

/// Fails unless two numbers agree within a share of the second.
#[track_caller]
pub fn assert_close(what: &str, got: f64, want: f64, share: f64) {
    let off = (got - want).abs() / want.abs();
    assert!(
        off <= share,
        "{what}: {got:.6e} instead of {want:.6e}, off by {:.3} %",
        100.0 * off
    );
}
