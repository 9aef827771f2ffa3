//! One attempt while it runs.

use quantity::{Celsius, Hours, KelvinsPerHour};

use crate::assembly::Clocks;
use crate::attempt::{Attempt, Ending, HoldCredit};
use crate::channel::ChannelUse;
use crate::envelope::Envelope;
use crate::event::{Event, Happening};
use crate::peak::Reading;

/// Time over which the mean rate of a start or restart is taken: the hour in which a limit is written.
const FIRST_HOUR_S: f64 = 3600.0;

const SECONDS_PER_HOUR: f64 = 3600.0;

/// One attempt while it runs.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    began_s: f64,
    from_c: f64,
    pub begins_before_log: bool,
    pub start_rate: StartRate,
    peak: Reading,
    pub hold_began_s: Option<f64>,
    pub band_left_s: Option<f64>,
    /// When the coldest last stood within a little of its highest of late.
    pub level_s: Option<f64>,
    pub dips: u64,
    pub interruptions: u64,
    pub ended_s: Option<f64>,
    pub why: Ending,
    holds: Vec<HoldCredit>,
    /// The highest of the coldest since heating began or was interrupted.
    pub crest: Reading,
    /// The lowest since then.
    pub lowest: Envelope,
    /// What may have ended it.
    ending: Option<Ending>,
    /// Whether too few thermocouples were left.
    pub short_of_thermocouples: bool,
}

/// The mean rate after a start, while its hour runs.
#[derive(Clone, Copy, Debug)]
pub(crate) struct StartRate {
    from: Reading,
    to: Reading,
}

impl StartRate {
    pub fn from(envelope: &Envelope) -> StartRate {
        StartRate {
            from: envelope.hottest,
            to: envelope.hottest,
        }
    }

    /// The same with a later reading, while the hour runs.
    pub fn then_at(self, envelope: &Envelope) -> StartRate {
        let reading = envelope.hottest;
        if reading.time_s - self.from.time_s > FIRST_HOUR_S {
            return self;
        }
        StartRate {
            from: self.from,
            to: reading,
        }
    }

    fn k_h(self) -> Option<f64> {
        let lasted_s = self.to.time_s - self.from.time_s;
        let rise_k = self.to.value_c - self.from.value_c;
        (lasted_s > 0.0).then(|| rise_k / lasted_s * SECONDS_PER_HOUR)
    }
}

impl Run {
    pub fn new(began_s: f64, envelope: &Envelope) -> Run {
        Run {
            began_s,
            from_c: envelope.coldest.value_c,
            begins_before_log: false,
            start_rate: StartRate::from(envelope),
            peak: envelope.hottest,
            hold_began_s: None,
            band_left_s: None,
            level_s: None,
            dips: 0,
            interruptions: 0,
            ended_s: None,
            why: Ending::GoesOn,
            holds: Vec::new(),
            crest: envelope.coldest,
            lowest: *envelope,
            ending: None,
            short_of_thermocouples: false,
        }
    }

    pub fn note(&mut self, envelope: &Envelope, happened: &[Event], level_k: f64) {
        if envelope.hottest.value_c > self.peak.value_c {
            self.peak = envelope.hottest;
        }
        let sunk_k = self.crest.value_c - self.lowest.coldest.value_c;
        let left = self.band_left_s.is_some() || sunk_k >= level_k;
        for event in happened {
            self.ending = match event.what {
                Happening::PowerOn if !left => None,
                Happening::PowerOff => self.ending.or(Some(Ending::Power)),
                Happening::HoldStop => Some(Ending::Operator),
                _ => self.ending,
            };
        }
    }

    /// The heating goes on in the same attempt after an interruption.
    pub fn go_on(&mut self, envelope: &Envelope) {
        self.interruptions += 1;
        self.crest = envelope.coldest;
        self.lowest = *envelope;
        self.ending = None;
    }

    /// Keeps the lowest since the hold was at its best or the heating at its crest.
    pub fn sink(&mut self, envelope: &Envelope) {
        if self.band_left_s.is_none() {
            self.crest = envelope.coldest;
            self.lowest = *envelope;
        } else if envelope.coldest.value_c < self.lowest.coldest.value_c {
            self.lowest = *envelope;
        }
    }

    /// Whether the heating was interrupted and now goes on: it fell by more than a turn for longer than a loss, and
    /// has risen by a turn from its lowest.
    pub fn interrupted(&mut self, envelope: &Envelope, turn_k: f64, loss_time_s: f64) -> bool {
        let now = envelope.coldest;
        if now.value_c < self.lowest.coldest.value_c {
            self.lowest = *envelope;
        }
        let lowest = self.lowest.coldest;
        let fell = self.crest.value_c - lowest.value_c >= turn_k;
        let again = fell && now.value_c >= lowest.value_c + turn_k;
        let long = now.time_s - self.crest.time_s > loss_time_s;
        if (again && !long) || (!again && now.value_c >= self.crest.value_c) {
            self.crest = now;
            self.lowest = *envelope;
        }
        again && long
    }

    /// Takes the credit of the clocks to this attempt.
    pub fn credit(&mut self, clocks: &[Option<Clocks>]) {
        let credit = |clocks: &Clocks| HoldCredit {
            level: clocks.level,
            asked: clocks.asked,
            longest: Hours::from_s(clocks.all.counted.part_longest_s),
            total: Hours::from_s(clocks.all.counted.part_total_s),
            accumulated: Hours::from_s(clocks.all.counted.total_s),
        };
        self.holds = clocks.iter().flatten().map(credit).collect();
    }

    /// Why it ended; `restarts` says that heating begins anew without having fallen through the start level.
    pub fn ending(&self, restarts: bool) -> Ending {
        match (self.ending, self.hold_began_s) {
            _ if self.short_of_thermocouples => Ending::Thermocouples,
            (Some(ending), _) => ending,
            (None, Some(_)) if !restarts => Ending::Cooled,
            (None, _) => Ending::Unexplained,
        }
    }

    pub fn told(&self, channels: &[ChannelUse]) -> Attempt {
        let hours = |s: Option<f64>| s.map(Hours::from_s);
        Attempt {
            began: Hours::from_s(self.began_s),
            from: Celsius::from_c(self.from_c),
            begins_before_log: self.begins_before_log,
            start_rate: self.start_rate.k_h().map(KelvinsPerHour::from_k_h),
            peak: Celsius::from_c(self.peak.value_c),
            peak_when: Hours::from_s(self.peak.time_s),
            peak_channel: channels[self.peak.channel].name.clone(),
            hold_began: hours(self.hold_began_s),
            band_left: hours(self.band_left_s),
            cooling_began: hours(self.level_s.filter(|_| self.band_left_s.is_some())),
            holds: self.holds.clone(),
            dips: self.dips,
            interruptions: self.interruptions,
            ended: hours(self.ended_s),
            why: self.why,
        }
    }
}
