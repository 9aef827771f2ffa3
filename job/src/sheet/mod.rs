//! The document of a plan: one page to work from, then the pages of the engineer.

pub(crate) mod axes;
mod engineer;
mod site;
pub(crate) mod words;

pub(crate) use engineer::needs::confirmed;
pub use words::clock;

use cycle::outcome::{Outcome, Snapshot};
use cycle::proposal::Proposal;
use cycle::setup::{Coil, Setup};
use quantity::Units;
use report::{Drawing, Paper, Running, Sheet};
use rules::band::Bands;
use rules::preheat::Preheat;
use rules::requirement::{Remark, Requirement};
use rules::{Confirmation, RuleError};

use crate::file::NeedJob;
use crate::foreseen::Foreseen;
use crate::model::{Job, Taken};
use crate::need::{BakeOutNeed, Exposure};

/// Everything that stands on a plan, by reference.
#[derive(Clone, Copy, Debug)]
pub struct PlanSheet<'a> {
    /// The job.
    pub job: &'a Job,
    /// What the weld needs.
    pub requirement: &'a Requirement,
    /// What is heeded while the heat is set up.
    pub advice: &'a [Remark],
    /// Preheat and interpass temperature by every method.
    pub preheat: &'a Preheat,
    /// The bake-out of the weld, and what this cycle leaves of its hydrogen.
    pub bake_out: &'a BakeOutNeed,
    /// How far persons keep from turns and leads.
    pub exposure: &'a Exposure,
    /// The bands, side by side by rule.
    pub bands: &'a Bands,
    /// What the cycle started from, with the blanket and the thermocouples that are to be wrapped.
    pub setup: &'a Setup,
    /// The turns, given or proposed.
    pub coil: &'a Coil,
    /// Where the coil was proposed: the trials and the reason.
    pub proposal: Option<&'a Proposal>,
    /// What is predicted.
    pub outcome: &'a Outcome,
    /// What the predicted scans say against the limits.
    pub findings: &'a checks::Findings,
    /// What only the model can say, worst first.
    pub foreseen: &'a [Foreseen],
    /// What was taken where file and limits are silent.
    pub taken: &'a [Taken],
    /// Who or what made the sheet and when, in the words that stand at its foot; empty for none.
    pub made: &'a str,
    /// Paper size.
    pub paper: Paper,
}

/// The document of a plan: the page to work from first.
pub fn plan_sheet(plan: &PlanSheet) -> Sheet {
    let frame = frame(plan);
    let mut blocks = site::page(plan, &frame);
    blocks.extend(engineer::pages(plan));
    Sheet { blocks, ..frame }
}

/// What the weld needs, with its bands: what can be said before anything is computed.
pub fn needs_sheet(
    (requirement, bands): (&Requirement, &Bands),
    confirmed: &[Confirmation],
    units: Units,
) -> Sheet {
    let mut blocks = engineer::needs::blocks(requirement, units);
    blocks.extend(engineer::bands::blocks(bands, units));
    blocks.extend(engineer::needs::confirmed(confirmed));
    Sheet {
        blocks,
        language: "en-US".into(),
        ..Sheet::default()
    }
}

/// [`needs_sheet`] of a file from which no plan can be made yet.
///
/// # Errors
/// The rules refuse the weld, or know no band for it.
pub fn needs_so_far(job: &NeedJob) -> Result<Sheet, RuleError> {
    let requirement = rules::requirement(&job.weld)?;
    let bands = rules::bands(&job.weld)?;
    let about = (&requirement, &bands);
    Ok(needs_sheet(about, &job.weld.confirmed, job.units))
}

/// The section at one instant: temperature in color, and loss with field lines in ink. `when` ends the title.
pub fn section_pictures(
    setup: &Setup,
    units: Units,
    snapshot: &Snapshot,
    when: &str,
) -> [Drawing; 2] {
    engineer::picture::pictures(setup, units, snapshot, when)
}

/// The document without its content.
fn frame(plan: &PlanSheet) -> Sheet {
    let who = &plan.job.identification;
    let named = |name: &str, value: &str| match value {
        "" => name.to_string(),
        value => format!("{name} {value}"),
    };
    Sheet {
        title: format!("Heat plan, {}", named("weld", &who.weld)),
        subject: String::new(),
        author: who.prepared_by.clone(),
        language: "en-US".into(),
        paper: plan.paper,
        margins: report::Margins::Usual,
        running: Running {
            head_left: named("Weld", &who.weld),
            head_right: match who.revision.as_str() {
                "" => "Plan".into(),
                revision => format!("Plan, revision {revision}"),
            },
            foot_left: plan.made.into(),
            mark: plan.job.demo.as_ref().map(|_| "demo, not for use".into()),
        },
        blocks: Vec::new(),
    }
}
