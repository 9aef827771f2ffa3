//! The bench on which candidates are tried, and a candidate at the state of rest.

use std::sync::Arc;

use field::coupled::{self, Held, rest};
use field::eddy::Solution;

use crate::coil::place;
use crate::error::CycleError;
use crate::layout::Layout;
use crate::outcome::Spot;
use crate::practice::Practice;
use crate::prepare::{Prepared, solver};
use crate::proposal::TrialRow;
use crate::run::Fineness;
use crate::setup::Setup;
use crate::watch::is_control;

/// The bore's surroundings have followed when power and coldest place move no further than this.
const SETTLED_POWER: f64 = 0.02;
const SETTLED_K: f64 = 0.5;
const BORE_ROUNDS: usize = 4;

/// How fast a first guess of the temperatures falls beyond the heated band, in m.
const GUESS_FALL_M: f64 = 0.2;

/// The first current that is tried, as a part of the largest.
const FIRST_CURRENT: f64 = 0.3;

/// A candidate at the state of rest.
#[derive(Clone, Debug)]
pub struct Rested {
    /// The layout.
    pub layout: Layout,
    /// Coldest place of the soak band.
    pub coldest: Spot,
    /// Hottest place of the soak band.
    pub hottest: Spot,
    /// Hottest place beyond it.
    pub beyond: Spot,
    /// Mean of outside and bore at the two edges of the soak band, in °C.
    pub edges_c: [f64; 2],
    /// Power into the metal in W.
    pub power_w: f64,
    /// Current in A rms.
    pub current_rms_a: f64,
}

/// The bench on which candidates are tried.
pub struct Bench<'a> {
    /// What is planned.
    pub setup: &'a Setup,
    /// The numbers of the trade.
    pub practice: &'a Practice,
    /// The equations, on a mesh that allows for every candidate.
    pub prepared: Prepared,
    /// The last state of rest.
    state: field::heat::State,
    /// Its field.
    solution: Option<Solution>,
    /// Its peak current in A.
    guess_a: f64,
    /// Everything that was tried.
    pub trials: Vec<TrialRow>,
}

impl<'a> Bench<'a> {
    /// A bench with nothing tried yet.
    pub fn new(setup: &'a Setup, practice: &'a Practice, prepared: Prepared) -> Bench<'a> {
        Bench {
            state: guess(setup, &prepared),
            solution: None,
            guess_a: FIRST_CURRENT * prepared.limits.most_a() * std::f64::consts::SQRT_2,
            setup,
            practice,
            prepared,
            trials: Vec::new(),
        }
    }

    /// The state of rest at the hold with a layout (or the given coil), with the bore's surroundings in step.
    ///
    /// # Errors
    /// A coil that does not fit, and what the solvers refuse.
    pub fn rest(&mut self, layout: &Layout, frequency_hz: f64) -> Result<Rested, CycleError> {
        self.wind(layout)?;
        let mut last = self.rest_once(layout, frequency_hz)?;
        for _ in 0..BORE_ROUNDS {
            let next = self.rest_once(layout, frequency_hz)?;
            let settled = (next.coldest.temperature_c - last.coldest.temperature_c).abs()
                < SETTLED_K
                && (next.power_w / last.power_w - 1.0).abs() < SETTLED_POWER;
            last = next;
            if settled {
                break;
            }
        }
        Ok(last)
    }

    /// Temperatures of all nodes and the field of the last state of rest.
    pub fn last(&self) -> Option<(Vec<f64>, &Solution)> {
        Some((self.prepared.nodal_c(&self.state), self.solution.as_ref()?))
    }

    /// Puts a layout (or the given coil) into the equations.
    fn wind(&mut self, layout: &Layout) -> Result<(), CycleError> {
        let coil = self.setup.coil.clone().unwrap_or_else(|| layout.coil());
        let placed = place(&coil, &self.setup.cable, &self.prepared.joint)?;
        let problem =
            Arc::get_mut(&mut self.prepared.problem).expect("the bench alone holds the equations");
        problem
            .replace_windings(vec![placed.winding()])
            .map_err(solver("trying a layout"))?;
        self.prepared.coil = placed;
        Ok(())
    }

    fn rest_once(&mut self, layout: &Layout, frequency_hz: f64) -> Result<Rested, CycleError> {
        let doing = "trying a layout";
        let ambient_c = self
            .prepared
            .radiation_ambient_c(&self.prepared.nodal_c(&self.state));
        let place_m = self.control_place_m();
        let probe = self.prepared.heat.probe(place_m).map_err(solver(doing))?;
        let found = rest(
            (&self.prepared.problem, &self.prepared.heat),
            &coupled::Setup {
                frequency_hz,
                shares: vec![1.0.into()],
                edges: Vec::new(),
                elsewhere_c: self.setup.surroundings.ambient.c(),
            },
            &Fineness::plan().coupling,
            &ambient_c,
            &self.state,
            Held::Temperature {
                probe,
                temperature_c: self.setup.programme.set_point.c(),
                guess_a: self.guess_a,
            },
        )
        .map_err(solver(doing))?;
        let nodal_c = self.prepared.nodal_c(&found.state);
        let look = self.prepared.watch.look(&nodal_c);
        let half_m = 0.5 * self.setup.soak_band.m();
        let watch = &self.prepared.watch;
        let edge_c = |z: f64| 0.5 * (watch.outside.at(z, &nodal_c) + watch.bore.at(z, &nodal_c));
        self.state = found.state;
        self.solution = Some(found.solution);
        self.guess_a = found.current_a;
        Ok(Rested {
            layout: *layout,
            coldest: look.soak_coldest,
            hottest: look.soak_hottest,
            beyond: look.beyond_hottest,
            edges_c: [edge_c(-half_m), edge_c(half_m)],
            power_w: found.power_w,
            current_rms_a: found.current_a / std::f64::consts::SQRT_2,
        })
    }

    /// On the outside, at the first control thermocouple, a hair inside the metal.
    fn control_place_m(&self) -> [f64; 2] {
        let control = self.setup.thermocouples.iter().find(|t| is_control(t));
        let z = control.map_or(0.0, |t| t.axial.m());
        [self.prepared.joint.outside_radius_m(z) - 1e-7, z]
    }
}

/// A first guess: the set point in the heated band, falling to ambient beyond.
fn guess(setup: &Setup, prepared: &Prepared) -> field::heat::State {
    let (set_point_c, ambient_c) = (
        setup.programme.set_point.c(),
        setup.surroundings.ambient.c(),
    );
    let mut state = prepared.heat.uniform(0.5 * (set_point_c + ambient_c));
    let nodes = &prepared.problem.space().nodes;
    for (temperature_c, &node) in state.temperature_c.iter_mut().zip(prepared.heat.nodes()) {
        let beyond_m = (nodes[node as usize][1].abs() - 0.5 * setup.heated_band.m()).max(0.0);
        *temperature_c =
            ambient_c + (set_point_c - ambient_c) * libm::exp(-beyond_m / GUESS_FALL_M);
    }
    state
}
