//! What a composition tells: a temperature, by a constant, parts in proportion, a squared sum and square roots; and whether
//! the metal can be what it is called.

use std::collections::BTreeMap;

use crate::requirement::{Clause, Remark};
use crate::row::{CompositionFormula, TableKind, Value};
use crate::shelf::Shelf;
use crate::standing::OpenQuestion;
use crate::weld::{Side, Weld};
use crate::when::is_over;
use crate::wording::exact;

/// Why a formula gives nothing for a composition.
#[derive(Clone, Debug, PartialEq)]
pub enum NotAt {
    /// Elements that it needs and nobody gave.
    NotGiven(Vec<String>),
    /// An element beyond what it holds for, both in weight percent.
    Above {
        /// The element.
        element: String,
        /// What was found.
        found: f64,
        /// The most for which the formula holds.
        most: f64,
    },
    /// An element short of what it holds for, both in weight percent.
    Below {
        /// The element.
        element: String,
        /// What was found.
        found: f64,
        /// The least for which the formula holds.
        least: f64,
    },
}

impl NotAt {
    /// The reason in words, with both numbers where one is beyond the range.
    pub fn words(&self) -> String {
        match self {
            NotAt::NotGiven(elements) => format!("{} not given", elements.join(", ")),
            NotAt::Above {
                element,
                found,
                most,
            } => format!(
                "{element} {} % lies above {} %",
                exact(*found),
                exact(*most)
            ),
            NotAt::Below {
                element,
                found,
                least,
            } => format!(
                "{element} {} % lies below {} %",
                exact(*found),
                exact(*least)
            ),
        }
    }
}

impl CompositionFormula {
    /// The temperature in °C at a composition in weight percent; none where an element it needs is not given or one
    /// lies outside its range.
    pub fn at(&self, percent: &BTreeMap<String, f64>) -> Option<f64> {
        self.worked(percent).ok()
    }

    /// As [`CompositionFormula::at`], with the reason where there is none.
    ///
    /// # Errors
    /// An element that is needed and not given, or one beyond the range.
    pub fn worked(&self, percent: &BTreeMap<String, f64>) -> Result<f64, NotAt> {
        let beyond = self.percent_at_most.iter().find_map(|(element, most)| {
            let found = percent.get(element).filter(|found| *found > most)?;
            Some(NotAt::Above {
                element: element.clone(),
                found: *found,
                most: *most,
            })
        });
        let short = self.percent_at_least.iter().find_map(|(element, least)| {
            let found = percent.get(element).filter(|found| *found < least)?;
            Some(NotAt::Below {
                element: element.clone(),
                found: *found,
                least: *least,
            })
        });
        let lacking = self
            .needs
            .iter()
            .filter(|need| !percent.contains_key(*need));
        let lacking: Vec<String> = lacking.cloned().collect();
        match beyond.or(short) {
            Some(outside) => Err(outside),
            None if !lacking.is_empty() => Err(NotAt::NotGiven(lacking)),
            None => Ok(self.sum(percent)),
        }
    }

    fn sum(&self, percent: &BTreeMap<String, f64>) -> f64 {
        let content = |element: &String| percent.get(element).copied().unwrap_or(0.0);
        let parts = |factors: &BTreeMap<String, f64>, of: fn(f64) -> f64| -> f64 {
            let each = factors
                .iter()
                .map(|(element, factor)| factor * of(content(element)));
            each.sum()
        };
        let sum: f64 = self.squared_sum_of.iter().map(content).sum();
        self.base
            + parts(&self.per_percent, |percent| percent)
            + parts(&self.per_root_percent, f64::sqrt)
            + self.squared * sum * sum
    }

    /// The formula in words.
    pub fn words(&self) -> String {
        let mut text = exact(self.base);
        let mut add = |factor: f64, what: String| {
            let sign = if factor < 0.0 { "−" } else { "+" };
            text.push_str(&format!(" {sign} {}·{what}", exact(factor.abs())));
        };
        for (element, factor) in &self.per_root_percent {
            add(*factor, format!("√{element}"));
        }
        for (element, factor) in &self.per_percent {
            add(*factor, element.clone());
        }
        if self.squared != 0.0 {
            add(
                self.squared,
                format!("({})²", self.squared_sum_of.join("+")),
            );
        }
        text
    }
}

/// What a composition of a side says against the name of its metal.
fn against(weld: &Weld, shelf: &Shelf) -> Vec<(String, Clause)> {
    let mut found: Vec<(String, Clause)> = Vec::new();
    for (index, side) in weld.sides.iter().enumerate() {
        for table in shelf.of_kind(TableKind::Metal) {
            let rows = table
                .rows
                .iter()
                .filter(|row| row.is_on() && row.when.fits_metal(side));
            for row in rows {
                let said = beyond(&row.value, side).map(|what| {
                    let metal = side.p_number.words();
                    format!("{} is called {metal}, and {what}", weld.who(index))
                });
                if let Some(said) =
                    said.filter(|said| !found.iter().any(|(known, _)| known == said))
                {
                    found.push((said, row.clause_in(table, "")));
                }
            }
        }
    }
    found
}

fn beyond(value: &Value, side: &Side) -> Option<String> {
    let Value::Composition {
        percent_at_least,
        percent_at_most,
    } = value
    else {
        return None;
    };
    let content = |element: &String| side.chemistry.get(element).copied();
    let short = percent_at_least.iter().find_map(|(element, least)| {
        let found = content(element).filter(|found| is_over(*least, *found))?;
        Some(NotAt::Below {
            element: element.clone(),
            found,
            least: *least,
        })
    });
    let over = percent_at_most.iter().find_map(|(element, most)| {
        let found = content(element).filter(|found| is_over(*found, *most))?;
        Some(NotAt::Above {
            element: element.clone(),
            found,
            most: *most,
        })
    });
    short.or(over).map(|not| not.words())
}

/// The contradictions as questions.
pub(crate) fn contradictions(weld: &Weld, shelf: &Shelf) -> Vec<OpenQuestion> {
    let open = |(said, clause): (String, Clause)| OpenQuestion {
        key: "side.chemistry".to_owned(),
        text: format!("{said}: which of the two is right?"),
        clause,
    };
    against(weld, shelf).into_iter().map(open).collect()
}

/// The contradictions as cautions.
pub(crate) fn warnings(weld: &Weld, shelf: &Shelf) -> Vec<Remark> {
    let warning = |(said, clause): (String, Clause)| Remark {
        text: format!(
            "warning: {said}: metal and composition contradict each other, and every row is read by the metal's name"
        ),
        clause: Some(clause),
    };
    against(weld, shelf).into_iter().map(warning).collect()
}
