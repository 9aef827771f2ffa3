//! The weld as the rules see it.

use std::collections::BTreeMap;

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Millimeters, Units};
use serde::{Deserialize, Serialize};

use crate::answers::Answers;
use crate::confirm::Confirmation;
use crate::joint::Joint;
use crate::welding::Welding;

/// A weld between two sides, and what is asked for it.
#[derive(Clone, Debug)]
pub struct Weld {
    /// The two sides.
    pub sides: [Side; 2],
    /// Width of the weld cap at its widest.
    pub cap_width: Millimeters,
    /// Direction of the pipe axis.
    pub orientation: Orientation,
    /// What the heat is for.
    pub purpose: Purpose,
    /// The code of the contract and its edition, for example `ASME B31.3` and `2022`.
    pub code: CodeEdition,
    /// The procedure's own limits, where it has any.
    pub procedure: OwnLimits,
    /// The owner's own limits, where there are any.
    pub owner: OwnLimits,
    /// What is known of the welding itself.
    pub welding: Welding,
    /// The rows that the user confirmed or entered.
    pub confirmed: Vec<Confirmation>,
    /// The units of the job: of a document with two columns the one in these binds, and messages are in them.
    pub units: Units,
    /// The form of the weld.
    pub joint: Joint,
    /// What only a person can answer.
    pub answers: Answers,
}

/// One pipe side of the weld.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// Outside diameter at the weld; infinite for a flat plate.
    pub outside_diameter: Millimeters,
    /// Wall at the weld.
    pub wall: Millimeters,
    /// P-number and group of its metal.
    pub p_number: PNumber,
    /// Composition in weight percent by element symbol, where known.
    pub chemistry: BTreeMap<String, f64>,
    /// Specified minimum tensile strength in MPa, where known.
    pub tensile_strength_mpa: Option<f64>,
    /// Temperature at which the metal was tempered, where known.
    pub tempered_at: Option<Celsius>,
    /// Thickness of its cladding, which is not part of the wall.
    pub cladding: Option<Millimeters>,
}

impl Side {
    /// Whether the metal is the same in all that the rules read; the measures may differ.
    pub fn same_metal(&self, other: &Side) -> bool {
        self.p_number == other.p_number
            && self.chemistry == other.chemistry
            && self.tensile_strength_mpa == other.tensile_strength_mpa
            && self.tempered_at == other.tempered_at
    }
}

impl Weld {
    /// `side 1`, `side 2`, or `both sides` where the metals are the same.
    pub(crate) fn who(&self, index: usize) -> String {
        match self.sides[0].same_metal(&self.sides[1]) {
            true => "both sides".into(),
            false => format!("side {}", index + 1),
        }
    }
}

/// P-number and group number of a base metal (ASME IX grouping); for a code that groups by ISO 15608 its group, for
/// example `5.1`, stands as the number.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct PNumber {
    /// For example `1`, `5A`, `15E`.
    pub number: String,
    /// Group number, where known.
    pub group: Option<u8>,
}

impl PNumber {
    /// That of a metal which is known by its composition alone.
    pub(crate) fn none() -> PNumber {
        PNumber {
            number: String::new(),
            group: None,
        }
    }

    pub(crate) fn is_none(&self) -> bool {
        self.number.trim().is_empty()
    }

    /// `P-No. 4 Gr. 1`, or `group 5.1` of ISO 15608.
    pub fn words(&self) -> String {
        let number = self.number.trim();
        match self.group {
            _ if number.is_empty() => "by its composition".to_owned(),
            _ if is_iso_group(number) => format!("group {number}"),
            Some(group) => format!("P-No. {number} Gr. {group}"),
            None => format!("P-No. {number}"),
        }
    }
}

/// ISO 15608 writes its groups with a point.
pub(crate) fn is_iso_group(number: &str) -> bool {
    number.contains('.')
}

/// Direction of the pipe axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Orientation {
    /// The pipe lies.
    Horizontal,
    /// The pipe stands.
    Vertical,
}

/// What the heat is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// Post-weld heat treatment.
    StressRelief,
    /// Warm before and during welding.
    Preheat,
    /// Driving out hydrogen after welding.
    HydrogenBakeOut,
}

impl Purpose {
    /// The purpose in words.
    pub fn words(self) -> &'static str {
        match self {
            Purpose::StressRelief => "stress relief",
            Purpose::Preheat => "preheat",
            Purpose::HydrogenBakeOut => "hydrogen bake-out",
        }
    }
}

/// A code and its edition.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct CodeEdition {
    /// For example `ASME B31.3`.
    pub code: String,
    /// For example `2022`.
    pub edition: String,
}

/// Limits that a procedure or an owner sets on top of the code; every field may be absent.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct OwnLimits {
    /// Name and revision of the document that sets them.
    pub document: Option<String>,
    /// Lower end of the hold range.
    pub hold_min: Option<Celsius>,
    /// Upper end of the hold range.
    pub hold_max: Option<Celsius>,
    /// Least hold time.
    pub hold_time: Option<Hours>,
    /// Fastest heating above the threshold.
    pub heating_rate: Option<KelvinsPerHour>,
    /// Fastest cooling above the threshold.
    pub cooling_rate: Option<KelvinsPerHour>,
    /// Temperature above which the rates hold.
    pub rate_threshold: Option<Celsius>,
    /// Largest spread between thermocouples during the hold.
    pub spread: Option<Kelvins>,
}
