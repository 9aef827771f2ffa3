//! What an inspector should know before the findings: what was not as it should be around the log.

mod equipment;
mod of_log;
mod thermocouples;

use checks::Findings;
use readings::Log;

use crate::model::Accepted;

use super::Basis;
use super::matched::Matched;

pub(super) use of_log::is_gap;

/// Something that was not as it should be.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Deviation {
    /// What.
    pub says: String,
    /// Whether the record can't be called complete before somebody answers for it.
    pub open: bool,
    /// What it comes from, where several may come from the same: one answer may then be given to all of them. It is not
    /// part of the record, which tells each by itself.
    #[serde(skip)]
    pub cause: Option<String>,
}

/// Everything around the log that was not as it should be.
pub fn deviations(
    basis: &Basis,
    log: &Log,
    matched: &Matched,
    (findings, untouched): (&Findings, Option<&Findings>),
) -> Vec<Deviation> {
    let mut all = thermocouples::taken_out(basis, log, findings, untouched);
    all.extend(of_log::unread(log));
    all.extend(of_log::other_weld(&basis.identification.weld, log));
    all.extend(of_log::channels(matched));
    all.extend(thermocouples::without_wire(matched));
    all.extend(equipment::calibrations(basis, log));
    all.extend(of_log::clock(log));
    all.extend(thermocouples::failures(findings));
    all.extend(thermocouples::silent(findings));
    all.extend(of_log::silences_told(log, &findings.settings));
    all.extend(thermocouples::few(matched));
    answered(&mut all, &basis.paper.accepted);
    all
}

impl Deviation {
    fn told(says: String) -> Deviation {
        Deviation {
            says,
            open: false,
            cause: None,
        }
    }

    fn waits(says: String) -> Deviation {
        Deviation {
            open: true,
            ..Deviation::told(says)
        }
    }

    fn with_cause(self, cause: &str) -> Deviation {
        Deviation {
            cause: Some(cause.to_owned()),
            ..self
        }
    }
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
            all.push(Deviation::told(says));
        }
    }
}
