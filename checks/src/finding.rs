//! Findings: one a limit, never a bare pass.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};
use rules::requirement::{Level, Limit};
use serde::Serialize;

use crate::attempt::Attempts;
use crate::channel::ChannelUse;
use crate::definitions::{Definition, Definitions};
use crate::disposition::Removed;
use crate::event::Event;
use crate::failure::Failure;
use crate::gradient::Gradient;
use crate::portrait::Portrait;

/// Everything that was found.
#[derive(Clone, Debug, Serialize)]
pub struct Findings {
    /// One finding a limit, in the order of the requirement.
    pub findings: Vec<Finding>,
    /// The thermocouples by which it was found.
    pub thermocouples: Vec<ChannelUse>,
    /// The settings used.
    pub settings: Definitions,
    /// The definitions used, in words.
    pub definitions: Vec<Definition>,
    /// Where the scans came from.
    pub origin: Origin,
    /// The run cut into attempts.
    pub attempts: Attempts,
    /// What each fitted thermocouple read.
    pub table: Vec<Portrait>,
    /// Differences from the soak band to the edges of the heated band, in the hold first.
    pub gradients: Vec<Gradient>,
    /// What happened beside the readings, by time.
    pub events: Vec<Event>,
    /// Events that were noted after a later scan and therefore explain nothing.
    pub late_events: u64,
    /// Thermocouples that failed, by first evidence.
    pub failures: Vec<Failure>,
    /// Thermocouples that left the set.
    pub removed: Vec<Removed>,
    /// Thermocouples of the set that say nothing more long before the log ends, though nothing shows why.
    pub silent: Vec<Silent>,
    /// Scans that came no later than the one before and were left out.
    pub scans_out_of_order: u64,
}

/// A thermocouple that says nothing more.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Silent {
    /// The channel.
    pub channel: String,
    /// Its last reading.
    pub from: Hours,
}

/// What was found about one limit.
#[derive(Clone, Debug, Serialize)]
pub struct Finding {
    /// The limit, with its clause and who sets it.
    pub limit: Limit,
    /// Whether it is met.
    pub verdict: Verdict,
    /// The value that was compared with the limit; `None` where there is none.
    pub measured: Option<Measured>,
    /// How far inside the limit (met) or past it (not met).
    pub by_how_much: Option<Measured>,
    /// When, since the first scan of the log.
    pub when: Option<Hours>,
    /// On which channel.
    pub channel: Option<String>,
    /// The definition used, with its version.
    pub definition: &'static str,
    /// Why, in words.
    pub reason: String,
    /// Other readings of the same thing, printed beside it.
    pub beside: Vec<Beside>,
    /// What the readings that do not bind say, where they say otherwise.
    pub other_readings: Option<OtherReadings>,
}

/// Kinds of readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Readings {
    /// As they stand in the log.
    Raw,
    /// Running medians of them.
    Filtered,
}

/// What the readings that do not bind say.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OtherReadings {
    /// Which they are; the others bind.
    pub readings: Readings,
    /// What they say.
    pub verdict: Verdict,
    /// The value that is compared with the limit.
    pub measured: Option<Measured>,
    /// When.
    pub when: Option<Hours>,
    /// On which channel.
    pub channel: Option<String>,
}

/// Another reading of the same thing; it carries no verdict.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Beside {
    /// What it is.
    pub what: String,
    /// On which channel, if on one.
    pub channel: Option<String>,
    /// The value; `None` where there is none.
    pub measured: Option<Measured>,
}

/// Whether a limit is met.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The values that there are met it.
    Met,
    /// The values that there are can't say.
    NotJudged,
    /// A value breaks it.
    NotMet,
}

/// A measured or predicted value.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Measured {
    /// A temperature.
    Temperature(Celsius),
    /// A difference of temperatures.
    Difference(Kelvins),
    /// A span of time.
    Time(Hours),
    /// A rate.
    Rate(KelvinsPerHour),
}

/// Where the scans came from; it only changes the words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// Read by thermocouples.
    Measured,
    /// Computed for places where thermocouples will sit.
    Predicted,
}

impl Findings {
    /// Whether every limit is met; false where one could not be judged, and where there is no limit at all.
    pub fn all_met(&self) -> bool {
        !self.findings.is_empty() && self.findings.iter().all(|f| f.verdict == Verdict::Met)
    }

    /// The findings of one level.
    pub fn of_level(&self, level: Level) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(move |f| f.limit.level == level)
    }
}
