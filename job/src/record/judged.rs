//! The scans of a log judged, each with what happened and the power of its zones.

use std::time::Duration;

use checks::{Checker, Definitions, Findings, Removal};
use readings::{Log, Series, SeriesKind};

use super::matched::Matched;
use super::{Basis, RecordError, Step, happened};

/// Scans between two words about how far it has come.
const TOLD_EVERY: usize = 2000;

/// What the log says of every limit; and what it would say with no thermocouple taken out, where one is.
pub(super) fn judged(
    basis: &Basis,
    log: &Log,
    matched: &Matched,
    watch: &mut dyn FnMut(Step<'_>),
) -> Result<(Findings, Option<Findings>), RecordError> {
    let definitions = basis.definitions.clone();
    let checker = Checker::of_limits(basis.limits.clone(), &matched.channels, definitions)
        .with_dispositions(basis.paper.dispositions.clone())?;
    let findings = read(checker, basis, log, matched, watch)?;
    if findings.removed.is_empty() {
        return Ok((findings, None));
    }
    let all_stay = Definitions {
        removal: Removal::Never,
        ..basis.definitions.clone()
    };
    let checker = Checker::of_limits(basis.limits.clone(), &matched.channels, all_stay);
    let untouched = read(checker, basis, log, matched, watch)?;
    Ok((findings, Some(untouched)))
}

fn read(
    checker: Checker,
    basis: &Basis,
    log: &Log,
    matched: &Matched,
    watch: &mut dyn FnMut(Step<'_>),
) -> Result<Findings, RecordError> {
    let mut checker = checker.with_zones(basis.paper.zones.clone())?;
    happened::events(log)
        .iter()
        .for_each(|event| checker.note(event));
    let mut powers = zone_powers(basis, log)?;
    for (index, scan) in log.scans.iter().enumerate() {
        if index % TOLD_EVERY == 0 {
            let part = index as f64 / log.scans.len() as f64;
            watch(Step::Judging { part });
        }
        for (zone, points) in powers.iter_mut().enumerate() {
            while let Some((at, power)) = points.next_if(|point| point.0 <= scan.elapsed) {
                checker.power(zone, *at, *power);
            }
        }
        checker.push(&matched.scan(scan));
    }
    Ok(checker.findings())
}

type Points<'l> = std::iter::Peekable<std::slice::Iter<'l, (Duration, f64)>>;

/// The logged power of each zone.
fn zone_powers<'l>(basis: &Basis, log: &'l Log) -> Result<Vec<Points<'l>>, RecordError> {
    let is_power = |s: &&Series| {
        matches!(
            s.kind,
            SeriesKind::Power | SeriesKind::Output | SeriesKind::ZoneState
        )
    };
    let zones = basis.paper.zones.iter();
    zones
        .map(|zone| {
            let mut known = log.others.iter().filter(is_power);
            let found = known.find(|s| s.name.eq_ignore_ascii_case(&zone.power));
            let series = found.ok_or_else(|| RecordError::NoPower {
                wanted: zone.power.clone(),
                found: names(log.others.iter().filter(is_power)),
            })?;
            Ok(series.points.iter().peekable())
        })
        .collect()
}

fn names<'l>(series: impl Iterator<Item = &'l Series>) -> String {
    let names: Vec<&str> = series.map(|s| s.name.as_str()).collect();
    match names.is_empty() {
        true => "no power at all".into(),
        false => names.join(", "),
    }
}
