//! Field and heat together: the currents heat the bodies, and the field follows their temperatures.

use std::sync::Arc;

use field::FieldError;
use field::coupled::{Demand, Held, Run, Settings, Setup, rest};
use field::eddy::{self, Drive, EdgeField, Solution, Solves, Temperature, mesh_settings};
use field::heat::{self, Conditions, Model, NoSource};
use field::mesh;

use super::answer::{Effort, Solved};
use super::boundaries::{acts_on_heat, boundaries};
use super::heat_alone::{Prepared, asked_times, value, watch};
use super::problem::{Asked, Heat, SectionProblem};
use super::scene::Scene;
use super::{SectionError, field_alone, laws};

/// The highest temperature in °C for which layers of the mesh are chosen where no table says how far a run may go.
const HOTTEST_C: f64 = 1200.0;

/// Everything that a run needs.
struct Whole {
    field: Arc<eddy::Problem>,
    heat: Prepared,
    drive: Drive,
    /// The current that all others are shares of.
    current_a: f64,
}

/// Solves a problem of field and heat.
pub(super) fn solve(
    problem: &SectionProblem,
    frequency_hz: f64,
    stated: Heat,
    progress: &mut dyn FnMut(f64),
) -> Result<Solved, SectionError> {
    let refused = |source| SectionError::Field {
        file: problem.file.clone(),
        source,
    };
    let whole = prepare(problem, frequency_hz, stated).map_err(refused)?;
    match stated.end_s {
        Some(end_s) => in_time(problem, &whole, stated, end_s, progress),
        None => at_rest(problem, &whole, stated),
    }
}

fn prepare(problem: &SectionProblem, frequency_hz: f64, stated: Heat) -> Result<Whole, FieldError> {
    let section = laws::section(problem);
    let drive = field_alone::drive(problem, frequency_hz);
    let mut settings = mesh_settings(&section, &drive, range_c(problem, stated));
    let acting = problem.edges.iter().filter(|edge| acts_on_heat(edge));
    settings
        .breaks
        .extend(acting.flat_map(|edge| [edge.from_m, edge.to_m]));
    let field = eddy::Problem::on_mesh(&section, mesh::build(&section, &settings)?)?;
    let (mesh, space) = (field.mesh().clone(), field.space().clone());
    let found = boundaries(problem, &section, &mesh)?;
    let model = Arc::new(Model::new(&section, &mesh, &space, found.all)?);
    let heat = Prepared {
        mesh,
        space,
        model,
        of_edge: found.of_edge,
    };
    let mut currents = problem.coils.iter().map(|coil| coil.current_a_peak);
    // Without a coil with a current the edges alone drive the field, and one ampere stands for them.
    let current_a = currents
        .find(|current| *current != 0.0)
        .map_or(1.0, f64::abs);
    Ok(Whole {
        field: Arc::new(field),
        heat,
        drive,
        current_a,
    })
}

/// From the temperature at the start to the end of the tables of resistivity.
fn range_c(problem: &SectionProblem, stated: Heat) -> [f64; 2] {
    let tables = problem
        .materials
        .iter()
        .filter_map(|material| material.resistivity_ohm_m.as_ref());
    let ends = tables.filter_map(|law| law.range_c());
    let hottest_c = ends.map(|(_, last_c)| last_c).reduce(f64::max);
    [
        stated.initial_c,
        hottest_c.unwrap_or(HOTTEST_C).max(stated.initial_c),
    ]
}

fn setup(whole: &Whole, stated: Heat) -> Setup {
    let per_ampere = 1.0 / whole.current_a;
    Setup {
        frequency_hz: whole.drive.frequency_hz,
        shares: whole
            .drive
            .currents_a
            .iter()
            .map(|current| current * per_ampere)
            .collect(),
        edges: whole
            .drive
            .edges
            .iter()
            .map(|edge| EdgeField {
                tangential_a_m: edge.tangential_a_m * per_ampere,
                ..*edge
            })
            .collect(),
        elsewhere_c: stated.initial_c,
    }
}

fn settings() -> Settings {
    Settings::fine()
}

fn in_time(
    problem: &SectionProblem,
    whole: &Whole,
    stated: Heat,
    end_s: f64,
    progress: &mut dyn FnMut(f64),
) -> Result<Solved, SectionError> {
    let refused = |source| SectionError::Field {
        file: problem.file.clone(),
        source,
    };
    let watch = watch(problem, &whole.heat, true);
    let model = &whole.heat.model;
    let start = model.uniform(stated.initial_c);
    let mut run = Run::new(
        Arc::clone(&whole.field),
        Arc::clone(model),
        setup(whole, stated),
        settings(),
        start,
    );
    let mut values = vec![f64::NAN; problem.rows.len()];
    let mut extra_solves = 0;
    for time_s in asked_times(problem, end_s) {
        let mut left = Ok(());
        let each = |run: &Run, _: &field::coupled::StepReport| {
            progress(run.time_s() / end_s);
            if left.is_ok() {
                left = watch.check(run.state(), &format!("at {:.4} s", run.time_s()));
            }
        };
        run.walk(time_s, Demand::Current(whole.current_a), each)
            .map_err(refused)?;
        left?;
        let rows =
            (0..values.len()).filter(|&row| problem.rows[row].time_s.unwrap_or(end_s) == time_s);
        extra_solves += answer(problem, whole, run.state(), rows, &mut values).map_err(refused)?;
    }
    let (spent, fields) = (run.effort(), run.fields());
    let worst =
        |of: fn(&field::coupled::FieldReport) -> f64| fields.iter().map(of).reduce(f64::max);
    let effort = Effort {
        field_unknowns: Some(whole.field.unknowns()),
        heat_unknowns: Some(model.unknowns()),
        field_solves: spent.field_solves + extra_solves,
        heat_steps: spent.heat.steps,
        power_balance: worst(|report| report.imbalance),
        largest_residual: worst(|report| report.residual),
    };
    let scene = scene(whole, run.state(), run.solution());
    Ok(Solved::new(problem, &values, effort, scene))
}

fn at_rest(problem: &SectionProblem, whole: &Whole, stated: Heat) -> Result<Solved, SectionError> {
    let refused = |source| SectionError::Field {
        file: problem.file.clone(),
        source,
    };
    let model = &whole.heat.model;
    let found = rest(
        (&whole.field, model),
        &setup(whole, stated),
        &settings(),
        &model.radiation_ambient_c(),
        &model.uniform(stated.initial_c),
        Held::Current(whole.current_a),
    )
    .map_err(refused)?;
    watch(problem, &whole.heat, true).check(&found.state, "in the steady state")?;
    let mut values = vec![f64::NAN; problem.rows.len()];
    let extra_solves =
        answer(problem, whole, &found.state, 0..values.len(), &mut values).map_err(refused)?;
    let effort = Effort {
        field_unknowns: Some(whole.field.unknowns()),
        heat_unknowns: Some(model.unknowns()),
        field_solves: found.updates + extra_solves,
        heat_steps: 0,
        power_balance: Some(found.solution.imbalance()),
        largest_residual: Some(found.solution.effort.residual),
    };
    let scene = scene(whole, &found.state, Some(&found.solution));
    Ok(Solved::new(problem, &values, effort, scene))
}

fn scene(whole: &Whole, state: &heat::State, solution: Option<&Solution>) -> Scene {
    let scene = Scene::new(&whole.heat.mesh, &whole.heat.space).with_heat(&whole.heat.model, state);
    match solution {
        Some(solution) => scene.with_field(&whole.field, solution),
        None => scene,
    }
}

/// Answers rows at a state; a field is solved for it where one is asked about. Returns how many solves that took.
fn answer(
    problem: &SectionProblem,
    whole: &Whole,
    state: &heat::State,
    rows: impl Iterator<Item = usize>,
    values: &mut [f64],
) -> Result<usize, FieldError> {
    let ambient = whole.heat.model.radiation_ambient_c();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &ambient,
    };
    let mut solution: Option<Solution> = None;
    for row in rows {
        let asked = problem.rows[row].asked;
        values[row] = match asked {
            Asked::Temperature { .. } | Asked::HeatFlow { .. } => {
                value(problem, &whole.heat, row, state, &conditions)?
            }
            _ => {
                if solution.is_none() {
                    solution = Some(field_at(whole, state)?);
                }
                let solution = solution.as_ref().expect("it was solved just now");
                field_alone::value(problem, &whole.field, solution, asked)?
            }
        };
    }
    Ok(solution.map_or(0, |solution| solution.effort.solves))
}

/// The field at the temperatures of a state.
fn field_at(whole: &Whole, state: &heat::State) -> Result<Solution, FieldError> {
    let model = &whole.heat.model;
    let mut nodal_c = vec![0.0; whole.heat.space.nodes.len()];
    for (&node, &temperature_c) in model.nodes().iter().zip(&state.temperature_c) {
        nodal_c[node as usize] = temperature_c;
    }
    let mut from = eddy::State::default();
    whole.field.solve(
        &mut from,
        &whole.drive,
        Temperature::Nodal(&nodal_c),
        Solves::SETTLED,
    )
}
