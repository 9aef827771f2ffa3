//! Situations in which the logger keeps too little, or keeps it unevenly.

use super::plain::{USUAL, plain};
use crate::situation::{Pace, Situation};

pub(super) fn all() -> Vec<Situation> {
    vec![
        pause(
            "gap-3-min-in-hold",
            "three minutes of the hold are missing",
            (7.2, 7.25),
        ),
        pause(
            "gap-30-min-in-hold",
            "half an hour of the hold is missing, without which it is too short",
            (7.25, 7.75),
        ),
        pause(
            "gap-30-min-heating",
            "half an hour of the heating is missing",
            (4.0, 4.5),
        ),
        paced(
            "two-rates",
            "ten seconds while heating and cooling, five minutes in the hold",
            &[(6.5, 10), (8.5, 300), (12.0, 10)],
        ),
        paced("every-2-min", "a reading every two minutes", &[(12.0, 120)]),
        whole_degrees(),
    ]
}

fn pause(name: &'static str, what: &'static str, stretch: (f64, f64)) -> Situation {
    let mut situation = plain(name, what, &USUAL);
    situation.logging.pauses = vec![stretch];
    situation
}

fn paced(name: &'static str, what: &'static str, paces: &[(f64, u64)]) -> Situation {
    let mut situation = plain(name, what, &USUAL);
    let pace = |&(until_h, interval_s): &(f64, u64)| Pace {
        until_h,
        interval_s,
    };
    situation.logging.paces = paces.iter().map(pace).collect();
    situation
}

fn whole_degrees() -> Situation {
    let mut situation = plain(
        "whole-degrees-noisy",
        "whole degrees and a noise of 0.7 K on all",
        &USUAL,
    );
    situation.logging.step_tenths = 10;
    situation.logging.deviation_k = 0.7;
    situation
}
