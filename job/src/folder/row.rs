//! A weld in one row: its state, what is missing, and what runs out. All of it is read from its folder.

use quantity::Units;
use rules::weld::Purpose;

use super::{Contents, JOB_FILE, JobFolder, LastRecord, Project, State};
use crate::edit;
use crate::file::card::is_card;
use crate::model::{Equipment, Job, Paper};

/// A weld as it stands on the board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Name of its folder.
    pub name: String,
    /// The weld's number; that of the folder where the job file gives none.
    pub weld: String,
    /// The line or vessel.
    pub line: String,
    /// What the heat is for.
    pub purpose: String,
    /// Code and edition.
    pub code: String,
    /// Whether everything about it is invented.
    pub demo: bool,
    /// How far it has come.
    pub state: State,
    /// What stands in the way of heating on its plan, or what its last record says against itself, in a few words; empty
    /// where nothing does.
    pub note: String,
    /// What was changed since its last record, in a few words; empty where it was not, or where there is none.
    pub changed: String,
    /// What is missing, in plain words.
    pub missing: String,
    /// When welding ended, in seconds since 1970.
    pub ended_s: Option<i64>,
    /// What was or will be used, with the last day on which its calibration holds (`2027-01-31`).
    pub calibrations: Vec<(String, String)>,
}

impl Row {
    /// Whether every word of a search stands in the row, whatever its case, and the state is the one asked for.
    pub fn fits(&self, search: &str, state: Option<State>) -> bool {
        let words = self.words();
        let wanted = search.to_lowercase();
        state.is_none_or(|state| self.state == state)
            && wanted.split_whitespace().all(|one| words.contains(one))
    }

    fn words(&self) -> String {
        let words = [
            &self.name,
            &self.weld,
            &self.line,
            &self.purpose,
            &self.code,
            &self.note,
            &self.changed,
            &self.missing,
        ];
        words.map(|words| words.to_lowercase()).join("\n")
    }
}

impl Project {
    /// Every weld in a row, read from the folders.
    pub fn rows(&self) -> Vec<Row> {
        self.folders().iter().map(Row::of).collect()
    }
}

impl Row {
    /// Reads a folder.
    pub fn of(folder: &JobFolder) -> Row {
        row_of(folder)
    }
}

/// What its record says against itself; where there is none, what its plan does, while the heat is still to come.
fn note(
    folder: &JobFolder,
    contents: &Contents,
    job: Option<&Job>,
    last: Option<&LastRecord>,
) -> String {
    if let Some(last) = last {
        return last.note().unwrap_or_default();
    }
    let units = job.map_or(Units::Si, |job| job.units);
    let planned = (contents.state() == State::Planned).then(|| folder.planned(units));
    let note = planned.flatten().and_then(|planned| planned.note());
    note.unwrap_or_default()
}

fn purpose_words(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::StressRelief => "stress relief",
        Purpose::Preheat => "preheat",
        Purpose::HydrogenBakeOut => "hydrogen bake-out",
    }
}

fn changed(last: Option<&LastRecord>) -> String {
    last.and_then(LastRecord::changed_words).unwrap_or_default()
}

/// Reads a folder.
fn row_of(folder: &JobFolder) -> Row {
    let contents = folder.contents();
    let text = folder.job_file().map(|file| file.text).unwrap_or_default();
    if is_card(&text) {
        return row_of_card(folder, &contents, &text);
    }
    let last = folder.last_record();
    let confirmed = folder.confirmed().unwrap_or_default();
    let job = crate::file::read_with(&text, JOB_FILE, &confirmed).ok();
    // What stands in a file that no plan can be made from yet is told all the same.
    let need = match &job {
        Some(_) => None,
        None => crate::file::read_need(&text, JOB_FILE, &confirmed).ok(),
    };
    let weld = job.as_ref().map(|job| &job.weld);
    let weld = weld.or(need.as_ref().map(|need| &need.weld));
    let name = folder.name();
    let said = |key: &str| edit::get(&text, &format!("identification.{key}"));
    Row {
        weld: Some(said("weld"))
            .filter(|weld| !weld.is_empty())
            .unwrap_or_else(|| name.clone()),
        line: said("line"),
        purpose: weld
            .filter(|_| !edit::get(&text, "purpose").is_empty())
            .map(|weld| purpose_words(weld.purpose).to_owned())
            .unwrap_or_default(),
        code: weld
            .map(|weld| format!("{} {}", weld.code.code, weld.code.edition))
            .unwrap_or_default(),
        demo: job.as_ref().is_some_and(|job| job.demo.is_some()),
        state: contents.state(),
        note: note(folder, &contents, job.as_ref(), last.as_ref()),
        changed: changed(last.as_ref()),
        missing: contents.missing().join(", "),
        ended_s: job
            .as_ref()
            .and_then(|job| job.welding_ended)
            .map(|ended| ended.as_second()),
        calibrations: job
            .as_ref()
            .map(|job| calibrations(&job.paper))
            .unwrap_or_default(),
        name,
    }
}

/// A cycle card has limits and no weld.
fn row_of_card(folder: &JobFolder, contents: &Contents, text: &str) -> Row {
    let basis = crate::record::basis(text, JOB_FILE).ok();
    let who = basis
        .as_ref()
        .map(|basis| basis.identification.clone())
        .unwrap_or_default();
    let name = folder.name();
    let last = folder.last_record();
    Row {
        weld: match who.weld.is_empty() {
            true => name.clone(),
            false => who.weld,
        },
        line: who.line,
        purpose: "by a cycle card".to_owned(),
        code: String::new(),
        demo: basis.as_ref().is_some_and(|basis| basis.demo.is_some()),
        state: contents.state(),
        note: note(folder, contents, None, last.as_ref()),
        changed: changed(last.as_ref()),
        missing: contents.missing().join(", "),
        ended_s: None,
        calibrations: basis
            .as_ref()
            .map(|basis| calibrations(&basis.paper))
            .unwrap_or_default(),
        name,
    }
}

fn calibrations(paper: &Paper) -> Vec<(String, String)> {
    let due = |one: &Equipment| {
        let day = one.calibration_due?.to_string();
        Some((
            format!("{} {}", one.what, one.serial).trim().to_owned(),
            day,
        ))
    };
    paper.equipment.iter().filter_map(due).collect()
}
