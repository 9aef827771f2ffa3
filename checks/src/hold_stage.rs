//! Where the weld is as a whole: heating, holding, lost; and the spread and the lowest reading that go with it.

use crate::definitions::Definitions;
use crate::pace::{GapRule, Moment};
use crate::peak::Reading;
use crate::seen::Seen;
use crate::spread::{Spread, spread_of};

/// What the weld does as a whole.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    Heating,
    Hold,
    /// The hold was left for long; the lowest reading since.
    Lost {
        lowest_c: f64,
    },
}

/// The same for those who need no more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Phase {
    Heating,
    Hold,
    Lost,
}

/// Follows the soak band as a whole.
#[derive(Clone, Debug)]
pub(crate) struct HoldStage {
    low_c: Option<f64>,
    loss_depth_k: f64,
    loss_time_s: f64,
    turn_k: f64,
    channels: Vec<usize>,
    stage: Stage,
    inside: Seen,
    since_left: Seen,
    /// Since when the coldest channel has been deep below the range.
    deep_since_s: Option<f64>,
    silent_since_s: Option<f64>,
    gap_rule: GapRule,
    settling_s: f64,
    hold_since_s: f64,
    /// Whether all stand at or above the hold minimum in the newest scan.
    whole: bool,
    /// The highest temperature at which all channels stood at one instant.
    pub together: Option<Reading>,
    /// The highest temperature at which all stood that spoke, though others were silent.
    pub speaking: Option<Reading>,
    /// How often a hold was lost.
    pub losses: u64,
}

impl HoldStage {
    pub fn new(low_c: Option<f64>, channels: Vec<usize>, definitions: &Definitions) -> HoldStage {
        HoldStage {
            low_c,
            loss_depth_k: definitions.loss_depth.k(),
            loss_time_s: definitions.loss_time.s(),
            turn_k: definitions.turn.k(),
            channels,
            stage: Stage::Heating,
            inside: Seen::default(),
            since_left: Seen::default(),
            deep_since_s: None,
            silent_since_s: None,
            gap_rule: GapRule::of(definitions),
            settling_s: definitions.settling.s(),
            hold_since_s: 0.0,
            whole: false,
            together: None,
            speaking: None,
            losses: 0,
        }
    }

    /// Widest spread inside the hold.
    pub fn widest(&self) -> Option<Spread> {
        self.inside.widest
    }

    /// Widest spread inside the hold once it has settled.
    pub fn settled(&self) -> Option<Spread> {
        self.inside.settled
    }

    /// Hottest reading of the whole hold less the coldest of it.
    pub fn worst_case_k(&self) -> Option<f64> {
        let (highest, lowest) = self.inside.highest.zip(self.inside.lowest)?;
        Some(highest.value_c - lowest.value_c)
    }

    /// Whether the hold is whole in the newest scan.
    pub fn whole(&self) -> bool {
        self.whole
    }

    /// Lowest reading inside the hold.
    pub fn lowest(&self) -> Option<Reading> {
        self.inside.lowest
    }

    /// When the first gap inside the hold begins.
    pub fn gap_s(&self) -> Option<f64> {
        self.inside.gap_s
    }

    /// What the weld does as a whole.
    pub fn phase(&self) -> Phase {
        match self.stage {
            Stage::Heating => Phase::Heating,
            Stage::Hold => Phase::Hold,
            Stage::Lost { .. } => Phase::Lost,
        }
    }

    /// Whether the weld is being heated.
    pub fn heating(&self) -> bool {
        self.stage == Stage::Heating
    }

    pub fn push(&mut self, moment: &Moment) {
        let judging = || self.channels.iter().filter(|c| moment.judges.hold[**c]);
        let speaking: Vec<Reading> = judging()
            .filter_map(|c| {
                moment.readings_c[*c].map(|value_c| Reading {
                    value_c,
                    time_s: moment.time_s,
                    channel: *c,
                })
            })
            .collect();
        let was_whole = std::mem::take(&mut self.whole);
        if was_whole && let Some(gap) = moment.step.filter(|step| step.gap) {
            self.inside
                .gap_s
                .get_or_insert(moment.time_s - gap.length_s);
        }
        let complete = speaking.len() == judging().count() && !moment.judges.short;
        let Some(coldest) = speaking
            .iter()
            .copied()
            .min_by(|a, b| a.value_c.total_cmp(&b.value_c))
        else {
            return self.note_silence(moment);
        };
        if complete && self.together.is_none_or(|t| coldest.value_c > t.value_c) {
            self.together = Some(coldest);
        }
        if self.speaking.is_none_or(|s| coldest.value_c > s.value_c) {
            self.speaking = Some(coldest);
        }
        if let Some(low_c) = self.low_c {
            self.advance(coldest, complete, low_c);
            let hottest = speaking
                .iter()
                .copied()
                .max_by(|a, b| a.value_c.total_cmp(&b.value_c));
            self.note(coldest, hottest, spread_of(&speaking).filter(|_| complete));
            self.note_gap(moment, complete);
            self.whole = self.stage == Stage::Hold && complete && coldest.value_c >= low_c;
            if self.whole {
                self.keep_since_left();
            }
        }
    }

    fn advance(&mut self, coldest: Reading, complete: bool, low_c: f64) {
        match self.stage {
            Stage::Heating if complete && coldest.value_c >= low_c => {
                self.stage = Stage::Hold;
                self.hold_since_s = coldest.time_s;
                self.since_left = Seen::default();
            }
            Stage::Heating => {}
            Stage::Hold => self.watch_for_loss(coldest, low_c),
            Stage::Lost { lowest_c } => {
                let lowest_c = lowest_c.min(coldest.value_c);
                self.stage = Stage::Lost { lowest_c };
                if coldest.value_c >= lowest_c + self.turn_k {
                    self.stage = Stage::Heating;
                    self.advance(coldest, complete, low_c);
                }
            }
        }
    }

    fn watch_for_loss(&mut self, coldest: Reading, low_c: f64) {
        if coldest.value_c >= low_c - self.loss_depth_k {
            self.deep_since_s = None;
            return;
        }
        let since_s = *self.deep_since_s.get_or_insert(coldest.time_s);
        if coldest.time_s - since_s > self.loss_time_s {
            self.stage = Stage::Lost {
                lowest_c: coldest.value_c,
            };
            self.deep_since_s = None;
            self.losses += 1;
            self.since_left = Seen::default();
        }
    }

    fn note(&mut self, coldest: Reading, highest: Option<Reading>, spread: Option<Spread>) {
        if self.stage == Stage::Hold {
            let settled = coldest.time_s - self.hold_since_s >= self.settling_s;
            let one = Seen {
                widest: spread,
                settled: spread.filter(|_| settled),
                highest,
                lowest: Some(coldest),
                gap_s: None,
            };
            self.since_left.merge(one);
        }
    }

    fn note_gap(&mut self, moment: &Moment, complete: bool) {
        let step_s = moment.step.map_or(0.0, |s| s.length_s);
        let gap = moment
            .step
            .filter(|s| s.gap)
            .map(|s| moment.time_s - s.length_s);
        let silent = self
            .silent_since_s
            .filter(|since_s| self.gap_rule.is_gap(moment.time_s - since_s, step_s));
        if self.stage == Stage::Hold
            && let Some(gap_s) = gap.or(silent)
        {
            self.since_left.gap_s.get_or_insert(gap_s);
        }
        self.silent_since_s = if complete {
            None
        } else {
            self.silent_since_s.or(Some(moment.time_s))
        };
    }

    fn note_silence(&mut self, moment: &Moment) {
        self.silent_since_s = self.silent_since_s.or(Some(moment.time_s));
    }

    fn keep_since_left(&mut self) {
        let seen = std::mem::take(&mut self.since_left);
        self.inside.merge(seen);
    }
}
