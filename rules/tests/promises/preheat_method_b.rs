//! Carbon equivalents and EN 1011-2:2001 Annex C method B: worked values, limits, and the wrong forms in public.

use proptest::prelude::*;
use rules::preheat::carbon_equivalent::CarbonEquivalent;
use rules::preheat::cet_method::{CetInput, CetMethod};
use rules::preheat::value::PreheatValue;
use rules::preheat::{Method, Outcome, Standing, preheat};
use rules::row::Value;
use rules::shelf;
use rules::weld::Weld;

use crate::welds::*;

fn value<T>(of: impl Fn(&'static PreheatValue) -> Option<T>) -> T {
    let tables = shelf::tables().expect("tables");
    let mut rows = tables.iter().flat_map(|table| &table.rows);
    rows.find_map(|row| match &row.value {
        Value::Preheat(value) => of(value),
        _ => None,
    })
    .expect("a row")
}

fn formula(name: &str) -> &'static CarbonEquivalent {
    value(|value| match value {
        PreheatValue::CarbonEquivalent(formula) if formula.name == name => Some(formula),
        _ => None,
    })
}

fn method() -> &'static CetMethod {
    value(|value| match value {
        PreheatValue::CetMethod(method) => Some(method),
        _ => None,
    })
}

fn at(cet_percent: f64, thickness_mm: f64, hydrogen_ml_100g: f64, heat_input_kj_mm: f64) -> f64 {
    let input = CetInput {
        cet_percent,
        thickness_mm,
        hydrogen_ml_100g,
        heat_input_kj_mm,
    };
    method().at(input).expect("inside").worked_c
}

/// C-Mn plate of the check case.
const PLATE: [(&str, f64); 7] = [
    ("C", 0.17),
    ("Si", 0.35),
    ("Mn", 1.45),
    ("Cr", 0.05),
    ("Mo", 0.01),
    ("Ni", 0.05),
    ("Cu", 0.05),
];

/// Quenched and tempered plate; its CET is 0.37.
const QUENCHED: [(&str, f64); 6] = [
    ("C", 0.16),
    ("Mn", 1.2),
    ("Mo", 0.4),
    ("Cr", 0.5),
    ("Cu", 0.1),
    ("Ni", 0.8),
];

fn made_of(contents: &[(&str, f64)], wall_mm: f64) -> Weld {
    let mut steel = side("1", 1, 1000.0, wall_mm);
    steel.chemistry = contents
        .iter()
        .map(|(e, p)| ((*e).to_string(), *p))
        .collect();
    let mut weld = weld("ASME B31.3", "2016", &steel);
    weld.welding.hydrogen_ml_100g = Some(5.0);
    weld.welding.heat_input_kj_mm = Some(1.5);
    weld
}

fn method_b(weld: &Weld) -> Method {
    let methods = preheat(weld).expect("an answer").methods;
    methods
        .into_iter()
        .find(|one| one.name == "EN 1011-2 method B")
        .expect("method B")
}

#[test]
fn carbon_equivalents_of_the_check_case() {
    // Recomputed from the published formulas (IIW; EN 1011-2 Annex C; Ito and Bessyo; Yurioka) by hand.
    let plate = PLATE.iter().map(|(e, p)| ((*e).to_string(), *p)).collect();
    for (name, percent) in [
        ("CE (IIW)", 0.430),
        ("CET", 0.322),
        ("Pcm", 0.261),
        ("CEN", 0.428),
    ] {
        let worked = formula(name).at(&plate).expect(name).percent;
        assert!(
            (worked - percent).abs() < 5.5e-4,
            "{name} {worked}: printed to three digits"
        );
    }
    let accommodation = formula("CEN").bracket.expect("a bracket").at(0.17);
    assert!((accommodation - 0.940).abs() < 5e-4, "{accommodation}");
    let aws = formula("CE (AWS)").at(&plate).expect("AWS").percent;
    let iiw = formula("CE (IIW)").at(&plate).expect("IIW").percent;
    assert!(
        (aws - iiw - 0.35 / 6.0).abs() < 1e-12,
        "silicon over six apart"
    );
}

#[test]
fn worked_examples_of_method_b() {
    // Recomputed from EN 1011-2:2001 Annex C, method B; no numeric example is printed there. Given to 0.1 °C.
    for (cet, d, hd, q, c) in [
        (0.32, 40.0, 5.0, 1.5, 111.8),
        (0.38, 60.0, 3.0, 2.0, 154.2),
        (0.29, 20.0, 5.0, 1.0, 49.0),
        (0.40, 50.0, 10.0, 1.0, 221.4),
        (0.37, 50.0, 3.0, 1.5, 145.0),
        (0.25, 15.0, 5.0, 1.0, 1.1),
        (0.5, 90.0, 20.0, 0.5, 352.8),
    ] {
        let worked = at(cet, d, hd, q);
        assert!((worked - c).abs() < 0.06, "{cet} {d} {hd} {q}: {worked}");
    }
}

#[test]
fn the_component_form_adds_up_to_the_same() {
    // EN 1011-2:2001 Annex C, method B, as a sum of four temperatures.
    let by_parts = |cet: f64, d: f64, hd: f64, q: f64| {
        (750.0 * cet - 150.0)
            + (160.0 * (d / 35.0).tanh() - 110.0)
            + (62.0 * hd.powf(0.35) - 100.0)
            + ((53.0 * cet - 32.0) * q - 53.0 * cet + 32.0)
    };
    for (cet, d, hd, q) in [
        (0.2, 10.0, 1.0, 0.5),
        (0.33, 42.0, 7.0, 2.2),
        (0.5, 90.0, 20.0, 4.0),
    ] {
        assert!((at(cet, d, hd, q) - by_parts(cet, d, hd, q)).abs() < 1e-9);
    }
}

#[test]
fn not_the_wrong_forms_seen_in_public() {
    let exponent_as_factor = |hd: f64| {
        697.0 * 0.32
            + 160.0 * (40.0f64 / 35.0).tanh()
            + 62.0 * hd * 0.35
            + (53.0 * 0.32 - 32.0) * 1.5
            - 328.0
    };
    // The two nearly meet at 5 ml/100 g, so away from it.
    for hd in [3.0, 10.0, 20.0] {
        assert!(
            (at(0.32, 40.0, hd, 1.5) - exponent_as_factor(hd)).abs() > 20.0,
            "{hd}"
        );
    }
    // Another polynomial under the same name starts from 697·Cp − 0.175·√t: thickness would lower the preheat.
    assert!(at(0.32, 60.0, 5.0, 1.5) > at(0.32, 30.0, 5.0, 1.5) + 10.0);
}

#[test]
fn the_plate_is_read_and_never_the_combined_thickness() {
    let mut weld = made_of(&QUENCHED, 50.0);
    weld.welding.hydrogen_ml_100g = Some(3.0);
    let alone = method_b(&weld).outcome;
    weld.welding.combined_thickness = Some(quantity::Millimeters::from_mm(100.0));
    assert_eq!(method_b(&weld).outcome, alone);
    let Outcome::AtLeast {
        worked_c,
        temperature,
    } = alone
    else {
        panic!("{alone:?}")
    };
    assert!(
        (worked_c - 145.0).abs() < 0.06,
        "CET 0.37, 50 mm, 3 ml/100 g, 1.5 kJ/mm: {worked_c}"
    );
    assert_eq!(temperature.c(), (worked_c / 5.0).ceil() * 5.0);
}

#[test]
fn asked_is_rounded_up_and_a_small_result_asks_none() {
    let mut weld = made_of(&PLATE, 40.0);
    let Outcome::AtLeast {
        worked_c,
        temperature,
    } = method_b(&weld).outcome
    else {
        panic!("asks")
    };
    assert_eq!(temperature.c(), 115.0, "{worked_c}");
    for side in &mut weld.sides {
        side.wall = quantity::Millimeters::from_mm(12.0);
        side.chemistry.insert("C".into(), 0.08);
    }
    let Outcome::None { metal_at_least, .. } = method_b(&weld).outcome else {
        panic!("none")
    };
    assert_eq!(metal_at_least.c(), 5.0);
}

#[test]
fn limits_one_step_to_either_side() {
    let input = |cet, d, hd, q| CetInput {
        cet_percent: cet,
        thickness_mm: d,
        hydrogen_ml_100g: hd,
        heat_input_kj_mm: q,
    };
    let method = method();
    for inside in [input(0.2, 10.0, 1.0, 0.5), input(0.5, 90.0, 20.0, 4.0)] {
        assert!(method.at(inside).expect("inside").warnings.is_empty());
    }
    // Where the limit would ask less: refused, with what was found and the limit.
    for (outside, found, limit) in [
        (input(0.501, 40.0, 5.0, 1.0), 0.501, 0.5),
        (input(0.4, 40.0, 20.1, 1.0), 20.1, 20.0),
        (input(0.4, 40.0, 5.0, 0.49), 0.49, 0.5),
    ] {
        let refused = method.at(outside).expect_err("outside");
        assert_eq!((refused[0].found, refused[0].limit), (found, limit));
    }
    assert_eq!(
        method
            .at(input(0.6, 40.0, 25.0, 0.1))
            .expect_err("all at once")
            .len(),
        3
    );
    // Where the limit asks more: counted as the limit, with a warning.
    for (outside, limit) in [
        (input(0.19, 40.0, 5.0, 1.0), input(0.2, 40.0, 5.0, 1.0)),
        (input(0.4, 9.0, 5.0, 1.0), input(0.4, 10.0, 5.0, 1.0)),
        (input(0.4, 40.0, 0.5, 1.0), input(0.4, 40.0, 1.0, 1.0)),
        (input(0.4, 40.0, 5.0, 4.5), input(0.4, 40.0, 5.0, 4.0)),
    ] {
        let counted = method.at(outside).expect("counted");
        assert_eq!(counted.worked_c, method.at(limit).expect("limit").worked_c);
        assert_eq!(counted.warnings.len(), 1, "{counted:?}");
    }
    let thick = method.at(input(0.4, 120.0, 5.0, 1.0)).expect("flat");
    assert!(thick.warnings[0].contains("90 mm"));
    assert!((0.0..2.0).contains(&(thick.worked_c - at(0.4, 90.0, 5.0, 1.0))));
}

#[test]
fn a_composition_above_the_window_is_refused_with_both_numbers() {
    let mut weld = made_of(&PLATE, 40.0);
    for side in &mut weld.sides {
        side.chemistry.insert("C".into(), 0.33);
        side.chemistry.insert("Nb".into(), 0.07);
    }
    let Outcome::Refused(outside) = method_b(&weld).outcome else {
        panic!("refused")
    };
    let words: Vec<String> = outside.iter().map(ToString::to_string).collect();
    assert_eq!(
        words,
        ["C 0.33 % lies above 0.32 %", "Nb 0.07 % lies above 0.06 %"]
    );
    for side in &mut weld.sides {
        side.chemistry.insert("C".into(), 0.32);
        side.chemistry.insert("Nb".into(), 0.06);
    }
    assert!(matches!(method_b(&weld).outcome, Outcome::AtLeast { .. }));
}

#[test]
fn what_is_missing_is_named_all_at_once_with_its_key() {
    let weld = weld("ASME B31.3", "2016", &side("1", 1, 1000.0, 40.0));
    let Outcome::Missing(missing) = method_b(&weld).outcome else {
        panic!("missing")
    };
    let keys: Vec<&str> = missing.iter().map(|one| one.key.as_str()).collect();
    assert_eq!(
        keys,
        [
            "side.chemistry",
            "side.chemistry",
            "welding.hydrogen",
            "welding.heat_input"
        ]
    );
}

#[test]
fn an_element_that_is_not_given_is_told() {
    let weld = made_of(&[("C", 0.17), ("Mn", 1.45)], 40.0);
    let told = method_b(&weld).warnings.join("; ");
    assert!(
        told.contains("Cr, Cu, Mo, Ni not given and counted as absent"),
        "{told}"
    );
}

#[test]
fn a_weld_metal_close_to_the_parent_governs() {
    // EN 1011-2:2001 Annex C: the parent's CET is to exceed the weld metal's by 0.03.
    let mut weld = made_of(&[("C", 0.10), ("Mn", 1.5)], 40.0); // CET 0.25
    let worked = |weld: &Weld| match method_b(weld).outcome {
        Outcome::AtLeast { worked_c, .. } => worked_c,
        other => panic!("{other:?}"),
    };
    let parent = worked(&weld);
    for (carbon, more) in [(0.07, 0.0), (0.10, 0.02)] {
        weld.welding.weld_metal = [("C".to_string(), carbon), ("Mn".to_string(), 1.5)].into();
        // CET of the weld metal 0.22 and 0.25; with 0.03 that is 0.25 and 0.28.
        let lift = if more > 0.0 { 0.03 } else { 0.0 };
        let expected = parent + lift * (697.0 + 53.0 * 1.5);
        assert!((worked(&weld) - expected).abs() < 1e-9, "{carbon}");
    }
    assert!(
        method_b(&weld)
            .warnings
            .iter()
            .any(|w| w.contains("the weld metal governs"))
    );
}

#[test]
fn high_alloy_and_very_strong_steel_are_not_worked_out() {
    let mut stainless = made_of(&PLATE, 40.0);
    for side in &mut stainless.sides {
        side.p_number.number = "8".into();
    }
    assert!(matches!(
        method_b(&stainless).outcome,
        Outcome::NotApplicable(_)
    ));
    let mut strong = made_of(&QUENCHED, 40.0);
    strong.welding.yield_strength_mpa = Some(1000.0);
    assert!(matches!(method_b(&strong).outcome, Outcome::AtLeast { .. }));
    strong.welding.yield_strength_mpa = Some(1001.0);
    assert!(matches!(method_b(&strong).outcome, Outcome::Refused(_)));
}

#[test]
fn the_document_that_sends_here_makes_it_binding() {
    let standing = |code: &str, edition: &str| {
        let mut weld = made_of(&PLATE, 40.0);
        weld.code.code = code.into();
        weld.code.edition = edition.into();
        method_b(&weld).standing
    };
    assert_eq!(standing("EN 13445-4", "2021"), Standing::Binding);
    assert_eq!(standing("ASME B31.3", "2016"), Standing::Guidance);
}

#[test]
fn bad_numbers_are_refused_all_at_once() {
    let mut weld = made_of(&PLATE, 40.0);
    weld.welding.hydrogen_ml_100g = Some(-5.0);
    weld.welding.heat_input_kj_mm = Some(f64::NAN);
    weld.sides[1].chemistry.insert("C".into(), 170.0);
    assert_eq!(preheat(&weld).expect_err("bad").faults.len(), 3);
}

proptest! {
    #[test]
    fn more_carbon_thickness_or_hydrogen_never_lowers_it(
        cet in 0.15..0.45f64, d in 5.0..150.0f64, hd in 0.2..15.0f64, q in 0.5..6.0f64, more in 0.0..0.05f64,
    ) {
        let now = at(cet, d, hd, q);
        prop_assert!(at(cet + more, d, hd, q) >= now);
        prop_assert!(at(cet, d + 1000.0 * more, hd, q) >= now);
        prop_assert!(at(cet, d, hd + 100.0 * more, q) >= now);
        prop_assert!(at(cet, d, hd, q + 20.0 * more) <= now, "more heat never raises it");
    }

    #[test]
    fn no_element_ever_lowers_an_equivalent(carbon in 0.01..0.3f64, mn in 0.3..1.8f64, which in 0..12usize, more in 0.0..0.02f64) {
        let element = ["C", "Si", "Mn", "Cr", "Mo", "Ni", "Cu", "V", "Nb", "B", "Ti", "Al"][which];
        let mut steel = std::collections::BTreeMap::from([("C".to_string(), carbon), ("Mn".to_string(), mn)]);
        for name in ["CE (IIW)", "CE (AWS)", "Pcm", "CEN"] {
            let before = formula(name).at(&steel).expect("known").percent;
            let kept = steel.clone();
            *steel.entry(element.to_string()).or_insert(0.0) += more;
            prop_assert!(formula(name).at(&steel).expect("known").percent >= before);
            steel = kept;
        }
    }
}
