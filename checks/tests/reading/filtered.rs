//! Raw and filtered readings side by side, and what noise may do to a rate.

use checks::{Checker, Definitions, Findings, Origin, Readings, Verdict};
use proptest::test_runner::{RngAlgorithm, TestRng};
use quantity::{Celsius, Units};
use readings::Scan;

use crate::cycles::*;

/// Numbers like noise, the same in every run; variance one.
fn noise(seed: u8) -> impl FnMut() -> f64 {
    let mut rng = TestRng::from_seed(RngAlgorithm::XorShift, &[seed; 16]);
    move || {
        // Twelve uniform numbers less six: variance one, nearly normal.
        let sum: f64 = (0..12)
            .map(|_| f64::from(rand_u32(&mut rng)) / f64::from(u32::MAX))
            .sum();
        sum - 6.0
    }
}

fn rand_u32(rng: &mut TestRng) -> u32 {
    use proptest::prelude::Rng;
    rng.next_u32()
}

fn read(scans: &[Scan], count: usize) -> Findings {
    let mut checker = Checker::new(
        &requirement(usual_kinds()),
        &thermocouples(count),
        Definitions::default(),
    );
    scans.iter().for_each(|s| checker.push(s));
    checker.findings()
}

fn changed(line: &[(f64, f64)], mut change: impl FnMut(f64, f64) -> f64) -> Vec<Scan> {
    let mut scans = scans(&[line], 60);
    for scan in &mut scans {
        let hours = scan.elapsed.as_secs_f64() / 3600.0;
        let true_c = scan.readings[0].expect("drawn").c();
        scan.readings[0] = Some(Celsius::from_c(change(hours, true_c)));
    }
    scans
}

fn climb(k_h: f64) -> Vec<(f64, f64)> {
    let up_h = 600.0 / k_h;
    vec![
        (0.0, 20.0),
        (up_h, 620.0),
        (up_h + 2.5, 620.0),
        (up_h + 6.0, 200.0),
    ]
}

#[test]
fn a_single_spike_breaks_the_maximum_and_the_filtered_reading_beside_it_says_otherwise() {
    let findings = read(
        &changed(
            GOOD,
            |h, c| if (h - 7.0).abs() < 0.001 { c + 40.0 } else { c },
        ),
        1,
    );
    let max = of(&findings, is_hold_max);
    assert_eq!(max.verdict, Verdict::NotMet);
    let other = max.other_readings.as_ref().expect("they differ");
    assert_eq!(
        (other.readings, other.verdict),
        (Readings::Filtered, Verdict::Met)
    );
    let names = findings.names_for(&max.limit.kind);
    let words = max.sentence(Origin::Measured, Units::Si, &names);
    assert!(
        words.contains("filtered readings (620 °C) would meet it"),
        "{words}"
    );
    let rate = of(&findings, is_heating_rate);
    assert_eq!(rate.verdict, Verdict::Met);
}

#[test]
fn spikes_do_not_tilt_a_rate_but_the_raw_one_stands_beside_it() {
    // Spikes of 60 K at the end of an hour at 145 K/h lift its raw slope above 150 K/h.
    let spiky = |h: f64, c: f64| {
        let near = |at: f64| (h - at).abs() < 0.001;
        if near(3.75) || near(3.85) || near(3.95) {
            c + 60.0
        } else {
            c
        }
    };
    let findings = read(&changed(&climb(145.0), spiky), 1);
    let rate = of(&findings, is_heating_rate);
    assert_eq!(rate.verdict, Verdict::Met, "{rate:?}");
    let other = rate.other_readings.as_ref().expect("they differ");
    assert_eq!(other.readings, Readings::Raw);
    assert_ne!(other.verdict, Verdict::Met);
}

#[test]
fn where_nothing_differs_nothing_stands_beside() {
    let findings = read(&scans(&[GOOD, GOOD], 60), 2);
    assert!(findings.findings.iter().all(|f| f.other_readings.is_none()));
}

#[test]
fn a_rate_above_the_limit_by_less_than_its_noise_is_for_an_engineer() {
    for (k_h, wanted) in [
        (147.0, Verdict::Met),
        (150.6, Verdict::NotJudged),
        (156.0, Verdict::NotMet),
    ] {
        let mut noise = noise(7);
        let findings = read(&changed(&climb(k_h), |_, c| c + noise()), 1);
        let rate = of(&findings, is_heating_rate);
        assert_eq!(rate.verdict, wanted, "{k_h}: {rate:?}");
        if wanted == Verdict::NotJudged {
            assert!(
                rate.reason.contains("an engineer decides"),
                "{}",
                rate.reason
            );
        }
    }
}

#[test]
fn predicted_readings_have_no_noise_and_no_guard() {
    let mut checker = Checker::new(
        &requirement(usual_kinds()),
        &thermocouples(1),
        Definitions::default(),
    )
    .of_prediction();
    changed(&climb(150.3), |_, c| c)
        .iter()
        .for_each(|s| checker.push(s));
    let findings = checker.findings();
    let rate = of(&findings, is_heating_rate);
    assert_eq!(rate.verdict, Verdict::NotMet);
    assert!(
        rate.beside
            .iter()
            .all(|b| b.what != "what noise alone may add")
    );
    assert!(findings.failures.is_empty());
}
