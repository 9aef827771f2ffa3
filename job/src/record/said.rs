//! What a person said of the logger's files, in the words of the trade.

use readings::{HEAT, KEYS, Mapping, OTHER_HEAT, key_of_file, of_one_file};

/// One answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The key of the mapping that holds it.
    pub key: String,
    /// What it is about.
    pub about: String,
    /// As it is kept.
    pub value: String,
    /// In words.
    pub words: String,
}

/// Everything that was said, in the order of the keys.
pub fn said(mapping: &Mapping) -> Vec<Said> {
    let table: toml::Table = mapping.to_toml().parse().unwrap_or_default();
    let text = |value: &toml::Value| value.as_str().unwrap_or_default().to_owned();
    let of_file = KEYS
        .iter()
        .filter_map(|(key, _)| Some(one((*key).to_owned(), text(table.get(*key)?))));
    let of_names = ["column", "clock", "name"].into_iter().flat_map(|list| {
        let named = table.get(list).and_then(toml::Value::as_table);
        let named = named.into_iter().flatten();
        named.map(move |(name, value)| one(format!("{list}.{name}"), text(value)))
    });
    let of_one = mapping.file.iter().flat_map(|(file, said)| {
        let said = said.iter();
        said.map(move |(key, value)| one(of_one_file(file, key), value.clone()))
    });
    of_file.chain(of_names).chain(of_one).collect()
}

fn one(key: String, value: String) -> Said {
    Said {
        about: about(&key),
        words: answer_words(&key, &value),
        key,
        value,
    }
}

/// What a key of a mapping is about.
pub fn about(key: &str) -> String {
    if let Some((file, key)) = key_of_file(key) {
        return format!("{} ({file})", about(key));
    }
    let words = match key {
        "encoding" => "Way the text is written (encoding)",
        "sheet" => "Sheet of the workbook",
        "delimiter" => "Sign between two columns",
        "decimal" => "Decimal sign",
        "date_order" => "Order of day and month",
        "date_base" => "Year from which the spreadsheet counts days",
        "date" => "Date of the first row",
        "start" => "Day and time at which the log begins",
        "time_unit" => "Unit of the times",
        "time_zone" => "Time zone of the recorder’s clock",
        "clock_back" => "Where the clock goes back",
        "overlap" => "Where two files contradict each other",
        "unit" => "Unit of the temperatures",
        "scale" => "Written numbers are multiplied with",
        "good" => "Status of a good reading",
        "thermocouple_type" => "Type of the thermocouples",
        "cold_junction" => "Temperature of the cold junction, in °C",
        HEAT => "Heat of the file",
        _ => "",
    };
    match key.split_once('.') {
        Some(("column", name)) => format!("Column {name}"),
        Some(("clock", file)) => format!("Seconds added to the clock of {file}"),
        Some(("name", channel)) => format!("Channel {channel} of the log"),
        _ => words.to_owned(),
    }
}

/// An answer as a person says it.
pub fn answer_words(key: &str, answer: &str) -> String {
    let list = match key_of_file(key) {
        Some((_, key)) => key,
        None => key.split_once('.').map_or(key, |(list, _)| list),
    };
    let words = match (list, answer) {
        ("unit", "C") => "°C",
        ("unit", "F") => "°F",
        ("unit", "K") => "kelvins",
        ("unit", "mV") => "millivolts of thermocouples",
        ("delimiter", "bar") => "a bar |",
        ("date_order", "day_first") => "day first: 03/04 is the 3rd of April",
        ("date_order", "month_first") => "month first: 03/04 is the 4th of March",
        ("date_order", "year_first") => "year first",
        ("decimal", "comma") => "the comma is the decimal sign",
        ("decimal", "point") => "the point is the decimal sign, a comma parts thousands",
        ("time_unit", "s") => "seconds",
        ("time_unit", "min") => "minutes",
        ("time_unit", "h") => "hours",
        ("time_unit", "epoch_s") => "seconds since 1970",
        ("time_unit", "epoch_ms") => "milliseconds since 1970",
        ("clock_back", "summer_time_ends") => "summer time ended, the hour is there twice",
        ("clock_back", "leave_out") => "leave those rows out",
        ("overlap", "earlier") => "the file that begins earlier holds",
        ("overlap", "later") => "the file that begins later holds",
        ("overlap", "neither") => "neither holds: what both tell there is left out",
        (HEAT, OTHER_HEAT) => "another heat; it is left out of this record",
        (HEAT, file) => return format!("one heat with {file}; all its scans count"),
        ("good", good) => return good.replace("blank", "an empty cell").replace(',', ", "),
        ("column", "time") => "the time of day",
        ("column", "elapsed") => "the time since the start",
        ("column", "set_point") => "set point",
        ("column", "zone_state") => "whether a zone is on",
        ("column", "ignore") => "not read",
        ("name", name) if name.ends_with(NO_THERMOCOUPLE) => "of no thermocouple",
        ("name", name) => return format!("is {name}"),
        _ => answer,
    };
    words.to_owned()
}

/// How the name ends that a channel of no thermocouple is given.
pub const NO_THERMOCOUPLE: &str = ", of no thermocouple";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_is_said_in_words_of_the_trade() {
        for (key, answers) in KEYS {
            assert!(!about(key).is_empty(), "{key}");
            for answer in answers.split(", ").filter(|answer| answer.contains('_')) {
                assert_ne!(answer_words(key, answer), answer, "{key}");
            }
        }
        let mut mapping = Mapping::default();
        for pair in [
            "unit=F",
            "name.CH 1=TC1",
            "name.CH 9=CH 9, of no thermocouple",
            "column.Flag=ignore",
            "file.late.csv.unit=C",
            "file.late.csv.heat=early.csv",
            "file.stray.csv.heat=other",
        ] {
            mapping.choose(pair).expect("a pair");
        }
        let words: Vec<String> = said(&mapping)
            .iter()
            .map(|one| format!("{}: {}", one.about, one.words))
            .collect();
        assert_eq!(
            words,
            [
                "Unit of the temperatures: °F",
                "Column Flag: not read",
                "Channel CH 1 of the log: is TC1",
                "Channel CH 9 of the log: of no thermocouple",
                "Heat of the file (late.csv): one heat with early.csv; all its scans count",
                "Unit of the temperatures (late.csv): °C",
                "Heat of the file (stray.csv): another heat; it is left out of this record",
            ]
        );
        mapping.choose("unit=").expect("taken back");
        assert_eq!(mapping.unit, None);
    }
}
