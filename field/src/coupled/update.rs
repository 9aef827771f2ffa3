//! A new field at the temperatures of the moment, and the predictor that follows from it.

use num_complex::Complex64;

use super::depth::DepthLaw;
use super::predictor::{Point, Predictor};
use crate::FieldError;
use crate::eddy::{Drive, EdgeField, Problem, Solution, Solves, State, Temperature};
use crate::heat::Model;
use crate::mesh::Region;

/// A field problem and a heat model on the same mesh, and how the windings share the current.
#[derive(Clone, Debug)]
pub struct Setup {
    /// Frequency in hertz.
    pub frequency_hz: f64,
    /// Peak current of each winding for one ampere of the run's current: 1 in each where they are in series.
    pub shares: Vec<Complex64>,
    /// Fields given on the boundary of natural surroundings, for one ampere of the run's current; most runs have none.
    pub edges: Vec<EdgeField>,
    /// Temperature of conducting bodies that take no part in heat, in degrees Celsius.
    pub elsewhere_c: f64,
}

/// What a solve of the field found and what was foreseen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FieldReport {
    /// When, in seconds.
    pub time_s: f64,
    /// Peak current in A.
    pub current_a: f64,
    /// Heat in W that the predictor foresaw, none at the first field.
    pub foreseen_w: Option<f64>,
    /// Heat in W that the field gave.
    pub power_w: f64,
    /// Residual of the linear equations.
    pub residual: f64,
    /// Power fed in against heat set free, as a share.
    pub imbalance: f64,
    /// Solves that it took.
    pub solves: usize,
}

/// A first field, or one at another frequency, is iterated until its power changes by less than this share: warm
/// solves start from there.
const COLD: Solves = Solves::Until {
    change: 5e-4,
    most: 20,
};

/// A drift is carried on for this multiple of the time over which it was learned.
const HORIZON: f64 = 2.0;

/// Nodes with less than this share of the largest nodal heat do not matter.
const NEGLIGIBLE: f64 = 1e-9;

/// A solved field with its predictor.
pub struct Field {
    pub solution: Solution,
    pub predictor: Predictor,
    pub frequency_hz: f64,
}

/// Where and when a field is wanted.
pub struct Moment<'a> {
    pub time_s: f64,
    pub temperature_c: &'a [f64],
    pub current_a: f64,
}

/// Solves the field of a moment. `before` is the field that the state of the field comes from.
pub fn solve_field(
    (problem, model): (&Problem, &Model),
    setup: &Setup,
    state: &mut State,
    moment: &Moment<'_>,
    before: Option<&Field>,
    warm_solves: usize,
) -> Result<Field, FieldError> {
    let mut nodal_c = vec![setup.elsewhere_c; problem.space().nodes.len()];
    for (&node, &t) in model.nodes().iter().zip(moment.temperature_c) {
        nodal_c[node as usize] = t;
    }
    let warm = before.filter(|field| field.frequency_hz == setup.frequency_hz);
    if let Some(field) = warm {
        state.scale(moment.current_a / field.predictor.current_a);
    }
    let drive = Drive {
        frequency_hz: setup.frequency_hz,
        currents_a: setup
            .shares
            .iter()
            .map(|share| share * moment.current_a)
            .collect(),
        edges: setup
            .edges
            .iter()
            .map(|edge| EdgeField {
                tangential_a_m: edge.tangential_a_m * moment.current_a,
                ..*edge
            })
            .collect(),
    };
    let solves = if warm.is_some() {
        Solves::Exactly(warm_solves)
    } else {
        COLD
    };
    let solution = problem.solve(state, &drive, Temperature::Nodal(&nodal_c), solves)?;
    let predictor = predictor(problem, model, &solution, moment);
    Ok(Field {
        solution,
        predictor,
        frequency_hz: setup.frequency_hz,
    })
}

/// What the field says of each node; without a drift.
fn predictor(
    problem: &Problem,
    model: &Model,
    solution: &Solution,
    moment: &Moment<'_>,
) -> Predictor {
    let laws: Vec<Option<DepthLaw>> = problem
        .section()
        .bodies
        .iter()
        .map(|body| DepthLaw::new(&body.metal))
        .collect();
    let bodies = bodies_of_nodes(problem, &laws);
    let (heat_w, field_a_m) = (
        solution.nodal_heat_w(problem),
        solution.nodal_field_a_m(problem),
    );
    let largest_w = heat_w
        .iter()
        .fold(0.0, |largest: f64, heat| largest.max(heat.abs()));
    let carries = |node: &u32| heat_w[*node as usize].abs() > NEGLIGIBLE * largest_w;
    let point = |(unknown, &node): (usize, &u32)| {
        let (node, temperature_c) = (node as usize, moment.temperature_c[unknown]);
        let body = bodies[node]?;
        let law = laws[body as usize].as_ref()?;
        let (root, _) = law.root_and_slope(law.effective(field_a_m[node]), temperature_c);
        Some(Point {
            unknown: unknown as u32,
            body,
            heat_w: heat_w[node],
            drift_w_s: 0.0,
            field_a_m: field_a_m[node],
            temperature_c,
            root,
        })
    };
    let points = model
        .nodes()
        .iter()
        .enumerate()
        .filter(|(_, node)| carries(node))
        .filter_map(point)
        .collect();
    Predictor {
        time_s: moment.time_s,
        current_a: moment.current_a,
        horizon_s: 0.0,
        points,
        laws,
    }
}

/// A body that conducts, for each of its nodes.
fn bodies_of_nodes(problem: &Problem, laws: &[Option<DepthLaw>]) -> Vec<Option<u16>> {
    let mut bodies = vec![None; problem.space().nodes.len()];
    for (nodes, region) in problem.space().elements.iter().zip(&problem.mesh().regions) {
        match *region {
            Region::Body(body) if laws[body as usize].is_some() => {
                nodes
                    .iter()
                    .for_each(|&node| bodies[node as usize] = Some(body));
            }
            _ => {}
        }
    }
    bodies
}

impl Field {
    /// Learns from the field before how heat drifts beside the law of sqrt(rho mu).
    pub fn learn_drift(&mut self, before: &Predictor, temperature_c: &[f64]) {
        let passed_s = self.predictor.time_s - before.time_s;
        if passed_s <= 0.0 {
            return self.predictor.take_drift(before);
        }
        let mut foreseen_w = vec![0.0; temperature_c.len()];
        before.undrifted_w(temperature_c, self.predictor.current_a, &mut foreseen_w);
        self.predictor.horizon_s = HORIZON * passed_s;
        for point in &mut self.predictor.points {
            point.drift_w_s = (point.heat_w - foreseen_w[point.unknown as usize]) / passed_s;
        }
    }

    /// Total heat in W.
    pub fn power_w(&self) -> f64 {
        self.solution.body_power_w.iter().sum()
    }
}
