//! The files of a plan: the PDF with job and plan attached, the page and the data.

use report::{Attachment, Moment, Relationship, ReportError};

use crate::calendar;
use crate::folder::NewFile;
use crate::plan::Plan;
use crate::plan_json::plan_file;

/// Files that could not be made.
#[derive(Debug, thiserror::Error)]
pub enum DocumentError {
    /// The page could not be set.
    #[error("the document could not be set: {0}")]
    Page(#[from] ReportError),
    /// The data could not be written as JSON.
    #[error("plan.json could not be written: {0}")]
    Data(#[from] serde_json::Error),
}

/// `plan.pdf`, `plan.html` and `plan.json`.
///
/// # Errors
/// [`DocumentError`].
pub fn plan_files(plan: &Plan, made_at: Moment) -> Result<Vec<NewFile>, DocumentError> {
    let json = serde_json::to_vec_pretty(&plan_file(plan))?;
    let sheet = plan.sheet(&calendar::made(env!("CARGO_PKG_VERSION"), made_at));
    let attachments = [
        Attachment {
            name: "job.toml".into(),
            mime: "application/toml".into(),
            bytes: plan.job.text.clone().into_bytes(),
            description: "The job file that the plan was made from".into(),
            relationship: Relationship::Source,
        },
        Attachment {
            name: "plan.json".into(),
            mime: "application/json".into(),
            bytes: json.clone(),
            description: "The plan for other programs".into(),
            relationship: Relationship::Data,
        },
    ];
    let pdf = report::pdf(&sheet, &attachments, made_at)?;
    let html = report::html(&sheet).into_bytes();
    let files = [("plan.pdf", pdf), ("plan.html", html), ("plan.json", json)];
    Ok(files
        .into_iter()
        .map(|(name, bytes)| NewFile {
            name: name.to_owned(),
            bytes,
        })
        .collect())
}
