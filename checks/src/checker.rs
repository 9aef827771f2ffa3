//! The fold: scans in, findings at any time.

use std::collections::VecDeque;
use std::time::Duration;

use quantity::Hours;
use readings::Scan;
use rules::requirement::{Limit, Requirement};

use crate::assembly::{lowest_threshold_c, rates_of};
use crate::attempts::AttemptFold;
use crate::between::Between;
use crate::channel::ChannelUse;
use crate::definitions::Definitions;
use crate::disposition::{CheckError, Disposition, Removal, faults};
use crate::envelope::Envelope;
use crate::event::{Event, Events};
use crate::failing::Watch;
use crate::failure::Failing;
use crate::filter::Filter;
use crate::finding::{Findings, Origin, Silent};
use crate::folds::Folds;
use crate::gradient::GradientFold;
use crate::judge;
use crate::levels::lowest_hold_minimum_c;
use crate::pace::{GapRule, Moment, Pacer};
use crate::ramp::RampFold;
use crate::roster::Roster;
use crate::sitter::Sitter;
use crate::slope::Sample;
use crate::zone::Zone;

/// Judges scans against a requirement while they come.
#[derive(Clone, Debug)]
pub struct Checker {
    pub(crate) limits: Vec<Limit>,
    pub(crate) channels: Vec<ChannelUse>,
    pub(crate) definitions: Definitions,
    pub(crate) origin: Origin,
    pub(crate) dispositions: Vec<Disposition>,
    zones: Vec<Zone>,
    pacer: Pacer,
    pub(crate) watch: Watch,
    between: Between,
    /// Scans that wait for evidence against their readings.
    waiting: VecDeque<Moment>,
    roster: Roster,
    pub(crate) failing: Vec<Failing>,
    events: Events,
    /// Time of the newest scan judged.
    pub(crate) now_s: f64,
    /// First reading of each channel that was judged.
    pub(crate) first_c: Vec<Option<f64>>,
    /// When each channel last spoke.
    spoke_s: Vec<Option<f64>>,
    /// Whether each channel ever judged.
    judged: Vec<bool>,
    /// Whether each channel judges now.
    judges: Vec<bool>,
    pub(crate) raw: Folds,
    /// The same of filtered readings; not used for predicted ones.
    pub(crate) filtered: Folds,
    filter: Filter,
    pub(crate) attempts: AttemptFold,
    /// Channels by which the hold is judged at any time.
    pub(crate) soak: Vec<usize>,
    /// One a channel.
    pub(crate) sitters: Vec<Sitter>,
    gradients: GradientFold,
    /// One a channel by which rates are judged, of filtered readings.
    pub(crate) ramps: Vec<(usize, RampFold)>,
    /// The same of raw readings, for the window that binds.
    pub(crate) raw_ramps: Vec<(usize, RampFold)>,
}

impl Checker {
    /// A checker for scans whose readings stand in the order of `channels`.
    pub fn new(
        requirement: &Requirement,
        channels: &[ChannelUse],
        definitions: Definitions,
    ) -> Checker {
        Checker::assembled(
            requirement.limits.clone(),
            channels.to_vec(),
            definitions,
            Vec::new(),
        )
    }

    /// A checker for limits that stand alone, as on a cycle card.
    pub fn of_limits(
        limits: Vec<Limit>,
        channels: &[ChannelUse],
        definitions: Definitions,
    ) -> Checker {
        Checker::assembled(limits, channels.to_vec(), definitions, Vec::new())
    }

    /// The scans are predicted: there is no noise and no failed thermocouple to look for.
    #[must_use]
    pub fn of_prediction(mut self) -> Checker {
        self.origin = Origin::Predicted;
        self
    }

    /// Takes thermocouples out of the set by the word of named persons, before the first scan. Where the definitions let
    /// none leave, they are set to [`Removal::ByWord`], and printed so.
    ///
    /// # Errors
    /// [`CheckError::Dispositions`] with every fault of every disposition: an unknown channel, no reason, no name, a
    /// time that is no number.
    pub fn with_dispositions(self, dispositions: Vec<Disposition>) -> Result<Checker, CheckError> {
        let known: Vec<&str> = self.channels.iter().map(|c| c.name.as_str()).collect();
        let faults = faults(&dispositions, &known);
        if !faults.is_empty() {
            return Err(CheckError::Dispositions { faults });
        }
        let mut definitions = self.definitions;
        if definitions.removal == Removal::Never && !dispositions.is_empty() {
            definitions.removal = Removal::ByWord;
        }
        let assembled = Checker::assembled(self.limits, self.channels, definitions, dispositions);
        let checker = Checker {
            origin: self.origin,
            events: self.events,
            ..assembled
        };
        checker.with_zones(self.zones)
    }

    /// Holds thermocouples against the power of the zone that heats them, before the first scan.
    ///
    /// # Errors
    /// [`CheckError::Zones`] where a zone names a thermocouple that is not there, or two zones name the same.
    pub fn with_zones(mut self, zones: Vec<Zone>) -> Result<Checker, CheckError> {
        let known: Vec<&str> = self.channels.iter().map(|c| c.name.as_str()).collect();
        let faults = crate::zone::faults(&zones, &known);
        if !faults.is_empty() {
            return Err(CheckError::Zones { faults });
        }
        self.watch
            .of_zones(&zones, &self.channels, &self.definitions);
        self.zones = zones;
        Ok(self)
    }

    /// Takes the power of a zone at a time, before the scans of that time; the unit is the same for all zones.
    pub fn power(&mut self, zone: usize, elapsed: Duration, power: f64) {
        self.watch.powers.note(zone, elapsed.as_secs_f64(), power);
    }

    fn assembled(
        limits: Vec<Limit>,
        channels: Vec<ChannelUse>,
        definitions: Definitions,
        dispositions: Vec<Disposition>,
    ) -> Checker {
        let low_c = lowest_hold_minimum_c(&limits);
        let roster = Roster::new(&channels, &dispositions, definitions.fewest_thermocouples);
        let (soak, rated) = roster.ever();
        let ramps_by = |definitions: &Definitions| -> Vec<(usize, RampFold)> {
            let rates = rates_of(&limits, definitions);
            let ramp = |c: &usize| (*c, RampFold::new(low_c, rates.clone(), definitions));
            rated.iter().map(ramp).collect()
        };
        let binding_only = Definitions {
            rate_windows_beside: Vec::new(),
            ..definitions.clone()
        };
        let raw = Folds::new(&limits, &channels, &soak, &definitions);
        Checker {
            origin: Origin::Measured,
            dispositions,
            zones: Vec::new(),
            pacer: Pacer::new(&definitions),
            watch: Watch::new(&channels, &definitions),
            between: Between::new(channels.len(), &definitions),
            waiting: VecDeque::new(),
            roster,
            failing: Vec::new(),
            events: Events::default(),
            now_s: 0.0,
            first_c: vec![None; channels.len()],
            spoke_s: vec![None; channels.len()],
            judged: vec![false; channels.len()],
            judges: vec![false; channels.len()],
            filtered: raw.clone().together(),
            raw,
            filter: Filter::new(&definitions),
            attempts: AttemptFold::new(low_c, lowest_threshold_c(&limits), &definitions),
            sitters: channels.iter().map(|_| Sitter::new(low_c)).collect(),
            gradients: GradientFold::new(&channels, soak.clone()),
            soak,
            ramps: ramps_by(&definitions),
            raw_ramps: ramps_by(&binding_only),
            limits,
            channels,
            definitions,
        }
    }

    /// Takes an event. Events may be noted long before the scans of their time; one that is noted after a later scan was
    /// looked at is printed and explains nothing.
    pub fn note(&mut self, event: &Event) {
        self.events.note(event.clone());
    }

    /// Takes the next scan. A reading that the scan lacks is silence; a scan no later than the one before is left out
    /// and counted.
    pub fn push(&mut self, scan: &Scan) {
        if let Some(moment) = self.pacer.push(scan, self.channels.len()) {
            self.look(moment);
        }
    }

    /// What the scans so far say. More scans may be pushed afterwards.
    pub fn findings(&self) -> Findings {
        let mut ended = self.clone();
        if let Some(moment) = ended.pacer.finish() {
            ended.look(moment);
        }
        ended.judge_waiting(f64::INFINITY);
        let ramps = ended.ramps.iter_mut().chain(&mut ended.raw_ramps);
        ramps.for_each(|(_, ramp)| ramp.finish());
        ended.sitters.iter_mut().for_each(Sitter::finish);
        Findings {
            findings: judge::every_limit(&ended),
            thermocouples: ended
                .channels
                .iter()
                .filter(|c| c.fitted)
                .cloned()
                .collect(),
            settings: ended.definitions.clone(),
            definitions: ended.definitions.printed(),
            origin: ended.origin,
            attempts: ended.attempts.told(&ended.raw.clocks, &ended.channels),
            table: ended.table(),
            gradients: ended.gradients.told(&ended.channels),
            events: ended.events.all.clone(),
            late_events: ended.events.late,
            failures: ended.failures_told(),
            removed: ended.removed_told(),
            silent: ended.silent_told(),
            scans_out_of_order: ended.pacer.out_of_order,
        }
    }

    /// Readings kept in memory; bounded by the windows whatever the length of the log.
    pub fn retained_readings(&self) -> usize {
        let ramps = self.ramps.iter().chain(&self.raw_ramps);
        let ramps = ramps.map(|(_, ramp)| ramp.retained());
        let waiting = self.waiting.len() * self.channels.len();
        ramps.sum::<usize>()
            + self.attempts.retained()
            + self.watch.retained()
            + self.filter.retained()
            + waiting
    }

    /// Whether the channel judged and never spoke.
    pub(crate) fn never_spoke(&self, channel: usize) -> bool {
        self.spoke_s[channel].is_none() && (self.judged[channel] || self.now_s == 0.0)
    }

    /// When the channel fell silent, if it stayed so to the end of the log for longer than any interval.
    pub(crate) fn fell_silent_s(&self, channel: usize) -> Option<f64> {
        self.spoke_s[channel]
            .filter(|_| self.judges[channel])
            .filter(|spoke_s| self.now_s - spoke_s > self.definitions.gap_ceiling.s())
    }

    /// Channels that fell silent without having failed by any sign.
    fn silent_told(&self) -> Vec<Silent> {
        let all = 0..self.channels.len();
        let silent = all.filter(|c| self.blind_from(*c).is_none());
        silent
            .filter_map(|c| {
                Some(Silent {
                    channel: self.channels[c].name.clone(),
                    from: Hours::from_s(self.fell_silent_s(c)?),
                })
            })
            .collect()
    }

    /// Why a channel says nothing more, in words that follow a reason.
    pub(crate) fn lost_words(&self, channel: usize) -> String {
        let name = &self.channels[channel].name;
        let last = Hours::from_s(self.spoke_s[channel].unwrap_or(0.0)).words();
        match self.blind_from(channel) {
            Some(failing) => {
                let kind = failing.kind.words();
                format!("{name} is read no more from {last} on ({kind})")
            }
            None => format!("{name} says nothing more after {last}"),
        }
    }

    fn blind_from(&self, channel: usize) -> Option<&Failing> {
        let mut failing = self.failing.iter();
        failing.find(|f| f.channel == channel && f.kind.blind() && f.acts_from_s.is_some())
    }

    /// Looks for failures; what is old enough is judged.
    fn look(&mut self, mut moment: Moment) {
        let happened = self.events.until(moment.time_s);
        let reach_s = match self.origin {
            Origin::Predicted => 0.0,
            // A reading between two of its own has to wait for the second as well.
            Origin::Measured => {
                let definitions = &self.definitions;
                definitions
                    .evidence_reach
                    .s()
                    .max(definitions.gap_ceiling.s())
            }
        };
        if self.origin == Origin::Measured {
            let found = self.watch.push(&mut moment, &happened);
            found.into_iter().for_each(|f| self.found(f));
            self.between.push(&moment, &mut self.waiting);
        }
        moment.happened = happened;
        let until_s = moment.time_s - reach_s;
        self.waiting.push_back(moment);
        self.judge_waiting(until_s);
    }

    pub(crate) fn oldest_waiting_s(&self) -> Option<f64> {
        self.waiting.front().map(|m| m.time_s)
    }

    pub(crate) fn leaves(&mut self, channel: usize, from_s: f64) {
        self.roster.leave(channel, from_s);
    }

    fn judge_waiting(&mut self, until_s: f64) {
        while self.waiting.front().is_some_and(|m| m.time_s <= until_s) {
            if let Some(moment) = self.waiting.pop_front() {
                let moment = self.judged_by_set(moment);
                self.take(moment);
            }
        }
    }

    /// The scan with the set of its time; what is no reading of the metal is silent.
    fn judged_by_set(&mut self, mut moment: Moment) -> Moment {
        moment.judges = self.roster.at(moment.time_s);
        for failing in self.failing.iter().filter(|f| f.kind.blind()) {
            if failing.acts_from_s.is_some_and(|s| s <= moment.time_s) {
                moment.readings_c[failing.channel] = None;
            }
        }
        moment
    }

    fn take(&mut self, moment: Moment) {
        for (first_c, reading_c) in self.first_c.iter_mut().zip(&moment.readings_c) {
            *first_c = first_c.or(*reading_c);
        }
        let gaps = self.gaps_before(&moment);
        self.now_s = moment.time_s;
        self.raw.advance(&moment, &gaps);
        let phase = self.raw.stage.phase();
        if let Some(envelope) = Envelope::of(&moment, &self.soak) {
            self.attempts
                .push(&envelope, phase, &moment, &mut self.raw.clocks);
        }
        self.raw.count(&moment);
        self.gradients.push(&moment, phase);
        self.feed_sitters(&moment, &gaps);
        if self.origin == Origin::Predicted {
            return feed_ramps(&mut self.ramps, &moment, &gaps);
        }
        feed_ramps(&mut self.raw_ramps, &moment, &gaps);
        let filtered = self.filter.filtered(&moment, &self.waiting, &self.failing);
        self.filtered.advance(&filtered, &gaps);
        self.filtered.count(&filtered);
        feed_ramps(&mut self.ramps, &filtered, &gaps);
        self.filter.keep(moment);
    }

    fn feed_sitters(&mut self, moment: &Moment, gaps: &[bool]) {
        let (phase, whole) = (self.raw.stage.phase(), self.raw.stage.whole());
        for (channel, sitter) in self.sitters.iter_mut().enumerate() {
            let reading_c = moment.own_c(channel).filter(|_| moment.judges.any[channel]);
            sitter.push(moment.time_s, reading_c, gaps[channel], phase, whole);
        }
    }

    /// For each channel whether a gap lies between its last reading and this one.
    fn gaps_before(&mut self, moment: &Moment) -> Vec<bool> {
        let step = moment.step;
        let gap_rule = GapRule::of(&self.definitions);
        let gap_of = |spoke_s: Option<f64>| {
            let (Some(spoke_s), Some(step)) = (spoke_s, step) else {
                return false;
            };
            let silent_s = moment.time_s - spoke_s;
            let missed_scans = silent_s > step.length_s;
            step.gap || (missed_scans && gap_rule.is_gap(silent_s, step.length_s))
        };
        let gaps = self.spoke_s.iter().map(|s| gap_of(*s)).collect();
        for channel in 0..self.channels.len() {
            self.judges[channel] = moment.judges.hold[channel] || moment.judges.rate[channel];
            self.judged[channel] |= self.judges[channel];
            if moment.readings_c[channel].is_some() {
                self.spoke_s[channel] = Some(moment.time_s);
            }
        }
        gaps
    }
}

fn feed_ramps(ramps: &mut [(usize, RampFold)], moment: &Moment, gaps: &[bool]) {
    for (channel, ramp) in ramps {
        let judging = moment.judges.rate[*channel];
        if let Some(value_c) = moment.own_c(*channel).filter(|_| judging) {
            let time_s = moment.time_s;
            ramp.push(Sample { time_s, value_c }, gaps[*channel]);
        }
    }
}
