//! The definitions by which scans are read, and the words that are printed of them.

use quantity::{Hours, Kelvins};
use serde::Serialize;

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
    /// What is compared with the hold time asked for.
    pub hold_count: HoldCount,
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
            hold_count: HoldCount::LongestRun,
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

pub(crate) const GAP: &str = "gap/1";
pub(crate) const PEAK: &str = "peak/1";
pub(crate) const HOLD_MINIMUM: &str = "hold-minimum/1";
pub(crate) const HOLD_TIME: &str = "hold-time/1";
pub(crate) const RATE: &str = "rate/1";
pub(crate) const HOLD_SPREAD: &str = "hold-spread/1";
pub(crate) const HEATING_SPREAD: &str = "heating-spread/1";
pub(crate) const STAGES: &str = "stages/1";

impl Definitions {
    /// Every definition with its id, its version and the numbers used, as printed on plans and records.
    pub fn printed(&self) -> Vec<Definition> {
        vec![
            Definition {
                id: GAP,
                text: self.gap_text(),
            },
            Definition {
                id: STAGES,
                text: self.stages_text(),
            },
            Definition {
                id: PEAK,
                text: peak_text(),
            },
            Definition {
                id: HOLD_MINIMUM,
                text: hold_minimum_text(),
            },
            Definition {
                id: HOLD_TIME,
                text: self.hold_time_text(),
            },
            Definition {
                id: RATE,
                text: self.rate_text(),
            },
            Definition {
                id: HOLD_SPREAD,
                text: hold_spread_text(),
            },
            Definition {
                id: HEATING_SPREAD,
                text: heating_spread_text(),
            },
        ]
    }

    fn gap_text(&self) -> String {
        format!(
            "A silence is a gap when it is longer than {:.0} min and longer than {} times the longer of the intervals \
             before and after it, or longer than {:.0} min in any case. Nothing is read into a gap.",
            self.gap_floor.minutes(),
            self.gap_factor,
            self.gap_ceiling.minutes()
        )
    }

    fn stages_text(&self) -> String {
        format!(
            "The hold begins when every control and monitor thermocouple of the soak band is at or above the lowest \
             hold minimum of all levels, and ends when one of them last leaves it. Further than {:.0} K below for \
             longer than {:.0} min the hold is lost and heating begins anew; anything less is a dip and stays inside \
             the hold. Crossings are interpolated between scans.",
            self.loss_depth.k(),
            self.loss_time.minutes()
        )
    }

    fn hold_time_text(&self) -> String {
        let binding = match self.hold_count {
            HoldCount::LongestRun => "The longest run binds; the total stands beside it.",
            HoldCount::Total => "The total binds; the longest run stands beside it.",
        };
        format!(
            "Time during which every control and monitor thermocouple of the soak band reads inside the range of the \
             level that asks for the hold, crossings interpolated. A scan in which one of them is silent is not \
             counted; a gap is not counted and breaks the run. {binding} Where the limit is missed only because of \
             silence it is not judged."
        )
    }

    fn rate_text(&self) -> String {
        let beside: Vec<String> = self
            .rate_windows_beside
            .iter()
            .map(|w| format!("{:.0}", w.minutes()))
            .collect();
        format!(
            "Per thermocouple, readings at or above the threshold only: the steepest least-squares slope over {:.0} \
             min, with {} min beside it. A window stays inside one ramp: a climb ends where the thermocouple reaches \
             the lowest hold minimum, a fall begins where it last leaves it; otherwise a ramp turns where the \
             thermocouple is {:.0} K from its extreme, and is dated from where it was last within {:.0} K of it. A \
             ramp shorter than the window is judged whole, one shorter than {:.0} min as if it had taken that long. \
             A ramp with a gap is not judged unless another breaks the limit.",
            self.rate_window.minutes(),
            beside.join(" and "),
            self.turn.k(),
            self.level.k(),
            self.shortest_ramp.minutes()
        )
    }
}

fn peak_text() -> String {
    "The highest reading of any thermocouple at any time, unfiltered. A gap that begins or ends at or above the lowest \
     hold minimum leaves the limit not judged unless another reading breaks it."
        .to_owned()
}

fn hold_minimum_text() -> String {
    "The highest temperature at or above which every control and monitor thermocouple of the soak band stood at one \
     instant. How long they stood in the range is judged as hold time; the lowest reading inside the hold stands \
     beside it."
        .to_owned()
}

fn hold_spread_text() -> String {
    "Hottest less coldest control and monitor thermocouple of the soak band in the same scan, the largest inside the \
     hold. A scan in which one of them is silent is not read; a gap inside the hold leaves the limit not judged unless \
     another scan breaks it."
        .to_owned()
}

fn heating_spread_text() -> String {
    "Largest difference in the same scan between two control or monitor thermocouples of the soak band no further \
     apart along the pipe than the limit says (distance round the pipe is taken as none, which is the strict side), \
     while heating."
        .to_owned()
}
