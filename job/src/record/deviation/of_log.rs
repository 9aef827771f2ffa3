//! What was not as it should be in the log: what could not be read, channels, clock, silences.

use checks::Definitions;
use quantity::Hours;
use readings::{Complaint, ComplaintKind, Log, Start};

use super::Deviation;
use crate::record::matched::Matched;

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
pub(in crate::record) fn is_gap(definitions: &Definitions) -> impl Fn(f64, f64) -> bool {
    let [floor_s, ceiling_s] = [definitions.gap_floor.s(), definitions.gap_ceiling.s()];
    let factor = definitions.gap_factor;
    move |silent_s, pace_s| silent_s > ceiling_s || silent_s > floor_s.max(factor * pace_s)
}

/// What could not be read, and what a person said against the word of the file.
pub(super) fn unread(log: &Log) -> Vec<Deviation> {
    let mut all = Vec::new();
    let lost = log.complaints.iter().filter(|c| c.kind.lost_readings());
    if let Some(first) = lost.clone().next() {
        let places = match lost.map(Complaint::count).sum::<usize>() {
            1 => "one place of the log".to_owned(),
            count => format!("{count} places of the log"),
        };
        all.push(Deviation::waits(format!(
            "{places} could not be read, and what stood there is unknown ({first})"
        )));
    }
    let overruled = |c: &&Complaint| matches!(c.kind, ComplaintKind::SaidOtherwise { .. });
    let overruled = log.complaints.iter().filter(overruled);
    let cause = "something was said against the word of the files";
    all.extend(overruled.map(|c| Deviation::waits(c.to_string()).with_cause(cause)));
    all
}

/// Channels that only the job or only the log has.
pub(super) fn channels(matched: &Matched) -> Vec<Deviation> {
    let missing = matched.missing.iter();
    let missing = missing.map(|name| format!("{name} stands in the job and not in the log"));
    let cause = "thermocouples of the job are not in the log";
    let missing = missing.map(|says| Deviation::waits(says).with_cause(cause));
    let mut all: Vec<Deviation> = missing.collect();
    if !matched.unknown.is_empty() {
        let names = matched.unknown.join(", ");
        let says = format!("channels of the log that the job does not know judge nothing: {names}");
        all.push(Deviation::told(says));
    }
    all
}

/// A file that names another weld than the job; which of them is right is not for the program to say.
pub(super) fn other_weld(wanted: &str, log: &Log) -> Vec<Deviation> {
    let plain = |name: &str| -> String {
        let kept = name.chars().filter(|c| c.is_alphanumeric());
        kept.flat_map(char::to_uppercase).collect()
    };
    let named = log.files.iter().filter_map(|file| {
        let weld = file.weld.as_ref()?;
        let differs = !wanted.is_empty() && plain(&weld.name) != plain(wanted);
        let (file, line) = (&file.name, weld.line);
        differs.then(|| {
            Deviation::told(format!(
                "the log names weld {}, the job {wanted} ({file}, line {line})",
                weld.name
            ))
        })
    });
    named.collect()
}

/// A clock whose zone nobody states.
pub(super) fn clock(log: &Log) -> Option<Deviation> {
    let local = matches!(log.start, Start::Local(_));
    let says = "times are those of the recorder's clock; its time zone is not stated";
    local.then(|| Deviation::told(says.into()))
}

/// The first silences one by one, and how many more there are.
pub(super) fn silences_told(log: &Log, definitions: &Definitions) -> Vec<Deviation> {
    let silences = silences(log, definitions);
    let told = |(from_s, to_s): &(f64, f64)| {
        let [from, to] = [*from_s, *to_s].map(|s| Hours::from_s(s).words());
        Deviation::told(format!("no scan between {from} and {to}"))
    };
    let mut all: Vec<Deviation> = silences.iter().take(SILENCES).map(told).collect();
    if let Some(more) = silences.len().checked_sub(SILENCES + 1) {
        all.push(Deviation::told(format!("{} more such silences", more + 1)));
    }
    all
}
