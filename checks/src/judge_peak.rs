//! Findings of the lowest and the highest temperature.

use quantity::{Celsius, Hours, Kelvins};
use rules::requirement::Limit;

use crate::checker::Checker;
use crate::definition_words as definitions;
use crate::finding::{Beside, Finding, Measured, Verdict};
use crate::folds::Folds;
use crate::judge::{name, open, silent_soak_band};

/// How hot the coldest of the soak band was when all were hottest together.
pub(crate) fn hold_minimum(
    checker: &Checker,
    folds: &Folds,
    limit: &Limit,
    min: Celsius,
) -> Finding {
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
    let others = folds.stage.speaking.filter(|s| s.value_c >= min.c());
    finding.verdict = match (margin_k >= 0.0, others) {
        (true, _) => Verdict::Met,
        (false, None) => Verdict::NotMet,
        (false, Some(_)) => Verdict::NotJudged,
    };
    finding.measured = Some(Measured::Temperature(Celsius::from_c(together.value_c)));
    finding.by_how_much = Some(Measured::Difference(Kelvins::from_k(margin_k.abs())));
    finding.when = Some(Hours::from_s(together.time_s));
    finding.channel = name(checker, together.channel);
    finding.reason = match others.filter(|_| margin_k < 0.0) {
        None => "the coldest thermocouple of the soak band when all were hottest together".into(),
        Some(others) => format!(
            "all that spoke at {} stood there, others were silent; silence is not counted, and alone it decides",
            Hours::from_s(others.time_s).words()
        ),
    };
    if let Some(lowest) = folds.stage.lowest() {
        finding.beside.push(Beside {
            what: "lowest reading inside the hold, dips included".into(),
            channel: name(checker, lowest.channel),
            measured: Some(Measured::Temperature(Celsius::from_c(lowest.value_c))),
        });
    }
    finding
}

/// The highest reading of any thermocouple.
pub(crate) fn hold_maximum(
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
    } else if let Some(reason) = peak_unknown(checker, folds, max) {
        finding.reason = reason;
        Verdict::NotJudged
    } else {
        Verdict::Met
    };
    finding
}

/// Why the highest temperature may have been missed, if it may.
fn peak_unknown(checker: &Checker, folds: &Folds, max: Celsius) -> Option<String> {
    if let Some(reason) = silent_soak_band(checker) {
        return Some(reason);
    }
    let name_of = |c: usize| checker.channels[c].name.clone();
    if let Some(gap) = folds.peak.gap {
        return Some(format!(
            "{} was silent from {} while hot; no reading says how hot it became",
            name_of(gap.channel),
            Hours::from_s(gap.time_s).words()
        ));
    }
    let reached = folds.peak.may_have_reached;
    if let Some((_, before)) = reached.filter(|(reach_c, _)| *reach_c > max.c()) {
        return Some(format!(
            "{} was silent from {} for so long that it may have been hotter",
            name_of(before.channel),
            Hours::from_s(before.time_s).words()
        ));
    }
    let hot = |c: &usize| folds.peak.last[*c].is_some_and(|r| r.value_c >= folds.peak.hot_c);
    let mut soak = checker.soak.iter();
    let lost = soak.find(|c| hot(c) && checker.fell_silent_s(**c).is_some())?;
    Some(format!("{}, while hot", checker.lost_words(*lost)))
}
