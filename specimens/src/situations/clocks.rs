//! Situations in which the clock on the wall jumps.

use jiff::civil::{DateTime, date};

use super::plain::{USUAL, plain};
use crate::situation::Situation;

pub(super) fn all() -> Vec<Situation> {
    vec![
        // Central European summer time ended at 03:00 on 25 October 2026 and begins at 02:00 on 29 March 2026.
        night(
            "summer-time-ends",
            "the clock goes back an hour in the hold",
            date(2026, 10, 24).at(20, 0, 0, 0),
            7200,
            7.0,
            -3600,
        ),
        night(
            "summer-time-begins",
            "the clock goes forward an hour in the hold",
            date(2026, 3, 28).at(19, 0, 0, 0),
            3600,
            7.0,
            3600,
        ),
        night(
            "clock-set-forward",
            "the clock is set seven minutes forward by hand",
            date(2026, 5, 4).at(8, 0, 0, 0),
            7200,
            3.0,
            420,
        ),
    ]
}

fn night(
    name: &'static str,
    what: &'static str,
    start: DateTime,
    ahead_s: i64,
    at_h: f64,
    by_s: i64,
) -> Situation {
    let mut situation = plain(name, what, &USUAL);
    situation.logging.start = start;
    situation.logging.ahead_of_utc_s = ahead_s;
    situation.logging.clock_changes = vec![(at_h, by_s)];
    situation
}
