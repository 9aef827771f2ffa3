//! How closely field and heat follow each other.

use crate::heat::StepSettings;

/// When a new field is solved, and how.
#[derive(Clone, Copy, Debug)]
pub struct Settings {
    /// A temperature that moved this far since the last field asks for a new one, in kelvin.
    pub field_change_k: f64,
    /// The same near the Curie point.
    pub curie_change_k: f64,
    /// The square of the current may change by this factor's logarithm before a new field is solved.
    pub log_power_change: f64,
    /// Solves at a new field, permeability following: two are as good as iterating to the end.
    pub warm_solves: usize,
    /// How time is cut for heat.
    pub steps: StepSettings,
}

impl Settings {
    /// Within half a kelvin of a converged run over an hour (docs/theory/coupling.md, table 1).
    pub fn fine() -> Settings {
        Settings {
            field_change_k: 20.0,
            curie_change_k: 8.0,
            log_power_change: 0.5,
            warm_solves: 2,
            steps: StepSettings {
                tolerance_k: 0.5,
                ..StepSettings::default()
            },
        }
    }

    /// Within three kelvin, at half the cost.
    pub fn quick() -> Settings {
        Settings {
            field_change_k: 60.0,
            curie_change_k: 20.0,
            steps: StepSettings {
                tolerance_k: 1.0,
                ..StepSettings::default()
            },
            ..Settings::fine()
        }
    }
}
