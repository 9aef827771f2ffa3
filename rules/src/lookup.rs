//! Walking over all rows: what is known, where it stands, how far it can be trusted.

use quantity::Status;
use serde::Serialize;

use crate::fault::RuleError;
use crate::row::{Row, Value};
use crate::shelf;
use crate::weld::Purpose;
use crate::wording::{exact, short};

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
            value: row.value_words(),
            value_as_written: as_written(&row.value),
            unit: row.unit.clone(),
            range: range_of(row),
            status: row.status,
            is_on: row.is_on(),
            note: row.note.clone(),
        })
        .collect())
}

/// Where a row holds, for the sides and for the weld as a whole.
fn range_of(row: &Row) -> String {
    let parts = [row.when.words(), row.asked_if.words()];
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join(", ")
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
            Value::Question(_) => "question",
            Value::Advice(_) => "advice",
            Value::Hardness(_) => "hardness",
            Value::Band(_) => "bands",
            Value::LowerCritical(_) => "lower critical temperature",
            Value::LowerCriticalFormula(_) => "lower critical temperature by composition",
            Value::UpperCriticalFormula(_) => "upper critical temperature by composition",
            Value::BelowLowerCritical(_) => "margin below the lower critical temperature",
            Value::BelowTempering(_) => "margin below the tempering temperature",
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
            | Value::LowerCritical(_)
            | Value::LowerCriticalFormula(_)
            | Value::UpperCriticalFormula(_) => "°C",
            Value::HoldTime(_) => "min",
            Value::HeatingRate(_) | Value::CoolingRate(_) => "K/h",
            Value::HoldSpread(_) | Value::BelowLowerCritical(_) | Value::BelowTempering(_) => "K",
            Value::HeatingSpread { .. } => "K within mm",
            Value::LowerHold { .. } => "K, min",
            Value::GoverningThickness(_)
            | Value::RateThickness(_)
            | Value::Exemption { .. }
            | Value::Band(_) => "mm",
            Value::Question(_) | Value::Advice(_) | Value::Override(_) => "words",
            Value::Hardness(_) => "HB",
            Value::Thermocouples(_) => "clock hour",
            Value::Preheat(value) => value.unit(),
            Value::BakeOut(value) => value.unit(),
            Value::TimeTemperature(value) => value.unit(),
            Value::Exposure(_) => "µT",
        }
    }
}

impl Row {
    /// The value in words, with its unit where a number stands alone.
    pub fn value_words(&self) -> String {
        match &self.value {
            Value::HoldRange { min, max } => range_words(*min, *max),
            Value::HoldTime(hold) => hold.words(),
            Value::HeatingRate(rate) | Value::CoolingRate(rate) => rate.words(),
            Value::HoldSpread(k) | Value::BelowLowerCritical(k) | Value::BelowTempering(k) => {
                format!("{} K", short(*k))
            }
            Value::HeatingSpread { spread, within_mm } => {
                format!("{} K within {} mm", short(*spread), short(*within_mm))
            }
            Value::LowerHold { decrease, hold } => {
                format!("{} K lower with {}", short(*decrease), hold.words())
            }
            Value::GoverningThickness(rule) | Value::RateThickness(rule) => {
                rule.words().to_string()
            }
            Value::Exemption { provided } => provided_words(provided),
            Value::Override(question) => question.asks().to_string(),
            Value::Question(text) | Value::Advice(text) => text.clone(),
            Value::Hardness(hb) => format!("at most {} HB", short(*hb)),
            Value::Band(band) => band.words(),
            Value::LowerCritical(c) => format!("{} °C", short(*c)),
            Value::LowerCriticalFormula(formula) | Value::UpperCriticalFormula(formula) => {
                formula.words()
            }
            Value::Thermocouples(group) => group.words(),
            Value::Preheat(value) => value.words(),
            Value::BakeOut(value) => value.words(),
            Value::TimeTemperature(value) => value.words(),
            Value::Exposure(level) => level.words(),
        }
    }
}

fn provided_words(provided: &[crate::condition::Condition]) -> String {
    if provided.is_empty() {
        return "none asked".into();
    }
    let all: Vec<String> = provided
        .iter()
        .map(crate::condition::Condition::words)
        .collect();
    format!("none asked provided that: {}", all.join("; "))
}

fn range_words(min: Option<f64>, max: Option<f64>) -> String {
    match (min, max) {
        (Some(min), Some(max)) => format!("{} to {} °C", short(min), short(max)),
        (Some(min), None) => format!("at least {} °C", short(min)),
        (None, Some(max)) => format!("at most {} °C", short(max)),
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
            crate::row::ThicknessRule::GreatestPart => "the greatest of run, branch and pad",
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
    fn words(&self) -> String {
        let parts = [
            ("SB", &self.soak),
            ("HB", &self.heated),
            ("GCB", &self.gradient_control),
        ];
        let parts = parts
            .into_iter()
            .filter_map(|(name, width)| Some(format!("{name} = {}", width.as_ref()?.words())));
        let parts: Vec<String> = parts.collect();
        if parts.is_empty() {
            self.name.clone()
        } else {
            format!("{}: {}", self.name, parts.join("; "))
        }
    }
}

impl crate::formula::Width {
    fn words(&self) -> String {
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
            parts.push(short(self.add_mm));
        }
        if self.times_thickness != 0.0 {
            let wall = match (self.thickness_at_most_mm, self.thickness_at_least_mm) {
                (Some(most), _) => format!("min(t, {})", short(most)),
                (None, Some(least)) => format!("max(t, {})", short(least)),
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
