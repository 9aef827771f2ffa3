//! The coils of a section file.

use field::section::{Conductor, Shape};

use super::super::problem::Coil;
use super::{bodies, own_name};
use crate::toml_reader::{Table, Value};

/// Every `[[coil]]`.
pub fn read(root: &Table<'_>) -> Vec<Coil> {
    let mut coils: Vec<Coil> = Vec::new();
    for table in root.tables("coil") {
        let name = own_name(
            &table,
            "coil",
            coils.iter().map(|other| other.name.as_str()),
        );
        let current = table
            .need("current_a_peak", "a peak current in A")
            .and_then(|value| value.number());
        let conductors = table.need(
            "conductors",
            "[ { circle_m = [u, v, radius], turns = 1.0 }, ... ]",
        );
        coils.push(Coil {
            name,
            current_a_peak: current.unwrap_or_default(),
            conductors: conductors
                .and_then(|value| all_conductors(&value))
                .unwrap_or_default(),
            line: table.line(),
        });
        table.finish();
    }
    coils
}

fn all_conductors(value: &Value<'_>) -> Option<Vec<Conductor>> {
    let rows = value.list()?;
    if rows.is_empty() {
        value.fault("no conductor", "one or more conductors", None);
    }
    let read: Vec<_> = rows.iter().map(|row| conductor(&row.table()?)).collect();
    read.into_iter().collect()
}

fn conductor(table: &Table<'_>) -> Option<Conductor> {
    let shape =
        table
            .one_of(&["circle_m", "rectangle_m"], true)
            .and_then(|(key, value)| match key {
                "circle_m" => circle(&value),
                _ => rectangle(&value),
            });
    let turns = table.need(
        "turns",
        "a number; negative where the current runs the other way",
    );
    let turns = turns.and_then(|value| nonzero(&value));
    table.finish();
    Some(Conductor {
        shape: shape?,
        turns: turns?,
    })
}

fn circle(value: &Value<'_>) -> Option<Shape> {
    let [u, v, radius_m] = value.exactly::<3>()?;
    if radius_m > 0.0 {
        return Some(Shape::Circle {
            center_m: [u, v],
            radius_m,
        });
    }
    value.fault(
        format!("the radius {radius_m}"),
        "[u, v, radius] with a radius above 0",
        None,
    );
    None
}

fn rectangle(value: &Value<'_>) -> Option<Shape> {
    let [u1, u2, v1, v2] = bodies::rectangle(value)?;
    Some(Shape::Rectangle {
        min_m: [u1, v1],
        max_m: [u2, v2],
    })
}

fn nonzero(value: &Value<'_>) -> Option<f64> {
    let number = value.number()?;
    if number == 0.0 {
        value.fault("0", "a number that is not 0", None);
    }
    Some(number)
}
