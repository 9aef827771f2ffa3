//! What the plan foresaw for each thermocouple, laid on the log.

use job::record::{Against, ChannelAgainst, Record};
use quantity::Units;
use serde::Serialize;

use super::shown;
use super::thin::{Frame, Thinned};

/// One instant of a thermocouple, measured and foreseen.
type Point = job::record::PointAgainst;

/// The plan, as far as a chart names it.
#[derive(Debug, Serialize)]
pub struct PlanMeta {
    /// Unit of a difference of temperature.
    unit: &'static str,
    /// Whether it was made from the job file by which the log is judged.
    same_job: bool,
}

/// The plan of a record, where it could be laid on the log.
pub(super) fn plan_meta(record: &Record) -> Option<PlanMeta> {
    let against = laid(record)?;
    let unit = match record.basis.units {
        Units::Si => "K",
        Units::Us => "°F",
    };
    let same_job = against.same_job;
    Some(PlanMeta { unit, same_job })
}

fn laid(record: &Record) -> Option<&Against> {
    let (_, against) = record.plan.as_ref()?;
    let lies = against.not_laid.is_none() && !against.channels.is_empty();
    lies.then_some(against)
}

/// What was foreseen.
pub(super) fn foreseen(point: &Point, units: Units) -> f64 {
    shown(point.predicted, units)
}

/// Measured less foreseen.
pub(super) fn gap(point: &Point, units: Units) -> f64 {
    shown(point.measured, units) - shown(point.predicted, units)
}

/// A value of each channel of the log, in the order of the log; nothing of all where no plan lies on it.
pub(super) fn thinned(
    record: &Record,
    frame: &Frame,
    value: fn(&Point, Units) -> f64,
) -> Vec<Thinned> {
    let Some(against) = laid(record) else {
        return Vec::new();
    };
    let of_channel = |index: usize| {
        let known = record.matched.of_log(index)?;
        let channels = &against.channels;
        let channel = channels.iter().find(|one| one.name == known.name)?;
        Some(line(channel, frame, record.basis.units, value))
    };
    (0..record.log.channels.len())
        .map(|index| of_channel(index).unwrap_or_default())
        .collect()
}

/// Between two pieces of the plan the line is broken.
fn line(
    channel: &ChannelAgainst,
    frame: &Frame,
    units: Units,
    value: fn(&Point, Units) -> f64,
) -> Thinned {
    let points = frame.with_neighbors(&channel.points, |point| point.at.h());
    let mut piece = None;
    let values = points.iter().flat_map(|point| {
        let is_new = piece.is_some_and(|before| before != point.piece);
        piece = Some(point.piece);
        let broken = is_new.then_some((point.at.h(), None));
        let there = (point.at.h(), Some(value(point, units)));
        broken.into_iter().chain([there])
    });
    frame.thinned(values, f64::INFINITY)
}
