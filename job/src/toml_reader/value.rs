//! A value of the file, read as what it should be.

use std::fmt;
use std::ops::Range;

use quantity::Units;
use toml::Spanned;
use toml::de::DeValue;

use super::{Faults, Table, nearest};

/// A value with its place; each reading returns `None` after noting what is wrong.
#[derive(Clone, Debug)]
pub struct Value<'a> {
    raw: &'a Spanned<DeValue<'a>>,
    at: Range<usize>,
    place: String,
    faults: &'a Faults,
}

impl<'a> Value<'a> {
    pub(super) fn new(
        raw: &'a Spanned<DeValue<'a>>,
        at: Range<usize>,
        place: String,
        faults: &'a Faults,
    ) -> Value<'a> {
        Value {
            raw,
            at,
            place,
            faults,
        }
    }

    /// The units in which messages about it speak.
    pub fn units(&self) -> Units {
        self.faults.units()
    }

    /// A finite number.
    pub fn number(&self) -> Option<f64> {
        let number = match self.raw() {
            DeValue::Integer(integer) => i64::from_str_radix(integer.as_str(), integer.radix())
                .ok()
                .map(|whole| whole as f64),
            DeValue::Float(float) => float.as_str().parse::<f64>().ok(),
            _ => None,
        };
        number
            .filter(|number| number.is_finite())
            .or_else(|| self.refuse("a finite number"))
    }

    /// A number above a bound.
    pub fn number_above(&self, bound: f64) -> Option<f64> {
        self.bounded(format!("a number above {bound}"), |number| number > bound)
    }

    /// A number not below one bound and not above another.
    pub fn number_within(&self, lowest: f64, highest: f64) -> Option<f64> {
        let allowed = match highest.is_finite() {
            true => format!("a number from {lowest} to {highest}"),
            false => format!("a number from {lowest} up"),
        };
        self.bounded(allowed, |number| (lowest..=highest).contains(&number))
    }

    /// A whole number from 0 up.
    pub fn count(&self) -> Option<usize> {
        let whole = match self.raw() {
            DeValue::Integer(integer) => {
                usize::from_str_radix(integer.as_str(), integer.radix()).ok()
            }
            _ => None,
        };
        whole.or_else(|| self.refuse("a whole number from 0 up"))
    }

    /// A text.
    pub fn text(&self) -> Option<&'a str> {
        self.as_text().or_else(|| self.refuse("a text in quotes"))
    }

    /// The text, where the value is one; nothing is noted where it is not.
    pub fn as_text(&self) -> Option<&'a str> {
        match self.raw() {
            DeValue::String(text) => Some(text.as_ref()),
            _ => None,
        }
    }

    /// One of some words: its number in the list.
    pub fn word_of(&self, words: &[&str]) -> Option<usize> {
        let quoted = words
            .iter()
            .map(|word| format!("{word:?}"))
            .collect::<Vec<_>>();
        let allowed = quoted.join(" or ");
        let Some(text) = self.as_text() else {
            return self.refuse(&allowed);
        };
        let number = words.iter().position(|word| *word == text);
        if number.is_none() {
            let meant = nearest(text, words.iter().copied());
            self.fault(
                format!("{text:?}"),
                allowed,
                meant.map(|word| format!("did you mean {word:?}?")),
            );
        }
        number
    }

    /// True or false.
    pub fn boolean(&self) -> Option<bool> {
        match self.raw() {
            DeValue::Boolean(truth) => Some(*truth),
            _ => self.refuse("true or false"),
        }
    }

    /// A table.
    pub fn table(&self) -> Option<Table<'a>> {
        match self.as_table() {
            Some(table) => Some(table),
            None => self.refuse("a table"),
        }
    }

    /// The table, where the value is one; nothing is noted where it is not.
    pub fn as_table(&self) -> Option<Table<'a>> {
        match self.raw() {
            DeValue::Table(entries) => Some(Table::new(
                entries,
                self.at.clone(),
                self.place.clone(),
                self.faults,
            )),
            _ => None,
        }
    }

    /// A list of values.
    pub fn list(&self) -> Option<Vec<Value<'a>>> {
        match self.as_list() {
            Some(values) => Some(values),
            None => self.refuse("a list in brackets"),
        }
    }

    /// The values of the list, where it is one; nothing is noted where it is not.
    pub fn as_list(&self) -> Option<Vec<Value<'a>>> {
        let DeValue::Array(items) = self.raw() else {
            return None;
        };
        let value = |(number, item): (usize, &'a Spanned<DeValue<'a>>)| {
            let place = format!("{}[{}]", self.place, number + 1);
            Value::new(item, item.span(), place, self.faults)
        };
        Some(items.iter().enumerate().map(value).collect())
    }

    /// A list of numbers of any length.
    pub fn numbers(&self) -> Option<Vec<f64>> {
        let read: Vec<_> = self.list()?.iter().map(Value::number).collect();
        read.into_iter().collect()
    }

    /// A list of exactly N numbers.
    pub fn exactly<const N: usize>(&self) -> Option<[f64; N]> {
        let numbers = self.numbers()?;
        let count = numbers.len();
        numbers.try_into().ok().or_else(|| {
            self.fault(format!("{count} numbers"), format!("{N} numbers"), None);
            None
        })
    }

    /// Notes a fault of this value.
    pub fn fault(
        &self,
        found: impl Into<String>,
        allowed: impl Into<String>,
        hint: Option<String>,
    ) {
        self.faults
            .note(self.at.clone(), &self.place, found, allowed, hint);
    }

    /// The value as the TOML parser gave it, for a reading of one's own.
    pub fn raw(&self) -> &'a DeValue<'a> {
        self.raw.get_ref()
    }

    /// The line on which it stands.
    pub fn line(&self) -> usize {
        self.faults.line(self.at.start)
    }

    /// Where it stands in the file (`body[2].polygon_m`).
    pub fn place(&self) -> &str {
        &self.place
    }

    fn bounded(&self, allowed: String, holds: impl Fn(f64) -> bool) -> Option<f64> {
        let number = self.number()?;
        if holds(number) {
            return Some(number);
        }
        self.fault(format!("{number}"), allowed, None);
        None
    }

    fn refuse<T>(&self, allowed: &str) -> Option<T> {
        self.fault(self.to_string(), allowed, None);
        None
    }
}

/// What a value is, in the words of a fault ("the text \"8 kHz\"").
impl fmt::Display for Value<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.raw() {
            DeValue::String(text) => write!(f, "the text {text:?}"),
            DeValue::Integer(integer) => write!(f, "{}", integer.as_str()),
            DeValue::Float(float) => write!(f, "{}", float.as_str()),
            DeValue::Boolean(truth) => write!(f, "{truth}"),
            DeValue::Datetime(when) => write!(f, "the time {when}"),
            DeValue::Array(items) => write!(f, "a list of {}", items.len()),
            DeValue::Table(entries) => {
                let keys = entries.keys().map(|key| key.get_ref().as_ref());
                write!(f, "a table of {}", keys.collect::<Vec<_>>().join(", "))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every fault of a reading of `text`.
    fn told(text: &str, read: impl Fn(&Table<'_>)) -> Vec<String> {
        let faults = Faults::new("f", text);
        let parsed = faults.parse(text);
        read(&Table::root(&parsed, &faults));
        faults.into_list().iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_wrong_kind_is_told_as_found_and_allowed() {
        let told = told("a = \"8 kHz\"\nb = [1, 2]\nc = -1\nd = inf\n", |root| {
            assert_eq!(root.get("a").and_then(|v| v.number()), None);
            assert_eq!(root.get("b").and_then(|v| v.exactly::<3>()), None);
            assert_eq!(root.get("c").and_then(|v| v.number_above(0.0)), None);
            assert_eq!(root.get("d").and_then(|v| v.number()), None);
        });
        assert_eq!(
            told,
            [
                "f:1: a: found the text \"8 kHz\"; allowed: a finite number",
                "f:2: b: found 2 numbers; allowed: 3 numbers",
                "f:3: c: found -1; allowed: a number above 0",
                "f:4: d: found inf; allowed: a finite number",
            ]
        );
    }

    #[test]
    fn unknown_missing_and_misspelt_are_told_together() {
        let told = told("outer = \"fat\"\nfrequncy_hz = 3.0\n", |root| {
            root.need("title", "a text");
            root.get("frequency_hz");
            root.get("outer")
                .and_then(|v| v.word_of(&["far", "natural"]));
            root.finish();
        });
        assert_eq!(told.len(), 3);
        assert!(told.iter().any(|line| line.contains("no key title")));
        assert!(
            told.iter()
                .any(|line| line.contains("did you mean \"far\"?"))
        );
        assert!(
            told.iter()
                .any(|line| line.contains("did you mean frequency_hz?"))
        );
    }

    #[test]
    fn one_of_several_keys() {
        let told = told("a = 1\nb = 2\n[t]\n", |root| {
            assert_eq!(
                root.one_of(&["a", "b"], true).map(|found| found.0),
                Some("a")
            );
            let inner = root.get("t").and_then(|v| v.table()).expect("a table");
            assert!(inner.one_of(&["c", "d"], true).is_none());
        });
        assert!(told[0].contains("b beside a"));
        assert!(told[1].starts_with("f:3: t: found none of these keys"));
    }

    #[test]
    fn lists_and_named_tables_know_their_places() {
        let told = told(
            "[[body]]\nx = 1\n[[body]]\nx = \"no\"\n[material.steel]\nrho = true\n",
            |root| {
                let read: Vec<_> = root
                    .tables("body")
                    .iter()
                    .map(|t| t.get("x")?.number())
                    .collect();
                assert_eq!(read, [Some(1.0), None]);
                for (name, table) in root.named_tables("material") {
                    assert_eq!(name, "steel");
                    assert_eq!(table.get("rho").and_then(|v| v.number()), None);
                }
            },
        );
        assert!(told[0].starts_with("f:4: body[2].x: "));
        assert!(told[1].starts_with("f:6: material.steel.rho: "));
    }
}
