//! What an inspector should know before the findings: what was not as it should be around the log.

use checks::{Definitions, Findings, Origin, Verdict};
use jiff::civil::Date;
use readings::{Complaint, ComplaintKind, Log, Start};
use rules::thermocouple::{Place, Role};

use crate::model::Accepted;

use super::Basis;
use super::matched::Matched;

/// Something that was not as it should be.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Deviation {
    /// What.
    pub says: String,
    /// Whether the record can't be called complete before somebody answers for it.
    pub open: bool,
}

/// Silences told one by one.
const SILENCES: usize = 4;

/// Stretches without a scan that are gaps by the definitions, in s.
fn silences(log: &Log, definitions: &Definitions) -> Vec<(f64, f64)> {
    let times_s: Vec<f64> = log.scans.iter().map(|s| s.elapsed.as_secs_f64()).collect();
    let gaps = is_gap(definitions);
    let steps = times_s.windows(2).enumerate();
    steps
        .filter(|(i, step)| {
            let beside = |from: usize| times_s.get(from..from + 2).map_or(0.0, |s| s[1] - s[0]);
            let before_s = i.checked_sub(1).map_or(0.0, beside);
            gaps(step[1] - step[0], before_s.max(beside(i + 1)))
        })
        .map(|(_, step)| (step[0], step[1]))
        .collect()
}

/// Whether a silence is a gap beside the longer of its neighbors, as `gap` defines it; all in s.
pub(super) fn is_gap(definitions: &Definitions) -> impl Fn(f64, f64) -> bool {
    let [floor_s, ceiling_s] = [definitions.gap_floor.s(), definitions.gap_ceiling.s()];
    let factor = definitions.gap_factor;
    move |silent_s, pace_s| silent_s > ceiling_s || silent_s > floor_s.max(factor * pace_s)
}

/// Everything around the log that was not as it should be.
pub fn deviations(
    basis: &Basis,
    log: &Log,
    matched: &Matched,
    (findings, untouched): (&Findings, Option<&Findings>),
) -> Vec<Deviation> {
    let mut all = taken_out(basis, log, findings, untouched);
    all.extend(around(basis, log, matched, findings));
    answered(&mut all, &basis.paper.accepted);
    all
}

/// Closes what somebody answers for, and says so; what nobody can find is told.
fn answered(all: &mut Vec<Deviation>, accepted: &[Accepted]) {
    for one in accepted {
        let mut found = false;
        for deviation in all
            .iter_mut()
            .filter(|d| d.says.starts_with(&one.deviation))
        {
            found = true;
            deviation.open = false;
            deviation.says = format!("{}; accepted by {}: {}", deviation.says, one.by, one.reason);
        }
        if !found {
            let says = format!(
                "{} accepts a deviation that there is not: {}",
                one.by, one.deviation
            );
            all.push(Deviation { says, open: false });
        }
    }
}

/// Who took which thermocouple out, and what would be found if none had been.
fn taken_out(
    basis: &Basis,
    log: &Log,
    findings: &Findings,
    untouched: Option<&Findings>,
) -> Vec<Deviation> {
    let mut all = Vec::new();
    let mut say = |open: bool, says: String| all.push(Deviation { says, open });
    let end_h = log
        .scans
        .last()
        .map_or(0.0, |s| s.elapsed.as_secs_f64() / 3600.0);
    for removed in &findings.removed {
        let by = removed.by.as_deref().unwrap_or("the rule of evidence");
        let spare = removed.replaced_by.as_ref();
        let spare = spare.map_or(String::new(), |s| format!(", replaced by {s}"));
        let (channel, from_h, reason) = (&removed.channel, removed.from.h(), &removed.reason);
        say(
            from_h > end_h,
            format!("{channel} left the set at {from_h:.2} h by {by}: {reason}{spare}"),
        );
        let named = basis.paper.people.iter().any(|p| p.name == by);
        if removed.by.is_some() && !named {
            say(
                false,
                format!("{by}, who took {channel} out, is not named under people"),
            );
        }
        if from_h > end_h {
            say(
                true,
                format!("{channel} was to leave at {from_h:.2} h; the log ends at {end_h:.2} h"),
            );
        }
    }
    let before = untouched.map_or(&[][..], |u| u.findings.as_slice());
    for (now, before) in findings.findings.iter().zip(before) {
        if now.verdict != before.verdict {
            let by = findings.thermocouples.iter().map(|t| t.name.as_str());
            let by: Vec<&str> = by.collect();
            let sentence = before.sentence(Origin::Measured, basis.units, &by);
            // Readings that broke a limit and no longer count are for somebody to answer.
            let clears = before.verdict == Verdict::NotMet && now.verdict == Verdict::Met;
            say(clears, format!("with none taken out, {sentence}"));
        }
    }
    all
}

fn around(basis: &Basis, log: &Log, matched: &Matched, findings: &Findings) -> Vec<Deviation> {
    let mut all = Vec::new();
    let mut say = |open: bool, says: String| all.push(Deviation { says, open });
    let lost = log.complaints.iter().filter(|c| c.kind.lost_readings());
    if let Some(first) = lost.clone().next() {
        let places = match lost.count() {
            1 => "one place of the log".to_owned(),
            count => format!("{count} places of the log"),
        };
        say(
            true,
            format!("{places} could not be read, and what stood there is unknown ({first})"),
        );
    }
    let overruled = |c: &&Complaint| matches!(c.kind, ComplaintKind::SaidOtherwise { .. });
    for complaint in log.complaints.iter().filter(overruled) {
        say(true, complaint.to_string());
    }
    for name in &matched.missing {
        say(true, format!("{name} stands in the job and not in the log"));
    }
    if !matched.unknown.is_empty() {
        let names = matched.unknown.join(", ");
        say(
            false,
            format!("channels of the log that the job does not know judge nothing: {names}"),
        );
    }
    let day = log.start.local().date();
    for equipment in &basis.paper.equipment {
        let name = named(&equipment.what, &equipment.serial);
        match equipment.calibration_due {
            Some(due) if ran_out(due, day) => say(
                true,
                format!(
                    "the calibration of {name} ran out on {due}, before the day of the run, {day}"
                ),
            ),
            Some(_) => {}
            None => say(
                false,
                format!("no day is given on which the calibration of {name} runs out"),
            ),
        }
    }
    if basis.paper.equipment.is_empty() {
        say(
            false,
            "no recorder, thermocouples or source with their calibrations are named".into(),
        );
    }
    if matches!(log.start, Start::Local(_)) {
        say(
            false,
            "times are those of the recorder's clock; its time zone is not stated".into(),
        );
    }
    for failure in &findings.failures {
        say(
            false,
            format!(
                "{}: {}, first evidence at {:.2} h ({}){}",
                failure.channel,
                failure.kind.words(),
                failure.first_evidence.h(),
                failure.evidence,
                failure.acts_from.map_or(
                    ", stays judged",
                    |_| ", judged no more from its evidence on"
                ),
            ),
        );
    }
    let silences = silences(log, &findings.settings);
    for (from_s, to_s) in silences.iter().take(SILENCES) {
        let [from_h, to_h] = [from_s / 3600.0, to_s / 3600.0];
        say(
            false,
            format!("no scan between {from_h:.2} h and {to_h:.2} h"),
        );
    }
    if silences.len() > SILENCES {
        say(
            false,
            format!("{} more such silences", silences.len() - SILENCES),
        );
    }
    let spares = matched
        .channels
        .iter()
        .filter(|c| c.role == Role::Spare)
        .count();
    let soak = matched
        .channels
        .iter()
        .filter(|c| c.place == Place::SoakBand && c.role != Role::Spare)
        .count();
    if soak < 2 && spares == 0 {
        say(
            false,
            "one thermocouple judges the soak band and there is no spare".into(),
        );
    }
    all
}

fn ran_out(due: Date, day: Date) -> bool {
    due < day
}

fn named(what: &str, serial: &str) -> String {
    match serial {
        "" => what.to_string(),
        serial => format!("{what} {serial}"),
    }
}
