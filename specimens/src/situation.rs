//! A situation: true temperatures, what goes wrong, how it is logged, and what must be said of it.

use jiff::civil::DateTime;

use crate::answer::{Answer, Expectations, Margins};
use crate::card::Card;
use crate::fault::Fault;
use crate::hold::Stretch;
use crate::line::Line;

/// A run with known answers.
#[derive(Clone, Debug, PartialEq)]
pub struct Situation {
    /// Its name in words joined by hyphens.
    pub name: &'static str,
    /// What happens.
    pub what: &'static str,
    /// The limits.
    pub card: Card,
    /// The thermocouples.
    pub channels: Vec<Channel>,
    /// How it is logged.
    pub logging: Logging,
    /// Power of each zone in kW over hours.
    pub power_kw: Vec<Line>,
    /// Words in the log: hours, text.
    pub events: Vec<(f64, &'static str)>,
    /// Heatings that lead, or should have led, to a hold.
    pub attempts: usize,
    /// What fails, if something does.
    pub failed: Option<Failed>,
}

/// A thermocouple.
#[derive(Clone, Debug, PartialEq)]
pub struct Channel {
    /// Its name.
    pub name: String,
    /// The true temperature of its place.
    pub metal: Line,
    /// What goes wrong with it.
    pub faults: Vec<Fault>,
    /// Whether the run is judged by it; a spare is not.
    pub judged: bool,
}

/// How a run is logged.
#[derive(Clone, Debug, PartialEq)]
pub struct Logging {
    /// What the clock shows at the start.
    pub start: DateTime,
    /// Seconds by which the clock on the wall is ahead of universal time at the start.
    pub ahead_of_utc_s: i64,
    /// The intervals, one after the other.
    pub paces: Vec<Pace>,
    /// Stretches in hours in which nothing is kept.
    pub pauses: Vec<Stretch>,
    /// Clock set forward, or back where negative: hours, seconds.
    pub clock_changes: Vec<(f64, i64)>,
    /// Resolution in tenths of a degree Celsius.
    pub step_tenths: i32,
    /// Standard deviation of the noise in K.
    pub deviation_k: f64,
    /// Where chance begins.
    pub seed: u64,
}

/// An interval of logging.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Until when, in hours.
    pub until_h: f64,
    /// Seconds between rows.
    pub interval_s: u64,
}

/// A thermocouple that fails.
#[derive(Clone, Debug, PartialEq)]
pub struct Failed {
    /// Its channel.
    pub channel: String,
    /// How.
    pub how: Failing,
    /// When the log can first show it, in hours.
    pub shows_h: f64,
}

/// How a thermocouple fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Failing {
    /// Its circuit is open.
    Open,
    /// It keeps its value while its neighbors move.
    Stuck,
    /// Its wires are swapped.
    Reversed,
    /// It came off.
    Detached,
    /// The coil disturbs it.
    Pickup,
    /// It scatters.
    Noisy,
    /// It departs slowly; a place that really changes does the same.
    Drift,
    /// Two channels stand under each other's name; it shows only with the power of the zones.
    Swapped,
}

impl Failing {
    /// Whether one log proves that the readings are not those of the metal.
    pub fn proven(self) -> bool {
        !matches!(self, Failing::Pickup | Failing::Drift | Failing::Swapped)
    }
}

impl Situation {
    /// What the true temperatures of the judged places say, without a place whose thermocouple is proven to fail.
    pub fn answer(&self) -> Answer {
        Answer::of(&self.lines(), &self.card, &self.silences())
    }

    /// What must be said of each limit once a thermocouple that is proven to fail has left.
    pub fn expected(&self) -> Expectations {
        let silent = !self.silences().is_empty();
        Expectations::of(&self.answer(), &self.card, &self.margins(), silent)
    }

    /// The stretches from the last row before a pause to the first after it.
    pub fn silences(&self) -> Vec<Stretch> {
        let rows = self.record().rows;
        let hours = |s: u64| s as f64 / 3600.0;
        let silence = |pause: &Stretch| {
            let before = rows.iter().rev().find(|r| hours(r.elapsed_s) <= pause.0)?;
            let after = rows.iter().find(|r| hours(r.elapsed_s) >= pause.1)?;
            Some((hours(before.elapsed_s), hours(after.elapsed_s)))
        };
        self.logging.pauses.iter().filter_map(silence).collect()
    }

    /// How near to a limit nothing can be said: half a step and four standard deviations; two intervals of the
    /// hold's stretch; a tenth of a rate.
    pub fn margins(&self) -> Margins {
        let slowest_s = self.logging.paces.iter().map(|p| p.interval_s).max();
        Margins {
            level_k: f64::from(self.logging.step_tenths) / 20.0 + 4.0 * self.logging.deviation_k,
            time_h: 2.0 * slowest_s.unwrap_or(60) as f64 / 3600.0,
            rate_share: 0.1,
        }
    }

    fn lines(&self) -> Vec<&Line> {
        let failed = self.failed.as_ref().filter(|f| f.how.proven());
        let left = |c: &&Channel| failed.is_none_or(|f| f.channel != c.name);
        self.channels
            .iter()
            .filter(|c| c.judged)
            .filter(left)
            .map(|c| &c.metal)
            .collect()
    }
}

impl Situation {
    /// With another number of attempts.
    pub fn with_attempts(mut self, attempts: usize) -> Situation {
        self.attempts = attempts;
        self
    }

    /// With one more event: hours and text.
    pub fn with_event(mut self, at_h: f64, text: &'static str) -> Situation {
        self.events.push((at_h, text));
        self
    }
}
