//! One predicted cycle: the controller drives field and heat through the programme.

use std::ops::ControlFlow;

use field::coupled::{self, Run, Settings};
use field::heat::{self, StepSettings};

use crate::circuit::Impedance;
use crate::controller::{Controller, Pace, Readings, Wish};
use crate::error::CycleError;
use crate::outcome::{Snapshot, Stage};
use crate::practice::Practice;
use crate::prepare::{Prepared, duration_s, solver};
use crate::record::{Record, StepNote};
use crate::seek::{Guess, Sought, Tried, seek};
use crate::setup::Setup;
use crate::snapshot::snapshot;
use crate::stray_field::{lines, paths};
use crate::stray_with_work::WithWork;
use crate::watch::Look;

/// How finely field, heat and controller follow each other.
#[derive(Clone, Copy, Debug)]
pub struct Fineness {
    /// Field and heat.
    pub coupling: Settings,
    /// The controller's steps.
    pub pace: Pace,
}

impl Fineness {
    /// Within a kelvin of [`Fineness::fine`] in the soak band, at a third of its cost (controller.md, section 3).
    pub fn plan() -> Fineness {
        Fineness {
            coupling: Settings {
                field_change_k: 30.0,
                curie_change_k: 10.0,
                steps: StepSettings {
                    tolerance_k: 1.0,
                    first_step_s: 5.0,
                    ..StepSettings::default()
                },
                ..Settings::fine()
            },
            pace: Pace::default(),
        }
    }

    /// For checking what [`Fineness::plan`] costs.
    pub fn fine() -> Fineness {
        Fineness {
            coupling: Settings {
                field_change_k: 10.0,
                curie_change_k: 4.0,
                ..Settings::fine()
            },
            pace: Pace {
                change_k: 4.0,
                longest_s: 60.0,
                first_s: 2.5,
                growth: 1.5,
            },
        }
    }
}

/// How far a run has come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Part of the programme that is done, 0 to 1.
    pub part: f64,
    /// Stage of the cycle.
    pub stage: Stage,
    /// Time of the cycle in s.
    pub time_s: f64,
    /// Mean of the control thermocouples in °C.
    pub control_c: f64,
}

/// A cycle that was run.
pub struct Finished {
    /// What was recorded.
    pub record: Record,
    /// The section at the end of heating.
    pub snapshot: Snapshot,
    /// The field outside coil and work.
    pub stray: WithWork,
    /// The controller as it ended.
    pub controller: Controller,
    /// Effort and errors of field and heat.
    pub fields: Vec<coupled::FieldReport>,
    /// Effort of the solver.
    pub effort: coupled::Effort,
    /// Steps of heat that were tried, the controller's trials among them.
    pub tries: usize,
}

/// A run that takes longer than this is stopped, in s: no programme of this trade lasts four days.
const LONGEST_S: f64 = 4.0 * 86_400.0;

/// Pictures along the pipe over a cycle that nothing holds up: enough for a smooth walk through it.
const FRAMES: f64 = 120.0;

/// A trial that made less than this part of the step could not make it.
const WHOLE_STEP: f64 = 0.999;

/// A step is shortened so often, then the run is stopped.
const SHORTENINGS: usize = 40;

/// First guess of the controller's response before anything is known, in K/A2 a second.
const FIRST_SLOPE_K_A2_S: f64 = 1e-6;

/// The first current that is tried, as a part of the largest.
const FIRST_CURRENT: f64 = 0.2;

/// The bore's surroundings are foreseen to the middle of a step, by no more than this, in K.
const MOST_FORESEEN_K: f64 = 20.0;

/// What whoever is told of the progress answers, as a result.
///
/// # Errors
/// [`CycleError::Stopped`].
pub fn go_on(told: ControlFlow<()>) -> Result<(), CycleError> {
    match told {
        ControlFlow::Continue(()) => Ok(()),
        ControlFlow::Break(()) => Err(CycleError::Stopped),
    }
}

/// Runs a cycle. `progress` is told after each step how far it has come, and may break off.
///
/// # Errors
/// What the solvers refuse.
pub fn run(
    prepared: &Prepared,
    setup: &Setup,
    practice: &Practice,
    fineness: &Fineness,
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Finished, CycleError> {
    let mut cycle = Cycle::new(prepared, setup, practice, fineness);
    let expected_s = duration_s(setup);
    while !cycle.controller.finished && cycle.run.time_s() < LONGEST_S {
        cycle.step()?;
        let told = progress(Progress {
            part: (cycle.run.time_s() / expected_s).min(1.0),
            stage: cycle.controller.stage,
            time_s: cycle.run.time_s(),
            control_c: prepared.watch.control_c(&cycle.look),
        });
        go_on(told)?;
    }
    cycle.capture("end of the cycle");
    Ok(Finished {
        fields: cycle.run.fields().to_vec(),
        effort: cycle.run.effort(),
        record: cycle.record,
        snapshot: cycle.snapshot.unwrap_or_default(),
        stray: cycle.stray,
        controller: cycle.controller,
        tries: cycle.tries,
    })
}

/// The lines of the setup's coil, along which the field outside is looked at.
fn stray(setup: &Setup) -> WithWork {
    let Some(coil) = &setup.coil else {
        return WithWork::default();
    };
    let cable_m = 1e-3 * setup.cable.outside_diameter_mm.value;
    let paths = paths(&setup.joint, coil, cable_m, &setup.leads);
    WithWork::new(&lines(&paths, coil.turns.len()))
}

/// A cycle while it runs.
struct Cycle<'a> {
    prepared: &'a Prepared,
    run: Run,
    controller: Controller,
    record: Record,
    nodal_c: Vec<f64>,
    before_c: Vec<f64>,
    last_step_s: f64,
    look: Look,
    readings: Readings,
    guess_a: f64,
    slope_k_a2_s: f64,
    reactance_ohm: f64,
    metal_ohm: f64,
    snapshot: Option<Snapshot>,
    stray: WithWork,
    set_point_c: f64,
    frame_s: f64,
    tries: usize,
}

impl<'a> Cycle<'a> {
    fn new(
        prepared: &'a Prepared,
        setup: &Setup,
        practice: &Practice,
        fineness: &Fineness,
    ) -> Cycle<'a> {
        let start = prepared.heat.uniform(setup.programme.start.c());
        let nodal_c = prepared.nodal_c(&start);
        let look = prepared.watch.look(&nodal_c);
        Cycle {
            run: Run::new(
                prepared.problem.clone(),
                prepared.heat.clone(),
                coupled::Setup {
                    frequency_hz: prepared.frequency_hz,
                    shares: vec![1.0.into()],
                    edges: Vec::new(),
                    elsewhere_c: setup.surroundings.ambient.c(),
                },
                fineness.coupling,
                start,
            ),
            controller: Controller::new(&setup.programme, practice, fineness.pace),
            record: Record::new(setup, &look),
            readings: prepared.watch.readings(&look),
            before_c: nodal_c.clone(),
            nodal_c,
            look,
            last_step_s: 1.0,
            guess_a: FIRST_CURRENT * prepared.limits.most_a(),
            slope_k_a2_s: FIRST_SLOPE_K_A2_S,
            reactance_ohm: 0.0,
            metal_ohm: 0.0,
            snapshot: None,
            stray: stray(setup),
            set_point_c: setup.programme.set_point.c(),
            frame_s: duration_s(setup) / FRAMES,
            tries: 0,
            prepared,
        }
    }

    /// Makes one step.
    fn step(&mut self) -> Result<(), CycleError> {
        for _ in 0..SHORTENINGS {
            let wish = self.controller.wish();
            self.foresee_bore(wish.step_s)?;
            if let Some((trial, sought)) = self.seek_current(wish)? {
                return self.keep(wish, trial, &sought);
            }
        }
        Err(CycleError::Solver {
            doing: "stepping field and heat".into(),
            detail: format!(
                "no step is short enough at {:.0} s of the cycle",
                self.run.time_s()
            ),
        })
    }

    /// The bore's surroundings in the middle of the step to come.
    fn foresee_bore(&mut self, step_s: f64) -> Result<(), CycleError> {
        let ahead = 0.5 * step_s / self.last_step_s;
        let foreseen_c: Vec<f64> = self
            .nodal_c
            .iter()
            .zip(&self.before_c)
            .map(|(now, before)| {
                now + (ahead * (now - before)).clamp(-MOST_FORESEEN_K, MOST_FORESEEN_K)
            })
            .collect();
        self.run
            .set_radiation_ambient_c(self.prepared.radiation_ambient_c(&foreseen_c))
            .map_err(solver("foreseeing the bore"))
    }

    /// Seeks the current of a step; `None` after a step that must be shorter.
    fn seek_current(&mut self, wish: Wish) -> Result<Option<(coupled::Trial, Sought)>, CycleError> {
        let (prepared, run) = (self.prepared, &mut self.run);
        let mut last: Option<coupled::Trial> = None;
        let mut possible_s = wish.step_s;
        let (mut reactance_ohm, mut metal_ohm) = (self.reactance_ohm, self.metal_ohm);
        let mut tries = 0;
        let mut attempt = |current_rms_a: f64| {
            tries += 1;
            let peak_a = std::f64::consts::SQRT_2 * current_rms_a;
            let trial = run
                .trial(wish.step_s, peak_a)
                .map_err(solver("stepping field and heat"))?;
            if trial.step.step_s < WHOLE_STEP * wish.step_s {
                possible_s = trial.step.step_s;
                return Ok(None);
            }
            if current_rms_a > 0.0 {
                metal_ohm = trial.power_w / (current_rms_a * current_rms_a);
                reactance_ohm = run.impedance_ohm(0, peak_a).map_or(reactance_ohm, |z| z.im);
            }
            let look = prepared
                .watch
                .look_at_control(&prepared.nodal_c(&trial.step.state));
            last = Some(trial);
            let impedance = Impedance {
                metal_ohm,
                coil_ohm: prepared.coil_ohm,
                leads_ohm: prepared.leads.resistance_ohm,
                coil_reactance_ohm: reactance_ohm,
                leads_reactance_ohm: prepared.leads.reactance_ohm,
            };
            Ok(Some(Tried {
                control_c: look,
                impedance,
                fields: run.effort().updates,
            }))
        };
        let guess = Guess {
            current_rms_a: self.guess_a,
            slope_k_a2: self.slope_k_a2_s * wish.step_s,
        };
        let allowed = |impedance: &Impedance| prepared.limits.allowed_rms_a(impedance);
        let sought = seek(wish.target_c, guess, &allowed, &mut attempt)?;
        self.tries += tries;
        (self.reactance_ohm, self.metal_ohm) = (reactance_ohm, metal_ohm);
        match (last, sought) {
            (Some(trial), Some(sought)) => Ok(Some((trial, sought))),
            _ => {
                self.controller.shorten(possible_s);
                Ok(None)
            }
        }
    }

    /// Keeps a step, and lets the controller and the record know.
    fn keep(
        &mut self,
        wish: Wish,
        trial: coupled::Trial,
        sought: &Sought,
    ) -> Result<(), CycleError> {
        let next_step_s = trial.step.next_step_s;
        let report = self.run.commit(trial);
        self.before_c = std::mem::take(&mut self.nodal_c);
        self.nodal_c = self.prepared.nodal_c(self.run.state());
        self.look = self.prepared.watch.look(&self.nodal_c);
        let before = self.readings;
        self.readings = self.prepared.watch.readings(&self.look);
        let stage = self.controller.stage;
        self.controller
            .advance(wish, before, self.readings, sought.limited_by.is_some());
        let note = StepNote {
            time_s: self.run.time_s(),
            stage,
            set_point_c: self.controller.set_point_c,
            behind_k: self.behind_k(wish),
            control_c: self.prepared.watch.control_c(&self.look),
            readings: self.readings,
            current_rms_a: sought.current_rms_a,
            impedance: sought.tried.impedance,
            frequency_hz: self.prepared.frequency_hz,
            limited_by: sought.limited_by,
            metal_j: report.energy.source_j,
            given_off_j: -report.energy.boundary_j,
            stored_j: report.energy.stored_j,
        };
        self.record.add(note, &self.look);
        self.look_outside(stage);
        self.film();
        self.capture_stages(stage);
        self.guess_a = sought.current_rms_a;
        self.slope_k_a2_s = sought.slope_k_a2 / wish.step_s;
        self.last_step_s = wish.step_s;
        self.controller.shorten(next_step_s);
        Ok(())
    }

    /// How far an unlimited programme would be ahead, in K; not beyond the set point.
    fn behind_k(&self, wish: Wish) -> f64 {
        let missed_k = (wish.target_c - self.readings.hottest_c).max(0.0);
        let left_k = (self.set_point_c - self.readings.hottest_c).max(0.0);
        (self.controller.waited_k + missed_k).min(left_k.max(missed_k))
    }

    /// Profiles where a stage ends, and the section where heating does.
    fn capture_stages(&mut self, was: Stage) {
        let now = self.controller.stage;
        let heated = now == Stage::Cooling || self.controller.set_point_c >= self.set_point_c - 0.5;
        if self.snapshot.is_none() && heated {
            self.capture("end of heating");
            let run = &self.run;
            self.snapshot = run
                .solution()
                .map(|solution| snapshot(self.prepared, solution, run.time_s(), &self.nodal_c));
        }
        if was != now {
            match (was, now) {
                (Stage::FreeHeating, _) => self.capture("rate threshold"),
                (_, Stage::Hold) => self.capture("start of the hold"),
                (Stage::Hold, _) => self.capture("end of the hold"),
                _ => {}
            }
        }
    }

    /// The field outside at the first step and wherever a stage ends: cold, at the threshold, hot, and after the hold.
    fn look_outside(&mut self, was: Stage) {
        if (was != self.controller.stage || !self.stray.is_solved())
            && let Some(solution) = self.run.solution()
        {
            self.stray.add(&self.prepared.problem, solution);
        }
    }

    /// A picture along the pipe, where the last one is old enough.
    fn film(&mut self) {
        let time_s = self.run.time_s();
        let last_s = self
            .record
            .frames
            .last()
            .map_or(f64::NEG_INFINITY, |frame| frame.time_s);
        if time_s - last_s >= self.frame_s {
            self.record
                .frames
                .push(self.prepared.watch.frame(time_s, &self.nodal_c));
        }
    }

    fn capture(&mut self, name: &str) {
        let state: &heat::State = self.run.state();
        let heat = &self.prepared.heat;
        let probe = |place: [f64; 2]| {
            heat.probe(place)
                .map_or(f64::NAN, |probe| probe.temperature_c(state))
        };
        let profile = self
            .prepared
            .watch
            .profile(name, self.run.time_s(), &self.nodal_c, &probe);
        self.record.profiles.push(profile);
    }
}
