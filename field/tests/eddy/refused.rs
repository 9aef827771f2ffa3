//! Wrong questions are refused with the numbers, never answered.

use field::FieldError;
use field::eddy::{Drive, Problem, Solves, State, Temperature, mesh_settings};
use field::section::{Section, Symmetry};
use num_complex::Complex64;

use crate::sections::*;

fn refusal(section: &Section, drive: &Drive, temperature: Temperature) -> FieldError {
    let problem = Problem::new(section, &mesh_settings(section, drive, [20.0, 20.0]))
        .expect("a sensible section");
    match problem.solve(&mut State::default(), drive, temperature, Solves::SETTLED) {
        Ok(_) => panic!("it was solved"),
        Err(error) => error,
    }
}

const COLD: Temperature = Temperature::Uniform(20.0);

fn pipe() -> Section {
    turned(
        vec![rectangle(
            "pipe",
            metal(5e-7, 60.0),
            [0.14, 0.16, -0.3, 0.3],
        )],
        solenoid(4, 0.19, 0.03, 0.006),
    )
}

#[test]
fn frequencies_that_are_none() {
    for frequency_hz in [0.0, -50.0, f64::NAN, f64::INFINITY] {
        let mut asked = drive(&pipe(), 50.0, 1.0);
        let problem =
            Problem::new(&pipe(), &mesh_settings(&pipe(), &asked, [20.0, 20.0])).expect("a pipe");
        asked.frequency_hz = frequency_hz;
        let answer = problem.solve(&mut State::default(), &asked, COLD, Solves::SETTLED);
        assert!(
            matches!(answer, Err(FieldError::OutOfRange { .. })),
            "{frequency_hz} Hz"
        );
    }
}

#[test]
fn lists_of_the_wrong_length() {
    let mut asked = drive(&pipe(), 50.0, 1.0);
    asked.currents_a.push(Complex64::ONE);
    assert!(matches!(
        refusal(&pipe(), &asked, COLD),
        FieldError::WrongCount {
            got: 2,
            need: 1,
            ..
        }
    ));
    let asked = drive(&pipe(), 50.0, 1.0);
    let few = Temperature::Nodal(&[20.0]);
    assert!(matches!(
        refusal(&pipe(), &asked, few),
        FieldError::WrongCount { got: 1, .. }
    ));
}

#[test]
fn edges_that_are_not_there() {
    let slab = filled(
        Symmetry::Planar,
        vec![rectangle("slab", metal(5e-7, 60.0), [0.0, 0.01, 0.0, 0.01])],
    );
    let inside = edge_drive(50.0, [0.0, 0.0], [0.01, 0.01], 1.0);
    assert!(matches!(
        refusal(&slab, &inside, COLD),
        FieldError::NoSuchEdge { .. }
    ));
    let too_long = edge_drive(50.0, [0.0, 0.0], [0.0, 0.02], 1.0);
    assert!(matches!(
        refusal(&slab, &too_long, COLD),
        FieldError::NoSuchEdge { .. }
    ));
    let mut in_the_open = drive(&pipe(), 50.0, 1.0);
    in_the_open.edges = edge_drive(50.0, [0.16, -0.3], [0.16, 0.3], 1.0).edges;
    assert!(matches!(
        refusal(&pipe(), &in_the_open, COLD),
        FieldError::NoSuchEdge { .. }
    ));
}

#[test]
fn a_field_on_part_of_an_edge_is_not_refused() {
    let slab = filled(
        Symmetry::Planar,
        vec![rectangle("slab", metal(5e-7, 60.0), [0.0, 0.01, 0.0, 0.01])],
    );
    let part = edge_drive(8000.0, [0.0, 0.002], [0.0, 0.005], 1e4);
    assert!(power_w(&slab, &part) > 0.0);
}

#[test]
fn planar_currents_that_do_not_return() {
    let mut section = pipe();
    section.symmetry = Symmetry::Planar;
    let asked = drive(&section, 50.0, 1.0);
    let error = refusal(&section, &asked, COLD);
    assert!(
        matches!(error, FieldError::CurrentsDoNotReturn { net_a } if (net_a - 4.0).abs() < 1e-9),
        "{error}"
    );
}

#[test]
fn windings_moved_into_metal_or_out_of_the_mesh() {
    let asked = drive(&pipe(), 50.0, 1.0);
    let mut problem =
        Problem::new(&pipe(), &mesh_settings(&pipe(), &asked, [20.0, 20.0])).expect("a pipe");
    let mut place =
        |u: f64, v: f64| problem.replace_windings(vec![winding(vec![round(u, v, 0.005, 1.0)])]);
    assert!(matches!(
        place(0.15, 0.0),
        Err(FieldError::ConductorInBody { conductor: 1, .. })
    ));
    assert!(matches!(
        place(50.0, 0.0),
        Err(FieldError::ConductorOutside { conductor: 1, .. })
    ));
    assert!(place(0.2, 0.0).is_ok());
}

#[test]
fn flux_beyond_an_edge() {
    let section = pipe();
    let (problem, solution) = solved(&section, &drive(&section, 8000.0, 1.0));
    assert!(solution.flux_w_m2(&problem, 0, 1, 0.7).is_err());
    assert!(solution.flux_w_m2(&problem, 1, 1, 0.1).is_err());
    assert!(solution.flux_w_m2(&problem, 0, 4, 0.1).is_err());
}

#[test]
fn a_section_without_metal_and_without_open_space_has_no_field() {
    let bore = filled(
        Symmetry::Planar,
        vec![rectangle("air", insulator(), [0.0, 0.01, 0.0, 0.01])],
    );
    let asked = edge_drive(50.0, [0.0, 0.0], [0.0, 0.01], 1.0);
    let error = refusal(&bore, &asked, COLD);
    let named = matches!(
        error,
        FieldError::Singular { .. } | FieldError::ResidualTooLarge { .. }
    );
    assert!(named, "{error}");
}
