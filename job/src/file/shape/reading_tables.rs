//! The tables by which a procedure sets how scans are read.

use super::Times::{AtMostOnce, Many};
use super::tables::{m, may, must};
use super::{Kind, Measure, TableShape};
use crate::file::dimension::{DIFFERENCE, RATE, TEMPERATURE, TIME};
use crate::file::reading;

/// A number that is given with its range.
const fn number((least, most): (f64, f64)) -> Kind {
    Kind::Number(least, most)
}

pub(super) const READING: TableShape = TableShape {
    path: "reading",
    times: AtMostOnce,
    says: "Definitions of [`reading-a-log.md`](reading-a-log.md) that the procedure sets otherwise. What is left out is as \
           that page says; what was used is printed on every plan and record.",
    keys: &[
        may(
            "hold_counts",
            Kind::Word(reading::HOLD_COUNTS),
            "what is compared with the hold time (`hold-time`)",
        ),
        may(
            "hold_allowance",
            m(&DIFFERENCE),
            "how much wider and narrower the range is read beside (`hold-time`)",
        ),
        may(
            "rate_window",
            m(&TIME),
            "window of the slope that a rate limit is compared with (`rate`)",
        ),
        may(
            "rate_windows_beside",
            Kind::Measures(Measure(&TIME)),
            "windows printed beside it (`rate`)",
        ),
        may(
            "shortest_ramp",
            m(&TIME),
            "a shorter ramp is read as if it had taken this long (`rate`)",
        ),
        may(
            "turn",
            m(&DIFFERENCE),
            "how far from its extreme a ramp has turned (`rate`)",
        ),
        may(
            "level",
            m(&DIFFERENCE),
            "how near its extreme a ramp still lasts; hysteresis of levels (`rate`, `attempts`)",
        ),
        may(
            "loss_depth",
            m(&DIFFERENCE),
            "how far below the range a hold is lost (`stages`)",
        ),
        may(
            "loss_time",
            m(&TIME),
            "after how long there it is lost (`stages`)",
        ),
        may(
            "gap_floor",
            m(&TIME),
            "a silence no longer than this is no gap (`gap`)",
        ),
        may(
            "gap_factor",
            number(reading::TIMES),
            "a silence longer than this many intervals is a gap (`gap`)",
        ),
        may(
            "gap_ceiling",
            m(&TIME),
            "a silence longer than this is a gap in any case (`gap`)",
        ),
        may(
            "fastest_change",
            m(&RATE),
            "metal is not taken to change faster than this in a gap (`peak`)",
        ),
        may(
            "start_rise",
            m(&DIFFERENCE),
            "an attempt begins no lower than this above the first reading (`attempts`)",
        ),
        may(
            "cold",
            m(&TEMPERATURE),
            "metal no warmer than this has not been heated, whatever threshold a rate has (`ends`)",
        ),
        may(
            "cooling_lookback",
            m(&TIME),
            "the span in which the begin of cooling is looked for (`attempts`)",
        ),
        may(
            "interruption",
            Kind::Word(reading::INTERRUPTIONS),
            "what an interruption of the heating above the threshold is (`attempts`)",
        ),
        may(
            "filter_readings",
            number(reading::FILTER_READINGS),
            "readings of the running median (`filter`)",
        ),
        may(
            "filter_span",
            m(&TIME),
            "longest span of the running median (`filter`)",
        ),
        may(
            "settling",
            m(&TIME),
            "first minutes of a hold that are told apart (`hold-spread`)",
        ),
        may(
            "settled_spread_binds",
            Kind::Truth,
            "whether only the spread after them binds (`hold-spread`)",
        ),
        may(
            "removal",
            Kind::Word(reading::REMOVALS),
            "by what rule a failed thermocouple leaves the set (`set`)",
        ),
        may(
            "fewest_thermocouples",
            number(reading::FEWEST),
            "with fewer in the soak band the hold is not judged (`set`)",
        ),
        may(
            "evidence_reach",
            m(&TIME),
            "how long readings wait for evidence against them (`set`)",
        ),
    ],
};

pub(super) const FAILURES: TableShape = TableShape {
    path: "reading.failures",
    times: AtMostOnce,
    says: "The signs by which a failed thermocouple is known (`failures` of that page).",
    keys: &[
        may("range_low", m(&TEMPERATURE), "open: at or below this"),
        may("range_high", m(&TEMPERATURE), "open: at or above this"),
        may("short_below", m(&TEMPERATURE), "short circuit: below this"),
        may(
            "short_beside",
            m(&TEMPERATURE),
            "short circuit: while its neighbors are above this",
        ),
        may(
            "stuck_moved",
            m(&DIFFERENCE),
            "stuck: while its neighbors move this far away",
        ),
        may(
            "reversed_rise",
            m(&DIFFERENCE),
            "reversed: while its neighbors rise this far",
        ),
        may("reversed_fall", m(&DIFFERENCE), "reversed: falls by this"),
        may(
            "noise_stretch",
            m(&TIME),
            "noisy: stretches over which scatter is taken",
        ),
        may(
            "noise_floor",
            m(&DIFFERENCE),
            "noisy: scatters by more than this",
        ),
        may(
            "noise_times",
            number(reading::TIMES),
            "noisy: and more than this many times the median of the others",
        ),
        may("jump", m(&DIFFERENCE), "detached: jumps this far"),
        may(
            "jump_stays",
            m(&TIME),
            "detached: and stays away for this long",
        ),
        may("drift_rate", m(&RATE), "drifting: departs faster than this"),
        may("drift_window", m(&TIME), "drifting: over this long"),
        may(
            "pickup_step",
            m(&DIFFERENCE),
            "disturbed by the coil: steps by more than this with the power",
        ),
        may(
            "pickup_within",
            m(&TIME),
            "disturbed by the coil: within this long",
        ),
        may(
            "swap_times",
            number(reading::TIMES),
            "exchanged: how many times better they answer the power of each other's zone",
        ),
    ],
};

pub(super) const ZONE: TableShape = TableShape {
    path: "zone",
    times: Many,
    says: "A zone of the coil with its own power, so that thermocouples can be held against the power that heats them.",
    keys: &[
        must("power", Kind::Text, "the column of the log with its power"),
        must(
            "thermocouples",
            Kind::Texts,
            "the thermocouples that it heats",
        ),
    ],
};
