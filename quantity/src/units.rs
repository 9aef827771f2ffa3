//! The units in which a person reads and writes.

use serde::{Deserialize, Serialize};

use crate::measure::MM_PER_INCH;

/// The units of a sheet; inside the program everything is metric.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Units {
    /// °C and mm first.
    #[default]
    Si,
    /// °F and inches first.
    Us,
}

/// Degrees Fahrenheit in a kelvin (definition).
const F_PER_K: f64 = 1.8;
/// British thermal units in a joule (international table, exact by definition: 1055.05585262 J).
const BTU_PER_J: f64 = 1.0 / 1_055.055_852_62;
/// Kilograms in a pound (exact by definition).
const KG_PER_LB: f64 = 0.453_592_37;
/// Meters in a foot (exact by definition).
const M_PER_FT: f64 = 0.3048;
/// Seconds in an hour.
const S_PER_H: f64 = 3600.0;

impl Units {
    /// A number with its metric unit as these units say it; a unit that both share stays as it is. "K" is a difference.
    pub fn of(self, value: f64, unit: &str) -> (f64, String) {
        let same = || (value, unit.to_owned());
        if self == Units::Si {
            return same();
        }
        let btu_h = BTU_PER_J * S_PER_H;
        let (value, unit) = match unit {
            "°C" => (value * F_PER_K + 32.0, "°F"),
            "K" => (value * F_PER_K, "°F"),
            "K/h" => (value * F_PER_K, "°F/h"),
            "mm" => (value / MM_PER_INCH, "in"),
            "mm²" => (value / (MM_PER_INCH * MM_PER_INCH), "in²"),
            "m" => (value / M_PER_FT, "ft"),
            "W/(m K)" => (value * btu_h * M_PER_FT / F_PER_K, "Btu/(h ft °F)"),
            "W/(m2 K)" => (
                value * btu_h * M_PER_FT * M_PER_FT / F_PER_K,
                "Btu/(h ft² °F)",
            ),
            "J/(kg K)" => (value * BTU_PER_J * KG_PER_LB / F_PER_K, "Btu/(lb °F)"),
            _ => return same(),
        };
        (value, unit.to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::Units;

    #[test]
    fn a_number_is_said_in_the_units_of_its_reader() {
        for (value, unit, us, us_unit) in [
            (600.0, "°C", 1112.0, "°F"),
            (50.0, "K", 90.0, "°F"),
            (100.0, "K/h", 180.0, "°F/h"),
            (25.4, "mm", 1.0, "in"),
            // Handbook factors, to their digits.
            (1.0, "W/(m K)", 0.577_789, "Btu/(h ft °F)"),
            (1.0, "W/(m2 K)", 0.176_110, "Btu/(h ft² °F)"),
            (4186.8, "J/(kg K)", 1.0, "Btu/(lb °F)"),
            (2.0, "kHz", 2.0, "kHz"),
        ] {
            let (said, said_unit) = Units::Us.of(value, unit);
            assert!((said - us).abs() < 1e-5 * us, "{unit}: {said}");
            assert_eq!(said_unit, us_unit);
            assert_eq!(Units::Si.of(value, unit), (value, unit.to_owned()));
        }
    }
}
