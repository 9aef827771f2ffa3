//! Properties over temperature, and other laws given by points.

use materials::Property;

use super::super::problem::Law;
use super::{ABSOLUTE_ZERO_C, temperature};
use crate::toml_reader::{Table, Value};

/// What a law may be, in the words of a fault.
const ALLOWED: &str =
    "a number above 0, a table [[temperature in °C, value], ...] or { standard = \"...\" }";

/// A property over temperature: a number, a table, or the curve of a standard where there is a `property` for it.
pub fn read(value: &Value<'_>, property: Option<Property>) -> Option<Law> {
    let line = value.line();
    let points = match (value.as_table(), value.as_list(), property) {
        (Some(table), _, Some(property)) => standard(&table, property)?,
        (_, Some(rows), _) => points(value, &rows)?,
        (None, None, _) if value.as_text().is_none() => {
            vec![(ABSOLUTE_ZERO_C, value.number_above(0.0)?)]
        }
        _ => {
            value.fault(value.to_string(), ALLOWED, None);
            return None;
        }
    };
    Some(Law { points, line })
}

/// The curve of a standard.
fn standard(table: &Table<'_>, property: Property) -> Option<Vec<(f64, f64)>> {
    let value = table.need("standard", "the name of a standard");
    table.finish();
    let value = value?;
    match materials::standard(value.text()?, property) {
        Ok(curve) => Some(curve.points),
        Err(error) => {
            let known = materials::standard_names().join(", ");
            let allowed = format!("a standard that gives it, of {known}");
            value.fault(error.to_string(), allowed, None);
            None
        }
    }
}

/// Points of a property: temperatures ascending, values above zero.
fn points(value: &Value<'_>, rows: &[Value<'_>]) -> Option<Vec<(f64, f64)>> {
    let points = pairs(value, rows, "[temperature in °C, value]")?;
    let wrong = rows.iter().zip(&points).find(|(_, point)| point.1 <= 0.0);
    if let Some((row, point)) = wrong {
        row.fault(format!("the value {}", point.1), "values above 0", None);
        return None;
    }
    Some(points)
}

/// A temperature that stays, or [[time in s, temperature in °C], ...].
pub fn temperature_in_time(value: &Value<'_>) -> Option<Vec<(f64, f64)>> {
    match value.as_list() {
        Some(rows) => pairs(value, &rows, "[time in s, temperature in °C]"),
        None => Some(vec![(0.0, temperature(value)?)]),
    }
}

/// Two or more pairs, the first numbers ascending.
fn pairs(value: &Value<'_>, rows: &[Value<'_>], allowed: &str) -> Option<Vec<(f64, f64)>> {
    if rows.len() < 2 {
        let found = format!("{} rows", rows.len());
        value.fault(found, format!("two or more rows {allowed}"), None);
        return None;
    }
    let read: Vec<_> = rows.iter().map(Value::exactly::<2>).collect();
    let points: Vec<(f64, f64)> = read
        .into_iter()
        .map(|row| row.map(Into::into))
        .collect::<Option<_>>()?;
    ascending(rows, points.iter().map(|point| point.0)).then_some(points)
}

/// Whether numbers ascend; the first that does not is noted at its row.
pub fn ascending(rows: &[Value<'_>], numbers: impl Iterator<Item = f64>) -> bool {
    let mut last = f64::NEG_INFINITY;
    for (row, number) in rows.iter().zip(numbers) {
        if number <= last {
            row.fault(
                format!("{number} after {last}"),
                "numbers that ascend",
                None,
            );
            return false;
        }
        last = number;
    }
    true
}
