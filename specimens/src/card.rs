//! A cycle card: the limits that an answer is compared with.

/// The limits of a cycle. The numbers of specimens are invented.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Card {
    /// Lowest temperature of the hold in °C.
    pub hold_low_c: f64,
    /// Highest temperature of the hold in °C.
    pub hold_high_c: f64,
    /// Hold asked for, in hours.
    pub hold_h: f64,
    /// Temperature in °C above which rates are limited.
    pub rates_above_c: f64,
    /// Greatest heating rate in K/h.
    pub heating_k_h: f64,
    /// Greatest cooling rate in K/h.
    pub cooling_k_h: f64,
    /// Greatest spread in the hold in K.
    pub spread_k: f64,
}

impl Card {
    /// 600 to 650 °C for 2 h, 150 K/h above 300 °C both ways, 40 K.
    pub fn usual() -> Card {
        Card {
            hold_low_c: 600.0,
            hold_high_c: 650.0,
            hold_h: 2.0,
            rates_above_c: 300.0,
            heating_k_h: 150.0,
            cooling_k_h: 150.0,
            spread_k: 40.0,
        }
    }
}
