//! What a person says of one file alone: it stands before what is said of every file.

use std::borrow::Cow;

use crate::mapping::{KEYS, Mapping, MappingError, fits};

/// The key that can be said of one file alone only: which heat it is of.
pub const HEAT: &str = "heat";
/// Its word for a file of another heat, which is left out. Anything else names a file with which it is one heat.
pub const OTHER_HEAT: &str = "other";

/// How keys of one file begin.
const BEGINS: &str = "file.";

/// The file and the key of `file.late.csv.unit`. Names of files have points, keys have none.
pub fn key_of_file(key: &str) -> Option<(&str, &str)> {
    key.strip_prefix(BEGINS)?.rsplit_once('.')
}

/// A key as it is said of one file alone.
pub fn of_one_file(file: &str, key: &str) -> String {
    format!("{BEGINS}{file}.{key}")
}

fn is_key(key: &str) -> bool {
    key == HEAT || KEYS.iter().any(|(known, _)| *known == key)
}

/// Key and value of a pair. The name of a file may hold the sign that parts them.
pub(crate) fn parted(pair: &str) -> Option<(&str, &str)> {
    let parts = |at: usize| (&pair[..at], &pair[at + 1..]);
    let whole = |at: &usize| key_of_file(pair[..*at].trim()).is_some_and(|(_, key)| is_key(key));
    let mut signs = pair.match_indices('=').map(|(at, _)| at);
    signs
        .clone()
        .find(whole)
        .or_else(|| signs.next())
        .map(parts)
}

impl Mapping {
    /// What holds of one file: its own answers, then those of every file.
    pub fn of(&self, file: &str) -> Cow<'_, Mapping> {
        let Some(said) = self.file.get(file) else {
            return Cow::Borrowed(self);
        };
        let mut own = self.clone();
        for (key, value) in said {
            if let Ok(slot) = own.slot(key) {
                *slot = Some(value.clone());
            }
        }
        Cow::Owned(own)
    }

    /// What was said of one file alone.
    pub fn said_of(&self, file: &str, key: &str) -> Option<&str> {
        self.file.get(file)?.get(key).map(String::as_str)
    }

    /// Whether a file was said to be of another heat: then it is left out.
    pub fn leaves_out(&self, file: &str) -> bool {
        self.said_of(file, HEAT) == Some(OTHER_HEAT)
    }

    /// The files that are left out.
    pub fn left_out(&self) -> impl Iterator<Item = &str> {
        let files = self.file.keys().map(String::as_str);
        files.filter(|file| self.leaves_out(file))
    }

    /// Takes away everything that names a file; whether there was anything.
    pub fn forget(&mut self, file: &str) -> bool {
        let before = self.clone();
        self.file.remove(file);
        self.clock.remove(file);
        for said in self.file.values_mut() {
            said.retain(|key, value| key != HEAT || value != file);
        }
        self.file.retain(|_, said| !said.is_empty());
        *self != before
    }

    pub(crate) fn choose_of_file(
        &mut self,
        file: &str,
        key: &str,
        value: String,
    ) -> Result<(), MappingError> {
        let mut chosen = self.clone();
        let said = chosen.file.entry(file.to_owned()).or_default();
        let known = is_key(key);
        match value.is_empty() && known {
            true => drop(said.remove(key)),
            false => drop(said.insert(key.to_owned(), value)),
        }
        chosen.file.retain(|_, said| !said.is_empty());
        *self = chosen.checked()?;
        Ok(())
    }

    pub(crate) fn check_files(&self) -> Result<(), MappingError> {
        for (file, said) in &self.file {
            for (key, value) in said {
                check(file, key, value)?;
            }
        }
        Ok(())
    }
}

fn check(file: &str, key: &str, value: &str) -> Result<(), MappingError> {
    let at = format!("{BEGINS}\"{file}\".{key}");
    if !is_key(key) {
        let known: Vec<&str> = KEYS.iter().map(|(key, _)| *key).collect();
        return Err(MappingError::UnknownKey {
            key: at,
            known: format!("{}, {HEAT} for one file", known.join(", ")),
        });
    }
    match key {
        HEAT if value.is_empty() => Err(MappingError::BadValue {
            key: at,
            found: value.to_owned(),
            allowed: "other, or the name of a file with which it is one heat",
        }),
        HEAT => Ok(()),
        _ => fits(key, &at, value),
    }
}
