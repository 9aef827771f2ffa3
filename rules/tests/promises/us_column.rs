//! The US customary column beside the metric one: no typo survives in either.

use quantity::Status;
use rules::row::{Row, Table, TableKind, Value};
use rules::shelf;

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
        "min" | "max" | "above_c" | "preheat_c" | "at_least_c" | "below_c" | "lower_critical"
        | "from_c" | "to_c" => apart <= 7.0,
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
