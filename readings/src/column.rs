//! What each column is.

use std::collections::BTreeMap;

use crate::cell::{Cell, Decimal, cell};
use crate::complaint::ComplaintKind;
use crate::mapping::Mapping;
use crate::moment::{compact_date, compact_time, stamp};
use crate::scale::Scale;
use crate::status;
use crate::table::Table;
use crate::timer::hours_and_minutes;
use crate::words::{Unit, words};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Date, or date and time.
    Date,
    /// Time of day, or of day and date.
    Time,
    /// Time since the start as a number or as hours and minutes.
    Elapsed,
    /// Seconds or milliseconds since 1970.
    Epoch,
    /// Days as a spreadsheet counts them.
    Serial,
    /// A count of rows.
    Counter,
    /// A thermocouple.
    Temperature,
    /// Whether the reading of the column before is good.
    Status,
    /// Whether all readings of the row are good.
    RowStatus,
    /// The temperature asked for.
    SetPoint,
    /// Power of the source.
    Power,
    /// Output of a controller.
    Output,
    /// Whether a zone is on.
    ZoneState,
    /// Temperature of the air or the logger.
    Ambient,
    /// Words of an event.
    Event,
    /// Name of the channel, where every row holds one reading.
    Channel,
    /// The reading, where every row holds one.
    Value,
    /// Its unit.
    Unit,
    /// Nothing that is read.
    Ignored,
}

impl Role {
    /// The word for it.
    pub fn words(self) -> &'static str {
        match self {
            Role::Date => "date",
            Role::Time => "time",
            Role::Elapsed => "time since the start",
            Role::Epoch => "seconds since 1970",
            Role::Serial => "days of a spreadsheet",
            Role::Counter => "counter",
            Role::Temperature => "temperature",
            Role::Status => "status",
            Role::RowStatus => "status of the row",
            Role::SetPoint => "set point",
            Role::Power => "power",
            Role::Output => "output",
            Role::ZoneState => "zone state",
            Role::Ambient => "ambient",
            Role::Event => "event",
            Role::Channel => "channel",
            Role::Value => "reading",
            Role::Unit => "unit",
            Role::Ignored => "not read",
        }
    }

    /// Whether it tells which readings are good.
    pub(crate) fn is_status(self) -> bool {
        matches!(self, Role::Status | Role::RowStatus)
    }

    /// Whether a word of a mapping is one for a column.
    pub(crate) fn is_word(word: &str) -> bool {
        Role::of_word(word).is_some()
    }

    fn of_word(word: &str) -> Option<Role> {
        Some(match word {
            "temperature" => Role::Temperature,
            "set_point" => Role::SetPoint,
            "power" => Role::Power,
            "output" => Role::Output,
            "zone_state" => Role::ZoneState,
            "ambient" => Role::Ambient,
            "event" => Role::Event,
            "time" => Role::Time,
            "date" => Role::Date,
            "elapsed" => Role::Elapsed,
            "counter" | "interval" | "ignore" => Role::Ignored,
            "status" => Role::Status,
            _ => return None,
        })
    }
}

/// A column as it was understood.
#[derive(Clone, Debug)]
pub(crate) struct Column {
    pub name: String,
    pub role: Role,
    pub unit: Option<Unit>,
    pub unit_words: String,
    /// What the file says that its numbers are multiplied with.
    pub scale: Option<Scale>,
    /// What its cells look like.
    pub looks: Looks,
}

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
    compact_times: usize,
    /// Hours and minutes beyond a day, which no clock shows.
    beyond_a_day: usize,
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
const WORDS_KEPT: usize = 64;
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

    fn mostly(&self, count: usize) -> bool {
        count * 2 > self.rows
    }

    /// All but a damaged one.
    fn are_nearly_all(&self, count: usize) -> bool {
        count * NEARLY_ALL.1 >= self.rows * NEARLY_ALL.0
    }

    /// Small whole numbers, as a status has them.
    fn is_code(&self) -> bool {
        self.whole == self.numbers && self.lowest >= 0.0 && self.highest < 256.0
    }

    /// Few different codes or short words, as a status has them.
    fn is_states(&self) -> bool {
        let short = self.words.iter().all(|w| w.chars().count() <= 12);
        let few = self.codes.len() + self.words.len() <= MOST_STATES;
        few && short && (self.numbers == 0 || self.is_code())
    }

    /// Dates without signs between, in a column that is called a time and stands before any other one.
    fn is_compact_date(&self, word: Option<&str>, timed: bool) -> bool {
        let called = matches!(word, Some("clock" | "epoch"));
        called && !timed && self.are_nearly_all(self.compact_dates)
    }

    fn is_serial(&self) -> bool {
        self.whole < self.numbers && self.mostly(self.serials)
    }

    fn is_epoch(&self) -> bool {
        self.mostly(self.epochs)
    }
}

/// The columns of a table.
pub(crate) fn columns(
    table: &Table,
    lines: &[&str],
    decimal: Decimal,
    mapping: &Mapping,
) -> Vec<Column> {
    let mut looks = vec![
        Looks {
            rising: true,
            ..Looks::default()
        };
        table.width
    ];
    let mut cells = Vec::new();
    let below = &lines[table.first_row..];
    let every = 1 + below.len() / LOOKED_AT;
    let sampled = |index: &usize| *index < LOOKED_AT || index.is_multiple_of(every);
    for line in (0..below.len()).filter(sampled).map(|index| below[index]) {
        table.delimiter.split(line, &mut cells);
        if cells.len() >= table.width.min(3) && crate::table::is_row(&cells) {
            cells
                .iter()
                .zip(&mut looks)
                .for_each(|(text, looks)| looks.take(text, decimal));
        }
    }
    let mut columns: Vec<Column> = Vec::new();
    for (index, looks) in looks.into_iter().enumerate() {
        let name = table.names[index].clone();
        let before = columns.last();
        let timed = columns.iter().any(|c| is_time(c.role));
        let role = mapping
            .column
            .get(&name)
            .and_then(|word| Role::of_word(word))
            .unwrap_or_else(|| role(&name, table.units[index], &looks, before, timed));
        columns.push(Column {
            name,
            role,
            unit: table.units[index].or(looks.unit),
            unit_words: table.unit_words[index].clone(),
            scale: table.scales[index],
            looks,
        });
    }
    long_format(&mut columns);
    status::of_rows(&mut columns);
    columns
}

/// A time of day that begins with 0:00 while the head says when the log began counts from that start.
pub(crate) fn from_start(columns: &mut [Column], table: &Table, lines: &[&str], started: bool) {
    let dated = columns
        .iter()
        .any(|c| matches!(c.role, Role::Date | Role::Epoch | Role::Serial));
    let Some(place) = columns
        .iter()
        .position(|c| c.role == Role::Time)
        .filter(|_| !dated)
    else {
        return;
    };
    let mut cells = Vec::new();
    table.delimiter.split(lines[table.first_row], &mut cells);
    let first = cells.get(place).and_then(|c| stamp(c));
    let zero =
        first.is_some_and(|s| s.date.is_none() && s.time == Some(jiff::civil::Time::midnight()));
    if started && zero {
        columns[place].role = Role::Elapsed;
    }
}

/// Whether a column tells the time.
pub(crate) fn is_time(role: Role) -> bool {
    matches!(
        role,
        Role::Date | Role::Time | Role::Elapsed | Role::Epoch | Role::Serial
    )
}

fn role(
    name: &str,
    unit: Option<Unit>,
    looks: &Looks,
    before: Option<&Column>,
    timed: bool,
) -> Role {
    let word = words().role_of(name);
    if looks.mostly(looks.both) || looks.mostly(looks.times + looks.beyond_a_day) {
        return match word {
            Some("elapsed") => Role::Elapsed,
            _ if looks.beyond_a_day > 1 && looks.beyond_a_day * BEYOND >= looks.rows => {
                Role::Elapsed
            }
            _ => Role::Time,
        };
    }
    // Beside a date, and called a time: 100000, 19.40, 10.00.00.
    let beside_date = before.is_some_and(|c| c.role == Role::Date);
    if word == Some("clock") && beside_date && looks.are_nearly_all(looks.compact_times) {
        return Role::Time;
    }
    if looks.mostly(looks.dates) || looks.is_compact_date(word, timed) {
        return Role::Date;
    }
    let behind = before.filter(|c| c.role == Role::Temperature);
    // A column named after the reading before it tells of it.
    let own = behind.is_some_and(|c| status::speaks_of(name, &c.name))
        && matches!(word, None | Some("status" | "alarm" | "event"))
        && unit.is_none()
        && looks.is_states();
    if own && looks.numbers + looks.words.len() > 0 {
        return Role::Status;
    }
    if looks.mostly(looks.numbers) {
        let before = before.map(|c| c.role);
        return of_numbers(word, unit, looks, before, timed);
    }
    let statuses = looks.words.iter().any(|w| words().is_status(w))
        && looks.words.iter().all(|w| w.chars().count() <= 8);
    let switches =
        !looks.words.is_empty() && looks.words.iter().all(|w| words().is_on(w).is_some());
    match word {
        Some("channel") => Role::Channel,
        Some("unit") => Role::Unit,
        Some("zone_state") => Role::ZoneState,
        Some("status") if behind.is_some() && looks.is_states() => Role::Status,
        _ if switches => Role::ZoneState,
        Some("event" | "alarm") => Role::Event,
        Some("status") => Role::Status,
        _ if looks.silent == looks.rows && name.starts_with("column ") => Role::Ignored,
        _ if looks.numbers > 0 => Role::Temperature,
        _ if behind.is_some() && statuses => Role::Status,
        _ if looks.mostly(looks.silent) && looks.words.is_empty() => Role::Temperature,
        _ if looks.words.iter().all(|w| words().unit_of(w).is_some()) => Role::Unit,
        _ => Role::Event,
    }
}

fn of_numbers(
    word: Option<&str>,
    unit: Option<Unit>,
    looks: &Looks,
    before: Option<Role>,
    timed: bool,
) -> Role {
    let of_heat = matches!(
        unit,
        Some(Unit::Celsius | Unit::Fahrenheit | Unit::Millivolt | Unit::Kelvin)
    );
    match word {
        Some("set_point") => Role::SetPoint,
        Some("ambient") => Role::Ambient,
        Some("power") if !of_heat => Role::Power,
        Some("output") if !of_heat => Role::Output,
        Some("zone_state") if !of_heat => Role::ZoneState,
        Some("status" | "alarm" | "event") if looks.is_code() && !of_heat => Role::Status,
        Some("value") => Role::Temperature,
        Some("epoch" | "clock" | "elapsed") if !timed && !of_heat && looks.is_epoch() => {
            Role::Epoch
        }
        Some("epoch" | "clock" | "elapsed") if !timed && !of_heat && looks.is_serial() => {
            Role::Serial
        }
        Some("elapsed" | "clock" | "epoch") if !timed && !of_heat && looks.rising => Role::Elapsed,
        Some("elapsed") if !of_heat => Role::Ignored,
        Some("counter" | "interval") if !of_heat => Role::Counter,
        _ if !timed && !of_heat && before != Some(Role::Temperature) && looks.rising => {
            unnamed_time(looks)
        }
        _ if unit == Some(Unit::Other) => Role::Output,
        _ => Role::Temperature,
    }
}

/// A first column of rising numbers: a time, or a count of rows.
fn unnamed_time(looks: &Looks) -> Role {
    if looks.is_epoch() {
        Role::Epoch
    } else if looks.is_serial() {
        Role::Serial
    } else {
        Role::Elapsed
    }
}

/// One reading a row: a column of names, one of readings.
fn long_format(columns: &mut [Column]) {
    let temperatures: Vec<usize> = of_role(columns, Role::Temperature);
    let channel = of_role(columns, Role::Channel)
        .first()
        .copied()
        .or_else(|| {
            let events = of_role(columns, Role::Event);
            let named = |c: &&usize| (2..WORDS_KEPT).contains(&columns[**c].looks.words.len());
            events
                .iter()
                .find(named)
                .copied()
                .filter(|_| temperatures.len() == 1)
        });
    let (Some(channel), [value]) = (channel, temperatures.as_slice()) else {
        return;
    };
    columns[channel].role = Role::Channel;
    columns[*value].role = Role::Value;
}

/// The places of columns with a role.
pub(crate) fn of_role(columns: &[Column], role: Role) -> Vec<usize> {
    (0..columns.len())
        .filter(|c| columns[*c].role == role)
        .collect()
}

/// Whether numbers since 1970 are milliseconds.
pub(crate) fn is_milliseconds(looks: &Looks) -> bool {
    looks.mostly(looks.epochs_ms)
}

/// Gives columns of one name that hold readings different names; what was done, for each name.
pub(crate) fn told_apart(columns: &mut [Column]) -> Vec<ComplaintKind> {
    let holds = |role| {
        matches!(
            role,
            Role::Temperature
                | Role::SetPoint
                | Role::Power
                | Role::Output
                | Role::ZoneState
                | Role::Ambient
        )
    };
    // For each name the place of its complaint, once it stands twice.
    let mut known: BTreeMap<String, Option<usize>> = BTreeMap::new();
    let mut told: Vec<(String, Vec<String>)> = Vec::new();
    for column in columns.iter_mut().filter(|c| holds(c.role)) {
        let name = column.name.clone();
        let Some(place) = known.get_mut(&name) else {
            known.insert(name, None);
            continue;
        };
        let place = *place.get_or_insert_with(|| {
            told.push((name.clone(), Vec::new()));
            told.len() - 1
        });
        let called = &mut told[place].1;
        column.name = format!("{name} #{}", called.len() + 2);
        called.push(column.name.clone());
        known.insert(column.name.clone(), None);
    }
    let complaint = |(name, called): (String, Vec<String>)| {
        let called = called.join(", ");
        ComplaintKind::SameName { name, called }
    };
    told.into_iter().map(complaint).collect()
}
