//! Lengths, times and rates.

use serde::{Deserialize, Serialize};

/// A length.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Millimeters(f64);

/// A span of time.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Hours(f64);

/// A heating or cooling rate; positive either way, the context says which.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct KelvinsPerHour(f64);

/// Millimeters in an inch (exact by definition).
pub(crate) const MM_PER_INCH: f64 = 25.4;

impl Millimeters {
    /// From millimeters.
    pub const fn from_mm(mm: f64) -> Millimeters {
        Millimeters(mm)
    }

    /// From inches.
    pub fn from_in(inches: f64) -> Millimeters {
        Millimeters(inches * MM_PER_INCH)
    }

    /// From meters.
    pub fn from_m(m: f64) -> Millimeters {
        Millimeters(m * 1e3)
    }

    /// In millimeters.
    pub const fn mm(self) -> f64 {
        self.0
    }

    /// In inches.
    pub fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// In meters.
    pub fn m(self) -> f64 {
        self.0 * 1e-3
    }
}

impl std::ops::Add for Millimeters {
    type Output = Millimeters;
    fn add(self, other: Millimeters) -> Millimeters {
        Millimeters(self.0 + other.0)
    }
}

impl std::ops::Sub for Millimeters {
    type Output = Millimeters;
    fn sub(self, other: Millimeters) -> Millimeters {
        Millimeters(self.0 - other.0)
    }
}

impl std::ops::Mul<f64> for Millimeters {
    type Output = Millimeters;
    fn mul(self, factor: f64) -> Millimeters {
        Millimeters(self.0 * factor)
    }
}

impl Hours {
    /// From hours.
    pub const fn from_h(hours: f64) -> Hours {
        Hours(hours)
    }

    /// From minutes.
    pub fn from_min(minutes: f64) -> Hours {
        Hours(minutes / 60.0)
    }

    /// From seconds.
    pub fn from_s(seconds: f64) -> Hours {
        Hours(seconds / 3600.0)
    }

    /// In hours.
    pub const fn h(self) -> f64 {
        self.0
    }

    /// In minutes.
    pub fn minutes(self) -> f64 {
        self.0 * 60.0
    }

    /// In seconds.
    pub fn s(self) -> f64 {
        self.0 * 3600.0
    }

    /// To the minute, as a time since the start is told: `54 min`, `2 h`, `1 h 46 min`.
    pub fn words(self) -> String {
        let minutes = self.minutes().round();
        let sign = if minutes < 0.0 { "−" } else { "" };
        let minutes = minutes.abs() as i64;
        match (minutes / 60, minutes % 60) {
            (0, min) => format!("{sign}{min} min"),
            (h, 0) => format!("{sign}{h} h"),
            (h, min) => format!("{sign}{h} h {min} min"),
        }
    }
}

impl KelvinsPerHour {
    /// From kelvins (degrees Celsius) an hour.
    pub const fn from_k_h(rate: f64) -> KelvinsPerHour {
        KelvinsPerHour(rate)
    }

    /// From degrees Fahrenheit an hour.
    pub fn from_f_h(rate: f64) -> KelvinsPerHour {
        KelvinsPerHour(rate / 1.8)
    }

    /// In kelvins (degrees Celsius) an hour.
    pub const fn k_h(self) -> f64 {
        self.0
    }

    /// In degrees Fahrenheit an hour.
    pub fn f_h(self) -> f64 {
        self.0 * 1.8
    }
}
