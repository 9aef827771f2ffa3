//! The dimensions of the job file and the units in which they may be written.
//!
//! A scalar carries its unit in the key (`wall_mm = 17.5`) or as text (`wall = "17.5 mm"`, `wall = "11/16 in"`);
//! a bare number where a unit is needed is refused, because guessing between mm and inches costs a weld.

use quantity::Units;

/// A unit: how it is written, and how it becomes the base unit (`value * factor + offset`).
#[derive(Debug, PartialEq)]
pub(crate) struct Unit {
    /// The end of a key that carries it; empty where only text may.
    pub suffix: &'static str,
    /// How it may be written in a text; the first is the one that is shown.
    pub spellings: &'static [&'static str],
    pub factor: f64,
    pub offset: f64,
}

/// A kind of quantity with its units; the first is the base unit, in which ranges are told.
#[derive(Debug, PartialEq)]
pub(crate) struct Dimension {
    pub name: &'static str,
    /// A text as it may stand in a file, metric and in US units.
    pub examples: [&'static str; 2],
    pub units: &'static [Unit],
}

const fn unit(
    suffix: &'static str,
    spellings: &'static [&'static str],
    factor: f64,
    offset: f64,
) -> Unit {
    Unit {
        suffix,
        spellings,
        factor,
        offset,
    }
}

/// Kelvins (degrees Celsius) in a degree Fahrenheit (definition).
const K_PER_F: f64 = 1.0 / 1.8;

/// 0 °F in °C (definition of the scale: 32 °F is 0 °C).
const ZERO_F_IN_C: f64 = -32.0 / 1.8;

pub(crate) static LENGTH: Dimension = Dimension {
    name: "length",
    examples: ["17.5 mm", "0.688 in"],
    units: &[
        unit("_mm", &["mm"], 1.0, 0.0),
        unit("_m", &["m"], 1000.0, 0.0),
        unit("_in", &["in", "inch", "\"", "″"], 25.4, 0.0),
        unit("", &["cm"], 10.0, 0.0),
        unit("", &["ft", "'"], 304.8, 0.0),
    ],
};

pub(crate) static TEMPERATURE: Dimension = Dimension {
    name: "temperature",
    examples: ["600 °C", "1100 °F"],
    units: &[
        unit("_c", &["°C", "C", "degC", "deg C"], 1.0, 0.0),
        unit("_f", &["°F", "F", "degF", "deg F"], K_PER_F, ZERO_F_IN_C),
    ],
};

pub(crate) static DIFFERENCE: Dimension = Dimension {
    name: "difference of temperatures",
    examples: ["50 K", "90 °F"],
    units: &[
        unit("_k", &["K", "°C", "C"], 1.0, 0.0),
        unit("_f", &["°F", "F"], K_PER_F, 0.0),
    ],
};

pub(crate) static RATE: Dimension = Dimension {
    name: "heating or cooling rate",
    examples: ["200 K/h", "400 °F/h"],
    units: &[
        unit(
            "_k_h",
            &["K/h", "°C/h", "C/h", "K/hr", "°C/hr", "C/hr"],
            1.0,
            0.0,
        ),
        unit("_f_h", &["°F/h", "F/h", "°F/hr", "F/hr"], K_PER_F, 0.0),
    ],
};

pub(crate) static TIME: Dimension = Dimension {
    name: "span of time",
    examples: ["2 h", "2 h"],
    units: &[
        unit("_h", &["h", "hr", "hours", "hour"], 1.0, 0.0),
        unit("_min", &["min", "minutes"], 1.0 / 60.0, 0.0),
        unit("_s", &["s", "sec", "seconds"], 1.0 / 3600.0, 0.0),
    ],
};

pub(crate) static POWER: Dimension = Dimension {
    name: "power",
    examples: ["35 kW", "35 kW"],
    units: &[
        unit("_kw", &["kW"], 1.0, 0.0),
        unit("_w", &["W"], 1e-3, 0.0),
    ],
};

pub(crate) static CURRENT: Dimension = Dimension {
    name: "current",
    examples: ["350 A", "350 A"],
    units: &[unit("_a", &["A"], 1.0, 0.0)],
};

pub(crate) static VOLTAGE: Dimension = Dimension {
    name: "voltage",
    examples: ["700 V", "700 V"],
    units: &[unit("_v", &["V"], 1.0, 0.0)],
};

pub(crate) static FREQUENCY: Dimension = Dimension {
    name: "frequency",
    examples: ["10 kHz", "10 kHz"],
    units: &[
        unit("_hz", &["Hz"], 1.0, 0.0),
        unit("_khz", &["kHz"], 1000.0, 0.0),
    ],
};

pub(crate) static SPEED: Dimension = Dimension {
    name: "wind speed",
    examples: ["3 m/s", "7 mph"],
    units: &[
        unit("_m_s", &["m/s"], 1.0, 0.0),
        unit("_km_h", &["km/h"], 1.0 / 3.6, 0.0),
        unit("_mph", &["mph"], 0.44704, 0.0),
    ],
};

pub(crate) static STRESS: Dimension = Dimension {
    name: "strength",
    examples: ["415 MPa", "60 ksi"],
    units: &[
        unit("_mpa", &["MPa", "N/mm2", "N/mm²"], 1.0, 0.0),
        unit("_ksi", &["ksi"], 6.894757, 0.0),
    ],
};

pub(crate) static HEAT_INPUT: Dimension = Dimension {
    name: "heat input",
    examples: ["1.5 kJ/mm", "38 kJ/in"],
    units: &[
        unit("_kj_mm", &["kJ/mm"], 1.0, 0.0),
        unit("_kj_in", &["kJ/in"], 1.0 / 25.4, 0.0),
        unit("", &["kJ/cm"], 0.1, 0.0),
    ],
};

pub(crate) static HYDROGEN: Dimension = Dimension {
    name: "content of diffusible hydrogen",
    examples: ["5 ml/100 g", "5 ml/100 g"],
    units: &[unit("_ml_100g", &["ml/100 g", "ml/100g"], 1.0, 0.0)],
};

/// Units in which people give a quantity as readily as in another: a number alone may mean either. Taking one of them would
/// be a guess that costs a weld: 3 mm for 3 m of pipe, a hold of 90 h for 90 min, 25 kJ/mm for 25 kJ/cm.
const AS_USUAL: [(&str, &str); 9] = [
    ("m", "mm"),
    ("ft", "in"),
    ("h", "min"),
    ("min", "h"),
    ("s", "min"),
    ("kHz", "Hz"),
    ("Hz", "kHz"),
    ("m/s", "km/h"),
    ("kJ/mm", "kJ/cm"),
];

/// What a number alone, typed by a person, means under a key of a job in mm and °C, or in inches and °F.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfBare {
    /// This unit: no other is usual there.
    Unit(&'static str),
    /// One of two, and only the person knows which.
    Either([&'static str; 2]),
}

impl OfBare {
    /// By the example of the key: dimensions of a pipe have one in mm or in, ways along it one in m or ft.
    pub(crate) fn like(example: &'static str, dimension: &Dimension) -> OfBare {
        let is_number = |c: char| c.is_ascii_digit() || matches!(c, '-' | '.' | '/' | ' ');
        let unit = example.trim_start_matches(is_number);
        debug_assert!(dimension.read(example).is_ok(), "{example}");
        let other = AS_USUAL.iter().find(|(one, _)| *one == unit);
        other.map_or(OfBare::Unit(unit), |(_, other)| {
            OfBare::Either([unit, other])
        })
    }

    /// A number as it may be written: `"3 m" or "3 mm"`.
    pub(crate) fn ways(self, number: &str) -> String {
        match self {
            OfBare::Unit(unit) => format!("\"{number} {unit}\""),
            OfBare::Either([one, other]) => {
                format!("\"{number} {one}\" or \"{number} {other}\"")
            }
        }
    }
}

/// How the unit at the end of a key (`mm`) is written behind a number.
pub(crate) fn unit_words(end: &str) -> String {
    let dimensions = [
        &LENGTH,
        &TEMPERATURE,
        &DIFFERENCE,
        &RATE,
        &TIME,
        &POWER,
        &CURRENT,
        &VOLTAGE,
        &FREQUENCY,
        &SPEED,
        &STRESS,
        &HEAT_INPUT,
        &HYDROGEN,
    ];
    let units = dimensions.iter().flat_map(|dimension| dimension.units);
    let unit = units
        .into_iter()
        .find(|unit| unit.suffix.strip_prefix('_') == Some(end));
    unit.map_or(end, |unit| unit.spellings[0]).to_owned()
}

/// Why a text is no quantity of a dimension.
#[derive(Debug, PartialEq)]
pub(crate) enum NotRead {
    /// A number with no unit behind it.
    NoUnit,
    /// No number in front.
    NoNumber,
    /// A comma where a point belongs.
    Comma,
    /// A unit of something else.
    WrongUnit,
}

impl Dimension {
    /// An example in the units of who reads it.
    pub fn example(&self, units: Units) -> &'static str {
        let [si, us] = self.examples;
        match units {
            Units::Si => si,
            Units::Us => us,
        }
    }

    /// Reads a text such as "17.5 mm" or "1 1/4 in": the value in the base unit, and the unit that is written.
    pub fn read(&self, text: &str) -> Result<(f64, &'static Unit), NotRead> {
        let text = text.trim();
        let ends = text
            .find(|c: char| c.is_alphabetic() || matches!(c, '°' | '"' | '″' | '\''))
            .unwrap_or(text.len());
        let (number, written) = text.split_at(ends);
        let number = plain_number(number)?;
        let written = written.trim();
        if written.is_empty() {
            return Err(NotRead::NoUnit);
        }
        let spelled = |unit: &&Unit| {
            unit.spellings
                .iter()
                .any(|s| s.eq_ignore_ascii_case(written))
        };
        let unit = self.units.iter().find(spelled).ok_or(NotRead::WrongUnit)?;
        Ok((unit.to_base(number), unit))
    }

    /// All units as they may be written.
    pub fn unit_words(&self) -> String {
        self.units
            .iter()
            .map(|u| u.spellings[0])
            .collect::<Vec<_>>()
            .join(", ")
    }
}

impl Unit {
    pub fn to_base(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// From the base unit.
    pub fn of_base(&self, value: f64) -> f64 {
        (value - self.offset) / self.factor
    }
}

/// A number, a fraction or both: "17.5", "-150", "11/16", "1 1/4", "1-1/4".
fn plain_number(text: &str) -> Result<f64, NotRead> {
    let text = text.trim();
    if text.contains(',') {
        return Err(NotRead::Comma);
    }
    if let Ok(number) = text.parse::<f64>() {
        return if number.is_finite() {
            Ok(number)
        } else {
            Err(NotRead::NoNumber)
        };
    }
    let (whole, fraction) = text.rsplit_once([' ', '-']).unwrap_or(("0", text));
    let (above, below) = fraction.split_once('/').ok_or(NotRead::NoNumber)?;
    let part = |text: &str| {
        text.trim()
            .parse::<u32>()
            .map(f64::from)
            .map_err(|_| NotRead::NoNumber)
    };
    let whole = if whole.trim().is_empty() {
        "0"
    } else {
        whole.trim()
    };
    let (whole, above, below) = (part(whole)?, part(above)?, part(below)?);
    if below == 0.0 {
        Err(NotRead::NoNumber)
    } else {
        Ok(whole + above / below)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(read: Result<(f64, &'static Unit), NotRead>, wanted: f64) {
        let (value, _) = read.expect("readable");
        assert!(
            (value - wanted).abs() < 1e-9 * wanted.abs().max(1.0),
            "{value} {wanted}"
        );
    }

    #[test]
    fn units_as_people_write_them() {
        near(LENGTH.read("17.5 mm"), 17.5);
        near(LENGTH.read("0.688 in"), 17.4752);
        near(LENGTH.read("11/16 in"), 17.4625);
        near(LENGTH.read("1 1/4 in"), 31.75);
        near(LENGTH.read("1-1/4\""), 31.75);
        near(LENGTH.read("-150mm"), -150.0);
        near(TEMPERATURE.read("1100 °F"), 593.0 + 1.0 / 3.0);
        near(TEMPERATURE.read("1100 F"), 593.0 + 1.0 / 3.0);
        near(DIFFERENCE.read("90 °F"), 50.0);
        near(RATE.read("360 F/h"), 200.0);
        near(POWER.read("12 kW"), 12.0);
        near(TIME.read("90 min"), 1.5);
        near(HEAT_INPUT.read("25.4 kJ/in"), 1.0);
        near(HEAT_INPUT.read("15 kJ/cm"), 1.5);
        near(HYDROGEN.read("5 ml/100 g"), 5.0);
        near(HYDROGEN.read("8.5 mL/100g"), 8.5);
    }

    #[test]
    fn what_cannot_be_read_says_why() {
        assert_eq!(LENGTH.read("17.5"), Err(NotRead::NoUnit));
        assert_eq!(LENGTH.read("17,5 mm"), Err(NotRead::Comma));
        assert_eq!(LENGTH.read("17.5 kg"), Err(NotRead::WrongUnit));
        assert_eq!(LENGTH.read("thick"), Err(NotRead::NoNumber));
        assert_eq!(LENGTH.read("1/0 in"), Err(NotRead::NoNumber));
        assert_eq!(LENGTH.read(""), Err(NotRead::NoNumber));
    }
}
