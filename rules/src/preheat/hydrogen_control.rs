//! AWS D1.1 hydrogen control method: what its rows say. Index and Pcm table disagree near the column ends; the worse
//! group counts.

use serde::{Deserialize, Serialize};

use crate::welding::Restraint;
use crate::when::is_over;
use crate::wording::{exact, short};

/// factor·Pcm + log10 of the hydrogen that a level counts as.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SusceptibilityIndex {
    /// Factor of Pcm in 1/%.
    pub per_pcm: f64,
    /// The index is rounded up to a multiple of this.
    pub rounded_up_to: f64,
}

/// An index on a step is not lifted to the next by the last digits of a sum.
const STEP_ROUNDING: f64 = 1e-9;

impl SusceptibilityIndex {
    /// The index, not rounded; the hydrogen in ml/100 g.
    pub fn at(&self, pcm_percent: f64, counts_ml_100g: f64) -> f64 {
        self.per_pcm * pcm_percent + counts_ml_100g.log10()
    }

    /// The index as the groups are read with it.
    pub fn rounded(&self, index: f64) -> f64 {
        (index / self.rounded_up_to - STEP_ROUNDING).ceil() * self.rounded_up_to
    }

    pub(crate) fn words(&self) -> String {
        format!(
            "{}·Pcm + log10 H, rounded up to {}",
            exact(self.per_pcm),
            exact(self.rounded_up_to)
        )
    }
}

/// A hydrogen level.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HydrogenLevel {
    /// For example `H1`.
    pub level: String,
    /// Below this in ml/100 g.
    pub below_ml_100g: Option<f64>,
    /// What the index counts, in ml/100 g.
    pub counts_ml_100g: f64,
}

impl HydrogenLevel {
    /// Whether a content in ml/100 g is low enough.
    pub fn holds(&self, ml_100g: f64) -> bool {
        self.below_ml_100g.is_none_or(|end| ml_100g < end)
    }

    pub(crate) fn words(&self) -> String {
        let below = self
            .below_ml_100g
            .map_or("any".into(), |end| format!("below {}", short(end)));
        format!(
            "{}: {below}, counts as {} in the index",
            self.level,
            short(self.counts_ml_100g)
        )
    }
}

/// Groups by the rounded index.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IndexGroups {
    /// Index up to and including which each group holds.
    pub to: Vec<f64>,
    /// The groups, mildest first.
    pub groups: Vec<String>,
}

impl IndexGroups {
    /// The group of a rounded index; none beyond the last.
    pub fn at(&self, rounded: f64) -> Option<&str> {
        let mut bands = self.to.iter().zip(&self.groups);
        bands
            .find(|(to, _)| rounded <= **to + STEP_ROUNDING)
            .map(|(_, group)| group.as_str())
    }

    pub(crate) fn words(&self) -> String {
        let bands: Vec<String> = self
            .to
            .iter()
            .zip(&self.groups)
            .map(|(to, group)| format!("{group} to {}", short(*to)))
            .collect();
        bands.join(", ")
    }
}

/// Groups by Pcm at one hydrogen level.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PcmGroups {
    /// The hydrogen level.
    pub level: String,
    /// Pcm in % below which each group holds.
    pub below_percent: Vec<f64>,
    /// The groups.
    pub groups: Vec<String>,
}

impl PcmGroups {
    /// The group at a Pcm in %; none from the last column's end on.
    pub fn at(&self, pcm_percent: f64) -> Option<&str> {
        let mut columns = self.below_percent.iter().zip(&self.groups);
        columns
            .find(|(below, _)| is_over(**below, pcm_percent))
            .map(|(_, group)| group.as_str())
    }

    pub(crate) fn words(&self) -> String {
        let columns = self.below_percent.iter().zip(&self.groups);
        let columns: Vec<String> = columns
            .map(|(below, group)| format!("{group} below {}", exact(*below)))
            .collect();
        format!("{}: {}", self.level, columns.join(", "))
    }
}

/// Preheat by group at a restraint, in °F; 0 stands for none.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RestraintPreheat {
    /// The restraint.
    pub restraint: Restraint,
    /// In °F by group, mildest first.
    pub preheat_f: Vec<f64>,
}

impl RestraintPreheat {
    pub(crate) fn words(&self) -> String {
        let cells: Vec<String> = self.preheat_f.iter().map(|f| short(*f)).collect();
        format!("{} restraint: {}", self.restraint.words(), cells.join(", "))
    }
}
