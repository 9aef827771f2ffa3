//! A table of the file: keys asked for by name, and those nobody asked for.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;

use quantity::Units;
use toml::Spanned;
use toml::de::DeTable;

use super::{Fault, Faults, Value, nearest};

/// A table of a file, with where it stands and which of its keys were asked for.
#[derive(Debug)]
pub struct Table<'a> {
    entries: &'a DeTable<'a>,
    at: Range<usize>,
    place: String,
    faults: &'a Faults,
    asked: RefCell<BTreeSet<&'static str>>,
}

impl<'a> Table<'a> {
    /// The file itself.
    pub fn root(parsed: &'a Spanned<DeTable<'a>>, faults: &'a Faults) -> Table<'a> {
        Table::new(parsed.get_ref(), parsed.span(), String::new(), faults)
    }

    pub(super) fn new(
        entries: &'a DeTable<'a>,
        at: Range<usize>,
        place: String,
        faults: &'a Faults,
    ) -> Table<'a> {
        Table {
            entries,
            at,
            place,
            faults,
            asked: RefCell::new(BTreeSet::new()),
        }
    }

    /// The units in which messages about it speak.
    pub fn units(&self) -> Units {
        self.faults.units()
    }

    /// The value of a key that may be left out.
    pub fn get(&self, key: &'static str) -> Option<Value<'a>> {
        self.asked.borrow_mut().insert(key);
        self.entries
            .get_key_value(key)
            .map(|(name, value)| self.value(name.span(), key, value))
    }

    /// The value of a key that must be there; `allowed` says what it should hold.
    pub fn need(&self, key: &'static str, allowed: &str) -> Option<Value<'a>> {
        let value = self.get(key);
        if value.is_none() {
            self.note_missing(key, allowed, None);
        }
        value
    }

    /// Notes that a key is missing; `allowed` says what it should hold.
    pub fn note_missing(&self, key: &str, allowed: &str, hint: Option<String>) {
        let allowed = format!("{key} = {allowed}");
        self.note_as(format!("no key {key}"), allowed, hint, Some(key));
    }

    /// The single key of a choice that is there: a fault where several of `keys` are, or none where one is needed.
    pub fn one_of(&self, keys: &[&'static str], needed: bool) -> Option<(&'static str, Value<'a>)> {
        let mut present = keys.iter().filter_map(|key| Some((*key, self.get(key)?)));
        let first = present.next();
        for (other, value) in present {
            let with = first.as_ref().map_or("", |(key, _)| key);
            value.fault(
                format!("{other} beside {with}"),
                format!("one of {}", keys.join(", ")),
                None,
            );
        }
        if first.is_none() && needed {
            let allowed = format!("one of {}", keys.join(", "));
            self.note("none of these keys".into(), allowed, None);
        }
        first
    }

    /// The tables of an array of tables (`[[body]]`); none where the key is left out.
    pub fn tables(&self, key: &'static str) -> Vec<Table<'a>> {
        self.get(key)
            .and_then(|value| value.list())
            .unwrap_or_default()
            .into_iter()
            .filter_map(|value| value.table())
            .collect()
    }

    /// The tables of a table of tables (`[material.steel]`) with their names; none where the key is left out.
    pub fn named_tables(&self, key: &'static str) -> Vec<(&'a str, Table<'a>)> {
        let Some(outer) = self.get(key).and_then(|value| value.table()) else {
            return Vec::new();
        };
        outer
            .entries
            .iter()
            .filter_map(|(name, value)| {
                let inner = outer.value(name.span(), name.get_ref(), value);
                Some((name.get_ref().as_ref(), inner.table()?))
            })
            .collect()
    }

    /// Notes every key that nobody asked for.
    pub fn finish(&self) {
        let asked = self.asked.borrow();
        for name in self.entries.keys() {
            let key: &str = name.get_ref();
            if asked.contains(key) {
                continue;
            }
            let meant = nearest(key, asked.iter().copied());
            let allowed = asked.iter().copied().collect::<Vec<_>>().join(", ");
            let hint = meant.map(|word| format!("did you mean {word}?"));
            self.faults.note(
                name.span(),
                &self.place,
                format!("the unknown key {key}"),
                allowed,
                hint,
            );
        }
    }

    /// Notes a fault of the table as a whole.
    pub fn note(&self, found: String, allowed: String, hint: Option<String>) {
        self.note_as(found, allowed, hint, None);
    }

    /// The same, where all that is wrong is that a key of it is not there.
    pub fn note_as(
        &self,
        found: String,
        allowed: String,
        hint: Option<String>,
        missing: Option<&str>,
    ) {
        self.faults.push(Fault {
            file: String::new(),
            line: self.line(),
            place: self.place.clone(),
            found,
            allowed,
            hint,
            missing: missing.map(str::to_owned),
        });
    }

    /// The line on which it begins.
    pub fn line(&self) -> usize {
        self.faults.line(self.at.start)
    }

    /// Where it stands in the file ("material.steel"); empty for the file itself.
    pub fn place(&self) -> &str {
        &self.place
    }

    fn value(
        &self,
        name_at: Range<usize>,
        key: &str,
        value: &'a Spanned<toml::de::DeValue<'a>>,
    ) -> Value<'a> {
        let place = match self.place.as_str() {
            "" => key.to_owned(),
            outer => format!("{outer}.{key}"),
        };
        Value::new(value, name_at, place, self.faults)
    }
}
