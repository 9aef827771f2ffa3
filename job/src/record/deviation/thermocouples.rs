//! Thermocouples that failed, were taken out, or are few.

use checks::{Failure, FailureKind, Findings, Origin, Removed, Silent, Verdict};
use quantity::Hours;
use readings::Log;
use rules::thermocouple::{Place, Role};

use super::Deviation;
use crate::record::Basis;
use crate::record::matched::Matched;

/// Who took which thermocouple out, and what would be found if none had been.
pub(super) fn taken_out(
    basis: &Basis,
    log: &Log,
    findings: &Findings,
    untouched: Option<&Findings>,
) -> Vec<Deviation> {
    let end = log.scans.last();
    let end_h = end.map_or(0.0, |s| s.elapsed.as_secs_f64() / 3600.0);
    let removed = findings.removed.iter();
    let mut all: Vec<Deviation> = removed.flat_map(|r| left(basis, r, end_h)).collect();
    let cause = out_of_the_set(&findings.removed);
    let Some(untouched) = untouched else {
        return all;
    };
    for (now, before) in findings.findings.iter().zip(&untouched.findings) {
        if now.verdict != before.verdict {
            // A spare that had not stepped in judged nothing.
            let by = untouched.names_for(&before.limit.kind);
            let sentence = before.sentence(Origin::Measured, basis.units, &by);
            // Readings that broke a limit and no longer count are for somebody to answer.
            let open = before.verdict == Verdict::NotMet && now.verdict == Verdict::Met;
            let says = format!("with every thermocouple kept in the set, {sentence}");
            let told = Deviation::told(says).with_cause(&cause);
            all.push(Deviation { open, ..told });
        }
    }
    all
}

/// "TC5 is out of the set", "TC5 and TC7 are out of the set".
fn out_of_the_set(removed: &[Removed]) -> String {
    let names: Vec<&str> = removed.iter().map(|r| r.channel.as_str()).collect();
    match names.as_slice() {
        [one] => format!("{one} is out of the set"),
        [all @ .., last] => format!("{} and {last} are out of the set", all.join(", ")),
        [] => "thermocouples are out of the set".to_owned(),
    }
}

/// One that left: by whom, why, and whether that can be.
fn left(basis: &Basis, removed: &Removed, end_h: f64) -> Vec<Deviation> {
    let by = removed.by.as_deref().unwrap_or("the rule of evidence");
    let spare = removed.replaced_by.as_ref();
    let spare = spare.map_or(String::new(), |s| format!(", replaced by {s}"));
    let (channel, from, reason) = (&removed.channel, removed.from.words(), &removed.reason);
    let says = format!("{channel} left the set at {from} by {by}: {reason}{spare}");
    let mut all = vec![Deviation::told(says)];
    let named = basis.paper.people.iter().any(|p| p.name == by);
    if removed.by.is_some() && !named {
        let says = format!("{by}, who took {channel} out, is not named under people");
        all.push(Deviation::told(says));
    }
    if removed.from.h() > end_h {
        let end = Hours::from_h(end_h).words();
        let says = format!("{channel} was to leave at {from}; the log ends at {end}");
        all.push(Deviation::waits(says));
    }
    all
}

/// What failed, with the evidence.
pub(super) fn failures(findings: &Findings) -> Vec<Deviation> {
    let says = |failure: &Failure| {
        let taken_out = findings
            .removed
            .iter()
            .find(|r| r.channel == failure.channel);
        let follows = failure.counts_words(taken_out);
        let remedy = match failure.kind {
            FailureKind::Exchanged => {
                "; where it is known that plugs were exchanged, the log is read with the names of the channels put right"
            }
            _ => "",
        };
        format!(
            "{}: {}, first evidence at {} ({}); {follows}{remedy}",
            failure.channel,
            failure.kind.words(),
            failure.first_evidence.words(),
            failure.evidence,
        )
    };
    let failures = findings.failures.iter();
    failures.map(says).map(Deviation::told).collect()
}

/// Who says nothing more, and what a person can do about it.
pub(super) fn silent(findings: &Findings) -> Vec<Deviation> {
    let says = |silent: &Silent| {
        format!(
            "{} says nothing more after {}; if it failed, a named person can take it out from there with the reason, and put a \
             spare in its place",
            silent.channel,
            silent.from.words()
        )
    };
    findings
        .silent
        .iter()
        .map(says)
        .map(Deviation::told)
        .collect()
}

/// Readings of places where the job says that there is no wire.
pub(super) fn without_wire(matched: &Matched) -> Option<Deviation> {
    let names = matched.without_wire.join(", ");
    let says = format!(
        "the log has {names}, where the job fits no wire and the plan only predicts them: they are drawn and judge nothing; \
         if the wires are there, the job file says so"
    );
    (!names.is_empty()).then(|| Deviation::told(says))
}

/// A soak band that hangs on one thermocouple.
pub(super) fn few(matched: &Matched) -> Option<Deviation> {
    let channels = || matched.channels.iter();
    let spares = channels().filter(|c| c.role == Role::Spare).count();
    let judging = |c: &&checks::ChannelUse| c.place == Place::SoakBand && c.role != Role::Spare;
    let alone = channels().filter(judging).count() < 2 && spares == 0;
    let says = "one thermocouple judges the soak band and there is no spare";
    alone.then(|| Deviation::told(says.into()))
}
