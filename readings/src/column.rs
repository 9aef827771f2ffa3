//! What each column is.

use std::collections::BTreeMap;

use crate::cell::Decimal;
use crate::complaint::ComplaintKind;
use crate::looks::{Looks, WORDS_KEPT, looks};
use crate::mapping::Mapping;
use crate::moment::stamp;
use crate::role::Role;
use crate::scale::Scale;
use crate::status;
use crate::table::Table;
use crate::words::{Unit, words};

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

/// The columns of a table.
pub(crate) fn columns(
    table: &Table,
    lines: &[&str],
    decimal: Decimal,
    mapping: &Mapping,
) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::new();
    for (index, looks) in looks(table, lines, decimal).into_iter().enumerate() {
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
            _ if looks.counts_beyond_a_day() => Role::Elapsed,
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
