//! The record page of a weld: logs in, how they were understood, chart and findings, what was decided, revisions.

mod answers;
mod chart;
mod choices;
mod decide;
mod findings;
mod given;
mod joint;
mod judged;
mod keep;
mod logs;
mod names;
mod page;
mod questions;
mod stays_open;
mod together;

pub use answers::answer;
pub use chart::chart;
pub use decide::{answer_for, decide, set_aside, take_back};
pub use judged::{Records, judged};
pub use keep::{accept, keep, record_file};
pub use page::show;

use job::folder::JobFolder;
use job::record::Basis;
use readings::Mapping;

/// How the logs of a folder are read: as `mapping.toml` says where it is there, else as `[log]` of the job file says.
fn mapping_of(folder: &JobFolder, basis: &Basis) -> Result<Mapping, String> {
    match folder.mapping() {
        None => Ok(basis.paper.mapping.clone()),
        Some(text) => Mapping::from_toml(&text)
            .map_err(|error| format!("{}: {error}", job::folder::MAPPING_FILE)),
    }
}

/// What the logs of a folder are judged by, if this is its job file.
fn basis_of(folder: &JobFolder, text: &str) -> Result<Basis, String> {
    folder.basis(text).map_err(|error| error.to_string())
}
