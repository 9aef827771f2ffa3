//! Honest logs with noise, lag, offsets, a rounding recorder and a hunting controller: nothing is found that is not
//! there, and what is there is found all the same.

use std::time::Duration;

use checks::{ChannelUse, Checker, Definitions, FailureKind, Findings};
use proptest::test_runner::{RngAlgorithm, TestRng};
use quantity::{Celsius, Millimeters};
use readings::Scan;
use rules::thermocouple::Place;

use crate::cycles::*;

/// Times of scans in hours.
#[derive(Clone, Copy, Debug)]
enum Pace {
    Every(f64),
    /// Ten seconds while heating and cooling, five minutes in the hold.
    Two,
}

const PACES: [Pace; 4] = [
    Pace::Every(10.0),
    Pace::Every(60.0),
    Pace::Every(300.0),
    Pace::Two,
];

struct Log {
    rng: TestRng,
    noise_k: f64,
    pace: Pace,
}

impl Log {
    fn new(seed: u8, noise_k: f64, pace: Pace) -> Log {
        Log {
            rng: TestRng::from_seed(RngAlgorithm::XorShift, &[seed.wrapping_mul(37) | 1; 16]),
            noise_k,
            pace,
        }
    }

    fn uniform(&mut self) -> f64 {
        use proptest::prelude::Rng;
        f64::from(self.rng.next_u32()) / f64::from(u32::MAX)
    }

    /// Twelve uniform numbers less six: variance one, nearly normal.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }

    fn times_s(&self) -> Vec<f64> {
        let mut times_s = vec![0.0];
        while let Some(last_s) = times_s.last().copied().filter(|t| *t < 12.0 * 3600.0) {
            let step_s = match self.pace {
                Pace::Every(step_s) => step_s,
                Pace::Two if (6.5 * 3600.0..8.0 * 3600.0).contains(&last_s) => 300.0,
                Pace::Two => 10.0,
            };
            times_s.push(last_s + step_s);
        }
        times_s
    }

    /// Five thermocouples of the soak band with lag and offset, one at the edge; `change` alters the second.
    fn scans(&mut self, change: impl Fn(f64, f64, f64) -> f64) -> Vec<Scan> {
        let lags_h = [0.0, 0.03, 0.08, 0.15, 0.05, 0.25];
        let offsets_k: Vec<f64> = (0..6).map(|_| 12.0 * self.uniform() - 6.0).collect();
        let mut last_c = 20.0;
        let mut scans = Vec::new();
        for time_s in self.times_s() {
            let hours = time_s / 3600.0;
            let hunt_k = 2.0 * (hours * std::f64::consts::TAU * 4.0).sin();
            let mut read = |i: usize| {
                let part = if i == 5 { 0.6 } else { 1.0 };
                let cold = line(GOOD, (hours - lags_h[i]).max(0.0)) + hunt_k;
                let warm_k = (cold - 20.0).max(0.0);
                let offset_k = offsets_k[i] * (warm_k / 600.0);
                let true_c = 20.0 + part * warm_k + offset_k;
                (true_c + self.noise_k * self.normal()).round()
            };
            let mut row: Vec<f64> = (0..6).map(&mut read).collect();
            row[1] = change(hours, row[1], last_c);
            last_c = row[1];
            scans.push(Scan {
                elapsed: Duration::from_secs_f64(time_s),
                readings: row.into_iter().map(|c| Some(Celsius::from_c(c))).collect(),
            });
        }
        scans
    }
}

fn channels() -> Vec<ChannelUse> {
    let mut channels = thermocouples(6);
    channels[5].place = Place::HeatedBandEdge;
    channels[5].axial = Millimeters::from_mm(200.0);
    channels
}

fn read(scans: &[Scan]) -> Findings {
    let mut checker = Checker::new(
        &requirement(usual_kinds()),
        &channels(),
        Definitions::default(),
    );
    scans.iter().for_each(|s| checker.push(s));
    checker.findings()
}

#[test]
fn nothing_is_found_that_is_not_there() {
    for seed in 1..4 {
        for noise_k in [0.0, 0.7, 1.5] {
            for pace in PACES {
                let findings = read(&Log::new(seed, noise_k, pace).scans(|_, c, _| c));
                assert!(
                    findings.failures.is_empty(),
                    "{seed} {noise_k} {pace:?}: {:#?}",
                    findings.failures
                );
                assert_eq!(findings.attempts.list.len(), 1, "{seed} {noise_k} {pace:?}");
            }
        }
    }
}

/// Whether it is found on the second thermocouple, on no other, and no earlier than it began.
fn found(kind: FailureKind, from_h: f64, scans: &[Scan], told: &str) {
    let findings = read(scans);
    let hit = findings.failures.iter().find(|f| f.kind == kind);
    let first_h = hit.map(|f| f.first_evidence.h());
    assert!(
        first_h.is_some_and(|h| h >= from_h - 0.2),
        "{told}: {:#?}",
        findings.failures
    );
    assert!(
        findings.failures.iter().all(|f| f.channel == "TC2"),
        "{told}: {:#?}",
        findings.failures
    );
}

#[test]
fn what_is_there_is_found_in_noise_too() {
    for seed in 1..3 {
        for noise_k in [0.3, 1.0] {
            for pace in [PACES[0], PACES[1], PACES[3]] {
                let told = format!("{seed} {noise_k} {pace:?}");
                let scans =
                    |change: fn(f64, f64, f64) -> f64| Log::new(seed, noise_k, pace).scans(change);
                let open = scans(|h, c, _| if h > 6.7 { 1372.0 } else { c });
                found(FailureKind::Open, 6.7, &open, &told);
                let stuck = scans(|h, c, last| if h > 3.0 { last } else { c });
                found(FailureKind::Stuck, 3.0, &stuck, &told);
                let short = scans(|h, c, _| if h > 5.0 { 31.0 } else { c });
                found(FailureKind::Short, 5.0, &short, &told);
                let off = scans(|h, c, _| if h > 5.0 { c - 25.0 } else { c });
                found(FailureKind::Detached, 5.0, &off, &told);
                let drifting = scans(|h, c, _| c - (10.0 * (h - 6.3)).clamp(0.0, 20.0));
                found(FailureKind::Drifting, 6.3, &drifting, &told);
                let reversed = scans(|_, c, _| (40.0 - c).max(-49.0));
                found(FailureKind::Reversed, 0.0, &reversed, &told);
            }
        }
    }
}

#[test]
fn a_slower_thermocouple_is_read_between_its_own_readings() {
    let mut slow = scans(&[GOOD, GOOD], 60);
    for (index, scan) in slow.iter_mut().enumerate() {
        if index % 2 == 1 {
            scan.readings[1] = None;
        }
    }
    let requirement = requirement(usual_kinds());
    let findings = judge(&requirement, &thermocouples(2), &slow);
    let whole = judge(&requirement, &thermocouples(2), &scans(&[GOOD, GOOD], 60));
    assert!(findings.all_met(), "{findings:#?}");
    assert_eq!(
        of(&findings, is_hold_time).measured,
        of(&whole, is_hold_time).measured
    );
    assert_eq!(findings.table[1].readings, whole.table[1].readings / 2 + 1);
    // One that misses its own pace is silent there.
    let missed = slow
        .iter()
        .position(|s| s.elapsed.as_secs() == 7 * 3600)
        .expect("a scan");
    slow[missed].readings[1] = None;
    let findings = judge(&requirement, &thermocouples(2), &slow);
    assert_ne!(
        of(&findings, is_hold_time).measured,
        of(&whole, is_hold_time).measured
    );
}
