//! Laws that hold for any chart.

use checks::{Checker, Definitions, Event, Findings, Happening, Measured, Removal, Verdict};
use proptest::prelude::*;
use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};
use readings::Scan;
use rules::requirement::{LimitKind, Requirement};

use crate::cycles::*;

/// A wandering chart of two thermocouples round a cycle, with silences.
fn chart() -> impl Strategy<Value = Vec<Scan>> {
    let step = (20_u64..400, -12.0_f64..14.0, -12.0_f64..14.0, 0_u8..40);
    (prop::collection::vec(step, 20..160), 250.0_f64..640.0).prop_map(|(steps, start_c)| {
        let (mut time_s, mut a_c, mut b_c) = (0, start_c, start_c - 5.0);
        let scan = |(step_s, a_k, b_k, silence): (u64, f64, f64, u8)| {
            time_s += step_s;
            (a_c, b_c) = (a_c + a_k, b_c + b_k);
            let speak =
                |channel: u8, value_c: f64| (silence != channel).then(|| Celsius::from_c(value_c));
            Scan {
                elapsed: std::time::Duration::from_secs(time_s),
                readings: vec![speak(1, a_c), speak(2, b_c)],
            }
        };
        steps.into_iter().map(scan).collect()
    })
}

/// The chart with a third thermocouple between the two, which fails from a scan on: open, stuck, off, or not at all.
fn failing(chart: &[Scan], from: usize, way: u8) -> Vec<Scan> {
    let mut last_c = 0.0;
    let with_third = |(i, scan): (usize, &Scan)| {
        let mut scan = scan.clone();
        let speaking: Vec<f64> = scan.readings.iter().flatten().map(|t| t.c()).collect();
        let mean_c = speaking.iter().sum::<f64>() / speaking.len().max(1) as f64;
        let third_c = match way {
            0 if i >= from => 1372.0,
            1 if i >= from => last_c,
            2 if i >= from => mean_c - 25.0,
            _ => mean_c,
        };
        last_c = third_c;
        scan.readings
            .push((!speaking.is_empty()).then(|| Celsius::from_c(third_c)));
        scan
    };
    chart.iter().enumerate().map(with_third).collect()
}

fn hold_h(findings: &Findings, what: &str) -> f64 {
    let found = of(findings, is_hold_time)
        .beside
        .iter()
        .find(|b| b.what == what)
        .and_then(|b| b.measured);
    match found {
        Some(Measured::Time(h)) => h.h(),
        other => panic!("a time was expected: {other:?}"),
    }
}

/// The limits of [`usual_kinds`], each tightened by a part of itself.
fn tightened(kind: LimitKind, by: f64) -> LimitKind {
    match kind {
        LimitKind::HoldMin(min) => LimitKind::HoldMin(min + Kelvins::from_k(30.0 * by)),
        LimitKind::HoldMax(max) => LimitKind::HoldMax(max - Kelvins::from_k(30.0 * by)),
        LimitKind::HoldTime(time) => LimitKind::HoldTime(Hours::from_h(time.h() * (1.0 + by))),
        LimitKind::HeatingRate { above, rate } => LimitKind::HeatingRate {
            above,
            rate: KelvinsPerHour::from_k_h(rate.k_h() * (1.0 - by)),
        },
        LimitKind::CoolingRate { above, rate } => LimitKind::CoolingRate {
            above,
            rate: KelvinsPerHour::from_k_h(rate.k_h() * (1.0 - by)),
        },
        LimitKind::HoldSpread(spread) => {
            LimitKind::HoldSpread(Kelvins::from_k(spread.k() * (1.0 - by)))
        }
        LimitKind::HeatingSpread { spread, within } => LimitKind::HeatingSpread {
            spread: Kelvins::from_k(spread.k() * (1.0 - by)),
            within,
        },
    }
}

/// Readings as they come: on charts that wander at random no thermocouple is taken for failed. Evidence of a failure is
/// lost with the readings that bear it out, so laws about lost readings hold for what is read and not for what is doubted.
fn judge_believing(requirement: &Requirement, count: usize, chart: &[Scan]) -> Findings {
    let mut definitions = Definitions::default();
    definitions.signs.jump = Kelvins::from_k(1e9);
    definitions.signs.noise_floor = Kelvins::from_k(1e9);
    let mut checker = Checker::new(requirement, &thermocouples(count), definitions);
    chart.iter().for_each(|s| checker.push(s));
    checker.findings()
}

/// Rounding of sums over a chart.
const ROUNDING_H: f64 = 1e-9;

proptest! {
    #[test]
    fn however_the_scans_are_chopped_the_findings_are_the_same(
        chart in chart(),
        looks in prop::collection::vec(0_usize..160, 0..12),
    ) {
        let requirement = requirement(usual_kinds());
        let happened = [
            Event { elapsed: std::time::Duration::from_secs(2000), what: Happening::PowerOff },
            Event { elapsed: std::time::Duration::from_secs(4000), what: Happening::PowerOn },
        ];
        let mut whole = Checker::new(&requirement, &thermocouples(2), Definitions::default());
        happened.iter().for_each(|e| whole.note(e));
        chart.iter().for_each(|s| whole.push(s));
        let whole = whole.findings();
        let mut checker = Checker::new(&requirement, &thermocouples(2), Definitions::default());
        let mut told = 0;
        for (i, scan) in chart.iter().enumerate() {
            if looks.contains(&i) {
                checker.findings();
                checker = checker.clone();
            }
            let due = happened.iter().filter(|e| e.elapsed <= scan.elapsed).count();
            happened[told..due].iter().for_each(|e| checker.note(e));
            told = due;
            checker.push(scan);
        }
        happened[told..].iter().for_each(|e| checker.note(e));
        prop_assert_eq!(format!("{whole:?}"), format!("{:?}", checker.findings()));
    }

    #[test]
    fn however_they_are_chopped_a_failing_thermocouple_is_found_and_leaves_alike(
        chart in chart(),
        looks in prop::collection::vec(0_usize..160, 0..12),
        from in 0_usize..120,
        way in 0_u8..4,
    ) {
        let failing = failing(&chart, from, way);
        let definitions = Definitions { removal: Removal::WithEvidence, ..Definitions::default() };
        let begun = || Checker::new(&requirement(usual_kinds()), &thermocouples(3), definitions.clone());
        let mut whole = begun();
        failing.iter().for_each(|s| whole.push(s));
        let mut checker = begun();
        for (i, scan) in failing.iter().enumerate() {
            if looks.contains(&i) {
                checker.findings();
                checker = checker.clone();
            }
            checker.push(scan);
        }
        prop_assert_eq!(format!("{:?}", whole.findings()), format!("{:?}", checker.findings()));
    }

    #[test]
    fn a_thermocouple_that_goes_dead_never_makes_a_finding_met(
        chart in chart(), from in 0_usize..120,
    ) {
        let whole = failing(&chart, from, 3);
        let dead = failing(&chart, from, 0);
        let judge = |scans: &[Scan]| judge_believing(&requirement(usual_kinds()), 3, scans);
        for (before, after) in judge(&whole).findings.iter().zip(&judge(&dead).findings) {
            if matches!(before.limit.kind, LimitKind::HoldTime(_) | LimitKind::HoldMin(_) | LimitKind::HoldMax(_)) {
                prop_assert!(before.verdict == Verdict::Met || after.verdict != Verdict::Met, "{before:?} {after:?}");
            }
        }
    }

    #[test]
    fn removing_a_stretch_never_lengthens_the_hold(
        chart in chart(), from in 0_usize..160, length in 1_usize..60,
    ) {
        let requirement = requirement(usual_kinds());
        let whole = judge_believing(&requirement, 2, &chart);
        let mut cut = chart.clone();
        let from = from.min(cut.len());
        cut.drain(from..(from + length).min(chart.len()));
        let cut = judge_believing(&requirement, 2, &cut);
        // A short silence may hide a dip that a line drawn across it does not show; it can never add more than that.
        let bridged_h = 2.0 / 60.0 + 400.0 * 2.5 / 3600.0;
        for what in ["longest run", "all runs together"] {
            prop_assert!(hold_h(&cut, what) <= hold_h(&whole, what).max(0.0) + bridged_h, "{what}");
        }
    }

    #[test]
    fn silencing_a_stretch_never_lengthens_the_hold_nor_turns_a_finding_into_met(
        chart in chart(), from in 0_usize..160, length in 1_usize..60, channel in 0_usize..2,
    ) {
        let requirement = requirement(usual_kinds());
        let whole = judge_believing(&requirement, 2, &chart);
        let mut silenced = chart.clone();
        for scan in silenced.iter_mut().skip(from).take(length) {
            scan.readings[channel] = None;
        }
        let silenced = judge_believing(&requirement, 2, &silenced);
        for what in ["longest run", "all runs together"] {
            prop_assert!(hold_h(&silenced, what) <= hold_h(&whole, what) + ROUNDING_H, "{what}");
        }
        for (before, after) in whole.findings.iter().zip(&silenced.findings) {
            if matches!(before.limit.kind, LimitKind::HoldTime(_) | LimitKind::HoldMin(_)) {
                prop_assert!(before.verdict == Verdict::Met || after.verdict != Verdict::Met, "{before:?} {after:?}");
            }
        }
    }

    #[test]
    fn tightening_a_limit_never_clears_its_finding(chart in chart(), by in 0.0_f64..0.9, which in 0_usize..7) {
        let kinds = usual_kinds();
        let mut tight = kinds.clone();
        tight[which] = tightened(tight[which], by);
        let before = judge(&requirement(kinds), &thermocouples(2), &chart);
        let after = judge(&requirement(tight), &thermocouples(2), &chart);
        prop_assert!(
            before.findings[which].verdict == Verdict::Met || after.findings[which].verdict != Verdict::Met,
            "{:?} {:?}", before.findings[which], after.findings[which]
        );
        let hold = |f: &Findings| of(f, is_hold_time).verdict;
        prop_assert!(hold(&before) == Verdict::Met || hold(&after) != Verdict::Met);
    }

    #[test]
    fn any_scans_at_all_are_judged_without_a_panic(
        scans in prop::collection::vec(
            (0_u64..10_000, prop::collection::vec(prop::option::of(prop::num::f64::ANY), 0..4)), 0..80),
    ) {
        let scans: Vec<Scan> = scans
            .into_iter()
            .map(|(s, r)| Scan {
                elapsed: std::time::Duration::from_secs(s),
                readings: r.into_iter().map(|t| t.map(Celsius::from_c)).collect(),
            })
            .collect();
        judge(&requirement(usual_kinds()), &thermocouples(3), &scans);
    }
}

#[test]
fn memory_does_not_grow_with_the_log() {
    let day: &[(f64, f64)] = &[
        (0.0, 20.0),
        (20.0, 560.0),
        (40.0, 320.0),
        (60.0, 620.0),
        (90.0, 310.0),
    ];
    let mut checker = Checker::new(
        &requirement(usual_kinds()),
        &thermocouples(1),
        Definitions::default(),
    );
    let mut most = 0;
    for scan in scans(&[day], 10) {
        checker.push(&scan);
        most = most.max(checker.retained_readings());
    }
    // Two directions, three windows of 60, 30 and 15 min and one hour of waiting readings, at 10 s.
    // Half an hour of highest readings of the soak band.
    // An hour of scans that wait for evidence, ten minutes of differences and the last readings of a jump.
    let bound = 2 * (361 + 181 + 91) + 362 + 181 + 362 + 61 + 7;
    assert!(
        most <= bound,
        "{most} readings were kept, {bound} are allowed"
    );
}
