//! What of the weld as a whole decides whether a row is read: form of the joint, answers, weld metal.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::answers::Question;
use crate::row::Row;
use crate::weld::Weld;
use crate::wording::exact;

/// The weld as a whole, as a row may ask for it; what is absent is not asked.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct AskedIf {
    /// Read only where this was answered with yes.
    pub yes: Option<Question>,
    /// Not read where this was answered with yes.
    pub not_yes: Option<Question>,
    /// Read only where the weld metal lies here.
    pub weld_metal: Option<SumRange>,
    /// Read only where the walls of the two sides differ, or only where they do not.
    pub walls_differ: Option<bool>,
    /// Read only where a side is clad, or only where none is.
    pub clad: Option<bool>,
    /// Read only where the metals of the two sides differ, or only where they do not.
    pub metals_differ: Option<bool>,
}

/// A sum of contents of the weld metal in weight percent.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SumRange {
    /// The elements that are added up.
    pub sum_of: Vec<String>,
    /// From this on.
    pub from: Option<f64>,
    /// Below this.
    pub below: Option<f64>,
    /// Read also where the composition is not known.
    #[serde(default)]
    pub or_unknown: bool,
}

impl Row {
    /// Whether the row is read for a weld at all, whatever its sides.
    pub(crate) fn is_asked(&self, weld: &Weld) -> bool {
        let said = |question: Option<Question>| question.and_then(|one| weld.answers.to(one));
        let asked = &self.asked_if;
        let [first, second] = &weld.sides;
        let is = |asked: Option<bool>, so: bool| asked.is_none_or(|asked| asked == so);
        self.when.fits_joint(&weld.joint)
            && is(asked.walls_differ, first.wall != second.wall)
            && is(
                asked.clad,
                weld.sides.iter().any(|side| side.cladding.is_some()),
            )
            && is(asked.metals_differ, first.p_number != second.p_number)
            && (asked.yes.is_none() || said(asked.yes) == Some(true))
            && said(asked.not_yes) != Some(true)
            && asked
                .weld_metal
                .as_ref()
                .is_none_or(|range| range.holds(&weld.welding.weld_metal))
    }
}

impl SumRange {
    fn holds(&self, percent: &BTreeMap<String, f64>) -> bool {
        let contents: Option<Vec<f64>> = self
            .sum_of
            .iter()
            .map(|element| percent.get(element).copied())
            .collect();
        match contents {
            None => self.or_unknown,
            Some(contents) => {
                let sum: f64 = contents.iter().sum();
                self.from.is_none_or(|end| sum >= end) && self.below.is_none_or(|end| sum < end)
            }
        }
    }
}

impl AskedIf {
    /// What is asked, in words; empty where nothing is.
    pub(crate) fn words(&self) -> String {
        let mut parts = Vec::new();
        parts.extend(self.yes.map(|one| format!("{} yes", one.asks())));
        parts.extend(self.not_yes.map(|one| format!("{} not yes", one.asks())));
        parts.extend(self.weld_metal.as_ref().map(SumRange::words));
        let differ = |asked: Option<bool>, what: &str| {
            asked.map(|so| format!("{what} {}", if so { "differ" } else { "are the same" }))
        };
        parts.extend(differ(self.walls_differ, "walls"));
        parts.extend(differ(self.metals_differ, "metals"));
        parts.extend(
            self.clad
                .map(|so| if so { "clad" } else { "not clad" }.to_owned()),
        );
        parts.join(", ")
    }
}

impl SumRange {
    fn words(&self) -> String {
        let from = self
            .from
            .map(|end| format!(" from {} %", exact(end)))
            .unwrap_or_default();
        let below = self
            .below
            .map(|end| format!(" below {} %", exact(end)))
            .unwrap_or_default();
        let unknown = if self.or_unknown { " or not known" } else { "" };
        format!(
            "{} of the weld metal{from}{below}{unknown}",
            self.sum_of.join(" + ")
        )
    }
}
