//! Findings and what the model foresees, as data.

use checks::Measured;
use schemars::JsonSchema;
use serde::Serialize;

use super::needs::{Limit, limit};
use super::word;
use crate::plan::Plan;

/// Findings and what the model foresees.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Verdicts {
    /// One a limit, in the order of the limits, from the predicted scans.
    pub findings: Vec<Finding>,
    /// What only the model can say, worst first.
    pub foreseen: Vec<Foreseen>,
    /// Cautions, in words: they stand in the way of nothing and are to be heeded all the same.
    pub cautions: Vec<String>,
    /// The definitions by which scans were read.
    pub definitions: Vec<Definition>,
}

/// What was found about one limit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Finding {
    /// The limit.
    pub limit: Limit,
    /// `met`, `not_judged` or `not_met`.
    pub verdict: String,
    /// The predicted value that was compared with the limit.
    pub predicted: Option<Value>,
    /// How far inside the limit (met) or past it (not met).
    pub by_how_much: Option<Value>,
    /// When, in hours since the start.
    pub when_h: Option<f64>,
    /// On which channel.
    pub channel: Option<String>,
    /// The definition used, with its version.
    pub definition: String,
    /// Why, in words.
    pub reason: String,
    /// Other readings of the same thing.
    pub beside: Vec<Beside>,
}

/// Another reading of the same thing; it carries no verdict.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Beside {
    /// What it is.
    pub what: String,
    /// On which channel, if on one.
    pub channel: Option<String>,
    /// The value.
    pub value: Option<Value>,
}

/// A number with its unit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Value {
    /// The number.
    pub number: f64,
    /// `°C`, `K` (a difference), `h` or `K/h`.
    pub unit: String,
}

/// One thing that the model foresees.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Foreseen {
    /// What it is about.
    pub about: String,
    /// `met`, `not_judged` or `not_met`.
    pub verdict: String,
    /// What will be.
    pub says: String,
    /// What can be done about it.
    pub remedy: Option<String>,
}

/// A definition by which scans were read.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Definition {
    /// Its id with its version.
    pub id: String,
    /// What it says, with the numbers used.
    pub text: String,
}

impl Value {
    fn new(number: f64, unit: &str) -> Value {
        Value {
            number,
            unit: unit.into(),
        }
    }

    pub(super) fn celsius(number: f64) -> Value {
        Value::new(number, "°C")
    }

    pub(super) fn kelvins(number: f64) -> Value {
        Value::new(number, "K")
    }

    pub(super) fn hours(number: f64) -> Value {
        Value::new(number, "h")
    }

    pub(super) fn rate(number: f64) -> Value {
        Value::new(number, "K/h")
    }
}

impl From<Measured> for Value {
    fn from(measured: Measured) -> Value {
        match measured {
            Measured::Temperature(t) => Value::celsius(t.c()),
            Measured::Difference(k) => Value::kelvins(k.k()),
            Measured::Time(h) => Value::hours(h.h()),
            Measured::Rate(r) => Value::rate(r.k_h()),
        }
    }
}

pub(super) fn verdicts(plan: &Plan) -> Verdicts {
    let definition = |d: &checks::Definition| Definition {
        id: d.id.into(),
        text: d.text.clone(),
    };
    Verdicts {
        findings: plan.findings.findings.iter().map(finding).collect(),
        foreseen: plan.foreseen.iter().map(foreseen).collect(),
        cautions: plan.outcome.cautions.clone(),
        definitions: plan.findings.definitions.iter().map(definition).collect(),
    }
}

fn finding(finding: &checks::Finding) -> Finding {
    Finding {
        limit: limit(&finding.limit),
        verdict: word(finding.verdict),
        predicted: finding.measured.map(Value::from),
        by_how_much: finding.by_how_much.map(Value::from),
        when_h: finding.when.map(|w| w.h()),
        channel: finding.channel.clone(),
        definition: finding.definition.into(),
        reason: finding.reason.clone(),
        beside: finding.beside.iter().map(beside).collect(),
    }
}

fn beside(beside: &checks::Beside) -> Beside {
    Beside {
        what: beside.what.clone(),
        channel: beside.channel.clone(),
        value: beside.measured.map(Value::from),
    }
}

fn foreseen(foreseen: &crate::foreseen::Foreseen) -> Foreseen {
    Foreseen {
        about: foreseen.about.words(),
        verdict: word(foreseen.verdict),
        says: foreseen.says.clone(),
        remedy: foreseen.remedy.clone(),
    }
}
