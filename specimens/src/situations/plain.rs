//! The cycle from which the others depart.

use jiff::civil::date;

use crate::card::Card;
use crate::line::Line;
use crate::situation::{Channel, Logging, Pace, Situation};

/// 100 K/h up to 620 °C at 6 h, 2.5 h there, 120 K/h down to 200 °C at 12 h.
pub const USUAL: [(f64, f64); 4] = [(0.0, 20.0), (6.0, 620.0), (8.5, 620.0), (12.0, 200.0)];

/// How far the places lie above the first, in K.
pub const OFFSETS_K: [f64; 4] = [0.0, 3.0, -2.0, 1.5];

/// A cycle that all places follow at their offsets, with nothing wrong.
pub fn plain(name: &'static str, what: &'static str, corners: &[(f64, f64)]) -> Situation {
    let metal = Line::through(corners);
    let end_h = corners.last().map_or(0.0, |c| c.0);
    let channel = |(i, offset): (usize, &f64)| Channel {
        name: format!("TC{}", i + 1),
        metal: metal.shifted(*offset),
        faults: Vec::new(),
        judged: true,
    };
    Situation {
        name,
        what,
        card: Card::usual(),
        channels: OFFSETS_K.iter().enumerate().map(channel).collect(),
        logging: Logging {
            start: date(2026, 3, 17).at(6, 12, 0, 0),
            ahead_of_utc_s: 3600,
            paces: vec![Pace {
                until_h: end_h,
                interval_s: 60,
            }],
            pauses: Vec::new(),
            clock_changes: Vec::new(),
            step_tenths: 1,
            deviation_k: 0.2,
            seed: 4711,
        },
        power_kw: vec![power(corners), power(corners)],
        events: Vec::new(),
        attempts: 1,
        failed: None,
    }
}

/// A power that goes with a line: what the slope asks for and what is lost at the temperature.
fn power(corners: &[(f64, f64)]) -> Line {
    let steps = corners
        .windows(2)
        .filter(|w| w[1].0 > w[0].0)
        .flat_map(|w| {
            let slope = (w[1].1 - w[0].1) / (w[1].0 - w[0].0);
            let asked = |c: f64| (0.15 * slope + 0.03 * (c - 20.0)).max(0.0);
            [(w[0].0, asked(w[0].1)), (w[1].0, asked(w[1].1))]
        });
    Line::through(&steps.collect::<Vec<_>>())
}
