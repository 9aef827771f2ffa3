//! A carbon equivalent: a weighted sum of the composition, with the window in which it was found.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::outcome::{Missing, Outside};
use crate::wording::exact;

/// Σ percent/divisor, or with a `bracket` C + A(C)·Σ percent/divisor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CarbonEquivalent {
    /// Its name, for example `CET`.
    pub name: String,
    /// By what the weight percent of each element is divided.
    pub divided_by: BTreeMap<String, f64>,
    /// Factor that carbon sets on the sum; carbon itself then stands before it.
    pub bracket: Option<Bracket>,
    /// Elements without which it is not worked out; the others count as absent and are named.
    pub needs: Vec<String>,
    /// Weight percent from and to which it was found, by element.
    #[serde(default)]
    pub window: BTreeMap<String, (f64, f64)>,
    /// Whether a composition above the window is refused; else it is worked out and said.
    #[serde(default)]
    pub refused_above: bool,
}

/// A(C) = base + swing·tanh[steepness·(C − about)].
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bracket {
    /// Constant.
    pub base: f64,
    /// Largest change to either side.
    pub swing: f64,
    /// Steepness in 1/%.
    pub steepness: f64,
    /// Carbon in % at the middle.
    pub about: f64,
}

impl Bracket {
    /// The factor at a carbon content in weight percent.
    pub fn at(&self, carbon: f64) -> f64 {
        self.base + self.swing * (self.steepness * (carbon - self.about)).tanh()
    }
}

/// A carbon equivalent at a composition.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Worked {
    /// The carbon equivalent in weight percent.
    pub percent: f64,
    /// Elements that were not given and count as absent, so that the true value may be higher.
    pub counted_absent: Vec<String>,
    /// What lay outside the window and how it was taken.
    pub warnings: Vec<String>,
}

/// Why there is none.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum NotWorked {
    /// These are not given.
    Missing(Vec<Missing>),
    /// These lie beyond the window.
    Outside(Vec<Outside>),
}

impl CarbonEquivalent {
    /// The carbon equivalent of a composition in weight percent.
    ///
    /// Below the window an element that raises the result counts as the window's lower end, which only asks more.
    ///
    /// # Errors
    /// [`NotWorked`] with every element that is missing, or every one that lies above the window.
    pub fn at(&self, percent: &BTreeMap<String, f64>) -> Result<Worked, NotWorked> {
        let absent = |element: &&String| !percent.contains_key(*element);
        let missing: Vec<Missing> = self
            .needs
            .iter()
            .filter(absent)
            .map(Missing::content)
            .collect();
        if !missing.is_empty() {
            return Err(NotWorked::Missing(missing));
        }
        let above = self.above(percent);
        if self.refused_above && !above.is_empty() {
            return Err(NotWorked::Outside(above));
        }
        let (counted, mut warnings) = self.lifted(percent);
        warnings.extend(
            above
                .iter()
                .map(|one| format!("{}: {one}; worked out all the same", self.name)),
        );
        Ok(Worked {
            percent: self.sum(&counted),
            counted_absent: self.divided_by.keys().filter(absent).cloned().collect(),
            warnings,
        })
    }

    fn above(&self, percent: &BTreeMap<String, f64>) -> Vec<Outside> {
        let ends = self.window.iter().filter_map(|(element, (_, most))| {
            let found = *percent.get(element)?;
            (found > *most).then(|| Outside::above(element, found, *most, "%"))
        });
        ends.collect()
    }

    /// The composition with what lies below the window lifted to it.
    fn lifted(&self, percent: &BTreeMap<String, f64>) -> (BTreeMap<String, f64>, Vec<String>) {
        let mut counted = percent.clone();
        let mut warnings = Vec::new();
        for (element, (least, _)) in &self.window {
            let Some(found) = counted.get_mut(element).filter(|found| **found < *least) else {
                continue;
            };
            warnings.push(format!(
                "{}: {element} {} % lies below {} %; counted as {} %, which only asks more",
                self.name,
                exact(*found),
                exact(*least),
                exact(*least)
            ));
            *found = *least;
        }
        (counted, warnings)
    }

    fn sum(&self, percent: &BTreeMap<String, f64>) -> f64 {
        let content = |element: &str| percent.get(element).copied().unwrap_or(0.0);
        let sum: f64 = self
            .divided_by
            .iter()
            .map(|(element, by)| content(element) / by)
            .sum();
        match &self.bracket {
            None => sum,
            Some(bracket) => content("C") + bracket.at(content("C")) * sum,
        }
    }

    /// The formula in words.
    pub fn words(&self) -> String {
        let part = |(element, by): (&String, &f64)| match *by {
            1.0 => element.clone(),
            by if by < 1.0 => format!("{}·{element}", exact(1.0 / by)),
            by => format!("{element}/{}", exact(by)),
        };
        let sum = self
            .divided_by
            .iter()
            .map(part)
            .collect::<Vec<_>>()
            .join(" + ");
        match &self.bracket {
            None => format!("{} = {sum}", self.name),
            Some(b) => format!(
                "{} = C + A(C)·[{sum}], A(C) = {} + {}·tanh[{}·(C − {})]",
                self.name,
                exact(b.base),
                exact(b.swing),
                exact(b.steepness),
                exact(b.about)
            ),
        }
    }
}
