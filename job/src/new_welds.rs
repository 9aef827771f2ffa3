//! New welds after a pattern: a demo weld, a weld of the project, or a job file.

use std::path::{Path, PathBuf};

use crate::edit;
use crate::folder::{FolderError, JobFolder, NewFile, Project, name_for, write_whole};
use crate::weld_list::{self, WeldList};

/// The demo welds: what they are called, what a person reads, and their files. Everything about them is invented.
pub const DEMOS: [(&str, &str, &str); 3] = [
    (
        "demo:carbon-steel-line",
        "carbon steel line",
        include_str!("../../jobs/carbon-steel-line.toml"),
    ),
    (
        "demo:thick-9cr-header",
        "thick 9Cr-1Mo-V header",
        include_str!("../../jobs/thick-9cr-header.toml"),
    ),
    (
        "demo:unequal-heavy-fitting",
        "unequal heavy fitting",
        include_str!("../../jobs/unequal-heavy-fitting.toml"),
    ),
];

/// Empty welds: what they are called, what a person reads, and whether inches come first.
pub const EMPTY: [(&str, &str, bool); 2] = [
    ("empty:si", "nothing, in mm and °C", false),
    ("empty:us", "nothing, in inches and °F", true),
];

/// The invented log of the first demo weld, and the name under which it is brought.
const DEMO_LOG: (&str, &str) = (
    "demo-log.csv",
    include_str!("../../jobs/carbon-steel-line-log.csv"),
);

/// Why no weld was made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotMade {
    /// A weld without a number.
    #[error("A weld needs a number.")]
    NoNumber,
    /// No pattern of that name.
    #[error("there is no pattern {asked:?}: a weld of {}, a job file, or one of {named}", .project.display())]
    NoPattern {
        /// What was asked for.
        asked: String,
        /// The project.
        project: PathBuf,
        /// Patterns that are always there.
        named: String,
    },
    /// The list has mistakes.
    #[error("The list has mistakes; nothing was made.")]
    Mistakes,
    /// The log is for demo welds.
    #[error("The invented log is for demo welds only; this weld is none.")]
    NoDemo,
    /// Only some could be made.
    #[error(
        "After {made} of {all} welds: {problem}. Those made stay; take them out of the list and try again."
    )]
    Only {
        /// How many were made.
        made: usize,
        /// How many there are.
        all: usize,
        /// What went wrong then.
        problem: FolderError,
    },
    /// It could not be written.
    #[error(transparent)]
    Folder(#[from] FolderError),
}

/// What of a pattern a new weld begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// What may be taken over: no dates, people and decisions of another weld, nothing invented of a demo.
    WhatFits,
    /// A demo with all that is invented about it; of everything else, what fits.
    WholeDemo,
}

/// The text that a new weld begins with.
///
/// # Errors
/// [`NotMade::NoPattern`], [`NotMade::Folder`].
pub fn begin_with(project: &Project, asked: &str, taken: Taken) -> Result<String, NotMade> {
    let text = pattern(project, asked)?;
    let is_named = |names: &[&str]| names.contains(&asked);
    let is_whole = is_named(&EMPTY.map(|(name, ..)| name))
        || taken == Taken::WholeDemo && is_named(&DEMOS.map(|(name, ..)| name));
    Ok(if is_whole {
        text
    } else {
        crate::pattern::pattern(&text)
    })
}

/// The text of a pattern: an empty one, a demo, or a weld of the project.
///
/// # Errors
/// [`NotMade::NoPattern`], [`NotMade::Folder`].
fn pattern(project: &Project, asked: &str) -> Result<String, NotMade> {
    if let Some((.., us_units)) = EMPTY.iter().find(|(name, ..)| *name == asked) {
        return Ok(crate::pattern::empty(*us_units));
    }
    if let Some((_, _, text)) = DEMOS.iter().find(|(name, ..)| *name == asked) {
        return Ok((*text).to_owned());
    }
    if let Some(folder) = project.folder(asked) {
        return Ok(folder.job_file()?.text);
    }
    Err(NotMade::NoPattern {
        asked: asked.to_owned(),
        project: project.path().to_owned(),
        named: EMPTY
            .map(|(name, ..)| name)
            .iter()
            .chain(&DEMOS.map(|(name, ..)| name))
            .copied()
            .collect::<Vec<_>>()
            .join(", "),
    })
}

/// Makes a weld after the text of a pattern.
///
/// # Errors
/// [`NotMade::NoNumber`], [`NotMade::Folder`]; then there is no new folder.
pub fn make(project: &Project, weld: &str, pattern: &str) -> Result<JobFolder, NotMade> {
    let weld = weld.trim();
    if weld.is_empty() {
        return Err(NotMade::NoNumber);
    }
    // A pattern that is no whole file is copied as it is; the form says what is wrong with it.
    let text = edit::set(pattern, weld_list::WELD, weld).unwrap_or_else(|_| pattern.to_owned());
    Ok(project.create(&name_for(weld), &text)?)
}

/// Reads a weld list against a project.
pub fn listed(project: &Project, list: &[u8], pattern: &str) -> WeldList {
    let taken = |name: &str| project.path().join(name).exists();
    weld_list::read(list, pattern, &taken)
}

/// Makes every weld of a list, or none where something is wrong with it.
///
/// # Errors
/// [`NotMade::Mistakes`]; [`NotMade::Only`] where the disk gave out on the way.
pub fn make_listed(project: &Project, list: &WeldList) -> Result<usize, NotMade> {
    if !list.is_good() {
        return Err(NotMade::Mistakes);
    }
    let all = list.welds.len();
    for (made, weld) in list.welds.iter().enumerate() {
        let created = project.create(&weld.folder, &weld.text);
        created.map_err(|problem| NotMade::Only { made, all, problem })?;
    }
    Ok(all)
}

/// Brings the invented log to a demo weld; a log that is there stays.
///
/// # Errors
/// [`NotMade::NoDemo`], [`NotMade::Folder`].
pub fn bring_demo_log(folder: &JobFolder) -> Result<PathBuf, NotMade> {
    if edit::get(&folder.job_file()?.text, "demo") != "true" {
        return Err(NotMade::NoDemo);
    }
    let (name, text) = DEMO_LOG;
    if folder.logs().is_empty() {
        let file = NewFile {
            name: name.to_owned(),
            bytes: text.as_bytes().to_owned(),
        };
        write_whole(&folder.logs_path(), &[file])?;
    }
    Ok(Path::new(&folder.logs_path()).join(name))
}
