//! A proposed coil with the trials behind it.

use serde::Serialize;

use crate::setup::Coil;

/// A proposed coil and frequency, what was tried, and why this one.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// The coil.
    pub coil: Coil,
    /// The working frequency in Hz.
    pub frequency_hz: f64,
    /// Every candidate that was computed, in order.
    pub trials: Vec<TrialRow>,
    /// Why this one was chosen.
    pub reason: String,
}

/// One candidate.
#[derive(Clone, Debug, Serialize)]
pub struct TrialRow {
    /// Number of turns.
    pub turns: usize,
    /// Mean pitch in mm.
    pub pitch_mm: f64,
    /// Middle of the coil from the weld center in mm.
    pub offset_mm: f64,
    /// How much wider the pitch is in the middle than at the ends, as a ratio.
    pub opening: f64,
    /// Frequency in Hz.
    pub frequency_hz: f64,
    /// Coldest place of the soak band at the steady hold in °C; `None` where only the circuit was looked at.
    pub coldest_c: Option<f64>,
    /// Hottest place of the soak band at the steady hold in °C.
    pub hottest_c: Option<f64>,
    /// Power into the metal at the steady hold in W.
    pub hold_power_w: Option<f64>,
    /// The least reserve of power, current and voltage over the states looked at, in percent; negative when short.
    pub least_reserve_percent: f64,
    /// How it ended.
    pub verdict: String,
}
