//! Situations in which the metal itself does something.

use super::plain::{USUAL, plain};
use crate::line::Line;
use crate::situation::Situation;

pub(super) fn all() -> Vec<Situation> {
    [holds(), rates()].concat()
}

fn holds() -> Vec<Situation> {
    vec![
        plain("straight", "nothing is wrong", &USUAL),
        dither(),
        detour(
            "dip-2-min",
            "all fall 35 K below the hold and are back within two minutes",
            &[
                (7.25, 0.0),
                (7.25 + 1.0 / 60.0, -35.0),
                (7.25 + 2.0 / 60.0, 0.0),
            ],
        ),
        detour(
            "dip-20-min",
            "all lie 10 K below the hold for twenty minutes",
            &[
                (7.0, 0.0),
                (7.25, -30.0),
                (7.25 + 20.0 / 60.0, -30.0),
                (7.85, 0.0),
            ],
        ),
        plain(
            "power-loss-at-500-rising",
            "power fails at 500 °C while heating and the pipe cools to 280 °C",
            &[
                (0.0, 20.0),
                (4.8, 500.0),
                (6.8, 280.0),
                (10.2, 620.0),
                (12.7, 620.0),
                (16.2, 200.0),
            ],
        )
        .with_attempts(2)
        .with_event(4.8, "PWR FAIL")
        .with_event(6.8, "PWR ON"),
        plain(
            "power-loss-above-threshold",
            "power fails at 500 °C and is back before the rates are unlimited",
            &[
                (0.0, 20.0),
                (4.8, 500.0),
                (5.8, 400.0),
                (8.0, 620.0),
                (10.5, 620.0),
                (14.0, 200.0),
            ],
        )
        .with_event(4.8, "PWR FAIL")
        .with_event(5.8, "PWR ON"),
        plain(
            "loss-in-hold",
            "power fails an hour into the hold, which is made up in full",
            &[
                (0.0, 20.0),
                (6.0, 620.0),
                (7.0, 620.0),
                (9.0, 420.0),
                (11.0, 620.0),
                (13.5, 620.0),
                (17.0, 200.0),
            ],
        )
        .with_attempts(2)
        .with_event(7.0, "PWR FAIL"),
        plain(
            "loss-in-hold-too-short-twice",
            "power fails in the hold and neither run is long enough",
            &[
                (0.0, 20.0),
                (6.0, 620.0),
                (7.0, 620.0),
                (9.0, 420.0),
                (11.0, 620.0),
                (12.0, 620.0),
                (15.5, 200.0),
            ],
        )
        .with_attempts(2),
        plain(
            "hold-too-short",
            "the hold is half an hour short",
            &[(0.0, 20.0), (6.0, 620.0), (7.2, 620.0), (10.7, 200.0)],
        ),
        plain(
            "never-there",
            "the hold is never reached",
            &[(0.0, 20.0), (5.6, 580.0), (8.5, 580.0), (12.0, 160.0)],
        ),
        detour(
            "overshoot-1-sample",
            "all pass the highest temperature for less than two samples",
            &[
                (7.25, 0.0),
                (7.25 + 1.0 / 60.0, 40.0),
                (7.25 + 2.0 / 60.0, 0.0),
            ],
        ),
        detour(
            "overshoot-10-min",
            "all lie above the highest temperature for ten minutes",
            &[
                (7.0, 0.0),
                (7.15, 40.0),
                (7.15 + 10.0 / 60.0, 40.0),
                (7.5, 0.0),
            ],
        ),
        one_cold(),
        spread(),
    ]
}

fn rates() -> Vec<Situation> {
    vec![
        plain(
            "rate-at-limit",
            "the heating rate is the limit itself",
            &[(0.0, 20.0), (4.0, 620.0), (6.5, 620.0), (10.0, 200.0)],
        ),
        plain(
            "rate-too-fast",
            "the heating rate is half again the limit",
            &[
                (0.0, 20.0),
                (2.8, 300.0),
                (4.222_222, 620.0),
                (6.722_222, 620.0),
                (10.222_222, 200.0),
            ],
        ),
        plain(
            "cooling-too-fast",
            "the cooling rate is a third above the limit",
            &[(0.0, 20.0), (6.0, 620.0), (8.5, 620.0), (10.6, 200.0)],
        ),
        plain(
            "burst-in-slow-hour",
            "a quarter of an hour at twice the limit inside a slow hour",
            &[
                (0.0, 20.0),
                (3.0, 320.0),
                (4.0, 380.0),
                (4.25, 462.5),
                (5.25, 522.5),
                (6.225, 620.0),
                (8.725, 620.0),
                (12.225, 200.0),
            ],
        ),
        plain(
            "short-ramp-into-hold",
            "already hot, half an hour at 400 K/h into the hold",
            &[(0.0, 420.0), (0.5, 620.0), (3.0, 620.0), (6.5, 200.0)],
        ),
        plain(
            "steps",
            "heated in steps with rests between them",
            &[
                (0.0, 20.0),
                (2.8, 300.0),
                (3.3, 300.0),
                (4.8, 450.0),
                (5.3, 450.0),
                (7.0, 620.0),
                (9.5, 620.0),
                (13.0, 200.0),
            ],
        ),
    ]
}

/// The usual cycle with a detour of all places.
fn detour(name: &'static str, what: &'static str, corners: &[(f64, f64)]) -> Situation {
    let mut situation = plain(name, what, &USUAL);
    let detour = Line::through(corners);
    for channel in &mut situation.channels {
        channel.metal = channel.metal.plus(&detour);
    }
    situation
}

/// The coldest place goes up and down by half a degree about the limit, and the recorder shows whole degrees.
fn dither() -> Situation {
    let mut situation = plain(
        "dither-at-limit",
        "the coldest place moves half a degree about the limit",
        &USUAL,
    );
    let corners: Vec<(f64, f64)> = (0..=30)
        .map(|i| {
            (
                6.0 + f64::from(i) / 12.0,
                -18.0 + if i % 2 == 0 { 0.5 } else { -0.5 },
            )
        })
        .collect();
    let mut turned = vec![(5.5, 0.0)];
    turned.extend(corners);
    turned.push((9.0, 0.0));
    situation.channels[2].metal = situation.channels[2].metal.plus(&Line::through(&turned));
    situation.logging.step_tenths = 10;
    situation.logging.deviation_k = 0.3;
    situation
}

/// One place lies one degree below the hold all the time, seen in tenths by a quiet recorder.
fn one_cold() -> Situation {
    let mut situation = plain(
        "one-1-under",
        "one place stays one degree below the hold all the time",
        &USUAL,
    );
    situation.channels[2].metal = Line::through(&USUAL).shifted(-21.0);
    situation.logging.deviation_k = 0.1;
    situation
}

/// One place is much hotter than another in the hold.
fn spread() -> Situation {
    let mut situation = plain(
        "spread-too-wide",
        "one place is 46 K hotter than the coldest for an hour",
        &USUAL,
    );
    situation.card.hold_high_c = 680.0;
    let hot = Line::through(&[(6.2, 0.0), (6.7, 44.0), (7.7, 44.0), (8.2, 0.0)]);
    situation.channels[0].metal = situation.channels[0].metal.plus(&hot);
    situation
}
