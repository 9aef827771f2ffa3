//! What is wrong in a file: where, what was found, what is allowed.

use std::cell::{Cell, RefCell};
use std::fmt;
use std::ops::Range;

use quantity::Units;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What a file says at its head where it is for a reader of inches and °F.
const US: &str = "us";

/// One thing that is wrong in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The file, as its reader called it.
    pub file: String,
    /// The line, counted from 1.
    pub line: usize,
    /// The key or table it concerns ("material.steel.density_kg_m3"); empty where the file as a whole is meant.
    pub place: String,
    /// What the file says.
    pub found: String,
    /// What it may say.
    pub allowed: String,
    /// What to do, where there is something to advise.
    pub hint: Option<String>,
    /// The key that is not there, where that is all that is wrong.
    pub missing: Option<String>,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: ", self.file, self.line)?;
        if !self.place.is_empty() {
            write!(f, "{}: ", self.place)?;
        }
        write!(f, "found {}; allowed: {}", self.found, self.allowed)?;
        match &self.hint {
            Some(hint) => write!(f, " ({hint})"),
            None => Ok(()),
        }
    }
}

/// Faults gathered while one file is read.
#[derive(Debug)]
pub struct Faults {
    file: String,
    line_starts: Vec<usize>,
    list: RefCell<Vec<Fault>>,
    units: Cell<Units>,
}

impl Faults {
    /// For a file by its name and its text.
    pub fn new(file: &str, text: &str) -> Faults {
        let after_breaks = text.match_indices('\n').map(|(at, _)| at + 1);
        Faults {
            file: file.to_owned(),
            line_starts: std::iter::once(0).chain(after_breaks).collect(),
            list: RefCell::new(Vec::new()),
            units: Cell::new(Units::default()),
        }
    }

    /// The units in which its messages speak.
    pub fn units(&self) -> Units {
        self.units.get()
    }

    /// Parses the text, noting every breach of TOML itself; what could be read comes back all the same.
    pub fn parse<'t>(&self, text: &'t str) -> Spanned<DeTable<'t>> {
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in errors {
            let at = error.span().unwrap_or(0..0);
            let found = text.get(at.clone()).unwrap_or("");
            let shown = found.lines().next().unwrap_or("");
            let hint = (!shown.is_empty()).then(|| format!("near {shown:?}"));
            self.note(at, "", error.message(), "a TOML file", hint);
        }
        let said = table.get_ref().get("units").map(Spanned::get_ref);
        if matches!(said, Some(DeValue::String(units)) if units == US) {
            self.units.set(Units::Us);
        }
        table
    }

    /// Notes a fault at a span of the text.
    pub fn note(
        &self,
        at: Range<usize>,
        place: &str,
        found: impl Into<String>,
        allowed: impl Into<String>,
        hint: Option<String>,
    ) {
        self.note_line(self.line(at.start), place, found, allowed, hint);
    }

    /// Notes a fault at a line.
    pub fn note_line(
        &self,
        line: usize,
        place: &str,
        found: impl Into<String>,
        allowed: impl Into<String>,
        hint: Option<String>,
    ) {
        self.push(Fault {
            file: String::new(),
            line,
            place: place.to_owned(),
            found: found.into(),
            allowed: allowed.into(),
            hint,
            missing: None,
        });
    }

    /// Keeps a fault as one of this file.
    pub(super) fn push(&self, fault: Fault) {
        self.list.borrow_mut().push(Fault {
            file: self.file.clone(),
            ..fault
        });
    }

    /// The line (from 1) of a byte of the text.
    pub fn line(&self, byte: usize) -> usize {
        self.line_starts.partition_point(|&start| start <= byte)
    }

    /// Whether nothing is wrong so far.
    pub fn is_empty(&self) -> bool {
        self.list.borrow().is_empty()
    }

    /// All faults in the order of their lines; what is read twice is told once.
    pub fn into_list(self) -> Vec<Fault> {
        let mut list = self.list.into_inner();
        list.sort_by_key(|fault| fault.line);
        let mut told: Vec<Fault> = Vec::new();
        for fault in list {
            if !told.contains(&fault) {
                told.push(fault);
            }
        }
        told
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_breach_of_toml_is_told_with_its_line_and_the_rest_is_still_read() {
        let text = "good = 1\nbad = \nlater = 2\n";
        let faults = Faults::new("file.toml", text);
        let parsed = faults.parse(text);
        assert!(parsed.get_ref().contains_key("later"));
        let list = faults.into_list();
        assert_eq!(list[0].line, 2);
        assert!(list[0].to_string().starts_with("file.toml:2: found "));
    }

    #[test]
    fn faults_come_in_the_order_of_lines() {
        let faults = Faults::new("f", "a\nb\nc\n");
        faults.note(4..5, "c", "x", "y", None);
        faults.note(0..1, "a", "x", "y", Some("do z".into()));
        let list = faults.into_list();
        assert_eq!((list[0].line, list[1].line), (1, 3));
        assert_eq!(list[0].to_string(), "f:1: a: found x; allowed: y (do z)");
    }
}
