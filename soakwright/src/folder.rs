//! The files of a job folder as the commands read them.

use std::path::{Path, PathBuf};

use job::confirmed::NotConfirmed;
use job::folder::{JOB_FILE, JobFolder, Project};
use job::plan::PlanError;
use job::{Job, NeedJob, Refusal};

/// A file that could not be read.
#[derive(Debug, thiserror::Error)]
#[error("{file}: {problem}")]
pub struct Unread {
    file: String,
    problem: String,
}

/// A file as text.
pub struct Text {
    /// Its name, for messages.
    pub name: String,
    /// What it holds.
    pub text: String,
}

/// Reads a job file; a cycle card is sent to the command that takes it.
///
/// # Errors
/// As [`read`], and where the file is a cycle card.
pub fn read_job(path: &Path) -> Result<Text, Unread> {
    let file = read(path)?;
    match job::is_card(&file.text) {
        false => Ok(file),
        true => Err(Unread {
            file: file.name,
            problem: "a cycle card; soakwright record judges a log by it".into(),
        }),
    }
}

/// Why a job file gives no job.
#[derive(Debug, thiserror::Error)]
pub enum NoJob {
    #[error("{0}")]
    Unread(#[from] Unread),
    #[error("{0}")]
    NotConfirmed(#[from] NotConfirmed),
    /// Told with the account of what is wrong and what is missing, as the desk tells it.
    #[error("{}", .0.told())]
    Refused(#[from] Refusal),
}

/// The whole job of a file, with the rows that are confirmed beside it.
///
/// # Errors
/// [`NoJob`].
pub fn job(path: &Path) -> Result<Job, NoJob> {
    let file = read_job(path)?;
    let confirmed = job::confirmed::beside(path)?;
    Ok(job::read_with(&file.text, &file.name, &confirmed)?)
}

/// The same for a weld of which only the needs are asked.
///
/// # Errors
/// [`NoJob`].
pub fn job_of_need(path: &Path) -> Result<NeedJob, NoJob> {
    let file = read_job(path)?;
    let confirmed = job::confirmed::beside(path)?;
    Ok(job::read_need(&file.text, &file.name, &confirmed)?)
}

/// A job that was read, and cannot be worked out.
#[derive(Debug, thiserror::Error)]
#[error("{file}: {problem}")]
pub struct NotPlanned {
    /// Its file.
    pub file: String,
    /// Why.
    pub problem: PlanError,
}

/// Reads a file that must be there.
///
/// # Errors
/// What the system says, or the line that is no UTF-8.
pub fn read(path: &Path) -> Result<Text, Unread> {
    let name = path.display().to_string();
    let unread = |problem: String| Unread {
        file: name.clone(),
        problem,
    };
    let bytes = std::fs::read(path).map_err(|e| unread(e.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|e| {
        let before = &e.as_bytes()[..e.utf8_error().valid_up_to()];
        let line = 1 + before.iter().filter(|byte| **byte == b'\n').count();
        unread(format!(
            "line {line} is no UTF-8 text; save the file as UTF-8"
        ))
    })?;
    Ok(Text { name, text })
}

/// A path that leads to no weld.
#[derive(Debug, thiserror::Error)]
#[error("{} is no folder of a weld: there is no {JOB_FILE} in it", .path.display())]
pub struct NoWeld {
    path: PathBuf,
}

/// The folder of a weld, or the one round its job file.
///
/// # Errors
/// [`NoWeld`].
pub fn weld(path: &Path) -> Result<JobFolder, NoWeld> {
    let folder = match path.file_name() {
        Some(name) if name == JOB_FILE => path.parent().unwrap_or(path),
        _ => path,
    };
    match folder.join(JOB_FILE).is_file() {
        true => Ok(JobFolder::at(folder)),
        false => Err(NoWeld {
            path: path.to_owned(),
        }),
    }
}

/// The folder of a weld with the project round it, by their whole paths.
///
/// # Errors
/// [`NoWeld`].
pub fn weld_of_project(path: &Path) -> Result<(Project, JobFolder), NoWeld> {
    let no_weld = || NoWeld {
        path: path.to_owned(),
    };
    let whole = weld(path)?.path().canonicalize().map_err(|_| no_weld())?;
    let project = whole.parent().ok_or_else(no_weld)?;
    Ok((Project::at(project), JobFolder::at(&whole)))
}
