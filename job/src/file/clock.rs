//! Positions round the pipe, as on the face of a clock.

use crate::toml_reader::{Table, Value};

use super::choices::Choice;
use super::places::Silent;

/// Hours from 0 (exclusive) to 12: `3`, `1.5`, `"6:30"`, `"12 o'clock"`.
pub(crate) fn read(value: &Value<'_>) -> Option<f64> {
    let hours = match value.as_text() {
        Some(text) => hours_of(text),
        None => Some(value.number()?),
    };
    let hours = hours.filter(|h| (0.0..=12.0).contains(h));
    if hours.is_none() {
        let hint = "12 is the top; on a vertical pipe 12 is north".into();
        value.fault(
            value.to_string(),
            "a clock position, 0 to 12 or \"6:30\"",
            Some(hint),
        );
    }
    hours.map(|h| if h == 0.0 { 12.0 } else { h })
}

/// The same, or a default that is noted.
pub(crate) fn read_or(
    table: &Table<'_>,
    key: &'static str,
    default: &Choice,
    silent: &Silent,
) -> Option<f64> {
    match table.get(key) {
        Some(value) => read(&value),
        None => {
            silent.take(table, key, default.words(table.units()));
            Some(default.value)
        }
    }
}

fn hours_of(text: &str) -> Option<f64> {
    let text = text.trim().trim_end_matches("o'clock").trim();
    match text.split_once(':') {
        None => text.parse().ok(),
        Some((hours, minutes)) => {
            let hours: u8 = hours.trim().parse().ok()?;
            let minutes: u8 = minutes.trim().parse().ok().filter(|m| *m < 60)?;
            Some(f64::from(hours) + f64::from(minutes) / 60.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::hours_of;

    #[test]
    fn clock_positions_as_people_write_them() {
        assert_eq!(hours_of("6:30"), Some(6.5));
        assert_eq!(hours_of("12 o'clock"), Some(12.0));
        assert_eq!(hours_of("1.5"), Some(1.5));
        assert_eq!(hours_of("6:75"), None);
        assert_eq!(hours_of("top"), None);
    }
}
