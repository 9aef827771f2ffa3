//! Silence where it hides nothing, and where a limit says nothing of when it begins.

use checks::{Findings, Verdict};
use quantity::{Celsius, KelvinsPerHour};
use readings::Scan;
use rules::requirement::LimitKind;

use crate::cycles::*;

fn judged(scans: &[Scan]) -> Findings {
    judge(&requirement(usual_kinds()), &thermocouples(2), scans)
}

#[test]
fn one_missing_reading_breaks_no_hold_at_any_pace_whose_gap_it_is_not() {
    for interval_s in [10, 60, 61, 90, 120, 148] {
        let mut all = scans(&[GOOD, GOOD], interval_s);
        let middle = (7.25 * 3600.0 / interval_s as f64) as usize;
        all[middle].readings[1] = None;
        let findings = judged(&all);
        let hold = of(&findings, is_hold_time);
        assert_eq!(hold.verdict, Verdict::Met, "at {interval_s} s: {hold:#?}");
    }
    // Beyond the longest silence of any pace it is a gap, as a missing row is.
    let mut all = scans(&[GOOD, GOOD], 240);
    let middle = (7.25 * 3600.0 / 240.0) as usize;
    all[middle].readings[1] = None;
    assert_eq!(of(&judged(&all), is_hold_time).verdict, Verdict::NotJudged);
}

#[test]
fn silence_behind_the_climb_hides_no_heating_unless_it_is_heated_anew() {
    let silent_from = |hours: f64, lines: &[&[(f64, f64)]]| {
        let mut all = scans(lines, 60);
        for scan in &mut all {
            if scan.elapsed.as_secs_f64() > hours * 3600.0 {
                scan.readings[1] = None;
            }
        }
        judged(&all)
    };
    let after = silent_from(7.0, &[GOOD, GOOD]);
    assert_eq!(of(&after, is_heating_rate).verdict, Verdict::Met);
    assert_eq!(of(&after, is_cooling_rate).verdict, Verdict::NotJudged);
    let peak = after
        .findings
        .iter()
        .find(|f| matches!(f.limit.kind, LimitKind::HoldMax(_)));
    let reason = &peak.expect("asked for").reason;
    assert!(
        !reason.contains("the log ends"),
        "it ends later than TC2 spoke: {reason}"
    );
    let before = silent_from(5.0, &[GOOD, GOOD]);
    assert_eq!(of(&before, is_heating_rate).verdict, Verdict::NotJudged);
    // Lost and heated anew while TC2 says nothing.
    let again: &[(f64, f64)] = &[
        (0.0, 20.0),
        (6.0, 620.0),
        (7.5, 620.0),
        (9.5, 400.0),
        (11.7, 620.0),
        (14.0, 620.0),
        (17.5, 200.0),
    ];
    let anew = silent_from(7.0, &[again, again]);
    assert_eq!(of(&anew, is_heating_rate).verdict, Verdict::NotJudged);
}

#[test]
fn a_rate_without_a_threshold_is_judged_from_cold_metal_on() {
    let rate = KelvinsPerHour::from_k_h(150.0);
    let above = Celsius::from_c(0.0);
    let kinds = vec![
        LimitKind::HoldMin(Celsius::from_c(600.0)),
        LimitKind::HeatingRate { above, rate },
        LimitKind::CoolingRate { above, rate },
    ];
    let judged = |line: &[(f64, f64)]| {
        let lines: [&[(f64, f64)]; 2] = [line, line];
        judge(
            &requirement(kinds.clone()),
            &thermocouples(2),
            &scans(&lines, 60),
        )
    };
    let cold = judged(&[(0.0, 22.0), (6.0, 620.0), (7.0, 620.0), (12.0, 30.0)]);
    assert!(cold.all_met(), "{cold:#?}");
    let warm = judged(&[(0.0, 180.0), (6.0, 620.0), (7.0, 620.0), (12.0, 150.0)]);
    for kind in [is_heating_rate, is_cooling_rate] {
        assert_eq!(of(&warm, kind).verdict, Verdict::NotJudged);
    }
}

#[test]
fn what_is_steep_inside_the_range_is_no_ramp_and_stands_beside_the_limit() {
    let jolted: &[(f64, f64)] = &[
        (0.0, 20.0),
        (6.0, 620.0),
        (6.5, 605.0),
        (6.52, 640.0),
        (8.5, 640.0),
        (12.0, 220.0),
    ];
    let findings = usual(&[jolted, GOOD]);
    let heating = of(&findings, is_heating_rate);
    assert_eq!(heating.verdict, Verdict::Met);
    let told = heating
        .beside
        .iter()
        .find(|b| b.what.contains("no ramp and not judged"));
    assert_eq!(told.and_then(|b| b.channel.as_deref()), Some("TC1"));
    let good = usual(&[GOOD, GOOD]);
    let beside = &of(&good, is_heating_rate).beside;
    assert!(beside.iter().all(|b| !b.what.contains("no ramp")));
}
