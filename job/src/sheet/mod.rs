//! The document of a plan: one page to work from, then the pages of the engineer.

use cycle::outcome::Outcome;
use cycle::proposal::Proposal;
use cycle::setup::Setup;
use report::{Block, Paper, Running, Sheet};
use rules::band::Bands;
use rules::requirement::Requirement;

use crate::model::{Job, Taken};

/// Everything that stands on a plan, by reference.
#[derive(Clone, Copy, Debug)]
pub struct PlanSheet<'a> {
    /// The job.
    pub job: &'a Job,
    /// What the weld needs.
    pub requirement: &'a Requirement,
    /// The bands, side by side by rule.
    pub bands: &'a Bands,
    /// What was computed, with the coil, the blanket and the thermocouples that are to be wrapped.
    pub setup: &'a Setup,
    /// Where the coil was proposed: the trials and the reason.
    pub proposal: Option<&'a Proposal>,
    /// What is predicted.
    pub outcome: &'a Outcome,
    /// What the predicted scans say against the limits.
    pub findings: &'a checks::Findings,
    /// What was taken besides what the job itself lists, for example by the programme.
    pub taken: &'a [Taken],
    /// Who or what made the sheet and when, in the words that stand at its foot; empty for none.
    pub made: &'a str,
    /// Paper size.
    pub paper: Paper,
}

/// The document of a plan.
pub fn plan_sheet(plan: &PlanSheet) -> Sheet {
    let identification = &plan.job.identification;
    Sheet {
        title: format!("Heat plan for weld {}", identification.weld),
        subject: identification.line.clone(),
        author: identification.prepared_by.clone(),
        language: "en-US".into(),
        paper: plan.paper,
        running: Running {
            head_left: format!("Weld {}", identification.weld),
            head_right: format!("Plan, revision {}", identification.revision),
            foot_left: plan.made.into(),
            mark: plan.job.demo.as_ref().map(|_| "demo".into()),
        },
        blocks: vec![Block::paragraph(
            plan.findings
                .findings
                .iter()
                .map(|f| f.reason.as_str())
                .collect::<Vec<_>>()
                .join("; "),
        )],
    }
}
