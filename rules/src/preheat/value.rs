//! What a row of a preheat method says.

use quantity::Units;
use serde::{Deserialize, Serialize};

use super::carbon_equivalent::CarbonEquivalent;
use super::cet_method::CetMethod;
use super::creep_steel::CreepSteel;
use super::hydrogen_control::{
    HydrogenLevel, IndexGroups, PcmGroups, RestraintPreheat, SusceptibilityIndex,
};
use super::method_a::{FreeOfPreheat, HydrogenScale};
use crate::welding::StructuralCategory;
use crate::wording::{exact, length, short, temperature};

/// What a row of a preheat method says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PreheatValue {
    /// A carbon equivalent from the composition.
    CarbonEquivalent(CarbonEquivalent),
    /// Preheat from carbon equivalent, thickness, hydrogen and heat input.
    CetMethod(CetMethod),
    /// By how much in weight percent the parent's CET must exceed the weld metal's.
    WeldMetalMargin(f64),
    /// A worked preheat is rounded up to a multiple of this in °C.
    RoundUp(f64),
    /// The codes that send preheat to this document.
    SentBy(Vec<String>),
    /// Below this result in °C no preheat is asked.
    NoneBelow {
        /// The result in °C.
        below_c: f64,
        /// The metal is at least this warm in °C, and dry.
        at_least_c: f64,
    },
    /// A range of diffusible hydrogen with its letter.
    HydrogenScale(HydrogenScale),
    /// Up to which combined thickness no preheat is asked.
    FreeOfPreheat(FreeOfPreheat),
    /// The CE (IIW) in weight percent for which the charts are drawn.
    ChartRange {
        /// From this on,
        from_percent: f64,
        /// up to this.
        to_percent: f64,
    },
    /// Length in mm from the weld line over which a leg's thickness is averaged.
    AveragedOver(f64),
    /// Preheat of a creep-resisting steel by hydrogen.
    CreepSteel(CreepSteel),
    /// Susceptibility index from Pcm and hydrogen.
    SusceptibilityIndex(SusceptibilityIndex),
    /// A hydrogen level of the hydrogen control method.
    HydrogenLevel(HydrogenLevel),
    /// Groups by the index.
    IndexGroups(IndexGroups),
    /// Groups by Pcm at a hydrogen level.
    PcmGroups(PcmGroups),
    /// Preheat by group at a restraint.
    RestraintPreheat(RestraintPreheat),
    /// Least preheat of a prequalified procedure.
    Prequalified {
        /// Steel and process category.
        category: StructuralCategory,
        /// Least temperature in °C.
        at_least_c: f64,
    },
    /// Metal that is colder is warmed.
    ColdMetal {
        /// Colder than this in °C.
        below_c: f64,
        /// It is warmed to this in °C.
        preheat_c: f64,
    },
    /// Preheat is not wanted beyond this.
    NotWanted {
        /// The highest sensible preheat in °C.
        most_c: f64,
        /// Why.
        why: String,
    },
    /// Time to wait after the heat is taken away before the heated face is read.
    Settling {
        /// Minutes for each step.
        minutes: f64,
        /// Step of wall in mm.
        each_mm: f64,
    },
}

impl PreheatValue {
    /// What the value is, as a reader knows it.
    pub fn name(&self) -> &'static str {
        match self {
            PreheatValue::CarbonEquivalent(_) => "carbon equivalent",
            PreheatValue::CetMethod(_) => "preheat by formula",
            PreheatValue::WeldMetalMargin(_) => "margin over the weld metal",
            PreheatValue::RoundUp(_) => "rounding",
            PreheatValue::SentBy(_) => "codes that send here",
            PreheatValue::NoneBelow { .. } => "no preheat below",
            PreheatValue::HydrogenScale(_) => "hydrogen scale",
            PreheatValue::FreeOfPreheat(_) => "combined thickness without preheat",
            PreheatValue::ChartRange { .. } => "range of the charts",
            PreheatValue::AveragedOver(_) => "combined thickness",
            PreheatValue::CreepSteel(_) => "preheat by hydrogen",
            PreheatValue::SusceptibilityIndex(_) => "susceptibility index",
            PreheatValue::HydrogenLevel(_) => "hydrogen level",
            PreheatValue::IndexGroups(_) => "groups by index",
            PreheatValue::PcmGroups(_) => "groups by Pcm",
            PreheatValue::RestraintPreheat(_) => "preheat by restraint",
            PreheatValue::Prequalified { .. } => "prequalified preheat",
            PreheatValue::ColdMetal { .. } => "preheat of cold metal",
            PreheatValue::NotWanted { .. } => "preheat not wanted beyond",
            PreheatValue::Settling { .. } => "settling time",
        }
    }

    /// Whether it is a temperature that a table prints, not a part of a method.
    pub fn is_printed_limit(&self) -> bool {
        matches!(
            self,
            PreheatValue::Prequalified { .. }
                | PreheatValue::ColdMetal { .. }
                | PreheatValue::RestraintPreheat(_)
        )
    }

    /// The unit in which it is written.
    pub fn unit(&self) -> &'static str {
        match self {
            PreheatValue::CarbonEquivalent(_)
            | PreheatValue::WeldMetalMargin(_)
            | PreheatValue::ChartRange { .. } => "%",
            PreheatValue::CetMethod(_)
            | PreheatValue::RoundUp(_)
            | PreheatValue::CreepSteel(_)
            | PreheatValue::Prequalified { .. }
            | PreheatValue::ColdMetal { .. }
            | PreheatValue::NotWanted { .. }
            | PreheatValue::NoneBelow { .. } => "°C",
            PreheatValue::SentBy(_)
            | PreheatValue::SusceptibilityIndex(_)
            | PreheatValue::IndexGroups(_)
            | PreheatValue::PcmGroups(_) => "words",
            PreheatValue::HydrogenScale(_) | PreheatValue::HydrogenLevel(_) => "ml/100 g",
            PreheatValue::FreeOfPreheat(_) | PreheatValue::AveragedOver(_) => "mm",
            PreheatValue::RestraintPreheat(_) => "°F",
            PreheatValue::Settling { .. } => "min",
        }
    }

    /// The value in words.
    pub fn words(&self, units: Units) -> String {
        match self {
            PreheatValue::CarbonEquivalent(formula) => formula.words(),
            PreheatValue::CetMethod(method) => method.words(),
            PreheatValue::WeldMetalMargin(margin) => format!(
                "parent CET at least {} % over that of the weld metal",
                exact(*margin)
            ),
            PreheatValue::RoundUp(step) => format!("up to the next {} °C", short(*step)),
            PreheatValue::SentBy(codes) => codes.join(", "),
            PreheatValue::NoneBelow {
                below_c,
                at_least_c,
            } => format!(
                "a result below {} asks none; the metal dry and at least {}",
                temperature(*below_c, units),
                temperature(*at_least_c, units)
            ),
            PreheatValue::HydrogenScale(scale) => scale.words(),
            PreheatValue::FreeOfPreheat(table) => table.words(),
            PreheatValue::ChartRange {
                from_percent,
                to_percent,
            } => format!(
                "CE (IIW) {} to {} %",
                exact(*from_percent),
                exact(*to_percent)
            ),
            PreheatValue::AveragedOver(mm) => {
                format!("each leg averaged over {}", length(*mm, units))
            }
            PreheatValue::CreepSteel(steel) => steel.words(),
            PreheatValue::SusceptibilityIndex(index) => index.words(),
            PreheatValue::HydrogenLevel(level) => level.words(),
            PreheatValue::IndexGroups(groups) => groups.words(),
            PreheatValue::PcmGroups(groups) => groups.words(),
            PreheatValue::RestraintPreheat(row) => row.words(),
            PreheatValue::Prequalified { at_least_c, .. } => {
                format!("at least {}", temperature(*at_least_c, units))
            }
            PreheatValue::ColdMetal { below_c, preheat_c } => format!(
                "metal below {} is warmed to {}",
                temperature(*below_c, units),
                temperature(*preheat_c, units)
            ),
            PreheatValue::NotWanted { most_c, why } => {
                format!("not beyond {}: {why}", temperature(*most_c, units))
            }
            PreheatValue::Settling { minutes, each_mm } => format!(
                "{} min for each {} of wall",
                short(*minutes),
                length(*each_mm, units)
            ),
        }
    }

    /// What it answers: no two rows of one table that hold together may answer the same.
    pub fn question(&self) -> String {
        let which = match self {
            PreheatValue::CarbonEquivalent(formula) => formula.name.as_str(),
            PreheatValue::HydrogenScale(scale) => &scale.letter,
            PreheatValue::FreeOfPreheat(table) => &table.hydrogen,
            PreheatValue::CreepSteel(steel) => &steel.steel,
            PreheatValue::HydrogenLevel(level) => &level.level,
            PreheatValue::PcmGroups(groups) => &groups.level,
            PreheatValue::RestraintPreheat(row) => row.restraint.words(),
            PreheatValue::Prequalified { category, .. } => category.letter(),
            _ => "",
        };
        format!("{} {which}", self.name())
    }
}
