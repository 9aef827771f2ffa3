//! Several files of one heat as one log.

use std::time::Duration;

use quantity::Celsius;

use crate::complaint::{Complaint, ComplaintKind};
use crate::log::{Log, Start};
use crate::mapping::Mapping;
use crate::overlap::settle_overlap;
use crate::scan::{Channel, Scan};
use crate::timer::clock_ns;

/// Why logs are not one.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum JoinError {
    /// No log at all.
    #[error("no log to join")]
    Nothing,
    /// One file knows its zone and another does not.
    #[error(
        "{one} tells moments of UTC and {} only what a clock showed; say time_zone for all, or of one file alone, for example \
         file.{}.time_zone=Europe/Lisbon", .others.join(", "), .others.first().map_or("FILE", String::as_str)
    )]
    Clocks {
        /// A file with a zone.
        one: String,
        /// The files without.
        others: Vec<String>,
    },
    /// Two files tell different things of one channel at one time.
    #[error(
        "{one} and {other} overlap and contradict each other in {count} scans, first at {at}: {}. Either one of them \
         is wrong or their clocks differ: say overlap = \"earlier\" to keep {one}, overlap = \"later\" to keep {other}, \
         overlap = \"neither\" to leave both out there, or clock.{other} = \"+300\" (for example) for the seconds by which \
         its clock was slow; overlap holds of every file, file.{other}.overlap of this one alone",
        beside_each_other(channel, told)
    )]
    Contradict {
        /// The file that begins earlier.
        one: String,
        /// The other.
        other: String,
        /// How many scans of the other.
        count: usize,
        /// What the clock of the first showed.
        at: String,
        /// The first channel of which they differ there.
        channel: String,
        /// What the first tells of it and what the other.
        told: [Celsius; 2],
    },
}

/// What two files tell of a channel, for words that do not know their reader.
fn beside_each_other(channel: &str, told: &[Celsius; 2]) -> String {
    let [one, other] = told.map(|t| format!("{:.1} °C ({:.1} °F)", t.c(), t.f()));
    format!("{channel} {one} and {other}")
}

/// Silence between files that is no more than this many times the usual step is none.
pub(crate) const CLOSE: u32 = 3;

/// Joins logs by time. Channels of one name are one channel. Where files overlap and contradict each other, the mapping has
/// to say which of them holds.
///
/// # Errors
/// [`JoinError`] where there is nothing to join, clocks cannot be compared, or files contradict each other.
pub fn join(mut logs: Vec<Log>, mapping: &Mapping) -> Result<Log, JoinError> {
    comparable(&logs.iter().collect::<Vec<_>>())?;
    logs.sort_by_key(begin_ns);
    let mut rest = logs.into_iter();
    let mut joined = rest.next().ok_or(JoinError::Nothing)?;
    let joined_from = begin_ns(&joined);
    for log in rest {
        let shift = Duration::from_nanos(u64::try_from(begin_ns(&log) - joined_from).unwrap_or(0));
        let said = mapping.of(name_of(&log));
        append(&mut joined, log, shift, said.overlap.as_deref())?;
    }
    Ok(joined)
}

/// When a log begins; of two logs with or without a zone the difference tells how far they are apart.
pub(crate) fn begin_ns(log: &Log) -> i64 {
    match &log.start {
        Start::Moment { at, .. } => i64::try_from(at.as_nanosecond()).unwrap_or(0),
        Start::Local(local) => clock_ns(*local).unwrap_or(0),
    }
}

fn name_of(log: &Log) -> &str {
    log.files.first().map_or("", |file| file.name.as_str())
}

pub(crate) fn comparable(logs: &[&Log]) -> Result<(), JoinError> {
    let of_kind = |moment: bool| {
        let logs = logs
            .iter()
            .filter(move |log| log.start.moment().is_some() == moment);
        logs.map(|log| name_of(log).to_owned())
    };
    let others: Vec<String> = of_kind(false).collect();
    match of_kind(true).next() {
        Some(one) if !others.is_empty() => Err(JoinError::Clocks { one, others }),
        _ => Ok(()),
    }
}

fn append(
    joined: &mut Log,
    mut log: Log,
    shift: Duration,
    said: Option<&str>,
) -> Result<(), JoinError> {
    let file = log.files.first().map_or(String::new(), |f| f.name.clone());
    let place: Vec<usize> = log.channels.iter().map(|c| place_of(joined, c)).collect();
    let width = joined.channels.len();
    for scan in &mut joined.scans {
        scan.readings.resize(width, None);
    }
    let end = joined.scans.last().map_or(Duration::ZERO, |s| s.elapsed);
    note_distance(joined, &file, end, shift);
    let mut scans: Vec<Scan> = Vec::with_capacity(log.scans.len());
    for scan in std::mem::take(&mut log.scans) {
        let mut readings = vec![None; width];
        for (reading, place) in scan.readings.iter().zip(&place) {
            readings[*place] = *reading;
        }
        let elapsed = scan.elapsed + shift;
        scans.push(Scan { elapsed, readings });
    }
    settle_overlap(joined, &mut scans, &file, said)?;
    let mut alike = 0;
    let mut later: Vec<Scan> = Vec::new();
    for scan in scans {
        match joined
            .scans
            .binary_search_by_key(&scan.elapsed, |s| s.elapsed)
        {
            Ok(at) => {
                merge(&mut joined.scans[at], &scan.readings);
                alike += 1;
            }
            Err(_) => later.push(scan),
        }
    }
    joined.scans.extend(later);
    joined.scans.sort_by_key(|s| s.elapsed);
    if alike > 0 {
        joined.complaints.push(Complaint {
            file: file.clone(),
            line: None,
            kind: ComplaintKind::OverlapAlike { count: alike },
            more: Vec::new(),
        });
    }
    joined
        .events
        .extend(log.events.into_iter().map(|mut event| {
            event.elapsed += shift;
            event
        }));
    joined.events.sort_by_key(|event| event.elapsed);
    for mut series in log.others {
        series.points.iter_mut().for_each(|(at, _)| *at += shift);
        match joined
            .others
            .iter_mut()
            .find(|s| s.name == series.name && s.kind == series.kind)
        {
            Some(known) => {
                let end = known.points.last().map_or(Duration::ZERO, |p| p.0);
                known
                    .points
                    .extend(series.points.into_iter().filter(|p| p.0 > end));
            }
            None => joined.others.push(series),
        }
    }
    joined.files.extend(log.files);
    joined.complaints.extend(log.complaints);
    Ok(())
}

fn place_of(joined: &mut Log, channel: &Channel) -> usize {
    let known = joined.channels.iter().position(|c| c == channel);
    known.unwrap_or_else(|| {
        joined.channels.push(channel.clone());
        joined.channels.len() - 1
    })
}

/// Fills what is silent.
fn merge(scan: &mut Scan, readings: &[Option<quantity::Celsius>]) {
    for (known, new) in scan.readings.iter_mut().zip(readings) {
        *known = known.or(*new);
    }
}

fn note_distance(joined: &mut Log, file: &str, end: Duration, shift: Duration) {
    let steps: Vec<Duration> = joined
        .scans
        .windows(2)
        .map(|p| p[1].elapsed - p[0].elapsed)
        .collect();
    let usual = steps
        .get(steps.len().saturating_sub(1))
        .copied()
        .unwrap_or(Duration::from_secs(60));
    if shift > end + usual * CLOSE {
        joined.complaints.push(Complaint {
            file: file.to_string(),
            line: Some(1),
            kind: ComplaintKind::FilesApart {
                by_s: i64::try_from((shift - end).as_secs()).unwrap_or(i64::MAX),
            },
            more: Vec::new(),
        });
    }
}
