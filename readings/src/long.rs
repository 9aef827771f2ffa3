//! Files with one reading a row: time, channel, reading, and perhaps its unit.

use std::collections::BTreeMap;

use quantity::Celsius;

use crate::cell::{Cell, cell};
use crate::column::{Column, of_role};
use crate::complaint::ComplaintKind;
use crate::gathered::Gathered;
use crate::reading_cell::Reader;
use crate::role::Role;
use crate::status::Good;
use crate::table::Table;
use crate::tally::Why;
use crate::timer::Timer;
use crate::wide::{Rows, Words};
use crate::words::{Unit, words};

/// A channel of the file, or what else its rows tell by name.
struct Source {
    name: String,
    role: Role,
    unit_words: String,
    place: Place,
}

#[derive(Clone, Copy)]
enum Place {
    /// Among the temperature channels.
    Channel(usize),
    /// Among the series beside them.
    Series(usize),
}

/// What the rows tell of, in the order in which it first stands in the file.
#[derive(Default)]
struct Sources {
    all: Vec<Source>,
    places: BTreeMap<String, usize>,
    channels: usize,
}

/// More names than this are no channels: every time of the log keeps room for every channel.
const MOST_SOURCES: usize = 1000;

/// What one row says.
enum Said {
    Reading(usize, Option<Celsius>),
    Number(usize, f64),
    Words(String),
}

struct Single {
    at_ns: i64,
    line: usize,
    said: Said,
}

/// Columns of a row by what they hold.
struct Places {
    channel: usize,
    value: usize,
    unit: Option<usize>,
    status: Option<usize>,
}

/// Reads every row.
pub(crate) fn rows(
    lines: &[&str],
    table: &Table,
    columns: &[Column],
    good: &[Option<Good>],
    reader: Reader,
    timer: &mut Timer,
) -> Option<Gathered> {
    let of = |role| of_role(columns, role).first().copied();
    let places = Places {
        channel: of(Role::Channel)?,
        value: of(Role::Value)?,
        unit: of(Role::Unit),
        status: of(Role::Status).or(of(Role::RowStatus)),
    };
    let good = places.status.and_then(|place| good[place].as_ref());
    let mut sources = Sources::default();
    let mut rows = Rows::default();
    let mut singles: Vec<Single> = Vec::new();
    let mut cells = Vec::new();
    let mut further = Vec::new();
    for (index, line) in lines.iter().enumerate().skip(table.first_row) {
        if line.trim().is_empty() {
            continue;
        }
        if table.is_header(line, lines) {
            rows.complaints
                .push((index + 1, ComplaintKind::HeaderAgain));
            continue;
        }
        table.delimiter.split(line, &mut cells);
        let name = cells.get(places.channel).copied().unwrap_or("").trim();
        let Some(at_ns) = timer.at(&cells).filter(|_| !name.is_empty()) else {
            let shown: String = line.trim().chars().take(60).collect();
            rows.complaints
                .push((index + 1, ComplaintKind::RowNotUnderstood(shown)));
            continue;
        };
        let known = sources.places.get(name).copied();
        let event = known.is_none() && words().role_of(name) == Some("event");
        if known.is_none() && !event && sources.all.len() == MOST_SOURCES {
            further.push(index + 1);
            continue;
        }
        let trailing = cells.len() == table.width + 1 && cells.last() == Some(&"");
        if cells.len() != table.width && !trailing && !event {
            let (found, expected) = (cells.len(), table.width);
            rows.complaints
                .push((index + 1, ComplaintKind::OddRow { found, expected }));
            continue;
        }
        let said = said(
            &cells,
            (&places, good),
            &mut sources,
            reader,
            index + 1,
            &mut rows,
        );
        singles.push(Single {
            at_ns,
            line: index + 1,
            said,
        });
    }
    if let Some(line) = further.first() {
        let (most, left_out) = (MOST_SOURCES, further.len());
        rows.complaints
            .push((*line, ComplaintKind::TooManyNames { most, left_out }));
    }
    sorted(&mut singles, &mut rows);
    let others = others(&sources.all, columns, places.value);
    rows.others = others
        .iter()
        .enumerate()
        .map(|(index, _)| (index, Vec::new()))
        .collect();
    let of_heat = sources.all.iter();
    let of_heat = of_heat.filter(|s| matches!(s.place, Place::Channel(_)));
    let names: Vec<String> = of_heat.map(|s| s.name.clone()).collect();
    gathered(singles, names.len(), &mut rows);
    Some(Gathered {
        names,
        rows,
        others,
        now: String::new(),
    })
}

fn said(
    cells: &[&str],
    (places, good): (&Places, Option<&Good>),
    sources: &mut Sources,
    mut reader: Reader,
    line: usize,
    rows: &mut Rows,
) -> Said {
    let text_at = |place: usize| cells.get(place).copied().unwrap_or("").trim();
    let (name, value) = (text_at(places.channel), text_at(places.value));
    let unit_text = places.unit.map_or("", text_at);
    let unit = words().unit_of(unit_text);
    let read = cell(value, reader.decimal);
    let known = sources.places.get(name).copied();
    let event = known.is_none() && words().role_of(name) == Some("event");
    if event || read == Cell::Words && words().is_on(value).is_none() && value.contains(' ') {
        let told = [name, value]
            .into_iter()
            .filter(|t| !(t.is_empty() || event && *t == name && !value.is_empty()));
        return Said::Words(told.collect::<Vec<_>>().join(" "));
    }
    let source = known.unwrap_or_else(|| sources.add(name, unit, unit_text));
    let channel = match sources.all[source].place {
        Place::Channel(channel) => channel,
        Place::Series(series) => {
            let on = words().is_on(value).map(|on| f64::from(u8::from(on)));
            return match (read, on) {
                (Cell::Number(number, _), _) => Said::Number(series, number),
                (_, Some(on)) => Said::Number(series, on),
                (Cell::Silent, _) => Said::Number(series, f64::NAN),
                _ => Said::Words(format!("{name} {value}")),
            };
        }
    };
    reader.unit = unit.filter(|u| u.is_sure()).unwrap_or(reader.unit);
    let bad = places
        .status
        .map(text_at)
        .filter(|status| good.is_some_and(|good| !good.is(status)));
    if let Some(status) = bad {
        rows.tally.count(channel, Why::BadStatus, status, line);
        return Said::Reading(channel, None);
    }
    Said::Reading(channel, reader.read(value, channel, line, &mut rows.tally))
}

impl Sources {
    fn add(&mut self, name: &str, unit: Option<Unit>, unit_text: &str) -> usize {
        let role = role_of(name, unit);
        let source = self.all.len();
        let place = match role {
            Role::Temperature => Place::Channel(self.channels),
            _ => Place::Series(source - self.channels),
        };
        self.channels += usize::from(role == Role::Temperature);
        self.places.insert(name.to_string(), source);
        self.all.push(Source {
            name: name.to_string(),
            role,
            unit_words: unit_text.to_string(),
            place,
        });
        source
    }
}

fn role_of(name: &str, unit: Option<Unit>) -> Role {
    match (words().role_of(name), unit) {
        (Some("set_point"), _) => Role::SetPoint,
        (Some("ambient"), _) => Role::Ambient,
        (Some("power"), Some(Unit::Other) | None) => Role::Power,
        (Some("zone_state"), Some(Unit::Other) | None) => Role::ZoneState,
        (Some("output"), Some(Unit::Other) | None) => Role::Output,
        (_, Some(Unit::Other)) => Role::Output,
        _ => Role::Temperature,
    }
}

/// Columns that the series beside the temperatures would have in a file with all side by side.
fn others(sources: &[Source], columns: &[Column], value: usize) -> Vec<Column> {
    let beside = sources.iter();
    let beside = beside.filter(|s| matches!(s.place, Place::Series(_)));
    beside
        .map(|source| Column {
            name: source.name.clone(),
            role: source.role,
            unit: None,
            unit_words: source.unit_words.clone(),
            scale: None,
            looks: columns[value].looks.clone(),
        })
        .collect()
}

fn sorted(singles: &mut [Single], rows: &mut Rows) {
    let late = |pair: &&[Single]| pair[1].at_ns < pair[0].at_ns;
    let count = singles.windows(2).filter(late).count();
    if let Some(first) = singles.windows(2).find(late) {
        rows.complaints
            .push((first[1].line, ComplaintKind::Sorted { count }));
        singles.sort_by_key(|single| single.at_ns);
    }
}

/// Readings of one time become one row; a second reading of a channel at one time is left out.
fn gathered(singles: Vec<Single>, channels: usize, rows: &mut Rows) {
    let mut told: Vec<bool> = Vec::new();
    for single in singles {
        if let Said::Words(text) = single.said {
            let (row, line, at_ns) = (rows.times_ns.len(), single.line, Some(single.at_ns));
            rows.events.push(Words {
                row,
                line,
                text,
                at_ns,
            });
            continue;
        }
        if rows.times_ns.last() != Some(&single.at_ns) {
            rows.times_ns.push(single.at_ns);
            rows.lines.push(single.line);
            rows.readings.push(vec![None; channels]);
            told = vec![false; channels];
        }
        let row = rows.times_ns.len() - 1;
        match single.said {
            Said::Reading(channel, _) if told[channel] => {
                rows.complaints
                    .push((single.line, ComplaintKind::SameTimeAgain { count: 1 }));
            }
            Said::Reading(channel, reading) => {
                told[channel] = true;
                rows.readings[row][channel] = reading;
            }
            Said::Number(series, number) if number.is_finite() => {
                rows.others[series].1.push((row, number))
            }
            _ => {}
        }
    }
}
