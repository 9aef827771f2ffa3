//! `[[treatment]]`: heat treatments that the part or the coupon of its procedure qualification has seen or will see.

use quantity::{Celsius, Hours, KelvinsPerHour};
use rules::time_temperature::Cycle;

use crate::toml_reader::Table;

use super::measure::{rate, temperature, time};

/// The words of `of`.
pub(crate) const OF: &[&str] = &["part", "coupon"];

/// Temperatures in °C of heat treatment.
const TREATMENT_C: (f64, f64) = (20.0, 1100.0);
/// Times in h.
const TIME_H: (f64, f64) = (0.01, 1000.0);
/// Rates in K/h.
const RATE_K_H: (f64, f64) = (1.0, 5000.0);

/// One heat treatment, and of what.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Treatment {
    /// Whether the coupon saw it; else the part.
    pub of_coupon: bool,
    /// Temperature, time and rates.
    pub cycle: Cycle,
}

/// Reads every `[[treatment]]`.
pub(crate) fn read(root: &Table<'_>) -> Vec<Treatment> {
    root.tables("treatment").iter().filter_map(one).collect()
}

fn one(table: &Table<'_>) -> Option<Treatment> {
    let of = table.need("of", "\"part\" or \"coupon\"");
    let of = of.and_then(|v| v.word_of(OF));
    let temperature = temperature!("temperature").need(table);
    let temperature = temperature.and_then(|r| r.within(TREATMENT_C.0, TREATMENT_C.1));
    let hold = time!("time").need(table);
    let hold = hold.and_then(|r| r.within(TIME_H.0, TIME_H.1));
    let rate_of = |read: Option<super::measure::Read<'_>>| {
        let read = read.and_then(|r| r.within(RATE_K_H.0, RATE_K_H.1));
        read.map(|r| KelvinsPerHour::from_k_h(r.value))
    };
    let heating = rate_of(rate!("heating_rate").get(table));
    let cooling = rate_of(rate!("cooling_rate").get(table));
    table.finish();
    Some(Treatment {
        of_coupon: of? == 1,
        cycle: Cycle {
            temperature: Celsius::from_c(temperature?.value),
            hold: Hours::from_h(hold?.value),
            heating,
            cooling,
        },
    })
}
