//! Time and temperature as one number. Temperatures in °C, times in h, the parameter in thousands with 273.15 K.

use proptest::prelude::*;
use quantity::{Celsius, Hours, KelvinsPerHour};
use rules::time_temperature::{
    Combined, Cycle, Exposure, Parameter, RampRule, budget, combined, critical_parameters,
    hollomon_jaffe, larson_miller, ramp_time,
};

use crate::welds::*;

fn hj() -> Parameter {
    hollomon_jaffe().expect("a constant")
}

fn deg(c: f64) -> Celsius {
    Celsius::from_c(c)
}

fn hours(h: f64) -> Hours {
    Hours::from_h(h)
}

fn cycle(c: f64, h: f64) -> Cycle {
    Cycle {
        temperature: deg(c),
        hold: hours(h),
        heating: None,
        cooling: None,
    }
}

fn with_ramps(c: f64, h: f64, k_h: f64) -> Cycle {
    let rate = Some(KelvinsPerHour::from_k_h(k_h));
    Cycle {
        heating: rate,
        cooling: rate,
        ..cycle(c, h)
    }
}

fn at(cycles: &[Cycle], reference_c: f64, ramps: RampRule) -> Combined {
    combined(&hj(), cycles, deg(reference_c), ramps).expect("cycles")
}

#[test]
fn one_hour_at_the_usual_temperatures() {
    // Recomputed from EN 13445-4:2021 (11.1-1) with C = 20.
    for (c, p) in [
        (595.0, 17.363),
        (620.0, 17.863),
        (650.0, 18.463),
        (705.0, 19.563),
        (730.0, 20.063),
        (760.0, 20.663),
    ] {
        let worked = hj().at(deg(c), hours(1.0)).expect("a time");
        assert!(
            (worked - p).abs() < 5e-4,
            "{c}: {worked}, printed to three digits"
        );
    }
    assert!(hj().at(deg(600.0), hours(0.0)).is_none());
}

#[test]
fn a_ceiling_is_reached_after() {
    // 17.5 at 600, 580 and 620 °C, recomputed; given to two or three digits.
    for (c, h, within) in [
        (600.0, 1.1, 0.05),
        (580.0, 3.25, 0.03),
        (620.0, 0.39, 0.005),
    ] {
        let found = hj().time_to(17.5, deg(c)).h();
        assert!((found - h).abs() < within, "{c}: {found}");
        assert!((hj().at(deg(c), hours(found)).expect("time") - 17.5).abs() < 1e-12);
    }
}

#[test]
fn seconds_take_another_constant() {
    assert!((hj().constant_for_seconds() - 16.444).abs() < 5e-4);
    let by_seconds =
        deg(600.0).absolute_k() * (hj().constant_for_seconds() + 7200f64.log10()) / 1000.0;
    assert!((by_seconds - hj().at(deg(600.0), hours(2.0)).expect("time")).abs() < 1e-9);
}

#[test]
fn both_names_have_one_form_and_their_own_clause() {
    let creep = larson_miller().expect("a constant");
    assert_eq!(
        creep.at(deg(600.0), hours(2.0)),
        hj().at(deg(600.0), hours(2.0))
    );
    assert_ne!(creep.clause, hj().clause);
    let own = hj().with_constant(18.0).expect("a constant");
    assert!(own.at(deg(600.0), hours(1.0)).expect("time") < 15.72);
    assert_eq!(own.clause.status, quantity::Status::UserGiven);
    assert!(hj().with_constant(f64::NAN).is_err() && hj().with_constant(-1.0).is_err());
}

#[test]
fn ramps_by_the_shortcut() {
    // t = T/[2.3·K·(20 − log K)], recomputed for °C and K/h; each given to 0.001 h.
    for (c, k_h, h) in [
        (600.0, 100.0, 0.211),
        (760.0, 100.0, 0.250),
        (600.0, 200.0, 0.107),
        (610.0, 55.0, 0.382),
    ] {
        let found = ramp_time(
            &hj(),
            deg(c),
            KelvinsPerHour::from_k_h(k_h),
            RampRule::Shortcut,
        )
        .h();
        assert!((found - h).abs() < 1e-3, "{c} {k_h}: {found}");
    }
}

#[test]
fn ramps_by_the_integral_are_less_and_say_which_slope() {
    let of = |rule| ramp_time(&hj(), deg(600.0), KelvinsPerHour::from_k_h(100.0), rule).h();
    // Recomputed numerically: 0.179 h with the slope of a 2 h hold, 0.188 h with that of its own time.
    assert!(
        (of(RampRule::SlopeOfHold(hours(2.0))) - 0.179).abs() < 1e-3,
        "{}",
        of(RampRule::SlopeOfHold(hours(2.0)))
    );
    assert!(
        (of(RampRule::OwnSlope) - 0.188).abs() < 1e-3,
        "{}",
        of(RampRule::OwnSlope)
    );
    let less = 1.0 - of(RampRule::OwnSlope) / of(RampRule::Shortcut);
    assert!((0.05..0.17).contains(&less), "{less}");
    assert_eq!(of(RampRule::Ignored), 0.0);
    assert!(RampRule::SlopeOfHold(hours(2.0)).words().contains("2 h"));
    assert_eq!(
        ramp_time(
            &hj(),
            deg(600.0),
            KelvinsPerHour::from_k_h(0.0),
            RampRule::Shortcut
        )
        .h(),
        0.0
    );
}

#[test]
fn ramps_raise_the_parameter_by_what_was_worked_out() {
    // Recomputed: 600 °C/2 h alone 17.726, with 100 K/h on both sides 17.798; 200 K/h 17.764; 620 °C/1 h/100 K/h 18.002.
    for (cycle, ramps, p) in [
        (cycle(600.0, 2.0), RampRule::Ignored, 17.726),
        (with_ramps(600.0, 2.0, 100.0), RampRule::Shortcut, 17.798),
        (with_ramps(600.0, 2.0, 200.0), RampRule::Shortcut, 17.764),
        (with_ramps(620.0, 1.0, 100.0), RampRule::Shortcut, 18.002),
    ] {
        let found = at(&[cycle], cycle.temperature.c(), ramps).parameter;
        assert!((found - p).abs() < 1e-3, "{cycle:?}: {found}");
    }
}

#[test]
fn several_cycles_against_a_stated_reference() {
    // Published check, 21.333: 730 °C/4 h, 675 °C/40 h, 710 °C/32 h. Recomputed with 273.15 K for three references.
    let cycles = [cycle(730.0, 4.0), cycle(675.0, 40.0), cycle(710.0, 32.0)];
    for (reference_c, p) in [(730.0, 21.335), (710.0, 21.327), (675.0, 21.314)] {
        let found = at(&cycles, reference_c, RampRule::Ignored).parameter;
        assert!((found - p).abs() < 1e-3, "{reference_c}: {found}");
    }
    assert!(
        (at(&cycles, 730.0, RampRule::Ignored).parameter - 21.333).abs() < 4e-3,
        "273 for 273.15 makes 0.003"
    );
    // Published 21.418: 750 °C/3 h, 670 °C/50 h, 710 °C/32 h at the highest temperature.
    let second = [cycle(750.0, 3.0), cycle(670.0, 50.0), cycle(710.0, 32.0)];
    assert!((at(&second, 750.0, RampRule::Ignored).parameter - 21.418).abs() < 4e-3);
}

#[test]
fn a_parameter_that_no_treatment_of_steel_gives_is_warned_of() {
    // 15 to 22 thousand are in use; 900 °C for 100 h gives 25.8, 400 °C for 0.1 h 12.8, computed.
    let doubt = |c: f64, h: f64| at(&[cycle(c, h)], c, RampRule::Shortcut).doubt;
    assert_eq!(doubt(620.0, 2.0), None);
    let high = doubt(900.0, 100.0).expect("a warning");
    assert!(
        high.text.contains("25.809") && high.text.contains("15 to 22"),
        "{}",
        high.text
    );
    assert!(doubt(400.0, 0.1).is_some());
}

#[test]
fn lower_temperature_for_longer_is_not_of_equal_effect() {
    // ASME B31.3 Table 331.1.2: decreases of 30, 55, 85, 110 K with 2, 4, 10, 20 h, from 595 °C and 1 h. Recomputed.
    for (decrease, h, p) in [
        (30.0, 2.0, 17.02),
        (55.0, 4.0, 16.75),
        (85.0, 10.0, 16.45),
        (110.0, 20.0, 16.15),
    ] {
        let found = hj().at(deg(595.0 - decrease), hours(h)).expect("time");
        assert!((found - p).abs() < 6e-3, "{decrease}: {found}");
    }
    // ASME VIII-1 UCS-56.1: 28, 56, 83, 111 K.
    for (decrease, h, p) in [
        (28.0, 2.0, 17.06),
        (56.0, 4.0, 16.73),
        (83.0, 10.0, 16.49),
        (111.0, 20.0, 16.13),
    ] {
        let found = hj().at(deg(595.0 - decrease), hours(h)).expect("time");
        assert!((found - p).abs() < 6e-3, "{decrease}: {found}");
    }
}

#[test]
fn bad_cycles_are_refused_all_at_once() {
    let bad = [
        cycle(600.0, -1.0),
        cycle(-300.0, 1.0),
        with_ramps(600.0, 1.0, 0.0),
    ];
    assert_eq!(
        combined(&hj(), &bad, deg(600.0), RampRule::Ignored)
            .expect_err("bad")
            .faults
            .len(),
        4
    );
    assert!(combined(&hj(), &[], deg(600.0), RampRule::Ignored).is_err());
}

fn exposure(reference_c: f64, samples: &[(f64, f64)]) -> Exposure {
    let mut exposure = Exposure::new(hj(), deg(reference_c)).expect("a reference");
    for (h, c) in samples {
        exposure.push(hours(*h), Some(deg(*c))).expect("in order");
    }
    exposure
}

#[test]
fn a_logged_hold_gives_the_parameter_of_the_hold() {
    for reference_c in [550.0, 600.0, 650.0] {
        let found = exposure(reference_c, &[(0.0, 600.0), (0.7, 600.0), (2.0, 600.0)])
            .parameter()
            .expect("exposed");
        assert!(
            (found - hj().at(deg(600.0), hours(2.0)).expect("time")).abs() < 1e-9,
            "{reference_c}: {found}"
        );
    }
}

#[test]
fn a_logged_ramp_gives_the_integral_with_its_own_slope() {
    let found = exposure(600.0, &[(0.0, 0.0), (6.0, 600.0)])
        .equivalent()
        .expect("exposed")
        .h();
    let own = ramp_time(
        &hj(),
        deg(600.0),
        KelvinsPerHour::from_k_h(100.0),
        RampRule::OwnSlope,
    )
    .h();
    assert!(
        (found / own - 1.0).abs() < 2e-3,
        "{found} {own}: read off between kept sums"
    );
}

#[test]
fn a_logged_cycle_stays_within_a_hundredth_of_the_shortcut() {
    // Both ways of counting ramps are published; they differ by about 0.01 in thousands.
    let log = exposure(
        600.0,
        &[(0.0, 20.0), (5.8, 600.0), (7.8, 600.0), (13.6, 20.0)],
    )
    .parameter()
    .expect("exposed");
    let shortcut = at(&[with_ramps(600.0, 2.0, 100.0)], 600.0, RampRule::Shortcut).parameter;
    assert!(log < shortcut && shortcut - log < 0.015, "{log} {shortcut}");
}

#[test]
fn silence_counts_nothing_and_is_told() {
    let mut gap = exposure(600.0, &[(0.0, 600.0), (1.0, 600.0)]);
    gap.push(hours(1.5), None).expect("in order");
    gap.push(hours(2.0), Some(deg(600.0))).expect("in order");
    gap.push(hours(3.0), Some(deg(600.0))).expect("in order");
    assert!((gap.equivalent().expect("exposed").h() - 2.0).abs() < 1e-9);
    assert_eq!(gap.silent().h(), 1.0);
}

#[test]
fn cold_metal_has_no_exposure_and_bad_samples_are_not_taken() {
    let mut cold = exposure(600.0, &[(0.0, 20.0), (100.0, 20.0)]);
    assert!(cold.parameter().is_none());
    assert!(cold.push(hours(99.0), Some(deg(20.0))).is_err());
    assert!(cold.push(hours(f64::NAN), Some(deg(20.0))).is_err());
    assert!(cold.push(hours(101.0), Some(deg(-400.0))).is_err());
    assert!(cold.push(hours(101.0), Some(deg(f64::INFINITY))).is_err());
    assert!(cold.push(hours(101.0), Some(deg(20.0))).is_ok());
    assert!(Exposure::new(hj(), deg(f64::NAN)).is_err());
}

#[test]
fn a_qualification_leaves_what_the_part_has_not_used() {
    let coupon = [cycle(620.0, 10.0)];
    let part = [cycle(620.0, 4.0), cycle(600.0, 2.0)];
    let left = budget(&hj(), &coupon, &part, deg(620.0), RampRule::Ignored).expect("a budget");
    let second = hj().equivalent(deg(600.0), hours(2.0), deg(620.0)).h();
    assert!((left.left.h() - (10.0 - 4.0 - second)).abs() < 1e-9);
    assert!(left.parameter_left > 0.0);
    assert!((left.coupon_share - 10.0 / 6.0).abs() < 1e-12);
    assert_eq!(left.share_asked.expect("a share").0, 0.8);
    let too_much = budget(&hj(), &part, &coupon, deg(620.0), RampRule::Ignored).expect("a budget");
    assert!(too_much.left.h() < 0.0 && too_much.coupon_share < 0.8);
}

#[test]
fn the_ceiling_is_that_of_the_contract_and_waits_for_the_user() {
    let of = |code: &str, edition: &str, group: &str| {
        critical_parameters(&weld(code, edition, &side(group, 1, 500.0, 20.0))).expect("kept")
    };
    let found = of("EN 13445-4", "2021", "5.1");
    assert_eq!(
        (found.len(), found[0].at_most, found[0].is_on),
        (1, 18.5, false)
    );
    assert!(of("ASME B31.3", "2016", "4").is_empty());
}

proptest! {
    #[test]
    fn finer_samples_on_the_same_curve_change_nothing(
        points in prop::collection::vec((0.05..3.0f64, 300.0..780.0f64), 2..12), parts in 2..6usize,
    ) {
        let mut clock = 0.0;
        let coarse: Vec<(f64, f64)> = points.iter().map(|(dt, c)| { clock += dt; (clock, *c) }).collect();
        let mut fine = vec![coarse[0]];
        for pair in coarse.windows(2) {
            for part in 1..=parts {
                let share = part as f64 / parts as f64;
                fine.push((pair[0].0 + share * (pair[1].0 - pair[0].0), pair[0].1 + share * (pair[1].1 - pair[0].1)));
            }
        }
        let (a, b) = (exposure(700.0, &coarse).parameter(), exposure(700.0, &fine).parameter());
        match (a, b) {
            (Some(a), Some(b)) => prop_assert!((a - b).abs() < 1e-4, "{a} {b}: Simpson's rule on 5 K"),
            (a, b) => prop_assert!(a.is_none() && b.is_none()),
        }
    }

    #[test]
    fn hotter_or_longer_never_counts_less(
        points in prop::collection::vec((0.05..3.0f64, 450.0..750.0f64), 2..10), more in 0.0..30.0f64, which in 0..10usize,
    ) {
        let curve = |change: &dyn Fn(usize, f64, f64) -> (f64, f64)| {
            let mut clock = 0.0;
            let samples: Vec<(f64, f64)> = points.iter().enumerate().map(|(i, (dt, c))| {
                let (dt, c) = change(i, *dt, *c);
                clock += dt;
                (clock, c)
            }).collect();
            exposure(650.0, &samples).parameter().unwrap_or(0.0)
        };
        let index = which % points.len();
        let now = curve(&|_, dt, c| (dt, c));
        let hotter = curve(&|i, dt, c| (dt, if i == index { c + more } else { c }));
        let longer = curve(&|i, dt, c| (if i == index { dt + more } else { dt }, c));
        prop_assert!(hotter >= now - 1e-9, "{hotter} {now}");
        prop_assert!(longer >= now - 1e-9, "{longer} {now}");
    }

    #[test]
    fn one_more_cycle_never_lowers_the_sum(c in 500.0..760.0f64, h in 0.1..20.0f64, more_c in 500.0..760.0f64, more_h in 0.1..20.0f64) {
        let reference = c.max(more_c);
        let one = at(&[cycle(c, h)], reference, RampRule::Shortcut);
        let two = at(&[cycle(c, h), cycle(more_c, more_h)], reference, RampRule::Shortcut);
        prop_assert!(two.parameter >= one.parameter);
    }
}
