//! An attempt: one heating with the hold that it led to, and how it ended.

use quantity::{Celsius, Hours, KelvinsPerHour};
use rules::requirement::Level;
use serde::Serialize;

/// What the log says of the attempts.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Attempts {
    /// In the order of time; the last may still go on.
    pub list: Vec<Attempt>,
    /// Attempts after these, counted only.
    pub more: u64,
    /// The lowest threshold of a heating rate, and how often the hottest thermocouple rose through it.
    pub thermal_cycles: Option<ThermalCycles>,
}

/// How often the metal was heated through a temperature.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ThermalCycles {
    /// The temperature.
    pub above: Celsius,
    /// Times that the hottest thermocouple of the soak band rose through it; a log that begins above it counts once.
    pub count: u64,
}

/// One heating with the hold that it led to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Attempt {
    /// When it began: where the start level was crossed, or at the lowest point behind a lost hold.
    pub began: Hours,
    /// The coldest thermocouple of the soak band then: the temperature of the start or restart.
    pub from: Celsius,
    /// Whether the log begins in the middle of it.
    pub begins_before_log: bool,
    /// Mean rate of the hottest thermocouple over the first hour, or up to the hold if that is sooner.
    pub start_rate: Option<KelvinsPerHour>,
    /// Highest reading of the soak band.
    pub peak: Celsius,
    /// When it was read.
    pub peak_when: Hours,
    /// By which channel.
    pub peak_channel: String,
    /// When all of the soak band were first at the lowest hold minimum.
    pub hold_began: Option<Hours>,
    /// When the first of them left it for the last time.
    pub band_left: Option<Hours>,
    /// When cooling began, before the band was left.
    pub cooling_began: Option<Hours>,
    /// Credit to each limit of hold time.
    pub holds: Vec<HoldCredit>,
    /// Times that the hold minimum was left and reached again without losing the hold.
    pub dips: u64,
    /// Interruptions of the heating that stayed above the start level.
    pub interruptions: u64,
    /// When it ended; `None` where it goes on.
    pub ended: Option<Hours>,
    /// Why it ended.
    pub why: Ending,
}

/// Time in the range of a level that asks for a hold.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HoldCredit {
    /// Who asks.
    pub level: Level,
    /// Hold asked for.
    pub asked: Hours,
    /// Longest run in this attempt.
    pub longest: Hours,
    /// All runs of this attempt.
    pub total: Hours,
    /// All runs of this attempt and those before it.
    pub accumulated: Hours,
}

/// Why an attempt ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    /// The log ends first.
    GoesOn,
    /// The power went off.
    Power,
    /// The operator ended the hold.
    Operator,
    /// Too few thermocouples were left to judge by.
    Thermocouples,
    /// It cooled after a hold, and no event says why.
    Cooled,
    /// It cooled before a hold, and no event says why.
    Unexplained,
}

impl Ending {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Ending::GoesOn => "the log ends first",
            Ending::Power => "power off",
            Ending::Operator => "ended by the operator",
            Ending::Thermocouples => "too few thermocouples left to judge by",
            Ending::Cooled => "cooled after a hold; no event says why",
            Ending::Unexplained => "cooled before a hold; no event says why",
        }
    }
}
