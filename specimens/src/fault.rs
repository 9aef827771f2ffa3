//! What goes wrong between the metal and the instrument.

use crate::line::Line;

/// What goes wrong with one thermocouple. Times are in hours since the start of the log.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// The circuit opens.
    Open {
        /// From when on.
        from_h: f64,
    },
    /// The instrument shows one value on and on.
    Stuck {
        /// From when on.
        from_h: f64,
        /// Until when.
        to_h: f64,
    },
    /// The two wires are swapped at an instrument whose terminals lie at an ambient temperature.
    Reversed {
        /// Ambient temperature in °C.
        ambient_c: f64,
    },
    /// The junction comes off the metal.
    Detached {
        /// From when on.
        from_h: f64,
        /// By how much it then reads low, in K.
        drop_k: f64,
    },
    /// The field of the coil adds to the reading while the power is on.
    Pickup {
        /// What it adds, in K.
        adds_k: f64,
        /// The stretches in which the power is off.
        off: Vec<(f64, f64)>,
    },
    /// It scatters more than its neighbors.
    Noisy {
        /// From when on.
        from_h: f64,
        /// Standard deviation in K.
        deviation_k: f64,
    },
    /// It departs slowly.
    Drift {
        /// From when on.
        from_h: f64,
        /// How fast, in K/h.
        rate_k_h: f64,
    },
}

/// What a channel shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// Tenths of a degree Celsius.
    Tenths(i32),
    /// The circuit is open.
    Open,
    /// Nothing.
    Silent,
}

impl Fault {
    /// What a thermocouple on this metal says at a time, in °C before noise; `None` where its circuit is open.
    pub fn changes(&self, metal: &Line, hours: f64, true_c: f64) -> Option<f64> {
        Some(match self {
            Fault::Open { from_h } if hours >= *from_h => return None,
            Fault::Stuck { from_h, to_h } if (*from_h..*to_h).contains(&hours) => metal.at(*from_h),
            Fault::Reversed { ambient_c } => 2.0 * ambient_c - true_c,
            Fault::Detached { from_h, drop_k } if hours >= *from_h => true_c - drop_k,
            Fault::Pickup { adds_k, off } if !off.iter().any(|s| (s.0..s.1).contains(&hours)) => {
                true_c + adds_k
            }
            Fault::Drift { from_h, rate_k_h } if hours >= *from_h => {
                true_c + rate_k_h * (hours - from_h)
            }
            _ => true_c,
        })
    }

    /// Standard deviation in K of what it adds to the noise at a time.
    pub fn deviation_k(&self, hours: f64) -> f64 {
        match self {
            Fault::Noisy {
                from_h,
                deviation_k,
            } if hours >= *from_h => *deviation_k,
            _ => 0.0,
        }
    }

    /// Whether the instrument shows no noise at a time either.
    pub fn freezes(&self, hours: f64) -> bool {
        matches!(self, Fault::Stuck { from_h, to_h } if (*from_h..*to_h).contains(&hours))
    }
}
