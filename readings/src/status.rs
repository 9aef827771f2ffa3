//! Which readings a status declares good: said, known from the words or codes that stand there, or asked.

use crate::column::Column;
use crate::file::File;
use crate::mapping::Mapping;
use crate::read::Reading;
use crate::role::Role;
use crate::words::words;

/// The word of a mapping for an empty cell.
const BLANK: &str = "blank";

/// What a column of statuses calls good.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Good {
    /// These, as a person says.
    Said(Vec<String>),
    /// The words that are known as good; an empty cell where none of them stands in the column.
    Words { blank: bool },
    /// The codes of a quality of OPC.
    Quality,
}

impl Good {
    pub fn is(&self, status: &str) -> bool {
        let status = status.trim();
        match self {
            Good::Said(values) => values.iter().any(|value| {
                value.eq_ignore_ascii_case(status) || status.is_empty() && value == BLANK
            }),
            Good::Words { blank } => match status.is_empty() {
                true => *blank,
                false => words().is_good(status),
            },
            Good::Quality => {
                let code = status.parse::<i64>().ok();
                code.is_some_and(|code| words().quality.is_good(code))
            }
        }
    }
}

/// What a column calls good; `None` where nothing tells.
fn known(column: &Column) -> Option<Good> {
    let looks = &column.looks;
    let quality = &words().quality;
    let named = words().role_of(&column.name) == Some("status");
    let of_quality = quality.names(&column.name)
        && looks.numbers > 0
        && looks.words.is_empty()
        && looks.whole == looks.numbers
        && quality.is_all(looks.lowest, looks.highest);
    if of_quality {
        return Some(Good::Quality);
    }
    let good = looks.words.iter().any(|word| words().is_good(word));
    let bad = |word: &String| words().is_status(word);
    let blank = looks.silent > 0 && !good;
    // Marks that stand now and then are known by their column's name; in any other column a person has to say so.
    let marks = blank && looks.numbers == 0 && (named || looks.words.iter().all(bad));
    let told = good || marks || looks.numbers == 0 && looks.words.iter().all(bad);
    (told && looks.numbers == 0).then_some(Good::Words { blank })
}

impl Reading {
    /// What each column of statuses calls good, by its place; `None` for any other column.
    pub(crate) fn statuses(&mut self, file: &File<'_>) -> Vec<Option<Good>> {
        let said = said(file.mapping);
        let mut open: Vec<&Column> = Vec::new();
        let mut found = vec![None; file.columns.len()];
        let statuses = file.columns.iter().enumerate();
        for (place, column) in statuses.filter(|(_, c)| c.role.is_status()) {
            let good = said.clone().or_else(|| known(column));
            if good.is_none() {
                open.push(column);
            }
            // Until it is said, none is good.
            found[place] = Some(good.unwrap_or(Good::Said(Vec::new())));
        }
        if !open.is_empty() {
            self.ask_good(file, &open);
        }
        found
    }

    fn ask_good(&mut self, file: &File<'_>, open: &[&Column]) {
        let mut values: Vec<String> = Vec::new();
        for column in open {
            let codes = column.looks.codes.iter().map(ToString::to_string);
            let blank = (column.looks.silent > 0).then(|| BLANK.to_string());
            let found = column.looks.words.iter().cloned().chain(codes).chain(blank);
            for value in found {
                if !values.contains(&value) {
                    values.push(value);
                }
            }
        }
        values.truncate(MOST_VALUES);
        let names: Vec<&str> = open.iter().map(|column| column.name.as_str()).collect();
        let evidence = format!(
            "{} looks like a status and holds {}; more than one are parted by commas, and column.NAME says where it is none.",
            names.join(", "),
            values.join(", ")
        );
        let answers: Vec<&str> = values.iter().map(String::as_str).collect();
        let line = Some(file.table.first_row + 1);
        let asks = "Which value of the status means a good reading?";
        self.ask(line, "good", asks, evidence, &answers);
    }
}

/// Values that are shown.
const MOST_VALUES: usize = 8;

fn said(mapping: &Mapping) -> Option<Good> {
    let values = mapping.good.as_deref()?.split(',');
    Some(Good::Said(values.map(|v| v.trim().to_string()).collect()))
}

/// Columns of statuses as they stand in a row: behind a reading of their own, or for the whole row.
pub(crate) fn of_rows(columns: &mut [Column]) {
    let temperatures = columns
        .iter()
        .filter(|c| c.role == Role::Temperature)
        .count();
    let statuses = columns.iter().filter(|c| c.role == Role::Status).count();
    for place in 0..columns.len() {
        if columns[place].role != Role::Status || temperatures == 0 {
            continue;
        }
        let before = place.checked_sub(1).map(|before| &columns[before]);
        let behind = before.filter(|c| c.role == Role::Temperature);
        let own = behind.is_some_and(|before| {
            statuses > 1 || temperatures == 1 || speaks_of(&columns[place].name, &before.name)
        });
        if !own {
            columns[place].role = Role::RowStatus;
        }
    }
}

/// Whether a name holds the name of another column and more: `TC1 Alarm`, `Status TC1`.
pub(crate) fn speaks_of(name: &str, other: &str) -> bool {
    let (name, other) = (name.to_lowercase(), other.to_lowercase());
    let Some(at) = name.find(&other) else {
        return false;
    };
    let (before, behind) = (&name[..at], &name[at + other.len()..]);
    let apart = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric());
    apart(before.chars().next_back())
        && apart(behind.chars().next())
        && name.chars().filter(|c| c.is_alphabetic()).count()
            > other.chars().filter(|c| c.is_alphabetic()).count()
}
