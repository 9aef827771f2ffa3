//! From the cells of a row to a number that orders it in time.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::Offset;
use jiff::{SignedDuration, Timestamp};

use crate::cell::{Decimal, number};
use crate::column::{Column, of_role};
use crate::moment::{DateOrder, DateParts, Stamp, compact_date, compact_time, stamp};
use crate::role::Role;

pub(crate) const NS_PER_S: i64 = 1_000_000_000;
const S_PER_DAY: f64 = 86_400.0;
/// 145 years.
const REACH_NS: u64 = 145 * 365 * 86_400 * NS_PER_S as u64;

/// What the numbers of a file's rows count from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum TimeKind {
    /// What a clock on a wall shows, as if it were UTC.
    Clock,
    /// UTC.
    Utc,
    /// The start.
    Start,
}

/// Turns the cells of a row into nanoseconds.
#[derive(Clone, Debug)]
pub(crate) struct Timer {
    pub kind: TimeKind,
    column: usize,
    role: Role,
    date_column: Option<usize>,
    decimal: Decimal,
    order: Option<DateOrder>,
    /// Seconds in the unit of a plain number.
    unit_s: f64,
    /// Day zero of a spreadsheet.
    base: Date,
    /// The day of a time of day without one.
    pub day: Option<Date>,
    last_time: Option<Time>,
}

/// What a timer has to be told.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Told {
    pub decimal: Decimal,
    pub order: Option<DateOrder>,
    pub unit_s: Option<f64>,
    pub base_1904: bool,
    pub day: Option<Date>,
}

impl Timer {
    /// `None` where no column tells the time.
    pub fn new(columns: &[Column], told: Told) -> Option<Timer> {
        let of = |role| of_role(columns, role).first().copied();
        let roles = [
            Role::Time,
            Role::Date,
            Role::Epoch,
            Role::Serial,
            Role::Elapsed,
        ];
        let (role, column) = roles.iter().find_map(|role| Some((*role, of(*role)?)))?;
        let milliseconds = role == Role::Epoch && columns[column].looks.is_milliseconds();
        let kind = match role {
            Role::Epoch => TimeKind::Utc,
            Role::Elapsed => TimeKind::Start,
            _ => TimeKind::Clock,
        };
        Some(Timer {
            kind,
            column,
            role,
            date_column: of(Role::Date).filter(|date| *date != column),
            decimal: told.decimal,
            order: told.order,
            unit_s: told.unit_s.unwrap_or(if milliseconds { 1e-3 } else { 1.0 }),
            base: match told.base_1904 {
                true => jiff::civil::date(1904, 1, 1),
                false => jiff::civil::date(1899, 12, 30),
            },
            day: told.day,
            last_time: None,
        })
    }

    /// Whether rows have told a time of day without a day.
    pub fn goes_on_by_days(&self) -> bool {
        self.last_time.is_some()
    }

    /// This timer for rows that follow those of another.
    pub fn after(mut self, before: &Timer) -> Timer {
        (self.day, self.last_time) = (before.day, before.last_time);
        self
    }

    /// Whether rows tell a time of day without a day.
    pub fn lacks_day(&self, first: &[&str]) -> bool {
        self.role == Role::Time
            && self.date_column.is_none()
            && first
                .get(self.column)
                .and_then(|c| stamp(c))
                .is_some_and(|s| s.date.is_none())
    }

    /// Nanoseconds of a row; `None` where it tells no time.
    pub fn at(&mut self, cells: &[&str]) -> Option<i64> {
        let cell = *cells.get(self.column)?;
        match self.role {
            Role::Epoch => scaled_ns(number(cell, self.decimal)?, self.unit_s),
            Role::Elapsed => match number(cell, self.decimal) {
                Some(number) => scaled_ns(number, self.unit_s),
                None => hours_and_minutes(cell),
            },
            Role::Serial => {
                let days = number(cell, self.decimal)?;
                // Fifteen digits leave microseconds; milliseconds are what a clock shows.
                let ms = (days * S_PER_DAY * 1e3).round() as i64;
                let first = self.base.to_datetime(Time::midnight());
                clock_ns(first.checked_add(SignedDuration::from_millis(ms)).ok()?)
            }
            _ => self.written(cell, cells),
        }
    }

    /// Date and time of a row as the file has them; `None` where no date is written.
    pub fn as_written(&self, cells: &[&str]) -> Option<String> {
        if self.role != Role::Time && self.role != Role::Date {
            return None;
        }
        let time = cells.get(self.column)?.trim();
        match self.date_column {
            Some(column) => Some(format!("{} {time}", cells.get(column)?.trim())),
            None => Some(time.to_owned()),
        }
    }

    fn written(&mut self, cell: &str, cells: &[&str]) -> Option<i64> {
        let dated = match self.date_column {
            Some(column) => Some(date_of(cells.get(column)?)?),
            None => None,
        };
        let bare = dated.is_some() && !cell.contains(':');
        let read = match bare.then(|| compact_time(cell)).flatten() {
            Some(time) => Stamp {
                date: None,
                time: Some(time),
                offset: None,
            },
            None => stamp(cell).or_else(|| day_only(cell))?,
        };
        let dated = dated.or(read.date);
        let time = read.time.unwrap_or(Time::midnight());
        let date = match dated {
            Some(parts) => self.date(parts)?,
            None => self.day_of(time),
        };
        let at = date.to_datetime(time);
        match read.offset {
            Some(offset) => {
                self.kind = TimeKind::Utc;
                within_reach(offset.to_timestamp(at).ok()?.as_nanosecond())
            }
            None => clock_ns(at),
        }
    }

    fn date(&self, parts: DateParts) -> Option<Date> {
        match parts {
            DateParts::Sure(date) => Some(date),
            open => open.in_order(self.order.unwrap_or(DateOrder::Day)),
        }
    }

    /// A time of day far behind the last one is of the next day.
    fn day_of(&mut self, time: Time) -> Date {
        let day = self.day.unwrap_or(jiff::civil::date(1970, 1, 1));
        let back = self
            .last_time
            .is_some_and(|last| last.duration_since(time) > SignedDuration::from_hours(12));
        let day = if back {
            day.tomorrow().unwrap_or(day)
        } else {
            day
        };
        (self.day, self.last_time) = (Some(day), Some(time));
        day
    }
}

/// The date in a column of dates.
fn date_of(cell: &str) -> Option<DateParts> {
    stamp(cell).or_else(|| day_only(cell))?.date
}

fn day_only(cell: &str) -> Option<Stamp> {
    let date = compact_date(cell.trim())?;
    Some(Stamp {
        date: Some(DateParts::Sure(date)),
        time: None,
        offset: None,
    })
}

fn scaled_ns(number: f64, unit_s: f64) -> Option<i64> {
    // Microseconds: finer than any logger and exact in a double since 1970.
    let microseconds = (number * unit_s * 1e6).round() as i128;
    within_reach(microseconds.checked_mul(1000)?)
}

/// Times before 1825 and behind 2115 are none of a log; between them every difference of two fits.
fn within_reach(ns: i128) -> Option<i64> {
    let ns = i64::try_from(ns).ok()?;
    (ns.unsigned_abs() < REACH_NS).then_some(ns)
}

pub(crate) fn clock_ns(at: DateTime) -> Option<i64> {
    let at = Offset::UTC.to_timestamp(at).ok()?;
    within_reach(at.as_nanosecond())
}

pub(crate) fn clock_of(ns: i64) -> DateTime {
    let at = Timestamp::from_nanosecond(i128::from(ns)).unwrap_or(Timestamp::UNIX_EPOCH);
    Offset::UTC.to_datetime(at)
}

/// `25:07:30` since the start.
pub(crate) fn hours_and_minutes(text: &str) -> Option<i64> {
    let mut seconds = 0.0;
    let parts: Vec<&str> = text.trim().split(':').collect();
    if !(2..=3).contains(&parts.len()) {
        return None;
    }
    for (part, unit_s) in parts.iter().zip([3600.0, 60.0, 1.0]) {
        seconds += unit_s * part.parse::<f64>().ok().filter(|n| n.is_finite())?;
    }
    scaled_ns(seconds, 1.0)
}
