//! Quantities in the words of a plan, in the units that the reader chose.

use cycle::outcome::Spot;
use quantity::{Celsius, Kelvins, Millimeters, Units};

/// A temperature, in whole degrees.
pub(crate) fn temperature(value: Celsius, units: Units) -> String {
    match units {
        Units::Si => format!("{:.0} °C", value.c()),
        Units::Us => format!("{:.0} °F", value.f()),
    }
}

/// A difference of temperatures; a small one with a decimal.
pub(crate) fn difference(value: Kelvins, units: Units) -> String {
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
pub(crate) fn length(value: Millimeters, units: Units) -> String {
    match units {
        Units::Si => format!("{:.0} mm", value.mm()),
        Units::Us => sixteenths(value.inches()),
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

/// A place in the metal.
pub(crate) fn place(spot: &Spot, units: Units) -> String {
    let along = length(Millimeters::from_mm(spot.axial_mm.abs()), units);
    let side = match spot.axial_mm {
        z if z.abs() < 0.5 => "at the weld".to_owned(),
        z if z < 0.0 => format!("{along} from the weld on the first side"),
        _ => format!("{along} from the weld on the second side"),
    };
    format!(
        "the metal {} deep {side}",
        length(Millimeters::from_mm(spot.depth_mm), units)
    )
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
}
