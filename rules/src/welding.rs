//! What the rules of preheat and bake-out ask of the welding itself.

use std::collections::BTreeMap;

use quantity::{Celsius, Millimeters};
use serde::{Deserialize, Serialize};

/// What is known of the welding. Every field may be absent; a rule that needs it names it as missing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Welding {
    /// Kind of the joint for its combined thickness; by the form of the joint if not given.
    pub joint: Option<JointKind>,
    /// Heat input in kJ/mm, efficiency of the process included (EN 1011-1).
    pub heat_input_kj_mm: Option<f64>,
    /// Diffusible hydrogen of the deposited metal in ml/100 g (ISO 3690).
    pub hydrogen_ml_100g: Option<f64>,
    /// How stiffly the joint is held.
    pub restraint: Option<Restraint>,
    /// Thickness of all legs that carry heat away, added up; else worked out from the joint.
    pub combined_thickness: Option<Millimeters>,
    /// Composition of the deposited metal in weight percent by element symbol.
    pub weld_metal: BTreeMap<String, f64>,
    /// Specified minimum yield strength of the parent metal in MPa.
    pub yield_strength_mpa: Option<f64>,
    /// Preheat that the user read from the charts of EN 1011-2 method A.
    pub chart_preheat: Option<Celsius>,
    /// Steel and process category of the prequalified table of AWS D1.1.
    pub structural_category: Option<StructuralCategory>,
}

/// Kind of a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum JointKind {
    /// Two parts end to end.
    Butt,
    /// A part that stands on one that runs through, welded on one side at a time.
    Fillet,
    /// The same with both fillets laid at the same time, one opposite the other.
    TwinFillet,
}

/// How stiffly a joint is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Restraint {
    /// The parts can move freely.
    Low,
    /// As in most structures.
    Medium,
    /// The parts cannot move.
    High,
}

/// Steel and process category of the prequalified table of AWS D1.1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum StructuralCategory {
    /// Covered electrodes that are not low in hydrogen.
    A,
    /// Low-hydrogen electrodes, submerged arc, gas metal arc, flux cored arc.
    B,
    /// As B, for the stronger listed steels.
    C,
    /// Electrodes of at most 8 ml/100 g, for the listed steels of controlled rolling.
    D,
}

impl Restraint {
    /// In one word.
    pub fn words(self) -> &'static str {
        match self {
            Restraint::Low => "low",
            Restraint::Medium => "medium",
            Restraint::High => "high",
        }
    }
}

impl JointKind {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            JointKind::Butt => "butt",
            JointKind::Fillet => "fillet",
            JointKind::TwinFillet => "twin fillets",
        }
    }
}

impl StructuralCategory {
    /// Its letter.
    pub fn letter(self) -> &'static str {
        match self {
            StructuralCategory::A => "A",
            StructuralCategory::B => "B",
            StructuralCategory::C => "C",
            StructuralCategory::D => "D",
        }
    }
}
