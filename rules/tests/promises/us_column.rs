//! The US customary column: what is printed binds a job in US units, to the digit, and no typo survives.

use quantity::{Celsius, KelvinsPerHour, Millimeters, Status, Units};
use rules::requirement::{LimitKind, Requirement};
use rules::row::{Row, Table, TableKind, Value};
use rules::shelf;
use rules::weld::{Purpose, Side, Weld};

use crate::welds::*;

/// Documents that print two columns.
const TWO_COLUMNS: [&str; 7] = [
    "ASME B31.3",
    "ASME B31.1",
    "ASME VIII-1",
    "ASME VIII-2",
    "ASME I",
    "AWS D1.1",
    "AWS D10.10",
];

fn with_us_column() -> Vec<(&'static Table, &'static Row)> {
    let tables = shelf::tables().expect("tables").iter();
    let rows = tables.flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    rows.filter(|(_, row)| row.us.is_some()).collect()
}

/// A value as the numbers that it is made of, by their keys.
fn numbers(value: &impl serde::Serialize) -> Vec<(String, f64)> {
    fn walk(at: &str, value: &toml::Value, into: &mut Vec<(String, f64)>) {
        match value {
            toml::Value::Table(entries) => entries
                .iter()
                .for_each(|(key, value)| walk(&format!("{at}.{key}"), value, into)),
            toml::Value::Array(items) => items
                .iter()
                .enumerate()
                .for_each(|(index, value)| walk(&format!("{at}.{index}"), value, into)),
            toml::Value::Integer(whole) => into.push((at.into(), *whole as f64)),
            toml::Value::Float(number) => into.push((at.into(), *number)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    walk(
        "",
        &toml::Value::try_from(value).expect("a value"),
        &mut found,
    );
    found
}

/// How far two printed columns may lie apart, by what the number is.
fn printed_alike(key: &str, metric: f64, us: f64) -> bool {
    let last = key.rsplit('.').next().unwrap_or_default();
    let apart = (metric - us).abs();
    match last {
        // Codes round to 5 °C or to 25 °F; AWS D1.1 prints 600 °C beside 1100 °F, B31.1 700 beside 1300.
        "min" | "max" | "above_c" | "preheat_c" | "at_least_c" | "below_c" | "lower_critical" => {
            apart <= 7.0
        }
        // Differences are printed to 5 K; AWS D1.1 prints 30 K for 50 °F and 120 K for 200 °F.
        "decrease" | "spread" | "hold_spread" => apart <= 9.0,
        // AWS D1.1 prints 260 K/h beside 500 °F/h.
        "cap" | "floor" => apart <= 0.07 * metric,
        // 600 °F/h over half an inch is 16933, and 17020 is 335 K/h over half an inch.
        "factor" => apart <= 0.02 * metric,
        // 16 mm for 5/8 in, 5 mm for 3/16 in, 13 mm for 1/2 in; 5 m for 15 ft.
        "within_mm" => apart <= 450.0,
        "tensile_over_mpa" | "tensile_to_mpa" => apart <= 5.0,
        _ if last.ends_with("_mm") => apart <= 0.06 * metric,
        "adds_minutes" => true,
        _ => apart < 1e-12,
    }
}

#[test]
fn both_columns_agree_within_the_rounding_of_the_code() {
    let rows = with_us_column();
    assert!(rows.len() > 200, "{}", rows.len());
    for (_, row) in rows {
        let us = row.us.as_ref().expect("filtered");
        let mut pairs = vec![(numbers(&row.when), numbers(&us.when))];
        pairs[0]
            .0
            .retain(|(key, _)| ["_mm", "_mpa"].iter().any(|end| key.ends_with(end)));
        if let Some(value) = &us.value {
            pairs.push((numbers(&row.value), numbers(value)));
        }
        for (metric, us) in pairs {
            // A missing key counts as the default of both.
            let keys = |numbers: &[(String, f64)]| -> Vec<String> {
                numbers.iter().map(|(key, _)| key.clone()).collect()
            };
            assert_eq!(keys(&metric), keys(&us), "{}", row.id);
            for ((key, metric), (_, us)) in metric.iter().zip(&us) {
                let by_the_millimeter = key.ends_with("each_mm") && *metric == 1.0;
                assert!(
                    by_the_millimeter || printed_alike(key, *metric, *us),
                    "{} {key}: {metric} and {us}",
                    row.id
                );
            }
        }
    }
}

#[test]
fn a_hold_by_the_millimeter_and_by_the_inch_take_the_same_time() {
    for (_, row) in with_us_column() {
        let us = row.us.as_ref().expect("filtered");
        let (Value::HoldTime(metric), Some(Value::HoldTime(us))) = (&row.value, &us.value) else {
            continue;
        };
        for mm in [10.0, 25.4, 60.0, 150.0] {
            let (a, b) = (metric.minutes_at(mm), us.minutes_at(mm));
            // 2.4 min/mm is 61 min for an inch, and steps of 25 mm lie 1.6 % closer than inches.
            let most = if metric.whole_steps { 15.0 } else { 0.03 * a };
            assert!((a - b).abs() <= most, "{} at {mm} mm: {a} and {b}", row.id);
        }
    }
}

#[test]
fn the_us_column_is_sound_and_its_ranges_ascend() {
    for (table, row) in with_us_column() {
        let us = row.us.as_ref().expect("filtered");
        let when = &us.when;
        let ascend = |low: Option<f64>, high: Option<f64>| {
            low.zip(high).is_none_or(|(low, high)| low < high)
        };
        assert!(
            ascend(when.over_mm.or(when.from_mm), when.to_mm.or(when.below_mm)),
            "{}",
            row.id
        );
        assert_eq!(
            us.value.as_ref().and_then(Value::unsound),
            None,
            "{}",
            row.id
        );
        if let Some(value) = &us.value {
            assert_eq!(value.name(), row.value.name(), "{}", row.id);
            assert_eq!(us.unit, value.us_unit(), "{}", row.id);
        }
        assert!(
            us.verified_in
                .iter()
                .all(|edition| table.editions.contains(edition)),
            "{}",
            row.id
        );
        assert!(
            us.status == Status::Verified || us.verified_in.is_empty(),
            "{}",
            row.id
        );
        // Whether a row is used must not hang on the units of the job.
        assert_eq!(
            us.status == Status::Unsure,
            row.status == Status::Unsure,
            "{}",
            row.id
        );
        let other_range =
            when.p_numbers.is_empty() && when.percent_to.is_empty() && when.joints.is_empty();
        assert!(
            other_range,
            "{}: only ends with a unit stand in the US column",
            row.id
        );
    }
}

#[test]
fn every_limit_of_a_document_with_two_columns_has_both() {
    for table in shelf::tables().expect("tables") {
        let two = TWO_COLUMNS.contains(&table.code.as_str());
        for row in &table.rows {
            if two && row.differs_by_units() {
                assert!(row.us.is_some(), "{} has no US column", row.id);
            }
            if table.kind == TableKind::Code && !two {
                assert!(row.us.is_none(), "{} prints one column", row.id);
            }
        }
    }
}

#[test]
fn steps_of_one_table_meet_in_the_us_column_too() {
    // Where one row ends, the next begins: at the same printed inch.
    for table in shelf::tables().expect("tables") {
        for row in table.rows.iter().filter(|row| row.us.is_some()) {
            for other in table.rows.iter().filter(|other| other.us.is_some()) {
                let meet = row.when.to_mm.is_some() && row.when.to_mm == other.when.over_mm;
                if meet {
                    let end =
                        |row: &Row| row.us.as_ref().map(|us| us.when.clone()).expect("filtered");
                    assert_eq!(
                        end(row).to_mm,
                        end(other).over_mm,
                        "{} / {}",
                        row.id,
                        other.id
                    );
                }
            }
        }
    }
}

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
            let bands = rules::bands(&job, &needed).expect("bands");
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
fn both_columns_stand_in_the_lookup() {
    let entries = rules::lookup().expect("rows");
    let entry = entries
        .iter()
        .find(|entry| entry.id == "b31.3-2014/range-p1")
        .expect("kept");
    assert_eq!(entry.value, "595 to 650 °C");
    let us = entry.us.as_ref().expect("a US column");
    assert_eq!(
        (us.value.as_str(), us.unit.as_str(), us.status),
        ("1100 to 1200 °F", "°F", Status::Verified)
    );
    assert!(
        us.value_as_written.contains("min_f = 1100"),
        "{}",
        us.value_as_written
    );
    let words = |id: &str| {
        let found = entries
            .iter()
            .find(|entry| entry.id == id)
            .and_then(|entry| entry.us.clone());
        found.expect("a US column")
    };
    assert_eq!(
        words("b31.3-2014/hold-over50").value,
        "120 min plus 15 min for each 1 in beyond 2 in"
    );
    assert_eq!(
        words("b31.3-2014/hold-over50").range,
        "P-No. 1, 3, 4, 5A, 5B, 6, 7, 9A, 9B, 10I, 11A, t over 2 in"
    );
    assert_eq!(
        words("b31.3-2014/heating").value,
        "the smaller of 600 °F/h and 1200/t °F/h above 600 °F"
    );
    assert_eq!(words("viii-1/heating-spread").value, "250 °F within 15 ft");
    assert_eq!(
        words("viii-1/lower-28k-p1-3").value,
        "50 °F lower with 120 min plus 15 min for each 1 in beyond 1 in"
    );
    assert!(
        words("b31.3-2014/exemption-p3-to16-c-to0.25")
            .range
            .contains("t to 5/8 in")
    );
    assert_eq!(
        words("b31.3-2012/exemption-p1-to20").range,
        "P-No. 1, t to 3/4 in"
    );
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
