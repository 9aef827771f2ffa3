//! Situations in which a thermocouple, and not the metal, does something.

use super::plain::{USUAL, plain};
use crate::fault::Fault;
use crate::line::Line;
use crate::situation::{Channel, Failed, Failing, Situation};

pub(super) fn all() -> Vec<Situation> {
    vec![
        third(
            "open-in-hold",
            "the third circuit opens in the hold",
            Fault::Open { from_h: 7.0 },
            Some((Failing::Open, 7.0)),
        ),
        // It was left at 420 °C; its neighbors are 15 K away after 9 min.
        third(
            "stuck-in-ramp",
            "the third keeps its value while the others climb",
            Fault::Stuck {
                from_h: 4.0,
                to_h: 99.0,
            },
            Some((Failing::Stuck, 4.0)),
        ),
        third(
            "stuck-in-hold",
            "the third shows one value for an hour of the hold, as an honest one may",
            Fault::Stuck {
                from_h: 7.0,
                to_h: 8.0,
            },
            None,
        ),
        third(
            "detached",
            "the third comes off in the hold and reads 25 K low",
            Fault::Detached {
                from_h: 7.0,
                drop_k: 25.0,
            },
            Some((Failing::Detached, 7.0)),
        ),
        third(
            "reversed",
            "the wires of the third are swapped",
            Fault::Reversed { ambient_c: 22.0 },
            Some((Failing::Reversed, 0.0)),
        ),
        third(
            "noisy",
            "the third scatters by 8 K from the middle of the ramp on",
            Fault::Noisy {
                from_h: 4.0,
                deviation_k: 8.0,
            },
            Some((Failing::Noisy, 4.0)),
        ),
        third(
            "drift",
            "the third departs by 12 K/h in the hold",
            Fault::Drift {
                from_h: 6.5,
                rate_k_h: -12.0,
            },
            Some((Failing::Drift, 6.5)),
        ),
        pickup(),
        swapped(),
        spare(),
    ]
}

fn third(
    name: &'static str,
    what: &'static str,
    fault: Fault,
    how: Option<(Failing, f64)>,
) -> Situation {
    let mut situation = plain(name, what, &USUAL);
    situation.channels[2].faults.push(fault);
    situation.failed = how.map(|(how, shows_h)| Failed {
        channel: "TC3".to_owned(),
        how,
        shows_h,
    });
    situation
}

/// The coil adds 20 K to the third; the power is taken away twice for half a minute to show it.
fn pickup() -> Situation {
    let off = vec![
        (4.0, 4.0 + 30.0 / 3600.0),
        (7.5, 7.5 + 30.0 / 3600.0),
        (8.5, 99.0),
    ];
    let mut situation = third(
        "pickup",
        "the coil adds 20 K to the third, which two checks with the power off show",
        Fault::Pickup { adds_k: 20.0, off },
        Some((Failing::Pickup, 4.0)),
    );
    situation.logging.paces[0].interval_s = 10;
    situation.events = vec![
        (4.0, "PWR OFF CHECK"),
        (4.0 + 30.0 / 3600.0, "PWR ON"),
        (7.5, "PWR OFF CHECK"),
        (7.5 + 30.0 / 3600.0, "PWR ON"),
    ];
    situation
}

/// A step of power in each zone warms the place beneath it, but two channels carry each other's name.
fn swapped() -> Situation {
    let mut situation = plain(
        "swapped",
        "TC1 and TC3 stand under each other's name",
        &USUAL,
    );
    let warmed = |at_h: f64| Line::through(&[(at_h, 0.0), (at_h + 0.1, 6.0), (at_h + 0.5, 0.0)]);
    let stepped = |at_h: f64| {
        Line::through(&[
            (at_h, 0.0),
            (at_h, 8.0),
            (at_h + 0.1, 8.0),
            (at_h + 0.1, 0.0),
        ])
    };
    let steps = [(2, 0, 2.0), (0, 1, 3.0), (2, 0, 4.0), (0, 1, 5.0)];
    for (channel, zone, at_h) in steps {
        situation.channels[channel].metal = situation.channels[channel].metal.plus(&warmed(at_h));
        situation.power_kw[zone] = situation.power_kw[zone].plus(&stepped(at_h));
    }
    situation.failed = Some(Failed {
        channel: "TC1".to_owned(),
        how: Failing::Swapped,
        shows_h: 2.0,
    });
    situation
}

/// The third opens in the ramp and a spare beside it takes its place.
fn spare() -> Situation {
    let mut situation = third(
        "replaced-by-spare",
        "the third opens while heating and the spare TC5 beside it takes its place",
        Fault::Open { from_h: 5.0 },
        Some((Failing::Open, 5.0)),
    );
    let metal = situation.channels[2].metal.shifted(0.5);
    situation.channels.push(Channel {
        name: "TC5".to_owned(),
        metal,
        faults: Vec::new(),
        judged: false,
    });
    situation.events = vec![(5.05, "TC3 OUT, TC5 IN")];
    situation
}
