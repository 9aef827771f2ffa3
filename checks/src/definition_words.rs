//! The definitions in words, with the numbers used, as they are printed.

use crate::definitions::{Definition, Definitions, HoldCount, Interruption};
use crate::disposition::Removal;

pub(crate) const GAP: &str = "gap/2";
pub(crate) const PEAK: &str = "peak/3";
pub(crate) const HOLD_MINIMUM: &str = "hold-minimum/2";
pub(crate) const HOLD_TIME: &str = "hold-time/3";
pub(crate) const RATE: &str = "rate/3";
pub(crate) const HOLD_SPREAD: &str = "hold-spread/2";
pub(crate) const HEATING_SPREAD: &str = "heating-spread/1";
pub(crate) const STAGES: &str = "stages/1";
pub(crate) const ATTEMPTS: &str = "attempts/1";
pub(crate) const EXPOSURE: &str = "exposure/1";
pub(crate) const GRADIENT: &str = "gradient/1";
pub(crate) const ENDS: &str = "ends/2";
pub(crate) const FILTER: &str = "filter/1";
pub(crate) const SET: &str = "set/3";
pub(crate) const FAILURES: &str = "failures/3";

impl Definitions {
    /// Every definition with its id, its version and the numbers used, as printed on plans and records.
    pub fn printed(&self) -> Vec<Definition> {
        vec![
            Definition {
                id: GAP,
                text: self.gap_text(),
            },
            Definition {
                id: SET,
                text: self.set_text(),
            },
            Definition {
                id: FAILURES,
                text: self.signs.words(),
            },
            Definition {
                id: FILTER,
                text: self.filter_text(),
            },
            Definition {
                id: STAGES,
                text: self.stages_text(),
            },
            Definition {
                id: ATTEMPTS,
                text: self.attempts_text(),
            },
            Definition {
                id: ENDS,
                text: self.ends_text(),
            },
            Definition {
                id: PEAK,
                text: self.peak_text(),
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
                text: self.hold_spread_text(),
            },
            Definition {
                id: HEATING_SPREAD,
                text: heating_spread_text(),
            },
            Definition {
                id: GRADIENT,
                text: gradient_text(),
            },
            Definition {
                id: EXPOSURE,
                text: exposure_text(),
            },
        ]
    }

    fn gap_text(&self) -> String {
        format!(
            "A silence is a gap when it is longer than {:.0} min and longer than {} times the longer of the intervals \
             before and after it, or longer than {:.0} min in any case. Nothing is read into a gap. A thermocouple \
             that speaks more slowly than the scans come, at an even pace of its own, is read between two of its readings on the \
             straight line; a reading that is missing from that pace is silence.",
            self.gap_floor.minutes(),
            self.gap_factor,
            self.gap_ceiling.minutes()
        )
    }

    fn set_text(&self) -> String {
        let leaves = match self.removal {
            Removal::Never => "None leaves the set.",
            Removal::ByWord => {
                "One leaves the set where a named person says so and why, and from then on."
            }
            Removal::WithEvidence => {
                "One leaves the set from the first evidence on that it is open, short-circuited, stuck, reversed, \
                 noisy or detached, and where a named person says so and why."
            }
        };
        format!(
            "Control and monitor thermocouples of the soak band judge the hold, those and the ones at the edge of the \
             heated band the rates, any the maximum. {leaves} Readings before the first evidence stay. While it stays \
             in the set, an open, short-circuited, stuck or reversed one is silent from the first evidence on, and a \
             limit is not met by a noisy, detached, disturbed or exchanged one. Readings wait {:.0} min for evidence against \
             them; where the first evidence lies further back, a limit that such readings were counted for is not met by them \
             either. With fewer than {} in the soak band the hold is not judged. A spare judges only in the place of one \
             that left.",
            self.evidence_reach.minutes(),
            self.fewest_thermocouples
        )
    }

    fn filter_text(&self) -> String {
        format!(
            "Filtered readings are a centered running median of {} readings or of {:.0} min, whichever is shorter, and \
             of three in any case; symmetric, never across a gap, fewer where the log or a gap leaves fewer. Raw \
             readings bind hold, spread and highest temperature, filtered ones the rates. Where the others would \
             change a finding, theirs stands beside it. Predicted readings are not filtered.",
            self.filter_readings,
            self.filter_span.minutes()
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

    fn attempts_text(&self) -> String {
        let interruption = match self.interruption {
            Interruption::SameAttempt => "is counted and does not end the attempt",
            Interruption::NewAttempt => "ends the attempt",
        };
        format!(
            "An attempt begins where the hottest control or monitor thermocouple of the soak band rises through the \
             lowest threshold of the heating rates, and no lower than {:.0} K above its first reading; it ends where \
             that thermocouple falls through the same level, or where a lost hold is heated anew, the next one \
             beginning at the lowest point between. Levels carry {:.0} K of hysteresis. A fall of {:.0} K while heating \
             that lasts longer than {:.0} min and stays above that level {interruption}. The hold ends where the band \
             is left; beside it stands where cooling began: where the coldest last stood within {:.0} K of its highest \
             of {:.0} min. A thermal cycle is a rise through that threshold.",
            self.start_rise.k(),
            self.level.k(),
            self.turn.k(),
            self.loss_time.minutes(),
            self.level.k(),
            self.cooling_lookback.minutes()
        )
    }

    fn hold_time_text(&self) -> String {
        let binding = match self.hold_count {
            HoldCount::LongestRun => {
                "The longest run binds; all runs of all attempts together stand beside it."
            }
            HoldCount::Total => {
                "All runs of all attempts together bind; the longest run stands beside them."
            }
        };
        format!(
            "Time during which every control and monitor thermocouple of the soak band reads inside the range of the \
             level that asks for the hold, crossings interpolated. A scan in which one of them is silent is not \
             counted; a gap is not counted and breaks the run. {binding} Where the limit is missed only because of \
             silence it is not judged. Neither end of a run is known better than the interval of the log there, and no \
             reading better than half the step of the recorder: beside it stand that interval and the longest run in a range \
             {} K wider and narrower at each end.",
            self.hold_allowance.k()
        )
    }

    fn peak_text(&self) -> String {
        format!(
            "The highest reading of any thermocouple at any time, unfiltered. A gap that begins or ends at or above the lowest \
             hold minimum leaves the limit not judged unless another reading breaks it, and so does one in which a change of {:.0} \
             K/h could have broken it and come back. Above a limit the total time and the number of times stand beside it; that is a \
             finding of its own besides the hold that stops counting.",
            self.fastest_change.k_h()
        )
    }

    fn ends_text(&self) -> String {
        format!(
            "Where the log begins or ends with a thermocouple of the soak band at or above the lowest hold minimum, \
             highest temperature and spread of the hold are not judged unless a reading breaks them; nor is the highest \
             temperature where the log ends before a hold with one less than {0:.0} K below its own highest. So is a heating \
             rate where one begins {0:.0} K or more above its threshold, or where the log ends above it before a hold; and a \
             cooling rate where one ends {0:.0} K or more above its threshold. A threshold below {1:.0} °C, or none, is taken \
             as {1:.0} °C for this: colder metal is taken not to have been heated. A prediction is whole.",
            self.turn.k(),
            self.cold.c()
        )
    }

    fn hold_spread_text(&self) -> String {
        let minutes = self.settling.minutes();
        let (binds, beside) = match self.settled_spread_binds {
            false => (
                "inside the hold",
                format!("the largest after the first {minutes:.0} min of it"),
            ),
            true => (
                "inside the hold after its first minutes",
                format!("those minutes are {minutes:.0}; the largest of the whole hold"),
            ),
        };
        format!(
            "Hottest less coldest control and monitor thermocouple of the soak band in the same scan, the largest \
             {binds}; beside it {beside}, and the hottest reading of the whole hold less the coldest of it. A scan in \
             which one of them is silent is not read; a gap inside the hold leaves the limit not judged unless another \
             scan breaks it."
        )
    }

    fn rate_text(&self) -> String {
        let beside: Vec<String> = self
            .rate_windows_beside
            .iter()
            .map(|w| format!("{:.0}", w.minutes()))
            .collect();
        format!(
            "Per thermocouple, filtered readings at or above the threshold only: the steepest least-squares slope over {:.0} \
             min (its window), with {} min beside it. A window stays inside one ramp: a climb ends where the thermocouple reaches \
             the lowest hold minimum, a fall begins where it last leaves it; otherwise a ramp turns where the \
             thermocouple is {:.0} K from its extreme, and is dated from where it was last within {:.0} K of it. A \
             ramp shorter than the window is judged whole, one shorter than {:.0} min as if it had taken that long. \
             A ramp with a gap is not judged unless another breaks the limit; silence behind the last climb hides no heating. \
             What happens at or above the hold minimum is no ramp and not judged; its steepest slope over {:.0} min stands \
             beside the limit where it is steeper. A slope above the limit breaks it only \
             by more than what noise alone adds to the steepest slope in 199 of 200 ramps; \
             less is within measurement resolution and not judged. The noise is the channel's own (standard deviation \
             as for a noisy one, no less than its rounding); predicted readings have none.",
            self.rate_window.minutes(),
            beside.join(" and "),
            self.turn.k(),
            self.level.k(),
            self.shortest_ramp.minutes(),
            self.shortest_ramp.minutes()
        )
    }
}

fn hold_minimum_text() -> String {
    "The highest temperature at or above which every control and monitor thermocouple of the soak band stood at one \
     instant. How long they stood in the range is judged as hold time; the lowest reading inside the hold stands \
     beside it. Where it is missed only because of silence it is not judged."
        .to_owned()
}

fn gradient_text() -> String {
    "Hottest control or monitor thermocouple of the soak band less one at the edge of the heated band in the same scan, \
     the largest inside the hold and the largest outside it, for each edge thermocouple. It is told and not judged."
        .to_owned()
}

fn exposure_text() -> String {
    "For each thermocouple the Hollomon-Jaffe parameter of the whole log, ramps included, and the time at the lowest \
     hold minimum that has the same effect on the metal. Readings are taken once a minute, or each where they come more slowly; silence \
     and gaps add nothing and their time is told."
        .to_owned()
}

fn heating_spread_text() -> String {
    "Largest difference in the same scan between two control or monitor thermocouples of the soak band no further \
     apart along the pipe than the limit says (distance round the pipe is taken as none, which is the strict side), \
     while heating."
        .to_owned()
}
