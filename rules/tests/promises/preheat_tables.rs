//! The codes' preheat tables side by side, and which method governs.

use quantity::Celsius;
use rules::preheat::{Method, Outcome, Preheat, Standing, preheat};
use rules::weld::{Purpose, Weld};

use crate::welds::*;

fn answer(weld: &Weld) -> Preheat {
    preheat(weld).expect("an answer")
}

fn method<'a>(answer: &'a Preheat, name: &str) -> &'a Method {
    let mut found = answer
        .methods
        .iter()
        .filter(|one| one.name.starts_with(name));
    found.next().unwrap_or_else(|| panic!("{name}"))
}

fn asked_c(method: &Method) -> f64 {
    method
        .outcome
        .temperature()
        .unwrap_or_else(|| panic!("{method:?}"))
        .c()
}

#[test]
fn the_contract_binds_and_other_codes_stand_beside() {
    let mut steel = side("4", 1, 219.1, 10.0);
    steel.tensile_strength_mpa = Some(415.0);
    let answer = answer(&weld("ASME B31.3", "2016", &steel));
    let own = method(&answer, "table of ASME B31.3 2016");
    assert_eq!((own.standing, asked_c(own)), (Standing::Binding, 120.0));
    // ASME B31.3-2010 Table 330.1.1, 2014 on, ASME VIII-1:2017 Appendix R.
    let older = method(&answer, "table of ASME B31.3 2012");
    assert_eq!(
        (older.standing, asked_c(older)),
        (Standing::Comparison, 149.0)
    );
    let vessel = method(&answer, "table of ASME VIII-1");
    assert_eq!(
        (vessel.standing, asked_c(vessel)),
        (Standing::Comparison, 121.0)
    );
    let governing = answer.governing.as_ref().expect("governing");
    assert_eq!(
        governing.temperature.c(),
        120.0,
        "a comparison never governs"
    );
    let told: Vec<&str> = answer.remarks.iter().map(|r| r.text.as_str()).collect();
    assert!(
        told.iter()
            .any(|text| text.contains("disagree") && text.contains("149 °C")),
        "{told:?}"
    );
}

#[test]
fn what_the_code_only_recommends_is_guidance() {
    let mut steel = side("1", 1, 457.0, 25.0);
    steel.tensile_strength_mpa = Some(415.0);
    steel.chemistry.insert("C".into(), 0.2);
    // A 25 mm wall: 79 °C recommended in 2010, 10 °C in 2014 (ASME B31.3 Table 330.1.1).
    let older = answer(&weld("ASME B31.3", "2010", &steel));
    let own = method(&older, "table of ASME B31.3 2010");
    assert_eq!((own.standing, asked_c(own)), (Standing::Guidance, 79.0));
    let newer = answer(&weld("ASME B31.3", "2014", &steel));
    assert_eq!(asked_c(method(&newer, "table of ASME B31.3 2014")), 10.0);
}

#[test]
fn a_method_that_asks_more_than_the_code_governs_and_says_so() {
    let mut steel = side("1", 1, 1000.0, 40.0);
    steel.chemistry = [("C", 0.17), ("Mn", 1.45)]
        .map(|(e, p)| (e.to_string(), p))
        .into();
    let mut weld = weld("ASME B31.3", "2016", &steel);
    weld.welding.hydrogen_ml_100g = Some(5.0);
    weld.welding.heat_input_kj_mm = Some(1.5);
    let answer = answer(&weld);
    let governing = answer.governing.as_ref().expect("governing");
    assert_eq!(answer.methods[governing.method].name, "EN 1011-2 method B");
    assert!(
        governing
            .reason
            .contains("more than the 10 °C that the contract binds to"),
        "{}",
        governing.reason
    );
}

#[test]
fn the_own_preheat_counts_only_in_a_preheat_job() {
    let mut weld = weld("ASME B31.3", "2016", &side("4", 1, 219.1, 10.0));
    weld.procedure.hold_min = Some(Celsius::from_c(660.0));
    let names =
        |weld: &Weld| -> Vec<String> { answer(weld).methods.into_iter().map(|m| m.name).collect() };
    assert!(
        !names(&weld).contains(&"the procedure".to_string()),
        "660 °C are a stress relief"
    );
    weld.purpose = Purpose::Preheat;
    weld.procedure.hold_min = Some(Celsius::from_c(150.0));
    let answer = answer(&weld);
    assert_eq!(asked_c(method(&answer, "the procedure")), 150.0);
    assert_eq!(answer.governing.expect("governing").temperature.c(), 150.0);
}

#[test]
fn two_metals_are_read_each_for_itself() {
    let mut weld = weld("ASME B31.3", "2016", &side("1", 1, 219.1, 10.0));
    weld.sides[1] = side("15E", 1, 219.1, 10.0);
    let answer = answer(&weld);
    let own: Vec<f64> = answer
        .methods
        .iter()
        .filter(|m| m.standing == Standing::Binding)
        .map(asked_c)
        .collect();
    assert_eq!(own, [10.0, 200.0]);
    assert_eq!(answer.governing.expect("governing").temperature.c(), 200.0);
}

#[test]
fn a_metal_without_a_row_is_said() {
    let answer = answer(&weld("ASME B31.3", "2016", &side("99", 1, 219.1, 10.0)));
    let own = method(&answer, "table of ASME B31.3 2016");
    assert!(matches!(&own.outcome, Outcome::NotApplicable(why) if why.contains("P-No. 99")));
    assert!(answer.governing.is_none());
}

#[test]
fn a_preheat_that_is_applied_below_what_governs_is_warned_of() {
    // ASME B31.3 Table 330.1.1: 120 °C for P-4.
    let warned = |c: f64| {
        let mut job = weld("ASME B31.3", "2018", &side("4", 1, 300.0, 12.0));
        job.answers.preheat_applied = Some(quantity::Celsius::from_c(c));
        let remarks = answer(&job).remarks;
        remarks
            .iter()
            .any(|one| one.text.contains("119 °C, lies below the 120 °C"))
    };
    assert!(warned(119.0) && !warned(120.0));
}
