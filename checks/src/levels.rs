//! The hold range by which each level's hold is judged.

use rules::requirement::{Level, Limit, LimitKind};

use crate::hold_clock::Range;

/// The range of a level: its own where it sets one, else that of the code, else the lowest minimum that there is.
pub(crate) fn range_of(limits: &[Limit], level: Level) -> Range {
    let own = own_range(limits, level);
    let code = own_range(limits, Level::Code);
    Range {
        low_c: own.low_c.or(code.low_c).or(lowest_hold_minimum_c(limits)),
        high_c: own.high_c.or(code.high_c),
    }
}

/// The lowest hold minimum of all levels: where heating ends and cooling begins, whoever judges.
pub(crate) fn lowest_hold_minimum_c(limits: &[Limit]) -> Option<f64> {
    let of_level = |level| own_range(limits, level).low_c;
    [Level::Code, Level::Owner, Level::Procedure, Level::Guidance]
        .into_iter()
        .filter_map(of_level)
        .reduce(f64::min)
}

fn own_range(limits: &[Limit], level: Level) -> Range {
    let own = || limits.iter().filter(move |l| l.level == level);
    let lows = own().filter_map(|l| match l.kind {
        LimitKind::HoldMin(min) => Some(min.c()),
        _ => None,
    });
    let highs = own().filter_map(|l| match l.kind {
        LimitKind::HoldMax(max) => Some(max.c()),
        _ => None,
    });
    Range {
        low_c: lows.reduce(f64::max),
        high_c: highs.reduce(f64::min),
    }
}
