//! A job in US units is held to the printed numbers of the US column, to the digit, and reads its own units.

use quantity::{Celsius, KelvinsPerHour, Millimeters, Status, Units};
use rules::requirement::{LimitKind, Requirement};
use rules::row::Value;
use rules::weld::{Purpose, Side, Weld};

use crate::welds::*;

/// A weld in a job in US units, of pipes of 18 in.
fn in_us_units(code: &str, edition: &str, p_number: &str, wall_in: f64) -> Weld {
    let wall = Millimeters::from_in(wall_in);
    let pipe = Side {
        wall,
        ..side(p_number, 1, 457.2, wall.mm())
    };
    Weld {
        units: Units::Us,
        cap_width: Millimeters::from_in(1.0),
        ..weld(code, edition, &pipe)
    }
}

/// Lower and upper end of the code in °F to a hundredth.
fn range_f(requirement: &Requirement) -> (f64, Option<f64>) {
    let hundredth = |f: f64| (f * 100.0).round() / 100.0;
    (
        hundredth(requirement.hold_min().expect("a lower end").f()),
        code_max_c(requirement).map(|c| hundredth(Celsius::from_c(c).f())),
    )
}

#[test]
fn the_printed_fahrenheit_is_the_limit() {
    // ASME B31.3-2016 Table 331.1.1, B31.3-2012 Table 331.1.1, ASME VIII-1:2019 Tables UCS-56, B31.1, AWS D1.1:2008.
    for (code, edition, p_number, min, max) in [
        ("ASME B31.3", "2016", "1", 1100.0, Some(1200.0)),
        ("ASME B31.3", "2016", "3", 1100.0, Some(1200.0)),
        ("ASME B31.3", "2016", "4", 1200.0, Some(1300.0)),
        ("ASME B31.3", "2016", "5A", 1250.0, Some(1400.0)),
        ("ASME B31.3", "2016", "15E", 1350.0, Some(1425.0)),
        ("ASME B31.3", "2012", "1", 1100.0, Some(1200.0)),
        ("ASME B31.3", "2012", "3", 1100.0, Some(1325.0)),
        ("ASME B31.3", "2012", "4", 1300.0, Some(1375.0)),
        ("ASME B31.3", "2012", "5A", 1300.0, Some(1400.0)),
        ("ASME VIII-1", "2019", "1", 1100.0, None),
        ("ASME VIII-1", "2019", "3", 1100.0, None),
        ("ASME VIII-1", "2019", "4", 1200.0, None),
        ("ASME VIII-1", "2019", "5A", 1250.0, None),
        ("ASME VIII-1", "2019", "15E", 1350.0, Some(1425.0)),
        ("ASME B31.1", "2018", "1", 1100.0, Some(1200.0)),
        ("ASME B31.1", "2018", "15E", 1350.0, Some(1425.0)),
        ("ASME B31.1", "2012", "4", 1300.0, Some(1375.0)),
        ("AWS D1.1", "2008", "1", 1100.0, Some(1200.0)),
    ] {
        let found = range_f(&need(&in_us_units(code, edition, p_number, 1.0)));
        assert_eq!(found, (min, max), "{code}-{edition} P-{p_number}");
    }
}

#[test]
fn the_same_weld_in_metric_units_keeps_the_metric_column() {
    let mut job = in_us_units("ASME B31.3", "2016", "1", 1.0);
    job.units = Units::Si;
    let need = need(&job);
    assert_eq!((hold_min_c(&need), code_max_c(&need)), (595.0, Some(650.0)));
}

#[test]
fn hold_times_are_read_by_the_inch() {
    // 1 h/in, at least 15 min; from 2 in on 2 h plus 15 min for each inch: ASME B31.3-2016 Table 331.1.1.
    for (code, edition, p_number, wall_in, minutes) in [
        ("ASME B31.3", "2016", "1", 0.25, 15.0),
        ("ASME B31.3", "2016", "1", 0.5, 30.0),
        ("ASME B31.3", "2016", "1", 1.0, 60.0),
        ("ASME B31.3", "2016", "1", 2.0, 120.0),
        ("ASME B31.3", "2016", "1", 3.0, 135.0),
        ("ASME B31.3", "2016", "15E", 0.25, 30.0),
        ("ASME B31.3", "2016", "15E", 5.0, 300.0),
        ("ASME B31.3", "2016", "15E", 6.0, 315.0),
        ("ASME B31.3", "2012", "1", 0.5, 60.0),
        ("ASME B31.3", "2012", "1", 1.5, 90.0),
        ("ASME B31.3", "2012", "4", 1.0, 120.0),
        ("ASME VIII-1", "2013", "1", 2.0, 120.0),
        ("ASME VIII-1", "2013", "4", 6.0, 315.0),
        ("AWS D1.1", "2008", "1", 0.75, 45.0),
        ("AWS D1.1", "2008", "1", 3.0, 135.0),
    ] {
        let found = hold_minutes(&need(&in_us_units(code, edition, p_number, wall_in)));
        assert!(
            (found - minutes).abs() < 1e-6,
            "{code} {edition} P-{p_number} {wall_in} in: {found}"
        );
    }
}

#[test]
fn rates_and_their_thresholds_are_the_printed_ones() {
    // B31.3 331.1.4: 600 °F/h over half the inches above 600 °F; VIII-1 UCS-56(d): 400 and 500 °F/h an inch above 800 °F;
    // AWS D1.1 (2008): 400 °F/h an inch above 600 °F; B31.1 Table 132.1.1-1: P-7 cools by 100 °F/h above 1200 °F.
    let rates = |requirement: &Requirement| -> [(f64, f64); 2] {
        let mut found = [(0.0, 0.0); 2];
        for limit in &requirement.limits {
            match limit.kind {
                LimitKind::HeatingRate { above, rate } => found[0] = (above.f(), rate.f_h()),
                LimitKind::CoolingRate { above, rate } => found[1] = (above.f(), rate.f_h()),
                _ => {}
            }
        }
        found
    };
    for (code, edition, p_number, wall_in, heating, cooling) in [
        (
            "ASME B31.3",
            "2016",
            "1",
            1.0,
            (600.0, 600.0),
            (600.0, 600.0),
        ),
        (
            "ASME B31.3",
            "2016",
            "1",
            4.0,
            (600.0, 300.0),
            (600.0, 300.0),
        ),
        (
            "ASME B31.3",
            "2016",
            "7",
            1.0,
            (600.0, 600.0),
            (1200.0, 100.0),
        ),
        (
            "ASME B31.1",
            "2018",
            "1",
            3.0,
            (600.0, 400.0),
            (600.0, 400.0),
        ),
        (
            "ASME B31.1",
            "2018",
            "7",
            1.0,
            (600.0, 600.0),
            (1200.0, 100.0),
        ),
        (
            "ASME VIII-1",
            "2019",
            "1",
            1.0,
            (800.0, 400.0),
            (800.0, 500.0),
        ),
        (
            "ASME VIII-1",
            "2019",
            "1",
            2.0,
            (800.0, 200.0),
            (800.0, 250.0),
        ),
        (
            "ASME VIII-1",
            "2019",
            "1",
            8.0,
            (800.0, 100.0),
            (800.0, 100.0),
        ),
        ("AWS D1.1", "2008", "1", 2.0, (600.0, 200.0), (600.0, 250.0)),
    ] {
        let found = rates(&need(&in_us_units(code, edition, p_number, wall_in)));
        for ((above, rate), (asked_above, asked)) in found.into_iter().zip([heating, cooling]) {
            assert!(
                (above - asked_above).abs() < 1e-6 && (rate - asked).abs() < 1e-6,
                "{code} P-{p_number} {wall_in} in: {rate} °F/h above {above} °F"
            );
        }
    }
    assert_eq!(KelvinsPerHour::from_f_h(600.0).f_h(), 600.0);
}

#[test]
fn a_wall_on_a_printed_inch_is_not_lifted_over_it() {
    let standing = |code: &str, edition: &str, mm: f64| {
        let mut job = in_us_units(code, edition, "1", 1.0);
        for side in &mut job.sides {
            side.wall = Millimeters::from_mm(mm);
        }
        remarks(&need(&job))
    };
    let free = "asks no stress relief";
    // 3/4 in: ASME B31.3-2012 prints 20 mm beside it, B31.1 (2012) 19 mm.
    for (code, edition) in [("ASME B31.3", "2012"), ("ASME B31.1", "2012")] {
        for mm in [0.75 * 25.4, 19.05, 19.049_999_999] {
            assert!(standing(code, edition, mm).contains(free), "{code} {mm}");
        }
        assert!(
            standing(code, edition, 0.76 * 25.4).contains("mandatory at 0.76 in"),
            "{code}"
        );
    }
    // The metric column of the same editions.
    let metric = |code: &str, edition: &str, mm: f64| {
        remarks(&need(&carbon(code, edition, mm))).contains(free)
    };
    assert!(metric("ASME B31.3", "2012", 20.0) && !metric("ASME B31.3", "2012", 20.1));
    assert!(metric("ASME B31.1", "2012", 19.0) && !metric("ASME B31.1", "2012", 19.1));
    // 1 1/4 and 1 1/2 in: ASME VIII-1:2010 Table UCS-56 note 2.
    let text = |inches: f64| standing("ASME VIII-1", "2010", inches * 25.4);
    assert!(!text(1.25).contains("preheat of at least"));
    assert!(text(1.26).contains("preheat of at least 200 °F"));
    assert!(text(1.5).contains("preheat of at least 200 °F"));
    assert!(text(1.51).contains("mandatory at 1.51 in"));
    // P-15E to 1/2 in: 1325 °F, beyond 1350 °F.
    let least = |inches: f64| range_f(&need(&in_us_units("ASME VIII-1", "2019", "15E", inches))).0;
    assert_eq!((least(0.5), least(0.51)), (1325.0, 1350.0));
}

#[test]
fn preheat_and_strength_turn_at_the_printed_inch_and_ksi() {
    let preheat = |edition: &str, p_number: &str, wall_in: f64, ksi: f64| {
        let mut job = in_us_units("ASME B31.3", edition, p_number, wall_in);
        for side in &mut job.sides {
            side.tensile_strength_mpa = Some(6.894757 * ksi);
            side.chemistry.insert("C".into(), 0.2);
        }
        job.purpose = Purpose::Preheat;
        need(&job).hold_min().expect("a preheat").f().round()
    };
    // ASME B31.3 Table 330.1.1, from 2014 on and in 2010.
    assert_eq!(preheat("2016", "3", 0.5, 65.0), 50.0);
    assert_eq!(preheat("2016", "3", 0.51, 65.0), 200.0);
    assert_eq!(preheat("2016", "3", 0.5, 66.0), 200.0);
    assert_eq!(preheat("2016", "4", 0.5, 60.0), 250.0);
    assert_eq!(preheat("2016", "5A", 0.5, 60.0), 300.0);
    assert_eq!(preheat("2016", "5A", 0.5, 61.0), 400.0);
    assert_eq!(preheat("2010", "1", 0.99, 71.0), 50.0);
    assert_eq!(preheat("2010", "1", 1.0, 71.0), 175.0);
    assert_eq!(preheat("2010", "4", 0.5, 60.0), 300.0);
}

#[test]
fn a_procedure_that_says_the_printed_number_does_not_ask_less() {
    let mut job = in_us_units("ASME B31.3", "2016", "1", 1.0);
    // As a reader of °F may come to it, by another order of multiplying.
    job.procedure.hold_min = Some(Celsius::from_c(1100.0 * (1.0 / 1.8) + -32.0 / 1.8));
    job.procedure.hold_max = Some(Celsius::from_c(1200.0 * (1.0 / 1.8) + -32.0 / 1.8));
    assert!(rules::requirement(&job).is_ok());
    job.procedure.hold_max = Some(Celsius::from_f(1202.0));
    let refused = rules::requirement(&job)
        .expect_err("above the range")
        .to_string();
    assert!(
        refused.contains("upper end of the hold 1202 °F") && refused.contains("says 1200 °F"),
        "{refused}"
    );
}

#[test]
fn where_no_us_column_is_printed_the_place_says_converted() {
    let mut job = in_us_units("EN 13445-4", "2021", "1.1", 1.0);
    job.procedure.hold_min = c(600.0);
    job.procedure.hold_max = c(640.0);
    job.procedure.hold_time = Some(quantity::Hours::from_h(1.0));
    let rates: Vec<String> = need(&job)
        .limits
        .iter()
        .filter(|limit| matches!(limit.kind, LimitKind::HeatingRate { .. }))
        .map(|limit| limit.clause.clause.clone())
        .collect();
    assert!(
        !rates.is_empty() && rates.iter().all(|clause| clause.ends_with(", converted")),
        "{rates:?}"
    );
    let printed = need(&in_us_units("ASME B31.3", "2016", "1", 1.0));
    let of_code = printed
        .limits
        .iter()
        .filter(|limit| limit.level == rules::requirement::Level::Code);
    for limit in of_code {
        assert!(
            !limit.clause.clause.contains("converted"),
            "{:?}",
            limit.clause
        );
    }
}

#[test]
fn nothing_of_a_requirement_in_us_units_is_told_in_metric_ones() {
    let metric = [" °C", " K ", " K,", "K/h", " mm", " MPa"];
    for (code, edition, p_number) in [
        ("ASME B31.3", "2016", "1"),
        ("ASME B31.3", "2016", "15E"),
        ("ASME B31.3", "2012", "4"),
        ("ASME VIII-1", "2019", "1"),
        ("ASME VIII-1", "2010", "4"),
        ("ASME B31.1", "2018", "5A"),
        ("AWS D1.1", "2008", "1"),
    ] {
        for wall_in in [0.5, 1.375, 2.5] {
            let job = in_us_units(code, edition, p_number, wall_in);
            let needed = need(&job);
            let bands = rules::bands(&job).expect("bands");
            let reasons = needed.limits.iter().map(|limit| limit.reason.clone());
            let remarks = needed.remarks.iter().map(|remark| remark.text.clone());
            let workings = bands.by_rule.iter().map(|row| row.working.clone());
            let governing =
                [&bands.soak, &bands.heated, &bands.gradient_control].map(|one| one.reason.clone());
            let thickness = [needed.governing_thickness.reason.clone()];
            for text in reasons
                .chain(remarks)
                .chain(workings)
                .chain(governing)
                .chain(thickness)
            {
                let found: Vec<&&str> =
                    metric.iter().filter(|unit| text.contains(**unit)).collect();
                assert!(
                    found.is_empty(),
                    "{code} {edition} P-{p_number} {wall_in} in: {found:?} in {text}"
                );
            }
        }
    }
}

#[test]
fn an_entered_number_takes_the_place_of_both_columns() {
    use rules::Confirmation;
    let entered = |value: Value, units: Units| Confirmation {
        row: "b31.3-2014/range-min-p15e-printed".into(),
        value: Some(value),
        units,
        by: "A. Reader".into(),
        on: "2026-11-20".into(),
        note: None,
    };
    let range = |c: f64| Value::HoldRange {
        min: Some(c),
        max: None,
    };
    let least = |confirmed: Confirmation| {
        let mut job = in_us_units("ASME B31.3", "2022", "15E", 1.0);
        job.confirmed = vec![confirmed];
        let needed = need(&job);
        let limit = needed
            .limits
            .iter()
            .find(|limit| matches!(limit.kind, LimitKind::HoldMin(_)));
        let clause = limit.expect("a lower end").clause.clone();
        (range_f(&needed).0, clause)
    };
    let (f, clause) = least(entered(range(Celsius::from_f(1345.0).c()), Units::Us));
    assert_eq!((f, clause.status), (1345.0, Status::UserGiven));
    assert!(!clause.clause.contains("converted"));
    let (f, clause) = least(entered(range(725.0), Units::Si));
    assert_eq!(f, 1337.0);
    assert!(clause.clause.ends_with(", converted"), "{clause:?}");
}
