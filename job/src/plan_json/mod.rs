//! The plan as data: `plan.json`, described in `docs/plan-json.md` and `docs/plan.schema.json`.
//!
//! Types of their own, so that the file's shape is a promise and not what the rooms happen to look like inside. Every
//! number carries its unit at the end of its key.

mod course;
mod exposure;
mod needs;
mod page;
mod verdicts;
mod welding;
mod wrap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::file::planned_sha256;
use crate::plan::Plan;
use crate::rest_change::Kept;

pub use course::{Circuit, Course, Energy, Neighbor, Peak, Power, Profile, Scan, Stage, Wall};
pub use exposure::{Distance, Exposure, KeptDistances};
pub use needs::{Band, Clause, Confirmed, Governing, Limit, Needs, Remark};
pub use page::page;
pub use verdicts::{Beside, Finding, Foreseen, Value, Verdicts};
pub use welding::{AfterCycle, BakeOutGuidance, Hold, PreheatGuidance, PreheatMethod, TimeTo};
pub use wrap::{Blanket, Coil, Programme, Source, Thermocouple, Trial, Turn, Wrap};

/// Name and version of the format; the version rises when a key changes its meaning or goes.
pub const FORMAT: &str = "soakwright-plan/1";

/// A plan.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlanFile {
    /// Name and version of this format.
    pub format: String,
    /// Version of the program that made it.
    pub program_version: String,
    /// The job that it was made from.
    pub job: JobOfPlan,
    /// Whether predicted values meet every limit and nothing foreseen stands in the way.
    pub complies: bool,
    /// Findings and what the model foresees, worst first.
    pub verdicts: Verdicts,
    /// What the weld needs.
    pub needs: Needs,
    /// Coil, blanket, source, thermocouples, programme.
    pub wrap: Wrap,
    /// How far persons keep from turns and leads.
    pub exposure: Exposure,
    /// The predicted cycle.
    pub course: Course,
    /// The metal at rest at the set point with this coil, by which the next plan says what made it differ; `null` where
    /// no current brings it there.
    pub at_rest: Option<Kept>,
    /// What was taken where file and limits are silent.
    pub taken: Vec<Taken>,
    /// What was assumed, each with its source.
    pub assumptions: Vec<Assumption>,
    /// What the model leaves out.
    pub not_modeled: Vec<String>,
}

/// The job of a plan.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct JobOfPlan {
    /// Name of the file.
    pub file_name: String,
    /// SHA-256 of the file, in hexadecimal digits.
    pub sha256: String,
    /// SHA-256 of what the plan was made from: the file without the tables that only a record reads, by
    /// sorted keys, without comments; and the rows confirmed beside it.
    pub planned_sha256: String,
    /// The invented scenario of a demo; `null` for a real job.
    pub demo: Option<String>,
    /// The project.
    pub project: String,
    /// The weld.
    pub weld: String,
    /// The line or vessel.
    pub line: String,
    /// The procedure.
    pub procedure: String,
    /// Revision of the plan.
    pub revision: String,
    /// Who prepared it.
    pub prepared_by: String,
}

/// A value that was taken where file and limits are silent.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Taken {
    /// The key, with its table.
    pub key: String,
    /// What was taken.
    pub value: String,
}

/// Something that was assumed.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Assumption {
    /// What it is about.
    pub text: String,
    /// The value with its unit.
    pub value: String,
    /// How far it may be off, where known.
    pub spread: Option<String>,
    /// How far it can be trusted: `verified`, `computed`, `user_given`, `common_practice`, `from_memory`, `estimate`,
    /// `unsure`.
    pub status: String,
    /// Where it comes from.
    pub source: String,
}

/// The plan as its file.
pub fn plan_file(plan: &Plan) -> PlanFile {
    PlanFile {
        format: FORMAT.into(),
        program_version: env!("CARGO_PKG_VERSION").into(),
        job: job_of(plan),
        complies: plan.complies(),
        verdicts: verdicts::verdicts(plan),
        needs: needs::needs(plan),
        wrap: wrap::wrap(plan),
        exposure: exposure::exposure(&plan.exposure),
        course: course::course(plan),
        at_rest: plan.at_rest.clone(),
        taken: plan
            .taken
            .iter()
            .map(|t| Taken {
                key: t.key.clone(),
                value: t.value.clone(),
            })
            .collect(),
        assumptions: plan.outcome.assumptions.iter().map(assumption).collect(),
        not_modeled: plan.outcome.not_modeled.clone(),
    }
}

/// The JSON schema of the file.
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(PlanFile).to_value()
}

/// A unit variant of an enum as it stands in JSON (`from_memory`).
pub(crate) fn word(value: impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

fn job_of(plan: &Plan) -> JobOfPlan {
    let job = &plan.job;
    let who = &job.identification;
    JobOfPlan {
        file_name: job.file_name.clone(),
        sha256: readings::sha256(job.text.as_bytes()),
        planned_sha256: planned_sha256(&job.text, &job.weld.confirmed),
        demo: job.demo.clone(),
        project: who.project.clone(),
        weld: who.weld.clone(),
        line: who.line.clone(),
        procedure: who.procedure.clone(),
        revision: who.revision.clone(),
        prepared_by: who.prepared_by.clone(),
    }
}

fn assumption(assumption: &cycle::outcome::Assumption) -> Assumption {
    Assumption {
        text: assumption.text.clone(),
        value: assumption.value.clone(),
        spread: assumption.spread.clone(),
        status: word(assumption.status),
        source: assumption.source.clone(),
    }
}
