//! A log that begins or ends hot: what came before or after it is not in it, so what it would have broken there is unknown.

use quantity::{Celsius, Hours, Units};
use rules::requirement::LimitKind;

use crate::checker::Checker;
use crate::finding::{Finding, Measured, Origin, Verdict};

/// A limit that seems met is not judged where the part of the heat that it is about goes on beyond the log.
pub(crate) fn unfinished(checker: &Checker, mut finding: Finding) -> Finding {
    if checker.origin == Origin::Predicted {
        return finding;
    }
    let hot_c = checker.raw.peak.hot_c;
    if finding.verdict == Verdict::NotMet && matches!(finding.limit.kind, LimitKind::HoldTime(_)) {
        let ends = at_end(checker, hot_c).map(|ends| format!("{}; {ends}", finding.reason));
        finding.reason = ends.unwrap_or(finding.reason);
    }
    if finding.verdict != Verdict::Met {
        return finding;
    }
    let turn_k = checker.definitions.turn.k();
    let (begins_c, ends_c) = match finding.limit.kind {
        LimitKind::HoldMin(_) | LimitKind::HoldTime(_) => return finding,
        LimitKind::HoldMax(_) | LimitKind::HoldSpread(_) => (hot_c, hot_c),
        LimitKind::HeatingRate { above, .. } => {
            let heating = checker.raw.stage.heating();
            let ends_c = if heating { above.c() } else { f64::INFINITY };
            let cold_c = checker.definitions.cold.c();
            (above.c().max(cold_c) + turn_k, ends_c)
        }
        LimitKind::HeatingSpread { .. } => return finding,
        LimitKind::CoolingRate { above, .. } => {
            let cold_c = checker.definitions.cold.c();
            (f64::INFINITY, above.c().max(cold_c) + turn_k)
        }
    };
    let climbing = match finding.limit.kind {
        LimitKind::HoldMax(_) => still_climbing(checker, turn_k),
        _ => None,
    };
    let reason = at_begin(checker, begins_c)
        .or_else(|| at_end(checker, ends_c))
        .or(climbing);
    if let Some(reason) = reason {
        finding.verdict = Verdict::NotJudged;
        finding.reason = reason;
    }
    finding
}

fn at_begin(checker: &Checker, level_c: f64) -> Option<String> {
    let channel = hottest(checker, |c| checker.first_c[c], level_c)?;
    Some(format!(
        "the log begins with {} at {}; what came before is not in it",
        checker.channels[channel].name,
        degrees(checker.first_c[channel]?)
    ))
}

fn at_end(checker: &Checker, level_c: f64) -> Option<String> {
    let last_c = |c: usize| checker.raw.peak.last[c].map(|r| r.value_c);
    let channel = hottest(checker, last_c, level_c)?;
    let name = &checker.channels[channel].name;
    let last = checker.raw.peak.last[channel]?;
    let at = degrees(last.value_c);
    Some(if checker.fell_silent_s(channel).is_some() {
        format!(
            "{}, {at}; what its place became is not in the log",
            checker.lost_words(channel)
        )
    } else {
        let ends = Hours::from_s(checker.now_s).words();
        format!("the log ends at {ends} with {name} at {at}; what came after is not in it")
    })
}

/// The log ends before a hold with a thermocouple near its highest reading, or silent, so that nobody knows.
fn still_climbing(checker: &Checker, turn_k: f64) -> Option<String> {
    let near_highest = |c: &usize| {
        let highest_c = checker.sitters[*c].highest?.value_c;
        let last = checker.raw.peak.last[*c]?;
        let silent = last.time_s < checker.now_s;
        (silent || last.value_c > highest_c - turn_k).then_some((*c, silent))
    };
    let (climbing, silent) = checker.soak.iter().find_map(near_highest)?;
    let heating = checker.raw.stage.heating();
    heating.then(|| {
        format!(
            "the log ends at {} without a hold while {} is {}; what came after is not in it",
            Hours::from_s(checker.now_s).words(),
            checker.channels[climbing].name,
            if silent {
                "silent"
            } else {
                "still being heated"
            }
        )
    })
}

/// The hottest of the soak band, where it is at or above a level.
fn hottest(checker: &Checker, of: impl Fn(usize) -> Option<f64>, level_c: f64) -> Option<usize> {
    let soak = checker.soak.iter().copied();
    let hot = soak.filter(|c| of(*c).is_some_and(|value_c| value_c >= level_c));
    hot.max_by(|a, b| {
        of(*a)
            .unwrap_or(level_c)
            .total_cmp(&of(*b).unwrap_or(level_c))
    })
}

fn degrees(value_c: f64) -> String {
    Measured::Temperature(Celsius::from_c(value_c)).words(Units::Si)
}
