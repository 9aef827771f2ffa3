//! Proposing a coil: turns and frequency by what the source can do, then their places by the state of rest at the hold.

use std::sync::Arc;

use field::coupled::{self, Held, rest};
use field::eddy::State;
use field::section::Shape;
use quantity::Millimeters;

use crate::circuit::{LeadsImpedance, leads_impedance};
use crate::coil::place;
use crate::demand::{Answer, Demand, answer, demands};
use crate::error::CycleError;
use crate::joint::JointSection;
use crate::layout::Layout;
use crate::outcome::Spot;
use crate::practice::Practice;
use crate::prepare::{Grain, Prepared, joint_of, prepare, solver};
use crate::proposal::{Proposal, TrialRow};
use crate::run::{Fineness, Progress};
use crate::setup::{Coil, Setup};
use crate::watch::is_control;

/// Frequencies that are looked at within the source's range.
const FREQUENCIES: usize = 4;

/// Reserves above this are as good as each other, in percent: the pitch then decides.
const AMPLE_RESERVE_PERCENT: f64 = 30.0;

/// A reserve of one percent is given up for this part of the habitual pitch.
const PITCH_WEIGHT: f64 = 20.0;

/// Steps of the search for the places: offset as a part of the pitch, opening, span.
const OFFSET_STEP: f64 = 0.5;
const OPENING_STEP: f64 = 0.12;
const MOST_OPENING: f64 = 0.3;
const SPAN_STEP: f64 = 1.2;

/// Temperatures at the two edges of the soak band count as equal within this, in K.
const EVEN_K: f64 = 1.0;

/// Rounds of the search for the places.
const ROUNDS: usize = 4;

/// Places are given to half a millimeter: two neighbors may come closer by that.
const TAPE_MM: f64 = 1.0;

/// Places at which the mesh allows for turns lie this part of the pitch apart.
const PLACE_STEP: f64 = 0.5;

/// The bore's surroundings have followed when power and coldest place move no further than this.
const SETTLED_POWER: f64 = 0.02;
const SETTLED_K: f64 = 0.5;
const BORE_ROUNDS: usize = 4;

/// How fast a first guess of the temperatures falls beyond the heated band, in m.
const GUESS_FALL_M: f64 = 0.2;

/// A candidate at the state of rest.
#[derive(Clone, Debug)]
struct Rested {
    layout: Layout,
    coldest: Spot,
    hottest: Spot,
    /// Mean of outside and bore at the two edges of the soak band, in °C.
    edges_c: [f64; 2],
    power_w: f64,
    current_rms_a: f64,
}

/// The bench on which candidates are tried.
struct Bench<'a> {
    setup: &'a Setup,
    practice: &'a Practice,
    prepared: Prepared,
    state: field::heat::State,
    guess_a: f64,
    trials: Vec<TrialRow>,
}

/// Proposes a coil and a frequency; a setup that has a coil keeps it and only gets a frequency.
///
/// # Errors
/// A joint or source outside the range of the model, and what the solvers refuse.
pub fn propose(
    setup: &Setup,
    practice: &Practice,
    progress: &mut dyn FnMut(Progress),
) -> Result<Proposal, CycleError> {
    let joint = joint_of(setup, practice)?;
    let frequencies_hz = frequencies_hz(setup);
    let first = first_layout(setup, practice, &joint);
    let coil = setup.coil.clone().unwrap_or_else(|| first.coil());
    let places = if setup.coil.is_some() {
        Vec::new()
    } else {
        places(setup, practice, &joint, &first)?
    };
    let top_hz = frequencies_hz.iter().copied().fold(0.0, f64::max);
    let prepared = prepare(setup, &coil, top_hz, places, &Grain::PROPOSAL, practice)?;
    let mut bench = Bench {
        state: guess(setup, &prepared),
        guess_a: 0.3 * prepared.limits.most_a() * std::f64::consts::SQRT_2,
        setup,
        practice,
        prepared,
        trials: Vec::new(),
    };
    tell(progress, 0.0);
    let middle_hz = frequencies_hz[frequencies_hz.len() / 2];
    let reference = bench.rest(&first, middle_hz)?;
    tell(progress, 0.3);
    let (turns, frequency_hz, reserve) =
        bench.turns_and_frequency(&reference, &frequencies_hz, &joint)?;
    tell(progress, 0.6);
    if setup.coil.is_some() {
        let reason = format!(
            "The coil is given. At {:.1} kHz the source keeps {reserve:.0} % in reserve at the state that asks most.",
            frequency_hz * 1e-3
        );
        return Ok(Proposal {
            coil,
            frequency_hz,
            trials: bench.trials,
            reason,
        });
    }
    let chosen = Layout { turns, ..first };
    let best = bench.places(chosen, frequency_hz, &joint)?;
    tell(progress, 1.0);
    let reason = bench.reason(&best, frequency_hz, reserve);
    Ok(Proposal {
        coil: best.layout.coil(),
        frequency_hz,
        trials: bench.trials,
        reason,
    })
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

fn tell(progress: &mut dyn FnMut(Progress), part: f64) {
    progress(Progress {
        part,
        stage: crate::outcome::Stage::FreeHeating,
        time_s: 0.0,
        control_c: 0.0,
    });
}

/// Frequencies of the source's range on a logarithmic scale, or the one that is given.
fn frequencies_hz(setup: &Setup) -> Vec<f64> {
    if let Some(given_hz) = setup.source.working_frequency_hz {
        return vec![given_hz];
    }
    let [low, high] = setup.source.frequency_range_hz;
    if high / low < 1.05 {
        return vec![(low * high).sqrt()];
    }
    // Not at the ends: there sources are hardest to tune. A tenth of a kilohertz is as finely as one is set.
    let step = |k: usize| low * libm::pow(high / low, (k as f64 + 0.5) / FREQUENCIES as f64);
    (0..FREQUENCIES)
        .map(step)
        .map(|hz| (100.0 * libm::round(hz / 100.0)).clamp(low, high))
        .collect()
}

/// The habit of the trade: the coil spans the heated band, one turn every 40 mm or so, on the blanket.
fn first_layout(setup: &Setup, practice: &Practice, joint: &JointSection) -> Layout {
    let cable_m = setup.cable.outside_diameter_mm.value * 1e-3;
    let room_m = setup
        .blanket
        .reach
        .iter()
        .zip(joint.lengths_m)
        .map(|(reach, length)| reach.m().min(length))
        .fold(f64::INFINITY, f64::min);
    let span_m = (setup.heated_band.m() - cable_m)
        .min(2.0 * room_m - cable_m)
        .max(2.0 * least_pitch_m(setup, practice));
    let turns = turns_for(span_m, practice.pitch_mm.value * 1e-3, practice);
    Layout {
        turns,
        span_m,
        offset_m: 0.0,
        opening: 0.0,
        standoff_m: setup.blanket.thickness.m(),
    }
}

fn turns_for(span_m: f64, pitch_m: f64, practice: &Practice) -> usize {
    let turns = libm::round(span_m / pitch_m) + 1.0;
    turns.clamp(practice.turns.low, practice.turns.high) as usize
}

fn least_pitch_m(setup: &Setup, practice: &Practice) -> f64 {
    let cable_mm = setup.cable.outside_diameter_mm.value + TAPE_MM;
    1e-3 * practice.pitch_mm.low.max(cable_mm)
}

/// Every place where a turn of a candidate may come to lie.
fn places(
    setup: &Setup,
    practice: &Practice,
    joint: &JointSection,
    first: &Layout,
) -> Result<Vec<Shape>, CycleError> {
    let pitch_m = (PLACE_STEP * least_pitch_m(setup, practice))
        .max(1e-3 * (setup.cable.outside_diameter_mm.value + TAPE_MM));
    let span_m =
        (SPAN_STEP * SPAN_STEP * first.span_m).min(joint.lengths_m[0] + joint.lengths_m[1]);
    let all = Layout {
        turns: libm::floor(span_m / pitch_m) as usize + 1,
        span_m,
        ..*first
    };
    let inside = |coil: Coil| {
        let within = |z: f64| z > -joint.lengths_m[0] && z < joint.lengths_m[1];
        Coil {
            turns: coil
                .turns
                .into_iter()
                .filter(|turn| within(turn.axial.m()))
                .collect(),
        }
    };
    Ok(place(&inside(all.coil()), &setup.cable, joint)?
        .shapes()
        .collect())
}

impl Bench<'_> {
    /// The state of rest at the hold with a layout (or the given coil), with the bore's surroundings in step.
    fn rest(&mut self, layout: &Layout, frequency_hz: f64) -> Result<Rested, CycleError> {
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
        self.guess_a = found.current_a;
        Ok(Rested {
            layout: *layout,
            coldest: look.soak_coldest,
            hottest: look.soak_hottest,
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

    /// Turns and frequency with the best least reserve over all demands; among ample ones the usual pitch.
    fn turns_and_frequency(
        &mut self,
        reference: &Rested,
        frequencies_hz: &[f64],
        joint: &JointSection,
    ) -> Result<(usize, f64, f64), CycleError> {
        let demands = demands(self.setup, joint, reference.power_w);
        let counts = self.counts(reference);
        let mut best: Option<(f64, usize, f64, f64)> = None;
        for &frequency_hz in frequencies_hz {
            let answers = self.answers(&demands, frequency_hz, reference)?;
            let leads = leads_impedance(&self.setup.leads, frequency_hz).map_err(property)?;
            for &turns in &counts {
                let layout = Layout {
                    turns,
                    ..reference.layout
                };
                let (reserve, tightest) =
                    self.least_reserve(&layout, frequency_hz, &answers, &demands, &leads)?;
                let pitch_mm = layout.pitch_m() * 1e3;
                let habit_mm = self.practice.pitch_mm.value;
                let score = reserve.min(AMPLE_RESERVE_PERCENT)
                    - PITCH_WEIGHT * libm::log(pitch_mm / habit_mm).abs();
                let verdict = format!("least reserve at: {tightest}");
                self.trials
                    .push(self.row(&layout, frequency_hz, None, reserve, verdict));
                if best.is_none_or(|(known, ..)| score > known + 1e-9) {
                    best = Some((score, turns, frequency_hz, reserve));
                }
            }
        }
        let (_, turns, frequency_hz, reserve) =
            best.expect("there is at least one frequency and one number of turns");
        Ok((turns, frequency_hz, reserve))
    }

    /// Numbers of turns that fit the span at a pitch the trade uses; a given coil has its own.
    fn counts(&self, reference: &Rested) -> Vec<usize> {
        if let Some(coil) = &self.setup.coil {
            return vec![coil.turns.len()];
        }
        let span_m = reference.layout.span_m;
        let fewest = libm::ceil(span_m / (1e-3 * self.practice.pitch_mm.high)) + 1.0;
        let most = libm::floor(span_m / least_pitch_m(self.setup, self.practice) + 1e-9) + 1.0;
        let fewest = fewest.clamp(self.practice.turns.low, self.practice.turns.high);
        let most = most.clamp(fewest, self.practice.turns.high);
        (fewest as usize..=most as usize).collect()
    }

    fn answers(
        &self,
        demands: &[Demand],
        frequency_hz: f64,
        reference: &Rested,
    ) -> Result<Vec<Answer>, CycleError> {
        let mut state = State::default();
        let mut guess_a = reference.current_rms_a;
        demands
            .iter()
            .map(|demand| {
                let found = answer(&self.prepared, &mut state, demand, frequency_hz, guess_a)?;
                guess_a = found.ampere_turns / self.prepared.coil.rings.len() as f64;
                Ok(found)
            })
            .collect()
    }

    /// The least reserve in percent, and the demand at which it is.
    fn least_reserve(
        &self,
        layout: &Layout,
        frequency_hz: f64,
        answers: &[Answer],
        demands: &[Demand],
        leads: &LeadsImpedance,
    ) -> Result<(f64, String), CycleError> {
        let coil = self.setup.coil.clone().unwrap_or_else(|| layout.coil());
        let cable = &self.setup.cable;
        let placed = place(&coil, cable, &self.prepared.joint)?;
        let cable_ohm = placed
            .resistance_ohm(cable, frequency_hz, cable.max_cable_temperature_c.value)
            .map_err(property)?;
        let reserve = |answer: &Answer| {
            answer.reserve_percent(coil.turns.len(), &self.prepared.limits, cable_ohm, leads)
        };
        let least = answers
            .iter()
            .zip(demands)
            .map(|(answer, demand)| (reserve(answer), demand.name.clone()))
            .min_by(|one, other| one.0.total_cmp(&other.0));
        Ok(least.unwrap_or((100.0, String::new())))
    }

    /// Places of the turns: shifted until both edges of the soak band are equally warm, opened and widened until the
    /// band lies in the hold range with a margin.
    fn places(
        &mut self,
        chosen: Layout,
        frequency_hz: f64,
        joint: &JointSection,
    ) -> Result<Rested, CycleError> {
        let mut best = self.try_layout(chosen, frequency_hz)?;
        for _ in 0..ROUNDS {
            if let Some(shifted) = self.shifted(&best, joint) {
                let tried = self.try_layout(shifted, frequency_hz)?;
                if unevenness(&tried) < unevenness(&best) {
                    best = tried;
                    continue;
                }
            }
            if self.shortfall_k(&best) <= 0.0 {
                break;
            }
            let mut better = None;
            for next in self.wider(&best.layout, joint) {
                let tried = self.try_layout(next, frequency_hz)?;
                if self.shortfall_k(&tried) < self.shortfall_k(&best) - 0.1 {
                    better = Some(tried);
                    break;
                }
            }
            match better {
                Some(found) => best = found,
                None => break,
            }
        }
        Ok(best)
    }

    fn try_layout(&mut self, layout: Layout, frequency_hz: f64) -> Result<Rested, CycleError> {
        let rested = self.rest(&layout, frequency_hz)?;
        let short_k = self.shortfall_k(&rested);
        let verdict = match short_k <= 0.0 {
            true => "the soak band lies in the hold range with its margin".to_string(),
            false => format!("{short_k:.1} K short of the margin inside the hold range"),
        };
        let reserves = self
            .trials
            .iter()
            .filter(|row| row.turns == layout.turns && row.frequency_hz == frequency_hz);
        let reserve = reserves
            .map(|row| row.least_reserve_percent)
            .next()
            .unwrap_or(f64::NAN);
        let row = self.row(&layout, frequency_hz, Some(&rested), reserve, verdict);
        self.trials.push(row);
        Ok(rested)
    }

    /// Shifted towards the colder edge, where the edges differ.
    fn shifted(&self, rested: &Rested, joint: &JointSection) -> Option<Layout> {
        let excess_k = rested.edges_c[1] - rested.edges_c[0];
        if excess_k.abs() < EVEN_K {
            return None;
        }
        let layout = rested.layout;
        // The profile falls about as a parabola from the middle: edges differ by 8 (T_mid - T_edge) shift / band.
        let fall_k =
            (rested.hottest.temperature_c - 0.5 * (rested.edges_c[0] + rested.edges_c[1])).max(2.0);
        let slope_k_m = 4.0 * fall_k / self.setup.soak_band.m();
        let most_m = OFFSET_STEP * layout.pitch_m();
        let shift_m = (-excess_k / slope_k_m).clamp(-most_m, most_m);
        let next = Layout {
            offset_m: layout.offset_m + shift_m,
            ..layout
        };
        self.fits(&next, joint).then_some(next)
    }

    /// Layouts that warm the edges of the band: denser at the ends, then wider.
    fn wider(&self, layout: &Layout, joint: &JointSection) -> Vec<Layout> {
        let opened = Layout {
            opening: (layout.opening + OPENING_STEP).min(MOST_OPENING),
            ..*layout
        };
        let wide = Layout {
            span_m: SPAN_STEP * layout.span_m,
            ..*layout
        };
        [opened, wide]
            .into_iter()
            .filter(|next| next != layout && self.fits(next, joint))
            .collect()
    }

    fn fits(&self, layout: &Layout, joint: &JointSection) -> bool {
        let cable_m = 0.5e-3 * self.setup.cable.outside_diameter_mm.value;
        let ends_m =
            [-1.0, 1.0].map(|sign| layout.offset_m + sign * (0.5 * layout.span_m + cable_m));
        let reach_m = self.setup.blanket.reach.map(Millimeters::m);
        let inside = -ends_m[0] <= reach_m[0].min(joint.lengths_m[0])
            && ends_m[1] <= reach_m[1].min(joint.lengths_m[1]);
        let pitches = layout.least_pitch_m() >= least_pitch_m(self.setup, self.practice) - 1e-9
            && layout.largest_pitch_m() <= 1e-3 * self.practice.pitch_mm.high + 1e-9;
        inside && pitches
    }

    /// How far the soak band is from lying inside the hold range with the margin, in K; below zero it does.
    fn shortfall_k(&self, rested: &Rested) -> f64 {
        let [low, high] = self.setup.programme.hold_range.map(|limit| limit.c());
        // A narrow range leaves no room for the whole margin.
        let margin_k = self.practice.soak_margin_k.value.min(0.25 * (high - low));
        (low + margin_k - rested.coldest.temperature_c)
            .max(rested.hottest.temperature_c - (high - margin_k))
    }

    fn row(
        &self,
        layout: &Layout,
        frequency_hz: f64,
        rested: Option<&Rested>,
        least_reserve_percent: f64,
        verdict: String,
    ) -> TrialRow {
        TrialRow {
            turns: self
                .setup
                .coil
                .as_ref()
                .map_or(layout.turns, |coil| coil.turns.len()),
            pitch_mm: layout.pitch_m() * 1e3,
            offset_mm: layout.offset_m * 1e3,
            opening: layout.opening_ratio(),
            frequency_hz,
            coldest_c: rested.map(|r| r.coldest.temperature_c),
            hottest_c: rested.map(|r| r.hottest.temperature_c),
            hold_power_w: rested.map(|r| r.power_w),
            least_reserve_percent,
            verdict,
        }
    }

    fn reason(&self, best: &Rested, frequency_hz: f64, reserve: f64) -> String {
        let layout = &best.layout;
        let short_k = self.shortfall_k(best);
        let band = format!(
            "At the steady hold the soak band lies between {:.0} and {:.0} °C",
            best.coldest.temperature_c, best.hottest.temperature_c
        );
        let judged = match short_k <= 0.0 {
            true => "inside the hold range with its margin".to_string(),
            false => format!(
                "{short_k:.0} K short of the margin; no layout within the usual pitch, the blanket and the pipe does better"
            ),
        };
        let enough = match reserve >= self.practice.reserve_percent.value {
            true => format!("keeps at least {reserve:.0} % in reserve"),
            false if reserve >= 0.0 => format!("keeps only {reserve:.0} % in reserve"),
            false => format!("is {:.0} % short at the state that asks most", -reserve),
        };
        format!(
            "{} turns at {:.0} mm over {:.0} mm of pipe, on the blanket. At {:.1} kHz the source {enough} over the states \
             looked at, which is the best of {} combinations of turns and frequency, usual pitches preferred. {band}, {judged}.",
            layout.turns,
            layout.pitch_m() * 1e3,
            layout.span_m * 1e3,
            frequency_hz * 1e-3,
            self.trials
                .iter()
                .filter(|row| row.coldest_c.is_none())
                .count(),
        )
    }
}

fn unevenness(rested: &Rested) -> f64 {
    (rested.edges_c[1] - rested.edges_c[0]).abs()
}

fn property(cause: materials::MaterialError) -> CycleError {
    CycleError::Property {
        doing: "computing the cable".into(),
        detail: cause.to_string(),
    }
}
