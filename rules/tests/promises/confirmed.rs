//! What the user read himself is used, and is marked as his.

use quantity::{Status, Units};
use rules::Confirmation;
use rules::fault::RuleFault;
use rules::formula::HoldTime;
use rules::requirement::LimitKind;
use rules::row::Value;

use crate::welds::{carbon, hold_min_c, hold_minutes, need, remarks, side, weld};

fn confirmation(row: &str, value: Option<Value>) -> Confirmation {
    Confirmation {
        row: row.into(),
        value,
        units: Units::Si,
        by: "A. Reader".into(),
        on: "2026-11-20".into(),
        note: Some("page 31".into()),
    }
}

fn range(min: f64, max: f64) -> Option<Value> {
    Some(Value::HoldRange {
        min: Some(min),
        max: Some(max),
    })
}

#[test]
fn a_table_that_is_off_refuses_until_its_rows_are_confirmed() {
    let mut vessel = weld("EN 13445-4", "2021", &side("5.1", 1, 1000.0, 40.0));
    let refused = rules::requirement(&vessel).expect_err("the table is off");
    assert!(
        refused
            .faults
            .iter()
            .all(|fault| matches!(fault, RuleFault::OnlyUnsure { .. }))
    );
    vessel.confirmed = vec![
        confirmation("en13445-4/range-p5.1", None),
        confirmation("en13445-4/hold-group5-over15-to60", None),
    ];
    let requirement = need(&vessel);
    // EN 13445-4 Table 11.1-1 as kept: 630 to 680 °C, twice the thickness in minutes between 15 and 60 mm.
    assert_eq!(hold_min_c(&requirement), 630.0);
    assert_eq!(hold_minutes(&requirement), 80.0);
    let marked = requirement
        .limits
        .iter()
        .find(|limit| matches!(limit.kind, LimitKind::HoldMin(_)))
        .expect("a lower end");
    assert_eq!(marked.clause.status, Status::UserGiven);
    let note = marked.clause.note.as_deref().unwrap_or_default();
    assert!(
        note.contains("confirmed by A. Reader on 2026-11-20; page 31"),
        "{note}"
    );
}

#[test]
fn an_entered_value_stands_for_the_shipped_one_and_says_so() {
    let mut pipe = carbon("ASME B31.3", "2022", 30.0);
    let entered = Some(Value::HoldTime(HoldTime {
        minutes: 0.0,
        beyond_mm: 0.0,
        each_mm: 25.0,
        adds_minutes: 90.0,
        at_least_minutes: 30.0,
        whole_steps: false,
    }));
    let row = "b31.3-2014/hold-to50";
    pipe.confirmed = vec![confirmation(row, entered)];
    let requirement = need(&pipe);
    assert_eq!(hold_minutes(&requirement), 108.0);
    let note = requirement
        .limits
        .iter()
        .find_map(|limit| match limit.kind {
            LimitKind::HoldTime(_) => limit.clause.note.clone(),
            _ => None,
        });
    assert!(
        note.unwrap_or_default()
            .contains("not 60 min for each 25 mm")
    );
}

#[test]
fn the_row_that_stands_in_goes_when_the_printed_one_is_confirmed() {
    let mut header = weld("ASME B31.3", "2022", &side("15E", 1, 400.0, 12.0));
    assert_eq!(hold_min_c(&need(&header)), 730.0);
    assert!(remarks(&need(&header)).contains("switched off"));
    header.confirmed = vec![confirmation("b31.3-2014/range-min-p15e-printed", None)];
    assert_eq!(hold_min_c(&need(&header)), 705.0);
    assert!(
        !remarks(&need(&header))
            .contains("705 °C by ASME B31.3-2022 Table 331.1.1 notes 6, 7 is unsure")
    );
}

#[test]
fn every_confirmation_that_cannot_be_is_told_at_once() {
    let mut pipe = carbon("ASME B31.3", "2022", 30.0);
    pipe.confirmed = vec![
        confirmation("b31.3-2014/no-such-row", None),
        confirmation("b31.3-2014/range-p1", range(650.0, 595.0)),
        confirmation("b31.3-2014/rate-thickness", range(595.0, 650.0)),
        confirmation("practice/preheat-band-iso-13916-to50", range(1.0, 2.0)),
    ];
    let refused = rules::requirement(&pipe).expect_err("four of four");
    assert_eq!(refused.faults.len(), 4, "{refused}");
    let told = refused.to_string();
    assert!(told.contains("no such row is kept"), "{told}");
    assert!(told.contains("does not ascend"), "{told}");
    assert!(
        told.contains("a temperature range for a row of thickness for rates"),
        "{told}"
    );
    assert!(told.contains("no value of your own"), "{told}");
}
