//! Highest interpass temperatures, and metals that are not to be preheated.

use quantity::{Celsius, Units};

use super::outcome::{Governing, Interpass, Standing, Unwanted};
use super::question::{MethodRow, sides};
use super::value::PreheatValue;
use crate::book::{Book, Page};
use crate::fault::RuleError;
use crate::requirement::{Level, Remark};
use crate::row::Value;
use crate::shelf::Shelf;
use crate::weld::{Purpose, Weld};
use crate::when::Fit;
use crate::wording::temperature;

/// Every upper end that holds, of the contract's code and of practice; what owner and procedure set in a preheat job.
pub(crate) fn limits(weld: &Weld, shelf: &Shelf) -> Result<Vec<Interpass>, RuleError> {
    let mut asked = weld.clone();
    asked.purpose = Purpose::Preheat;
    let book = Book::open(&asked, shelf)?;
    let mut limits = Vec::new();
    for page in &book.pages {
        limits.extend(of_page(weld, *page));
    }
    Ok(limits)
}

fn of_page(weld: &Weld, page: Page<'_>) -> Vec<Interpass> {
    let mut limits = Vec::new();
    for named in sides(weld) {
        let rows = page.rows(Purpose::Preheat).filter(|row| row.is_on());
        for row in rows.filter(|row| row.when.fit(named.side, named.side.wall.mm()) != Fit::No) {
            let Value::HoldRange {
                max: Some(most_c), ..
            } = row.value
            else {
                continue;
            };
            limits.push(Interpass {
                who: named.who.clone(),
                at_most: Celsius::from_c(most_c),
                standing: match page.level_of(row) {
                    Level::Code => Standing::Binding,
                    _ => Standing::Guidance,
                },
                clause: row.clause_in(page.table, page.edition),
            });
        }
    }
    limits
}

/// Metals that are not to be warmed beyond a little.
pub(crate) fn unwanted(weld: &Weld, rows: &[MethodRow<'_>]) -> Vec<Unwanted> {
    let mut unwanted = Vec::new();
    for named in sides(weld) {
        unwanted.extend(rows.iter().filter_map(|row| match row.value {
            PreheatValue::NotWanted { most_c, why }
                if row.fits(named.side, named.side.wall.mm()) =>
            {
                Some(Unwanted {
                    who: named.who.clone(),
                    at_most: Celsius::from_c(*most_c),
                    why: why.clone(),
                    clause: row.clause(),
                })
            }
            _ => None,
        }));
    }
    unwanted
}

/// Where the least preheat stands above an upper end.
pub(crate) fn conflicts(
    units: Units,
    governing: Option<&Governing>,
    interpass: &[Interpass],
    unwanted: &[Unwanted],
) -> Vec<Remark> {
    let Some(least_c) = governing.map(|one| one.temperature.c()) else {
        return Vec::new();
    };
    let ends = interpass.iter().map(|one| {
        (
            &one.who,
            one.at_most.c(),
            &one.clause,
            "the highest interpass temperature",
            "warning: ",
        )
    });
    let wanted = unwanted.iter().map(|one| {
        (
            &one.who,
            one.at_most.c(),
            &one.clause,
            "the highest sensible preheat",
            "",
        )
    });
    ends.chain(wanted)
        .filter(|(_, most_c, ..)| *most_c < least_c)
        .map(|(who, most_c, clause, what, how)| Remark {
            text: format!(
                "{how}{who}: the least preheat of {} lies above {what} of {}; the engineer decides",
                temperature(least_c, units),
                temperature(most_c, units)
            ),
            clause: Some(clause.clone()),
        })
        .collect()
}
