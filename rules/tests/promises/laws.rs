//! Laws over every row and every method: what must never turn round, and every threshold one unit to either side.

use std::collections::BTreeMap;

use proptest::prelude::*;
use quantity::Status;
use rules::preheat::{Outcome, preheat};
use rules::row::{Row, Table, TableKind, Value};
use rules::standing::Verdict;
use rules::weld::{Purpose, Weld};
use rules::{Confirmation, shelf};

use crate::welds::*;

fn tables() -> &'static [Table] {
    shelf::tables().expect("tables")
}

/// Read apart from the program: over and below exclude their end, from and to include it.
fn holds_at(row: &Row, mm: f64) -> bool {
    let when = &row.when;
    when.over_mm.is_none_or(|end| mm > end)
        && when.from_mm.is_none_or(|end| mm >= end)
        && when.to_mm.is_none_or(|end| mm <= end)
        && when.below_mm.is_none_or(|end| mm < end)
}

fn ends_mm(row: &Row) -> Vec<f64> {
    let when = &row.when;
    [when.over_mm, when.from_mm, when.to_mm, when.below_mm]
        .into_iter()
        .flatten()
        .collect()
}

fn is_for(row: &Row, number: &str) -> bool {
    row.when.p_numbers.iter().any(|known| known == number)
}

fn hold_minutes_of(row: &Row, mm: f64) -> Option<f64> {
    match &row.value {
        Value::HoldTime(hold) => Some(hold.minutes_at(mm)),
        _ => None,
    }
}

#[test]
fn within_one_table_a_thicker_weld_never_holds_shorter() {
    let mut count = 0;
    for table in tables() {
        let rows: Vec<&Row> = table
            .rows
            .iter()
            .filter(|row| matches!(row.value, Value::HoldTime(_)))
            .collect();
        let numbers = rows.iter().flat_map(|row| &row.when.p_numbers);
        for number in numbers {
            for purpose in [Purpose::StressRelief, Purpose::HydrogenBakeOut] {
                let at = |mm: f64| {
                    let held = rows.iter().filter(|row| {
                        row.purpose == purpose && is_for(row, number) && holds_at(row, mm)
                    });
                    held.filter_map(|row| hold_minutes_of(row, mm))
                        .reduce(f64::max)
                };
                let mut longest = 0.0;
                for step in 2..=800 {
                    let mm = 0.5 * f64::from(step);
                    let Some(minutes) = at(mm) else { continue };
                    assert!(
                        minutes >= longest - 1e-9,
                        "{} {} P-No. {number}: {minutes} min at {mm} mm after {longest} min",
                        table.code,
                        table.generation
                    );
                    longest = minutes;
                    count += 1;
                }
            }
        }
    }
    assert!(count > 10_000, "{count}");
}

#[test]
fn a_lower_temperature_never_needs_a_shorter_hold() {
    let mut count = 0;
    for table in tables() {
        let lower = table.rows.iter().filter_map(|row| match &row.value {
            Value::LowerHold { decrease, hold } => Some((*decrease, hold)),
            _ => None,
        });
        let mut lower: Vec<_> = lower.collect();
        lower.sort_by(|a, b| a.0.total_cmp(&b.0));
        for pair in lower.windows(2) {
            for mm in [10.0, 25.0, 26.0, 50.0, 100.0] {
                assert!(
                    pair[1].1.minutes_at(mm) >= pair[0].1.minutes_at(mm),
                    "{}: {} K and {} K at {mm} mm",
                    table.code,
                    pair[0].0,
                    pair[1].0
                );
                count += 1;
            }
        }
    }
    assert!(count >= 60, "{count}");
}

/// A metal that lies inside a row, as far as the row asks.
fn weld_in(table: &Table, row: &Row, mm: f64) -> Weld {
    let number = row.when.p_numbers.first().map_or("1", String::as_str);
    let group = row.when.groups.first().copied().unwrap_or(1);
    let mut steel = side(number, group, 1000.0, mm);
    let tensile = row
        .when
        .tensile_to_mpa
        .or(row.when.tensile_over_mpa.map(|end| end + 1.0));
    steel.tensile_strength_mpa = Some(tensile.unwrap_or(400.0));
    for element in ["C", "Cr"] {
        let to = row.when.percent_to.get(element).copied();
        let over = row.when.percent_over.get(element).map(|end| end + 0.01);
        steel.chemistry.insert(
            element.into(),
            to.or(over).unwrap_or(usual(element, number)),
        );
    }
    let edition = row.when.editions.last().or(table.editions.last());
    weld(&table.code, edition.map_or("", String::as_str), &steel)
}

/// A content in percent at which the metal is what it is called.
fn usual(element: &str, p_number: &str) -> f64 {
    match (element, p_number) {
        ("Cr", "4" | "5.1") => 1.25,
        ("Cr", "5A" | "5C" | "5.2") => 2.25,
        ("Cr", "5B" | "5.3") => 5.0,
        ("Cr", "15E" | "5.4" | "6.4") => 9.0,
        ("Cr", "6" | "7") => 13.0,
        ("Cr", "8" | "8.1" | "8.2" | "8.3") => 18.0,
        ("Cr", "10H" | "10.1" | "10.2") => 22.0,
        _ => 0.05,
    }
}

/// Whether a row holds for the metal of another at a thickness.
fn fits(row: &Row, weld: &Weld, mm: f64) -> bool {
    let steel = &weld.sides[0];
    let when = &row.when;
    let group = steel.p_number.group.unwrap_or(1);
    let tensile = steel.tensile_strength_mpa.unwrap_or(0.0);
    let content = |element: &String| steel.chemistry.get(element).copied().unwrap_or(0.0);
    let edition = &weld.code.edition;
    (when.p_numbers.is_empty() || is_for(row, &steel.p_number.number))
        && (when.groups.is_empty() || when.groups.contains(&group))
        && (when.editions.is_empty() || when.editions.contains(edition))
        && holds_at(row, mm)
        && when
            .diameter_to_mm
            .is_none_or(|end| steel.outside_diameter.mm() <= end)
        && when.tensile_over_mpa.is_none_or(|end| tensile > end)
        && when.tensile_to_mpa.is_none_or(|end| tensile <= end)
        && when.percent_over.iter().all(|(e, end)| content(e) > *end)
        && when.percent_to.iter().all(|(e, end)| content(e) <= *end)
}

fn codes() -> impl Iterator<Item = &'static Table> {
    tables()
        .iter()
        .filter(|table| table.kind == TableKind::Code)
}

fn is_on(row: &Row) -> bool {
    row.status != Status::Unsure || row.acts_while_unsure
}

#[test]
fn every_threshold_of_a_hold_one_millimeter_to_either_side() {
    let mut count = 0;
    for table in codes() {
        let holds = || {
            let of_hold = |row: &&Row| {
                row.purpose == Purpose::StressRelief
                    && matches!(row.value, Value::HoldTime(_))
                    && is_on(row)
            };
            table.rows.iter().filter(of_hold)
        };
        for row in holds() {
            for mm in ends_mm(row)
                .iter()
                .flat_map(|end| [end - 1.0, *end, end + 1.0])
            {
                let job = weld_in(table, row, mm);
                let Ok(found) = rules::requirement(&job) else {
                    continue;
                };
                let wanted = holds()
                    .filter(|other| fits(other, &job, mm))
                    .filter_map(|other| hold_minutes_of(other, mm))
                    .reduce(f64::max);
                let found = found.hold_time().map(|time| time.minutes());
                assert!(
                    found.zip(wanted).is_some_and(|(a, b)| (a - b).abs() < 1e-9),
                    "{} at {mm} mm: {found:?} for {wanted:?}",
                    row.id
                );
                count += 1;
            }
        }
    }
    assert!(count >= 60, "{count}");
}

#[test]
fn every_threshold_of_a_preheat_one_unit_to_either_side() {
    let mut count = 0;
    for table in codes() {
        let least = |row: &Row| match row.value {
            Value::HoldRange { min, .. } if row.purpose == Purpose::Preheat && is_on(row) => min,
            _ => None,
        };
        for row in table.rows.iter().filter(|row| least(row).is_some()) {
            for mm in ends_mm(row)
                .iter()
                .flat_map(|end| [end - 1.0, *end, end + 1.0])
            {
                for mpa in [-1.0, 0.0, 1.0] {
                    let mut job = weld_in(table, row, mm);
                    for steel in &mut job.sides {
                        steel.tensile_strength_mpa =
                            steel.tensile_strength_mpa.map(|one| one + mpa);
                    }
                    let wanted = table
                        .rows
                        .iter()
                        .filter(|other| fits(other, &job, mm))
                        .filter_map(least)
                        .reduce(f64::max);
                    let answer = preheat(&job).expect("an answer");
                    let found = answer.methods[0].outcome.temperature().map(|t| t.c());
                    assert_eq!(found, wanted, "{} at {mm} mm, {mpa:+} MPa", row.id);
                    count += 1;
                }
            }
        }
    }
    assert!(count >= 150, "{count}");
}

/// Everything that an exemption can ask is so.
fn favorable(mut job: Weld) -> Weld {
    use rules::answers::Question;
    for question in Question::ALL {
        let is_yes = matches!(
            question,
            Question::Multilayer
                | Question::PipeOrTube
                | Question::QualifiedThickness
                | Question::TransformedBefore
        );
        job.answers.said.insert(*question, is_yes);
    }
    job.answers.preheat_applied = c(400.0);
    job
}

#[test]
fn every_threshold_of_an_exemption_one_millimeter_to_either_side() {
    let mut count = 0;
    for table in codes() {
        let exempt = || {
            table
                .rows
                .iter()
                .filter(|row| matches!(row.value, Value::Exemption { .. }) && is_on(row))
        };
        let of_girth = |row: &&Row| {
            row.when.joints.is_empty()
                || row
                    .when
                    .joints
                    .contains(&rules::joint::JointForm::GirthButt)
        };
        // A diameter, a bore and a named service are asked in tests of their own.
        let is_plain = |row: &&Row| match &row.value {
            Value::Exemption { provided } => provided.iter().all(|one| {
                one.diameter_to_mm.is_none()
                    && one.bore_to_mm.is_none()
                    && one.is == one.answer.and(one.is).filter(|is| !is)
            }),
            _ => false,
        };
        for row in exempt().filter(of_girth).filter(is_plain) {
            for mm in ends_mm(row)
                .iter()
                .flat_map(|end| [end - 1.0, *end, end + 1.0])
            {
                let job = favorable(weld_in(table, row, mm));
                let free = exempt()
                    .filter(of_girth)
                    .filter(is_plain)
                    .any(|other| fits(other, &job, mm));
                let standing = rules::standing(&job).expect("an answer");
                let found = standing.verdict;
                let wanted = if free {
                    Verdict::NotRequired
                } else {
                    Verdict::Required
                };
                assert_eq!(found, wanted, "{} at {mm} mm: {standing:?}", row.id);
                count += 1;
            }
        }
    }
    assert!(count >= 40, "{count}");
}

/// The creep-steel table is off until somebody confirms it; here somebody has.
fn creep_table_confirmed() -> Vec<Confirmation> {
    let entries = rules::lookup().expect("rows");
    let rows = entries
        .iter()
        .filter(|entry| entry.id.starts_with("en1011-2/creep-steel"));
    rows.map(|entry| Confirmation {
        row: entry.id.clone(),
        value: None,
        units: quantity::Units::Si,
        by: "A. Reader".into(),
        on: "2026-11-20".into(),
        note: None,
    })
    .collect()
}

/// What each method asks in °C; a method that does not speak is absent.
fn asked(job: &Weld) -> BTreeMap<String, f64> {
    let answer = preheat(job).expect("an answer");
    let methods = answer.methods.iter().filter_map(|method| {
        let c = match &method.outcome {
            Outcome::AtLeast { temperature, .. } => temperature.c(),
            Outcome::None { metal_at_least, .. } => metal_at_least.c(),
            _ => return None,
        };
        Some((format!("{}, {}", method.name, method.who), c))
    });
    methods.collect()
}

fn steel(metal: usize, carbon: f64, hydrogen: f64, wall_mm: f64) -> Weld {
    use rules::welding::{Restraint, StructuralCategory};
    let number = ["1", "3", "4", "5A", "5B"][metal];
    let mut one = side(number, 1, 2000.0, wall_mm);
    one.tensile_strength_mpa = Some(430.0);
    let chromium = [0.05, 0.1, 1.2, 2.25, 5.0][metal];
    one.chemistry = [
        ("C", carbon),
        ("Mn", 1.2),
        ("Si", 0.3),
        ("Cr", chromium),
        ("Mo", 0.1),
    ]
    .map(|(element, percent)| (element.to_owned(), percent))
    .into();
    let mut job = weld("ASME B31.3", "2018", &one);
    job.welding.hydrogen_ml_100g = Some(hydrogen);
    job.welding.heat_input_kj_mm = Some(1.5);
    job.welding.restraint = Some(Restraint::Medium);
    job.welding.structural_category = Some(StructuralCategory::B);
    job.confirmed = creep_table_confirmed();
    job
}

proptest! {
    #[test]
    fn more_carbon_hydrogen_or_thickness_never_lowers_what_a_method_asks(
        metal in 0..5usize, carbon in 0.02..0.35f64, hydrogen in 1.0..19.0f64, wall_mm in 3.0..150.0f64,
        which in 0..3usize, more in 0.0..1.0f64,
    ) {
        let less = asked(&steel(metal, carbon, hydrogen, wall_mm));
        let harder = asked(&match which {
            0 => steel(metal, carbon + 0.1 * more, hydrogen, wall_mm),
            1 => steel(metal, carbon, hydrogen * (1.0 + more), wall_mm),
            _ => steel(metal, carbon, hydrogen, wall_mm * (1.0 + more)),
        });
        prop_assert!(!less.is_empty());
        for (method, c) in &less {
            if let Some(then) = harder.get(method) {
                prop_assert!(then >= c, "{}: {} °C, then {} °C", method, c, then);
            }
        }
    }
}
