//! The words by which loggers' files name what they hold (`readings/data/words.toml`).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

/// The lists of `readings/data/words.toml`.
#[derive(Debug, Deserialize)]
pub(crate) struct Words {
    roles: BTreeMap<String, Vec<String>>,
    units: BTreeMap<String, Vec<String>>,
    rows: BTreeMap<String, Vec<String>>,
    states: BTreeMap<String, Vec<String>>,
    pub reach: Reach,
    codes: BTreeMap<String, Vec<i64>>,
    pub quality: Quality,
    pub overlap: Overlap,
    pub silence: Silence,
    months: Months,
    head: HeadWords,
}

/// Words at the beginning of a line above the rows.
#[derive(Debug, Deserialize)]
struct HeadWords {
    weld: Vec<String>,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Reach {
    pub lowest_c: f64,
    pub highest_c: f64,
    pub fahrenheit_hold_from: f64,
    pub fahrenheit_hold_to: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Overlap {
    pub apart_k: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Silence {
    pub between_heats_h: f64,
}

/// Codes of a quality, lowest and highest of each kind.
#[derive(Debug, Deserialize)]
pub(crate) struct Quality {
    names: Vec<String>,
    good: [i64; 2],
    uncertain: [i64; 2],
    bad: [i64; 2],
}

impl Quality {
    pub fn is_good(&self, code: i64) -> bool {
        (self.good[0]..=self.good[1]).contains(&code)
    }

    /// Whether a column is called one.
    pub fn names(&self, column: &str) -> bool {
        let name = plain(column);
        name.split(' ').any(|token| among(&self.names, token))
    }

    /// Whether codes from the lowest to the highest can be its own: a good one is among them, and none is no quality.
    pub fn is_all(&self, lowest: f64, highest: f64) -> bool {
        let within = |code: f64| {
            let within = |range: &[i64; 2]| (range[0]..=range[1]).contains(&(code as i64));
            within(&self.good) || within(&self.uncertain) || within(&self.bad)
        };
        self.is_good(highest as i64) && within(lowest)
    }
}

#[derive(Debug, Deserialize)]
struct Months {
    between: Vec<String>,
    names: Vec<Vec<String>>,
}

/// A unit as a file states it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unit {
    Celsius,
    Fahrenheit,
    Millivolt,
    Kelvin,
    /// `K`: kelvins, or thermocouples of type K.
    PerhapsKelvin,
    /// A unit of something else than a temperature.
    Other,
}

impl Unit {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Unit::Celsius => "°C",
            Unit::Fahrenheit => "°F",
            Unit::Millivolt => "mV",
            Unit::Kelvin | Unit::PerhapsKelvin => "K",
            Unit::Other => "another unit",
        }
    }

    /// Whether it is one of a temperature, and no other one.
    pub fn is_sure(self) -> bool {
        !matches!(self, Unit::Other | Unit::PerhapsKelvin)
    }
}

static WORDS: LazyLock<Words> = LazyLock::new(|| {
    // The file is part of the program and a test reads it.
    toml::from_str(include_str!("../data/words.toml")).unwrap_or_else(|error| panic!("{error}"))
});

impl Words {
    /// Whether this is a word for a weld, behind which its name stands.
    pub fn is_weld(&self, text: &str) -> bool {
        let ends = |c: char| c.is_whitespace() || matches!(c, '.' | '#');
        let text = text.trim_end_matches(ends).to_lowercase();
        self.head.weld.contains(&text)
    }
}

pub(crate) fn words() -> &'static Words {
    &WORDS
}

impl Words {
    /// The role whose words stand in a name; the longest match counts.
    pub fn role_of(&self, name: &str) -> Option<&str> {
        let name = plain(name);
        let tokens: Vec<&str> = name.split(' ').collect();
        let bare: Vec<&str> = tokens.iter().map(|t| without_number(t)).collect();
        let mut best: Option<(usize, &str)> = None;
        for (role, entries) in &self.roles {
            // A number may stand behind what there is one of in each zone: SP1, OP2.
            let counted = matches!(role.as_str(), "set_point" | "power" | "output" | "ambient");
            let hits = entries
                .iter()
                .filter(|entry| stands_in(&tokens, entry) || counted && stands_in(&bare, entry));
            if let Some(length) = hits.map(|e| e.chars().count()).max()
                && best.is_none_or(|(longest, _)| length > longest)
            {
                best = Some((length, role));
            }
        }
        best.map(|(_, role)| role)
    }

    /// The unit that a cell names, where it names nothing else.
    pub fn unit_of(&self, cell: &str) -> Option<Unit> {
        let cell = cell
            .trim()
            .trim_matches(|c| matches!(c, '(' | ')' | '[' | ']' | '"'))
            .trim();
        let is = |key: &str| among(&self.units[key], cell);
        if is("celsius") {
            Some(Unit::Celsius)
        } else if is("fahrenheit") {
            Some(Unit::Fahrenheit)
        } else if is("millivolt") {
            Some(Unit::Millivolt)
        } else if is("kelvin") {
            Some(Unit::Kelvin)
        } else if is("perhaps_kelvin") {
            Some(Unit::PerhapsKelvin)
        } else {
            is("other").then_some(Unit::Other)
        }
    }

    /// Whether a status says that the reading is good.
    pub fn is_good(&self, status: &str) -> bool {
        among(&self.states["good"], status.trim())
    }

    /// Whether a word stands before a row that sums up others.
    pub fn is_summary(&self, word: &str) -> bool {
        among(&self.rows["summary"], word.trim().trim_end_matches(':'))
    }

    /// Whether a word is known as a status, good or bad.
    pub fn is_status(&self, word: &str) -> bool {
        let is = |state: &str| among(&self.states[state], word.trim());
        is("good") || is("bad")
    }

    /// Whether a word says that something is on, or off.
    pub fn is_on(&self, word: &str) -> Option<bool> {
        let is = |state: &str| among(&self.states[state], word);
        is("on").then_some(true).or(is("off").then_some(false))
    }

    /// Whether a cell says that there is no reading, without saying why.
    pub fn is_silent(&self, cell: &str) -> bool {
        let cell = cell.trim();
        cell.is_empty() || among(&self.states["silent"], cell)
    }

    /// What a whole number stands for instead of a reading.
    pub fn code(&self, whole: i64) -> Option<&str> {
        let mut codes = self.codes.iter();
        codes.find_map(|(name, list)| list.contains(&whole).then_some(name.as_str()))
    }

    /// Whether a word only stands between day, month and year.
    pub fn is_between(&self, word: &str) -> bool {
        among(&self.months.between, word)
    }

    /// The month, 1 to 12, of its name in one of several languages.
    pub fn month(&self, name: &str) -> Option<i8> {
        if name.starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let name = name.trim_end_matches('.').to_lowercase();
        let place = self
            .months
            .names
            .iter()
            .position(|names| names.contains(&name))?;
        i8::try_from(place + 1).ok()
    }
}

/// Whether a word stands in a list, in capitals or not.
fn among(list: &[String], word: &str) -> bool {
    list.iter().any(|known| known.eq_ignore_ascii_case(word))
}

/// Lower case, with single blanks for everything that parts words.
fn plain(name: &str) -> String {
    let spaced: String = name
        .to_lowercase()
        .chars()
        .map(|c| match c {
            '_' | '-' | '/' | '.' | '(' | ')' | '[' | ']' | ':' | ',' => ' ',
            other => other,
        })
        .collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn without_number(token: &str) -> &str {
    let bare = token.trim_end_matches(|c: char| c.is_ascii_digit());
    if bare.len() > 1 { bare } else { token }
}

fn stands_in(tokens: &[&str], entry: &str) -> bool {
    let wanted: Vec<&str> = entry.split(' ').collect();
    tokens
        .windows(wanted.len())
        .any(|window| window == wanted.as_slice())
}

#[cfg(test)]
mod tests {
    use super::{Unit, words};

    #[test]
    fn names_tell_their_role() {
        assert_eq!(words().role_of("Set Point (°C)"), Some("set_point"));
        assert_eq!(words().role_of("Elapsed time [min]"), Some("elapsed"));
        assert_eq!(words().role_of("SP1"), Some("set_point"));
        for name in ["TC12", "TC on flange", "TC set 1", "Internal surface"] {
            assert_eq!(words().role_of(name), None, "{name}");
        }
        assert_eq!(words().role_of("Power kW"), Some("power"));
    }

    #[test]
    fn units_and_months_in_their_spellings() {
        assert_eq!(words().unit_of("[degF]"), Some(Unit::Fahrenheit));
        assert_eq!(words().unit_of("°C"), Some(Unit::Celsius));
        assert_eq!(words().month("Mär"), Some(3));
        assert_eq!(words().month("déc."), Some(12));
    }
}
