//! How many turns, at which frequency: by what the source keeps in reserve.

use field::eddy::State;

use super::bench::{Bench, Rested};
use super::least_pitch_m;
use crate::circuit::{LeadsImpedance, leads_impedance};
use crate::coil::place;
use crate::demand::{Answer, Demand, answer, demands};
use crate::error::CycleError;
use crate::layout::Layout;

/// Reserves above this are as good as each other, in percent: the pitch then decides.
const AMPLE_RESERVE_PERCENT: f64 = 30.0;

/// What a pitch of e times the usual one is marked down by, in percent of reserve, where the reserve is ample; a source
/// that is short takes any pitch of the trade.
const PITCH_WEIGHT_PERCENT: f64 = 20.0;
const LEAST_WEIGHT: f64 = 0.05;

/// A choice of turns and frequency.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choice {
    /// Number of turns.
    pub turns: usize,
    /// Frequency in Hz.
    pub frequency_hz: f64,
    /// The least reserve of power, current and voltage over all demands, in percent.
    pub reserve_percent: f64,
}

impl Bench<'_> {
    /// Turns and frequency with the best least reserve over all demands; among ample ones the usual pitch.
    ///
    /// # Errors
    /// What the field refuses.
    pub fn turns_and_frequency(
        &mut self,
        reference: &Rested,
        frequencies_hz: &[f64],
    ) -> Result<Choice, CycleError> {
        let demands = demands(self.setup, &self.prepared.joint, reference.power_w);
        let counts = self.counts(reference);
        let mut best: Option<(f64, Choice)> = None;
        for &frequency_hz in frequencies_hz {
            let answers = self.answers(&demands, frequency_hz, reference)?;
            let leads =
                leads_impedance(&self.setup.leads, frequency_hz).map_err(|e| property(&e))?;
            for &turns in &counts {
                let layout = Layout {
                    turns,
                    ..reference.layout
                };
                let (reserve_percent, tightest) =
                    self.least_reserve(&layout, frequency_hz, &answers, &demands, &leads)?;
                let choice = Choice {
                    turns,
                    frequency_hz,
                    reserve_percent,
                };
                let verdict = format!("least reserve at: {tightest}");
                self.trials.push(self.row(&layout, &choice, None, verdict));
                let score = self.score(&layout, &choice);
                if best.is_none_or(|(known, _)| score > known + 1e-9) {
                    best = Some((score, choice));
                }
            }
        }
        Ok(best
            .expect("there is at least one frequency and one number of turns")
            .1)
    }

    /// Reserve, marked down for an unusual pitch the more the less reserve is needed.
    fn score(&self, layout: &Layout, choice: &Choice) -> f64 {
        let reserve = choice.reserve_percent.min(AMPLE_RESERVE_PERCENT);
        let weight = PITCH_WEIGHT_PERCENT * (reserve / AMPLE_RESERVE_PERCENT).max(LEAST_WEIGHT);
        let unusual = libm::log(layout.pitch_m() * 1e3 / self.practice.pitch_mm.value).abs();
        reserve - weight * unusual
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
        let least_m = least_pitch_m(self.setup, self.practice) - 1e-9;
        let fits = |turns: &usize| {
            let layout = Layout {
                turns: *turns,
                ..reference.layout
            };
            layout.least_pitch_m() >= least_m
        };
        let counts: Vec<usize> = (fewest as usize..=most as usize).filter(fits).collect();
        if counts.is_empty() {
            vec![reference.layout.turns]
        } else {
            counts
        }
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
            .map_err(|e| property(&e))?;
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
}

fn property(cause: &materials::MaterialError) -> CycleError {
    CycleError::Property {
        doing: "computing the cable".into(),
        detail: cause.to_string(),
    }
}
