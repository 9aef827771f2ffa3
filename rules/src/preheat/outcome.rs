//! The answer: every method side by side, what each says, and which governs.

use std::fmt;

use quantity::{Celsius, Hours, Millimeters};
use serde::Serialize;

use crate::requirement::{Clause, Remark};
use crate::wording::exact;

/// What the weld needs in preheat and interpass temperature.
#[derive(Clone, Debug, Serialize)]
pub struct Preheat {
    /// The carbon equivalents of each side.
    pub equivalents: Vec<Equivalent>,
    /// Every method that is kept, those of the contract first.
    pub methods: Vec<Method>,
    /// The least preheat that governs; none where no method gives one.
    pub governing: Option<Governing>,
    /// Highest interpass temperatures; the lowest of them governs.
    pub interpass: Vec<Interpass>,
    /// Metals that are not to be warmed beyond a little.
    pub unwanted: Vec<Unwanted>,
    /// How far from the weld the preheat must reach and is measured, by each rule.
    pub zones: Vec<Zone>,
    /// How long to wait before the heated face is read, where only that one is accessible.
    pub settling: Option<Settling>,
    /// The preheat that is applied lies below what governs, or no preheat suits both sides.
    pub falls_short: bool,
    /// Where methods disagree, and what a person must know or answer.
    pub remarks: Vec<Remark>,
}

/// A carbon equivalent of one side or of the weld metal.
#[derive(Clone, Debug, Serialize)]
pub struct Equivalent {
    /// `side 1`, `both sides`, `weld metal`.
    pub who: String,
    /// Its name.
    pub name: String,
    /// The formula.
    pub formula: String,
    /// The value or why there is none.
    pub value: Result<super::carbon_equivalent::Worked, super::carbon_equivalent::NotWorked>,
    /// Where it stands.
    pub clause: Clause,
}

/// One method, read for one side or for the whole weld.
#[derive(Clone, Debug, Serialize)]
pub struct Method {
    /// What it is, for example `EN 1011-2 method B`.
    pub name: String,
    /// `side 1`, `side 2`, `both sides` or `the weld`.
    pub who: String,
    /// What weight it has for this contract.
    pub standing: Standing,
    /// What it says.
    pub outcome: Outcome,
    /// Where it holds, in words.
    pub range: String,
    /// The formula or the row with the numbers put in.
    pub working: String,
    /// What lay at the edge of its range, what was counted as absent.
    pub warnings: Vec<String>,
    /// Where it stands.
    pub clause: Clause,
}

/// What weight a method has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// The contract binds to it: its code, the owner or the procedure.
    Binding,
    /// Good practice for this metal; it governs where it asks more.
    Guidance,
    /// Another code's table, for comparison; it never governs.
    Comparison,
}

/// What a method says.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// At least this temperature before and between runs.
    AtLeast {
        /// As it is asked, rounded by the method's own rule.
        temperature: Celsius,
        /// As it was worked out.
        worked_c: f64,
    },
    /// No preheat, while the metal is dry and at least this warm.
    None {
        /// The metal's own temperature.
        metal_at_least: Celsius,
        /// To what colder metal is warmed first, where the method says so.
        warmed_to: Option<Celsius>,
    },
    /// The method is not for this weld.
    NotApplicable(String),
    /// The weld lies outside the method's range.
    Refused(Vec<Outside>),
    /// The method would hold, but these are not given.
    Missing(Vec<Missing>),
    /// The row is unsure and switched off; this is what it would say.
    Off(String),
}

impl Outcome {
    /// The preheat that is asked; none where nothing is.
    pub fn temperature(&self) -> Option<Celsius> {
        match self {
            Outcome::AtLeast { temperature, .. } => Some(*temperature),
            Outcome::None { metal_at_least, .. } => Some(*metal_at_least),
            _ => None,
        }
    }
}

/// Something that a method needs and nobody gave.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Missing {
    /// What it is.
    pub what: String,
    /// Where a job file says it.
    pub key: String,
}

impl Missing {
    pub(crate) fn new(what: &str, key: &str) -> Missing {
        Missing {
            what: what.into(),
            key: key.into(),
        }
    }

    pub(crate) fn content(element: &String) -> Missing {
        Missing::new(&format!("{element} content"), "side.chemistry")
    }
}

/// A value beyond the limit of a method.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outside {
    /// What it is.
    pub what: String,
    /// What was found.
    pub found: f64,
    /// The limit.
    pub limit: f64,
    /// Whether it lies above the limit; else below.
    pub above: bool,
    /// Unit of both.
    pub unit: &'static str,
}

impl Outside {
    pub(crate) fn above(what: &str, found: f64, limit: f64, unit: &'static str) -> Outside {
        Outside {
            what: what.into(),
            found,
            limit,
            above: true,
            unit,
        }
    }

    pub(crate) fn below(what: &str, found: f64, limit: f64, unit: &'static str) -> Outside {
        Outside {
            above: false,
            ..Outside::above(what, found, limit, unit)
        }
    }
}

impl fmt::Display for Outside {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let side = if self.above { "above" } else { "below" };
        let Outside { what, unit, .. } = self;
        write!(
            f,
            "{what} {} {unit} lies {side} {} {unit}",
            exact(self.found),
            exact(self.limit)
        )
    }
}

/// The method that governs.
#[derive(Clone, Debug, Serialize)]
pub struct Governing {
    /// Index in `methods`.
    pub method: usize,
    /// The least preheat.
    pub temperature: Celsius,
    /// Why this one.
    pub reason: String,
}

/// A highest interpass temperature.
#[derive(Clone, Debug, Serialize)]
pub struct Interpass {
    /// Which side.
    pub who: String,
    /// The highest temperature of the weld before the next run.
    pub at_most: Celsius,
    /// Whether the contract binds to it.
    pub standing: Standing,
    /// Where it stands.
    pub clause: Clause,
}

/// A metal that is not to be warmed beyond a little.
#[derive(Clone, Debug, Serialize)]
pub struct Unwanted {
    /// Which side.
    pub who: String,
    /// The highest sensible preheat.
    pub at_most: Celsius,
    /// Why.
    pub why: String,
    /// Where it stands.
    pub clause: Clause,
}

/// How far the preheat must reach, which is where it is measured.
#[derive(Clone, Debug, Serialize)]
pub struct Zone {
    /// Which rule.
    pub name: String,
    /// Along the surface to each side.
    pub reach: Millimeters,
    /// From the edge of the weld; else from the point of welding.
    pub from_edge: bool,
    /// Whether the contract binds to it.
    pub standing: Standing,
    /// Where it stands.
    pub clause: Clause,
}

/// How long to wait after the heat is taken away.
#[derive(Clone, Debug, Serialize)]
pub struct Settling {
    /// The time.
    pub wait: Hours,
    /// Where it stands.
    pub clause: Clause,
}
