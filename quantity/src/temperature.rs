//! Temperatures and differences of temperatures.

use serde::{Deserialize, Serialize};

/// The offset between the Kelvin and Celsius scales (definition, ITS-90).
pub const ZERO_CELSIUS_K: f64 = 273.15;

/// A temperature.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Celsius(f64);

/// A difference of two temperatures, in kelvins.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Kelvins(f64);

impl Celsius {
    /// From degrees Celsius.
    pub const fn from_c(degrees: f64) -> Celsius {
        Celsius(degrees)
    }

    /// From degrees Fahrenheit.
    pub fn from_f(degrees: f64) -> Celsius {
        Celsius((degrees - 32.0) / 1.8)
    }

    /// In degrees Celsius.
    pub const fn c(self) -> f64 {
        self.0
    }

    /// In degrees Fahrenheit.
    pub fn f(self) -> f64 {
        self.0 * 1.8 + 32.0
    }

    /// Above absolute zero, in kelvins.
    pub fn absolute_k(self) -> f64 {
        self.0 + ZERO_CELSIUS_K
    }

    /// The lower of two.
    pub fn min(self, other: Celsius) -> Celsius {
        Celsius(self.0.min(other.0))
    }

    /// The higher of two.
    pub fn max(self, other: Celsius) -> Celsius {
        Celsius(self.0.max(other.0))
    }
}

impl Kelvins {
    /// From kelvins.
    pub const fn from_k(kelvins: f64) -> Kelvins {
        Kelvins(kelvins)
    }

    /// From a difference in degrees Fahrenheit.
    pub fn from_f_difference(degrees: f64) -> Kelvins {
        Kelvins(degrees / 1.8)
    }

    /// In kelvins.
    pub const fn k(self) -> f64 {
        self.0
    }

    /// As a difference in degrees Fahrenheit.
    pub fn f_difference(self) -> f64 {
        self.0 * 1.8
    }
}

impl std::ops::Sub for Celsius {
    type Output = Kelvins;
    fn sub(self, other: Celsius) -> Kelvins {
        Kelvins(self.0 - other.0)
    }
}

impl std::ops::Add<Kelvins> for Celsius {
    type Output = Celsius;
    fn add(self, difference: Kelvins) -> Celsius {
        Celsius(self.0 + difference.0)
    }
}

impl std::ops::Sub<Kelvins> for Celsius {
    type Output = Celsius;
    fn sub(self, difference: Kelvins) -> Celsius {
        Celsius(self.0 - difference.0)
    }
}

#[cfg(test)]
mod tests {
    use super::{Celsius, Kelvins};

    #[test]
    fn a_difference_has_no_offset() {
        assert!((Kelvins::from_f_difference(100.0).k() - 55.5556).abs() < 1e-3);
        assert!((Celsius::from_f(100.0).c() - 37.7778).abs() < 1e-3);
        assert_eq!(Celsius::from_c(600.0).f(), 1112.0);
    }
}
