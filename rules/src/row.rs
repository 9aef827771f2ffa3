//! A rule table as it stands in its data file: one generation of editions of one document.

use std::collections::BTreeMap;

use quantity::Status;
use serde::{Deserialize, Serialize};

use crate::answers::Question;
use crate::asked_if::AskedIf;
use crate::bake_out::value::BakeOutValue;
use crate::column::{Column, UsColumn};
use crate::condition::Condition;
use crate::exposure::ExposureLevel;
use crate::formula::{HoldTime, Rate, Width};
use crate::preheat::value::PreheatValue;
use crate::requirement::Clause;
use crate::thermocouple::{Face, Place, Role};
use crate::time_temperature::value::TimeTemperatureValue;
use crate::weld::Purpose;
use crate::when::When;

/// All rows of one generation of editions of one document.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Table {
    /// Name of the document, for example `ASME B31.3`.
    pub code: String,
    /// What kind of document it is.
    pub kind: TableKind,
    /// The generation in words, for example `2014 on`.
    pub generation: String,
    /// The editions it covers; empty where the document has none.
    #[serde(default)]
    pub editions: Vec<String>,
    /// What a reader of the whole table should know.
    pub note: Option<String>,
    /// The rows.
    #[serde(rename = "row")]
    pub rows: Vec<Row>,
}

/// What kind of document a table is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TableKind {
    /// A code that a contract may name.
    Code,
    /// A recommended practice or a habit of the trade.
    Practice,
    /// What the metal itself sets.
    Metal,
    /// A method of working out, with entry points of its own.
    Method,
}

/// One value with its clause, its unit, the range in which it holds, and its status.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// Its name for good: `DOCUMENT/WHAT`; a confirmation names it.
    pub id: String,
    /// What the heat is for.
    #[serde(default = "stress_relief")]
    pub purpose: Purpose,
    /// The document, where it is not the table's own.
    pub document: Option<String>,
    /// Clause or table.
    pub clause: String,
    /// How far the value can be trusted.
    pub status: Status,
    /// The editions in which a verified value was read; in others it counts as from memory. Empty: in all.
    #[serde(default)]
    pub verified_in: Vec<String>,
    /// Where the value holds.
    #[serde(default)]
    pub when: When,
    /// Unit of the value.
    pub unit: String,
    /// The value.
    pub value: Value,
    /// `false`: the code itself only recommends it, so falling short is no breach.
    #[serde(default = "yes")]
    pub mandatory: bool,
    /// Used although unsure, because it only ever asks more; the note says so.
    #[serde(default)]
    pub acts_while_unsure: bool,
    /// What of the weld as a whole decides whether it is read.
    #[serde(default)]
    pub asked_if: AskedIf,
    /// The question whose answer settles what the row asks in words.
    pub answered_by: Option<Question>,
    /// The id of an unsure row for which this one stands in until it is confirmed.
    pub stands_in_for: Option<String>,
    /// What a reader should know besides.
    pub note: Option<String>,
    /// The US customary column, where the document prints two.
    pub us: Option<UsColumn>,
    /// Which number it gives to the job that reads it.
    #[serde(skip)]
    pub column: Column,
}

fn stress_relief() -> Purpose {
    Purpose::StressRelief
}

/// What a row says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Value {
    /// Range of the hold temperature; for preheat the least preheat and the highest interpass temperature.
    HoldRange {
        /// Lowest temperature in °C.
        min: Option<f64>,
        /// Highest temperature in °C.
        max: Option<f64>,
    },
    /// Least hold time.
    HoldTime(HoldTime),
    /// Fastest heating.
    HeatingRate(Rate),
    /// Fastest cooling.
    CoolingRate(Rate),
    /// Largest difference in the soak band during the hold, in K.
    HoldSpread(f64),
    /// Largest difference while heating.
    HeatingSpread {
        /// In K.
        spread: f64,
        /// Distance in mm within which it holds.
        within_mm: f64,
    },
    /// A lower hold temperature against a longer hold; never interpolated.
    LowerHold {
        /// Decrease below the lower end of the range, in K.
        decrease: f64,
        /// Hold time at that temperature.
        hold: HoldTime,
    },
    /// The thickness by which hold and exemption are read.
    GoverningThickness(ThicknessRule),
    /// The thickness by which the rates are read.
    RateThickness(ThicknessRule),
    /// The table lets stress relief go within the row's range if the conditions are met.
    Exemption {
        /// What must also be so.
        provided: Vec<Condition>,
    },
    /// Stress relief is asked whatever a table says; read where no row of the code is kept.
    Always(String),
    /// A question whose yes asks stress relief where the table lets it go.
    Override(Question),
    /// Something to ask.
    Question(String),
    /// Something to heed while the heat is set up.
    Advice(String),
    /// Highest hardness after the treatment, in HB.
    Hardness(f64),
    /// Widths of the bands.
    Band(BandRule),
    /// Lower critical temperature in °C from a list.
    LowerCritical(f64),
    /// Lower critical temperature in °C from the composition.
    LowerCriticalFormula(CompositionFormula),
    /// Upper critical temperature in °C from the composition.
    UpperCriticalFormula(CompositionFormula),
    /// How far to stay below the lower critical temperature, in K.
    BelowLowerCritical(f64),
    /// How far to stay below the tempering temperature, in K.
    BelowTempering(f64),
    /// What a metal of the name holds, in weight percent; only what is given is held against it.
    Composition {
        /// At least this of each element.
        #[serde(default)]
        percent_at_least: BTreeMap<String, f64>,
        /// At most this of each element.
        #[serde(default)]
        percent_at_most: BTreeMap<String, f64>,
    },
    /// The narrowest range of a hold that can be kept, in K.
    NarrowestRange(f64),
    /// Temperatures that harm the metal, in °C, and how.
    Harmful {
        /// From this on,
        from_c: f64,
        /// up to this.
        to_c: f64,
        /// What becomes of the metal.
        why: String,
    },
    /// A group of thermocouples.
    Thermocouples(ThermocoupleRule),
    /// A row of a preheat method.
    Preheat(PreheatValue),
    /// A row on hydrogen bake-out.
    BakeOut(BakeOutValue),
    /// A row on time and temperature.
    TimeTemperature(TimeTemperatureValue),
    /// A reference level of magnetic fields.
    Exposure(ExposureLevel),
}

/// A way to take one thickness from two sides.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ThicknessRule {
    /// The thicker side.
    Thicker,
    /// The thinner side.
    Thinner,
    /// The lesser of the weld's own thickness and the thicker side.
    LesserOfWeldAndThicker,
    /// The throat of the fillet.
    Throat,
    /// The depth of the groove, or the throat of a fillet on it, whichever is more.
    GreaterOfGrooveAndThroat,
    /// The greatest of run, branch and pad, and of the fillet on them.
    GreatestPart,
    /// The thickest of run, branch and pad, whatever the weld is.
    ThickestComponent,
    /// A sum for a branch: parts and the throat of the cover fillet.
    BranchSum {
        /// What is added up.
        of: BranchParts,
        /// The throat counts as this part of the branch's wall,
        throat_of_branch: f64,
        /// but at most this in mm.
        throat_at_most_mm: f64,
    },
}

/// Parts of a branch weld that are added up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BranchParts {
    /// The branch.
    Branch,
    /// The run.
    Run,
    /// The branch or the pad, whichever is thicker.
    GreaterOfBranchAndPad,
    /// The run and the pad.
    RunAndPad,
}

/// Widths of the bands by one rule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BandRule {
    /// Short name, for example `HB2`.
    pub name: String,
    /// Soak band.
    pub soak: Option<Width>,
    /// Heated band.
    pub heated: Option<Width>,
    /// Gradient control band.
    pub gradient_control: Option<Width>,
    /// Whether a plan follows it where the code of the contract is silent.
    #[serde(default)]
    pub recommended: bool,
}

/// base + Σ factor·percent + `squared`·(sum of the squared elements)².
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CompositionFormula {
    /// Constant in °C.
    pub base: f64,
    /// Factor in K for each weight percent.
    pub per_percent: BTreeMap<String, f64>,
    /// Factor in K for the square root of each weight percent.
    #[serde(default)]
    pub per_root_percent: BTreeMap<String, f64>,
    /// Elements whose sum is squared.
    #[serde(default)]
    pub squared_sum_of: Vec<String>,
    /// Factor of the squared sum.
    #[serde(default)]
    pub squared: f64,
    /// Elements without which it must not be used; the others count as absent.
    pub needs: Vec<String>,
    /// Lowest weight percent for which it holds, where the element is given.
    #[serde(default)]
    pub percent_at_least: BTreeMap<String, f64>,
    /// Highest weight percent for which it holds.
    #[serde(default)]
    pub percent_at_most: BTreeMap<String, f64>,
}

/// A group of thermocouples of a layout.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThermocoupleRule {
    /// What they are for.
    pub role: Role,
    /// Surface.
    pub face: Face,
    /// Part of the joint.
    pub place: Place,
    /// Where along the pipe.
    pub at: AxialPlace,
    /// Clock positions; a spare sits `beside_mm` round the pipe from each.
    pub clock: Vec<f64>,
    /// Arc in mm between this one and the clock position.
    #[serde(default)]
    pub beside_mm: f64,
    /// More are spread evenly, if the arc between two would be longer than this in mm.
    pub arc_at_most_mm: Option<f64>,
    /// Whether a wire is fitted or the point is read from the prediction only.
    #[serde(default = "yes")]
    pub fitted: bool,
    /// Why they are there.
    pub reason: String,
}

fn yes() -> bool {
    true
}

/// Where along the pipe a thermocouple sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AxialPlace {
    /// On the weld center line.
    WeldCenter,
    /// On both edges of the soak band.
    SoakEdges,
    /// On both edges of the heated band.
    HeatedEdges,
    /// On the weld of a branch where it crosses the line along the run: both crotches.
    BranchEnds,
    /// On the weld of a branch where it is widest round the run: both flanks.
    BranchFlanks,
}

impl Value {
    /// Whether it speaks of any metal of a composition, whatever its P-number is.
    pub(crate) fn is_by_composition(&self) -> bool {
        matches!(
            self,
            Value::LowerCriticalFormula(_)
                | Value::UpperCriticalFormula(_)
                | Value::BelowLowerCritical(_)
        )
    }
}

impl Row {
    /// Where the value stands, read in an edition of the table.
    pub fn clause_in(&self, table: &Table, edition: &str) -> Clause {
        let document = match &self.document {
            Some(own) => own.clone(),
            None if edition.is_empty() => table.code.clone(),
            None => format!("{}-{edition}", table.code),
        };
        let read_elsewhere = self.status == Status::Verified
            && !self.verified_in.is_empty()
            && !self.verified_in.iter().any(|known| known == edition);
        let (status, note) = if read_elsewhere {
            let read = format!(
                "read in edition {}, taken to stand in {edition}",
                self.verified_in.join(", ")
            );
            let note = self
                .note
                .as_ref()
                .map_or(read.clone(), |note| format!("{read}; {note}"));
            (Status::FromMemory, Some(note))
        } else {
            (self.status, self.note.clone())
        };
        let clause = match self.column {
            Column::Printed => self.clause.clone(),
            Column::Converted => format!("{}, converted", self.clause),
        };
        Clause {
            document,
            clause,
            status,
            note,
        }
    }

    /// Whether the value may be used without the user's word.
    pub fn is_on(&self) -> bool {
        self.status != Status::Unsure || self.acts_while_unsure
    }
}
