//! Charts drawn with a ruler, whose answers are known by construction.

use checks::{Finding, Measured, Origin, Verdict};
use quantity::Units;
use rules::requirement::LimitKind;

use crate::cycles::*;

/// Interpolated crossings of straight lines are exact but for rounding.
const EXACT_H: f64 = 1e-6;

/// A slope through points of a straight line is exact but for rounding.
const EXACT_K_H: f64 = 1e-3;

fn hours(finding: &Finding) -> f64 {
    match finding.measured {
        Some(Measured::Time(h)) => h.h(),
        other => panic!("a time was expected: {other:?}"),
    }
}

fn k_h(finding: &Finding) -> f64 {
    match finding.measured {
        Some(Measured::Rate(r)) => r.k_h(),
        other => panic!("a rate was expected: {other:?}"),
    }
}

fn k(finding: &Finding) -> f64 {
    match finding.measured {
        Some(Measured::Difference(d)) => d.k(),
        other => panic!("a difference was expected: {other:?}"),
    }
}

fn beside<'a>(finding: &'a Finding, what: &str) -> &'a Option<Measured> {
    &finding
        .beside
        .iter()
        .find(|b| b.what == what)
        .expect("stands beside")
        .measured
}

#[test]
fn a_straight_cycle_meets_everything_with_the_numbers_it_was_drawn_with() {
    let findings = usual(&[GOOD, GOOD]);
    assert!(findings.all_met(), "{findings:#?}");
    // Up: 20 K at 100 K/h from 600 to 620; down: 20 K at 120 K/h.
    assert!((hours(of(&findings, is_hold_time)) - (2.5 + 0.2 + 20.0 / 120.0)).abs() < EXACT_H);
    assert!((k_h(of(&findings, is_heating_rate)) - 100.0).abs() < EXACT_K_H);
    assert!((k_h(of(&findings, is_cooling_rate)) - 120.0).abs() < EXACT_K_H);
}

#[test]
fn the_hold_runs_while_the_slowest_is_in() {
    let slow: &[(f64, f64)] = &[
        (0.0, 20.0),
        (7.25, 600.0),
        (8.5, 600.0),
        (8.5001, 590.0),
        (12.0, 200.0),
    ];
    let findings = usual(&[GOOD, slow]);
    let hold = of(&findings, is_hold_time);
    assert_eq!(hold.verdict, Verdict::NotMet);
    assert!((hours(hold) - 1.25).abs() < 0.01, "{}", hours(hold));
    assert!((k(of(&findings, is_hold_spread)) - 20.0).abs() < 0.5);
    assert_eq!(of(&findings, is_hold_min).channel.as_deref(), Some("TC2"));
}

#[test]
fn a_dip_splits_the_hold_and_total_and_longest_run_say_so() {
    let dip: &[(f64, f64)] = &[
        (0.0, 20.0),
        (6.0, 620.0),
        (7.0, 620.0),
        (7.1, 590.0),
        (7.2, 620.0),
        (8.5, 620.0),
        (12.0, 200.0),
    ];
    let findings = usual(&[dip]);
    let hold = of(&findings, is_hold_time);
    assert_eq!(hold.verdict, Verdict::NotMet);
    let Some(Measured::Time(total)) = beside(hold, "all runs together") else {
        panic!("a time")
    };
    // Below 600 °C for a third of each flank.
    let out_h = 2.0 * 0.1 / 3.0;
    assert!((total.h() - (2.5 + 0.2 + 20.0 / 120.0 - out_h)).abs() < EXACT_H);
    let lowest = of(&findings, is_hold_min);
    assert_eq!(lowest.verdict, Verdict::Met);
    assert!(lowest.beside.iter().any(|b| b.what.contains("dips")));
}

#[test]
fn an_overshoot_stops_the_clock_and_breaks_the_maximum() {
    let findings = usual(&[OVERSHOT]);
    let max = of(&findings, is_hold_max);
    assert_eq!(max.verdict, Verdict::NotMet);
    assert!(
        max.sentence(Origin::Measured, Units::Si, &["TC1".to_owned()])
            .contains("missed by 10 K")
    );
    assert_eq!(of(&findings, is_hold_time).verdict, Verdict::NotMet);
}

#[test]
fn a_fast_hour_is_found_and_dated() {
    let fast: &[(f64, f64)] = &[
        (0.0, 20.0),
        (3.0, 320.0),
        (4.0, 500.0),
        (5.2, 620.0),
        (8.0, 620.0),
        (12.0, 200.0),
    ];
    let findings = usual(&[fast]);
    let rate = of(&findings, is_heating_rate);
    assert_eq!(rate.verdict, Verdict::NotMet);
    assert!((k_h(rate) - 180.0).abs() < 0.5, "{}", k_h(rate));
    assert!((rate.when.expect("dated").h() - 3.0).abs() < 0.05);
}

#[test]
fn a_ramp_shorter_than_the_window_is_judged_whole() {
    // 400 K/h from 300 °C to 600 °C takes 45 min.
    let steep: &[(f64, f64)] = &[(0.0, 200.0), (1.05, 620.0), (4.0, 620.0), (8.0, 200.0)];
    let findings = usual(&[steep]);
    let rate = of(&findings, is_heating_rate);
    assert!((k_h(rate) - 400.0).abs() < 0.5, "{}", k_h(rate));
    assert!(rate.reason.contains("judged whole"));
}

#[test]
fn a_power_loss_while_heating_is_a_fall_of_its_own() {
    let loss: &[(f64, f64)] = &[
        (0.0, 20.0),
        (5.0, 520.0),
        (6.0, 340.0),
        (9.0, 620.0),
        (11.5, 620.0),
        (15.0, 200.0),
    ];
    let findings = usual(&[loss]);
    let fall_k_h = k_h(of(&findings, is_cooling_rate));
    // The running median flattens both corners of a ramp that is no longer than the window.
    assert!((fall_k_h - 180.0).abs() < 3.5, "{fall_k_h}");
    assert!((k_h(of(&findings, is_heating_rate)) - 100.0).abs() < 2.0);
}

#[test]
fn a_gap_is_not_hold_and_leaves_the_maximum_open() {
    let mut with_gap = scans(&[GOOD, GOOD], 60);
    with_gap.retain(|s| !(7.0..7.5).contains(&(s.elapsed.as_secs_f64() / 3600.0)));
    let findings = judge(&requirement(usual_kinds()), &thermocouples(2), &with_gap);
    let hold = of(&findings, is_hold_time);
    assert_eq!(
        hold.verdict,
        Verdict::NotJudged,
        "long enough only if the gap counted: {hold:?}"
    );
    assert_eq!(of(&findings, is_hold_max).verdict, Verdict::NotJudged);
    assert_eq!(of(&findings, is_hold_spread).verdict, Verdict::NotJudged);
}

#[test]
fn a_silent_thermocouple_never_counts_as_one_that_complies() {
    let mut dead = scans(&[GOOD, GOOD], 60);
    dead.iter_mut().for_each(|s| s.readings[1] = None);
    let findings = judge(&requirement(usual_kinds()), &thermocouples(2), &dead);
    assert!(
        findings.findings.iter().all(|f| f.verdict != Verdict::Met),
        "{findings:#?}"
    );
    let mut dies = scans(&[GOOD, GOOD], 60);
    dies.iter_mut()
        .filter(|s| s.elapsed.as_secs_f64() > 7.0 * 3600.0)
        .for_each(|s| s.readings[1] = None);
    let findings = judge(&requirement(usual_kinds()), &thermocouples(2), &dies);
    for kind in [is_hold_time, is_hold_max, is_cooling_rate] {
        assert_eq!(of(&findings, kind).verdict, Verdict::NotJudged);
    }
}

#[test]
fn one_scan_without_a_reading_pauses_the_hold_but_does_not_break_it() {
    let mut holey = scans(&[GOOD], 30);
    let at = holey
        .iter()
        .position(|s| s.elapsed.as_secs_f64() > 7.0 * 3600.0)
        .expect("long enough");
    holey[at].readings[0] = None;
    let findings = judge(&requirement(usual_kinds()), &thermocouples(1), &holey);
    let hold = of(&findings, is_hold_time);
    let lost_h = 60.0 / 3600.0;
    assert!((hours(hold) - (2.5 + 0.2 + 20.0 / 120.0 - lost_h)).abs() < EXACT_H);
}

#[test]
fn two_near_places_too_far_apart_while_heating() {
    let ahead: &[(f64, f64)] = &[(0.0, 20.0), (4.8, 620.0), (8.5, 620.0), (12.0, 200.0)];
    let findings = usual(&[GOOD, ahead]);
    let spread = of(&findings, is_heating_spread);
    assert_eq!(spread.verdict, Verdict::NotMet);
    assert!((k(spread) - 120.0).abs() < 0.5);
    assert_eq!(spread.channel.as_deref(), Some("TC2"));
}

#[test]
fn a_hold_lost_for_long_ends_and_a_new_heating_begins() {
    let twice: &[(f64, f64)] = &[
        (0.0, 20.0),
        (6.0, 620.0),
        (7.0, 620.0),
        (9.0, 420.0),
        (11.0, 620.0),
        (13.5, 620.0),
        (17.0, 200.0),
    ];
    let findings = usual(&[twice, twice]);
    assert!(findings.all_met(), "{findings:#?}");
}

#[test]
fn a_point_without_a_wire_proves_nothing() {
    let mut channels = thermocouples(3);
    channels[2].fitted = false;
    let hot: &[(f64, f64)] = &[(0.0, 700.0), (12.0, 700.0)];
    let findings = judge(
        &requirement(usual_kinds()),
        &channels,
        &scans(&[GOOD, GOOD, hot], 60),
    );
    assert!(findings.all_met());
    assert_eq!(findings.thermocouples.len(), 2);
}

#[test]
fn levels_are_judged_apart() {
    use quantity::Celsius;
    use rules::requirement::Level;
    let mut requirement = requirement(usual_kinds());
    requirement.limits.push(limit(
        Level::Procedure,
        LimitKind::HoldMin(Celsius::from_c(625.0)),
    ));
    requirement.limits.push(limit(
        Level::Procedure,
        LimitKind::HoldTime(quantity::Hours::from_h(1.0)),
    ));
    let findings = judge(&requirement, &thermocouples(2), &scans(&[GOOD, GOOD], 60));
    assert!(
        findings
            .of_level(Level::Code)
            .all(|f| f.verdict == Verdict::Met)
    );
    assert!(
        findings
            .of_level(Level::Procedure)
            .all(|f| f.verdict == Verdict::NotMet)
    );
}

#[test]
fn a_finding_says_by_which_thermocouples_under_which_clause_and_as_defined_where() {
    let findings = usual(&[GOOD, GOOD]);
    let names = findings.soak_band_names();
    let words = of(&findings, is_hold_time).sentence(Origin::Measured, Units::Us, &names);
    for part in [
        "measured values met hold of 2 h",
        "A made-up code 1.1",
        "TC1, TC2",
        "hold-time/3",
    ] {
        assert!(words.contains(part), "{part} is missing in: {words}");
    }
    assert!(!words.to_lowercase().contains("pass"));
}

#[test]
fn a_hold_says_how_far_its_ends_are_known() {
    let scans = scans(&[GOOD, GOOD], 60);
    let findings = judge(&requirement(usual_kinds()), &thermocouples(2), &scans);
    let hold = of(&findings, is_hold_time);
    let told = |what: &str| match beside(hold, what) {
        Some(Measured::Time(h)) => h.h(),
        other => panic!("{what}: {other:?}"),
    };
    assert!((told("each end of it is known to within") - 1.0 / 60.0).abs() < EXACT_H);
    // Half a kelvin is 18 s at 100 K/h and 15 s at 120 K/h.
    let half_k_h = 0.5 / 100.0 + 0.5 / 120.0;
    let narrower = told("longest run in a range 0.5 K (0.9 °F) narrower at each end");
    let wider = told("longest run in a range 0.5 K (0.9 °F) wider at each end");
    assert!(
        (hours(hold) - narrower - half_k_h).abs() < EXACT_H,
        "{narrower}"
    );
    assert!((wider - hours(hold) - half_k_h).abs() < EXACT_H, "{wider}");
}
