//! What keeps a file from being read, in one account: what is wrong, and what is only missing.

use std::fmt;

use super::shape::{Key, TABLES, Times, key_at};
use crate::edit;
use crate::model::Taken;
use crate::toml_reader::Fault;

/// A job file that cannot be a job: everything that is wrong with it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct Refusal {
    /// The faults in the order of their lines; at least one.
    pub faults: Vec<Fault>,
    /// Places of the values that are only missing, one by one, also those of a table that is not there at all.
    pub missing: Vec<String>,
    /// What was understood or taken of what could be read.
    pub taken: Vec<Taken>,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lines: Vec<String> = self.faults.iter().map(Fault::to_string).collect();
        f.write_str(&lines.join("\n"))
    }
}

impl Refusal {
    /// Of the faults that a text has.
    pub(crate) fn of(faults: Vec<Fault>, text: &str, taken: Vec<Taken>) -> Refusal {
        let mut missing: Vec<String> = Vec::new();
        for place in faults.iter().flat_map(|fault| lacking(fault, text)) {
            if !missing.contains(&place) {
                missing.push(place);
            }
        }
        missing.sort_by_key(|place| order(place));
        Refusal {
            faults,
            missing,
            taken,
        }
    }

    /// The faults that are more than a value that is not there.
    pub fn wrong(&self) -> impl Iterator<Item = &Fault> {
        self.faults.iter().filter(|fault| fault.missing.is_none())
    }

    /// How much of both there is.
    pub fn account(&self) -> Account {
        Account {
            wrong: self.wrong().count(),
            missing: self.missing.len(),
        }
    }

    /// The faults with the account of them, as a command tells them.
    pub fn told(&self) -> String {
        let [wrong, missing] = self.account().sentences();
        let places = self.missing.join(", ");
        let missing = missing.map(|words| format!("{words}: {places}"));
        let wrong = wrong.map(|words| format!("{words}."));
        let lines = [Some(self.to_string()), wrong, missing];
        lines.into_iter().flatten().collect::<Vec<_>>().join("\n")
    }
}

/// How many things are wrong in a file and how many values it lacks: page, board and command count alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Account {
    /// Things that are to be put right.
    pub wrong: usize,
    /// Values that are only missing.
    pub missing: usize,
}

impl Account {
    /// Both as sentences without their stop; nothing where there is nothing to tell.
    pub fn sentences(self) -> [Option<String>; 2] {
        let wrong = match self.wrong {
            0 => None,
            1 => Some("One thing is to be put right".to_owned()),
            count => Some(format!("{count} things are to be put right")),
        };
        let missing = match self.missing {
            0 => None,
            1 => Some("One value is still needed".to_owned()),
            count => Some(format!("{count} values are still needed")),
        };
        [wrong, missing]
    }

    /// Both as a row of what is missing before the next step tells them.
    pub fn briefly(self) -> Vec<String> {
        let wrong = match self.wrong {
            0 => None,
            1 => Some("one thing in the job to put right".to_owned()),
            count => Some(format!("{count} things in the job to put right")),
        };
        let missing = match self.missing {
            0 => None,
            1 => Some("one value of the job".to_owned()),
            count => Some(format!("{count} values of the job")),
        };
        wrong.into_iter().chain(missing).collect()
    }
}

/// Where a place stands among the tables and keys, both sides one after the other.
fn order(place: &str) -> (usize, String, usize) {
    let table = place.rsplit_once('.').map_or("", |(table, _)| table);
    let top = |path: &str| path.split(['.', '[']).next().unwrap_or_default().to_owned();
    let group = TABLES.iter().position(|one| top(one.path) == top(table));
    let keys = TABLES.iter().flat_map(|one| one.keys);
    let key = key_at(place).and_then(|key| keys.clone().position(|one| std::ptr::eq(one, key)));
    (
        group.unwrap_or(TABLES.len()),
        table.to_owned(),
        key.unwrap_or_default(),
    )
}

/// The places of the values that a fault says are missing: one, or every needed one of a table that is not there.
fn lacking(fault: &Fault, text: &str) -> Vec<String> {
    let Some(key) = &fault.missing else {
        return Vec::new();
    };
    let place = match fault.place.as_str() {
        "" => key.clone(),
        table => format!("{table}.{key}"),
    };
    let table = TABLES.iter().find(|table| table.path == place);
    let Some(table) = table.filter(|_| key_at(&place).is_none()) else {
        return vec![place];
    };
    let stands = match table.times {
        Times::Twice => vec![format!("{place}[1]"), format!("{place}[2]")],
        _ => vec![place],
    };
    let needed: Vec<&Key> = table.keys.iter().filter(|key| key.must).collect();
    let places = stands.iter().flat_map(|stand| {
        needed
            .iter()
            .map(move |key| format!("{stand}.{}", key.name))
    });
    places
        .filter(|place| edit::get(text, place).is_empty())
        .collect()
}
