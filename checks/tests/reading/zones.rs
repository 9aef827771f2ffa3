//! Thermocouples held against the power that heats them: exchanged plugs, and readings that step with the power.
//!
//! The metal is two lumps, each heated by its own zone, that exchange heat; so a thermocouple answers the power of its zone
//! by its rate, and that of the other one late and little.

use std::time::Duration;

use checks::{CheckError, Checker, Definitions, FailureKind, Findings, Verdict, Zone};
use proptest::prelude::*;
use quantity::Celsius;
use readings::Scan;

use crate::cycles::*;

/// Seconds between scans.
const SCAN_S: f64 = 10.0;
/// Length of the log.
const SCANS: usize = 1800;
/// K/s of a lump at full power.
const FULL_K_S: f64 = 0.12;
/// Part of the difference to the air that is lost in a second.
const LOSS_S: f64 = 1.2e-4;
/// Part of the difference between the lumps that evens out in a second.
const EXCHANGE_S: f64 = 2.0e-4;

/// Power of both zones in percent of full: changing every few minutes, the second partly with the first.
fn powers(second: usize) -> [f64; 2] {
    let phase = |period: usize, seed: usize| (second / period * 7919 + seed) % 101;
    let (first, own) = (phase(420, 3) as f64, phase(660, 41) as f64);
    [first, 0.6 * first + 0.4 * own]
}

/// What four thermocouples read, two in each zone, to a tenth of a kelvin, with the powers.
fn logged(disturbed_k: f64) -> Vec<(Scan, [f64; 2])> {
    let mut metal_c = [20.0_f64, 20.0];
    let mut log = Vec::new();
    for index in 0..SCANS {
        let power = powers(index * SCAN_S as usize);
        let between = metal_c[0] - metal_c[1];
        for (zone, sign) in [(0, -1.0), (1, 1.0)] {
            let gain = FULL_K_S * power[zone] / 100.0 - LOSS_S * (metal_c[zone] - 20.0);
            metal_c[zone] += SCAN_S * (gain + sign * EXCHANGE_S * between);
        }
        let mut readings_c = [metal_c[0], metal_c[0] + 2.0, metal_c[1], metal_c[1] - 1.0];
        readings_c[3] += disturbed_k * power[1] / 100.0;
        let reading = |c: f64| Some(Celsius::from_c((10.0 * c).round() / 10.0));
        let scan = Scan {
            elapsed: Duration::from_secs_f64(index as f64 * SCAN_S),
            readings: readings_c.map(reading).to_vec(),
        };
        log.push((scan, power));
    }
    log
}

fn zone(power: &str, thermocouples: [&str; 2]) -> Zone {
    Zone {
        power: power.into(),
        thermocouples: thermocouples.map(str::to_owned).to_vec(),
    }
}

fn checker(zones: Vec<Zone>) -> Checker {
    let requirement = requirement(usual_kinds());
    Checker::new(&requirement, &thermocouples(4), Definitions::default())
        .with_zones(zones)
        .expect("zones of known thermocouples")
}

fn read(mut checker: Checker, log: &[(Scan, [f64; 2])]) -> Findings {
    for (scan, powers) in log {
        (0..2).for_each(|zone| checker.power(zone, scan.elapsed, powers[zone]));
        checker.push(scan);
    }
    checker.findings()
}

fn as_wired() -> Vec<Zone> {
    vec![zone("A", ["TC1", "TC2"]), zone("B", ["TC3", "TC4"])]
}

fn kinds(findings: &Findings) -> Vec<(&str, FailureKind)> {
    let failures = findings.failures.iter();
    failures.map(|f| (f.channel.as_str(), f.kind)).collect()
}

#[test]
fn an_honest_log_shows_neither() {
    let findings = read(checker(as_wired()), &logged(0.0));
    assert_eq!(kinds(&findings), []);
}

#[test]
fn two_that_answer_each_others_zone_are_exchanged_and_no_limit_is_met_by_them() {
    let named = vec![zone("A", ["TC1", "TC3"]), zone("B", ["TC2", "TC4"])];
    let findings = read(checker(named), &logged(0.0));
    let expected = [
        ("TC3", FailureKind::Exchanged),
        ("TC2", FailureKind::Exchanged),
    ];
    let mut found = kinds(&findings);
    found.sort_by_key(|f| std::cmp::Reverse(f.0));
    assert_eq!(found, expected, "{:#?}", findings.failures);
    assert!(findings.failures[0].evidence.contains("answers the power"));
    assert!(findings.findings.iter().all(|f| f.verdict != Verdict::Met));
}

#[test]
fn one_alone_in_the_wrong_place_is_not_called_exchanged() {
    let named = vec![zone("A", ["TC1", "TC2"]), zone("B", ["TC4", "TC4"])];
    assert!(matches!(
        Checker::new(
            &requirement(usual_kinds()),
            &thermocouples(4),
            Definitions::default()
        )
        .with_zones(named),
        Err(CheckError::Zones { .. })
    ));
    let named = vec![zone("A", ["TC1", "TC3"]), zone("B", ["TC4", "TC2"])]
        .into_iter()
        .map(|mut zone| {
            zone.thermocouples.retain(|name| name != "TC2");
            zone
        });
    let findings = read(checker(named.collect()), &logged(0.0));
    assert_eq!(kinds(&findings), []);
}

#[test]
fn zones_in_step_tell_nothing() {
    let named = vec![zone("A", ["TC1", "TC3"]), zone("B", ["TC2", "TC4"])];
    let in_step: Vec<_> = logged(0.0)
        .into_iter()
        .map(|(scan, powers)| (scan, [powers[0]; 2]))
        .collect();
    assert_eq!(kinds(&read(checker(named), &in_step)), []);
}

#[test]
fn a_reading_that_steps_with_the_power_is_disturbed() {
    let findings = read(checker(as_wired()), &logged(8.0));
    assert_eq!(kinds(&findings), [("TC4", FailureKind::Pickup)]);
    let evidence = &findings.failures[0].evidence;
    assert!(evidence.contains("of its zone"), "{evidence}");
    // The step at full power is what was put on, to the noise of a tenth of a kelvin.
    assert!(
        evidence.contains("up by 7.") || evidence.contains("up by 8."),
        "{evidence}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    /// In whatever pieces powers and scans arrive, the findings are the same.
    #[test]
    fn powers_may_be_noted_long_before_their_scans(ahead in 0..SCANS) {
        let named = || vec![zone("A", ["TC1", "TC3"]), zone("B", ["TC2", "TC4"])];
        let log = logged(8.0);
        let mut early = checker(named());
        for (scan, powers) in &log[..ahead] {
            (0..2).for_each(|zone| early.power(zone, scan.elapsed, powers[zone]));
        }
        for (index, (scan, powers)) in log.iter().enumerate() {
            if index >= ahead {
                (0..2).for_each(|zone| early.power(zone, scan.elapsed, powers[zone]));
            }
            early.push(scan);
        }
        let together = read(checker(named()), &log);
        prop_assert_eq!(early.findings().failures, together.failures);
    }
}
