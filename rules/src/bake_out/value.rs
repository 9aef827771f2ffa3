//! What a row on bake-out says.

use serde::{Deserialize, Serialize};

use super::diffusivity::{Diffusivity, DiffusivityPoints, MetalKind};
use super::wall::Where;
use crate::wording::{exact, short};

/// What a row on bake-out says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BakeOutValue {
    /// A diffusion coefficient by Arrhenius' law.
    Diffusivity(Diffusivity),
    /// A diffusion coefficient by measured points.
    DiffusivityPoints(DiffusivityPoints),
    /// The metal keeps its hydrogen; the coefficients of this kind show how long.
    Hopeless(MetalKind),
    /// No bake-out is planned for the metal, and why.
    NotPlanned(String),
    /// A hold in common use.
    CommonHold(CommonHold),
    /// Shares of the hydrogen for which times are given.
    Shares(Shares),
}

/// Shares of the hydrogen, between 0 and 1.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shares {
    /// Those that are listed, the largest first.
    pub listed: Vec<f64>,
    /// The one that is sought where nobody says another.
    pub sought: f64,
    /// Where it is sought.
    pub place: Where,
}

/// A hold in common use.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CommonHold {
    /// Temperature in °C.
    pub temperature_c: f64,
    /// Least time in h.
    pub hours: f64,
    /// Hours for each 25 mm of wall, where that is more.
    #[serde(default)]
    pub hours_each_25_mm: f64,
}

impl CommonHold {
    /// Hours at a wall in mm.
    pub fn hours_at(&self, wall_mm: f64) -> f64 {
        /// Step of wall in mm of the rule.
        const STEP_MM: f64 = 25.0;
        self.hours.max(self.hours_each_25_mm * wall_mm / STEP_MM)
    }
}

impl BakeOutValue {
    /// What the value is, as a reader knows it.
    pub fn name(&self) -> &'static str {
        match self {
            BakeOutValue::Diffusivity(_) | BakeOutValue::DiffusivityPoints(_) => {
                "diffusion coefficient of hydrogen"
            }
            BakeOutValue::Hopeless(_) => "metal that keeps its hydrogen",
            BakeOutValue::NotPlanned(_) => "metal that is not baked out",
            BakeOutValue::CommonHold(_) => "hold in use",
            BakeOutValue::Shares(_) => "shares of the hydrogen",
        }
    }

    /// The unit in which it is written.
    pub fn unit(&self) -> &'static str {
        match self {
            BakeOutValue::Diffusivity(_) | BakeOutValue::DiffusivityPoints(_) => "m²/s",
            BakeOutValue::Hopeless(_) | BakeOutValue::NotPlanned(_) => "words",
            BakeOutValue::CommonHold(_) => "h",
            BakeOutValue::Shares(_) => "of 1",
        }
    }

    /// The value in words.
    pub fn words(&self) -> String {
        match self {
            BakeOutValue::Diffusivity(law) => law.words(),
            BakeOutValue::DiffusivityPoints(points) => points.words(),
            BakeOutValue::Hopeless(kind) => {
                format!("by the coefficients of {} metal", kind.words())
            }
            BakeOutValue::NotPlanned(why) => why.clone(),
            BakeOutValue::CommonHold(hold) => {
                let more = match hold.hours_each_25_mm {
                    0.0 => String::new(),
                    more => format!(", or {} h for each 25 mm where that is longer", short(more)),
                };
                format!(
                    "{} °C for {} h{more}",
                    short(hold.temperature_c),
                    short(hold.hours)
                )
            }
            BakeOutValue::Shares(shares) => {
                let listed: Vec<String> = shares.listed.iter().map(|one| exact(*one)).collect();
                format!(
                    "{}; sought {} {}",
                    listed.join(", "),
                    exact(shares.sought),
                    shares.place.words()
                )
            }
        }
    }

    /// What it answers: no two rows of one table that hold together may answer the same.
    pub fn question(&self) -> String {
        match self {
            BakeOutValue::Diffusivity(law) => {
                format!("{} from {} °C", law.metal, short(law.from_c))
            }
            BakeOutValue::DiffusivityPoints(points) => points.metal.clone(),
            BakeOutValue::Hopeless(kind) => format!("hopeless {}", kind.words()),
            BakeOutValue::NotPlanned(_) => "not planned".into(),
            BakeOutValue::CommonHold(hold) => format!("hold at {} °C", short(hold.temperature_c)),
            BakeOutValue::Shares(_) => "shares".into(),
        }
    }
}
