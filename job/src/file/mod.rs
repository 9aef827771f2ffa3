//! The job file: one weld, as a person writes it down.
//!
//! Everything that is wrong is told at once, each fault at its line with what was found, what is allowed and a hint.
//! `docs/job-file.md` describes every key; the JSON schema beside it is made from the same table of keys.

mod answers;
pub mod card;
mod choices;
mod clock;
mod code_name;
pub(crate) mod dimension;
mod head;
mod hot;
mod joint;
mod limits;
mod measure;
mod need;
mod need_sides;
mod paper;
mod places;
mod planned;
mod possible;
mod reading;
mod refusal;
mod refused;
pub mod shape;
mod sides;
mod source;
mod surroundings;
mod thermocouples;
pub mod treatments;
mod welding;
mod wrap;

use cycle::setup::Joint;
pub(crate) use planned::planned_sha256;
use quantity::Millimeters;
use rules::Confirmation;
use rules::joint::{Joint as WeldForm, JointForm};
use rules::weld::Weld;

pub use card::is_card;
pub use need::{NeedJob, read_need};
pub use refusal::{Account, Refusal};

pub(crate) use choices::{CHOICES, Choice};
pub(crate) use code_name::{CodeName, code_name};
pub(crate) use dimension::unit_words;

use crate::model::Job;
use crate::toml_reader::{Faults, Table, Value};
use places::{Places, Silent};
use sides::SideRead;

/// Reads a job file. `file_name` is only for the messages; `confirmed` are the rows of the rules that the user confirmed.
///
/// # Errors
/// [`Refusal`] with everything that is wrong: what is no TOML, unknown and missing keys, numbers without a unit,
/// values out of range, what cannot be true together, and what the rules of the code refuse.
pub fn read_with(text: &str, file_name: &str, confirmed: &[Confirmation]) -> Result<Job, Refusal> {
    read_and(text, file_name, confirmed, possible_and_allowed)
}

/// A job of which only the set-up is wanted, as it is written: neither a bend that is too narrow for the cable nor what the
/// rules have no answer for refuses it.
///
/// # Errors
/// What cannot be read.
pub(crate) fn read_set_up(text: &str, file_name: &str) -> Result<Job, Refusal> {
    read_and(text, file_name, &[], |_, _| ())
}

/// What is noted of a job that was read whole.
type Noted = fn(&Job, &Places<'_, '_>);

fn read_and(
    text: &str,
    file_name: &str,
    confirmed: &[Confirmation],
    noted: Noted,
) -> Result<Job, Refusal> {
    let faults = Faults::new(file_name, text);
    let parsed = faults.parse(text);
    let broken = !faults.is_empty();
    let root = Table::root(&parsed, &faults);
    let silent = Silent::default();
    // What is no whole TOML file may hold what would be told as missing.
    let job = match broken {
        true => None,
        false => read_root(&root, (text, file_name), confirmed, &silent, noted),
    };
    match job {
        Some(job) if faults.is_empty() => Ok(job),
        _ => Err(Refusal::of(faults.into_list(), text, silent.list())),
    }
}

/// [`read_with`], where nothing is confirmed.
///
/// # Errors
/// As there.
pub fn read(text: &str, file_name: &str) -> Result<Job, Refusal> {
    read_with(text, file_name, &[])
}

fn read_root(
    root: &Table<'_>,
    (text, file_name): (&str, &str),
    confirmed: &[Confirmation],
    silent: &Silent,
    noted: Noted,
) -> Option<Job> {
    let head = head::read(root, silent);
    let weld = surroundings::weld(root);
    let surroundings = surroundings::surroundings(root, silent);
    let welding = welding::read(root);
    let sides = two_sides(root, silent);
    let (form, form_at) = joint::read(root);
    girth_only(&form, form_at.as_ref());
    let answers = answers::read(root);
    let (own, own_places) = limits::read(root);
    let (blanket, blanket_table) = wrap::blanket(root, silent);
    let coil = wrap::coil(root, blanket.as_ref().map(|b| b.thickness.mm()), silent);
    let source = source::read(root);
    let (thermocouples, thermocouple_tables) = thermocouples::read(root, silent);
    let (listed, neighbor_tables) = surroundings::neighbors(root);
    let (cycle, set_point) = surroundings::cycle(root, silent);
    let reading = reading::reading(root);
    let paper = paper::read(root);
    // Only the needs of a weld speak of them; a plan checks how they are written.
    treatments::read(root);
    root.finish();

    let [first, second] = sides?;
    let mut neighbors: Vec<_> = [&first.neighbor, &second.neighbor]
        .into_iter()
        .flatten()
        .cloned()
        .collect();
    neighbors.extend(listed);
    let places = Places {
        root,
        code: head.code_at,
        edition: head.edition_at,
        sides: vec![first.places, second.places],
        own: own_places,
        set_point,
        blanket: blanket_table,
        cable: coil.cable_at,
        sections: coil.sections,
        thermocouples: thermocouple_tables,
        neighbors: neighbor_tables,
    };
    let [owner, procedure] = own;
    let cap_width = Millimeters::from_mm(weld.cap_width_mm?);
    let orientation = weld.orientation?;
    let job = Job {
        file_name: file_name.to_owned(),
        text: text.to_owned(),
        demo: head.demo,
        units: head.units,
        identification: head.identification,
        weld: Weld {
            units: head.units,
            sides: [first.rules?, second.rules?],
            cap_width,
            orientation,
            purpose: head.purpose?,
            code: head.code?,
            procedure,
            owner,
            welding,
            confirmed: confirmed.to_vec(),
            joint: form,
            answers,
        },
        joint: Joint {
            sides: [first.model?, second.model?],
            cap_width,
            orientation,
        },
        welding_ended: weld.ended,
        surroundings: surroundings?,
        neighbors,
        blanket: blanket?,
        cable: coil.cable?,
        coil: coil.coil,
        leads: coil.leads?,
        lead_exit_clock: coil.lead_exit_clock,
        source: source?,
        thermocouples,
        cycle,
        reading,
        paper,
        taken: silent.list(),
    };
    noted(&job, &places);
    Some(job)
}

fn possible_and_allowed(job: &Job, places: &Places<'_, '_>) {
    possible::note(job, places);
    match rules::requirement(&job.weld) {
        Ok(requirement) => hot::note(job, &requirement, places),
        Err(refused) => refused::note(&refused, places),
    }
}

/// A plan is worked out for two pipes end to end.
fn girth_only(joint: &WeldForm, at: Option<&Value<'_>>) {
    if let Some(at) = at.filter(|_| joint.form != JointForm::GirthButt) {
        at.fault(
            joint.form.words(),
            "\"girth_butt\" for a plan",
            Some("what other forms need is answered without a plan".into()),
        );
    }
}

/// Both `[[side]]` tables, in order.
fn two_sides<'a>(root: &Table<'a>, silent: &Silent) -> Option<[SideRead<'a>; 2]> {
    let tables = root.tables("side");
    let count = tables.len();
    let read: Vec<SideRead<'a>> = tables
        .into_iter()
        .take(2)
        .enumerate()
        .map(|(i, t)| sides::read(t, i, silent))
        .collect();
    if count != 2 {
        let hint = Some(
            "a girth weld joins two pipes: write [[side]] twice, also where they are equal".into(),
        );
        let missing = (count < 2).then_some("side");
        root.note_as(
            format!("{count} sides"),
            "two tables [[side]]".into(),
            hint,
            missing,
        );
    }
    read.try_into().ok()
}
