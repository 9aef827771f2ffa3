//! From the folds to one finding a limit.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};
use rules::requirement::{Limit, LimitKind};

use crate::assembly::{Clocks, rate_key};
use crate::checker::Checker;
use crate::definition_words as definitions;
use crate::definitions::HoldCount;
use crate::finding::{Beside, Finding, Measured, Origin, OtherReadings, Readings, Verdict};
use crate::folds::Folds;
use crate::hold_stage::Spread;
use crate::judge_rate;

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
    let mut finding = doubted(checker, one_limit(checker, &checker.raw, index, limit));
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
    let other = doubted(checker, other);
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
fn silent_soak_band(checker: &Checker) -> Option<String> {
    let soak = &checker.soak;
    if soak.is_empty() {
        return Some("no control or monitor thermocouple sits in the soak band".into());
    }
    let dead = soak.iter().find(|c| checker.never_spoke(**c))?;
    Some(format!("{} gave no reading", checker.channels[*dead].name))
}

fn hold_minimum(checker: &Checker, folds: &Folds, limit: &Limit, min: Celsius) -> Finding {
    let mut finding = open(
        limit,
        definitions::HOLD_MINIMUM,
        "no scan in which all of them spoke",
    );
    if let Some(reason) = silent_soak_band(checker) {
        finding.reason = reason;
        return finding;
    }
    let Some(together) = folds.stage.together else {
        return finding;
    };
    let margin_k = together.value_c - min.c();
    finding.verdict = if margin_k >= 0.0 {
        Verdict::Met
    } else {
        Verdict::NotMet
    };
    finding.measured = Some(Measured::Temperature(Celsius::from_c(together.value_c)));
    finding.by_how_much = Some(Measured::Difference(Kelvins::from_k(margin_k.abs())));
    finding.when = Some(Hours::from_s(together.time_s));
    finding.channel = name(checker, together.channel);
    finding.reason =
        "the coldest thermocouple of the soak band when all were hottest together".into();
    if let Some(lowest) = folds.stage.lowest() {
        finding.beside.push(Beside {
            what: "lowest reading inside the hold, dips included".into(),
            channel: name(checker, lowest.channel),
            measured: Some(Measured::Temperature(Celsius::from_c(lowest.value_c))),
        });
    }
    finding
}

fn hold_maximum(
    checker: &Checker,
    folds: &Folds,
    index: usize,
    limit: &Limit,
    max: Celsius,
) -> Finding {
    let mut finding = open(limit, definitions::PEAK, "there are no readings");
    let Some(highest) = folds.peak.highest else {
        return finding;
    };
    let margin_k = max.c() - highest.value_c;
    finding.measured = Some(Measured::Temperature(Celsius::from_c(highest.value_c)));
    finding.by_how_much = Some(Measured::Difference(Kelvins::from_k(margin_k.abs())));
    finding.when = Some(Hours::from_s(highest.time_s));
    finding.channel = name(checker, highest.channel);
    finding.reason = "the highest reading of any thermocouple".into();
    if let Some(over) = folds.overs[index].as_ref().filter(|o| o.count > 0) {
        let times = if over.count == 1 {
            "once"
        } else {
            "several times"
        };
        finding.reason =
            format!("the highest reading of any thermocouple, above the limit {times}");
        finding.beside.push(Beside {
            what: "total time above the limit".into(),
            channel: None,
            measured: Some(Measured::Time(Hours::from_s(over.total_s))),
        });
    }
    finding.verdict = if margin_k < 0.0 {
        Verdict::NotMet
    } else if let Some(reason) = peak_unknown(checker, folds) {
        finding.reason = reason;
        Verdict::NotJudged
    } else {
        Verdict::Met
    };
    finding
}

/// Why the highest temperature may have been missed, if it may.
fn peak_unknown(checker: &Checker, folds: &Folds) -> Option<String> {
    if let Some(reason) = silent_soak_band(checker) {
        return Some(reason);
    }
    let name_of = |c: usize| checker.channels[c].name.clone();
    if let Some(gap) = folds.peak.gap {
        return Some(format!(
            "{} was silent from {:.2} h while hot; no reading says how hot it became",
            name_of(gap.channel),
            Hours::from_s(gap.time_s).h()
        ));
    }
    let hot = |c: &usize| folds.peak.last[*c].is_some_and(|r| r.value_c >= folds.peak.hot_c);
    let mut soak = checker.soak.iter();
    let lost = soak.find(|c| hot(c) && checker.fell_silent_s(**c).is_some())?;
    Some(format!(
        "{} fell silent while hot and stayed so",
        name_of(*lost)
    ))
}

fn hold_time(checker: &Checker, limit: &Limit, asked: Hours, clocks: &Clocks) -> Finding {
    let all = &clocks.all;
    let (counted_s, granted_s) = match checker.definitions.hold_count {
        HoldCount::LongestRun => (all.counted.longest_s, all.granted.longest_s),
        HoldCount::Total => (all.counted.total_s, all.granted.total_s),
    };
    let mut finding = open(limit, definitions::HOLD_TIME, "");
    finding.beside = hold_time_beside(checker, clocks);
    if checker.soak.is_empty() {
        finding.reason = "no control or monitor thermocouple sits in the soak band".into();
        return finding;
    }
    finding.measured = Some(Measured::Time(Hours::from_s(counted_s)));
    finding.by_how_much = Some(Measured::Time(Hours::from_s((counted_s - asked.s()).abs())));
    finding.when = (all.counted.longest_s > 0.0).then(|| Hours::from_s(all.counted.longest_from_s));
    let dead = silent_soak_band(checker);
    (finding.verdict, finding.reason) = if counted_s >= asked.s() {
        (
            Verdict::Met,
            "every thermocouple of the soak band was in the range together".into(),
        )
    } else if granted_s >= asked.s() {
        let why = dead.unwrap_or_else(|| "thermocouples of the soak band were silent".into());
        (
            Verdict::NotJudged,
            format!("{why}; silence is not counted, and alone it decides"),
        )
    } else if all.counted.total_s > 0.0 {
        (
            Verdict::NotMet,
            "the time in the range together is too short".into(),
        )
    } else {
        (
            Verdict::NotMet,
            "the thermocouples of the soak band were never in the range together".into(),
        )
    };
    finding
}

fn hold_time_beside(checker: &Checker, clocks: &Clocks) -> Vec<Beside> {
    let all = &clocks.all;
    let time = |what: &str, channel: Option<String>, s: f64| Beside {
        what: what.into(),
        channel,
        measured: Some(Measured::Time(Hours::from_s(s))),
    };
    let mut beside = vec![
        time("longest run", None, all.counted.longest_s),
        time("all runs together", None, all.counted.total_s),
        time(
            "longest run if gaps did not break it",
            None,
            all.bridged.longest_s,
        ),
    ];
    for (channel, clock) in &clocks.each {
        beside.push(time(
            "alone, longest run",
            name(checker, *channel),
            clock.counted.longest_s,
        ));
        beside.push(time(
            "alone, all runs together",
            name(checker, *channel),
            clock.counted.total_s,
        ));
    }
    beside
}

fn hold_spread(checker: &Checker, folds: &Folds, limit: &Limit, allowed: Kelvins) -> Finding {
    let mut finding = open(
        limit,
        definitions::HOLD_SPREAD,
        "there was no hold with two thermocouples or more",
    );
    let settled_binds = checker.definitions.settled_spread_binds;
    let (whole, settled) = (folds.stage.widest(), folds.stage.settled());
    let (binding, other) = if settled_binds {
        (settled, whole)
    } else {
        (whole, settled)
    };
    // A plan's own pages say how even its hold is.
    if checker.origin == Origin::Measured {
        finding.beside = hold_spread_beside(checker, folds, other);
    }
    let Some(widest) = binding else {
        if let Some(reason) = silent_soak_band(checker) {
            finding.reason = reason;
        }
        return finding;
    };
    spread_finding(checker, &mut finding, widest, allowed);
    if finding.verdict == Verdict::Met
        && let Some(gap_s) = folds.stage.gap_s()
    {
        finding.verdict = Verdict::NotJudged;
        finding.reason = format!(
            "a gap lies inside the hold, from {:.2} h",
            Hours::from_s(gap_s).h()
        );
    }
    finding
}

fn hold_spread_beside(checker: &Checker, folds: &Folds, other: Option<Spread>) -> Vec<Beside> {
    let difference = |k: f64| Measured::Difference(Kelvins::from_k(k));
    let minutes = checker.definitions.settling.minutes();
    let what = match checker.definitions.settled_spread_binds {
        true => "largest of the whole hold".into(),
        false => format!("largest after the first {minutes:.0} min"),
    };
    vec![
        Beside {
            what,
            channel: None,
            measured: other.map(|s| difference(s.spread_k)),
        },
        Beside {
            what: "hottest of the whole hold less coldest of it".into(),
            channel: None,
            measured: folds.stage.worst_case_k().map(difference),
        },
    ]
}

fn heating_spread(
    checker: &Checker,
    folds: &Folds,
    index: usize,
    limit: &Limit,
    allowed: Kelvins,
) -> Finding {
    let mut finding = open(
        limit,
        definitions::HEATING_SPREAD,
        "no two thermocouples spoke together while heating",
    );
    let widest = folds.heating_spreads[index].as_ref().and_then(|s| s.widest);
    if let Some(widest) = widest {
        spread_finding(checker, &mut finding, widest, allowed);
    }
    if finding.verdict == Verdict::Met
        && let Some(reason) = silent_soak_band(checker)
    {
        finding.verdict = Verdict::NotJudged;
        finding.reason = reason;
    }
    finding
}

fn spread_finding(checker: &Checker, finding: &mut Finding, widest: Spread, allowed: Kelvins) {
    let margin_k = allowed.k() - widest.spread_k;
    let name_of = |c: usize| name(checker, c).unwrap_or_default();
    finding.verdict = if margin_k >= 0.0 {
        Verdict::Met
    } else {
        Verdict::NotMet
    };
    finding.measured = Some(Measured::Difference(Kelvins::from_k(widest.spread_k)));
    finding.by_how_much = Some(Measured::Difference(Kelvins::from_k(margin_k.abs())));
    finding.when = Some(Hours::from_s(widest.time_s));
    finding.channel = name(checker, widest.hottest);
    finding.reason = format!(
        "{} hottest, {} coldest",
        name_of(widest.hottest),
        name_of(widest.coldest)
    );
}

/// A rate with its unit.
pub(crate) fn rate_of(k_h: f64) -> Measured {
    Measured::Rate(KelvinsPerHour::from_k_h(k_h))
}
