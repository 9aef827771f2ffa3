//! Keeping what an outcome tells: moments, scans, profiles, extremes, energy.

use std::time::Duration;

use quantity::Celsius;
use readings::{Channel, Scan};

use crate::circuit::{Impedance, SourceLimits};
use crate::controller::Readings;
use crate::outcome::{
    Beyond, Energy, Frame, Limit, Moment, NeighborOutcome, Profile, Shortfall, SoakVerdict,
    SourceVerdict, Spot, Stage, StageSpan, SurfaceToBore,
};
use crate::setup::Setup;
use crate::watch::Look;

/// The source is not called too small for less than this, in K: a real controller hunts as much.
const BEHIND_K: f64 = 2.0;

const JOULES_PER_KWH: f64 = 3.6e6;
const SECONDS_PER_HOUR: f64 = 3600.0;

/// What one step adds to the record.
#[derive(Clone, Copy, Debug)]
pub struct StepNote {
    /// Time at its end in s.
    pub time_s: f64,
    /// Stage during the step.
    pub stage: Stage,
    /// Set point at its end in °C.
    pub set_point_c: f64,
    /// How far an unlimited programme would be ahead, in K.
    pub behind_k: f64,
    /// Mean of the control thermocouples in °C.
    pub control_c: f64,
    /// What the controller goes by.
    pub readings: Readings,
    /// Current in A rms.
    pub current_rms_a: f64,
    /// Impedance at its end.
    pub impedance: Impedance,
    /// Frequency in Hz.
    pub frequency_hz: f64,
    /// What kept the current from being higher.
    pub limited_by: Option<Limit>,
    /// Heat into the metal in the step, in J.
    pub metal_j: f64,
    /// Heat given off in the step, in J.
    pub given_off_j: f64,
    /// Heat stored in the step, in J.
    pub stored_j: f64,
}

/// The record in the making.
#[derive(Clone, Debug)]
pub struct Record {
    /// Moments so far.
    pub moments: Vec<Moment>,
    /// Impedance at the source at each moment.
    pub impedances: Vec<Impedance>,
    /// Scans so far.
    pub scans: Vec<Scan>,
    /// Profiles so far.
    pub profiles: Vec<Profile>,
    /// Temperatures along the pipe at even steps of time.
    pub frames: Vec<Frame>,
    /// Largest differences between outside and bore.
    pub surface_to_bore: SurfaceToBore,
    /// Hottest place beyond the soak band so far.
    pub beyond: Beyond,
    /// Neighbors so far.
    pub neighbors: Vec<NeighborOutcome>,
    /// Energy so far.
    pub energy: Energy,
    interval_s: f64,
    range_c: [f64; 2],
    limits: SourceLimits,
    last: (f64, Vec<f64>),
    first_shortfall: Option<Shortfall>,
    worst_reserves: [f64; 3],
}

impl Record {
    /// A record that begins with a first look at time zero.
    pub fn new(setup: &Setup, first: &Look) -> Record {
        let neighbor = |(neighbor, &c): (&crate::setup::Neighbor, &f64)| NeighborOutcome {
            name: neighbor.name.clone(),
            axial_mm: neighbor.axial.mm(),
            highest_c: c,
            time_s: 0.0,
            limit_c: neighbor.limit.map(Celsius::c),
        };
        Record {
            moments: Vec::new(),
            impedances: Vec::new(),
            scans: vec![scan(0.0, &first.thermocouples_c)],
            profiles: Vec::new(),
            frames: Vec::new(),
            surface_to_bore: SurfaceToBore::default(),
            beyond: Beyond {
                hottest: first.beyond_hottest,
                time_s: 0.0,
            },
            neighbors: setup
                .neighbors
                .iter()
                .zip(&first.neighbors_c)
                .map(neighbor)
                .collect(),
            energy: Energy::default(),
            interval_s: setup.recording_interval.as_secs_f64().max(1.0),
            range_c: setup.programme.hold_range.map(Celsius::c),
            limits: SourceLimits::new(setup),
            last: (0.0, first.thermocouples_c.clone()),
            first_shortfall: None,
            worst_reserves: [100.0; 3],
        }
    }

    /// Adds a step and what the joint looks like at its end.
    pub fn add(&mut self, note: StepNote, look: &Look) {
        let from_s = self.moments.last().map_or(0.0, |moment| moment.time_s);
        let step_s = note.time_s - from_s;
        self.add_scans(note.time_s, &look.thermocouples_c);
        self.add_energy(&note, step_s);
        self.add_extremes(&note, look);
        self.impedances.push(note.impedance);
        self.moments.push(moment(&note, look, step_s));
        self.add_shortfall(&note);
        let reserves = self
            .limits
            .reserves_percent(&note.impedance, note.current_rms_a);
        for (worst, reserve) in self.worst_reserves.iter_mut().zip(reserves) {
            *worst = worst.min(reserve);
        }
    }

    /// Thermocouples between two steps change straight: steps end wherever a rate changes.
    fn add_scans(&mut self, time_s: f64, now_c: &[f64]) {
        let (before_s, before_c) = &self.last;
        let mut next_s = self.scans.len() as f64 * self.interval_s;
        while next_s <= time_s + 1e-6 {
            let part = ((next_s - before_s) / (time_s - before_s)).clamp(0.0, 1.0);
            let between: Vec<f64> = before_c
                .iter()
                .zip(now_c)
                .map(|(a, b)| a + part * (b - a))
                .collect();
            self.scans.push(scan(next_s, &between));
            next_s = self.scans.len() as f64 * self.interval_s;
        }
        self.last = (time_s, now_c.to_vec());
    }

    fn add_energy(&mut self, note: &StepNote, step_s: f64) {
        let square = note.current_rms_a * note.current_rms_a;
        let coil_kwh = square * note.impedance.coil_ohm * step_s / JOULES_PER_KWH;
        let leads_kwh = square * note.impedance.leads_ohm * step_s / JOULES_PER_KWH;
        let metal_kwh = note.metal_j / JOULES_PER_KWH;
        self.energy.coil_kwh += coil_kwh;
        self.energy.leads_kwh += leads_kwh;
        self.energy.metal_kwh += metal_kwh;
        self.energy.source_kwh += metal_kwh + coil_kwh + leads_kwh;
        self.energy.given_off_kwh += note.given_off_j / JOULES_PER_KWH;
        self.energy.stored_kwh += note.stored_j / JOULES_PER_KWH;
    }

    fn add_shortfall(&mut self, note: &StepNote) {
        let Some(limit) = note.limited_by.filter(|_| note.behind_k > BEHIND_K) else {
            return;
        };
        let shortfall = self.first_shortfall.get_or_insert(Shortfall {
            stage: note.stage,
            time_s: note.time_s,
            control_c: note.control_c,
            limit,
            farthest_behind_k: note.behind_k,
        });
        shortfall.farthest_behind_k = shortfall.farthest_behind_k.max(note.behind_k);
    }

    fn add_extremes(&mut self, note: &StepNote, look: &Look) {
        let mut difference = look.surface_to_bore;
        difference.time_s = note.time_s;
        let kept = match note.stage {
            Stage::FreeHeating | Stage::Heating | Stage::Leveling => {
                Some(&mut self.surface_to_bore.heating)
            }
            Stage::Hold => Some(&mut self.surface_to_bore.hold),
            Stage::Cooling => None,
        };
        if let Some(kept) = kept
            && difference.difference_k.abs() > kept.difference_k.abs()
        {
            *kept = difference;
        }
        if look.beyond_hottest.temperature_c > self.beyond.hottest.temperature_c {
            (self.beyond.hottest, self.beyond.time_s) = (look.beyond_hottest, note.time_s);
        }
        for (neighbor, &c) in self.neighbors.iter_mut().zip(&look.neighbors_c) {
            if c > neighbor.highest_c {
                (neighbor.highest_c, neighbor.time_s) = (c, note.time_s);
            }
        }
    }

    /// The stages with their times.
    pub fn stages(&self) -> Vec<StageSpan> {
        let mut spans: Vec<StageSpan> = Vec::new();
        let mut before = (0.0, self.start_c());
        for moment in &self.moments {
            match spans.last_mut() {
                Some(span) if span.stage == moment.stage => {
                    (span.to_s, span.to_c) = (moment.time_s, moment.control_c);
                }
                _ => spans.push(StageSpan {
                    stage: moment.stage,
                    from_s: before.0,
                    to_s: moment.time_s,
                    from_c: before.1,
                    to_c: moment.control_c,
                }),
            }
            before = (moment.time_s, moment.control_c);
        }
        spans
    }

    /// The temperature of the start in °C.
    pub fn start_c(&self) -> f64 {
        let first = self
            .scans
            .first()
            .and_then(|scan| scan.readings.first().copied().flatten());
        first.map_or(0.0, Celsius::c)
    }

    /// What became of the soak band.
    pub fn soak(&self) -> SoakVerdict {
        let [low_c, high_c] = self.range_c;
        let inside = |m: &Moment| {
            m.soak_coldest.temperature_c >= low_c && m.soak_hottest.temperature_c <= high_c
        };
        let mut verdict = SoakVerdict::default();
        let first = self.moments.iter().position(|m| m.stage == Stage::Hold);
        let last = self.moments.iter().rposition(|m| m.stage == Stage::Hold);
        let (Some(first), Some(last)) = (first, last) else {
            return verdict;
        };
        // The moment before the first step of the hold is where it begins.
        let from = first.saturating_sub(1);
        let hold = &self.moments[from..=last];
        verdict.hold_from_s = Some(hold[0].time_s);
        verdict.hold_to_s = Some(self.moments[last].time_s);
        verdict.inside_whole_hold = hold.iter().all(inside);
        for pair in self.moments.windows(2) {
            if inside(&pair[0]) && inside(&pair[1]) {
                verdict.time_inside_h += (pair[1].time_s - pair[0].time_s) / SECONDS_PER_HOUR;
            }
        }
        let colder = |a: &Spot, b: &Spot| a.temperature_c < b.temperature_c;
        for (index, moment) in hold.iter().enumerate() {
            if index == 0 || colder(&moment.soak_coldest, &verdict.coldest) {
                (verdict.coldest, verdict.coldest_time_s) = (moment.soak_coldest, moment.time_s);
            }
            if index == 0 || colder(&verdict.hottest, &moment.soak_hottest) {
                (verdict.hottest, verdict.hottest_time_s) = (moment.soak_hottest, moment.time_s);
            }
        }
        let arrived = self.moments[from..].iter().find(|m| inside(m));
        verdict.lag_s = arrived.map(|m| m.time_s - hold[0].time_s);
        verdict
    }

    /// Whether the source was enough.
    pub fn source(&self) -> SourceVerdict {
        let most = |of: fn(&Moment) -> f64| self.moments.iter().map(of).fold(0.0, f64::max);
        let [
            power_reserve_percent,
            current_reserve_percent,
            voltage_reserve_percent,
        ] = self.worst_reserves;
        SourceVerdict {
            enough: self.first_shortfall.is_none(),
            first_shortfall: self.first_shortfall,
            largest_power_w: most(|m| m.source_power_w),
            largest_current_rms_a: most(|m| m.current_rms_a),
            largest_voltage_rms_v: most(|m| m.voltage_rms_v),
            power_reserve_percent,
            current_reserve_percent,
            voltage_reserve_percent,
        }
    }

    /// Heat put in less heat given off and stored, in percent of what was put in.
    pub fn energy_error_percent(&self) -> f64 {
        let left = self.energy.metal_kwh - self.energy.given_off_kwh - self.energy.stored_kwh;
        100.0 * left.abs() / self.energy.metal_kwh.max(f64::MIN_POSITIVE)
    }
}

/// One channel a thermocouple.
pub fn channels(setup: &Setup) -> Vec<Channel> {
    let channel = |t: &rules::thermocouple::Thermocouple| Channel {
        name: t.name.clone(),
    };
    setup.thermocouples.iter().map(channel).collect()
}

fn scan(elapsed_s: f64, temperatures_c: &[f64]) -> Scan {
    Scan {
        elapsed: Duration::from_secs_f64(elapsed_s),
        readings: temperatures_c
            .iter()
            .map(|&c| Some(Celsius::from_c(c)))
            .collect(),
    }
}

fn moment(note: &StepNote, look: &Look, step_s: f64) -> Moment {
    let current = note.current_rms_a;
    let coil_w = current * current * (note.impedance.coil_ohm + note.impedance.leads_ohm);
    let metal_power_w = note.metal_j / step_s;
    Moment {
        time_s: note.time_s,
        stage: note.stage,
        set_point_c: note.set_point_c,
        control_c: note.control_c,
        control_coldest_c: note.readings.coldest_c,
        control_hottest_c: note.readings.hottest_c,
        metal_power_w,
        source_power_w: metal_power_w + coil_w,
        loss_w: note.given_off_j / step_s,
        current_rms_a: current,
        voltage_rms_v: current * note.impedance.amount_ohm(),
        resistance_ohm: note.impedance.resistance_ohm(),
        reactance_ohm: note.impedance.reactance_ohm(),
        frequency_hz: note.frequency_hz,
        weld_outside_c: look.weld_c[0],
        weld_bore_c: look.weld_c[1],
        soak_hottest: look.soak_hottest,
        soak_coldest: look.soak_coldest,
        limited_by: note.limited_by,
    }
}
