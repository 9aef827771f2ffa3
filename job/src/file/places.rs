//! Where things stand in the file, for what only turns out to be wrong later; and what was taken where it is silent.

use std::cell::RefCell;
use std::collections::BTreeMap;

use rules::requirement::Level;

use crate::model::Taken;
use crate::toml_reader::{Table, Value};

/// Values and tables that a later check may have to point at.
#[derive(Debug)]
pub(crate) struct Places<'r, 'a> {
    /// The file as a whole.
    pub root: &'r Table<'a>,
    pub code: Option<Value<'a>>,
    pub edition: Option<Value<'a>>,
    pub sides: Vec<SidePlaces<'a>>,
    pub own: BTreeMap<(Level, &'static str), Value<'a>>,
    pub set_point: Option<Value<'a>>,
    pub blanket: Option<Table<'a>>,
    pub cable: Option<Value<'a>>,
    /// One a section of the coil.
    pub sections: Vec<Table<'a>>,
    /// One a thermocouple of the list.
    pub thermocouples: Vec<Table<'a>>,
    pub neighbors: Vec<Table<'a>>,
}

/// The places of one side.
#[derive(Debug)]
pub(crate) struct SidePlaces<'a> {
    pub table: Table<'a>,
    pub wall: Option<Value<'a>>,
    pub p_number: Option<Value<'a>>,
}

/// Collects what was taken where the file is silent.
#[derive(Debug, Default)]
pub(crate) struct Silent {
    list: RefCell<Vec<Taken>>,
}

impl Silent {
    /// Notes what a name that was written otherwise is taken for.
    pub fn understand(&self, table: &Table<'_>, key: &str, known: &str, written: &str) {
        if !known.eq_ignore_ascii_case(written.trim()) {
            self.take(table, key, understood(known, written));
        }
    }

    /// Notes that `key` of `table` is left out and `value` is taken.
    pub fn take(&self, table: &Table<'_>, key: &str, value: impl Into<String>) {
        let key = match table.place() {
            "" => key.to_owned(),
            place => format!("{place}.{key}"),
        };
        self.list.borrow_mut().push(Taken {
            key,
            value: value.into(),
        });
    }

    pub fn list(&self) -> Vec<Taken> {
        self.list.borrow().clone()
    }
}

/// What a name that was written otherwise is taken for.
fn understood(known: &str, written: &str) -> String {
    format!("{known}, as {written:?} is understood")
}
