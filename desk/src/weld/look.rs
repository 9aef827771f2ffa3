//! What the desk makes of a job file as it is being written: nothing is saved.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::{Extension, Json};
use cycle::setup::Turn;
use job::at_rest::WoundBy;
use job::edit::{self, EditError};
use job::folder::{JOB_FILE, JobFolder, PlanAge};
use job::nominal_pipe;
use job::same_pipe::same_pipe;
use job::shape::{Kind, choice_words, key_at, named, named_together, small, spoken};
use job::sheet::{self, needs_sheet};
use job::typed::with_unit;
use job::{Account, Job, Taken};
use maud::html;
use quantity::{Millimeters, Units};
use rules::Confirmation;
use serde::{Deserialize, Serialize};

use super::drawing::{Drawing, drawing};
use super::faults::{self, Told};
use super::form::{Values, form, values};
use crate::desk::Desk;
use crate::entry::{Right, Visitor};
use crate::refusal::Refusal;

/// A change that a page asks for.
#[derive(Debug, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Change {
    /// A field of the form.
    Field {
        /// Its place.
        place: String,
        /// Its new value; empty takes it away.
        value: String,
    },
    /// The turns as they were dragged: (mm from the weld center, mm above the pipe).
    Turns {
        /// All of them.
        turns: Vec<[f64; 2]>,
    },
    /// Turns are to be proposed.
    Propose,
    /// The second side is the same pipe as the first.
    SamePipe,
    /// One more of a list.
    Add {
        /// The list (`thermocouple`).
        path: String,
    },
    /// One less.
    Drop {
        /// Its place (`thermocouple[3]`).
        place: String,
    },
}

/// What a page sends: the text as it stands there, and at most one change.
#[derive(Debug, Deserialize)]
pub struct Asked {
    text: String,
    change: Option<Change>,
}

/// How a text stands to the plan in its folder.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PlanOfText {
    /// There is none.
    None,
    /// It was made from this text.
    OfThisText,
    /// It was made from another.
    OfAnotherText,
}

/// What the desk makes of it.
#[derive(Debug, Serialize)]
pub struct Looked {
    text: String,
    /// Why the change could not be made.
    refused: Option<String>,
    /// The field whose value was refused: what was typed stays in it, and out of the job.
    refused_at: Option<String>,
    values: Values,
    form: String,
    #[serde(flatten)]
    told: Told,
    /// What the change did besides what was asked.
    said: Option<String>,
    /// What is missing before the next step of this weld, as the head of its page says it.
    next: String,
    /// What was taken where the file is silent, by field.
    taken: Values,
    /// What to ask again about a value that may stand, by field.
    remarks: Values,
    drawing: Option<Drawing>,
    needs: Option<String>,
    /// Whether there is a plan, and whether it is of this very text.
    plan: PlanOfText,
    /// What the rules or the model refuse of a file that reads well.
    stopped: Option<String>,
}

/// Looks at a text.
pub async fn look(
    State(desk): State<Arc<Desk>>,
    Extension(visitor): Extension<Visitor>,
    Path(name): Path<String>,
    Json(asked): Json<Asked>,
) -> Result<Json<Looked>, Refusal> {
    let folder = desk.folder(&name)?;
    let may_act = visitor.right == Right::Act;
    let looked = tokio::task::spawn_blocking(move || looked(&folder, asked, may_act)).await;
    looked.map(Json).map_err(|_| Refusal::broke_down())
}

/// Looks at the file as it is saved.
pub async fn look_at_saved(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Result<Json<Looked>, Refusal> {
    let folder = desk.folder(&name)?;
    let text = folder.job_file()?.text;
    let asked = Asked { text, change: None };
    let looked = tokio::task::spawn_blocking(move || looked(&folder, asked, false)).await;
    looked.map(Json).map_err(|_| Refusal::broke_down())
}

fn looked(folder: &JobFolder, asked: Asked, may_act: bool) -> Looked {
    let field = match &asked.change {
        Some(Change::Field { place, .. }) => Some(place.clone()),
        _ => None,
    };
    let (text, said, refused) = match asked.change.map(|change| changed(&asked.text, change)) {
        None => (asked.text, None, None),
        Some(Ok((text, said))) => (text, said, None),
        Some(Err(error)) => (
            asked.text,
            None,
            Some(refused_words(&error, field.as_deref())),
        ),
    };
    let values = values(&text);
    let units = match values.get("units").map(String::as_str) {
        Some("us") => Units::Us,
        _ => Units::Si,
    };
    // Where the confirmed rows cannot be used, the faults of the job file are told all the same.
    let (confirmed, stopped) = match folder.confirmed() {
        Ok(confirmed) => (confirmed, None),
        Err(refused) => (Vec::new(), Some(refused.to_string())),
    };
    let planned = folder.planned(units);
    let plan = match &planned {
        None => PlanOfText::None,
        Some(plan) if plan.is_of(&text, &confirmed) => PlanOfText::OfThisText,
        Some(_) => PlanOfText::OfAnotherText,
    };
    let form = form(&text, &values, may_act).into_string();
    let mut looked = Looked {
        refused_at: field.filter(|_| refused.is_some()),
        refused,
        form,
        told: Told::default(),
        said,
        next: String::new(),
        taken: Values::new(),
        remarks: remarks(&values),
        drawing: None,
        needs: None,
        plan,
        stopped,
        values,
        text,
    };
    let read = job::read_with(&looked.text, JOB_FILE, &confirmed);
    looked.next = next(folder, &read, plan);
    match read {
        Err(refusal) => {
            looked.told = faults::told(&refusal, &looked.values);
            looked.taken = taken(&refusal.taken);
            looked.needs = needs_so_far(&looked.text, &confirmed, &refusal.missing);
        }
        Ok(_) if looked.stopped.is_some() => {}
        Ok(job) => match job::plan::prepared(&job) {
            Err(error) => looked.stopped = Some(spoken(&error.to_string())),
            Ok(prepared) => {
                looked.taken = taken(&prepared.taken);
                let (coil, wound_by) = match (&job.coil, &planned) {
                    (Some(_), _) => (None, WoundBy::File),
                    (None, Some(plan)) => (Some(&plan.coil), WoundBy::Plan),
                    (None, None) => (None, WoundBy::Habit),
                };
                looked.drawing = drawing(&job, &prepared, coil, wound_by);
                let sheet = needs_sheet(
                    (&prepared.requirement, &prepared.bands),
                    &job.weld.confirmed,
                    job.units,
                );
                looked.needs = Some(report::html_fragment(&sheet));
            }
        },
    }
    looked
}

/// Why a change was refused; a value of a field by the name that the form gives it.
fn refused_words(error: &EditError, field: Option<&str>) -> String {
    match (error, field) {
        (EditError::BadValue { found, allowed, .. }, Some(place)) => format!(
            "{}: found {found:?}; allowed: {allowed}. It was not taken into the job.",
            named(place)
        ),
        _ => spoken(&error.to_string()),
    }
}

/// What is missing before the next step, were this text saved.
fn next(folder: &JobFolder, read: &Result<Job, job::Refusal>, plan: PlanOfText) -> String {
    let mut contents = folder.contents();
    contents.account = Some(match read {
        Ok(_) => Account::default(),
        Err(refusal) => refusal.account(),
    });
    contents.plan = match plan {
        PlanOfText::None => None,
        PlanOfText::OfThisText => Some(PlanAge::OfThisFile),
        PlanOfText::OfAnotherText => Some(PlanAge::OfAnEarlierFile),
    };
    contents.missing().join(", ")
}

/// What was taken, by field and in the words of the form.
fn taken(taken: &[Taken]) -> Values {
    let words = |one: &Taken| {
        let is_choice = key_at(&one.key).is_some_and(
            |key| matches!(key.kind, Kind::Word(words) if words.contains(&one.value.as_str())),
        );
        match is_choice {
            true => small(&choice_words(&one.value)),
            false => one.value.clone(),
        }
    };
    taken
        .iter()
        .map(|one| (one.key.clone(), words(one)))
        .collect()
}

/// What the weld needs, as soon as that can be said, with what a plan still lacks.
fn needs_so_far(text: &str, confirmed: &[Confirmation], missing: &[String]) -> Option<String> {
    let job = job::read_need(text, JOB_FILE, confirmed).ok()?;
    let sheet = sheet::needs_so_far(&job).ok()?;
    let lacking = named_together(missing);
    let lacking = html! {
        p.quiet-line { "Said from what the job file holds so far. " @if !lacking.is_empty() { "A plan still needs " (lacking) "." } }
    };
    Some(lacking.into_string() + &report::html_fragment(&sheet))
}

/// Diameters that look like nominal sizes.
fn remarks(values: &Values) -> Values {
    let places = [1, 2].map(|side| format!("side[{side}].outside_diameter"));
    let remark = |place: String| {
        let words = nominal_pipe::remark_on(values.get(&place)?)?;
        Some((place, words))
    };
    places.into_iter().filter_map(remark).collect()
}

/// The text after a change, and what the change did besides what was asked.
fn changed(text: &str, change: Change) -> Result<(String, Option<String>), EditError> {
    let changed = match change {
        Change::Field { place, value } => edit::set(text, &place, &with_unit(text, &place, &value)),
        Change::Turns { turns } => {
            let turn = |[axial, standoff]: &[f64; 2]| Turn {
                axial: Millimeters::from_mm(*axial),
                standoff: Millimeters::from_mm(*standoff),
            };
            edit::set_turns(text, &turns.iter().map(turn).collect::<Vec<_>>())
        }
        Change::Propose => edit::propose_turns(text),
        Change::SamePipe => {
            let same = same_pipe(text)?;
            let words = same.words();
            return Ok((same.text, Some(words)));
        }
        Change::Add { path } => edit::add_table(text, &path),
        Change::Drop { place } => edit::drop_table(text, &place),
    };
    Ok((changed?, None))
}
