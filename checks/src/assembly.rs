//! The folds of a checker, set up from its limits and channels.

use quantity::Hours;
use rules::requirement::{Level, Limit, LimitKind};

use crate::channel::ChannelUse;
use crate::definitions::Definitions;
use crate::heating_spread::HeatingSpreadFold;
use crate::hold_clock::HoldClock;
use crate::levels::range_of;
use crate::over::OverFold;
use crate::pace::GapRule;
use crate::rate::{Direction, RateFold};

/// The hold clocks of one limit.
#[derive(Clone, Debug)]
pub(crate) struct Clocks {
    /// Who asks for the hold.
    pub level: Level,
    /// How long it is to be.
    pub asked: Hours,
    /// All thermocouples of the soak band together.
    pub all: HoldClock,
    /// The same with the range wider and narrower at each end, in this order.
    pub beside: Vec<HoldClock>,
    /// Each alone.
    pub each: Vec<(usize, HoldClock)>,
}

pub(crate) fn clocks_of(
    limit: &Limit,
    limits: &[Limit],
    soak: &[usize],
    definitions: &Definitions,
) -> Option<Clocks> {
    let LimitKind::HoldTime(asked) = limit.kind else {
        return None;
    };
    let range = range_of(limits, limit.level);
    let gap_rule = GapRule::of(definitions);
    let clock = |channels: Vec<usize>| HoldClock::new(range, channels, gap_rule);
    let allowance_k = definitions.hold_allowance.k();
    let beside = [allowance_k, -allowance_k].map(|k| range.wider_by(k));
    Some(Clocks {
        level: limit.level,
        asked,
        all: clock(soak.to_vec()),
        beside: beside
            .map(|range| HoldClock::new(range, soak.to_vec(), gap_rule))
            .to_vec(),
        each: soak.iter().map(|c| (*c, clock(vec![*c]))).collect(),
    })
}

/// One fold a direction and threshold, however many limits share it.
pub(crate) fn rates_of(limits: &[Limit], definitions: &Definitions) -> Vec<RateFold> {
    let mut wanted: Vec<(Direction, f64)> =
        limits.iter().filter_map(|l| rate_key(&l.kind)).collect();
    wanted.dedup();
    let mut folds: Vec<RateFold> = Vec::new();
    for (direction, above_c) in wanted {
        if !folds
            .iter()
            .any(|f| f.direction == direction && f.above_c == above_c)
        {
            folds.push(RateFold::new(direction, above_c, definitions));
        }
    }
    folds
}

/// The lowest threshold of a heating rate.
pub(crate) fn lowest_threshold_c(limits: &[Limit]) -> Option<f64> {
    let heating = limits.iter().filter_map(|l| rate_key(&l.kind));
    heating
        .filter(|(direction, _)| *direction == Direction::Heating)
        .map(|(_, above_c)| above_c)
        .reduce(f64::min)
}

/// Direction and threshold of a rate limit.
pub(crate) fn rate_key(kind: &LimitKind) -> Option<(Direction, f64)> {
    match kind {
        LimitKind::HeatingRate { above, .. } => Some((Direction::Heating, above.c())),
        LimitKind::CoolingRate { above, .. } => Some((Direction::Cooling, above.c())),
        _ => None,
    }
}

/// The fold of time above a highest temperature.
pub(crate) fn over_of(limit: &Limit) -> Option<OverFold> {
    match limit.kind {
        LimitKind::HoldMax(max) => Some(OverFold::new(max.c())),
        _ => None,
    }
}

pub(crate) fn heating_spread_of(
    limit: &Limit,
    channels: &[ChannelUse],
    soak: &[usize],
) -> Option<HeatingSpreadFold> {
    let LimitKind::HeatingSpread { within, .. } = limit.kind else {
        return None;
    };
    let places = soak.iter().map(|c| (*c, channels[*c].axial.mm())).collect();
    Some(HeatingSpreadFold::new(within.mm(), places))
}
