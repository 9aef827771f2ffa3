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
        )
        .like("3 K", "5 °F"),
        may(
            "rate_window",
            m(&TIME),
            "over how long the rate is taken that a rate limit is compared with (`rate`)",
        )
        .like("30 min", "30 min"),
        may(
            "rate_windows_beside",
            Kind::Measures(Measure(&TIME)),
            "other lengths of time over which rates are printed beside it (`rate`)",
        ),
        may(
            "shortest_ramp",
            m(&TIME),
            "a shorter ramp is read as if it had taken this long (`rate`)",
        )
        .like("30 min", "30 min"),
        may(
            "turn",
            m(&DIFFERENCE),
            "how far from its extreme a ramp has turned (`rate`)",
        )
        .like("5 K", "10 °F"),
        may(
            "level",
            m(&DIFFERENCE),
            "how near its extreme a ramp still lasts; hysteresis of levels (`rate`, `attempts`)",
        )
        .like("5 K", "10 °F"),
        may(
            "loss_depth",
            m(&DIFFERENCE),
            "how far below the range a hold is lost (`stages`)",
        )
        .like("20 K", "35 °F"),
        may(
            "loss_time",
            m(&TIME),
            "after how long there it is lost (`stages`)",
        )
        .like("10 min", "10 min"),
        may(
            "gap_floor",
            m(&TIME),
            "a silence no longer than this is no gap (`gap`)",
        )
        .like("5 min", "5 min"),
        may(
            "gap_factor",
            number(reading::TIMES),
            "a silence longer than this many intervals is a gap (`gap`)",
        ),
        may(
            "gap_ceiling",
            m(&TIME),
            "a silence longer than this is a gap in any case (`gap`)",
        )
        .like("15 min", "15 min"),
        may(
            "fastest_change",
            m(&RATE),
            "metal is not taken to change faster than this in a gap (`peak`)",
        )
        .like("600 K/h", "1080 °F/h"),
        may(
            "start_rise",
            m(&DIFFERENCE),
            "an attempt begins no lower than this above the first reading (`attempts`)",
        )
        .like("20 K", "35 °F"),
        may(
            "cold",
            m(&TEMPERATURE),
            "metal no warmer than this has not been heated, whatever threshold a rate has (`ends`)",
        )
        .like("100 °C", "200 °F"),
        may(
            "cooling_lookback",
            m(&TIME),
            "the span in which the begin of cooling is looked for (`attempts`)",
        )
        .like("1 h", "1 h"),
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
        )
        .like("5 min", "5 min"),
        may(
            "settling",
            m(&TIME),
            "first minutes of a hold that are told apart (`hold-spread`)",
        )
        .like("15 min", "15 min"),
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
        )
        .like("1 h", "1 h"),
    ],
};

pub(super) const FAILURES: TableShape = TableShape {
    path: "reading.failures",
    times: AtMostOnce,
    says: "The signs by which a failed thermocouple is known (`failures` of that page).",
    keys: &[
        may("range_low", m(&TEMPERATURE), "open: at or below this").like("-20 °C", "-4 °F"),
        may("range_high", m(&TEMPERATURE), "open: at or above this").like("1300 °C", "2370 °F"),
        may("short_below", m(&TEMPERATURE), "short circuit: below this").like("60 °C", "140 °F"),
        may(
            "short_beside",
            m(&TEMPERATURE),
            "short circuit: while its neighbors are above this",
        )
        .like("200 °C", "390 °F"),
        may(
            "stuck_moved",
            m(&DIFFERENCE),
            "stuck: while its neighbors move this far away",
        )
        .like("20 K", "35 °F"),
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
        )
        .like("10 min", "10 min"),
        may(
            "noise_floor",
            m(&DIFFERENCE),
            "noisy: scatters by more than this",
        )
        .like("3 K", "5 °F"),
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
        )
        .like("10 min", "10 min"),
        may("drift_rate", m(&RATE), "drifting: departs faster than this").like("20 K/h", "36 °F/h"),
        may("drift_window", m(&TIME), "drifting: over this long").like("1 h", "1 h"),
        may(
            "pickup_step",
            m(&DIFFERENCE),
            "disturbed by the coil: steps by more than this with the power",
        )
        .like("10 K", "18 °F"),
        may(
            "pickup_within",
            m(&TIME),
            "disturbed by the coil: within this long",
        )
        .like("2 min", "2 min"),
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
