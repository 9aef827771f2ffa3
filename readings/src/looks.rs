//! What the cells of a column look like, before anybody says what it holds.

use crate::cell::{Cell, Decimal, cell};
use crate::moment::{compact_date, compact_time, stamp};
use crate::table::{Table, is_row};
use crate::timer::hours_and_minutes;
use crate::words::Unit;

/// How many of the first rows look like what.
#[derive(Clone, Debug, Default)]
pub(crate) struct Looks {
    pub rows: usize,
    pub numbers: usize,
    pub whole: usize,
    pub silent: usize,
    pub dates: usize,
    pub times: usize,
    pub both: usize,
    pub lowest: f64,
    pub highest: f64,
    pub rising: bool,
    pub unit: Option<Unit>,
    /// Numbers that can be seconds or milliseconds since 1970, and days of a spreadsheet: one damaged row changes neither.
    epochs: usize,
    epochs_ms: usize,
    serials: usize,
    /// Cells that can be a date without signs, and a time of day without colons.
    compact_dates: usize,
    pub compact_times: usize,
    /// Hours and minutes beyond a day, which no clock shows.
    pub beyond_a_day: usize,
    last: Option<f64>,
    /// Different whole numbers, the first few.
    pub codes: Vec<i64>,
    /// Different words, the first few.
    pub words: Vec<String>,
}

/// Rows looked at: the first ones, and as many all over the file.
const LOOKED_AT: usize = 300;
/// Cells of which all but a damaged one have to be alike.
const NEARLY_ALL: (usize, usize) = (19, 20);
/// One in so many cells beyond a day is no damaged one.
const BEYOND: usize = 50;
/// Different words kept of a column.
pub(crate) const WORDS_KEPT: usize = 64;
/// Different whole numbers kept of a column.
const CODES_KEPT: usize = 12;
/// A column named after the reading before it that holds no more different whole numbers or words is its status.
const MOST_STATES: usize = 6;
/// Seconds since 1970 of the year 2001, and days of a spreadsheet of 1982 and 2119: numbers of a time column lie there.
const EPOCH_FROM: f64 = 1e9;
const EPOCH_MS_FROM: f64 = 1e12;
const SERIAL: std::ops::Range<f64> = 30_000.0..80_000.0;

impl Looks {
    fn take(&mut self, text: &str, decimal: Decimal) {
        self.rows += 1;
        match cell(text, decimal) {
            Cell::Number(number, unit) => {
                self.take_number(number, unit);
                self.compact_dates += usize::from(compact_date(text.trim()).is_some());
                self.compact_times += usize::from(compact_time(text).is_some());
            }
            Cell::Silent => self.silent += 1,
            Cell::Words => self.take_words(text),
        }
    }

    fn take_number(&mut self, number: f64, unit: Option<Unit>) {
        self.numbers += 1;
        self.whole += usize::from(number.fract() == 0.0);
        let code = number as i64;
        if self.codes.len() < CODES_KEPT && number.fract() == 0.0 && !self.codes.contains(&code) {
            self.codes.push(code);
        }
        self.epochs += usize::from(number >= EPOCH_FROM);
        self.epochs_ms += usize::from(number >= EPOCH_MS_FROM);
        self.serials += usize::from(SERIAL.contains(&number));
        self.lowest = if self.numbers == 1 {
            number
        } else {
            self.lowest.min(number)
        };
        self.highest = if self.numbers == 1 {
            number
        } else {
            self.highest.max(number)
        };
        self.rising &= self.last.is_none_or(|last| number > last);
        self.last = Some(number);
        self.unit = self.unit.or(unit);
    }

    fn take_words(&mut self, text: &str) {
        self.compact_times += usize::from(compact_time(text).is_some());
        if let Some(stamp) = stamp(text) {
            self.both += usize::from(stamp.date.is_some() && stamp.time.is_some());
            self.dates += usize::from(stamp.date.is_some() && stamp.time.is_none());
            self.times += usize::from(stamp.date.is_none());
        } else if hours_and_minutes(text).is_some() {
            self.beyond_a_day += 1;
        } else if self.words.len() < WORDS_KEPT && !self.words.iter().any(|w| w == text) {
            self.words.push(text.to_string());
        }
    }

    pub fn mostly(&self, count: usize) -> bool {
        count * 2 > self.rows
    }

    /// All but a damaged one.
    pub fn are_nearly_all(&self, count: usize) -> bool {
        count * NEARLY_ALL.1 >= self.rows * NEARLY_ALL.0
    }

    /// Small whole numbers, as a status has them.
    pub fn is_code(&self) -> bool {
        self.whole == self.numbers && self.lowest >= 0.0 && self.highest < 256.0
    }

    /// Few different codes or short words, as a status has them.
    pub fn is_states(&self) -> bool {
        let short = self.words.iter().all(|w| w.chars().count() <= 12);
        let few = self.codes.len() + self.words.len() <= MOST_STATES;
        few && short && (self.numbers == 0 || self.is_code())
    }

    /// Dates without signs between, in a column that is called a time and stands before any other one.
    pub fn is_compact_date(&self, word: Option<&str>, timed: bool) -> bool {
        let called = matches!(word, Some("clock" | "epoch"));
        called && !timed && self.are_nearly_all(self.compact_dates)
    }

    /// Hours and minutes beyond a day, more of them than damage makes.
    pub fn counts_beyond_a_day(&self) -> bool {
        self.beyond_a_day > 1 && self.beyond_a_day * BEYOND >= self.rows
    }

    pub fn is_serial(&self) -> bool {
        self.whole < self.numbers && self.mostly(self.serials)
    }

    pub fn is_epoch(&self) -> bool {
        self.mostly(self.epochs)
    }

    /// Whether numbers since 1970 are milliseconds.
    pub fn is_milliseconds(&self) -> bool {
        self.mostly(self.epochs_ms)
    }
}

/// What the columns of a table look like, by the first rows and as many all over the file.
pub(crate) fn looks(table: &Table, lines: &[&str], decimal: Decimal) -> Vec<Looks> {
    let fresh = Looks {
        rising: true,
        ..Looks::default()
    };
    let mut looks = vec![fresh; table.width];
    let mut cells = Vec::new();
    let below = &lines[table.first_row..];
    let every = 1 + below.len() / LOOKED_AT;
    let sampled = |index: &usize| *index < LOOKED_AT || index.is_multiple_of(every);
    for line in (0..below.len()).filter(sampled).map(|index| below[index]) {
        table.delimiter.split(line, &mut cells);
        if cells.len() >= table.width.min(3) && is_row(&cells) {
            let columns = cells.iter().zip(&mut looks);
            columns.for_each(|(text, looks)| looks.take(text, decimal));
        }
    }
    looks
}
