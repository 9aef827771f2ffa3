//! What a row of a preheat method says.

use serde::{Deserialize, Serialize};

use super::carbon_equivalent::CarbonEquivalent;
use super::cet_method::CetMethod;
use crate::wording::{exact, short};

/// What a row of a preheat method says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PreheatValue {
    /// A carbon equivalent from the composition.
    CarbonEquivalent(CarbonEquivalent),
    /// Preheat from carbon equivalent, thickness, hydrogen and heat input.
    CetMethod(CetMethod),
    /// By how much in weight percent the parent's CET must exceed the weld metal's.
    WeldMetalMargin(f64),
    /// A worked preheat is rounded up to a multiple of this in °C.
    RoundUp(f64),
    /// The codes that send preheat to this document.
    SentBy(Vec<String>),
    /// Below this result in °C no preheat is asked.
    NoneBelow {
        /// The result in °C.
        below_c: f64,
        /// The metal is at least this warm in °C, and dry.
        at_least_c: f64,
    },
}

impl PreheatValue {
    /// What the value is, as a reader knows it.
    pub fn name(&self) -> &'static str {
        match self {
            PreheatValue::CarbonEquivalent(_) => "carbon equivalent",
            PreheatValue::CetMethod(_) => "preheat by formula",
            PreheatValue::WeldMetalMargin(_) => "margin over the weld metal",
            PreheatValue::RoundUp(_) => "rounding",
            PreheatValue::NoneBelow { .. } => "no preheat below",
            PreheatValue::SentBy(_) => "codes that send here",
        }
    }

    /// The unit in which it is written.
    pub fn unit(&self) -> &'static str {
        match self {
            PreheatValue::CarbonEquivalent(_) | PreheatValue::WeldMetalMargin(_) => "%",
            PreheatValue::CetMethod(_)
            | PreheatValue::RoundUp(_)
            | PreheatValue::NoneBelow { .. } => "°C",
            PreheatValue::SentBy(_) => "words",
        }
    }

    /// The value in words.
    pub fn words(&self) -> String {
        match self {
            PreheatValue::CarbonEquivalent(formula) => formula.words(),
            PreheatValue::CetMethod(method) => method.words(),
            PreheatValue::WeldMetalMargin(margin) => {
                format!(
                    "parent CET at least {} % over that of the weld metal",
                    exact(*margin)
                )
            }
            PreheatValue::RoundUp(step) => format!("up to the next {} °C", short(*step)),
            PreheatValue::NoneBelow {
                below_c,
                at_least_c,
            } => format!(
                "a result below {} °C asks none; the metal dry and at least {} °C",
                short(*below_c),
                short(*at_least_c)
            ),
            PreheatValue::SentBy(codes) => codes.join(", "),
        }
    }

    /// What it answers: no two rows of one table that hold together may answer the same.
    pub fn question(&self) -> String {
        match self {
            PreheatValue::CarbonEquivalent(formula) => formula.name.clone(),
            other => other.name().to_string(),
        }
    }
}
