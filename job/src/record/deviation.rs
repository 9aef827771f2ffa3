//! What an inspector should know before the findings: what was not as it should be around the log.

use checks::Findings;
use jiff::civil::Date;
use readings::{Log, Start};
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

/// Everything around the log that was not as it should be.
pub fn deviations(
    basis: &Basis,
    log: &Log,
    matched: &Matched,
    findings: &Findings,
) -> Vec<Deviation> {
    let mut all = around(basis, log, matched, findings);
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
    for removed in &findings.removed {
        let by = removed.by.as_deref().unwrap_or("the rule of evidence");
        let spare = removed
            .replaced_by
            .as_ref()
            .map_or(String::new(), |s| format!(", replaced by {s}"));
        say(
            false,
            format!(
                "{} left the set at {:.2} h by {by}: {}{spare}",
                removed.channel,
                removed.from.h(),
                removed.reason
            ),
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
