//! Preheat and hydrogen of a plan, as data.

use rules::bake_out::HoldLeaves;
use rules::preheat::{Method, Outcome, Preheat};
use schemars::JsonSchema;
use serde::Serialize;

use super::needs::{Clause, Remark, clause, remark};
use super::word;
use crate::need::BakeOutNeed;

/// Preheat and interpass temperature by every method.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PreheatGuidance {
    /// The least preheat that governs, in °C; `null` where no method gives one.
    pub at_least_c: Option<f64>,
    /// Number of the method in `methods` that governs, from 0.
    pub governing_method: Option<usize>,
    /// Why this one.
    pub reason: Option<String>,
    /// The lowest of the highest interpass temperatures, in °C.
    pub interpass_at_most_c: Option<f64>,
    /// Every method that is kept, those of the contract first.
    pub methods: Vec<PreheatMethod>,
    /// Where methods disagree, and what a person must know or answer.
    pub remarks: Vec<Remark>,
}

/// One method.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PreheatMethod {
    /// Its name.
    pub name: String,
    /// `side 1`, `side 2`, `both sides` or `the weld`.
    pub who: String,
    /// `binding`, `guidance` or `comparison`.
    pub standing: String,
    /// The least preheat in °C, or the metal's own temperature where none is asked; `null` where it does not speak.
    pub at_least_c: Option<f64>,
    /// Why it does not speak: it is not for this weld, its range ends, an input is not given, or the row is off.
    pub silent_because: Option<String>,
    /// The formula or the row with the numbers put in.
    pub working: String,
    /// What lay at the edge of its range, what was counted as absent.
    pub warnings: Vec<String>,
    /// Where it stands.
    pub clause: Clause,
}

/// Hydrogen bake-out by diffusion.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BakeOutGuidance {
    /// The temperature in use for the metal, in °C.
    pub temperature_c: f64,
    /// The wall that is counted, and why.
    pub wall: String,
    /// Times at that temperature by the slowest coefficient that holds there.
    pub times: Vec<TimeTo>,
    /// Holds in use.
    pub holds: Vec<Hold>,
    /// Metal that keeps its hydrogen, with the hours that it would take.
    pub hopeless: Vec<String>,
    /// What the predicted cycle leaves, read at the coldest place of the soak band at every moment.
    pub after_cycle: Option<AfterCycle>,
    /// Where coefficients disagree, and what a person must know or answer.
    pub remarks: Vec<Remark>,
}

/// The times until a share of the hydrogen is left.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TimeTo {
    /// The share in percent.
    pub left_percent: f64,
    /// Until the mean over the wall has fallen to it, in h.
    pub of_mean_h: f64,
    /// Until the slowest place has fallen to it, in h.
    pub at_slowest_h: f64,
}

/// A hold in use with what it leaves.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Hold {
    /// Temperature in °C.
    pub temperature_c: f64,
    /// Time in h.
    pub time_h: f64,
    /// What is left of the mean, in percent.
    pub mean_left_percent: Option<f64>,
    /// What is left at the slowest place, in percent.
    pub slowest_left_percent: Option<f64>,
    /// Where it stands.
    pub clause: Clause,
}

/// What a cycle leaves.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct AfterCycle {
    /// The metal of the coefficient that leaves the most, of those that hold for more than half of the cycle.
    pub coefficient_of: String,
    /// What is left of the mean, in percent.
    pub mean_left_percent: f64,
    /// What is left at the slowest place, in percent.
    pub slowest_left_percent: f64,
    /// Hours outside the coefficient's range, which are not counted.
    pub not_counted_h: f64,
    /// Where the coefficient stands.
    pub clause: Clause,
}

pub(super) fn preheat(preheat: &Preheat) -> PreheatGuidance {
    let lowest = preheat.interpass.iter().map(|one| one.at_most.c());
    let governing = preheat.governing.as_ref();
    PreheatGuidance {
        at_least_c: governing.map(|one| one.temperature.c()),
        governing_method: governing.map(|one| one.method),
        reason: governing.map(|one| one.reason.clone()),
        interpass_at_most_c: lowest.reduce(f64::min),
        methods: preheat.methods.iter().map(method).collect(),
        remarks: preheat.remarks.iter().map(remark).collect(),
    }
}

fn method(method: &Method) -> PreheatMethod {
    PreheatMethod {
        name: method.name.clone(),
        who: method.who.clone(),
        standing: word(method.standing),
        at_least_c: method.outcome.temperature().map(|t| t.c()),
        silent_because: silent_because(&method.outcome),
        working: method.working.clone(),
        warnings: method.warnings.clone(),
        clause: clause(&method.clause),
    }
}

fn silent_because(outcome: &Outcome) -> Option<String> {
    match outcome {
        Outcome::AtLeast { .. } | Outcome::None { .. } => None,
        Outcome::NotApplicable(why) => Some(why.clone()),
        Outcome::Refused(outside) => Some(joined(outside)),
        Outcome::Missing(missing) => {
            let keys: Vec<&str> = missing.iter().map(|one| one.key.as_str()).collect();
            Some(format!("not given: {}", keys.join(", ")))
        }
        Outcome::Off(said) => Some(format!("off, unsure: {said}")),
    }
}

fn joined(outside: &[rules::preheat::Outside]) -> String {
    let words: Vec<String> = outside.iter().map(ToString::to_string).collect();
    words.join("; ")
}

pub(super) fn bake_out(need: &BakeOutNeed) -> BakeOutGuidance {
    let (weld, answer) = (&need.of_weld, &need.answer);
    let after = answer.after_history.and_then(|index| {
        let one = &answer.by_coefficient[index];
        let after = one.history?;
        Some(AfterCycle {
            coefficient_of: one.metal.clone(),
            mean_left_percent: 100.0 * after.left.mean,
            slowest_left_percent: 100.0 * after.left.slowest,
            not_counted_h: after.not_counted.h(),
            clause: clause(&one.clause),
        })
    });
    BakeOutGuidance {
        temperature_c: weld.asked.temperature.c(),
        wall: weld.wall_reason.clone(),
        times: answer
            .times
            .iter()
            .map(|one| TimeTo {
                left_percent: 100.0 * one.share,
                of_mean_h: one.of_mean.h(),
                at_slowest_h: one.at_slowest.h(),
            })
            .collect(),
        holds: answer.holds.iter().map(hold).collect(),
        hopeless: answer
            .hopeless
            .iter()
            .map(|one| one.reason.clone())
            .collect(),
        after_cycle: after,
        remarks: answer.remarks.iter().map(remark).collect(),
    }
}

fn hold(hold: &HoldLeaves) -> Hold {
    let left = hold.left.as_ref().map(|(left, _)| *left);
    Hold {
        temperature_c: hold.temperature.c(),
        time_h: hold.time.h(),
        mean_left_percent: left.map(|left| 100.0 * left.mean),
        slowest_left_percent: left.map(|left| 100.0 * left.slowest),
        clause: clause(&hold.clause),
    }
}
