//! Quantities in words, in the units of whoever reads the plan.

use quantity::{Celsius, Kelvins, Millimeters, Units};

/// A temperature, in whole degrees.
pub fn temperature(value: Celsius, units: Units) -> String {
    match units {
        Units::Si => format!("{:.0} °C", value.c()),
        Units::Us => format!("{:.0} °F", value.f()),
    }
}

/// A difference of temperatures; a small one with a decimal.
pub fn difference(value: Kelvins, units: Units) -> String {
    let (number, unit) = match units {
        Units::Si => (value.k(), "K"),
        Units::Us => (value.f_difference(), "°F"),
    };
    if number.abs() < 10.0 {
        format!("{number:.1} {unit}")
    } else {
        format!("{number:.0} {unit}")
    }
}

/// A length along the pipe, as a tape shows it: whole millimeters, or inches to a sixteenth.
pub fn length(value: Millimeters, units: Units) -> String {
    match units {
        Units::Si => format!("{:.0} mm", value.mm()),
        Units::Us => sixteenths(value.inches()),
    }
}

/// A dimension of a part: millimeters with a decimal, or inches with three.
pub fn dimension(value: Millimeters, units: Units) -> String {
    match units {
        Units::Si => format!("{:.1} mm", value.mm()),
        Units::Us => format!("{:.3} in", value.inches()),
    }
}

/// A number with its metric unit as the reader's units say it: with the digits that it has where it stays as it is, and
/// three where it does not.
pub fn quantity(value: f64, unit: &str, units: Units) -> String {
    let unit = if unit == "1" { "" } else { unit };
    let (said, said_unit) = units.of(value, unit);
    let number = match said_unit == unit {
        true => value.to_string(),
        false => without_zeros(&three_digits(said)).to_owned(),
    };
    format!("{number} {said_unit}").trim_end().to_owned()
}

/// Three digits are more than any property at hand is known to; whole numbers keep all of theirs.
pub fn three_digits(value: f64) -> String {
    let before = value.abs().max(f64::MIN_POSITIVE).log10().floor();
    let decimals = (2.0 - before).clamp(0.0, 9.0) as usize;
    format!("{value:.decimals$}")
}

/// Zeros behind the point say nothing.
fn without_zeros(number: &str) -> &str {
    match number.contains('.') {
        true => number.trim_end_matches('0').trim_end_matches('.'),
        false => number,
    }
}

/// Inches as a tape shows them: `12 3/16 in`.
fn sixteenths(inches: f64) -> String {
    let sign = if inches < 0.0 { "-" } else { "" };
    let total = (inches.abs() * 16.0).round() as u64;
    let (whole, part) = (total / 16, total % 16);
    if part == 0 {
        return format!("{sign}{whole} in");
    }
    let common = [8, 4, 2].into_iter().find(|d| part % d == 0).unwrap_or(1);
    let fraction = format!("{}/{}", part / common, 16 / common);
    if whole == 0 {
        format!("{sign}{fraction} in")
    } else {
        format!("{sign}{whole} {fraction} in")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_as_a_tape_shows_them() {
        assert_eq!(sixteenths(12.1875), "12 3/16 in");
        assert_eq!(sixteenths(0.5), "1/2 in");
        assert_eq!(sixteenths(-3.0), "-3 in");
        assert_eq!(sixteenths(0.01), "0 in");
    }

    #[test]
    fn a_difference_has_no_offset() {
        assert_eq!(difference(Kelvins::from_k(50.0), Units::Us), "90 °F");
        assert_eq!(difference(Kelvins::from_k(5.0), Units::Si), "5.0 K");
    }

    #[test]
    fn a_number_keeps_its_digits_or_gets_three() {
        assert_eq!(quantity(768.0, "°C", Units::Si), "768 °C");
        assert_eq!(quantity(768.0, "°C", Units::Us), "1414 °F");
        assert_eq!(quantity(0.2, "mm", Units::Us), "0.00787 in");
        assert_eq!(quantity(20.0, "°C", Units::Us), "68 °F");
        assert_eq!(quantity(0.95, "1", Units::Us), "0.95");
    }
}
