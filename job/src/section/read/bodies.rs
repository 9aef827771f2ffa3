//! The bodies of a section file.

use field::section::Point;

use super::super::problem::{Material, SectionBody};
use super::{named, own_name};
use crate::toml_reader::{Table, Value};

/// Every `[[body]]`.
pub fn read(root: &Table<'_>, materials: &[Material]) -> Vec<SectionBody> {
    let mut bodies: Vec<SectionBody> = Vec::new();
    for table in root.tables("body") {
        let body = body(&table, &bodies, materials);
        bodies.push(body);
    }
    bodies
}

fn body(table: &Table<'_>, others: &[SectionBody], materials: &[Material]) -> SectionBody {
    let name = own_name(
        table,
        "body",
        others.iter().map(|other| other.name.as_str()),
    );
    let material = table
        .need("material", "the name of a [material.*]")
        .and_then(|value| {
            named(
                &value,
                "material",
                materials.iter().map(|material| material.name.as_str()),
            )
        });
    let rectangle_or_polygon = table.one_of(&["rectangle_m", "polygon_m"], true);
    let (polygon, rectangle_m) = match rectangle_or_polygon {
        Some(("rectangle_m", value)) => {
            let sides = rectangle(&value);
            (sides.map(corners).unwrap_or_default(), sides)
        }
        Some((_, value)) => (polygon(&value).unwrap_or_default(), None),
        None => (Vec::new(), None),
    };
    table.finish();
    SectionBody {
        name,
        material: material.unwrap_or(0),
        polygon,
        rectangle_m,
        line: table.line(),
    }
}

/// [u1, u2, v1, v2] with u1 < u2 and v1 < v2.
pub fn rectangle(value: &Value<'_>) -> Option<[f64; 4]> {
    let sides = value.exactly::<4>()?;
    let [u1, u2, v1, v2] = sides;
    if u1 < u2 && v1 < v2 {
        return Some(sides);
    }
    let found = format!("[{u1}, {u2}, {v1}, {v2}]");
    value.fault(
        found,
        "[u1, u2, v1, v2] with u1 below u2 and v1 below v2",
        None,
    );
    None
}

fn corners([u1, u2, v1, v2]: [f64; 4]) -> Vec<Point> {
    vec![[u1, v1], [u2, v1], [u2, v2], [u1, v2]]
}

/// Three or more corners, in either direction; they come back counter-clockwise.
fn polygon(value: &Value<'_>) -> Option<Vec<Point>> {
    let rows = value.list()?;
    let read: Vec<_> = rows.iter().map(Value::exactly::<2>).collect();
    let mut corners: Vec<Point> = read.into_iter().collect::<Option<_>>()?;
    if corners.len() > 1 && corners.first() == corners.last() {
        corners.pop();
    }
    if corners.len() < 3 {
        value.fault(
            format!("{} corners", corners.len()),
            "three or more corners [u, v]",
            None,
        );
        return None;
    }
    if doubled_area(&corners) < 0.0 {
        corners.reverse();
    }
    Some(corners)
}

fn doubled_area(corners: &[Point]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - a[1] * b[0])
        .sum()
}
