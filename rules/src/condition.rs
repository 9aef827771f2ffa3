//! A condition of an exemption: met, not met, or to be asked.

use quantity::Units;
use serde::{Deserialize, Serialize};

use crate::answers::Question;
use crate::joint::JointForm;
use crate::weld::Weld;
use crate::when::is_over;
use crate::wording::{length, temperature};

/// What must also be so for an exemption to hold.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Condition {
    /// Preheat of at least this in °C is applied.
    pub preheat_c: Option<f64>,
    /// The question to answer.
    pub answer: Option<Question>,
    /// The answer that it takes: `true` if left out.
    pub is: Option<bool>,
    /// Outside diameter of at most this in mm.
    pub diameter_to_mm: Option<f64>,
    /// Inside diameter of at most this in mm; of a branch weld that of the branch.
    pub bore_to_mm: Option<f64>,
    /// Throat of a fillet of at most this in mm.
    pub throat_to_mm: Option<f64>,
    /// Asked only where a wall is over this in mm.
    pub if_wall_over_mm: Option<f64>,
    /// Asked only for these forms of joint; empty: for all.
    pub if_joint: Vec<JointForm>,
}

/// How a condition stands.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Stand {
    /// It is so, with what was given.
    Met(String),
    /// It is not so.
    NotMet(String),
    /// It is not known: the key that answers it, and the words.
    Open { key: String, words: String },
}

impl Condition {
    /// How it stands for a side of a weld; none where it is not asked.
    pub(crate) fn stand(&self, weld: &Weld, side: usize) -> Option<Stand> {
        let widest_mm = weld
            .sides
            .iter()
            .map(|side| side.wall.mm())
            .fold(0.0, f64::max);
        let asked = self
            .if_wall_over_mm
            .is_none_or(|end| is_over(widest_mm, end))
            && (self.if_joint.is_empty() || self.if_joint.contains(&weld.joint.form));
        if !asked {
            return None;
        }
        self.preheat(weld)
            .or_else(|| self.diameter(weld, side))
            .or_else(|| self.bore(weld, side))
            .or_else(|| self.throat(weld))
            .or_else(|| self.answered(weld))
    }

    fn preheat(&self, weld: &Weld) -> Option<Stand> {
        let least_c = self.preheat_c?;
        let words = format!(
            "preheat of at least {} is applied",
            temperature(least_c, weld.units)
        );
        Some(
            match weld.answers.preheat_applied.map(quantity::Celsius::c) {
                None => Stand::Open {
                    key: "preheat_applied".into(),
                    words,
                },
                Some(c) if !is_over(least_c, c) => {
                    Stand::Met(format!("{words} ({})", temperature(c, weld.units)))
                }
                Some(c) => Stand::NotMet(format!("{words} ({} is)", temperature(c, weld.units))),
            },
        )
    }

    fn diameter(&self, weld: &Weld, side: usize) -> Option<Stand> {
        let most_mm = self.diameter_to_mm?;
        let mm = weld.sides[side].outside_diameter.mm();
        let words = format!(
            "outside diameter of at most {}",
            length(most_mm, weld.units)
        );
        Some(if !is_over(mm, most_mm) {
            Stand::Met(words)
        } else {
            Stand::NotMet(words)
        })
    }

    fn bore(&self, weld: &Weld, side: usize) -> Option<Stand> {
        let most_mm = self.bore_to_mm?;
        let side = match weld.joint.form {
            JointForm::Branch => &weld.sides[1],
            _ => &weld.sides[side],
        };
        let mm = side.outside_diameter.mm() - 2.0 * side.wall.mm();
        let words = format!("inside diameter of at most {}", length(most_mm, weld.units));
        Some(if !is_over(mm, most_mm) {
            Stand::Met(words)
        } else {
            Stand::NotMet(words)
        })
    }

    fn throat(&self, weld: &Weld) -> Option<Stand> {
        let most_mm = self.throat_to_mm?;
        let words = format!("a throat of at most {}", length(most_mm, weld.units));
        Some(match weld.joint.throat.map(quantity::Millimeters::mm) {
            None => Stand::Open {
                key: "joint.throat".into(),
                words,
            },
            Some(mm) if !is_over(mm, most_mm) => Stand::Met(words),
            Some(_) => Stand::NotMet(words),
        })
    }

    fn answered(&self, weld: &Weld) -> Option<Stand> {
        let question = self.answer?;
        let wanted = self.is.unwrap_or(true);
        let yes_no = if wanted { "yes" } else { "no" };
        let words = format!("{yes_no} to \"{}\"", question.asks());
        Some(match weld.answers.to(question) {
            None => Stand::Open {
                key: question.key().into(),
                words,
            },
            Some(answer) if answer == wanted => Stand::Met(words),
            Some(_) => Stand::NotMet(words),
        })
    }

    /// The condition in words.
    pub fn words(&self, units: Units) -> String {
        let mut words = if let Some(c) = self.preheat_c {
            format!("preheat of at least {}", temperature(c, units))
        } else if let Some(mm) = self.diameter_to_mm {
            format!("OD to {}", length(mm, units))
        } else if let Some(mm) = self.bore_to_mm {
            format!("inside diameter to {}", length(mm, units))
        } else if let Some(mm) = self.throat_to_mm {
            format!("throat to {}", length(mm, units))
        } else {
            let yes_no = if self.is.unwrap_or(true) { "yes" } else { "no" };
            self.answer.map_or_else(String::new, |question| {
                format!("{} {yes_no}", question.asks())
            })
        };
        if let Some(mm) = self.if_wall_over_mm {
            words = format!("{words} where a wall is over {}", length(mm, units));
        }
        if !self.if_joint.is_empty() {
            let forms: Vec<&str> = self.if_joint.iter().map(|form| form.words()).collect();
            words = format!("{words} for a {}", forms.join(" or "));
        }
        words
    }
}
