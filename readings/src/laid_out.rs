//! How the cells of a file are parted, and what its decimal sign is.

use crate::cell::Decimal;
use crate::comma_twice::{Commas, commas};
use crate::complaint::ComplaintKind;
use crate::decimal::{Shown, shown};
use crate::delimiter::{self, Delimiter};
use crate::mapping::Mapping;
use crate::print_out;
use crate::read::Reading;
use crate::table::Table;

/// How the cells of a file are parted.
pub(crate) struct LaidOut {
    pub delimiter: Delimiter,
    /// The lines written again with that delimiter, where they do not stand so.
    pub again: Option<Vec<String>>,
    /// Whether blanks on pages parted them.
    pub is_print_out: bool,
}

impl Reading {
    pub(crate) fn laid_out(&mut self, lines: &[&str], mapping: &Mapping) -> LaidOut {
        let delimiter = delimiter::chosen(lines, mapping.delimiter.as_deref());
        self.understood.delimiter = delimiter.word().to_string();
        let is_print_out = delimiter.word() == "spaces";
        let (delimiter, again) = match delimiter {
            Delimiter::Comma => self.parted_by_commas(lines, mapping),
            _ if is_print_out => match print_out::with_tabs(lines) {
                Some(again) => (Delimiter::Tab, Some(again)),
                None => (delimiter, None),
            },
            _ => (delimiter, None),
        };
        LaidOut {
            delimiter,
            again,
            is_print_out,
        }
    }

    /// Commas part the cells, and may be the decimal sign besides.
    fn parted_by_commas(
        &mut self,
        lines: &[&str],
        mapping: &Mapping,
    ) -> (Delimiter, Option<Vec<String>>) {
        match commas(lines, mapping.decimal.as_deref()) {
            Commas::Part => (Delimiter::Comma, None),
            Commas::Both(parted) => {
                self.complain(None, ComplaintKind::CommaTwice);
                (Delimiter::Semicolon, Some(parted))
            }
            Commas::Open(line) => {
                self.ask(
                    Some(line),
                    "decimal",
                    "Is the comma the decimal sign too, or are these whole numbers?",
                    "Commas part the cells, and every second cell looks like the decimals of the one before.".into(),
                    &["comma", "point"],
                );
                (Delimiter::Comma, None)
            }
        }
    }

    pub(crate) fn decimal(&mut self, lines: &[&str], table: &Table, mapping: &Mapping) -> Decimal {
        match mapping.decimal.as_deref() {
            Some("comma") => return Decimal::Comma,
            Some(_) => return Decimal::Point,
            None => {}
        }
        match shown(&lines[table.first_row..], table.delimiter) {
            Shown::Sure(decimal) => decimal,
            Shown::Open => {
                let evidence = "Every comma in a number has three digits behind it.".to_string();
                self.ask(
                    Some(table.first_row + 1),
                    "decimal",
                    "Is the comma the decimal sign, or does it part thousands?",
                    evidence,
                    &["comma", "point"],
                );
                Decimal::Point
            }
        }
    }
}
