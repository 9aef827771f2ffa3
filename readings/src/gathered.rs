//! What the rows of a file say by name, and the rows of its parts put together.

use quantity::Celsius;

use crate::column::Column;
use crate::wide::Rows;

/// Rows with the names of the temperature channels, in the order in which they first stand in the file, and the
/// columns that the other series have.
#[derive(Debug, Default)]
pub(crate) struct Gathered {
    pub names: Vec<String>,
    pub rows: Rows,
    pub others: Vec<Column>,
    /// Names and units of its last part, as they are told.
    pub now: String,
}

impl Gathered {
    /// Whether another part tells of a channel of this one.
    pub fn shares_channel(&self, other: &Gathered) -> bool {
        other.names.iter().any(|name| self.names.contains(name))
    }

    /// Whether another part begins within the time of this one, with other channels: a block below a block.
    pub fn stands_beside(&self, other: &Gathered) -> bool {
        let last = self.rows.times_ns.iter().max();
        let first = other.rows.times_ns.first();
        !self.shares_channel(other) && last.zip(first).is_some_and(|(last, first)| first <= last)
    }

    /// The same, of rows whose days nobody says: they must not begin before this one.
    pub fn stands_within(&self, other: &Gathered) -> bool {
        let first = self.rows.times_ns.iter().min();
        let begins = other.rows.times_ns.first();
        self.stands_beside(other) && first.zip(begins).is_some_and(|(a, b)| a <= b)
    }

    /// Takes the rows of the next part behind its own; channels and series of one name are one.
    pub fn append(&mut self, mut part: Gathered) {
        let before = self.rows.times_ns.len();
        let places: Vec<usize> = part.names.iter().map(|name| self.place_of(name)).collect();
        let width = self.names.len();
        self.now = part.now;
        for readings in &mut self.rows.readings {
            readings.resize(width, None);
        }
        for readings in part.rows.readings {
            let mut wide = vec![None; width];
            for (place, reading) in places.iter().zip(readings) {
                wide[*place] = reading;
            }
            self.rows.readings.push(wide);
        }
        self.rows.lines.append(&mut part.rows.lines);
        self.rows.times_ns.append(&mut part.rows.times_ns);
        self.rows.complaints.append(&mut part.rows.complaints);
        self.rows.tally.append(part.rows.tally, &places);
        let events = part.rows.events.into_iter();
        self.rows.events.extend(events.map(|mut words| {
            words.row += before;
            words
        }));
        for (column, points) in part.rows.others {
            let series = self.series_of(&part.others[column]);
            let shifted = points
                .into_iter()
                .map(|(row, number)| (row + before, number));
            self.rows.others[series].1.extend(shifted);
        }
    }

    fn place_of(&mut self, name: &str) -> usize {
        let known = self.names.iter().position(|known| known == name);
        known.unwrap_or_else(|| {
            self.names.push(name.to_string());
            self.names.len() - 1
        })
    }

    fn series_of(&mut self, column: &Column) -> usize {
        let known = self.rows.others.iter().position(|(at, _)| {
            let at = &self.others[*at];
            at.name == column.name && at.role == column.role
        });
        known.unwrap_or_else(|| {
            self.others.push(column.clone());
            self.rows.others.push((self.others.len() - 1, Vec::new()));
            self.rows.others.len() - 1
        })
    }

    /// Rows in order of time, rows of one time as one.
    pub fn side_by_side(&mut self) {
        let rows = &mut self.rows;
        let mut order: Vec<usize> = (0..rows.times_ns.len()).collect();
        order.sort_by_key(|row| rows.times_ns[*row]);
        let mut place = vec![0; order.len()];
        let (mut lines, mut times_ns) = (Vec::new(), Vec::new());
        let mut readings: Vec<Vec<Option<Celsius>>> = Vec::new();
        for row in order {
            let here = std::mem::take(&mut rows.readings[row]);
            let at_ns = rows.times_ns[row];
            match readings.last_mut() {
                Some(known) if times_ns.last() == Some(&at_ns) => fill(known, &here),
                _ => {
                    times_ns.push(at_ns);
                    lines.push(rows.lines[row]);
                    readings.push(here);
                }
            }
            place[row] = times_ns.len() - 1;
        }
        let behind = times_ns.len();
        (rows.lines, rows.times_ns, rows.readings) = (lines, times_ns, readings);
        for words in &mut rows.events {
            words.row = place.get(words.row).copied().unwrap_or(behind);
        }
        for (_, points) in &mut rows.others {
            points.iter_mut().for_each(|(row, _)| *row = place[*row]);
            points.sort_by_key(|(row, _)| *row);
        }
    }
}

/// What is silent is filled.
fn fill(known: &mut [Option<Celsius>], new: &[Option<Celsius>]) {
    let pairs = known.iter_mut().zip(new);
    pairs.for_each(|(known, new)| *known = known.or(*new));
}
