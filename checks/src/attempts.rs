//! The run of a log cut into attempts, by levels with hysteresis.

use quantity::Celsius;

use crate::assembly::Clocks;
use crate::attempt::{Attempts, ThermalCycles};
use crate::attempt_run::{Run, StartRate};
use crate::channel::ChannelUse;
use crate::definitions::{Definitions, Interruption};
use crate::envelope::Envelope;
use crate::event::Event;
use crate::hold_stage::Phase;
use crate::pace::Moment;
use crate::peak::Reading;
use crate::slope::Sample;
use crate::trailing::TrailingMax;

/// Attempts kept one by one; those after them are counted only, so that memory stays bounded.
const MOST_ATTEMPTS: usize = 200;

/// Cuts the log into attempts.
#[derive(Clone, Debug)]
pub(crate) struct AttemptFold {
    hold_min_c: Option<f64>,
    /// The lowest threshold of a heating rate.
    threshold_c: Option<f64>,
    start_rise_k: f64,
    level_k: f64,
    turn_k: f64,
    loss_time_s: f64,
    interruption: Interruption,
    /// The attempt begins where the hottest rises through this.
    start_c: Option<f64>,
    last: Option<Envelope>,
    rose_s: Option<f64>,
    fell_s: Option<f64>,
    recent: TrailingMax,
    run: Option<Run>,
    phase: Phase,
    done: Vec<Run>,
    more: u64,
    /// Whether the hottest is above the threshold.
    above: bool,
    cycles: u64,
}

impl AttemptFold {
    pub fn new(
        hold_min_c: Option<f64>,
        threshold_c: Option<f64>,
        definitions: &Definitions,
    ) -> AttemptFold {
        AttemptFold {
            hold_min_c,
            threshold_c,
            start_rise_k: definitions.start_rise.k(),
            level_k: definitions.level.k(),
            turn_k: definitions.turn.k(),
            loss_time_s: definitions.loss_time.s(),
            interruption: definitions.interruption,
            start_c: None,
            last: None,
            rose_s: None,
            fell_s: None,
            recent: TrailingMax::new(definitions.cooling_lookback.s()),
            run: None,
            phase: Phase::Heating,
            done: Vec::new(),
            more: 0,
            above: false,
            cycles: 0,
        }
    }

    /// When the last hold began; infinite where there was none.
    pub fn heated_until_s(&self) -> f64 {
        let began = self.runs().filter_map(|r| r.hold_began_s);
        began.reduce(f64::max).unwrap_or(f64::INFINITY)
    }

    /// When the last hold was left; infinite where it goes on or there was none.
    pub fn held_until_s(&self) -> f64 {
        let held = self.runs().filter(|r| r.hold_began_s.is_some());
        let left = held.map(|r| r.band_left_s.unwrap_or(f64::INFINITY));
        left.reduce(f64::max).unwrap_or(f64::INFINITY)
    }

    fn runs(&self) -> impl Iterator<Item = &Run> {
        self.done.iter().chain(&self.run)
    }

    /// The attempts as they are told; the one that goes on has the credit of its clocks so far.
    pub fn told(&self, clocks: &[Option<Clocks>], channels: &[ChannelUse]) -> Attempts {
        let mut runs = self.done.clone();
        runs.extend(self.run.clone().map(|mut run| {
            run.credit(clocks);
            run
        }));
        Attempts {
            list: runs.iter().map(|run| run.told(channels)).collect(),
            more: self.more,
            thermal_cycles: self.threshold_c.map(|above_c| ThermalCycles {
                above: Celsius::from_c(above_c),
                count: self.cycles,
            }),
        }
    }

    pub fn retained(&self) -> usize {
        self.recent.len()
    }

    /// Takes the next scan of the soak band, the phase that it led to and what happened up to it.
    pub fn push(
        &mut self,
        envelope: &Envelope,
        phase: Phase,
        moment: &Moment,
        clocks: &mut [Option<Clocks>],
    ) {
        self.count_cycles(envelope);
        let start_c = self.start_level_c(envelope);
        self.note_crossings(envelope, start_c);
        if self.run.is_none() && envelope.hottest.value_c >= start_c + self.level_k {
            self.begin(envelope, clocks);
        }
        self.follow(envelope, phase, &moment.happened, clocks);
        if let Some(run) = self.run.as_mut().filter(|_| phase == Phase::Hold) {
            run.short_of_thermocouples |= moment.judges.short;
        }
        if self.run.is_some() && envelope.hottest.value_c < start_c - self.level_k {
            self.end(
                self.fell_s.unwrap_or(envelope.hottest.time_s),
                clocks,
                false,
            );
        }
        self.phase = phase;
        self.last = Some(*envelope);
    }

    fn start_level_c(&mut self, envelope: &Envelope) -> f64 {
        let first_c = envelope.hottest.value_c;
        let risen_c = first_c + self.start_rise_k;
        let level_c = match self.threshold_c {
            Some(threshold_c) if first_c >= threshold_c => threshold_c,
            Some(threshold_c) => risen_c.max(threshold_c),
            None => risen_c,
        };
        let hold_min_c = self.hold_min_c.unwrap_or(f64::INFINITY);
        *self.start_c.get_or_insert(level_c.min(hold_min_c))
    }

    fn count_cycles(&mut self, envelope: &Envelope) {
        let Some(threshold_c) = self.threshold_c else {
            return;
        };
        let hottest_c = envelope.hottest.value_c;
        if !self.above && hottest_c >= threshold_c + self.level_k {
            self.above = true;
            self.cycles += 1;
        } else if self.above && hottest_c < threshold_c - self.level_k {
            self.above = false;
        }
    }

    fn note_crossings(&mut self, envelope: &Envelope, start_c: f64) {
        let Some(last) = self.last else { return };
        let crossed_s = crossing_s(last.hottest, envelope.hottest, start_c);
        if last.hottest.value_c < start_c && envelope.hottest.value_c >= start_c {
            self.rose_s = Some(crossed_s);
        } else if last.hottest.value_c >= start_c && envelope.hottest.value_c < start_c {
            self.fell_s = Some(crossed_s);
        }
    }

    fn begin(&mut self, envelope: &Envelope, clocks: &mut [Option<Clocks>]) {
        let began_s = self.rose_s.unwrap_or(envelope.hottest.time_s);
        let mut run = Run::new(began_s, envelope);
        run.begins_before_log = self.rose_s.is_none();
        self.open(run, clocks);
    }

    fn open(&mut self, run: Run, clocks: &mut [Option<Clocks>]) {
        self.run = Some(run);
        self.recent.clear();
        clocks.iter_mut().flatten().for_each(|c| c.all.begin_part());
    }

    fn follow(
        &mut self,
        envelope: &Envelope,
        phase: Phase,
        happened: &[Event],
        clocks: &mut [Option<Clocks>],
    ) {
        let (before, last) = (self.phase, self.last);
        let Some(run) = &mut self.run else { return };
        run.note(envelope, happened, self.level_k);
        if before == Phase::Lost && phase != Phase::Lost && run.hold_began_s.is_some() {
            self.restart(envelope, clocks);
        }
        let Some(run) = &mut self.run else { return };
        match phase {
            Phase::Hold => {
                if run.hold_began_s.is_none() {
                    run.hold_began_s = Some(
                        self.hold_min_c
                            .zip(last)
                            .map_or(envelope.coldest.time_s, |(low_c, last)| {
                                crossing_s(last.coldest, envelope.coldest, low_c)
                            }),
                    );
                }
                self.hold(envelope);
            }
            Phase::Lost => run.sink(envelope),
            Phase::Heating => self.heat(envelope, clocks),
        }
    }

    /// Inside the hold: dips, when the band is left, when cooling begins.
    fn hold(&mut self, envelope: &Envelope) {
        let (Some(run), Some(low_c)) = (&mut self.run, self.hold_min_c) else {
            return;
        };
        let coldest = envelope.coldest;
        let sample = Sample {
            time_s: coldest.time_s,
            value_c: coldest.value_c,
        };
        if coldest.value_c >= self.recent.push(sample) - self.level_k {
            run.level_s = Some(coldest.time_s);
        }
        if coldest.value_c >= low_c {
            if run.band_left_s.take().is_some() {
                run.dips += 1;
            }
        } else if run.band_left_s.is_none() {
            run.band_left_s = Some(self.last.map_or(coldest.time_s, |last| {
                crossing_s(last.coldest, coldest, low_c)
            }));
        }
        run.sink(envelope);
    }

    /// While heating: whether it is interrupted without falling through the start level.
    fn heat(&mut self, envelope: &Envelope, clocks: &mut [Option<Clocks>]) {
        let Some(run) = &mut self.run else { return };
        run.start_rate = run.start_rate.then_at(envelope);
        if !run.interrupted(envelope, self.turn_k, self.loss_time_s) {
            return;
        }
        match self.interruption {
            Interruption::SameAttempt => run.go_on(envelope),
            Interruption::NewAttempt => self.restart(envelope, clocks),
        }
    }

    /// Heating begins anew: the attempt ends, and the next begins at the lowest point between them.
    fn restart(&mut self, envelope: &Envelope, clocks: &mut [Option<Clocks>]) {
        let Some(run) = &self.run else { return };
        let lowest = run.lowest;
        let end_s = run.band_left_s.unwrap_or(run.crest.time_s);
        self.end(end_s, clocks, true);
        let mut run = Run::new(lowest.coldest.time_s, &lowest);
        run.start_rate = StartRate::from(&lowest);
        run.note(envelope, &[], self.level_k);
        self.open(run, clocks);
    }

    fn end(&mut self, end_s: f64, clocks: &mut [Option<Clocks>], restarts: bool) {
        let Some(mut run) = self.run.take() else {
            return;
        };
        run.ended_s = Some(end_s);
        run.credit(clocks);
        run.why = run.ending(restarts);
        self.rose_s = None;
        if self.done.len() < MOST_ATTEMPTS {
            self.done.push(run);
        } else {
            self.more += 1;
        }
    }
}

/// When the straight line between two readings crosses a level.
pub(crate) fn crossing_s(before: Reading, after: Reading, level_c: f64) -> f64 {
    let rise_k = after.value_c - before.value_c;
    if rise_k == 0.0 {
        return after.time_s;
    }
    let part = ((level_c - before.value_c) / rise_k).clamp(0.0, 1.0);
    before.time_s + part * (after.time_s - before.time_s)
}
