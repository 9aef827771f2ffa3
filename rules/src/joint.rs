//! What kind of weld joins the two sides.

use quantity::Millimeters;
use serde::{Deserialize, Serialize};

/// The form of the weld and the measures that its kind needs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Joint {
    /// Its form.
    pub form: JointForm,
    /// Depth of the groove, which is the weld's own thickness; the wall where it goes right through.
    pub groove_depth: Option<Millimeters>,
    /// Throat of the fillet.
    pub throat: Option<Millimeters>,
    /// Thickness of the reinforcing pad of a branch.
    pub pad: Option<Millimeters>,
    /// How a branch sits on the run.
    pub branch: Option<BranchForm>,
}

/// The form of a weld.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum JointForm {
    /// Two pipes or shells end to end.
    #[default]
    GirthButt,
    /// Two plates, or a shell along its length, edge to edge.
    SeamButt,
    /// A part that stands on another, welded with fillets.
    Fillet,
    /// A pipe in a socket or a slip-on flange; the first side is the fitting.
    Socket,
    /// A branch on a run, or a nozzle in a shell; the first side is the run.
    Branch,
    /// A groove that does not go through.
    PartialPenetration,
    /// A fillet that only keeps a threaded joint tight.
    Seal,
    /// A part that bears no load, welded on with fillets.
    Attachment,
}

impl JointForm {
    /// The form in words.
    pub fn words(self) -> &'static str {
        match self {
            JointForm::GirthButt => "girth butt weld",
            JointForm::SeamButt => "butt weld of a seam",
            JointForm::Fillet => "fillet weld",
            JointForm::Socket => "socket weld",
            JointForm::Branch => "branch weld",
            JointForm::PartialPenetration => "partial-penetration weld",
            JointForm::Seal => "seal weld",
            JointForm::Attachment => "weld of an attachment that bears no load",
        }
    }

    /// Whether the weld is made of fillets alone, each on two parts that lie side by side.
    pub fn is_fillet(self) -> bool {
        use JointForm::{Attachment, Fillet, Seal};
        matches!(self, Fillet | Seal | Attachment)
    }

    /// Whether both parts are round and meet end to end, as bands and clock positions take for granted.
    pub fn is_girth(self) -> bool {
        matches!(self, JointForm::GirthButt | JointForm::Socket)
    }
}

/// How a branch sits on the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BranchForm {
    /// On the outside of the run.
    SetOn,
    /// Through the wall of the run.
    SetIn,
    /// On the outside, with a pad.
    SetOnPad,
    /// Through the wall, with a pad.
    SetInPad,
}

impl BranchForm {
    /// The seat in words.
    pub fn words(self) -> &'static str {
        match self {
            BranchForm::SetOn => "branch set on",
            BranchForm::SetIn => "branch set in",
            BranchForm::SetOnPad => "branch set on with a pad",
            BranchForm::SetInPad => "branch set in with a pad",
        }
    }
}
