//! What one thermocouple read, as a row of a table.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};
use rules::requirement::Level;
use rules::thermocouple::{Place, Role};
use serde::Serialize;

/// What one thermocouple read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Portrait {
    /// Its channel.
    pub channel: String,
    /// What it is for.
    pub role: Role,
    /// What it watches.
    pub place: Place,
    /// Readings that are not silence.
    pub readings: u64,
    /// Smallest change between two readings: the step of the recorder, as far as this log shows it.
    pub resolution: Option<Kelvins>,
    /// Longest time without any change; no sign of a failure by itself.
    pub longest_unchanged: Hours,
    /// Highest reading.
    pub highest: Option<Celsius>,
    /// When it was read.
    pub highest_when: Option<Hours>,
    /// Lowest reading inside the hold of the soak band, dips included.
    pub lowest_in_hold: Option<Celsius>,
    /// Highest reading inside it.
    pub highest_in_hold: Option<Celsius>,
    /// Time in the range of each level that asks for a hold, by this one alone.
    pub holds: Vec<HoldAlone>,
    /// Steepest ramps above each threshold.
    pub rates: Vec<RateAlone>,
    /// What the whole heat did to it, ramps included; `None` where there is no reference.
    pub exposure: Option<ExposureTold>,
}

impl Portrait {
    /// Why nothing was judged by it, where nothing was.
    pub fn unjudged(&self) -> Option<&'static str> {
        (self.role == Role::Spare && self.holds.is_empty() && self.rates.is_empty())
            .then_some("not judged, a spare")
    }

    /// Its longest run in the range of a hold, where it was judged by one.
    pub fn longest_hold(&self) -> Option<Hours> {
        let runs = self.holds.iter().map(|hold| hold.longest.h());
        runs.reduce(f64::max).map(Hours::from_h)
    }
}

/// Time in the range of one level.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HoldAlone {
    /// Who asks.
    pub level: Level,
    /// Longest run.
    pub longest: Hours,
    /// Longest run if gaps did not break it.
    pub longest_over_gaps: Hours,
    /// All runs together.
    pub total: Hours,
}

/// Steepest slope over one window.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RateAlone {
    /// Whether it is a heating rate; else a cooling rate.
    pub heating: bool,
    /// Threshold above which readings count.
    pub above: Celsius,
    /// Window of the slope.
    pub window: Hours,
    /// The slope; `None` where there was no ramp.
    pub steepest: Option<KelvinsPerHour>,
    /// When its window begins.
    pub when: Option<Hours>,
}

/// Time and temperature as one number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ExposureTold {
    /// Hollomon-Jaffe parameter in thousands, temperature in K and time in h.
    pub hollomon_jaffe: Option<f64>,
    /// Constant of the parameter.
    pub constant: f64,
    /// Time at the reference that has the same effect.
    pub equivalent: Option<Hours>,
    /// The reference: the lowest hold minimum of all levels.
    pub reference: Celsius,
    /// Time not counted because the thermocouple was silent or out of the set.
    pub silent: Hours,
}
