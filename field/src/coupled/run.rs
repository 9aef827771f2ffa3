//! Walking in time.

use std::sync::Arc;

use num_complex::Complex64;

use super::predictor::Predictor;
use super::settings::Settings;
use super::update::{Field, FieldReport, Moment, Setup, solve_field};
use crate::FieldError;
use crate::eddy::{self, Problem, Solution};
use crate::heat::{self, Conditions, Model, NoSource, Probe, Source, Step, Transient};

/// Field and heat at a moment, and everything that takes them further.
pub struct Run {
    problem: Arc<Problem>,
    model: Arc<Model>,
    settings: Settings,
    setup: Setup,
    radiation_ambient_c: Vec<f64>,
    state: heat::State,
    field_state: eddy::State,
    field: Option<Field>,
    /// Whether the current has been off, or the frequency another, since the last field.
    interrupted: bool,
    /// How fast temperatures move, as a share of what asks for a new field, in 1/s.
    moving_per_s: f64,
    transient: Transient,
    fields: Vec<FieldReport>,
}

/// What the windings are fed with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Demand {
    /// A peak current in A; zero lets the work cool.
    Current(f64),
    /// Heat in the work in W at the beginning of each step.
    Power(f64),
}

/// A step that was tried: kept by [`Run::commit`], forgotten otherwise.
#[derive(Clone, Debug)]
pub struct Trial {
    /// The step of heat.
    pub step: Step,
    /// Peak current in A.
    pub current_a: f64,
    /// Heat of the currents at its end in W.
    pub power_w: f64,
    moved: f64,
}

/// What a step did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepReport {
    /// Its end in seconds.
    pub time_s: f64,
    /// Its length in seconds.
    pub step_s: f64,
    /// Peak current in A.
    pub current_a: f64,
    /// Heat of the currents in W, the mean over the step.
    pub power_w: f64,
    /// Estimated error of the worst temperature in kelvin.
    pub error_k: f64,
    /// The balance of heat.
    pub energy: heat::Energy,
}

/// What a run cost so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Fields solved anew.
    pub updates: usize,
    /// Factorizations of the field.
    pub field_solves: usize,
    /// Steps, iterations and factorizations of heat.
    pub heat: heat::Effort,
}

/// Temperatures may move this much further than what asks for a new field before a step is cut short.
const OVERSHOOT: f64 = 1.25;

/// A step is made to move temperatures this share of what asks for a new field.
const AIM: f64 = 1.1;

/// A search for a current may go this much further in ln I^2 from one state without a new field for each try: it
/// would go back and forth between two fields.
const PATIENCE: f64 = 4.0;

/// No step is cut below this for the field's sake, in seconds: at most heating rates of induction (100 K/s) a
/// temperature moves a kelvin meanwhile.
const SHORTEST_S: f64 = 0.01;

impl Run {
    /// Begins a run. The model must have been made on the problem's mesh.
    pub fn new(
        problem: Arc<Problem>,
        model: Arc<Model>,
        setup: Setup,
        settings: Settings,
        initial: heat::State,
    ) -> Run {
        Run {
            radiation_ambient_c: model.radiation_ambient_c(),
            transient: Transient::new(settings.steps),
            problem,
            model,
            settings,
            setup,
            state: initial,
            field_state: eddy::State::default(),
            field: None,
            interrupted: false,
            moving_per_s: 0.0,
            fields: Vec::new(),
        }
    }

    /// Tries a step of at most `limit_s` at a peak current in A.
    ///
    /// # Errors
    /// Those of the solvers.
    pub fn trial(&mut self, limit_s: f64, current_a: f64) -> Result<Trial, FieldError> {
        self.refresh(current_a)?;
        let mut limit_s = self.trusted_s(limit_s, current_a);
        loop {
            let trial = self.try_step(limit_s, current_a)?;
            if trial.moved <= OVERSHOOT || trial.step.step_s <= SHORTEST_S {
                return Ok(trial);
            }
            limit_s = (trial.step.step_s * (AIM / trial.moved).clamp(0.2, 0.8)).max(SHORTEST_S);
        }
    }

    /// Keeps a trial from the present state.
    pub fn commit(&mut self, trial: Trial) -> StepReport {
        let before = self.moved();
        self.transient.keep(&trial.step);
        self.moving_per_s = (trial.moved - before).max(0.0) / trial.step.step_s;
        self.interrupted |= trial.current_a == 0.0;
        let Step {
            state,
            step_s,
            error_k,
            energy,
            ..
        } = trial.step;
        self.state = state;
        StepReport {
            time_s: self.state.time_s,
            step_s,
            current_a: trial.current_a,
            power_w: energy.source_j / step_s,
            error_k,
            energy,
        }
    }

    /// Tries a step and keeps it.
    ///
    /// # Errors
    /// Those of the solvers.
    pub fn advance(&mut self, limit_s: f64, demand: Demand) -> Result<StepReport, FieldError> {
        let current_a = match demand {
            Demand::Current(current_a) => current_a,
            Demand::Power(power_w) => self.current_for(power_w)?,
        };
        let trial = self.trial(limit_s, current_a)?;
        Ok(self.commit(trial))
    }

    /// Walks to a time; `each` sees every step.
    ///
    /// # Errors
    /// Those of the solvers.
    pub fn walk(
        &mut self,
        until_s: f64,
        demand: Demand,
        mut each: impl FnMut(&Run, &StepReport),
    ) -> Result<(), FieldError> {
        let knots_s = self.model.knots_s();
        while self.state.time_s < until_s {
            let next = knots_s.partition_point(|&knot_s| knot_s <= self.state.time_s);
            let stop_s = knots_s
                .get(next)
                .map_or(until_s, |&knot_s| knot_s.min(until_s));
            let limit_s = stop_s - self.state.time_s;
            let report = self.advance(limit_s, demand)?;
            if report.step_s == limit_s {
                self.state.time_s = stop_s;
            }
            each(self, &report);
        }
        Ok(())
    }

    /// The current at which the work takes up a given heat now.
    ///
    /// # Errors
    /// Those of the solvers.
    pub fn current_for(&mut self, power_w: f64) -> Result<f64, FieldError> {
        if power_w <= 0.0 {
            return Ok(0.0);
        }
        let mut current_a = self
            .field
            .as_ref()
            .map_or(FIRST_CURRENT_A, |field| field.predictor.current_a);
        for _ in 0..POWER_ITERATIONS {
            self.refresh(current_a)?;
            let ratio = power_w / self.power_w(current_a);
            current_a *= ratio.sqrt();
            if (ratio - 1.0).abs() < POWER_SHARE {
                break;
            }
        }
        Ok(current_a)
    }

    /// Solves the field anew where temperatures, current or frequency ask for it.
    fn refresh(&mut self, current_a: f64) -> Result<(), FieldError> {
        if current_a == 0.0 || !self.is_stale(current_a) {
            return Ok(());
        }
        self.solve(current_a)
    }

    fn is_stale(&self, current_a: f64) -> bool {
        let Some(field) = &self.field else {
            return true;
        };
        let log_change = 2.0 * libm::log(current_a / field.predictor.current_a).abs();
        let just_solved = field.predictor.time_s == self.state.time_s;
        let patience = if just_solved { PATIENCE } else { 1.0 };
        field.frequency_hz != self.setup.frequency_hz
            || log_change > patience * self.settings.log_power_change
            || self.moved() >= 1.0
    }

    fn solve(&mut self, current_a: f64) -> Result<(), FieldError> {
        let before = self.field.take();
        let moment = Moment {
            time_s: self.state.time_s,
            temperature_c: &self.state.temperature_c,
            current_a,
        };
        let mut field = solve_field(
            (&self.problem, &self.model),
            &self.setup,
            &mut self.field_state,
            &moment,
            before.as_ref(),
            self.settings.warm_solves,
        )?;
        let comparable = before.filter(|before| before.frequency_hz == self.setup.frequency_hz);
        let foreseen_w = comparable.as_ref().map(|before| {
            before
                .predictor
                .power_w(moment.time_s, moment.temperature_c, current_a)
        });
        if let Some(before) = comparable.filter(|_| !self.interrupted) {
            field.learn_drift(&before.predictor, moment.temperature_c);
        }
        self.fields.push(FieldReport {
            time_s: moment.time_s,
            current_a,
            foreseen_w,
            power_w: field.power_w(),
            residual: field.solution.effort.residual,
            imbalance: field.solution.imbalance(),
            solves: field.solution.effort.solves,
        });
        self.interrupted = false;
        self.field = Some(field);
        Ok(())
    }

    fn try_step(&mut self, limit_s: f64, current_a: f64) -> Result<Trial, FieldError> {
        let foreseen = self
            .field
            .as_ref()
            .filter(|_| current_a != 0.0)
            .map(|field| field.predictor.foresee(current_a));
        let source: &dyn Source = foreseen.as_ref().map_or(&NoSource, |foreseen| foreseen);
        let conditions = Conditions {
            source,
            radiation_ambient_c: &self.radiation_ambient_c,
        };
        let step = self
            .transient
            .try_step(&self.model, &self.state, limit_s, &conditions)?;
        let t = &step.state.temperature_c;
        let live = self.field.as_ref().filter(|_| current_a != 0.0);
        let moved = live.map_or(0.0, |field| field.predictor.moved(t, &self.settings));
        let power_w = live.map_or(0.0, |field| {
            field.predictor.power_w(step.state.time_s, t, current_a)
        });
        Ok(Trial {
            step,
            current_a,
            power_w,
            moved,
        })
    }

    /// How far a step may go before temperatures will have moved too far, at the pace of the last step.
    fn trusted_s(&self, limit_s: f64, current_a: f64) -> f64 {
        if current_a == 0.0 || self.moving_per_s <= 0.0 {
            return limit_s;
        }
        let left_s = (AIM - self.moved()).max(0.1) / self.moving_per_s;
        if left_s < limit_s {
            left_s.max(SHORTEST_S)
        } else {
            limit_s
        }
    }

    fn moved(&self) -> f64 {
        self.field.as_ref().map_or(0.0, |field| {
            field
                .predictor
                .moved(&self.state.temperature_c, &self.settings)
        })
    }

    /// Changes the frequency in hertz: the next step solves a new field.
    pub fn set_frequency_hz(&mut self, frequency_hz: f64) {
        self.setup.frequency_hz = frequency_hz;
    }

    /// Changes the ambient temperatures of radiation, in degrees Celsius, in the order of [`Model::exchanges`].
    ///
    /// # Errors
    /// [`FieldError::WrongCount`] unless there is one for each.
    pub fn set_radiation_ambient_c(&mut self, ambient_c: Vec<f64>) -> Result<(), FieldError> {
        let (got, need) = (ambient_c.len(), self.radiation_ambient_c.len());
        if got != need {
            return Err(FieldError::WrongCount {
                what: "ambient temperatures of radiation".into(),
                got,
                need,
            });
        }
        self.radiation_ambient_c = ambient_c;
        Ok(())
    }

    /// Time in seconds.
    pub fn time_s(&self) -> f64 {
        self.state.time_s
    }

    /// Temperatures of the model's unknowns.
    pub fn state(&self) -> &heat::State {
        &self.state
    }

    /// The temperature at a point in degrees Celsius.
    pub fn temperature_c(&self, probe: &Probe) -> f64 {
        probe.temperature_c(&self.state)
    }

    /// The heat model.
    pub fn model(&self) -> &Model {
        &self.model
    }

    /// The field problem.
    pub fn problem(&self) -> &Problem {
        &self.problem
    }

    /// The last field that was solved.
    pub fn solution(&self) -> Option<&Solution> {
        self.field.as_ref().map(|field| &field.solution)
    }

    /// Heat of the currents in W that a peak current gives at the present state, from the last field.
    pub fn power_w(&self, current_a: f64) -> f64 {
        let of = |predictor: &Predictor| {
            predictor.power_w(self.state.time_s, &self.state.temperature_c, current_a)
        };
        self.field
            .as_ref()
            .filter(|_| current_a != 0.0)
            .map_or(0.0, |field| of(&field.predictor))
    }

    /// Impedance of a winding in ohms at the present state and a peak current: its resistance follows the heat that is
    /// foreseen, its reactance is that of the last field. None before the first field.
    pub fn impedance_ohm(&self, winding: usize, current_a: f64) -> Option<Complex64> {
        let field = self.field.as_ref()?;
        let solved = field.solution.circuits.get(winding)?.impedance_ohm()?;
        if current_a == 0.0 {
            return Some(solved);
        }
        let square = (current_a / field.predictor.current_a).powi(2);
        let follows = self.power_w(current_a) / (field.power_w() * square);
        Some(Complex64::new(solved.re * follows, solved.im))
    }

    /// Every field that was solved, with what had been foreseen: the error of the coupling.
    pub fn fields(&self) -> &[FieldReport] {
        &self.fields
    }

    /// What it cost so far.
    pub fn effort(&self) -> Effort {
        Effort {
            updates: self.fields.len(),
            field_solves: self.fields.iter().map(|field| field.solves).sum(),
            heat: self.transient.effort(),
        }
    }
}

/// Where the search for a current begins before any field is known.
const FIRST_CURRENT_A: f64 = 100.0;

/// A demanded heat is met within this share: finer than any source of power is controlled.
const POWER_SHARE: f64 = 1e-4;
const POWER_ITERATIONS: usize = 30;
