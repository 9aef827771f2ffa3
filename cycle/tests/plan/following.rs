//! The controller follows its programme, and says where it cannot.

use cycle::outcome::{Limit, Moment, Stage};

use crate::setups::{channel, run, side, small, small_plan, through_the_curie_point};

/// The set point is met within this, in K.
const FOLLOWED_K: f64 = 0.5;

#[test]
fn the_control_thermocouple_stays_with_the_set_point() {
    let outcome = small_plan();
    for moment in outcome
        .history
        .iter()
        .filter(|m| m.stage != Stage::Cooling || m.current_rms_a > 0.0)
    {
        let off_k = moment.control_hottest_c - moment.set_point_c;
        assert!(off_k.abs() < FOLLOWED_K, "{moment:?}");
    }
}

#[test]
fn no_quarter_of_an_hour_above_the_threshold_is_faster_than_allowed() {
    let setup = small();
    let outcome = small_plan();
    let control = channel(outcome, "TC1");
    for window in control.windows(16).filter(|window| window[0] >= 315.0) {
        let rate_k_h = (window[15] - window[0]) * 4.0;
        assert!(
            rate_k_h.abs() <= setup.programme.heating_rate.k_h(),
            "{rate_k_h}"
        );
    }
}

#[test]
fn the_hold_is_held_inside_its_range() {
    let outcome = small_plan();
    let hold = outcome.history.iter().filter(|m| m.stage == Stage::Hold);
    for moment in hold {
        assert!(moment.control_coldest_c >= 595.0 - 0.1 && moment.control_hottest_c <= 650.0);
    }
    assert!(outcome.soak.hold_from_s.is_some());
    assert!(outcome.source.enough && outcome.source.first_shortfall.is_none());
    assert!(outcome.source.power_reserve_percent > 0.0);
}

#[test]
fn a_source_that_is_too_small_is_named_with_stage_and_limit() {
    let mut setup = small();
    setup.source.power_kw = 2.5;
    let outcome = run(&setup);
    let short = outcome.source.first_shortfall.expect("too small");
    assert!(!outcome.source.enough);
    assert_eq!(short.limit, Limit::Power);
    assert!(short.stage < Stage::Hold);
    assert!(outcome.source.largest_power_w <= 2.5e3 * 1.01);
    assert!(
        outcome.cautions.iter().any(|c| c.contains("falls behind")),
        "{:?}",
        outcome.cautions
    );
    // The run is told to its end all the same.
    let last = outcome.history.last().expect("history");
    assert_eq!(last.stage, Stage::Cooling);
    assert!(last.control_hottest_c <= 480.1);
}

#[test]
fn too_little_current_and_too_little_voltage_are_told_apart() {
    let mut weak = small();
    weak.source.current_rms_a = 60.0;
    let by_current = run(&weak).source.first_shortfall.expect("too small");
    assert_eq!(by_current.limit, Limit::Current);
    let mut weak = small();
    weak.source.voltage_rms_v = 60.0;
    let by_voltage = run(&weak).source.first_shortfall.expect("too small");
    assert_eq!(by_voltage.limit, Limit::Voltage);
}

#[test]
fn a_joint_that_cools_slowly_by_itself_gets_no_power() {
    let mut setup = small();
    setup.programme.cooling_rate = quantity::KelvinsPerHour::from_k_h(2000.0);
    let outcome = run(&setup);
    let cooling: Vec<_> = outcome
        .history
        .iter()
        .filter(|m| m.stage == Stage::Cooling)
        .collect();
    assert!(cooling.len() > 3);
    assert!(cooling[1..].iter().all(|m| m.current_rms_a == 0.0));
}

// Common practice, no source: induction heats the skin, the back face follows by conduction.
#[test]
fn heat_begins_in_the_skin_and_the_back_face_follows() {
    let mut setup = small();
    let thick = side(273.0, 40.0, "carbon steel");
    setup.joint.sides = [thick.clone(), thick];
    let outcome = run(&setup);
    let when = |of: fn(&Moment) -> f64, c: f64| {
        let passes = outcome
            .history
            .windows(2)
            .find(|pair| of(&pair[1]) >= c)
            .expect("it gets there");
        let [before, after] = [&passes[0], &passes[1]];
        let part = (c - of(before)) / (of(after) - of(before));
        before.time_s + part * (after.time_s - before.time_s)
    };
    for c in [25.0, 100.0, 500.0] {
        assert!(when(|m| m.weld_outside_c, c) < when(|m| m.weld_bore_c, c));
    }
    let first = outcome.history[0];
    assert!(
        first.weld_outside_c - 20.0 > 10.0 * (first.weld_bore_c - 20.0),
        "{first:?}"
    );
    let settled = outcome
        .history
        .iter()
        .rev()
        .find(|m| m.stage == Stage::Hold)
        .expect("a hold");
    let settled_k = settled.weld_outside_c - settled.weld_bore_c;
    assert!(outcome.surface_to_bore.heating.difference_k > settled_k);
    // A plane wall heated at one face at a rate r lags by r t^2 / (2 a) (Carslaw & Jaeger 1959, 3.8), a = 6e-6 m2/s;
    // curvature and loss in the bore add to it.
    let by_rate_k = 0.95 * 335.0 / 3600.0 * 0.04 * 0.04 / (2.0 * 6.5e-6);
    assert!(outcome.surface_to_bore.heating.difference_k > 0.7 * by_rate_k);
}

#[test]
fn magnetism_is_lost_on_the_way_and_the_load_changes() {
    let outcome = run(&through_the_curie_point());
    let at = |c: f64| {
        let mut heating = outcome.history.iter().filter(|m| m.stage < Stage::Hold);
        heating.find(|m| m.control_c >= c).expect("it gets there")
    };
    assert!(at(738.0).resistance_ohm < 0.6 * at(500.0).resistance_ohm);
}
