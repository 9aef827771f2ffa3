//! Between which temperatures a steel becomes austenite: estimates of Ac1 and Ac3 of both sides and of the weld metal.

use quantity::Units;
use serde::Serialize;

use crate::fault::RuleError;
use crate::requirement::{Clause, Remark};
use crate::row::{Row, Table, TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::{PNumber, Side, Weld};
use crate::when::Fit;
use crate::wording::temperature;

/// The critical temperatures of one body of the joint.
#[derive(Clone, Debug, Serialize)]
pub struct Critical {
    /// `side 1`, `both sides`, `weld metal`.
    pub who: String,
    /// Estimates of the lower critical temperature Ac1, where austenite begins; the lowest counts.
    pub lower: Vec<Estimate>,
    /// Estimates of the upper critical temperature Ac3, above which all is austenite.
    pub upper: Vec<Estimate>,
    /// Why a formula of Ac3 gives none.
    pub without_upper: Vec<NoEstimate>,
}

/// An estimate of a critical temperature.
#[derive(Clone, Debug, Serialize)]
pub struct Estimate {
    /// The temperature in °C.
    pub c: f64,
    /// `listed` or `from the composition`.
    pub how: &'static str,
    /// Where it stands.
    pub clause: Clause,
}

/// A formula that gives nothing for this metal.
#[derive(Clone, Debug, Serialize)]
pub struct NoEstimate {
    /// What lies outside its range, with both numbers, or what is not given.
    pub why: String,
    /// Where the formula stands.
    pub clause: Clause,
}

/// The critical temperatures of every body for which a lower one is kept.
///
/// # Errors
/// A confirmation cannot be, a data file cannot be read.
pub fn critical_temperatures(weld: &Weld) -> Result<Vec<Critical>, RuleError> {
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let tables = shelf.of_kind(TableKind::Metal);
    let all = tables.flat_map(|table| in_table(table, weld)).collect();
    Ok(all)
}

/// The critical temperatures by one table.
pub(crate) fn in_table(table: &Table, weld: &Weld) -> Vec<Critical> {
    let bodies = bodies(weld).into_iter();
    let mut all: Vec<Critical> = Vec::new();
    for (who, side) in bodies {
        let one = of_body(table, who, &side);
        if !one.lower.is_empty() && !all.iter().any(|known| known.who == one.who) {
            all.push(one);
        }
    }
    all
}

/// Both sides, and the weld metal where its composition is known, without a tempering of its own: by its composition
/// alone where the chromium is given, and else as the metal of the first side.
pub(crate) fn bodies(weld: &Weld) -> Vec<(String, Side)> {
    let mut bodies: Vec<(String, Side)> = weld
        .sides
        .iter()
        .enumerate()
        .map(|(index, side)| (weld.who(index), side.clone()))
        .collect();
    let metal = &weld.welding.weld_metal;
    if !metal.is_empty() {
        let mut body = Side {
            chemistry: metal.clone(),
            tempered_at: None,
            ..weld.sides[0].clone()
        };
        if metal.contains_key("Cr") {
            body.p_number = PNumber::none();
        }
        bodies.push(("weld metal".to_owned(), body));
    }
    bodies
}

/// The rows of a table that are on and hold for a side.
pub(crate) fn rows_of<'a>(table: &'a Table, side: &'a Side) -> impl Iterator<Item = &'a Row> {
    let on = table.rows.iter().filter(|row| row.is_on());
    on.filter(|row| match side.p_number.is_none() {
        true => row.value.is_by_composition(),
        false => row.when.fit(side, side.wall.mm()) != Fit::No,
    })
}

fn of_body(table: &Table, who: String, side: &Side) -> Critical {
    let mut critical = Critical {
        who,
        lower: Vec::new(),
        upper: Vec::new(),
        without_upper: Vec::new(),
    };
    for row in rows_of(table, side) {
        let clause = row.clause_in(table, "");
        let estimate = |c: f64, how: &'static str| Estimate {
            c,
            how,
            clause: clause.clone(),
        };
        match &row.value {
            Value::LowerCritical(c) => critical.lower.push(estimate(*c, "listed")),
            Value::LowerCriticalFormula(formula) => {
                let c = formula.at(&side.chemistry);
                critical.lower.extend(c.map(|c| estimate(c, COMPOSITION)));
            }
            Value::UpperCriticalFormula(formula) => match formula.worked(&side.chemistry) {
                Ok(c) => critical.upper.push(estimate(c, COMPOSITION)),
                Err(not) => critical.without_upper.push(NoEstimate {
                    why: not.words(),
                    clause,
                }),
            },
            _ => {}
        }
    }
    critical
}

const COMPOSITION: &str = "from the composition";

impl Estimate {
    pub(crate) fn words(&self, units: Units) -> String {
        let Clause {
            document, clause, ..
        } = &self.clause;
        let c = temperature(self.c, units);
        format!("{c} {} ({document} {clause})", self.how)
    }
}

impl Critical {
    /// The lowest estimate of Ac1.
    pub fn lowest(&self) -> Option<&Estimate> {
        self.lower.iter().min_by(|a, b| a.c.total_cmp(&b.c))
    }
}

/// One remark on the critical temperatures of all bodies; none where no lower one is kept.
pub(crate) fn remark(all: &[Critical], units: Units) -> Option<Remark> {
    let lowest = all
        .iter()
        .filter_map(Critical::lowest)
        .min_by(|a, b| a.c.total_cmp(&b.c))?;
    let several = all.iter().any(|one| one.lower.len() > 1);
    let mut text = format!(
        "lower critical temperature {}",
        together(all, |one| &one.lower, units)
    );
    if several {
        text.push_str("; the lowest is taken");
    }
    let upper = together(all, |one| &one.upper, units);
    if !upper.is_empty() {
        text.push_str(&format!("; upper critical temperature {upper}"));
    }
    if let Some(without) = without_upper(all) {
        text.push_str(&format!("; no upper critical temperature: {without}"));
    }
    Some(Remark {
        text,
        clause: Some(lowest.clause.clone()),
    })
}

/// Why there is no upper critical temperature, each formula once.
fn without_upper(all: &[Critical]) -> Option<String> {
    let none = || all.iter().flat_map(|one| &one.without_upper);
    let first = none().next()?;
    let mut whys: Vec<&str> = Vec::new();
    for no in none().filter(|no| no.clause == first.clause) {
        if !whys.contains(&no.why.as_str()) {
            whys.push(&no.why);
        }
    }
    let Clause {
        document, clause, ..
    } = &first.clause;
    Some(format!("{} ({document} {clause})", whys.join(", ")))
}

/// Estimates by where they stand, those of several bodies side by side.
fn together(all: &[Critical], of: fn(&Critical) -> &Vec<Estimate>, units: Units) -> String {
    let mut by_clause: Vec<(&Estimate, Vec<(&str, f64)>)> = Vec::new();
    for one in all {
        for estimate in of(one) {
            let at = (one.who.as_str(), estimate.c);
            match by_clause
                .iter_mut()
                .find(|(known, _)| known.clause == estimate.clause)
            {
                Some((_, values)) => values.push(at),
                None => by_clause.push((estimate, vec![at])),
            }
        }
    }
    let words = |(estimate, values): &(&Estimate, Vec<(&str, f64)>)| {
        let alike = values.len() == all.len() && values.iter().all(|(_, c)| *c == estimate.c);
        if alike {
            return estimate.words(units);
        }
        let each: Vec<String> = values
            .iter()
            .map(|(who, c)| format!("{} ({who})", temperature(*c, units)))
            .collect();
        let Clause {
            document, clause, ..
        } = &estimate.clause;
        format!("{} {} ({document} {clause})", each.join(", "), estimate.how)
    };
    by_clause.iter().map(words).collect::<Vec<_>>().join(", ")
}
