//! What each thermocouple read, and what stands beside the findings.

use checks::{Checker, Definitions, Findings, Measured, Verdict};
use quantity::{Celsius, Hours};
use rules::thermocouple::{Place, Role};
use rules::time_temperature::hollomon_jaffe;

use crate::cycles::*;

/// Interpolated crossings of straight lines are exact but for rounding.
const EXACT_H: f64 = 1e-6;

fn good() -> Findings {
    usual(&[GOOD, GOOD])
}

#[test]
fn a_row_tells_extremes_hold_and_ramps_of_its_thermocouple() {
    let findings = good();
    assert_eq!(findings.table.len(), 2);
    let row = &findings.table[1];
    assert_eq!(row.channel, "TC2");
    assert!((row.highest.expect("read").c() - 620.0).abs() < 1e-9);
    assert!((row.lowest_in_hold.expect("held").c() - 600.0).abs() < 2.0);
    let held_h = 2.5 + 0.2 + 20.0 / 120.0;
    assert!((row.holds[0].longest.h() - held_h).abs() < EXACT_H);
    assert!((row.holds[0].total.h() - held_h).abs() < EXACT_H);
    let windows: Vec<f64> = row.rates.iter().map(|r| r.window.minutes()).collect();
    for wanted in [60.0, 15.0, 30.0] {
        assert_eq!(
            windows
                .iter()
                .filter(|w| (**w - wanted).abs() < 1e-9)
                .count(),
            2
        );
    }
    for rate in &row.rates {
        let true_k_h = if rate.heating { 100.0 } else { 120.0 };
        assert!((rate.steepest.expect("a ramp").k_h() - true_k_h).abs() < 1e-3);
    }
}

#[test]
fn a_spare_that_never_stepped_in_was_not_judged_and_says_so() {
    let mut channels = thermocouples(2);
    channels[1].role = Role::Spare;
    let mut checker = Checker::new(
        &requirement(usual_kinds()),
        &channels,
        Definitions::default(),
    );
    scans(&[GOOD, GOOD], 60)
        .iter()
        .for_each(|scan| checker.push(scan));
    let table = checker.findings().table;
    assert_eq!(table[0].unjudged(), None);
    assert_eq!(table[1].unjudged(), Some("not judged, a spare"));
    assert_eq!(table[1].longest_hold(), None);
}

#[test]
fn the_exposure_of_a_hold_is_that_of_the_parameter_and_ramps_add_to_it() {
    let flat: &[(f64, f64)] = &[(0.0, 600.0), (3.0, 600.0)];
    let findings = usual(&[flat]);
    let told = findings.table[0].exposure.expect("a reference");
    let parameter = hollomon_jaffe().expect("kept");
    let wanted = parameter.at(Celsius::from_c(600.0), Hours::from_h(3.0));
    // The equivalent time is read off a row of decades.
    assert!((told.hollomon_jaffe.expect("held") - wanted.expect("a time")).abs() < 0.005);
    assert!((told.equivalent.expect("held").h() - 3.0).abs() < 0.01);
    let ramped = good().table[0].exposure.expect("a reference");
    // 2.5 h at 620 °C are worth more than their time at 600 °C, and the ramps come on top.
    let bare = parameter.equivalent(
        Celsius::from_c(620.0),
        Hours::from_h(2.5),
        Celsius::from_c(600.0),
    );
    assert!(ramped.equivalent.expect("held").h() > bare.h());
}

#[test]
fn silence_adds_nothing_to_the_exposure() {
    let flat: &[(f64, f64)] = &[(0.0, 600.0), (3.0, 600.0)];
    let mut with_gap = scans(&[flat], 60);
    with_gap.retain(|s| !(1.0..2.0).contains(&(s.elapsed.as_secs_f64() / 3600.0)));
    let findings = judge(&requirement(usual_kinds()), &thermocouples(1), &with_gap);
    let told = findings.table[0].exposure.expect("a reference");
    assert!((told.silent.h() - 1.0).abs() < 2.0 / 60.0);
    assert!((told.equivalent.expect("held").h() - 2.0).abs() < 2.5 / 60.0);
}

#[test]
fn both_readings_of_the_longest_run_stand_in_the_row() {
    let mut with_gap = scans(&[GOOD], 60);
    with_gap.retain(|s| !(7.0..7.1).contains(&(s.elapsed.as_secs_f64() / 3600.0)));
    let findings = judge(&requirement(usual_kinds()), &thermocouples(1), &with_gap);
    let hold = findings.table[0].holds[0];
    assert!(hold.longest_over_gaps > hold.longest);
    assert!(hold.total > hold.longest);
}

#[test]
fn an_overshoot_tells_how_long_it_lasted() {
    let findings = usual(&[OVERSHOT]);
    let max = of(&findings, is_hold_max);
    assert_eq!(max.verdict, Verdict::NotMet);
    let Some(Measured::Time(above)) = max.beside[0].measured else {
        panic!("a time: {max:?}")
    };
    // 10 K at 80 K/h on both sides.
    assert!((above.h() - 0.25).abs() < EXACT_H);
}

#[test]
fn the_spread_of_the_settled_hold_and_the_worst_case_stand_beside_the_spread() {
    // The second arrives at the hold minimum a quarter of an hour late and 20 K behind.
    let behind: &[(f64, f64)] = &[
        (0.0, 20.0),
        (6.0, 600.0),
        (6.1, 615.0),
        (8.5, 615.0),
        (12.0, 200.0),
    ];
    let findings = usual(&[GOOD, behind]);
    let spread = of(&findings, is_hold_spread);
    let k = |m: Option<Measured>| match m {
        Some(Measured::Difference(d)) => d.k(),
        other => panic!("a difference: {other:?}"),
    };
    assert!((k(spread.measured) - 20.0).abs() < 1e-6);
    assert!((k(spread.beside[0].measured) - 5.0).abs() < 1e-6);
    assert!((k(spread.beside[1].measured) - 20.0).abs() < 1e-6);
    let settled = Definitions {
        settled_spread_binds: true,
        ..Definitions::default()
    };
    let mut checker = checks::Checker::new(&requirement(usual_kinds()), &thermocouples(2), settled);
    scans(&[GOOD, behind], 60)
        .iter()
        .for_each(|s| checker.push(s));
    assert!((k(of(&checker.findings(), is_hold_spread).measured) - 5.0).abs() < 1e-6);
}

#[test]
fn the_step_from_soak_band_to_the_edge_is_told_with_its_pair() {
    let mut channels = thermocouples(2);
    channels[1].place = Place::HeatedBandEdge;
    channels[1].axial = quantity::Millimeters::from_mm(150.0);
    let edge: &[(f64, f64)] = &[(0.0, 20.0), (6.0, 380.0), (8.5, 420.0), (12.0, 150.0)];
    let findings = judge(
        &requirement(usual_kinds()),
        &channels,
        &scans(&[GOOD, edge], 60),
    );
    let inside = &findings.gradients[0];
    assert!(inside.in_hold);
    assert_eq!((inside.edge.as_str(), inside.soak.as_str()), ("TC2", "TC1"));
    assert!((inside.largest.k() - 240.0).abs() < 1.0, "{inside:?}");
    assert!((inside.apart.mm() - 150.0).abs() < 1e-9);
    assert!(
        findings
            .findings
            .iter()
            .all(|f| f.verdict != Verdict::NotMet)
    );
}
