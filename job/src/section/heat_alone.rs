//! Heat without a field: at rest, or in time.

use std::sync::Arc;

use field::FieldError;
use field::heat::{
    Conditions, Model, NoSource, Probe, State, Step, StepSettings, Transient, steady,
};
use field::mesh::{self, BodySettings, Mesh, MeshSettings};
use field::space::Space;

use super::SectionError;
use super::answer::{Effort, Solved};
use super::boundaries::{Boundaries, acts_on_heat, boundaries};
use super::laws;
use super::problem::{Asked, Heat, Material, SectionBody, SectionProblem};
use super::range::Watch;
use super::scene::Scene;

/// Triangles of a body, about: quadratic elements of that size follow the benchmarks five times closer than they ask.
const TRIANGLES: f64 = 200.0;

/// The first layer below a surface over the depth that heat reaches by the first asked time.
const FIRST_LAYER_OVER_REACH: f64 = 0.1;

/// Error of a step in time, in kelvin: a fifth of what the strictest benchmark allows.
const STEP_TOLERANCE_K: f64 = 0.02;

/// A problem of heat made ready.
pub(super) struct Prepared {
    pub mesh: Mesh,
    pub space: Space,
    pub model: Arc<Model>,
    pub of_edge: Vec<Vec<usize>>,
}

/// Solves a problem of heat alone.
pub(super) fn solve(
    problem: &SectionProblem,
    heat: Heat,
    progress: &mut dyn FnMut(f64),
) -> Result<Solved, SectionError> {
    let refused = |source| SectionError::Field {
        file: problem.file.clone(),
        source,
    };
    let prepared = prepare(problem, heat).map_err(refused)?;
    match heat.end_s {
        Some(end_s) => in_time(problem, &prepared, heat, end_s, progress),
        None => at_rest(problem, &prepared, heat),
    }
}

fn at_rest(
    problem: &SectionProblem,
    prepared: &Prepared,
    heat: Heat,
) -> Result<Solved, SectionError> {
    let refused = |source| SectionError::Field {
        file: problem.file.clone(),
        source,
    };
    let model = &prepared.model;
    let ambient = model.radiation_ambient_c();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &ambient,
    };
    let rest = steady(model, &model.uniform(heat.initial_c), &conditions).map_err(refused)?;
    watch(problem, prepared, false).check(&rest.state, "in the steady state")?;
    let values = (0..problem.rows.len())
        .map(|row| value(problem, prepared, row, &rest.state, &conditions))
        .collect::<Result<Vec<f64>, _>>()
        .map_err(refused)?;
    let effort = Effort {
        heat_unknowns: Some(model.unknowns()),
        ..Effort::default()
    };
    let scene = Scene::new(&prepared.mesh, &prepared.space).with_heat(model, &rest.state);
    Ok(Solved::new(problem, &values, effort, scene))
}

fn in_time(
    problem: &SectionProblem,
    prepared: &Prepared,
    heat: Heat,
    end_s: f64,
    progress: &mut dyn FnMut(f64),
) -> Result<Solved, SectionError> {
    let refused = |source| SectionError::Field {
        file: problem.file.clone(),
        source,
    };
    let model = &prepared.model;
    let ambient = model.radiation_ambient_c();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &ambient,
    };
    let watch = watch(problem, prepared, false);
    let steps = StepSettings {
        tolerance_k: STEP_TOLERANCE_K,
        ..StepSettings::default()
    };
    let mut walk = Transient::new(steps);
    let mut values = vec![f64::NAN; problem.rows.len()];
    let mut state = model.uniform(heat.initial_c);
    for time_s in asked_times(problem, end_s) {
        let mut left = Ok(());
        let each = |step: &Step| {
            progress(step.state.time_s / end_s);
            if left.is_ok() {
                left = watch.check(&step.state, &format!("at {:.4} s", step.state.time_s));
            }
        };
        state = walk
            .walk(model, &state, time_s, &conditions, each)
            .map_err(refused)?;
        left?;
        for (row, found) in values.iter_mut().enumerate() {
            if problem.rows[row].time_s == Some(time_s) {
                *found = value(problem, prepared, row, &state, &conditions).map_err(refused)?;
            }
        }
    }
    let effort = Effort {
        heat_unknowns: Some(model.unknowns()),
        heat_steps: walk.effort().steps,
        ..Effort::default()
    };
    let scene = Scene::new(&prepared.mesh, &prepared.space).with_heat(model, &state);
    Ok(Solved::new(problem, &values, effort, scene))
}

/// The times of the rows, each once, ascending; a problem without any is run to its end.
pub(super) fn asked_times(problem: &SectionProblem, end_s: f64) -> Vec<f64> {
    let mut times: Vec<f64> = problem.rows.iter().filter_map(|row| row.time_s).collect();
    times.push(end_s);
    times.sort_by(f64::total_cmp);
    times.dedup();
    times
}

/// A value of heat at a state.
pub(super) fn value(
    problem: &SectionProblem,
    prepared: &Prepared,
    row: usize,
    state: &State,
    conditions: &Conditions<'_>,
) -> Result<f64, FieldError> {
    match problem.rows[row].asked {
        Asked::Temperature { point_m } => prepared
            .model
            .probe(point_m)
            .map(|probe: Probe| probe.temperature_c(state)),
        Asked::HeatFlow { edge } => {
            let own = prepared.of_edge[edge].iter();
            Ok(own
                .map(|&boundary| prepared.model.heat_flow_w(boundary, state, conditions))
                .sum())
        }
        _ => Ok(f64::NAN),
    }
}

/// Every table that the run may leave.
pub(super) fn watch<'a>(
    problem: &'a SectionProblem,
    prepared: &Prepared,
    with_field: bool,
) -> Watch<'a> {
    let Prepared {
        mesh,
        space,
        model,
        of_edge,
    } = prepared;
    let mut watch = Watch::new(problem, (mesh, space), model, with_field);
    for (edge, own) in problem.edges.iter().zip(of_edge) {
        let Some(blanket) = &edge.blanket else {
            continue;
        };
        for &boundary in own {
            let outside = model
                .exchanges()
                .iter()
                .filter(|exchange| exchange.boundary as usize == boundary);
            let pieces = model.boundaries()[boundary].pieces.iter();
            let metal = pieces
                .flat_map(|&piece| mesh.outlines[piece as usize].points)
                .filter_map(|node| model.unknown_of_node(node));
            let unknowns = outside
                .map(|exchange| exchange.unknown)
                .chain(metal)
                .collect();
            watch.add_blanket(&blanket.conductivity_w_mk, unknowns);
        }
    }
    watch
}

fn prepare(problem: &SectionProblem, heat: Heat) -> Result<Prepared, FieldError> {
    let section = laws::section(problem);
    let mesh = mesh::build(&section, &mesh_settings(problem, heat))?;
    let space = Space::new(&mesh);
    let Boundaries { all, of_edge } = boundaries(problem, &section, &mesh)?;
    let model = Arc::new(Model::new(&section, &mesh, &space, all)?);
    Ok(Prepared {
        mesh,
        space,
        model,
        of_edge,
    })
}

fn mesh_settings(problem: &SectionProblem, heat: Heat) -> MeshSettings {
    let acting = problem.edges.iter().filter(|edge| acts_on_heat(edge));
    let asked_s = problem.rows.iter().filter_map(|row| row.time_s);
    let first_s = asked_s.filter(|time_s| *time_s > 0.0).reduce(f64::min);
    let body = |body: &SectionBody| {
        let (area_m2, length_m) = area_and_length(&body.polygon);
        let largest_size_m = (2.0 * area_m2 / TRIANGLES).sqrt().min(area_m2 / length_m);
        let reach_m = heat.end_s.and(first_s).map_or(f64::INFINITY, |first_s| {
            reach_m(&problem.materials[body.material], heat.initial_c, first_s)
        });
        let first_layer_m = (FIRST_LAYER_OVER_REACH * reach_m).min(largest_size_m);
        BodySettings {
            first_layer_m: Some(first_layer_m),
            largest_size_m,
        }
    };
    MeshSettings {
        bodies: problem.bodies.iter().map(body).collect(),
        entries: acting
            .clone()
            .map(|edge| [edge.from_m, edge.to_m])
            .collect(),
        breaks: acting.flat_map(|edge| [edge.from_m, edge.to_m]).collect(),
        ..MeshSettings::for_heat(0, 0.0, 0.0)
    }
}

/// How deep heat reaches in a time: the root of diffusivity and time.
fn reach_m(material: &Material, temperature_c: f64, time_s: f64) -> f64 {
    let at = |law: &Option<super::Law>| law.as_ref().map(|law| laws::table(law).at(temperature_c));
    let conductivity = at(&material.conductivity_w_mk);
    let specific_heat = at(&material.specific_heat_j_kgk);
    match (conductivity, specific_heat, material.density_kg_m3) {
        (Some(k), Some(c), Some(density)) => (k / (c * density) * time_s).sqrt(),
        _ => f64::INFINITY,
    }
}

fn area_and_length(polygon: &[[f64; 2]]) -> (f64, f64) {
    let next = polygon.iter().cycle().skip(1);
    polygon
        .iter()
        .zip(next)
        .fold((0.0, 0.0), |(area, length), (a, b)| {
            let cross = 0.5 * (a[0] * b[1] - a[1] * b[0]);
            (area + cross, length + libm::hypot(b[0] - a[0], b[1] - a[1]))
        })
}
