//! The definitions by which scans are read.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};
use serde::Serialize;

use crate::disposition::Removal;
use crate::signs::FailureSigns;

/// How a log is read. The defaults are the project's own; a procedure may set others, and what was used is printed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Definitions {
    /// Window of the least-squares slope that a rate limit is compared with.
    pub rate_window: Hours,
    /// Shorter windows printed beside it.
    pub rate_windows_beside: Vec<Hours>,
    /// A ramp shorter than this is read as if it had taken this long.
    pub shortest_ramp: Hours,
    /// A channel has turned from climbing to falling, or back, when it is this far from its extreme.
    pub turn: Kelvins,
    /// The extreme lasts while the channel is no further from it than this.
    pub level: Kelvins,
    /// A hold is lost when the coldest channel is further than this below the range ...
    pub loss_depth: Kelvins,
    /// ... for longer than this; else it is a dip.
    pub loss_time: Hours,
    /// A silence no longer than this is not a gap.
    pub gap_floor: Hours,
    /// A silence longer than this many times the longer of its neighboring intervals is a gap.
    pub gap_factor: f64,
    /// A silence longer than this is a gap whatever the pace of the log.
    pub gap_ceiling: Hours,
    /// Metal is not taken to heat or cool faster than this in a gap.
    pub fastest_change: KelvinsPerHour,
    /// What is compared with the hold time asked for.
    pub hold_count: HoldCount,
    /// How much wider and narrower at each end the range of a hold is read beside.
    pub hold_allowance: Kelvins,
    /// An attempt begins no lower than this above the first reading.
    pub start_rise: Kelvins,
    /// Metal no warmer than this has not been heated, whatever threshold a rate has.
    pub cold: Celsius,
    /// Cooling is begun when the coldest channel last stood within `level` of its highest in this span.
    pub cooling_lookback: Hours,
    /// What an interruption of the heating that stays above the threshold is.
    pub interruption: Interruption,
    /// Readings of the running median, an odd number.
    pub filter_readings: usize,
    /// Longest span of the running median; three readings are taken in any case.
    pub filter_span: Hours,
    /// Time after which a hold has settled.
    pub settling: Hours,
    /// Whether only the spread of the settled hold binds.
    pub settled_spread_binds: bool,
    /// By what rule a failed thermocouple leaves the set.
    pub removal: Removal,
    /// Fewer thermocouples than this in the soak band can't judge the hold.
    pub fewest_thermocouples: usize,
    /// How long readings wait for evidence against them; older evidence acts from there on.
    pub evidence_reach: Hours,
    /// The signs by which a failed thermocouple is known.
    pub signs: FailureSigns,
}

/// What an interruption of the heating is when the metal stays above the threshold of the rates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Interruption {
    /// Part of the same attempt, counted in it.
    SameAttempt,
    /// The end of an attempt and the beginning of the next.
    NewAttempt,
}

/// What is compared with the hold time asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum HoldCount {
    /// The longest run that no gap, dip or overshoot breaks.
    LongestRun,
    /// All runs together.
    Total,
}

impl Default for Definitions {
    fn default() -> Definitions {
        Definitions {
            rate_window: Hours::from_min(60.0),
            rate_windows_beside: vec![Hours::from_min(15.0), Hours::from_min(30.0)],
            shortest_ramp: Hours::from_min(15.0),
            turn: Kelvins::from_k(15.0),
            level: Kelvins::from_k(3.0),
            loss_depth: Kelvins::from_k(15.0),
            loss_time: Hours::from_min(10.0),
            gap_floor: Hours::from_min(2.0),
            gap_factor: 2.5,
            gap_ceiling: Hours::from_min(5.0),
            fastest_change: KelvinsPerHour::from_k_h(500.0),
            hold_count: HoldCount::LongestRun,
            hold_allowance: Kelvins::from_k(0.5),
            start_rise: Kelvins::from_k(20.0),
            cold: Celsius::from_c(50.0),
            cooling_lookback: Hours::from_min(30.0),
            interruption: Interruption::SameAttempt,
            filter_readings: 5,
            filter_span: Hours::from_min(5.0),
            settling: Hours::from_min(10.0),
            settled_spread_binds: false,
            removal: Removal::Never,
            fewest_thermocouples: 1,
            evidence_reach: Hours::from_min(60.0),
            signs: FailureSigns::default(),
        }
    }
}

/// A definition as it is printed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Definition {
    /// Its id with its version, for example `hold-time/1`.
    pub id: &'static str,
    /// What it says, with the numbers used.
    pub text: String,
}
