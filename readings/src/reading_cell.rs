//! From a cell of a temperature column to a temperature.

use quantity::Celsius;

use crate::cell::{Cell, Decimal, cell};
use crate::its90::ThermocoupleType;
use crate::tally::{Tally, Why};
use crate::words::{Unit, words};

/// How the cells of one temperature column are read.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Reader {
    pub decimal: Decimal,
    pub unit: Unit,
    pub scale: f64,
    /// Whether whole numbers may stand for a state instead of a reading.
    pub codes: bool,
    /// Where voltages are logged.
    pub couple: Option<(ThermocoupleType, f64)>,
}

impl Reader {
    /// The temperature in a cell; what gives none is counted.
    pub fn read(
        &self,
        text: &str,
        channel: usize,
        line: usize,
        tally: &mut Tally,
    ) -> Option<Celsius> {
        match cell(text, self.decimal) {
            Cell::Silent => None,
            Cell::Words => {
                tally.count(channel, Why::NoNumber, text.trim(), line);
                None
            }
            Cell::Number(number, unit) => {
                if self.codes
                    && number.fract() == 0.0
                    && let Some(code) = words().code(number as i64)
                {
                    tally.count(channel, Why::BadStatus, &format!("{code} ({number})"), line);
                    return None;
                }
                let read = self.temperature(number * self.scale, unit.unwrap_or(self.unit));
                if read.is_none() {
                    tally.count(channel, Why::OutOfReach, text.trim(), line);
                }
                read
            }
        }
    }

    fn temperature(&self, number: f64, unit: Unit) -> Option<Celsius> {
        let celsius = match unit {
            Unit::Fahrenheit => Celsius::from_f(number).c(),
            Unit::Kelvin | Unit::PerhapsKelvin => number - Celsius::from_c(0.0).absolute_k(),
            Unit::Millivolt => {
                let (couple, cold_junction_c) = self.couple?;
                couple.temperature_c(number, cold_junction_c).ok()?
            }
            _ => number,
        };
        let reach = &words().reach;
        (reach.lowest_c..=reach.highest_c)
            .contains(&celsius)
            .then(|| Celsius::from_c(celsius))
    }
}
