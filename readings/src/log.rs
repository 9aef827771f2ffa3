//! What one logger file, or several joined, says.

use std::time::Duration;

use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;

use crate::complaint::Complaint;
use crate::scan::{Channel, Scan};
use crate::stated_weld::StatedWeld;

/// What one logger file, or several joined, says.
#[derive(Clone, Debug)]
pub struct Log {
    /// The files that it was read from, in order of time.
    pub files: Vec<LogFile>,
    /// The temperature channels, in the order of the readings of each scan.
    pub channels: Vec<Channel>,
    /// The scans by rising time.
    pub scans: Vec<Scan>,
    /// When the first scan was.
    pub start: Start,
    /// What was logged beside the temperatures.
    pub others: Vec<Series>,
    /// Words between the readings, by time.
    pub events: Vec<LogEvent>,
    /// What was not as it should be, by file and line.
    pub complaints: Vec<Complaint>,
}

/// A file as it was given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogFile {
    /// Its name.
    pub name: String,
    /// Its length.
    pub bytes: usize,
    /// Its SHA-256 in hexadecimal digits.
    pub sha256: String,
    /// Its lines.
    pub lines: usize,
    /// The weld that it names above its rows, where it names one.
    pub weld: Option<StatedWeld>,
}

/// When the first scan was.
#[derive(Clone, Debug, PartialEq)]
pub enum Start {
    /// A moment that is the same all over the world.
    Moment {
        /// The moment.
        at: Timestamp,
        /// The zone whose clocks are to be shown beside it.
        zone: TimeZone,
    },
    /// What a clock showed, in a zone that nobody names.
    Local(DateTime),
}

impl Start {
    /// What the clock on the wall showed.
    pub fn local(&self) -> DateTime {
        match self {
            Start::Moment { at, zone } => zone.to_datetime(*at),
            Start::Local(local) => *local,
        }
    }

    /// The moment, where the zone is known.
    pub fn moment(&self) -> Option<Timestamp> {
        match self {
            Start::Moment { at, .. } => Some(*at),
            Start::Local(_) => None,
        }
    }
}

/// Numbers that were logged beside the temperatures.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    /// Its name in the log.
    pub name: String,
    /// What it is.
    pub kind: SeriesKind,
    /// Its unit as the file gives it; empty where it gives none.
    pub unit: String,
    /// Time since the first scan and value.
    pub points: Vec<(Duration, f64)>,
}

/// What a series is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeriesKind {
    /// The temperature asked for.
    SetPoint,
    /// Power of the source.
    Power,
    /// Output of a controller.
    Output,
    /// Whether a zone is on.
    ZoneState,
    /// Temperature of the air or of the logger itself.
    Ambient,
    /// Anything else.
    Other,
}

/// Words between the readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogEvent {
    /// Time since the first scan; zero for words before it.
    pub elapsed: Duration,
    /// The line.
    pub line: usize,
    /// The words.
    pub text: String,
}
