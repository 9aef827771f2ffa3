//! What happened beside the readings: power, the operator's words, checks with the power off.

use std::time::Duration;

use serde::Serialize;

/// Something that happened while the log ran.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Event {
    /// Time since the start of the log.
    pub elapsed: Duration,
    /// What happened.
    pub what: Happening,
}

/// What happened.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Happening {
    /// The power came on.
    PowerOn,
    /// The power went off, meant or not.
    PowerOff,
    /// The power was taken away for some seconds to see which thermocouples the coil disturbs.
    PowerOffCheck,
    /// The operator says that the hold begins.
    HoldStart,
    /// The operator says that the hold ends.
    HoldStop,
    /// Anything else that the operator wrote.
    Remark(String),
}

impl Happening {
    /// The words for it.
    pub fn words(&self) -> String {
        match self {
            Happening::PowerOn => "power on".into(),
            Happening::PowerOff => "power off".into(),
            Happening::PowerOffCheck => "check with the power off".into(),
            Happening::HoldStart => "hold begins, by the operator's word".into(),
            Happening::HoldStop => "hold ends, by the operator's word".into(),
            Happening::Remark(words) => words.clone(),
        }
    }
}

/// Events that wait for the scan at or after them.
#[derive(Clone, Debug, Default)]
pub(crate) struct Events {
    /// Every event, by time; equal times in the order noted.
    pub all: Vec<Event>,
    /// How many of them were handed out.
    taken: usize,
    /// Time up to which they were handed out.
    taken_s: Option<f64>,
    /// Events that came after a scan later than they were; printed, but they explain nothing.
    pub late: u64,
}

impl Events {
    pub fn note(&mut self, event: Event) {
        let at = self.all.partition_point(|e| e.elapsed <= event.elapsed);
        let late = |taken_s: f64| event.elapsed.as_secs_f64() <= taken_s;
        if self.taken_s.is_some_and(late) {
            self.late += 1;
            self.taken += 1;
        }
        self.all.insert(at, event);
    }

    /// Those up to a time that were not handed out yet.
    pub fn until(&mut self, time_s: f64) -> Vec<Event> {
        let until = self
            .all
            .partition_point(|e| e.elapsed.as_secs_f64() <= time_s);
        self.taken_s = Some(time_s);
        let from = self.taken;
        self.taken = until.max(from);
        self.all[from..self.taken].to_vec()
    }
}
