//! Known answers: computed from the true lines, never from readings of them.

use crate::card::Card;
use crate::hold::{Stretch, inside, longest_h, spread_k, total_h, without};
use crate::line::Line;
use crate::ramp::{Rates, rates};

/// What the true temperatures say, by the definitions beside each.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// All time in hours in which every judged place lies in the range and the log was not silent.
    pub hold_total_h: f64,
    /// The longest run of it in hours; silence breaks it.
    pub hold_longest_h: f64,
    /// The longest run in hours if silence did not break it nor count less.
    pub hold_longest_bridged_h: f64,
    /// Highest temperature of any judged place in °C.
    pub peak_c: f64,
    /// Rates of climbs between the threshold and the lowest temperature of the hold.
    pub heating: Rates,
    /// Rates of falls between the two.
    pub cooling: Rates,
    /// Greatest difference in K between two judged places at one time, from the beginning of the first run to the end
    /// of the last; `None` without a run.
    pub spread_k: Option<f64>,
}

impl Answer {
    /// From the true lines of the judged places and the silences of the log.
    pub fn of(lines: &[&Line], card: &Card, silences: &[Stretch]) -> Answer {
        let runs = inside(lines, card.hold_low_c, card.hold_high_c);
        let seen = without(&runs, silences);
        let (heating, cooling) = rates(lines, card.rates_above_c, card.hold_low_c);
        let whole = runs.first().zip(runs.last()).map(|(a, b)| (a.0, b.1));
        let values = lines.iter().flat_map(|l| l.corners().iter().map(|c| c.1));
        Answer {
            hold_total_h: total_h(&seen),
            hold_longest_h: longest_h(&seen),
            hold_longest_bridged_h: longest_h(&runs),
            peak_c: values.fold(f64::MIN, f64::max),
            heating,
            cooling,
            spread_k: whole.map(|stretch| spread_k(lines, stretch)),
        }
    }
}

/// What must be said of one limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Expected {
    /// The readings meet it.
    Met,
    /// The readings break it.
    NotMet,
    /// It is met, but not everything was seen: met or not judged, by definition; never broken.
    NeverBroken,
    /// It is broken, but the readings may not show it: never met.
    NeverMet,
    /// Too near to the limit, or between definitions.
    Either,
}

/// What must be said of each limit of a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Expectations {
    /// Lowest temperature of the hold reached by all at once.
    pub hold_low: Expected,
    /// Highest temperature.
    pub hold_high: Expected,
    /// Hold time by its longest run.
    pub hold_time: Expected,
    /// Heating rate.
    pub heating: Expected,
    /// Cooling rate.
    pub cooling: Expected,
    /// Spread in the hold.
    pub spread: Expected,
}

/// How near to a limit nothing can be said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// Of a temperature, in K: half a step of the instrument and the reach of its noise.
    pub level_k: f64,
    /// Of a time, in hours: readings come at intervals.
    pub time_h: f64,
    /// Of a rate, as a share of it.
    pub rate_share: f64,
}

impl Expectations {
    /// What must be said of each limit if all is seen but silences.
    pub fn of(answer: &Answer, card: &Card, margins: &Margins, silent: bool) -> Expectations {
        let level = |value: f64, limit: f64| most(value, limit, margins.level_k);
        let rate = |rates: &Rates, limit: f64| {
            let kinds = [rates.gain_k_h, rates.least_squares_k_h];
            let [first, second] = kinds.map(|r| most(r, limit, margins.rate_share * limit));
            if first == second {
                first
            } else {
                Expected::Either
            }
        };
        let began = answer.hold_longest_bridged_h > margins.time_h;
        let seen = |expected| match expected {
            Expected::Met if silent => Expected::NeverBroken,
            Expected::NotMet if silent => Expected::NeverMet,
            other => other,
        };
        Expectations {
            hold_low: if began {
                Expected::Met
            } else {
                Expected::Either
            },
            hold_high: seen(level(answer.peak_c, card.hold_high_c)),
            hold_time: hold_time(answer, card, margins),
            heating: seen(rate(&answer.heating, card.heating_k_h)),
            cooling: seen(rate(&answer.cooling, card.cooling_k_h)),
            spread: match answer.spread_k {
                Some(spread) => seen(most(spread, card.spread_k, 2.0 * margins.level_k)),
                None => Expected::Either,
            },
        }
    }
}

fn hold_time(answer: &Answer, card: &Card, margins: &Margins) -> Expected {
    let credit = |hours: f64| most(card.hold_h, hours, margins.time_h);
    match (
        credit(answer.hold_longest_h),
        credit(answer.hold_longest_bridged_h),
    ) {
        (Expected::Met, _) => Expected::Met,
        (Expected::NotMet, Expected::NotMet) => Expected::NotMet,
        (Expected::NotMet, Expected::Met) => Expected::NeverMet,
        _ => Expected::Either,
    }
}

/// Whether a value lies clearly below or above the most that it may be.
fn most(value: f64, limit: f64, margin: f64) -> Expected {
    if value < limit - margin {
        Expected::Met
    } else if value > limit + margin {
        Expected::NotMet
    } else {
        Expected::Either
    }
}
