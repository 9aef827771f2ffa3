//! `[joint]`: the form of the weld; a girth butt weld where it is left out.

use quantity::Millimeters;
use rules::joint::{BranchForm, Joint, JointForm};

use crate::toml_reader::{Table, Value};

use super::measure::length;

/// The words of `form`.
pub(crate) const FORMS: &[&str] = &[
    "girth_butt",
    "seam_butt",
    "fillet",
    "socket",
    "branch",
    "partial_penetration",
    "seal",
    "attachment",
];

/// The words of `branch`.
pub(crate) const BRANCHES: &[&str] = &["set_on", "set_in", "set_on_pad", "set_in_pad"];

/// Thicknesses in mm of parts of a weld.
const PART_MM: (f64, f64) = (1.0, 400.0);

/// The joint, and where its form stands.
pub(crate) fn read<'a>(root: &Table<'a>) -> (Joint, Option<Value<'a>>) {
    let Some(table) = root.get("joint").and_then(|v| v.table()) else {
        return (Joint::default(), None);
    };
    let form_at = table.need("form", "\"girth_butt\"");
    let form = form_at.as_ref().and_then(|v| v.word_of(FORMS));
    let branch = table.get("branch").and_then(|v| v.word_of(BRANCHES));
    let part = |read: Option<super::measure::Read<'_>>| {
        let within = read.and_then(|r| r.within(PART_MM.0, PART_MM.1));
        within.map(|r| Millimeters::from_mm(r.value))
    };
    let pad = part(length!("pad").get(&table));
    let has_pad = branch.map(|word| BRANCHES[word].ends_with("_pad"));
    match (has_pad, &pad, table.get("pad"), table.get("branch")) {
        (Some(true), None, None, Some(at)) => at.fault(
            "a branch with a pad, and no thickness of it",
            "the thickness of the pad",
            Some("say how thick the pad is: hold and exemption are read by it".to_owned()),
        ),
        (Some(false), Some(_), Some(at), _) => at.fault(
            "a pad, and a branch that has none",
            "a pad only beside set_on_pad or set_in_pad",
            None,
        ),
        _ => {}
    }
    let joint = Joint {
        form: form.map_or_else(JointForm::default, |word| {
            [
                JointForm::GirthButt,
                JointForm::SeamButt,
                JointForm::Fillet,
                JointForm::Socket,
                JointForm::Branch,
                JointForm::PartialPenetration,
                JointForm::Seal,
                JointForm::Attachment,
            ][word]
        }),
        groove_depth: part(length!("groove_depth").get(&table)),
        throat: part(length!("throat").get(&table)),
        pad,
        branch: branch.map(|word| {
            [
                BranchForm::SetOn,
                BranchForm::SetIn,
                BranchForm::SetOnPad,
                BranchForm::SetInPad,
            ][word]
        }),
    };
    table.finish();
    (joint, form_at)
}
