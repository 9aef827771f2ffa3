//! A field at one temperature, without heat.

use field::FieldError;
use field::eddy::{Drive, EdgeField, Problem, Solution, Solves, State, Temperature, mesh_settings};
use num_complex::Complex64;

use super::SectionError;
use super::answer::{Effort, Solved};
use super::laws;
use super::problem::{Asked, RectangleSide, SectionProblem};
use super::range::check_uniform;
use super::scene::Scene;

/// Solves a problem of the field alone.
pub(super) fn solve(problem: &SectionProblem, frequency_hz: f64) -> Result<Solved, SectionError> {
    let refused = |source| SectionError::Field {
        file: problem.file.clone(),
        source,
    };
    check_uniform(problem, problem.temperature_c)?;
    let (field, drive) = prepare(problem, frequency_hz).map_err(refused)?;
    let temperature = Temperature::Uniform(problem.temperature_c);
    let solution = field
        .solve(&mut State::default(), &drive, temperature, Solves::SETTLED)
        .map_err(refused)?;
    let values = problem
        .rows
        .iter()
        .map(|row| value(problem, &field, &solution, row.asked))
        .collect::<Result<Vec<f64>, _>>()
        .map_err(refused)?;
    let effort = Effort {
        field_unknowns: Some(field.unknowns()),
        field_solves: solution.effort.solves,
        power_balance: Some(solution.imbalance()),
        largest_residual: Some(solution.effort.residual),
        ..Effort::default()
    };
    let scene = Scene::new(field.mesh(), field.space()).with_field(&field, &solution);
    Ok(Solved::new(problem, &values, effort, scene))
}

fn prepare(problem: &SectionProblem, frequency_hz: f64) -> Result<(Problem, Drive), FieldError> {
    let section = laws::section(problem);
    let drive = drive(problem, frequency_hz);
    let settings = mesh_settings(&section, &drive, [problem.temperature_c; 2]);
    Ok((Problem::new(&section, &settings)?, drive))
}

/// The currents of the coils and the fields of the edges.
pub(super) fn drive(problem: &SectionProblem, frequency_hz: f64) -> Drive {
    let edges = problem.edges.iter().filter_map(|edge| {
        Some(EdgeField {
            from_m: edge.from_m,
            to_m: edge.to_m,
            tangential_a_m: Complex64::from(edge.tangential_field_a_m_peak?),
        })
    });
    let currents = problem
        .coils
        .iter()
        .map(|coil| Complex64::from(coil.current_a_peak));
    Drive {
        frequency_hz,
        currents_a: currents.collect(),
        edges: edges.collect(),
    }
}

/// A value of a field.
///
/// # Errors
/// Those of the solver, where a place lies outside.
pub(super) fn value(
    problem: &SectionProblem,
    field: &Problem,
    solution: &Solution,
    asked: Asked,
) -> Result<f64, FieldError> {
    // A coil without current has no impedance; the reader refuses to ask for it.
    let impedance_ohm = |coil: usize| {
        let impedance = solution.circuits[coil].impedance_ohm();
        impedance.unwrap_or(Complex64::new(f64::NAN, f64::NAN))
    };
    match asked {
        Asked::Power { body } => Ok(solution.body_power_w[body]),
        Asked::Resistance { coil } => Ok(impedance_ohm(coil).re),
        Asked::Reactance { coil } => Ok(impedance_ohm(coil).im),
        Asked::Inductance { coil } => {
            Ok(solution.circuits[coil].inductance_h().unwrap_or(f64::NAN))
        }
        Asked::Flux { body, side, at_m } => {
            let sides = problem.bodies[body].rectangle_m.unwrap_or_default();
            let (edge, along_m) = edge_and_place(sides, side, at_m);
            solution.flux_w_m2(field, body, edge, along_m)
        }
        Asked::Temperature { .. } | Asked::HeatFlow { .. } => Ok(f64::NAN),
    }
}

/// The edge of a rectangle's polygon that is a side, and how far along it a coordinate lies.
fn edge_and_place([u1, u2, v1, v2]: [f64; 4], side: RectangleSide, at_m: f64) -> (usize, f64) {
    match side {
        RectangleSide::V1 => (0, at_m - u1),
        RectangleSide::U2 => (1, at_m - v1),
        RectangleSide::V2 => (2, u2 - at_m),
        RectangleSide::U1 => (3, v2 - at_m),
    }
}
