//! A file, or a part of one, with all that was found out about it.

use jiff::tz::TimeZone;

use crate::cell::Decimal;
use crate::column::{Column, of_role};
use crate::gathered::Gathered;
use crate::head::{Head, stated_zone};
use crate::mapping::Mapping;
use crate::reading_cell::Reader;
use crate::role::Role;
use crate::status::Good;
use crate::table::Table;
use crate::timer::Timer;
use crate::{long, wide};

/// A file with all that was found out about it.
pub(crate) struct File<'a> {
    pub lines: &'a [&'a str],
    pub head: Head,
    pub table: &'a Table,
    pub columns: Vec<Column>,
    pub decimal: Decimal,
    pub mapping: &'a Mapping,
    /// Whether columns are parted by blanks on pages.
    pub print_out: bool,
    pub open_end: bool,
}

impl File<'_> {
    /// Its rows, with the names and series that they have.
    pub fn gathered(
        &self,
        reader: &dyn Fn(usize, &Column) -> Reader,
        good: &[Option<Good>],
        timer: &mut Timer,
    ) -> Gathered {
        let value = of_role(&self.columns, Role::Value).first().copied();
        let long = value.and_then(|value| {
            let reader = reader(value, &self.columns[value]);
            long::rows(self.lines, self.table, &self.columns, good, reader, timer)
        });
        let mut gathered = long.unwrap_or_else(|| self.wide(reader, good, timer));
        let called = |name: &String| match self.columns.iter().find(|c| c.name == *name) {
            Some(column) if !column.unit_words.is_empty() => {
                format!("{name} ({})", column.unit_words)
            }
            _ => name.clone(),
        };
        let called: Vec<String> = gathered.names.iter().map(called).collect();
        gathered.now = called.join(", ");
        gathered
    }

    fn wide(
        &self,
        reader: &dyn Fn(usize, &Column) -> Reader,
        good: &[Option<Good>],
        timer: &mut Timer,
    ) -> Gathered {
        let places = of_role(&self.columns, Role::Temperature);
        let name = |place: &usize| self.columns[*place].name.clone();
        let read = |place: &usize| (*place, reader(*place, &self.columns[*place]));
        let plan = wide::Plan {
            table: self.table,
            columns: &self.columns,
            temperatures: places.iter().map(read).collect(),
            good,
            row_statuses: of_role(&self.columns, Role::RowStatus),
            events: of_role(&self.columns, Role::Event),
            times: of_role(&self.columns, Role::Time),
            decimal: self.decimal,
            open_end: self.open_end,
            print_out: self.print_out,
        };
        Gathered {
            names: places.iter().map(name).collect(),
            rows: wide::rows(self.lines, &plan, timer),
            others: self.columns.to_vec(),
            now: String::new(),
        }
    }

    /// The zone that the file states, above its rows or in the name of its time.
    pub fn zone(&self) -> Option<TimeZone> {
        let times = self.columns.iter().filter(|c| c.role == Role::Time);
        let named = || {
            times
                .into_iter()
                .find_map(|c| stated_zone(&[c.name.as_str(), c.unit_words.as_str()]))
        };
        self.head.zone.clone().or_else(named)
    }
}
