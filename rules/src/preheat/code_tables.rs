//! The preheat tables of the codes: that of the contract binds, the others stand beside.

use quantity::{Celsius, Units};

use super::outcome::{Method, Outcome, Standing};
use super::question::{Named, newest, sides};
use crate::book::Page;
use crate::fault::RuleError;
use crate::pick::{Case, strictest};
use crate::requirement::{Clause, Level, Remark};
use crate::row::{Table, TableKind};
use crate::shelf::Shelf;
use crate::sought::HOLD_MIN;
use crate::weld::{Purpose, Weld};
use crate::wording::length;

/// What each code's table says; the contract's first.
pub(crate) fn methods(weld: &Weld, remarks: &mut Vec<Remark>) -> Result<Vec<Method>, RuleError> {
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let own = shelf.table_of(&weld.code)?;
    let mut methods = of_table(weld, own, weld.code.edition.trim(), true, remarks);
    let others = shelf
        .of_kind(TableKind::Code)
        .filter(|table| !std::ptr::eq(*table, own));
    for table in others {
        methods.extend(of_table(weld, table, newest(table), false, &mut Vec::new()));
    }
    Ok(methods)
}

fn of_table(
    weld: &Weld,
    table: &Table,
    edition: &str,
    is_own: bool,
    remarks: &mut Vec<Remark>,
) -> Vec<Method> {
    let page = Page::open_at(table, edition);
    if !page
        .rows(Purpose::Preheat)
        .any(|row| (HOLD_MIN.value)(&row.value, 0.0).is_some())
    {
        return Vec::new();
    }
    let thickest_mm = weld.sides[0].wall.mm().max(weld.sides[1].wall.mm());
    sides(weld)
        .into_iter()
        .map(|named| of_side(page, named, (thickest_mm, weld.units), is_own, remarks))
        .collect()
}

fn of_side(
    page: Page<'_>,
    Named { who, side }: Named<'_>,
    (thickness_mm, units): (f64, Units),
    is_own: bool,
    remarks: &mut Vec<Remark>,
) -> Method {
    let metal = side.p_number.words();
    let case = Case {
        page,
        purpose: Purpose::Preheat,
        side,
        who: who.clone(),
        thickness_mm,
        units,
    };
    let picked = strictest(&case, HOLD_MIN, remarks);
    let binds = picked
        .as_ref()
        .is_none_or(|picked| picked.level == Level::Code);
    let standing = match (is_own, binds) {
        (false, _) => Standing::Comparison,
        (true, true) => Standing::Binding,
        (true, false) => Standing::Guidance,
    };
    let (outcome, range, clause) = match picked {
        Some(picked) => (
            Outcome::AtLeast {
                temperature: Celsius::from_c(picked.value),
                worked_c: picked.value,
            },
            picked.row.when.words(units),
            picked.clause,
        ),
        None => (
            Outcome::NotApplicable(format!("its table has no preheat row for {metal}")),
            String::new(),
            whole_table(page),
        ),
    };
    Method {
        name: format!("table of {} {}", page.table.code, page.edition)
            .trim_end()
            .to_string(),
        who,
        standing,
        outcome,
        range,
        working: format!("{metal}, {}", length(thickness_mm, units)),
        warnings: Vec::new(),
        clause,
    }
}

/// The first preheat row stands for the table.
fn whole_table(page: Page<'_>) -> Clause {
    let mut rows = page.rows(Purpose::Preheat);
    let row = rows.find(|row| (HOLD_MIN.value)(&row.value, 0.0).is_some());
    row.map_or_else(
        || Clause {
            document: page.table.code.clone(),
            clause: "preheat".into(),
            status: quantity::Status::FromMemory,
            note: None,
        },
        |row| row.clause_in(page.table, page.edition),
    )
}
