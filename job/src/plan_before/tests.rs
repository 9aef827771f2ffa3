use super::*;
use serde_json::{Value, json};

fn plan() -> Value {
    serde_json::from_str(include_str!("miniature_plan.json")).expect("data")
}

/// The plan with other values at some places.
fn with(changes: &[(&str, Value)]) -> Value {
    let mut plan = plan();
    for (path, value) in changes {
        *plan.pointer_mut(path).expect(path) = value.clone();
    }
    plan
}

fn against(before: &Value, now: &Value, units: Units) -> Option<AgainstBefore> {
    against_before(
        before.to_string().as_bytes(),
        now.to_string().as_bytes(),
        units,
    )
}

fn told(all: &AgainstBefore) -> Vec<(&str, &str, Option<bool>)> {
    let told = all.changed.iter();
    told.map(|one| (one.what.as_str(), one.is.as_str(), one.better))
        .collect()
}

const COLDEST: &str = "/course/soak_band_coldest/temperature_c";
const HOLD: &str = "/verdicts/findings/0/predicted/number";
const COOLING: &str = "/verdicts/findings/1/predicted/number";

#[test]
fn what_became_better_and_what_worse_is_told() {
    let worse = with(&[
        ("/verdicts/findings/0/verdict", json!("not_met")),
        (COLDEST, json!(590.0)),
    ]);
    let better = plan();
    let all = against(&worse, &better, Units::Us).expect("of one weld");
    assert_eq!(
        told(&all),
        [
            ("limits met", "5 of 5", Some(true)),
            ("coldest in the hold", "1112 °F", Some(true))
        ]
    );
    let back = against(&better, &worse, Units::Si).expect("of one weld");
    assert!(back.changed.iter().all(|one| one.better == Some(false)));
    assert!(
        against(&better, &better, Units::Si)
            .expect("of one weld")
            .is_same()
    );
}

#[test]
fn every_number_that_a_new_wrap_moves_is_compared() {
    let now = with(&[
        (
            "/course/beyond_soak_band_hottest/temperature_c",
            json!(660.0),
        ),
        ("/course/surface_to_bore_heating_k", json!(20.0)),
        ("/course/surface_to_bore_hold_k", json!(-4.0)),
        (HOLD, json!(0.5)),
        ("/course/largest_voltage_v", json!(200.0)),
        ("/course/neighbors/0/highest_c", json!(110.0)),
    ]);
    let all = against(&plan(), &now, Units::Si).expect("of one weld");
    let told: Vec<_> = all
        .changed
        .iter()
        .map(|one| (one.what.as_str(), one.better, one.left.as_deref()))
        .collect();
    assert_eq!(
        told,
        [
            (
                "hold by thermocouples",
                Some(false),
                Some("30 min less than the 1 h asked for")
            ),
            (
                "hottest beyond the soak band",
                Some(false),
                Some("10 K over the 650 °C allowed")
            ),
            ("outside less bore, heating", Some(false), None),
            ("outside less bore, hold", Some(true), None),
            (
                "hottest of valve",
                Some(false),
                Some("10 K over the 100 °C that it bears")
            ),
            (
                "most voltage",
                Some(true),
                Some("71 % in reserve of the 700 V of the source")
            ),
        ]
    );
    // Longer than asked for is no better.
    let longer = with(&[(HOLD, json!(2.0))]);
    let all = against(&plan(), &longer, Units::Si).expect("of one weld");
    assert_eq!(all.changed[0].better, None);
}

#[test]
fn the_margin_to_each_limit_is_told_once_by_the_tightest_of_its_kind() {
    let now = with(&[
        (COOLING, json!(320.0)),
        ("/verdicts/findings/2/predicted/number", json!(630.0)),
        ("/verdicts/findings/3/predicted/number", json!(630.0)),
        ("/verdicts/findings/4/predicted/number", json!(3.0)),
    ]);
    let all = against(&plan(), &now, Units::Us).expect("of one weld");
    let lines: Vec<_> = all
        .changed
        .iter()
        .map(|one| {
            (
                one.what.as_str(),
                one.left.as_deref().expect("a limit"),
                one.better,
            )
        })
        .collect();
    assert_eq!(
        lines,
        [
            (
                "cooling above 599 °F",
                "23 °F/h within the 599 °F/h allowed",
                Some(false)
            ),
            (
                "hottest thermocouple",
                "36 °F under the 1202 °F allowed",
                Some(false)
            ),
            (
                "thermocouples apart, hold",
                "67 °F within the 72 °F allowed",
                Some(true)
            ),
        ]
    );
    let cooling = LimitOf {
        kind: LimitKind::CoolingRate,
        above_c: Some(315.0),
        within_mm: None,
    };
    assert_eq!(all.changed[0].of, Number::Limit(cooling));
}

#[test]
fn another_limit_is_told_beside_the_one_before() {
    let now = with(&[("/wrap/source/power_kw", json!(20.0))]);
    let all = against(&plan(), &now, Units::Si).expect("of one weld");
    let power = &all.changed[0];
    assert_eq!((&power.of, power.better), (&Number::Power, Some(false)));
    assert_eq!(
        power.left.as_deref(),
        Some(
            "50 % in reserve of the 20 kW of the source; was 71 % in reserve of the 35 kW of the source"
        )
    );
}

#[test]
fn the_coldest_says_where_and_when_and_that_the_wall_has_not_evened_out() {
    let later = with(&[
        (COLDEST, json!(610.0)),
        ("/course/soak_band_coldest/time_h", json!(2.5)),
        ("/course/soak_band_coldest/axial_mm", json!(30.0)),
    ]);
    let place = |before: &Value, now: &Value| {
        let all = against(before, now, Units::Si).expect("of one weld");
        let coldest = all
            .changed
            .iter()
            .find(|one| one.of == Number::MetalColdest);
        coldest.expect("told").place.clone().expect("a place")
    };
    assert_eq!(
        place(&plan(), &later),
        "+30 mm from the weld, in the bore, at 2 h 30 min; was −30 mm from the weld, in the bore"
    );
    assert!(place(&later, &plan()).starts_with(
        "−30 mm from the weld, in the bore, at 2 h, at the beginning of the hold, before the wall has evened out"
    ));
}

#[test]
fn what_was_changed_in_the_wrap_is_said_in_words() {
    let now = with(&[
        ("/wrap/coil/turns/0/standoff_mm", json!(76.2)),
        ("/wrap/coil/turns/1/axial_mm", json!(40.0)),
        ("/wrap/source/frequency_hz", json!(15_300.0)),
        ("/wrap/programme/set_point_c", json!(630.0)),
    ]);
    let all = against(&plan(), &now, Units::Si).expect("of one weld");
    assert_eq!(
        all.wrap,
        [
            "turn 2 of 2 lies +40 mm from the weld, was +20 mm from the weld",
            "standoff 50.8 mm to 76.2 mm, was 50.8 mm",
            "frequency 15.3 kHz, was 9.0 kHz",
            "set point 630 °C, was 620 °C"
        ]
    );
}

#[test]
fn another_weld_or_format_is_not_compared() {
    let now = plan();
    let other = with(&[("/job/weld", json!("V"))]);
    assert_eq!(against(&other, &now, Units::Si), None);
    let older = with(&[("/format", json!("soakwright-plan/0"))]);
    assert_eq!(against(&older, &now, Units::Si), None);
    assert_eq!(
        against_before(b"{", now.to_string().as_bytes(), Units::Si),
        None
    );
}

/// The metal at rest with these turns and this current, coldest at this.
fn at_rest(turns_mm: &[f64], current_a: f64, coldest_c: f64) -> Value {
    let number = |of: &str, value: f64, unit: &str, merit: f64| {
        json!({ "of": of, "name": of, "short": of, "value": value, "unit": unit, "digits": 0,
            "left": null, "beside": "", "look": null, "merit": merit })
    };
    let place = json!({ "axial_mm": 30.0, "words": "+30 mm from the weld" });
    json!({
        "numbers": [
            number("soak_coldest", coldest_c, "°C", coldest_c - 595.0),
            number("current", current_a, "A", -current_a),
        ],
        "facts": {
            "turns_mm": turns_mm, "standoff_mm": 50.8, "frequency_hz": 9000.0, "set_point_c": 620.0,
            "blanket_mm": 50.0, "blanket_reach_mm": 600.0,
            "coldest": place, "hottest": place, "beyond": place, "outside_less_bore": place,
            "last_turn_mm": -20.0, "gap_mm": null, "metal_w": 6000.0, "lost_w": 100.0, "current_a": current_a, "voltage_v": 200.0,
            "mm_and_heat_up_to_there_w": [[-300.0, 0.0], [300.0, 6000.0]], "halfway_c": 320.0, "hot_mm": 500.0
        }
    })
}

#[test]
fn what_made_a_number_differ_is_told_where_the_metal_at_rest_goes_the_same_way() {
    let plan = |rest: Value, coldest_c: f64, current_a: f64| {
        let mut plan = with(&[
            (COLDEST, json!(coldest_c)),
            ("/course/largest_current_a", json!(current_a)),
        ]);
        plan["at_rest"] = rest;
        plan
    };
    let before = plan(at_rest(&[-20.0, 0.0, 20.0], 100.0, 610.0), 600.0, 140.0);
    let now = plan(at_rest(&[-20.0, 20.0], 113.0, 612.0), 598.0, 155.0);
    let all = against(&before, &now, Units::Si).expect("of one weld");
    let why = |of: Number| {
        let one = all.changed.iter().find(|one| one.of == of).expect("told");
        one.because.clone().unwrap_or_default()
    };
    let current = why(Number::Current);
    assert!(
        current.contains("fewer turns make less field") && current.contains("at rest +13 A"),
        "{current}"
    );
    // Colder in the hold and warmer at rest: no reason is borrowed.
    let coldest = why(Number::MetalColdest);
    assert!(
        coldest.contains("at rest it goes the other way, +2 °C"),
        "{coldest}"
    );
}
