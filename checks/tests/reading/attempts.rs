//! A run cut into attempts: when each began, how it held, why it ended.

use std::time::Duration;

use checks::{Checker, Definitions, Ending, Event, Findings, Happening, Interruption};

use crate::cycles::*;

/// Crossings of straight lines are exact but for rounding.
const EXACT_H: f64 = 1e-6;

/// A reading each minute.
const SCAN_H: f64 = 1.0 / 60.0;

fn event(hours: f64, what: Happening) -> Event {
    Event {
        elapsed: Duration::from_secs_f64(hours * 3600.0),
        what,
    }
}

fn read(line: &[(f64, f64)], events: &[Event], definitions: Definitions) -> Findings {
    let mut checker = Checker::new(&requirement(usual_kinds()), &thermocouples(2), definitions);
    events.iter().for_each(|e| checker.note(e));
    scans(&[line, line], 60)
        .iter()
        .for_each(|s| checker.push(s));
    checker.findings()
}

#[test]
fn a_straight_cycle_is_one_attempt_from_threshold_to_threshold() {
    let findings = read(GOOD, &[], Definitions::default());
    let [attempt] = findings.attempts.list.as_slice() else {
        panic!("{:#?}", findings.attempts)
    };
    // 280 K at 100 K/h from 20 °C; 620 °C less 20 and 320 K at 120 K/h.
    assert!((attempt.began.h() - 2.8).abs() < EXACT_H);
    assert!((attempt.hold_began.expect("held").h() - 5.8).abs() < EXACT_H);
    let left_h = 8.5 + 20.0 / 120.0;
    assert!((attempt.band_left.expect("left").h() - left_h).abs() < EXACT_H);
    let ended_h = 8.5 + 320.0 / 120.0;
    assert!((attempt.ended.expect("ended").h() - ended_h).abs() < EXACT_H);
    assert_eq!(attempt.why, Ending::Cooled);
    assert!((attempt.holds[0].longest.h() - (left_h - 5.8)).abs() < EXACT_H);
    assert!((attempt.start_rate.expect("a rate").k_h() - 100.0).abs() < 1e-6);
    assert_eq!(
        findings.attempts.thermal_cycles.expect("a threshold").count,
        1
    );
}

#[test]
fn cooling_begins_before_the_band_is_left() {
    let attempt = &read(GOOD, &[], Definitions::default()).attempts.list[0];
    // 3 K at 120 K/h behind the end of the hold.
    let began_h = attempt.cooling_began.expect("cooled").h();
    assert!((began_h - (8.5 + 3.0 / 120.0)).abs() <= SCAN_H, "{began_h}");
}

#[test]
fn a_hold_lost_and_heated_anew_is_a_second_attempt_with_its_own_credit() {
    let twice: &[(f64, f64)] = &[
        (0.0, 20.0),
        (6.0, 620.0),
        (7.0, 620.0),
        (9.0, 420.0),
        (11.0, 620.0),
        (13.5, 620.0),
        (17.0, 200.0),
    ];
    let off = [
        event(7.0, Happening::PowerOff),
        event(9.0, Happening::PowerOn),
    ];
    let findings = read(twice, &off, Definitions::default());
    let [first, second] = findings.attempts.list.as_slice() else {
        panic!("{:#?}", findings.attempts)
    };
    assert_eq!(first.why, Ending::Power);
    assert_eq!(second.why, Ending::Cooled);
    // 1 h flat and 20 K on both flanks, at 100 K/h.
    assert!((first.holds[0].total.h() - 1.4).abs() < EXACT_H);
    let second_h = 0.2 + 2.5 + 20.0 / 120.0;
    assert!((second.holds[0].longest.h() - second_h).abs() < EXACT_H);
    assert!((second.holds[0].accumulated.h() - 1.4 - second_h).abs() < EXACT_H);
    assert!((second.began.h() - 9.0).abs() <= SCAN_H);
    assert!((second.from.c() - 420.0).abs() < 1e-6);
    assert_eq!(
        findings.attempts.thermal_cycles.expect("a threshold").count,
        1
    );
}

/// Power lost at 520 °C for an hour, down to 420 °C, above the threshold of 300 °C.
const LOSS_WHILE_HEATING: &[(f64, f64)] = &[
    (0.0, 20.0),
    (5.0, 520.0),
    (6.0, 420.0),
    (8.0, 620.0),
    (10.5, 620.0),
    (14.0, 200.0),
];

#[test]
fn a_power_loss_above_the_threshold_is_one_attempt_or_two_as_defined() {
    let findings = read(LOSS_WHILE_HEATING, &[], Definitions::default());
    assert_eq!(findings.attempts.list.len(), 1);
    assert_eq!(findings.attempts.list[0].interruptions, 1);
    let two = Definitions {
        interruption: Interruption::NewAttempt,
        ..Definitions::default()
    };
    let off = [
        event(5.0, Happening::PowerOff),
        event(6.0, Happening::PowerOn),
    ];
    let findings = read(LOSS_WHILE_HEATING, &off, two);
    let [first, second] = findings.attempts.list.as_slice() else {
        panic!("{:#?}", findings.attempts)
    };
    assert_eq!(first.why, Ending::Power);
    assert!((first.ended.expect("ended").h() - 5.0).abs() <= SCAN_H);
    assert!((second.from.c() - 420.0).abs() < 1e-6);
    assert!(second.hold_began.is_some());
}

#[test]
fn a_power_loss_below_the_threshold_is_a_thermal_cycle_more() {
    let cold: &[(f64, f64)] = &[
        (0.0, 20.0),
        (5.0, 520.0),
        (7.0, 220.0),
        (11.0, 620.0),
        (13.5, 620.0),
        (17.0, 200.0),
    ];
    let findings = read(cold, &[], Definitions::default());
    assert_eq!(findings.attempts.list.len(), 2);
    assert_eq!(findings.attempts.list[0].why, Ending::Unexplained);
    assert!(findings.attempts.list[0].hold_began.is_none());
    assert_eq!(
        findings.attempts.thermal_cycles.expect("a threshold").count,
        2
    );
}

#[test]
fn a_dip_is_counted_inside_its_attempt() {
    let dip: &[(f64, f64)] = &[
        (0.0, 20.0),
        (6.0, 620.0),
        (7.0, 620.0),
        (7.1, 590.0),
        (7.2, 620.0),
        (8.5, 620.0),
        (12.0, 200.0),
    ];
    let attempt = &read(dip, &[], Definitions::default()).attempts.list[0];
    assert_eq!(attempt.dips, 1);
    assert!((attempt.band_left.expect("left").h() - (8.5 + 20.0 / 120.0)).abs() < EXACT_H);
}

#[test]
fn a_log_that_begins_hot_says_so_and_one_that_stops_goes_on() {
    let piece: &[(f64, f64)] = &[(0.0, 610.0), (1.0, 620.0)];
    let attempt = &read(piece, &[], Definitions::default()).attempts.list[0];
    assert!(attempt.begins_before_log);
    assert_eq!(attempt.why, Ending::GoesOn);
    assert!((attempt.holds[0].longest.h() - 1.0).abs() < EXACT_H);
}

#[test]
fn a_late_event_is_printed_and_explains_nothing() {
    let mut checker = Checker::new(
        &requirement(usual_kinds()),
        &thermocouples(2),
        Definitions::default(),
    );
    scans(&[GOOD, GOOD], 60)
        .iter()
        .for_each(|s| checker.push(s));
    checker.note(&event(8.5, Happening::PowerOff));
    let findings = checker.findings();
    assert_eq!(findings.late_events, 1);
    assert_eq!(findings.events.len(), 1);
    assert_eq!(findings.attempts.list[0].why, Ending::Cooled);
}
