//! Reading a job file for its needs alone: coil, source and blanket may be left out, and the weld need not be a girth
//! weld.

use quantity::{Millimeters, Units};
use rules::Confirmation;
use rules::joint::JointForm;
use rules::weld::{Orientation, Purpose, Weld};

use crate::model::{Identification, Taken};
use crate::toml_reader::{Faults, Table};

use super::places::{Places, Silent};
use super::treatments::{self, Treatment};
use super::{Refusal, answers, head, joint, limits, need_sides, refused, surroundings};

/// A weld of which the needs are asked.
#[derive(Clone, Debug)]
pub struct NeedJob {
    /// The name of the file, as it was given.
    pub file_name: String,
    /// The file itself, as it was read.
    pub text: String,
    /// The invented scenario of a demo; `None` for a real weld.
    pub demo: Option<String>,
    /// The units of the sheet.
    pub units: Units,
    /// Who and what.
    pub identification: Identification,
    /// The weld as the rules see it.
    pub weld: Weld,
    /// Heat treatments of the part and of its coupon.
    pub treatments: Vec<Treatment>,
    /// The names of the two sides.
    pub names: [String; 2],
    /// What the file left out and what was taken instead.
    pub taken: Vec<Taken>,
}

/// Tables that only a plan reads.
const OF_A_PLAN: [&str; 9] = [
    "blanket",
    "coil",
    "source",
    "thermocouple",
    "thermocouples",
    "neighbor",
    "surroundings",
    "cycle",
    "reading",
];

/// Reads a job file for its needs. `file_name` is only for the messages; `confirmed` are the rows that the user
/// confirmed.
///
/// # Errors
/// [`Refusal`] with everything that is wrong.
pub fn read_need(
    text: &str,
    file_name: &str,
    confirmed: &[Confirmation],
) -> Result<NeedJob, Refusal> {
    let faults = Faults::new(file_name, text);
    let parsed = faults.parse(text);
    let silent = Silent::default();
    let job = match faults.is_empty() {
        true => read_root(
            &Table::root(&parsed, &faults),
            (text, file_name),
            confirmed,
            &silent,
        ),
        false => None,
    };
    match job {
        Some(job) if faults.is_empty() => Ok(job),
        _ => Err(Refusal::of(faults.into_list(), text, silent.list())),
    }
}

fn read_root(
    root: &Table<'_>,
    (text, file_name): (&str, &str),
    confirmed: &[Confirmation],
    silent: &Silent,
) -> Option<NeedJob> {
    let head = head::read_need(root, silent);
    let (joint, _) = joint::read(root);
    let answers = answers::read(root);
    let welding = super::welding::read(root);
    let weld = surroundings::weld_for_need(root, joint.form);
    let (own, own_places) = limits::read(root);
    let sides = two_sides(root, &joint, silent);
    let treatments = treatments::read(root);
    for key in OF_A_PLAN {
        root.get(key);
    }
    root.finish();
    let [first, second] = sides?;
    let places = Places {
        root,
        code: head.code_at,
        edition: head.edition_at,
        sides: vec![first.places, second.places],
        own: own_places,
        set_point: None,
        blanket: None,
        cable: None,
        sections: Vec::new(),
        thermocouples: Vec::new(),
        neighbors: Vec::new(),
    };
    let [owner, procedure] = own;
    let job = NeedJob {
        file_name: file_name.to_owned(),
        text: text.to_owned(),
        demo: head.demo,
        units: head.units,
        identification: head.identification,
        weld: Weld {
            units: head.units,
            sides: [first.rules?, second.rules?],
            cap_width: Millimeters::from_mm(weld.cap_width_mm?),
            orientation: weld.orientation.unwrap_or(Orientation::Horizontal),
            purpose: head.purpose.unwrap_or(Purpose::StressRelief),
            code: head.code?,
            procedure,
            owner,
            welding,
            confirmed: confirmed.to_vec(),
            joint,
            answers,
        },
        treatments,
        names: [first.name, second.name],
        taken: silent.list(),
    };
    if let Err(problem) = crate::need::answerable(&job.weld) {
        refused::note(&problem, &places);
    }
    Some(job)
}

/// Both sides; one alone stands for two that are equal.
fn two_sides<'a>(
    root: &Table<'a>,
    joint: &rules::joint::Joint,
    silent: &Silent,
) -> Option<[need_sides::NeedSide<'a>; 2]> {
    let mut tables = root.tables("side");
    let two_parts = matches!(joint.form, JointForm::Branch | JointForm::Socket);
    if tables.len() == 1 && !two_parts {
        tables.extend(root.tables("side"));
        silent.take(root, "side", "the second side as the first");
    }
    let count = tables.len();
    if count != 2 {
        let hint = match two_parts {
            true => "the first side is the run or the fitting, the second the branch or the pipe",
            false => "write [[side]] twice, or once where both sides are equal",
        }
        .to_owned();
        root.note_as(
            format!("{count} sides"),
            match two_parts {
                true => format!("two tables [[side]] for a {}", joint.form.words()),
                false => "one or two tables [[side]]".into(),
            },
            Some(hint),
            (count < 2).then_some("side"),
        );
        return None;
    }
    let read: Vec<_> = tables
        .into_iter()
        .map(|table| need_sides::read(table, joint.form, silent))
        .collect();
    read.try_into().ok()
}
