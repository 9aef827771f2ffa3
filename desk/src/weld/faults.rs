//! What is wrong with a job and what it lacks, told beside the fields that it belongs to and in one account above them.

use job::Refusal;
use job::nominal_pipe;
use job::shape::{key_at, named, spoken};
use job::toml_reader::Fault;
use serde::Serialize;

use super::form::{Values, field_of, values};

/// Something wrong or missing, with the field it belongs to.
#[derive(Debug, Serialize)]
pub struct FaultShown {
    field: Option<String>,
    line: usize,
    /// Group and field as the form calls them; empty where the file as a whole is meant.
    place: String,
    words: String,
    /// Whether it is only missing.
    is_missing: bool,
}

/// What is wrong and what is only missing, with their sentences.
#[derive(Debug, Default, Serialize)]
pub struct Told {
    /// Each, what is wrong first.
    pub faults: Vec<FaultShown>,
    /// How much is wrong; `None` where nothing is.
    wrong: Option<String>,
    /// How much is missing; `None` where nothing is.
    missing: Option<String>,
}

/// A refusal as a page tells it.
pub fn told(refusal: &Refusal, values: &Values) -> Told {
    let wrong = refusal.wrong().map(|fault| wrong(fault, values));
    let missing = refusal
        .missing
        .iter()
        .map(|place| missing(refusal, place, values));
    let [of_wrong, of_missing] = refusal.account().sentences();
    Told {
        faults: wrong.chain(missing).collect(),
        wrong: of_wrong.map(|words| words + "."),
        missing: of_missing.map(|words| words + "."),
    }
}

/// The same as sentences one behind the other, for where no field stands beside them.
pub fn in_words(refusal: &Refusal, text: &str) -> String {
    let told = told(refusal, &values(text));
    let accounts = told.wrong.into_iter().chain(told.missing);
    let faults = told.faults.iter().map(|fault| match fault.place.as_str() {
        "" => format!("Line {} of the file: {}", fault.line, fault.words),
        place => format!("{place}: {}", fault.words),
    });
    accounts.chain(faults).collect::<Vec<_>>().join(" ")
}

fn wrong(fault: &Fault, values: &Values) -> FaultShown {
    let hint = hint(fault);
    let size =
        nominal_pipe::of_size(&fault.found).map_or(String::new(), |words| format!(" {words}"));
    let field = field_of(&fault.place, values);
    let words = format!(
        "Found {}; allowed: {}{hint}.{size}",
        fault.found, fault.allowed
    );
    // What no field shows is mended in the file, by the words of the file.
    let (place, words) = match &field {
        Some(field) => (named(field), spoken(&words)),
        None if key_at(&fault.place).is_some() || is_stand(&fault.place) => {
            (named(&fault.place), words)
        }
        None => (fault.place.clone(), words),
    };
    FaultShown {
        field,
        line: fault.line,
        place,
        words,
        is_missing: false,
    }
}

/// Whether a place is a table that the form shows.
fn is_stand(place: &str) -> bool {
    let numberless = |step: &str| step.split('[').next().unwrap_or(step).to_owned();
    let path: Vec<String> = place.split('.').map(numberless).collect();
    !place.is_empty()
        && job::shape::TABLES
            .iter()
            .any(|table| table.path == path.join("."))
}

/// A missing value, with what the reader of the file advises; the field itself shows an example.
fn missing(refusal: &Refusal, place: &str, values: &Values) -> FaultShown {
    let of_place = |fault: &&Fault| {
        let key = fault.missing.as_deref().unwrap_or_default();
        let at = match fault.place.as_str() {
            "" => key.to_owned(),
            table => format!("{table}.{key}"),
        };
        at == place
    };
    let fault = refusal.faults.iter().find(of_place);
    let hint = fault.map(hint).unwrap_or_default();
    FaultShown {
        field: field_of(place, values),
        line: fault.map_or(1, |fault| fault.line),
        place: named(place),
        words: spoken(&format!("Still needed{hint}.")),
        is_missing: true,
    }
}

fn hint(fault: &Fault) -> String {
    let hint = fault.hint.as_ref();
    hint.map(|hint| format!(" ({hint})")).unwrap_or_default()
}
