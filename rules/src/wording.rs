//! How numbers and names are written in reasons and workings.

use quantity::{Celsius, Kelvins, KelvinsPerHour, Millimeters, Units};

use crate::column::MPA_PER_KSI;
use crate::requirement::Level;
use crate::weld::Purpose;

/// A number with at most one decimal, without a trailing zero.
pub(crate) fn short(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_string)
}

/// A number with up to three decimals, for coefficients.
pub(crate) fn exact(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// What a number measures: its unit and its value in the units of a reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Measure {
    /// In °C.
    Temperature,
    /// In K.
    Difference,
    /// In K/h.
    Rate,
    /// In mm.
    Length,
    /// In min.
    Minutes,
    /// In h.
    Hours,
}

impl Measure {
    /// The number in the units of the reader.
    pub(crate) fn number(self, metric: f64, units: Units) -> f64 {
        match (self, units) {
            (_, Units::Si) | (Measure::Minutes | Measure::Hours, _) => metric,
            (Measure::Temperature, _) => Celsius::from_c(metric).f(),
            (Measure::Difference, _) => Kelvins::from_k(metric).f_difference(),
            (Measure::Rate, _) => KelvinsPerHour::from_k_h(metric).f_h(),
            (Measure::Length, _) => Millimeters::from_mm(metric).inches(),
        }
    }

    /// The unit of the reader.
    pub(crate) fn unit(self, units: Units) -> &'static str {
        match (self, units) {
            (Measure::Minutes, _) => "min",
            (Measure::Hours, _) => "h",
            (Measure::Temperature, Units::Si) => "°C",
            (Measure::Difference, Units::Si) => "K",
            (Measure::Rate, Units::Si) => "K/h",
            (Measure::Length, Units::Si) => "mm",
            (Measure::Temperature | Measure::Difference, Units::Us) => "°F",
            (Measure::Rate, Units::Us) => "°F/h",
            (Measure::Length, Units::Us) => "in",
        }
    }

    /// The number without its unit.
    pub(crate) fn bare(self, metric: f64, units: Units) -> String {
        let number = self.number(metric, units);
        match (self, units) {
            (_, Units::Si) | (Measure::Minutes | Measure::Hours, _) => short(number),
            (Measure::Length, Units::Us) => inches(number),
            (_, Units::Us) => format!("{number:.0}"),
        }
    }

    /// The number with its unit.
    pub(crate) fn words(self, metric: f64, units: Units) -> String {
        format!("{} {}", self.bare(metric, units), self.unit(units))
    }
}

/// A temperature in °C in the units of the reader.
pub(crate) fn temperature(c: f64, units: Units) -> String {
    Measure::Temperature.words(c, units)
}

/// A difference in K in the units of the reader.
pub(crate) fn difference(k: f64, units: Units) -> String {
    Measure::Difference.words(k, units)
}

/// A rate in K/h in the units of the reader.
pub(crate) fn rate(k_h: f64, units: Units) -> String {
    Measure::Rate.words(k_h, units)
}

/// A length in mm in the units of the reader.
pub(crate) fn length(mm: f64, units: Units) -> String {
    Measure::Length.words(mm, units)
}

/// A strength in MPa in the units of the reader.
pub(crate) fn strength(mpa: f64, units: Units) -> String {
    match units {
        Units::Si => format!("{} MPa", short(mpa)),
        Units::Us => format!("{:.0} ksi", mpa / MPA_PER_KSI),
    }
}

/// A length in mm as it stands in a working: bare, in inches with decimals, so that it can be worked again.
pub(crate) fn worked_length(mm: f64, units: Units) -> String {
    match units {
        Units::Si => short(mm),
        Units::Us => exact(Measure::Length.number(mm, units)),
    }
}

/// Inches as a fraction where they are one that is printed, for example `1 1/4`; else with up to three decimals.
fn inches(inches: f64) -> String {
    /// Printed thicknesses go down to the sixteenth.
    const PARTS: f64 = 16.0;
    let parts = (inches * PARTS).round();
    // Less than the third decimal of a wall.
    if (inches * PARTS - parts).abs() > 1e-3 * PARTS * 0.5 || parts < 1.0 {
        return exact(inches);
    }
    let (whole, mut top, mut bottom) = ((parts / PARTS).floor(), parts % PARTS, PARTS);
    while top % 2.0 == 0.0 && top > 0.0 {
        (top, bottom) = (top / 2.0, bottom / 2.0);
    }
    match (whole, top) {
        (_, 0.0) => format!("{whole}"),
        (0.0, _) => format!("{top}/{bottom}"),
        _ => format!("{whole} {top}/{bottom}"),
    }
}

/// A number of a message, to a hundredth.
pub(crate) fn rounded(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

/// A purpose in words.
pub(crate) fn purpose_words(purpose: Purpose) -> &'static str {
    purpose.words()
}

/// The name of a level's document where the document itself has no name.
pub(crate) fn level_words(level: Level) -> &'static str {
    match level {
        Level::Code => "the code",
        Level::Owner => "the owner's specification",
        Level::Procedure => "the procedure",
        Level::Guidance => "guidance",
    }
}
