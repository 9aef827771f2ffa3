//! A walk over every row that is kept.

use quantity::Status;
use rules::row::{Row, Table, Value};
use rules::shelf;

fn walk(visit: impl Fn(&Table, &Row)) {
    for table in shelf::tables().expect("tables") {
        for row in &table.rows {
            visit(table, row);
        }
    }
}

fn name(table: &Table, row: &Row) -> String {
    format!(
        "{} {} {} {}",
        table.code,
        table.generation,
        row.clause,
        row.when.words(quantity::Units::Si)
    )
}

#[test]
fn every_row_has_clause_unit_and_known_editions() {
    walk(|table, row| {
        assert!(!row.clause.trim().is_empty(), "{}", name(table, row));
        assert_eq!(row.unit, row.value.unit(), "{}", name(table, row));
        let known = |edition: &String| table.editions.contains(edition);
        assert!(row.verified_in.iter().all(known), "{}", name(table, row));
        assert!(
            row.status == Status::Verified || row.verified_in.is_empty(),
            "{}",
            name(table, row)
        );
    });
}

#[test]
fn every_document_is_one_that_is_known() {
    const KNOWN: [&str; 19] = [
        "ASME B31.3",
        "ASME B31.1",
        "ASME VIII-1",
        "ASME VIII-2",
        "ASME I",
        "EN 13445-4",
        "EN 13480-4",
        "PD 5500",
        "AWS D1.1",
        "AWS D10.10",
        "EN 1011-2",
        "Bands for comparison",
        "Carbon equivalents",
        "Common practice",
        "Exposure",
        "Hydrogen diffusion",
        "Local heating",
        "Thermocouple layout",
        "Time and temperature",
    ];
    walk(|table, row| {
        assert!(
            KNOWN.contains(&table.code.as_str()) || table.code == "Metal",
            "{}",
            table.code
        );
        let named = row
            .document
            .as_ref()
            .is_none_or(|one| !one.trim().is_empty());
        assert!(named, "{}", row.id);
        // A code's own row stands in the code.
        let own = table.kind != rules::row::TableKind::Code || row.document.is_none();
        assert!(own, "{}", row.id);
    });
}

#[test]
fn an_id_says_what_it_is_and_no_number_tells_two_apart() {
    let entries = rules::lookup().expect("rows");
    for entry in &entries {
        let id = entry.id.as_str();
        assert!(id.chars().count() <= 72, "{id}");
        let without = id.rsplit_once('-').filter(|(_, end)| end.len() == 1);
        let stem_is_row = without.is_some_and(|(stem, end)| {
            end.chars().all(|c| c.is_ascii_digit()) && entries.iter().any(|one| one.id == stem)
        });
        assert!(!stem_is_row, "{id}");
    }
}

#[test]
fn every_row_has_an_id_of_its_own() {
    let mut ids = std::collections::BTreeSet::new();
    walk(|_, row| {
        let sound = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "-./".contains(c);
        assert!(
            row.id.chars().all(sound) && row.id.contains('/'),
            "{}",
            row.id
        );
    });
    for row in shelf::tables()
        .expect("tables")
        .iter()
        .flat_map(|table| &table.rows)
    {
        assert!(ids.insert(row.id.as_str()), "{} stands twice", row.id);
    }
    walk(|_, row| {
        let known = |id: &String| ids.contains(id.as_str());
        assert!(row.stands_in_for.iter().all(known), "{}", row.id);
    });
}

#[test]
fn every_value_is_sound() {
    walk(|_, row| assert_eq!(row.value.unsound(), None, "{}", row.id));
}

#[test]
fn ranges_ascend() {
    walk(|table, row| {
        let ascend = |low: Option<f64>, high: Option<f64>| {
            low.zip(high).is_none_or(|(low, high)| low < high)
        };
        let when = &row.when;
        assert!(
            ascend(when.over_mm.or(when.from_mm), when.to_mm.or(when.below_mm)),
            "{}",
            name(table, row)
        );
        assert!(
            ascend(when.tensile_over_mpa, when.tensile_to_mpa),
            "{}",
            name(table, row)
        );
        assert!(
            ascend(when.diameter_over_mm, when.diameter_to_mm),
            "{}",
            name(table, row)
        );
        if let Value::HoldRange { min, max } = &row.value {
            assert!(
                ascend(*min, *max) && (min.is_some() || max.is_some()),
                "{}",
                name(table, row)
            );
        }
        if let Value::HeatingRate(rate) | Value::CoolingRate(rate) = &row.value {
            assert!(ascend(rate.floor, Some(rate.cap)), "{}", name(table, row));
        }
    });
}

#[test]
fn a_doubtful_row_says_why() {
    walk(|table, row| {
        assert!(
            row.status != Status::Unsure
                || row.note.is_some()
                || matches!(row.value, Value::Band(_)),
            "{}",
            name(table, row)
        );
        assert!(
            !row.acts_while_unsure || row.status == Status::Unsure,
            "{}",
            name(table, row)
        );
    });
}

#[test]
fn no_value_stands_twice_with_two_meanings() {
    for table in shelf::tables().expect("tables") {
        for (index, row) in table.rows.iter().enumerate().filter(|(_, row)| row.is_on()) {
            for other in table.rows[index + 1..].iter().filter(|other| other.is_on()) {
                assert!(
                    !(same_question(row, other) && overlap(row, other)),
                    "{} / {}",
                    name(table, row),
                    name(table, other)
                );
            }
        }
    }
}

/// Rows that answer the same question; lower and upper end are two questions, and what adds up may stand twice.
fn same_question(row: &Row, other: &Row) -> bool {
    let one_answer = match (&row.value, &other.value) {
        (Value::HoldRange { min: a, max: b }, Value::HoldRange { min: c, max: d }) => {
            (a.is_some() && c.is_some()) || (b.is_some() && d.is_some())
        }
        (Value::LowerHold { decrease: a, .. }, Value::LowerHold { decrease: b, .. }) => a == b,
        (Value::Question(_) | Value::Advice(_), _)
        | (Value::Exposure(_), _)
        | (Value::Override(_), _)
        // Each is a way out; the best one that holds is taken.
        | (Value::Exemption { .. }, _)
        | (Value::Band(_), _)
        | (Value::Thermocouples(_), _)
        | (Value::LowerCriticalFormula(_), _) => false,
        (Value::Preheat(a), Value::Preheat(b)) => a.question() == b.question(),
        (Value::TimeTemperature(a), Value::TimeTemperature(b)) => a.question() == b.question(),
        (Value::BakeOut(a), Value::BakeOut(b)) => a.question() == b.question(),
        (a, b) => a.name() == b.name(),
    };
    // Chromium rows of the preheat tables stand on top of the strength rows; the higher of them governs.
    let on_top =
        row.when.percent_over.contains_key("Cr") != other.when.percent_over.contains_key("Cr");
    row.purpose == other.purpose && one_answer && !on_top
}

fn overlap(row: &Row, other: &Row) -> bool {
    let (a, b) = (&row.when, &other.when);
    let share = |a: &[String], b: &[String]| {
        a.is_empty() || b.is_empty() || a.iter().any(|one| b.contains(one))
    };
    let groups = a.groups.is_empty()
        || b.groups.is_empty()
        || a.groups.iter().any(|one| b.groups.contains(one));
    let apart = |end: Option<f64>, start: Option<f64>| {
        end.zip(start).is_some_and(|(end, start)| end <= start)
    };
    let start = |when: &rules::When| when.over_mm.or(when.from_mm);
    let end = |when: &rules::When| when.to_mm.or(when.below_mm);
    let thickness = !apart(end(a), start(b)) && !apart(end(b), start(a));
    let tensile = !apart(a.tensile_to_mpa, b.tensile_over_mpa)
        && !apart(b.tensile_to_mpa, a.tensile_over_mpa);
    let carbon = |over: &rules::When, to: &rules::When| {
        apart(
            to.percent_to.get("C").copied(),
            over.percent_over.get("C").copied(),
        )
    };
    let joints = a.joints.is_empty()
        || b.joints.is_empty()
        || a.joints.iter().any(|one| b.joints.contains(one));
    let seats = a.branches.is_empty()
        || b.branches.is_empty()
        || a.branches.iter().any(|one| b.branches.contains(one));
    joints
        && seats
        && row.asked_if == other.asked_if
        && share(&a.editions, &b.editions)
        && share(&a.p_numbers, &b.p_numbers)
        && groups
        && thickness
        && tensile
        && !carbon(a, b)
        && !carbon(b, a)
}

#[test]
fn every_data_file_is_on_the_shelf() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/data");
    let files = std::fs::read_dir(folder).expect("data folder").count();
    assert_eq!(files, shelf::tables().expect("tables").len());
}

#[test]
fn lookup_shows_every_row_with_value_and_status() {
    let entries = rules::lookup().expect("entries");
    let rows: usize = shelf::tables()
        .expect("tables")
        .iter()
        .map(|table| table.rows.len())
        .sum();
    assert_eq!(entries.len(), rows);
    assert!(
        entries
            .iter()
            .all(|entry| !entry.value.is_empty() && !entry.document.is_empty())
    );
    let found = entries
        .iter()
        .any(|entry| entry.value == "595 to 650 °C" && entry.range.contains("P-No. 1"));
    assert!(found);
}

#[test]
fn an_edition_stands_in_one_file_only() {
    let tables = shelf::tables().expect("tables");
    for (index, table) in tables.iter().enumerate() {
        for other in tables[index + 1..]
            .iter()
            .filter(|other| other.code == table.code)
        {
            assert!(
                table
                    .editions
                    .iter()
                    .all(|edition| !other.editions.contains(edition)),
                "{}",
                table.code
            );
        }
    }
}

#[test]
fn the_page_lists_every_table_with_its_editions() {
    let page = include_str!("../../../docs/rules.md");
    for table in shelf::tables().expect("tables") {
        let line = format!(
            "| {} | {} | {}",
            table.code,
            table.generation,
            table.editions.join(", ")
        );
        assert!(
            page.contains(line.trim_end()),
            "docs/rules.md lacks: {line}"
        );
    }
}
