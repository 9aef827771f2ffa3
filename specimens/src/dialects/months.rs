//! Saved again by a spreadsheet of another country: the month as a word of its language.

use super::{names, with_cell};
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen, tenth};

/// How a country writes a day.
#[derive(Clone, Copy, Debug)]
pub struct Calendar {
    /// Its language.
    pub language: &'static str,
    /// What stands between day, month and year.
    between: [&'static str; 2],
    /// What stands behind the day in the first of a month.
    first: &'static str,
    months: [&'static str; 12],
}

/// Some countries: abbreviations as spreadsheets write them, or whole names.
pub const CALENDARS: [Calendar; 11] = [
    Calendar {
        language: "German",
        between: ["-", "-"],
        first: "",
        months: [
            "Jan", "Feb", "Mär", "Apr", "Mai", "Jun", "Jul", "Aug", "Sep", "Okt", "Nov", "Dez",
        ],
    },
    Calendar {
        language: "French",
        between: [" ", " "],
        first: "er",
        months: [
            "janvier",
            "février",
            "mars",
            "avril",
            "mai",
            "juin",
            "juillet",
            "août",
            "septembre",
            "octobre",
            "novembre",
            "décembre",
        ],
    },
    Calendar {
        language: "French, short",
        between: ["-", "-"],
        first: "",
        months: [
            "janv.", "févr.", "mars", "avr.", "mai", "juin", "juil.", "août", "sept.", "oct.",
            "nov.", "déc.",
        ],
    },
    Calendar {
        language: "German, whole",
        between: [". ", " "],
        first: "",
        months: [
            "Januar",
            "Februar",
            "März",
            "April",
            "Mai",
            "Juni",
            "Juli",
            "August",
            "September",
            "Oktober",
            "November",
            "Dezember",
        ],
    },
    Calendar {
        language: "Spanish",
        between: [" de ", " de "],
        first: "",
        months: [
            "enero",
            "febrero",
            "marzo",
            "abril",
            "mayo",
            "junio",
            "julio",
            "agosto",
            "septiembre",
            "octubre",
            "noviembre",
            "diciembre",
        ],
    },
    Calendar {
        language: "Spanish, short",
        between: ["-", "-"],
        first: "",
        months: [
            "ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sept", "oct", "nov", "dic",
        ],
    },
    Calendar {
        language: "Italian",
        between: ["-", "-"],
        first: "",
        months: [
            "gen", "feb", "mar", "apr", "mag", "giu", "lug", "ago", "set", "ott", "nov", "dic",
        ],
    },
    Calendar {
        language: "Dutch",
        between: [" ", " "],
        first: "",
        months: [
            "jan", "feb", "mrt", "apr", "mei", "jun", "jul", "aug", "sep", "okt", "nov", "dec",
        ],
    },
    Calendar {
        language: "Portuguese",
        between: ["/", "/"],
        first: "",
        months: [
            "jan", "fev", "mar", "abr", "mai", "jun", "jul", "ago", "set", "out", "nov", "dez",
        ],
    },
    Calendar {
        language: "Swedish",
        between: [" ", " "],
        first: "",
        months: [
            "januari",
            "februari",
            "mars",
            "april",
            "maj",
            "juni",
            "juli",
            "augusti",
            "september",
            "oktober",
            "november",
            "december",
        ],
    },
    Calendar {
        language: "English",
        between: [" ", ", "],
        first: "st",
        months: [
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ],
    },
];

pub(super) fn german(recording: &Recording) -> Specimen {
    written(recording, &CALENDARS[0], Encoding::Latin1)
}

pub(super) fn french(recording: &Recording) -> Specimen {
    written(recording, &CALENDARS[1], Encoding::Utf8)
}

/// A recording as a spreadsheet of a country writes it.
pub fn written(recording: &Recording, calendar: &Calendar, encoding: Encoding) -> Specimen {
    let head = format!("Date{}", names(recording, ";", " (°C)"));
    let mut sheet = Sheet::new("log.csv", vec![head], "\r\n", encoding);
    let rows = recording.rows.iter();
    rows.for_each(|row| sheet.row(line(row, calendar)));
    Specimen::new(sheet, recording)
}

fn line(row: &Row, calendar: &Calendar) -> String {
    let reading = |s| format!(";{}", tenth(s, "").replace('.', ","));
    let readings: String = row.shown.iter().map(|s| reading(*s)).collect();
    format!(
        "{} {}{readings}",
        day(row, calendar),
        row.clock.strftime("%H:%M:%S")
    )
}

fn day(row: &Row, calendar: &Calendar) -> String {
    let (day, year) = (row.clock.day(), row.clock.year());
    let month = calendar.months[usize::from(row.clock.month().unsigned_abs()) - 1];
    let behind = if day == 1 { calendar.first } else { "" };
    let [first, second] = calendar.between;
    match first {
        "-" => format!("{day:02}{first}{month}{second}{year}"),
        _ => format!("{day}{behind}{first}{month}{second}{year}"),
    }
}

/// A day that no month has.
pub(super) fn broken_german(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = german(recording);
    whole.scans.remove(row);
    whole.break_row(row, Harm::ImpossibleDate, |line| {
        with_cell(line, ';', 0, "30-Feb-2026 10:00:00")
    })
}

/// A month that no language has.
pub(super) fn broken_french(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = french(recording);
    whole.scans.remove(row);
    whole.break_row(row, Harm::ImpossibleDate, |line| {
        with_cell(line, ';', 0, "3 murs 2026 10:00:00")
    })
}
