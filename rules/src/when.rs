//! Where a row holds, and whether a side of a weld lies there.

use std::collections::BTreeMap;

use quantity::Units;
use serde::{Deserialize, Serialize};

use crate::joint::{BranchForm, Joint, JointForm};
use crate::weld::{Orientation, Side, is_iso_group};
use crate::wording::{exact, length, strength};

/// The range of a row. `over` and `below` exclude their end, `from` and `to` include it; what is absent is not asked.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct When {
    /// P-numbers; empty: any.
    pub p_numbers: Vec<String>,
    /// Group numbers; empty: any.
    pub groups: Vec<u8>,
    /// Thickness over this, in mm.
    pub over_mm: Option<f64>,
    /// Thickness from this on, in mm.
    pub from_mm: Option<f64>,
    /// Thickness up to and including this, in mm.
    pub to_mm: Option<f64>,
    /// Thickness below this, in mm.
    pub below_mm: Option<f64>,
    /// Specified minimum tensile strength over this, in MPa.
    pub tensile_over_mpa: Option<f64>,
    /// Specified minimum tensile strength up to and including this, in MPa.
    pub tensile_to_mpa: Option<f64>,
    /// Weight percent over this.
    pub percent_over: BTreeMap<String, f64>,
    /// Weight percent up to and including this.
    pub percent_to: BTreeMap<String, f64>,
    /// Outside diameter over this, in mm.
    pub diameter_over_mm: Option<f64>,
    /// Outside diameter up to and including this, in mm.
    pub diameter_to_mm: Option<f64>,
    /// Direction of the pipe axis.
    pub orientation: Option<Orientation>,
    /// Forms of the joint; empty: any. What holds for fillets holds for seal welds and attachments, too.
    pub joints: Vec<JointForm>,
    /// Of fillets and sockets the thickness is that of the wall: of a socket the pipe's.
    pub fillet_at_wall: bool,
    /// Of a socket only the pipe's composition is asked.
    pub percent_of_pipe: bool,
    /// How a branch sits on the run; empty: any.
    pub branches: Vec<BranchForm>,
    /// Editions among those of the table; empty: all of them.
    pub editions: Vec<String>,
}

/// What a row may ask of a metal beside its composition.
pub(crate) const GROUP: &str = "group number";
pub(crate) const TENSILE: &str = "tensile strength";

/// Whether a row holds for a side.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Fit {
    /// It does.
    Yes,
    /// It may; these are not known.
    Maybe(Vec<String>),
    /// It does not.
    No,
}

/// A measure on a printed end is not lifted over it by the last digits of 0.75 in in millimeters.
const MEASURE_ROUNDING: f64 = 1e-6;

/// Whether a measure lies over an end of the same unit.
pub(crate) fn is_over(measure: f64, end: f64) -> bool {
    measure > end + MEASURE_ROUNDING
}

/// A condition: known to hold, known not to hold, or not known (with its name).
type Answer = Result<bool, String>;

impl When {
    /// Whether a row holds for a side at a thickness in mm.
    pub(crate) fn fit(&self, side: &Side, thickness_mm: f64) -> Fit {
        let fits_diameter = self.fits_diameter(side.outside_diameter.mm());
        if !self.fits_metal(side) || !self.fits_thickness(thickness_mm) || !fits_diameter {
            return Fit::No;
        }
        let mut unknown = Vec::new();
        for answer in self.answers(side) {
            match answer {
                Ok(true) => {}
                Ok(false) => return Fit::No,
                Err(name) => unknown.push(name),
            }
        }
        unknown.dedup();
        if unknown.is_empty() {
            Fit::Yes
        } else {
            Fit::Maybe(unknown)
        }
    }

    /// Whether P-number and group fit; a group that is not given may.
    pub(crate) fn fits_metal(&self, side: &Side) -> bool {
        let number = side.p_number.number.trim();
        let number_fits = self.p_numbers.is_empty()
            || self
                .p_numbers
                .iter()
                .any(|known| known.eq_ignore_ascii_case(number));
        number_fits && self.fits_group(side) != Ok(false)
    }

    fn fits_group(&self, side: &Side) -> Answer {
        match side.p_number.group {
            _ if self.groups.is_empty() => Ok(true),
            Some(group) => Ok(self.groups.contains(&group)),
            None => Err(GROUP.to_owned()),
        }
    }

    /// Whether the thickness in mm lies in the row's range.
    pub(crate) fn fits_thickness(&self, thickness_mm: f64) -> bool {
        self.over_mm.is_none_or(|end| is_over(thickness_mm, end))
            && self.from_mm.is_none_or(|end| !is_over(end, thickness_mm))
            && self.to_mm.is_none_or(|end| !is_over(thickness_mm, end))
            && self.below_mm.is_none_or(|end| is_over(end, thickness_mm))
    }

    /// Whether the form of the joint fits; a branch whose seat is not given may be any.
    pub(crate) fn fits_joint(&self, joint: &Joint) -> bool {
        let seat = |branch: &BranchForm| self.branches.contains(branch);
        let fillet = joint.form.is_fillet() && self.joints.contains(&JointForm::Fillet);
        (self.joints.is_empty() || fillet || self.joints.contains(&joint.form))
            && (self.branches.is_empty() || joint.branch.as_ref().is_none_or(seat))
    }

    /// Whether nothing but the metal is asked.
    pub(crate) fn is_only_metal(&self) -> bool {
        let metal = When {
            p_numbers: self.p_numbers.clone(),
            groups: self.groups.clone(),
            ..When::default()
        };
        *self == metal && !self.p_numbers.is_empty()
    }

    /// Whether an end of the range has a unit.
    pub fn is_measured(&self) -> bool {
        *self != self.with_ends_of(&When::default())
    }

    /// The range with the ends of another column: everything that has a unit comes from there.
    pub(crate) fn with_ends_of(&self, other: &When) -> When {
        When {
            over_mm: other.over_mm,
            from_mm: other.from_mm,
            to_mm: other.to_mm,
            below_mm: other.below_mm,
            tensile_over_mpa: other.tensile_over_mpa,
            tensile_to_mpa: other.tensile_to_mpa,
            diameter_over_mm: other.diameter_over_mm,
            diameter_to_mm: other.diameter_to_mm,
            ..self.clone()
        }
    }

    /// Whether the row stands in an edition of its table.
    pub(crate) fn fits_edition(&self, edition: &str) -> bool {
        self.editions.is_empty() || self.editions.iter().any(|known| known == edition)
    }

    /// Whether diameter and direction fit.
    pub(crate) fn fits_pipe(&self, diameter_mm: f64, orientation: Orientation) -> bool {
        self.fits_diameter(diameter_mm) && self.orientation.is_none_or(|asked| asked == orientation)
    }

    fn fits_diameter(&self, diameter_mm: f64) -> bool {
        self.diameter_over_mm
            .is_none_or(|end| is_over(diameter_mm, end))
            && self
                .diameter_to_mm
                .is_none_or(|end| !is_over(diameter_mm, end))
    }

    fn answers(&self, side: &Side) -> Vec<Answer> {
        let tensile = side.tensile_strength_mpa.ok_or_else(|| TENSILE.to_string());
        let percent = |element: &String| {
            let known = side.chemistry.get(element).copied();
            known.ok_or_else(|| format!("{element} content"))
        };
        let mut answers: Vec<Answer> = vec![self.fits_group(side)];
        answers.extend(
            self.tensile_over_mpa
                .map(|end| tensile.clone().map(|value| is_over(value, end))),
        );
        answers.extend(
            self.tensile_to_mpa
                .map(|end| tensile.clone().map(|value| !is_over(value, end))),
        );
        answers.extend(
            self.percent_over
                .iter()
                .map(|(element, end)| percent(element).map(|value| value > *end)),
        );
        answers.extend(
            self.percent_to
                .iter()
                .map(|(element, end)| percent(element).map(|value| value <= *end)),
        );
        answers
    }

    /// The thickness range in words, empty where there is none.
    pub(crate) fn thickness_words(&self, units: Units) -> String {
        let ends = [
            ("over", self.over_mm),
            ("from", self.from_mm),
            ("to", self.to_mm),
            ("below", self.below_mm),
        ];
        let parts: Vec<String> = ends
            .into_iter()
            .filter_map(|(word, end)| Some(format!("{word} {}", length(end?, units))))
            .collect();
        parts.join(" ")
    }

    /// P-numbers and groups in words.
    pub(crate) fn metal_words(&self) -> String {
        let (iso, asme): (Vec<&str>, Vec<&str>) = self
            .p_numbers
            .iter()
            .map(String::as_str)
            .partition(|number| is_iso_group(number));
        let groups: Vec<String> = self.groups.iter().map(u8::to_string).collect();
        let mut words = Vec::new();
        if !asme.is_empty() {
            words.push(format!("P-No. {}", asme.join(", ")));
        }
        if !groups.is_empty() {
            words.push(format!("Gr. {}", groups.join(", ")));
        }
        if !iso.is_empty() {
            words.push(format!("group {}", iso.join(", ")));
        }
        words.join(", ")
    }

    /// The whole range in words.
    pub fn words(&self, units: Units) -> String {
        let mut parts: Vec<String> = Some(self.metal_words())
            .filter(|words| !words.is_empty())
            .into_iter()
            .collect();
        let thickness = self.thickness_words(units);
        if !thickness.is_empty() {
            parts.push(format!("t {thickness}"));
        }
        parts.extend(
            self.tensile_over_mpa
                .map(|end| format!("tensile strength over {}", strength(end, units))),
        );
        parts.extend(
            self.tensile_to_mpa
                .map(|end| format!("tensile strength to {}", strength(end, units))),
        );
        parts.extend(
            self.percent_over
                .iter()
                .map(|(element, end)| format!("{element} over {} %", exact(*end))),
        );
        parts.extend(
            self.percent_to
                .iter()
                .map(|(element, end)| format!("{element} to {} %", exact(*end))),
        );
        parts.extend(
            self.diameter_over_mm
                .map(|end| format!("OD over {}", length(end, units))),
        );
        parts.extend(
            self.diameter_to_mm
                .map(|end| format!("OD to {}", length(end, units))),
        );
        if !self.joints.is_empty() {
            let forms: Vec<&str> = self.joints.iter().map(|form| form.words()).collect();
            parts.push(forms.join(" or "));
        }
        if !self.branches.is_empty() {
            let seats: Vec<&str> = self.branches.iter().map(|branch| branch.words()).collect();
            parts.push(seats.join(" or "));
        }
        if !self.editions.is_empty() {
            parts.push(format!("edition {}", self.editions.join(", ")));
        }
        parts.extend(self.orientation.map(|direction| match direction {
            Orientation::Horizontal => "pipe horizontal".to_string(),
            Orientation::Vertical => "pipe vertical".to_string(),
        }));
        parts.join(", ")
    }
}
