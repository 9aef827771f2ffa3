//! What the weld needs, as data.

use rules::Confirmation;
use rules::band;
use rules::requirement::{self, LimitKind};
use schemars::JsonSchema;
use serde::Serialize;

use super::verdicts::Value;
use super::welding::{self, BakeOutGuidance, PreheatGuidance};
use super::word;
use crate::plan::Plan;

/// What the weld needs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Needs {
    /// What the heat is for: `stress_relief`, `preheat`, `hydrogen_bake_out`.
    pub purpose: String,
    /// The code of the contract.
    pub code: String,
    /// Its edition.
    pub edition: String,
    /// The thickness by which rows are read.
    pub governing_thickness_mm: f64,
    /// Why this one.
    pub governing_thickness_reason: String,
    /// Every limit of every level.
    pub limits: Vec<Limit>,
    /// What the reader should know.
    pub remarks: Vec<Remark>,
    /// The soak band that governs.
    pub soak_band: Governing,
    /// The heated band that governs.
    pub heated_band: Governing,
    /// The gradient control band that governs.
    pub gradient_control_band: Governing,
    /// The bands by every rule, side by side.
    pub bands: Vec<Band>,
    /// Preheat and interpass temperature.
    pub preheat: PreheatGuidance,
    /// Hydrogen bake-out, and what the predicted cycle leaves.
    pub bake_out: BakeOutGuidance,
    /// Heating index of the governing bands: heated outside over twice the metal's section and the bore of the soak band.
    pub heating_index: Option<f64>,
    /// What is heeded while the heat is set up.
    pub advice: Vec<Remark>,
    /// Rows that somebody confirmed or entered.
    pub confirmed: Vec<Confirmed>,
}

/// A row that somebody read in the document himself.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Confirmed {
    /// The id of the row.
    pub row: String,
    /// Who read it.
    pub by: String,
    /// On which day, as it was written.
    pub on: String,
    /// Where it was read, and what else a reader should know.
    pub note: Option<String>,
}

/// One limit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Limit {
    /// `hold_min`, `hold_max`, `hold_time`, `heating_rate`, `cooling_rate`, `hold_spread` or `heating_spread`.
    pub kind: String,
    /// Who sets it: `code`, `owner`, `procedure` or `guidance`.
    pub level: String,
    /// Its value.
    pub value: Value,
    /// Rates only: the temperature above which it holds, in °C.
    pub above_c: Option<f64>,
    /// Spread while heating only: the distance within which it holds, in mm.
    pub within_mm: Option<f64>,
    /// Where it stands.
    pub clause: Clause,
    /// What brought it.
    pub reason: String,
}

/// Where a value stands.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Clause {
    /// Document and edition.
    pub document: String,
    /// Clause or table.
    pub clause: String,
    /// How far it can be trusted.
    pub status: String,
    /// What a reader should know besides.
    pub note: Option<String>,
}

/// Something the reader should know.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Remark {
    /// The remark.
    pub text: String,
    /// Where it comes from, if from a document.
    pub clause: Option<Clause>,
}

/// The bands by one rule; `null` where it is silent.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Band {
    /// Full width of the soak band in mm.
    pub soak_mm: Option<f64>,
    /// Full width of the heated band in mm.
    pub heated_mm: Option<f64>,
    /// Full width of the gradient control band in mm.
    pub gradient_control_mm: Option<f64>,
    /// The formula with its numbers put in.
    pub working: String,
    /// Whether the rule binds this weld.
    pub binding: bool,
    /// Where it stands.
    pub clause: Clause,
}

/// A width with what brought it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Governing {
    /// Full width in mm, centered on the weld.
    pub width_mm: f64,
    /// Number of the row in `bands`, from 0.
    pub row: usize,
    /// Why this one.
    pub reason: String,
}

pub(super) fn needs(plan: &Plan) -> Needs {
    let requirement = &plan.requirement;
    Needs {
        purpose: word(requirement.purpose),
        code: requirement.code.code.clone(),
        edition: requirement.code.edition.clone(),
        governing_thickness_mm: requirement.governing_thickness.thickness.mm(),
        governing_thickness_reason: requirement.governing_thickness.reason.clone(),
        limits: requirement.limits.iter().map(limit).collect(),
        remarks: requirement.remarks.iter().map(remark).collect(),
        soak_band: governing(&plan.bands.soak),
        heated_band: governing(&plan.bands.heated),
        gradient_control_band: governing(&plan.bands.gradient_control),
        bands: plan.bands.by_rule.iter().map(band_row).collect(),
        preheat: welding::preheat(&plan.preheat),
        bake_out: welding::bake_out(&plan.bake_out),
        heating_index: plan.bands.heating_index,
        advice: plan.advice.iter().map(remark).collect(),
        confirmed: plan.job.weld.confirmed.iter().map(confirmed).collect(),
    }
}

fn confirmed(one: &Confirmation) -> Confirmed {
    Confirmed {
        row: one.row.clone(),
        by: one.by.clone(),
        on: one.on.clone(),
        note: one.note.clone(),
    }
}

pub(super) fn limit(limit: &requirement::Limit) -> Limit {
    let (kind, value, above_c, within_mm) = match limit.kind {
        LimitKind::HoldMin(t) => ("hold_min", Value::celsius(t.c()), None, None),
        LimitKind::HoldMax(t) => ("hold_max", Value::celsius(t.c()), None, None),
        LimitKind::HoldTime(h) => ("hold_time", Value::hours(h.h()), None, None),
        LimitKind::HeatingRate { above, rate } => (
            "heating_rate",
            Value::rate(rate.k_h()),
            Some(above.c()),
            None,
        ),
        LimitKind::CoolingRate { above, rate } => (
            "cooling_rate",
            Value::rate(rate.k_h()),
            Some(above.c()),
            None,
        ),
        LimitKind::HoldSpread(k) => ("hold_spread", Value::kelvins(k.k()), None, None),
        LimitKind::HeatingSpread { spread, within } => (
            "heating_spread",
            Value::kelvins(spread.k()),
            None,
            Some(within.mm()),
        ),
    };
    Limit {
        kind: kind.into(),
        level: word(limit.level),
        value,
        above_c,
        within_mm,
        clause: clause(&limit.clause),
        reason: limit.reason.clone(),
    }
}

pub(super) fn clause(clause: &requirement::Clause) -> Clause {
    Clause {
        document: clause.document.clone(),
        clause: clause.clause.clone(),
        status: word(clause.status),
        note: clause.note.clone(),
    }
}

pub(super) fn remark(remark: &requirement::Remark) -> Remark {
    Remark {
        text: remark.text.clone(),
        clause: remark.clause.as_ref().map(clause),
    }
}

fn band_row(row: &band::BandRow) -> Band {
    Band {
        soak_mm: row.soak.map(|w| w.mm()),
        heated_mm: row.heated.map(|w| w.mm()),
        gradient_control_mm: row.gradient_control.map(|w| w.mm()),
        working: row.working.clone(),
        binding: row.binding,
        clause: clause(&row.clause),
    }
}

fn governing(governing: &band::Governing) -> Governing {
    Governing {
        width_mm: governing.width.mm(),
        row: governing.row,
        reason: governing.reason.clone(),
    }
}
