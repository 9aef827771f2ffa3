//! The requirement: every limit with its clause, edition and status, nested by who sets it.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Millimeters, Status};
use serde::Serialize;

use crate::standing::Standing;
use crate::weld::{CodeEdition, Purpose};

/// What the weld needs.
#[derive(Clone, Debug, Serialize)]
pub struct Requirement {
    /// What the heat is for.
    pub purpose: Purpose,
    /// The code and edition that it was read from.
    pub code: CodeEdition,
    /// The thickness that governs, and why.
    pub governing_thickness: GoverningThickness,
    /// Whether stress relief is required at all; none for other purposes.
    pub standing: Option<Standing>,
    /// Every limit of every level, code first.
    pub limits: Vec<Limit>,
    /// What the reader should know: conflicts between sides, exemptions to ask about, rows that are switched off.
    pub remarks: Vec<Remark>,
}

impl Requirement {
    /// The highest lower end of the hold over all levels.
    pub fn hold_min(&self) -> Option<Celsius> {
        let ends = self.limits.iter().filter_map(|limit| match limit.kind {
            LimitKind::HoldMin(min) => Some(min),
            _ => None,
        });
        ends.reduce(Celsius::max)
    }

    /// The lowest upper end of the hold over all levels, the metal's own ceilings among them.
    pub fn hold_max(&self) -> Option<Celsius> {
        let ends = self.limits.iter().filter_map(|limit| match limit.kind {
            LimitKind::HoldMax(max) => Some(max),
            _ => None,
        });
        ends.reduce(Celsius::min)
    }

    /// The longest hold time over all levels.
    pub fn hold_time(&self) -> Option<Hours> {
        let times = self.limits.iter().filter_map(|limit| match limit.kind {
            LimitKind::HoldTime(time) => Some(time),
            _ => None,
        });
        times.reduce(|kept, other| if other > kept { other } else { kept })
    }
}

/// The thickness by which the rows are read.
#[derive(Clone, Debug, Serialize)]
pub struct GoverningThickness {
    /// The thickness.
    pub thickness: Millimeters,
    /// Why this one.
    pub reason: String,
    /// Clause of the rule.
    pub clause: Clause,
}

/// One limit.
#[derive(Clone, Debug, Serialize)]
pub struct Limit {
    /// What it limits.
    pub kind: LimitKind,
    /// Who sets it.
    pub level: Level,
    /// Where it stands and how far it can be trusted.
    pub clause: Clause,
    /// Which side or metal of the joint brought it, and why it governs among its equals.
    pub reason: String,
}

/// What a limit says.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitKind {
    /// Every thermocouple of the soak band is at or above this during the hold.
    HoldMin(Celsius),
    /// No thermocouple is above this, at any time.
    HoldMax(Celsius),
    /// The hold lasts at least this long.
    HoldTime(Hours),
    /// Heating above the threshold is no faster than this.
    HeatingRate {
        /// Temperature above which the limit holds.
        above: Celsius,
        /// The fastest rate.
        rate: KelvinsPerHour,
    },
    /// Cooling above the threshold is no faster than this.
    CoolingRate {
        /// Temperature above which the limit holds.
        above: Celsius,
        /// The fastest rate.
        rate: KelvinsPerHour,
    },
    /// During the hold hottest and coldest thermocouple of the soak band are no further apart than this.
    HoldSpread(Kelvins),
    /// While heating, two places no further apart than `within` differ by no more than this.
    HeatingSpread {
        /// Largest difference.
        spread: Kelvins,
        /// Distance along the surface within which it holds.
        within: Millimeters,
    },
}

/// Who sets a limit. They are judged apart: the code may be met where the procedure is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// The code of the contract.
    Code,
    /// The owner's specification.
    Owner,
    /// The welding or heat-treatment procedure.
    Procedure,
    /// No paper of the contract: the metal's own ceilings and the practice of the trade.
    Guidance,
}

/// Where a value stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Clause {
    /// Document and edition, for example `ASME B31.3-2022`.
    pub document: String,
    /// Clause or table.
    pub clause: String,
    /// How far it can be trusted.
    pub status: Status,
    /// What a reader should know besides.
    pub note: Option<String>,
}

/// Something the reader should know.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Remark {
    /// The remark.
    pub text: String,
    /// Where it comes from, if from a document.
    pub clause: Option<Clause>,
}
