//! The tables that are open for a weld: the code of the contract, and the practices that fill its gaps.

use crate::fault::RuleError;
use crate::requirement::Level;
use crate::row::{Row, Table};
use crate::shelf::Shelf;
use crate::weld::{Purpose, Weld};

/// A table, the edition in which it is read, and the level of what it says.
#[derive(Clone, Copy)]
pub(crate) struct Page<'a> {
    pub table: &'a Table,
    pub edition: &'a str,
    level: Level,
    weld: Option<&'a Weld>,
}

impl<'a> Page<'a> {
    /// A code's table in an edition.
    pub(crate) fn open_at(table: &'a Table, edition: &'a str) -> Page<'a> {
        Page {
            table,
            edition,
            level: Level::Code,
            weld: None,
        }
    }

    /// The level of a row: what the code itself only recommends is guidance.
    pub(crate) fn level_of(&self, row: &Row) -> Level {
        if row.mandatory {
            self.level
        } else {
            Level::Guidance
        }
    }

    /// The rows of a purpose.
    pub(crate) fn rows(&self, purpose: Purpose) -> impl Iterator<Item = &'a Row> + use<'a> {
        let (edition, weld) = (self.edition, self.weld);
        self.table.rows.iter().filter(move |row| {
            row.purpose == purpose
                && row.when.fits_edition(edition)
                && weld.is_none_or(|weld| row.is_asked(weld))
        })
    }
}

/// The pages in the order in which they are asked; a later one is asked only where the earlier are silent.
pub(crate) struct Book<'a> {
    pub pages: Vec<Page<'a>>,
}

impl<'a> Book<'a> {
    /// No code of the contract speaks of the bake-out, so for that only the practices are open.
    ///
    /// # Errors
    /// The code or its edition is not kept.
    pub(crate) fn open(weld: &'a Weld, shelf: &'a Shelf) -> Result<Book<'a>, RuleError> {
        let code = Page {
            table: shelf.table_of(&weld.code)?,
            edition: weld.code.edition.trim(),
            level: Level::Code,
            weld: Some(weld),
        };
        let practice = Page {
            table: shelf.practice()?,
            edition: "",
            level: Level::Guidance,
            weld: Some(weld),
        };
        let pages = match weld.purpose {
            Purpose::HydrogenBakeOut => vec![practice],
            Purpose::StressRelief | Purpose::Preheat => vec![code, practice],
        };
        Ok(Book { pages })
    }

    /// The page that is asked first.
    pub(crate) fn first(&self) -> Page<'a> {
        self.pages[0]
    }
}
