//! Walking over all rows: what is known, where it stands, how far it can be trusted.

use std::collections::BTreeMap;

use quantity::{Status, Units};
use serde::Serialize;

use crate::column::in_print;
use crate::fault::RuleError;
use crate::row::{Row, Value};
use crate::shelf;
use crate::weld::Purpose;
use crate::wording::{Measure, difference, exact, length, short, temperature, worked_length};

/// One row in words.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Entry {
    /// The row's name for good.
    pub id: String,
    /// The document.
    pub document: String,
    /// Its generation of editions.
    pub generation: String,
    /// The editions that the row covers.
    pub editions: Vec<String>,
    /// The editions in which a verified value was read; empty: in all.
    pub verified_in: Vec<String>,
    /// Clause or table.
    pub clause: String,
    /// What the heat is for.
    pub purpose: Purpose,
    /// What the row gives.
    pub quantity: &'static str,
    /// The value in words.
    pub value: String,
    /// The value as it is written in a file; a confirmation gives its own in the same way.
    pub value_as_written: String,
    /// Its unit.
    pub unit: String,
    /// Where it holds, in words.
    pub range: String,
    /// How far it can be trusted.
    pub status: Status,
    /// Whether the program uses it without the user's word.
    pub is_on: bool,
    /// What a reader should know besides.
    pub note: Option<String>,
    /// The US customary column, where the document prints two.
    pub us: Option<UsEntry>,
}

/// The second column of a row in words.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UsEntry {
    /// The value in words.
    pub value: String,
    /// The value as it is written in a file.
    pub value_as_written: String,
    /// Its unit.
    pub unit: String,
    /// Where it holds, in words.
    pub range: String,
    /// How far this column can be trusted.
    pub status: Status,
    /// The editions in which a verified value was read; empty: in all.
    pub verified_in: Vec<String>,
    /// What a reader should know besides.
    pub note: Option<String>,
}

/// Every row of every table, in the order of the data files.
///
/// # Errors
/// [`crate::fault::RuleFault::Table`] if a data file cannot be read.
pub fn lookup() -> Result<Vec<Entry>, RuleError> {
    let tables = shelf::tables()?;
    let rows = tables
        .iter()
        .flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    Ok(rows
        .map(|(table, row)| Entry {
            id: row.id.clone(),
            document: row.document.clone().unwrap_or_else(|| table.code.clone()),
            generation: table.generation.clone(),
            editions: table.editions.clone(),
            verified_in: row.verified_in.clone(),
            clause: row.clause.clone(),
            purpose: row.purpose,
            quantity: row.value.name(),
            value: row.value.words(Units::Si),
            value_as_written: as_written(&row.value),
            unit: row.unit.clone(),
            range: range_of(row, Units::Si),
            status: row.status,
            is_on: row.is_on(),
            note: row.note.clone(),
            us: us_column(row),
        })
        .collect())
}

/// Where a row holds, for the sides and for the weld as a whole.
fn range_of(row: &Row, units: Units) -> String {
    let parts = [row.when.words(units), row.asked_if.words()];
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join(", ")
}

fn us_column(row: &Row) -> Option<UsEntry> {
    let us = row.us.as_ref()?;
    let read = row.in_units(Units::Us);
    let written = toml::Value::try_from(&read.value).map(in_print);
    Some(UsEntry {
        value: read.value.words(Units::Us),
        value_as_written: written.map_or_else(|_| String::new(), |written| written.to_string()),
        unit: us.unit.clone(),
        range: range_of(&read, Units::Us),
        status: us.status,
        verified_in: us.verified_in.clone(),
        note: us.note.clone(),
    })
}

/// A value as a line of TOML.
fn as_written(value: &Value) -> String {
    toml::Value::try_from(value).map_or_else(|_| String::new(), |written| written.to_string())
}

impl Entry {
    /// The status that it has in an edition: what was read in another one counts as from memory.
    pub fn status_in(&self, edition: &str) -> Status {
        let read = self.verified_in.is_empty() || self.verified_in.iter().any(|e| e == edition);
        match self.status {
            Status::Verified if !read => Status::FromMemory,
            status => status,
        }
    }

    /// Everything that the row says, for a search.
    pub fn text(&self) -> String {
        let parts = [
            self.id.as_str(),
            &self.document,
            &self.generation,
            &self.clause,
            self.purpose.words(),
            self.quantity,
            &self.value,
            &self.range,
            self.note.as_deref().unwrap_or_default(),
            self.us.as_ref().map_or("", |us| us.value.as_str()),
        ];
        parts.join(" ")
    }
}

impl Value {
    /// What the value is, as a reader knows it.
    pub fn name(&self) -> &'static str {
        match self {
            Value::HoldRange { .. } => "temperature range",
            Value::HoldTime(_) => "hold time",
            Value::HeatingRate(_) => "heating rate",
            Value::CoolingRate(_) => "cooling rate",
            Value::HoldSpread(_) => "spread during the hold",
            Value::HeatingSpread { .. } => "spread while heating",
            Value::LowerHold { .. } => "lower temperature, longer hold",
            Value::GoverningThickness(_) => "governing thickness",
            Value::RateThickness(_) => "thickness for rates",
            Value::Exemption { .. } => "exemption",
            Value::Override(_) => "what overrides an exemption",
            Value::Always(_) => "always asked",
            Value::Question(_) => "question",
            Value::Advice(_) => "advice",
            Value::Hardness(_) => "hardness",
            Value::Band(_) => "bands",
            Value::LowerCritical(_) => "lower critical temperature",
            Value::LowerCriticalFormula(_) => "lower critical temperature by composition",
            Value::UpperCriticalFormula(_) => "upper critical temperature by composition",
            Value::BelowLowerCritical(_) => "margin below the lower critical temperature",
            Value::BelowTempering(_) => "margin below the tempering temperature",
            Value::Composition { .. } => "composition",
            Value::NarrowestRange(_) => "narrowest range",
            Value::Harmful { .. } => "harmful temperatures",
            Value::Thermocouples(_) => "thermocouples",
            Value::Preheat(value) => value.name(),
            Value::BakeOut(value) => value.name(),
            Value::TimeTemperature(value) => value.name(),
            Value::Exposure(_) => "reference level",
        }
    }

    /// The unit in which the value is written.
    pub fn unit(&self) -> &'static str {
        match self {
            Value::HoldRange { .. }
            | Value::Harmful { .. }
            | Value::LowerCritical(_)
            | Value::LowerCriticalFormula(_)
            | Value::UpperCriticalFormula(_) => "°C",
            Value::HoldTime(_) => "min",
            Value::HeatingRate(_) | Value::CoolingRate(_) => "K/h",
            Value::HoldSpread(_)
            | Value::NarrowestRange(_)
            | Value::BelowLowerCritical(_)
            | Value::BelowTempering(_) => "K",
            Value::Composition { .. } => "%",
            Value::HeatingSpread { .. } => "K within mm",
            Value::LowerHold { .. } => "K, min",
            Value::GoverningThickness(_)
            | Value::RateThickness(_)
            | Value::Exemption { .. }
            | Value::Band(_) => "mm",
            Value::Question(_) | Value::Advice(_) | Value::Always(_) | Value::Override(_) => {
                "words"
            }
            Value::Hardness(_) => "HB",
            Value::Thermocouples(_) => "clock hour",
            Value::Preheat(value) => value.unit(),
            Value::BakeOut(value) => value.unit(),
            Value::TimeTemperature(value) => value.unit(),
            Value::Exposure(_) => "µT",
        }
    }
}

impl Value {
    /// The value in words, with its unit where a number stands alone.
    pub fn words(&self, units: Units) -> String {
        match self {
            Value::HoldRange { min, max } => range_words(*min, *max, units),
            Value::HoldTime(hold) => hold.words(units),
            Value::HeatingRate(rate) | Value::CoolingRate(rate) => rate.words(units),
            Value::Composition {
                percent_at_least,
                percent_at_most,
            } => {
                let ends = |word: &str, ends: &BTreeMap<String, f64>| -> Vec<String> {
                    ends.iter()
                        .map(|(element, end)| format!("{element} {word} {} %", short(*end)))
                        .collect()
                };
                let mut parts = ends("at least", percent_at_least);
                parts.extend(ends("at most", percent_at_most));
                parts.join(", ")
            }
            Value::HoldSpread(k)
            | Value::NarrowestRange(k)
            | Value::BelowLowerCritical(k)
            | Value::BelowTempering(k) => difference(*k, units),
            Value::HeatingSpread { spread, within_mm } => format!(
                "{} within {}",
                difference(*spread, units),
                far(*within_mm, units)
            ),
            Value::LowerHold { decrease, hold } => format!(
                "{} lower with {}",
                difference(*decrease, units),
                hold.words(units)
            ),
            Value::GoverningThickness(rule) | Value::RateThickness(rule) => {
                rule.words().to_string()
            }
            Value::Exemption { provided } => provided_words(provided, units),
            Value::Override(question) => question.asks().to_string(),
            Value::Question(text) | Value::Advice(text) | Value::Always(text) => text.clone(),
            Value::Hardness(hb) => format!("at most {} HB", short(*hb)),
            Value::Band(band) => band.words(units),
            Value::LowerCritical(c) => temperature(*c, units),
            Value::LowerCriticalFormula(formula) | Value::UpperCriticalFormula(formula) => {
                formula.words()
            }
            Value::Harmful { from_c, to_c, why } => {
                format!("{}: {why}", range_words(Some(*from_c), Some(*to_c), units))
            }
            Value::Thermocouples(group) => group.words(),
            Value::Preheat(value) => value.words(units),
            Value::BakeOut(value) => value.words(),
            Value::TimeTemperature(value) => value.words(),
            Value::Exposure(level) => level.words(),
        }
    }
}

/// A distance along the surface: in feet where the reader's units are inches.
fn far(mm: f64, units: Units) -> String {
    match units {
        Units::Si => length(mm, units),
        Units::Us => format!("{} ft", short(Measure::Length.number(mm, units) / 12.0)),
    }
}

fn provided_words(provided: &[crate::condition::Condition], units: Units) -> String {
    if provided.is_empty() {
        return "none asked".into();
    }
    let all: Vec<String> = provided
        .iter()
        .map(|condition| condition.words(units))
        .collect();
    format!("none asked provided that: {}", all.join("; "))
}

fn range_words(min: Option<f64>, max: Option<f64>, units: Units) -> String {
    let bare = |c: f64| Measure::Temperature.bare(c, units);
    match (min, max) {
        (Some(min), Some(max)) => format!("{} to {}", bare(min), temperature(max, units)),
        (Some(min), None) => format!("at least {}", temperature(min, units)),
        (None, Some(max)) => format!("at most {}", temperature(max, units)),
        (None, None) => "no limit".into(),
    }
}

impl crate::row::ThicknessRule {
    fn words(self) -> &'static str {
        match self {
            crate::row::ThicknessRule::Thicker => "the thicker side",
            crate::row::ThicknessRule::Thinner => "the thinner side",
            crate::row::ThicknessRule::LesserOfWeldAndThicker => {
                "the lesser of the weld and the thicker side"
            }
            crate::row::ThicknessRule::Throat => "the throat of the fillet",
            crate::row::ThicknessRule::GreaterOfGrooveAndThroat => {
                "the depth of the groove or the throat, whichever is more"
            }
            crate::row::ThicknessRule::GreatestPart => {
                "the greatest of run, branch, pad and fillet"
            }
            crate::row::ThicknessRule::ThickestComponent => "the thickest of run, branch and pad",
            crate::row::ThicknessRule::BranchSum { of, .. } => match of {
                crate::row::BranchParts::Branch => "branch and cover throat",
                crate::row::BranchParts::Run => "run and cover throat",
                crate::row::BranchParts::GreaterOfBranchAndPad => "branch or pad, and cover throat",
                crate::row::BranchParts::RunAndPad => "run, pad and cover throat",
            },
        }
    }
}

impl crate::row::BandRule {
    fn words(&self, units: Units) -> String {
        let parts = [
            ("SB", &self.soak),
            ("HB", &self.heated),
            ("GCB", &self.gradient_control),
        ];
        let parts = parts
            .into_iter()
            .filter_map(|(name, width)| Some(format!("{name} = {}", width.as_ref()?.words(units))));
        let parts: Vec<String> = parts.collect();
        if parts.is_empty() {
            self.name.clone()
        } else {
            format!("{}: {}", self.name, parts.join("; "))
        }
    }
}

impl crate::formula::Width {
    fn words(&self, units: Units) -> String {
        use crate::formula::WidthFrom;
        let mut parts = Vec::new();
        match self.from {
            WidthFrom::Zero => {}
            WidthFrom::CapWidth => parts.push("W".to_string()),
            WidthFrom::SoakBand => parts.push("SB".to_string()),
            WidthFrom::HeatedBand => parts.push("HB".to_string()),
        }
        if let Some(index) = self.heating_index {
            return format!("{}·[(OD² − ID²)/2 + ID·SB]/OD", short(index));
        }
        if self.add_mm != 0.0 {
            parts.push(worked_length(self.add_mm, units));
        }
        if self.times_thickness != 0.0 {
            let wall = match (self.thickness_at_most_mm, self.thickness_at_least_mm) {
                (Some(most), _) => format!("min(t, {})", worked_length(most, units)),
                (None, Some(least)) => format!("max(t, {})", worked_length(least, units)),
                (None, None) => "t".into(),
            };
            parts.push(format!("{}·{wall}", exact(self.times_thickness)));
        }
        if self.times_root_rt != 0.0 {
            parts.push(format!("{}·√(R·t)", exact(self.times_root_rt)));
        }
        parts.join(" + ")
    }
}

impl crate::row::ThermocoupleRule {
    fn words(&self) -> String {
        let clock: Vec<String> = self.clock.iter().map(|hour| short(*hour)).collect();
        format!(
            "{:?} at {} o'clock, {:?}, {:?}",
            self.role,
            clock.join(", "),
            self.at,
            self.face
        )
        .to_lowercase()
    }
}
