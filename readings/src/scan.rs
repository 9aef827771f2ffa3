//! One scan: one time, all channels.

use std::time::Duration;

use quantity::Celsius;

/// A channel of a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Channel {
    /// Its name in the log and on the sheet, for example `TC1`.
    pub name: String,
}

/// What all channels said at one time.
#[derive(Clone, Debug, PartialEq)]
pub struct Scan {
    /// Time since the start of the log.
    pub elapsed: Duration,
    /// One reading a channel, in the order of the channels; `None` where the channel said nothing.
    pub readings: Vec<Option<Celsius>>,
}
