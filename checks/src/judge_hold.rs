//! The finding of a hold time.

use quantity::Hours;
use rules::requirement::Limit;

use crate::assembly::Clocks;
use crate::checker::Checker;
use crate::definition_words as definitions;
use crate::definitions::HoldCount;
use crate::failure::FailureKind;
use crate::finding::{Beside, Finding, Measured, Verdict};
use crate::hold_clock::HoldClock;
use crate::judge::{name, open, silent_soak_band};
use crate::words::digits;

/// Time in the range together, by the policy that binds.
pub(crate) fn hold_time(
    checker: &Checker,
    limit: &Limit,
    asked: Hours,
    clocks: &Clocks,
) -> Finding {
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
            format!(
                "the time in the range together is too short{}",
                ended_words(checker, all)
            ),
        )
    } else {
        (
            Verdict::NotMet,
            "the thermocouples of the soak band were never in the range together".into(),
        )
    };
    finding
}

/// Which thermocouple ended the longest run, and what was wrong with it where that is known.
fn ended_words(checker: &Checker, clock: &HoldClock) -> String {
    let runs = &clock.counted;
    let Some(channel) = clock.ended_by else {
        return String::new();
    };
    let name = &checker.channels[channel].name;
    let ended_s = runs.longest_from_s + runs.longest_s;
    let until_s = ended_s + 2.0 * runs.longest_step_s;
    let mut failing = checker.failing.iter();
    let ended = Hours::from_s(ended_s).words();
    match failing.find(|f| f.channel == channel && f.first_s <= until_s) {
        Some(f) if f.kind == FailureKind::Detached => {
            let at = Hours::from_s(f.first_s).words();
            format!("; the longest run ended when {name} came off at {at}")
        }
        Some(f) => format!(
            "; the longest run ended when {name} left the range at {ended} ({})",
            f.kind.words()
        ),
        None => format!("; the longest run ended when {name} left the range at {ended}"),
    }
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
    if all.counted.longest_s > 0.0 {
        let step_s = all.counted.longest_step_s;
        beside.push(time("each end of it is known to within", None, step_s));
    }
    let allowance_k = checker.definitions.hold_allowance.k();
    for (clock, how) in clocks.beside.iter().zip(["wider", "narrower"]) {
        let allowance_f = checker.definitions.hold_allowance.f_difference();
        let what = format!(
            "longest run in a range {allowance_k} K ({} °F) {how} at each end",
            digits(allowance_f)
        );
        beside.push(time(&what, None, clock.counted.longest_s));
    }
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
