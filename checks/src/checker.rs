//! The fold: scans in, findings at any time.

use quantity::{Celsius, Hours};
use readings::Scan;
use rules::requirement::{Level, Limit, LimitKind, Requirement};

use crate::attempt::{Attempts, ThermalCycles};
use crate::attempts::AttemptFold;
use crate::channel::ChannelUse;
use crate::definitions::Definitions;
use crate::envelope::Envelope;
use crate::event::{Event, Events};
use crate::finding::{Findings, Origin};
use crate::heating_spread::HeatingSpreadFold;
use crate::hold_clock::HoldClock;
use crate::hold_stage::HoldStage;
use crate::judge;
use crate::levels::{lowest_hold_minimum_c, range_of};
use crate::pace::{Moment, Pacer};
use crate::peak::PeakFold;
use crate::ramp::RampFold;
use crate::rate::{Direction, RateFold};
use crate::slope::Sample;

/// Judges scans against a requirement while they come.
#[derive(Clone, Debug)]
pub struct Checker {
    pub(crate) limits: Vec<Limit>,
    pub(crate) channels: Vec<ChannelUse>,
    pub(crate) definitions: Definitions,
    pub(crate) pacer: Pacer,
    /// Time of the newest scan taken.
    now_s: f64,
    /// When each channel last spoke.
    spoke_s: Vec<Option<f64>>,
    pub(crate) peak: PeakFold,
    pub(crate) stage: HoldStage,
    /// One a limit; `None` where the limit asks for no hold time.
    pub(crate) clocks: Vec<Option<Clocks>>,
    attempts: AttemptFold,
    events: Events,
    /// Channels by which the hold is judged.
    soak: Vec<usize>,
    pub(crate) origin: Origin,
    /// One a channel by which rates are judged.
    pub(crate) ramps: Vec<(usize, RampFold)>,
    /// One a limit; `None` where the limit asks for no heating spread.
    pub(crate) heating_spreads: Vec<Option<HeatingSpreadFold>>,
}

/// The hold clocks of one limit.
#[derive(Clone, Debug)]
pub(crate) struct Clocks {
    /// Who asks for the hold.
    pub level: Level,
    /// How long it is to be.
    pub asked: Hours,
    /// All thermocouples of the soak band together.
    pub all: HoldClock,
    /// Each alone.
    pub each: Vec<(usize, HoldClock)>,
}

impl Checker {
    /// A checker for scans whose readings stand in the order of `channels`.
    pub fn new(
        requirement: &Requirement,
        channels: &[ChannelUse],
        definitions: Definitions,
    ) -> Checker {
        let limits = requirement.limits.clone();
        let low_c = lowest_hold_minimum_c(&limits);
        let soak: Vec<usize> = indices(channels, ChannelUse::judges_hold);
        let fitted: Vec<usize> = indices(channels, |c| c.fitted);
        let clocks = limits
            .iter()
            .map(|limit| clocks_of(limit, &limits, &soak, &definitions))
            .collect();
        let rates = rates_of(&limits, &definitions);
        let ramps = indices(channels, ChannelUse::judges_rate)
            .into_iter()
            .map(|c| (c, RampFold::new(low_c, rates.clone(), &definitions)))
            .collect();
        let heating_spreads = limits
            .iter()
            .map(|limit| heating_spread_of(limit, channels, &soak))
            .collect();
        Checker {
            pacer: Pacer::new(&definitions),
            now_s: 0.0,
            spoke_s: vec![None; channels.len()],
            peak: PeakFold::new(
                low_c.unwrap_or(f64::INFINITY),
                channels.len(),
                fitted,
                soak.clone(),
            ),
            stage: HoldStage::new(low_c, soak.clone(), &definitions),
            attempts: AttemptFold::new(low_c, lowest_threshold_c(&limits), &definitions),
            events: Events::default(),
            soak,
            origin: Origin::Measured,
            clocks,
            ramps,
            heating_spreads,
            limits,
            channels: channels.to_vec(),
            definitions,
        }
    }

    /// The scans are predicted: there is no noise and no failed thermocouple to look for.
    #[must_use]
    pub fn of_prediction(mut self) -> Checker {
        self.origin = Origin::Predicted;
        self
    }

    /// Takes an event. Events may be noted long before the scans of their time; one that is noted after a later scan is
    /// printed and explains nothing.
    pub fn note(&mut self, event: &Event) {
        self.events.note(event.clone());
    }

    /// Takes the next scan. A reading that the scan lacks is silence; a scan no later than the one before is left out
    /// and counted.
    pub fn push(&mut self, scan: &Scan) {
        if let Some(moment) = self.pacer.push(scan, self.channels.len()) {
            self.take(&moment);
        }
    }

    /// What the scans so far say. More scans may be pushed afterwards.
    pub fn findings(&self) -> Findings {
        let mut ended = self.clone();
        if let Some(moment) = ended.pacer.finish() {
            ended.take(&moment);
        }
        ended.ramps.iter_mut().for_each(|(_, ramp)| ramp.finish());
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
            attempts: ended.attempts_told(),
            events: ended.events.all.clone(),
            late_events: ended.events.late,
            scans_out_of_order: ended.pacer.out_of_order,
        }
    }

    /// Readings kept in memory; bounded by the windows whatever the length of the log.
    pub fn retained_readings(&self) -> usize {
        let ramps = self.ramps.iter().map(|(_, ramp)| ramp.retained());
        ramps.sum::<usize>() + self.attempts.retained()
    }

    fn attempts_told(&self) -> Attempts {
        let mut runs = self.attempts.done.clone();
        runs.extend(self.attempts.running().map(|run| {
            let mut run = run.clone();
            run.credit(&self.clocks);
            run
        }));
        Attempts {
            list: runs.iter().map(|run| run.told(&self.channels)).collect(),
            more: self.attempts.more,
            thermal_cycles: self.attempts.threshold_c.map(|above_c| ThermalCycles {
                above: Celsius::from_c(above_c),
                count: self.attempts.cycles,
            }),
        }
    }

    /// Whether the channel never spoke.
    pub(crate) fn never_spoke(&self, channel: usize) -> bool {
        self.spoke_s[channel].is_none()
    }

    /// When the channel fell silent, if it stayed so to the end of the log for longer than any interval.
    pub(crate) fn fell_silent_s(&self, channel: usize) -> Option<f64> {
        self.spoke_s[channel]
            .filter(|spoke_s| self.now_s - spoke_s > self.definitions.gap_ceiling.s())
    }

    fn take(&mut self, moment: &Moment) {
        let gaps = self.gaps_before(moment);
        self.now_s = moment.time_s;
        self.peak.push(moment, &gaps);
        self.stage.push(moment);
        let happened = self.events.until(moment.time_s);
        if let Some(envelope) = Envelope::of(moment, &self.soak) {
            let phase = self.stage.phase();
            self.attempts
                .push(&envelope, phase, &happened, &mut self.clocks);
        }
        for clocks in self.clocks.iter_mut().flatten() {
            clocks.all.push(moment);
            clocks
                .each
                .iter_mut()
                .for_each(|(_, clock)| clock.push(moment));
        }
        for (channel, ramp) in &mut self.ramps {
            if let Some(value_c) = moment.readings_c[*channel] {
                ramp.push(
                    Sample {
                        time_s: moment.time_s,
                        value_c,
                    },
                    gaps[*channel],
                );
            }
        }
        if self.stage.heating() {
            self.heating_spreads
                .iter_mut()
                .flatten()
                .for_each(|spread| spread.push(moment));
        }
    }

    /// For each channel whether a gap lies between its last reading and this one.
    fn gaps_before(&mut self, moment: &Moment) -> Vec<bool> {
        let step = moment.step;
        let floor_s = self.definitions.gap_floor.s();
        let ceiling_s = self.definitions.gap_ceiling.s();
        let gap_of = |spoke_s: Option<f64>| {
            let (Some(spoke_s), Some(step)) = (spoke_s, step) else {
                return false;
            };
            let silent_s = moment.time_s - spoke_s;
            let missed_scans = silent_s > step.length_s;
            let allowed_s = floor_s
                .max(self.definitions.gap_factor * step.length_s)
                .min(ceiling_s);
            step.gap || (missed_scans && silent_s > allowed_s)
        };
        let gaps = self.spoke_s.iter().map(|s| gap_of(*s)).collect();
        for (spoke_s, reading) in self.spoke_s.iter_mut().zip(&moment.readings_c) {
            if reading.is_some() {
                *spoke_s = Some(moment.time_s);
            }
        }
        gaps
    }
}

fn indices(channels: &[ChannelUse], wanted: impl Fn(&ChannelUse) -> bool) -> Vec<usize> {
    channels
        .iter()
        .enumerate()
        .filter(|(_, c)| wanted(c))
        .map(|(i, _)| i)
        .collect()
}

fn clocks_of(
    limit: &Limit,
    limits: &[Limit],
    soak: &[usize],
    definitions: &Definitions,
) -> Option<Clocks> {
    let LimitKind::HoldTime(asked) = limit.kind else {
        return None;
    };
    let range = range_of(limits, limit.level);
    let clock = |channels: Vec<usize>| HoldClock::new(range, channels, definitions.gap_floor.s());
    Some(Clocks {
        level: limit.level,
        asked,
        all: clock(soak.to_vec()),
        each: soak.iter().map(|c| (*c, clock(vec![*c]))).collect(),
    })
}

/// One fold a direction and threshold, however many limits share it.
fn rates_of(limits: &[Limit], definitions: &Definitions) -> Vec<RateFold> {
    let mut wanted: Vec<(Direction, f64)> =
        limits.iter().filter_map(|l| rate_key(&l.kind)).collect();
    wanted.dedup();
    let mut folds: Vec<RateFold> = Vec::new();
    for (direction, above_c) in wanted {
        if !folds
            .iter()
            .any(|f| f.direction == direction && f.above_c == above_c)
        {
            folds.push(RateFold::new(direction, above_c, definitions));
        }
    }
    folds
}

/// The lowest threshold of a heating rate.
fn lowest_threshold_c(limits: &[Limit]) -> Option<f64> {
    let heating = limits.iter().filter_map(|l| rate_key(&l.kind));
    heating
        .filter(|(direction, _)| *direction == Direction::Heating)
        .map(|(_, above_c)| above_c)
        .reduce(f64::min)
}

/// Direction and threshold of a rate limit.
pub(crate) fn rate_key(kind: &LimitKind) -> Option<(Direction, f64)> {
    match kind {
        LimitKind::HeatingRate { above, .. } => Some((Direction::Heating, above.c())),
        LimitKind::CoolingRate { above, .. } => Some((Direction::Cooling, above.c())),
        _ => None,
    }
}

fn heating_spread_of(
    limit: &Limit,
    channels: &[ChannelUse],
    soak: &[usize],
) -> Option<HeatingSpreadFold> {
    let LimitKind::HeatingSpread { within, .. } = limit.kind else {
        return None;
    };
    let places = soak.iter().map(|c| (*c, channels[*c].axial.mm())).collect();
    Some(HeatingSpreadFold::new(within.mm(), places))
}
