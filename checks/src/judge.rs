//! From the folds to one finding a limit.

use quantity::{Hours, KelvinsPerHour};
use rules::requirement::{Limit, LimitKind};

use crate::assembly::rate_key;
use crate::checker::Checker;
use crate::definition_words as definitions;
use crate::finding::{Finding, Measured, Origin, OtherReadings, Readings, Verdict};
use crate::folds::Folds;
use crate::judge_hold::hold_time;
use crate::judge_peak::{hold_maximum, hold_minimum};
use crate::judge_rate;
use crate::judge_spread::{heating_spread, hold_spread};
use crate::unfinished::unfinished;

/// One finding for each limit, in order.
pub(crate) fn every_limit(checker: &Checker) -> Vec<Finding> {
    checker
        .limits
        .iter()
        .enumerate()
        .map(|(i, limit)| both_ways(checker, i, limit))
        .collect()
}

/// The finding by the readings that bind, and what the others say where they say otherwise.
fn both_ways(checker: &Checker, index: usize, limit: &Limit) -> Finding {
    let binding = one_limit(checker, &checker.raw, index, limit);
    let mut finding = unfinished(checker, doubted(checker, binding));
    if finding.verdict == Verdict::NotJudged {
        finding.by_how_much = None;
    }
    if checker.origin == Origin::Predicted {
        return finding;
    }
    let (readings, other) = match rate_key(&limit.kind) {
        Some(_) => (Readings::Raw, judge_rate::of_raw(checker, limit)),
        None => {
            let other = one_limit(checker, &checker.filtered, index, limit);
            (Readings::Filtered, other)
        }
    };
    let other = unfinished(checker, doubted(checker, other));
    if other.verdict != finding.verdict {
        finding.other_readings = Some(OtherReadings {
            readings,
            verdict: other.verdict,
            measured: other.measured,
            when: other.when,
            channel: other.channel,
        });
    }
    finding
}

/// A limit that a doubtful thermocouple takes part in is not met; what breaks it breaks it all the same.
fn doubted(checker: &Checker, mut finding: Finding) -> Finding {
    if finding.verdict != Verdict::Met {
        return finding;
    }
    let until_s = match finding.limit.kind {
        LimitKind::CoolingRate { .. } => f64::INFINITY,
        LimitKind::HeatingRate { .. } | LimitKind::HeatingSpread { .. } => {
            checker.attempts.heated_until_s()
        }
        // It is proven at one instant; what fails later takes nothing from it.
        LimitKind::HoldMin(_) if finding.when.is_some() => finding.when.map_or(0.0, Hours::s),
        _ => checker.attempts.held_until_s(),
    };
    let judges = |c: usize| match finding.limit.kind {
        LimitKind::HoldMax(_) => checker.channels[c].fitted,
        LimitKind::HeatingRate { .. } | LimitKind::CoolingRate { .. } => {
            checker.ramps.iter().any(|(r, _)| *r == c)
        }
        _ => checker.soak.contains(&c),
    };
    if let Some(reason) = checker.doubt(judges, until_s) {
        finding.verdict = Verdict::NotJudged;
        finding.reason = reason;
    }
    finding
}

fn one_limit(checker: &Checker, folds: &Folds, index: usize, limit: &Limit) -> Finding {
    match limit.kind {
        LimitKind::HoldMin(min) => hold_minimum(checker, folds, limit, min),
        LimitKind::HoldMax(max) => hold_maximum(checker, folds, index, limit, max),
        LimitKind::HoldTime(time) => match &folds.clocks[index] {
            Some(clocks) => hold_time(checker, limit, time, clocks),
            None => open(limit, definitions::HOLD_TIME, "no hold clock was set up"),
        },
        LimitKind::HeatingRate { rate, .. } | LimitKind::CoolingRate { rate, .. } => {
            judge_rate::rate(checker, limit, rate)
        }
        LimitKind::HoldSpread(spread) => hold_spread(checker, folds, limit, spread),
        LimitKind::HeatingSpread { spread, .. } => {
            heating_spread(checker, folds, index, limit, spread)
        }
    }
}

/// A finding without a verdict yet.
pub(crate) fn open(limit: &Limit, definition: &'static str, reason: impl Into<String>) -> Finding {
    Finding {
        limit: limit.clone(),
        verdict: Verdict::NotJudged,
        measured: None,
        by_how_much: None,
        when: None,
        channel: None,
        definition,
        reason: reason.into(),
        beside: Vec::new(),
        other_readings: None,
    }
}

pub(crate) fn name(checker: &Checker, channel: usize) -> Option<String> {
    checker.channels.get(channel).map(|c| c.name.clone())
}

/// Why the soak band can't be judged at all, if it can't.
pub(crate) fn silent_soak_band(checker: &Checker) -> Option<String> {
    let soak = &checker.soak;
    if soak.is_empty() {
        return Some("no control or monitor thermocouple sits in the soak band".into());
    }
    let dead = soak.iter().find(|c| checker.never_spoke(**c))?;
    Some(format!("{} gave no reading", checker.channels[*dead].name))
}

/// A rate with its unit.
pub(crate) fn rate_of(k_h: f64) -> Measured {
    Measured::Rate(KelvinsPerHour::from_k_h(k_h))
}
