//! A specimen: the files of a logger and what they hold.

use jiff::civil::DateTime;

use crate::fault::Shown;
use crate::recording::{Recording, Row};

/// What a recorder for type K drives an open circuit to, in °C: the end of the type's reference function (NIST
/// Monograph 175, 1993).
const OPEN_C: f64 = 1372.0;

/// The files of a logger and what they hold.
#[derive(Clone, Debug)]
pub struct Specimen {
    /// The files, in order of time.
    pub sheets: Vec<Sheet>,
    /// The names of the channels.
    pub channels: Vec<String>,
    /// The scans that they hold.
    pub scans: Vec<Scan>,
    /// What the clock on the wall shows at the first of them.
    pub began: DateTime,
    /// What a person has to say because the files don't.
    pub told: Vec<Told>,
}

/// One file before it is turned into bytes.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Its name.
    pub name: String,
    /// Its lines.
    pub lines: Vec<String>,
    /// What ends a line.
    pub end: &'static str,
    /// How characters become bytes.
    pub encoding: Encoding,
    /// The index of the line of each row.
    pub rows: Vec<usize>,
    /// Characters that are missing at the end.
    pub cut: usize,
}

/// How characters become bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8 without a mark.
    Utf8,
    /// One byte a character.
    Latin1,
    /// Two bytes a character, lower first, behind a mark. U+FFFD becomes half of a pair, which is no text.
    Utf16Le,
}

/// One time, all channels.
#[derive(Clone, Debug, PartialEq)]
pub struct Scan {
    /// Seconds since the first.
    pub elapsed_s: f64,
    /// Readings in °C; `None` where a channel says nothing.
    pub readings_c: Vec<Option<f64>>,
}

/// What a person has to say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// Dates have the day first.
    DayFirst,
    /// Dates have the month first.
    MonthFirst,
    /// Days are counted from 1900.
    DaysFrom1900,
    /// Days are counted from 1904.
    DaysFrom1904,
}

/// What is broken in a twin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Damage {
    /// The file, counted from 0.
    pub sheet: usize,
    /// The line, counted from 1.
    pub line: usize,
    /// What it is.
    pub harm: Harm,
}

/// Ways in which a file is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Harm {
    /// A word stands where a number should; no reading.
    WordForNumber,
    /// A row ends early; nothing tells which of its cells is missing, so it gives no reading.
    ShortRow,
    /// A date that is none; the row is lost.
    ImpossibleDate,
    /// No time; the row is lost.
    NoTime,
    /// A code for a reading beyond the range; no reading.
    OverRange,
    /// A status that nobody knows; no reading.
    UnknownStatus,
    /// A row repeats the time of the one before with other readings; the first counts.
    SameTimeAgain,
    /// The last line is cut off; its last reading is missing.
    CutLine,
    /// Bytes that are no text; no reading.
    BadBytes,
    /// Two blocks of one row disagree in time; the first counts.
    BlocksDisagree,
}

impl Sheet {
    /// A file with lines above its rows.
    pub fn new(name: &str, above: Vec<String>, end: &'static str, encoding: Encoding) -> Sheet {
        Sheet {
            name: name.to_owned(),
            lines: above,
            end,
            encoding,
            rows: Vec::new(),
            cut: 0,
        }
    }

    /// Adds a row.
    pub fn row(&mut self, line: String) {
        self.rows.push(self.lines.len());
        self.lines.push(line);
    }

    /// Its bytes.
    pub fn bytes(&self) -> Vec<u8> {
        let mut text: String = self
            .lines
            .iter()
            .flat_map(|line| [line.as_str(), self.end])
            .collect();
        if self.cut > 0 {
            let kept = text.chars().count() - self.end.len() - self.cut;
            text = text.chars().take(kept).collect();
        }
        match self.encoding {
            Encoding::Utf8 => text.into_bytes(),
            Encoding::Latin1 => text.chars().map(|c| c as u8).collect(),
            Encoding::Utf16Le => std::iter::once(0xfeff)
                .chain(
                    text.encode_utf16()
                        .map(|unit| if unit == 0xfffd { 0xd800 } else { unit }),
                )
                .flat_map(u16::to_le_bytes)
                .collect(),
        }
    }
}

impl Specimen {
    /// One file that holds every row at the time that the clock told.
    pub fn new(sheet: Sheet, recording: &Recording) -> Specimen {
        let scan = |row: &Row| Scan {
            elapsed_s: row.told_s as f64,
            readings_c: row.shown.iter().map(|s| shown_c(*s)).collect(),
        };
        Specimen {
            sheets: vec![sheet],
            channels: recording.channels.clone(),
            scans: recording.rows.iter().map(scan).collect(),
            began: recording.rows.first().map_or(DateTime::MIN, |r| r.clock),
            told: Vec::new(),
        }
    }

    /// With an open circuit as silence instead of a reading at the end of the range.
    pub fn open_is_silent(mut self, recording: &Recording) -> Specimen {
        for (scan, row) in self.scans.iter_mut().zip(&recording.rows) {
            for (reading, shown) in scan.readings_c.iter_mut().zip(&row.shown) {
                if *shown == Shown::Open {
                    *reading = None;
                }
            }
        }
        self
    }

    /// Changes the line of a row of the first file.
    pub fn break_row(
        mut self,
        row: usize,
        harm: Harm,
        change: impl Fn(&str) -> String,
    ) -> (Specimen, Damage) {
        let index = self.sheets[0].rows[row];
        self.sheets[0].lines[index] = change(&self.sheets[0].lines[index]);
        let line = index + 1;
        (
            self,
            Damage {
                sheet: 0,
                line,
                harm,
            },
        )
    }
}

/// What a channel shows as a number in °C.
pub fn shown_c(shown: Shown) -> Option<f64> {
    match shown {
        Shown::Tenths(tenths) => Some(f64::from(tenths) / 10.0),
        Shown::Open => Some(OPEN_C),
        Shown::Silent => None,
    }
}

/// A reading with one decimal, and what stands where there is none.
pub fn tenth(shown: Shown, silent: &str) -> String {
    shown_c(shown).map_or(silent.to_owned(), |c| format!("{c:.1}"))
}
