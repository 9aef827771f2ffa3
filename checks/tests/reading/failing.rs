//! Thermocouples that fail: found, explained, and out of the set only by rule.

use checks::{
    CheckError, Checker, Definitions, Disposition, Event, FailureKind, Findings, Happening,
    Removal, Verdict,
};
use quantity::{Celsius, Hours};
use readings::Scan;
use rules::thermocouple::Role;

use crate::cycles::*;

const SCAN_H: f64 = 1.0 / 60.0;

/// A good cycle by three thermocouples a kelvin apart, in steps of a degree; the third is changed.
fn with_third(change: impl Fn(f64, f64, f64) -> Option<f64>) -> Vec<Scan> {
    let mut scans = scans(&[GOOD, GOOD, GOOD], 60);
    let mut last_c = 20.0;
    for scan in &mut scans {
        let hours = scan.elapsed.as_secs_f64() / 3600.0;
        for (channel, reading) in scan.readings.iter_mut().enumerate() {
            let true_c = reading.expect("drawn").c() + channel as f64;
            *reading = Some(Celsius::from_c(true_c.round()));
        }
        let third_c = change(hours, scan.readings[2].expect("drawn").c(), last_c);
        scan.readings[2] = third_c.map(Celsius::from_c);
        last_c = third_c.unwrap_or(last_c);
    }
    scans
}

fn read(scans: &[Scan], removal: Removal) -> Findings {
    let definitions = Definitions {
        removal,
        ..Definitions::default()
    };
    let mut checker = Checker::new(&requirement(usual_kinds()), &thermocouples(3), definitions);
    scans.iter().for_each(|s| checker.push(s));
    checker.findings()
}

fn only_failure(findings: &Findings, kind: FailureKind, first_h: f64, within_h: f64) {
    let [failure] = findings.failures.as_slice() else {
        panic!("one failure is wanted: {:#?}", findings.failures)
    };
    assert_eq!((failure.kind, failure.channel.as_str()), (kind, "TC3"));
    let found_h = failure.first_evidence.h();
    assert!(
        (found_h - first_h).abs() <= within_h,
        "{found_h} instead of {first_h}"
    );
}

#[test]
fn an_honest_log_in_steps_of_a_degree_shows_no_failure() {
    let findings = read(&with_third(|_, c, _| Some(c)), Removal::Never);
    assert!(findings.failures.is_empty(), "{:#?}", findings.failures);
    assert!(findings.all_met(), "{findings:#?}");
}

#[test]
fn an_open_one_in_the_hold_breaks_nothing_and_proves_nothing_until_it_leaves() {
    let open = with_third(|h, c, _| Some(if h > 7.0 { 1372.0 } else { c }));
    let kept = read(&open, Removal::Never);
    only_failure(&kept, FailureKind::Open, 7.0, SCAN_H + 1e-9);
    for kind in [is_hold_time, is_hold_max, is_cooling_rate] {
        assert_eq!(of(&kept, kind).verdict, Verdict::NotJudged);
    }
    let left = read(&open, Removal::WithEvidence);
    assert!(left.all_met(), "{left:#?}");
    assert_eq!(left.removed[0].channel, "TC3");
    assert!((left.removed[0].from.h() - 7.0).abs() <= SCAN_H + 1e-9);
}

#[test]
fn one_that_keeps_its_value_while_the_others_climb_is_stuck_from_where_they_left_it() {
    let stuck = with_third(|h, c, last| Some(if h > 4.0 { last } else { c }));
    let findings = read(&stuck, Removal::Never);
    // The neighbors leave their level by 3 K at 100 K/h.
    only_failure(&findings, FailureKind::Stuck, 4.03, 2.0 * SCAN_H);
    assert_ne!(of(&findings, is_hold_time).verdict, Verdict::Met);
    assert!(read(&stuck, Removal::WithEvidence).all_met());
}

#[test]
fn one_stuck_in_the_hold_proves_nothing_of_it_since_its_last_change_of_value() {
    let stuck = with_third(|h, c, last| {
        let breathing_c = c + (h * 60.0).round() % 2.0;
        Some(if h > 7.0 { last } else { breathing_c })
    });
    let findings = read(&stuck, Removal::Never);
    // The others leave it behind in the cooling from 8.5 h on; it last moved at 7 h.
    only_failure(&findings, FailureKind::Stuck, 7.0, 2.0 * SCAN_H);
    for kind in [is_hold_time, is_cooling_rate] {
        assert_eq!(of(&findings, kind).verdict, Verdict::NotJudged);
    }
    // Readings that wait for evidence for ten minutes only have been counted when it comes.
    let hasty = Definitions {
        evidence_reach: Hours::from_min(10.0),
        ..Definitions::default()
    };
    let mut checker = Checker::new(&requirement(usual_kinds()), &thermocouples(3), hasty);
    stuck.iter().for_each(|s| checker.push(s));
    let findings = checker.findings();
    let hold = of(&findings, is_hold_time);
    assert_eq!(hold.verdict, Verdict::NotJudged);
    assert!(
        hold.reason.contains("TC3 is doubtful from 7 h ("),
        "{}",
        hold.reason
    );
    let left = read(&stuck, Removal::WithEvidence);
    assert!(left.all_met(), "{left:#?}");
}

#[test]
fn a_short_circuit_reads_its_plug() {
    let short = with_third(|h, c, _| Some(if h > 5.0 { 34.0 } else { c }));
    only_failure(
        &read(&short, Removal::Never),
        FailureKind::Short,
        5.0,
        2.0 * SCAN_H,
    );
}

#[test]
fn a_reversed_one_falls_while_the_others_rise() {
    let reversed = with_third(|_, c, _| Some((40.0 - c).max(-49.0)));
    let findings = read(&reversed, Removal::Never);
    assert_eq!(findings.failures[0].kind, FailureKind::Reversed);
    assert!(findings.failures[0].first_evidence.h() < 0.1);
    assert!(read(&reversed, Removal::WithEvidence).all_met());
}

#[test]
fn a_noisy_one_is_told_by_its_neighbors_and_leaves_a_limit_unmet() {
    let wild = |h: f64| 9.0 * ((h * 3600.0 * 0.71).sin() + (h * 3600.0 * 1.93).sin());
    let noisy = with_third(|h, c, _| Some(if h > 6.5 { c + wild(h) } else { c }));
    let findings = read(&noisy, Removal::Never);
    assert!(
        findings
            .failures
            .iter()
            .any(|f| f.kind == FailureKind::Noisy)
    );
    assert!(
        findings
            .failures
            .iter()
            .all(|f| f.channel == "TC3" && f.first_evidence.h() > 6.2)
    );
    assert_ne!(of(&findings, is_hold_time).verdict, Verdict::Met);
}

#[test]
fn one_that_comes_off_jumps_and_stays_away() {
    let off = with_third(|h, c, _| Some(if h > 7.0 { c - 15.0 } else { c }));
    let findings = read(&off, Removal::Never);
    only_failure(&findings, FailureKind::Detached, 7.0, SCAN_H + 1e-9);
    assert_eq!(of(&findings, is_hold_max).verdict, Verdict::NotJudged);
    assert!(read(&off, Removal::WithEvidence).all_met());
}

#[test]
fn a_hold_that_is_too_short_says_which_thermocouple_ended_it_and_why() {
    let off = with_third(|h, c, _| Some(if h > 7.0 { c - 60.0 } else { c }));
    let findings = read(&off, Removal::Never);
    let hold = of(&findings, is_hold_time);
    assert_eq!(hold.verdict, Verdict::NotMet);
    assert!(
        hold.reason
            .ends_with("; the longest run ended when TC3 came off at 7 h 1 min"),
        "{}",
        hold.reason
    );
    let short: &[(f64, f64)] = &[(0.0, 20.0), (6.0, 620.0), (7.0, 620.0), (12.0, 200.0)];
    let cooled = usual(&[short, short]);
    let hold = of(&cooled, is_hold_time);
    assert!(
        hold.reason.contains("ended when TC1 left the range at 7 h"),
        "{}",
        hold.reason
    );
}

#[test]
fn where_all_move_together_it_is_the_metal() {
    let mut together = with_third(|_, c, _| Some(c));
    for scan in &mut together {
        let hours = scan.elapsed.as_secs_f64() / 3600.0;
        if hours > 7.0 && hours < 7.2 {
            for reading in &mut scan.readings {
                *reading = reading.map(|t| Celsius::from_c(t.c() - 40.0));
            }
        }
    }
    assert!(read(&together, Removal::Never).failures.is_empty());
}

#[test]
fn a_slow_departure_is_told_and_decides_nothing() {
    let drifts = with_third(|h, c, _| Some(c - 8.0 * (h - 6.5).clamp(0.0, 2.0)));
    let findings = read(&drifts, Removal::WithEvidence);
    let drift = |k: FailureKind| k == FailureKind::Drifting;
    assert!(findings.failures.iter().any(|f| drift(f.kind)));
    assert!(findings.removed.is_empty());
    assert!(findings.failures[0].evidence.contains("can't be judged"));
}

#[test]
fn a_check_with_the_power_off_shows_what_the_coil_disturbs() {
    let mut fast = scans(&[GOOD, GOOD, GOOD], 10);
    for scan in &mut fast {
        let powered = scan.elapsed.as_secs_f64() < 7.0 * 3600.0;
        scan.readings[2] =
            scan.readings[2].map(|t| Celsius::from_c(t.c() + if powered { 6.0 } else { 0.0 }));
    }
    let mut checker = Checker::new(
        &requirement(usual_kinds()),
        &thermocouples(3),
        Definitions::default(),
    );
    checker.note(&Event {
        elapsed: std::time::Duration::from_secs(7 * 3600),
        what: Happening::PowerOffCheck,
    });
    fast.iter().for_each(|s| checker.push(s));
    let findings = checker.findings();
    only_failure(&findings, FailureKind::Pickup, 7.0, 11.0 / 3600.0);
    assert_eq!(of(&findings, is_hold_time).verdict, Verdict::NotJudged);
}

fn word(channel: &str, from_h: f64, spare: Option<&str>) -> Disposition {
    Disposition {
        channel: channel.into(),
        from: Hours::from_h(from_h),
        reason: "open, the spare was connected".into(),
        by: "A. Supervisor".into(),
        replaced_by: spare.map(str::to_owned),
    }
}

#[test]
fn a_spare_takes_the_place_of_one_that_a_named_person_takes_out() {
    let mut channels = thermocouples(3);
    channels[2].role = Role::Spare;
    let mut dies = scans(&[GOOD, GOOD, GOOD], 60);
    dies.iter_mut()
        .filter(|s| s.elapsed.as_secs_f64() > 7.0 * 3600.0)
        .for_each(|s| s.readings[1] = None);
    let requirement = requirement(usual_kinds());
    let alone = judge(&requirement, &channels, &dies);
    assert_eq!(of(&alone, is_hold_time).verdict, Verdict::NotJudged);
    let fewest = Definitions {
        fewest_thermocouples: 2,
        ..Definitions::default()
    };
    for (spare, verdict) in [(Some("TC3"), Verdict::Met), (None, Verdict::NotJudged)] {
        let mut checker = Checker::new(&requirement, &channels, fewest.clone())
            .with_dispositions(vec![word("TC2", 7.0, spare)])
            .expect("complete");
        dies.iter().for_each(|s| checker.push(s));
        let findings = checker.findings();
        assert_eq!(of(&findings, is_hold_time).verdict, verdict, "{spare:?}");
        assert_eq!(findings.removed[0].by.as_deref(), Some("A. Supervisor"));
        assert_eq!(findings.settings.removal, Removal::ByWord);
        let by = spare.map_or("TC1, TC2 until 7 h", |_| "TC1, TC2 until 7 h, TC3 from 7 h");
        assert_eq!(findings.soak_band_names().join(", "), by);
    }
}

#[test]
fn taking_one_out_never_clears_what_it_read_before() {
    let over = with_third(|h, c, _| Some(if h > 6.5 && h < 6.7 { 670.0 } else { c }));
    let mut checker = Checker::new(
        &requirement(usual_kinds()),
        &thermocouples(3),
        Definitions::default(),
    )
    .with_dispositions(vec![word("TC3", 7.0, None)])
    .expect("complete");
    over.iter().for_each(|s| checker.push(s));
    assert_eq!(
        of(&checker.findings(), is_hold_max).verdict,
        Verdict::NotMet
    );
}

#[test]
fn every_fault_of_every_disposition_is_told_at_once() {
    let faulty = Disposition {
        channel: "TC9".into(),
        from: Hours::from_h(f64::NAN),
        reason: " ".into(),
        by: String::new(),
        replaced_by: Some("TC8".into()),
    };
    let refused = Checker::new(
        &requirement(usual_kinds()),
        &thermocouples(2),
        Definitions::default(),
    )
    .with_dispositions(vec![faulty]);
    let Err(CheckError::Dispositions { faults }) = refused else {
        panic!("refused")
    };
    assert_eq!(faults.len(), 5, "{faults:?}");
    assert!(faults[0].contains("TC9") && faults[0].contains("TC1, TC2"));
}
