//! `soakwright new`: a weld after a pattern, or many from a weld list.

use std::path::PathBuf;
use std::process::ExitCode;

use job::folder::Project;
use job::new_welds::{NotMade, Taken, begin_with, bring_demo_log, listed, make, make_listed};
use job::weld_list::WeldList;

use crate::folder::{self, Unread};
use crate::out;

/// Arguments of `new`.
#[derive(Debug, clap::Args)]
#[command(group = clap::ArgGroup::new("what").required(true).args(["weld", "list"]))]
pub struct Arguments {
    /// The project: a folder with one folder for each weld. It is made if it is missing.
    project: PathBuf,
    /// The number of the weld; its folder is named after it.
    #[arg(long, value_name = "NUMBER")]
    weld: Option<String>,
    /// A weld list (CSV): the first line names keys of the job file, each row is a weld.
    #[arg(long, value_name = "FILE")]
    list: Option<PathBuf>,
    /// What the welds are like: empty:si, empty:us (inches and °F), a weld of the project or a job file without its dates,
    /// people and decisions, demo:carbon-steel-line, demo:thick-9cr-header or demo:unequal-heavy-fitting.
    #[arg(long, value_name = "PATTERN", default_value = "empty:si")]
    like: String,
    /// Only look at the list.
    #[arg(long, requires = "list")]
    check: bool,
    /// Bring the invented log to a demo weld.
    #[arg(long, requires = "weld")]
    demo_log: bool,
}

#[derive(Debug, thiserror::Error)]
enum NotDone {
    #[error("{0}")]
    NotMade(#[from] NotMade),
    #[error("{0}")]
    Unread(#[from] Unread),
    #[error("{file}: {problem}")]
    NoList { file: String, problem: String },
}

/// Made, or nothing is wrong with the list: 0. Refused, and nothing was made: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    match done(arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(not_done) => {
            eprintln!("{not_done}");
            ExitCode::from(2)
        }
    }
}

fn done(arguments: &Arguments) -> Result<(), NotDone> {
    let project = Project::at(&arguments.project);
    // One demo is made whole, to be looked at; many welds of a list are nobody's demo.
    let taken = match arguments.weld {
        Some(_) => Taken::WholeDemo,
        None => Taken::WhatFits,
    };
    let pattern = pattern_of(&project, &arguments.like, taken)?;
    if let Some(weld) = &arguments.weld {
        let folder = make(&project, weld, &pattern)?;
        out::line(format_args!("Made {}", folder.path().display()));
        if arguments.demo_log {
            out::line(format_args!(
                "Brought {}",
                bring_demo_log(&folder)?.display()
            ));
        }
    }
    if let Some(file) = &arguments.list {
        let bytes = std::fs::read(file).map_err(|problem| NotDone::NoList {
            file: file.display().to_string(),
            problem: problem.to_string(),
        })?;
        many(
            &project,
            &listed(&project, &bytes, &pattern),
            arguments.check,
        )?;
    }
    Ok(())
}

/// A pattern of the project, or else a job file.
fn pattern_of(project: &Project, like: &str, taken: Taken) -> Result<String, NotDone> {
    match begin_with(project, like, taken) {
        Err(NotMade::NoPattern { .. }) if PathBuf::from(like).is_file() => Ok(
            job::pattern::pattern(&folder::read(&PathBuf::from(like))?.text),
        ),
        other => Ok(other?),
    }
}

fn many(project: &Project, list: &WeldList, only_check: bool) -> Result<(), NotMade> {
    for mistake in &list.mistakes {
        eprintln!("{mistake}");
    }
    for weld in &list.welds {
        for mistake in &weld.mistakes {
            eprintln!("line {}, weld {}: {mistake}", weld.line, weld.weld);
        }
    }
    let in_all = list.missing_in_all();
    if !in_all.is_empty() {
        eprintln!("every row still needs: {}", in_all.join(", "));
    }
    for weld in &list.welds {
        let own = weld.missing.iter().map(String::as_str);
        let own: Vec<&str> = own.filter(|one| !in_all.contains(one)).collect();
        if !own.is_empty() {
            let missing = own.join(", ");
            eprintln!(
                "line {}, weld {}: still needed: {missing}",
                weld.line, weld.weld
            );
        }
    }
    if only_check && list.is_good() {
        out::line(format_args!(
            "{} rows, nothing is wrong with them",
            list.welds.len()
        ));
        return Ok(());
    }
    out::line(format_args!("Made {} welds", make_listed(project, list)?));
    Ok(())
}
