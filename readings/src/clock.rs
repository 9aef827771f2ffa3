//! From what the clock showed row by row to time since the first row.

use jiff::Timestamp;
use jiff::tz::{AmbiguousOffset, TimeZone};

use crate::complaint::ComplaintKind;
use crate::log::Start;
use crate::timer::{NS_PER_S, TimeKind, clock_of};

const HOUR_NS: i64 = 3600 * NS_PER_S;

/// How a clock that goes back is to be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Back {
    /// Nobody says.
    Ask,
    /// Summer time ends.
    SummerTimeEnds,
    /// Rows up to the time already reached are left out.
    LeaveOut,
}

/// Rows on one time base.
#[derive(Debug)]
pub(crate) struct TimeBase {
    /// For each row the time since the first in ns; `None` for a row that is left out.
    pub elapsed_ns: Vec<Option<i64>>,
    pub start: Start,
    /// Complaints with the index of the row.
    pub complaints: Vec<(usize, ComplaintKind)>,
    /// The row at which a clock goes back for no known reason, and by how much.
    pub asked: Option<(usize, i64)>,
}

/// Puts rows on one time base.
pub(crate) fn time_base(
    rows_ns: &[i64],
    kind: TimeKind,
    zone: Option<&TimeZone>,
    back: Back,
) -> TimeBase {
    let first_ns = rows_ns.first().copied().unwrap_or(0);
    match (kind, zone) {
        (TimeKind::Clock, Some(zone)) => {
            let moments = moments(rows_ns, zone);
            let mut base = in_order(&moments, TimeKind::Utc, back);
            note_folds(rows_ns, &moments, &mut base);
            base.start = moment(moments.first().copied().unwrap_or(0), zone.clone());
            base
        }
        (TimeKind::Clock, None) => in_order(rows_ns, kind, back),
        (TimeKind::Utc, zone) => {
            let mut base = in_order(rows_ns, kind, back);
            base.start = moment(first_ns, zone.cloned().unwrap_or(TimeZone::UTC));
            base
        }
        (TimeKind::Start, _) => in_order(rows_ns, kind, back),
    }
}

fn moment(ns: i64, zone: TimeZone) -> Start {
    Start::Moment {
        at: Timestamp::from_nanosecond(i128::from(ns)).unwrap_or(Timestamp::UNIX_EPOCH),
        zone,
    }
}

/// UTC of what clocks of a zone showed; in the hour that comes twice, the first time it is the first of the two.
fn moments(rows_ns: &[i64], zone: &TimeZone) -> Vec<i64> {
    let mut reached = i64::MIN;
    let mut moments = Vec::with_capacity(rows_ns.len());
    for &ns in rows_ns {
        let ambiguous = zone.to_ambiguous_timestamp(clock_of(ns));
        let offset = match ambiguous.offset() {
            AmbiguousOffset::Unambiguous { offset } => offset,
            AmbiguousOffset::Gap { before, .. } => before,
            AmbiguousOffset::Fold { before, after } => {
                let early = ns - NS_PER_S * i64::from(before.seconds());
                if early > reached { before } else { after }
            }
        };
        let at = ns - NS_PER_S * i64::from(offset.seconds());
        reached = reached.max(at);
        moments.push(at);
    }
    moments
}

/// Says where the clock went back and the zone knows why.
fn note_folds(rows_ns: &[i64], moments: &[i64], base: &mut TimeBase) {
    for row in 1..rows_ns.len() {
        if rows_ns[row] < rows_ns[row - 1] && moments[row] > moments[row - 1] {
            base.complaints.push((row, ComplaintKind::SummerTimeEnds));
        }
    }
}

fn in_order(rows_ns: &[i64], kind: TimeKind, back: Back) -> TimeBase {
    let first_ns = rows_ns.first().copied().unwrap_or(0);
    let mut base = TimeBase {
        elapsed_ns: Vec::with_capacity(rows_ns.len()),
        start: Start::Local(clock_of(first_ns)),
        complaints: Vec::new(),
        asked: None,
    };
    let (mut shift_ns, mut reached_ns, mut step_ns) = (0, None::<i64>, None::<i64>);
    for (row, &written_ns) in rows_ns.iter().enumerate() {
        let mut at_ns = written_ns + shift_ns;
        let Some(last_ns) = reached_ns else {
            reached_ns = Some(at_ns);
            base.elapsed_ns.push(Some(0));
            continue;
        };
        let by_an_hour = kind == TimeKind::Clock && is_hour_back(last_ns, at_ns, step_ns);
        if at_ns < last_ns && by_an_hour && back == Back::SummerTimeEnds {
            base.complaints.push((row, ComplaintKind::SummerTimeEnds));
            shift_ns += HOUR_NS;
            at_ns += HOUR_NS;
        }
        if at_ns <= last_ns {
            base.leave_out(row, last_ns - at_ns, back);
            continue;
        }
        if kind == TimeKind::Clock && is_hour_forward(last_ns, at_ns, step_ns) {
            base.complaints
                .push((row, ComplaintKind::PerhapsSummerTimeBegins));
        }
        step_ns = Some(at_ns - last_ns);
        reached_ns = Some(at_ns);
        base.elapsed_ns.push(Some(at_ns - first_ns));
    }
    base
}

impl TimeBase {
    fn leave_out(&mut self, row: usize, back_ns: i64, back: Back) {
        self.elapsed_ns.push(None);
        if back_ns == 0 {
            match self.complaints.last_mut() {
                Some((_, ComplaintKind::SameTimeAgain { count })) => *count += 1,
                _ => self
                    .complaints
                    .push((row, ComplaintKind::SameTimeAgain { count: 1 })),
            }
            return;
        }
        if back != Back::LeaveOut && self.asked.is_none() {
            self.asked = Some((row, back_ns / NS_PER_S));
        }
        let previous_left_out = row > 0 && self.elapsed_ns[row - 1].is_none();
        match self.complaints.last_mut() {
            Some((_, ComplaintKind::ClockSetBack { left_out, .. })) if previous_left_out => {
                *left_out += 1
            }
            _ => self.complaints.push((
                row,
                ComplaintKind::ClockSetBack {
                    by_s: back_ns / NS_PER_S,
                    left_out: 1,
                },
            )),
        }
    }
}

/// An hour less one step, give or take two steps and two minutes.
fn is_hour_back(last_ns: i64, at_ns: i64, step_ns: Option<i64>) -> bool {
    let step_ns = step_ns.unwrap_or(60 * NS_PER_S);
    let beyond_ns = at_ns.saturating_add(HOUR_NS).saturating_sub(last_ns);
    beyond_ns > 0 && beyond_ns <= step_ns.saturating_mul(3).saturating_add(120 * NS_PER_S)
}

fn is_hour_forward(last_ns: i64, at_ns: i64, step_ns: Option<i64>) -> bool {
    let Some(step_ns) = step_ns else {
        return false;
    };
    let beyond_ns = at_ns.saturating_sub(last_ns).saturating_sub(HOUR_NS);
    step_ns <= HOUR_NS / 6 && (0..=3 * step_ns).contains(&beyond_ns)
}
