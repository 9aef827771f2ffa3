//! Thermocouple voltages on ITS-90: NIST Monograph 175 (1993), in `readings/data/its-90.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

/// A letter-designated thermocouple.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum ThermocoupleType {
    /// Platinum-30 % rhodium against platinum-6 % rhodium.
    B,
    /// Nickel-chromium against copper-nickel.
    E,
    /// Iron against copper-nickel.
    J,
    /// Nickel-chromium against nickel-aluminum.
    K,
    /// Nickel-chromium-silicon against nickel-silicon.
    N,
    /// Platinum-13 % rhodium against platinum.
    R,
    /// Platinum-10 % rhodium against platinum.
    S,
    /// Copper against copper-nickel.
    T,
}

/// What a reference function cannot answer.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum CoupleError {
    /// Outside the range of the reference function.
    #[error("{temperature_c} °C is outside type {couple:?}, {lowest_c} to {highest_c} °C")]
    Temperature {
        /// The type.
        couple: ThermocoupleType,
        /// The temperature asked.
        temperature_c: f64,
        /// Lower end of the range.
        lowest_c: f64,
        /// Upper end of the range.
        highest_c: f64,
    },
    /// A voltage that no temperature of the range gives.
    #[error("{voltage_mv} mV is outside type {couple:?}, {lowest_mv:.3} to {highest_mv:.3} mV")]
    Voltage {
        /// The type.
        couple: ThermocoupleType,
        /// The voltage, cold junction at 0 °C.
        voltage_mv: f64,
        /// Voltage at the lower end.
        lowest_mv: f64,
        /// Voltage at the upper end.
        highest_mv: f64,
    },
}

#[derive(Debug, Deserialize)]
struct Data {
    piece: Vec<Piece>,
}

#[derive(Debug, Deserialize)]
struct Piece {
    #[serde(rename = "type")]
    couple: ThermocoupleType,
    from_c: f64,
    to_c: f64,
    coefficients: Vec<f64>,
    exponential: Option<Exponential>,
}

#[derive(Debug, Deserialize)]
struct Exponential {
    scale: f64,
    rate: f64,
    center_c: f64,
}

static DATA: LazyLock<Data> = LazyLock::new(|| {
    // The file is part of the program and a test reads it.
    toml::from_str(include_str!("../data/its-90.toml")).unwrap_or_else(|error| panic!("{error}"))
});

/// What is left of a sum of two voltages, as from a cold junction and back.
const ROUNDING_MV: f64 = 1e-9;
/// Halvings of a range of two thousand kelvins: below a nanokelvin.
const HALVINGS: usize = 60;
/// Type B falls before it rises: below its lowest voltage near 21 °C nothing can be told, and up to twice that not which.
const TYPE_B_FROM_C: f64 = 42.0;

impl Piece {
    fn voltage_mv(&self, t: f64) -> f64 {
        let polynomial = self
            .coefficients
            .iter()
            .rev()
            .fold(0.0, |sum, c| sum * t + c);
        let exponential = self
            .exponential
            .as_ref()
            .map_or(0.0, |e| e.scale * (e.rate * (t - e.center_c).powi(2)).exp());
        polynomial + exponential
    }
}

impl ThermocoupleType {
    /// The type of a letter.
    pub fn of_letter(letter: &str) -> Option<ThermocoupleType> {
        use ThermocoupleType as T;
        let all = [T::B, T::E, T::J, T::K, T::N, T::R, T::S, T::T];
        all.into_iter().find(|t| format!("{t:?}") == letter)
    }

    /// Ends of the reference function in °C.
    pub fn range_c(self) -> [f64; 2] {
        let pieces = DATA.piece.iter().filter(|p| p.couple == self);
        pieces.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], p| {
            [low.min(p.from_c), high.max(p.to_c)]
        })
    }

    /// Voltage in mV at a temperature in °C, cold junction at 0 °C.
    ///
    /// # Errors
    /// [`CoupleError::Temperature`] outside the range of the reference function.
    pub fn voltage_mv(self, temperature_c: f64) -> Result<f64, CoupleError> {
        let pieces = DATA.piece.iter().filter(|p| p.couple == self);
        let piece = pieces
            .rev()
            .find(|p| (p.from_c..=p.to_c).contains(&temperature_c));
        let [lowest_c, highest_c] = self.range_c();
        piece
            .map(|p| p.voltage_mv(temperature_c))
            .ok_or(CoupleError::Temperature {
                couple: self,
                temperature_c,
                lowest_c,
                highest_c,
            })
    }

    /// Temperature in °C of a measured voltage in mV with the cold junction at `cold_junction_c`, found by bisection of
    /// the reference function. Type B is read from 42 °C on.
    ///
    /// # Errors
    /// [`CoupleError`] where cold junction or voltage are outside the range.
    pub fn temperature_c(self, measured_mv: f64, cold_junction_c: f64) -> Result<f64, CoupleError> {
        let voltage_mv = measured_mv + self.voltage_mv(cold_junction_c)?;
        let [lowest_c, highest_c] = self.range_c();
        let (mut low, mut high) = match self {
            ThermocoupleType::B => (TYPE_B_FROM_C, highest_c),
            _ => (lowest_c, highest_c),
        };
        let ends_mv = [self.voltage_mv(low)?, self.voltage_mv(high)?];
        if !(ends_mv[0] - ROUNDING_MV..=ends_mv[1] + ROUNDING_MV).contains(&voltage_mv) {
            return Err(CoupleError::Voltage {
                couple: self,
                voltage_mv,
                lowest_mv: ends_mv[0],
                highest_mv: ends_mv[1],
            });
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            match self.voltage_mv(middle)? < voltage_mv {
                true => low = middle,
                false => high = middle,
            }
        }
        Ok(0.5 * (low + high))
    }
}

#[cfg(test)]
mod tests {
    use super::ThermocoupleType as T;

    /// Published tables print microvolts.
    const TABLE_MV: f64 = 5e-4;

    // NIST Monograph 175 (1993) and IEC 60584-1, tables of types K and N, cold junction at 0 °C.
    #[test]
    fn published_voltages() {
        for (t, mv) in [
            (100.0, 4.096),
            (400.0, 16.397),
            (600.0, 24.905),
            (800.0, 33.275),
            (1000.0, 41.276),
        ] {
            let found = T::K.voltage_mv(t).expect("in range");
            assert!((found - mv).abs() < TABLE_MV, "K at {t}: {found}");
        }
        for (t, mv) in [(600.0, 20.613), (1000.0, 36.256)] {
            let found = T::N.voltage_mv(t).expect("in range");
            assert!((found - mv).abs() < TABLE_MV, "N at {t}: {found}");
        }
    }

    #[test]
    fn pieces_meet_and_voltages_lead_back_to_their_temperature() {
        for couple in [T::B, T::E, T::J, T::K, T::N, T::R, T::S, T::T] {
            let [low, high] = couple.range_c();
            let from = if couple == T::B {
                50.0
            } else {
                low.max(-200.0)
            };
            for step in 0..=100 {
                let t = from + (high - from) * f64::from(step) / 100.0;
                let mv = couple.voltage_mv(t).expect("in range")
                    - couple.voltage_mv(25.0).expect("in range");
                let back = couple.temperature_c(mv, 25.0).expect("in range");
                // Pieces of one type differ by less than a microvolt where they meet.
                assert!((back - t).abs() < 0.05, "{couple:?} at {t}: {back}");
            }
        }
    }

    #[test]
    fn outside_the_range_both_numbers_are_named() {
        let error = T::K.voltage_mv(1400.0).expect_err("too hot").to_string();
        assert_eq!(error, "1400 °C is outside type K, -270 to 1372 °C");
        assert!(T::T.temperature_c(40.0, 25.0).is_err());
    }
}
