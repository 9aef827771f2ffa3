//! Two files that tell of one channel at one time: alike, or settled by a person.

use std::time::Duration;

use quantity::Celsius;

use crate::complaint::{Complaint, ComplaintKind};
use crate::join::{CLOSE, JoinError};
use crate::log::Log;
use crate::scan::Scan;
use crate::words::words;

/// A scan of the later file at which the files contradict each other.
struct Contradiction {
    at: Duration,
    channel: String,
    told: [Celsius; 2],
}

/// Silences what a person says does not hold, so that no reading of one file stands against one of the other.
pub(crate) fn settle_overlap(
    joined: &mut Log,
    later: &mut Vec<Scan>,
    file: &str,
    said: Option<&str>,
) -> Result<(), JoinError> {
    let names: Vec<&str> = joined.channels.iter().map(|c| c.name.as_str()).collect();
    let close = usual_step(&joined.scans) * CLOSE;
    let found: Vec<Contradiction> = later
        .iter()
        .filter_map(|scan| contradiction(&joined.scans, close, scan, &names))
        .collect();
    let Some(first) = found.first() else {
        return Ok(());
    };
    let kept: Vec<&str> = joined.files.iter().map(|f| f.name.as_str()).collect();
    let (one, other, count) = (kept.join(", "), file.to_string(), found.len());
    let Some(said) = said else {
        let began = joined.start.local();
        let since = jiff::SignedDuration::try_from(first.at).unwrap_or_default();
        let at = began.checked_add(since).unwrap_or(began);
        return Err(JoinError::Contradict {
            one,
            other,
            count,
            at: at.strftime("%Y-%m-%d %H:%M:%S").to_string(),
            channel: first.channel.clone(),
            told: first.told,
        });
    };
    let (before, given) = (joined.scans.clone(), later.clone());
    if said != "later" {
        hush(later, &before, close);
    }
    if said != "earlier" {
        let close = usual_step(&given) * CLOSE;
        hush(&mut joined.scans, &given, close);
    }
    let kept = match said {
        "earlier" => one,
        "later" => other,
        _ => "neither".to_string(),
    };
    joined.complaints.push(Complaint {
        file: file.to_string(),
        line: None,
        kind: ComplaintKind::OverlapDiffers { count, kept },
        more: Vec::new(),
    });
    Ok(())
}

fn usual_step(scans: &[Scan]) -> Duration {
    let steps = scans
        .windows(2)
        .map(|pair| pair[1].elapsed - pair[0].elapsed);
    let mut steps: Vec<Duration> = steps.collect();
    steps.sort_unstable();
    steps.get(steps.len() / 2).copied().unwrap_or_default()
}

/// What scans say of a channel at a time: there, or on the straight line between two close scans.
fn told(scans: &[Scan], close: Duration, channel: usize, at: Duration) -> Option<Told> {
    let reading = |place: usize| scans.get(place)?.readings[channel].map(|t| t.c());
    let next = match scans.binary_search_by_key(&at, |s| s.elapsed) {
        Ok(place) => return reading(place).map(Told::There),
        Err(next) => next,
    };
    let before = next.checked_sub(1)?;
    let (from, to) = (reading(before)?, reading(next)?);
    let long = scans[next].elapsed - scans[before].elapsed;
    let part = (at - scans[before].elapsed).as_secs_f64() / long.as_secs_f64();
    (long <= close).then_some(Told::Between(from + part * (to - from)))
}

enum Told {
    There(f64),
    Between(f64),
}

/// Readings of one time have to be equal; one between two others may lie this far off their line.
fn contradiction(
    known: &[Scan],
    close: Duration,
    scan: &Scan,
    names: &[&str],
) -> Option<Contradiction> {
    let of_channel = |channel: usize| {
        let new = scan.readings[channel]?.c();
        let old = match told(known, close, channel, scan.elapsed)? {
            Told::There(old) if old != new => old,
            Told::Between(old) if (old - new).abs() > words().overlap.apart_k => old,
            _ => return None,
        };
        Some((names[channel].to_owned(), [old, new].map(Celsius::from_c)))
    };
    let (channel, told) = (0..scan.readings.len()).find_map(of_channel)?;
    let at = scan.elapsed;
    Some(Contradiction { at, channel, told })
}

/// Takes away the readings of channels of which other scans tell at the same time.
fn hush(scans: &mut Vec<Scan>, by: &[Scan], close: Duration) {
    scans.retain_mut(|scan| {
        let mut hushed = false;
        for channel in 0..scan.readings.len() {
            let covered = told(by, close, channel, scan.elapsed).is_some();
            hushed |= covered && scan.readings[channel].take().is_some();
        }
        let there = by
            .binary_search_by_key(&scan.elapsed, |s| s.elapsed)
            .is_ok();
        !hushed || there || scan.readings.iter().any(Option::is_some)
    });
}
