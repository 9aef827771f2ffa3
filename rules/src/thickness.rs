//! Which of two walls governs, and why.

use quantity::Millimeters;

use crate::book::Book;
use crate::fault::RuleFault;
use crate::requirement::{Clause, GoverningThickness};
use crate::row::{ThicknessRule, Value};
use crate::weld::Weld;
use crate::wording::short;

/// The smallest and the largest wall in mm that the rules accept: below, a thermocouple wire is as thick as the wall;
/// above, no pipe is rolled.
const WALL_RANGE_MM: (f64, f64) = (1.0, 400.0);

/// Faults of the measures of a weld.
pub(crate) fn bad_measures(weld: &Weld) -> Vec<RuleFault> {
    let mut faults = Vec::new();
    for (index, side) in weld.sides.iter().enumerate() {
        let (od_mm, wall_mm) = (side.outside_diameter.mm(), side.wall.mm());
        let (least_mm, most_mm) = WALL_RANGE_MM;
        if !(least_mm..=most_mm).contains(&wall_mm) {
            faults.push(bad(
                format!("wall of side {}", index + 1),
                wall_mm,
                format!("it must lie between {least_mm} and {most_mm} mm"),
            ));
        } else if !(od_mm.is_finite() && od_mm > 2.0 * wall_mm) {
            faults.push(bad(
                format!("outside diameter of side {}", index + 1),
                od_mm,
                format!(
                    "it must be more than twice the wall, {} mm",
                    short(2.0 * wall_mm)
                ),
            ));
        }
    }
    let cap_mm = weld.cap_width.mm();
    if !(cap_mm.is_finite() && cap_mm >= 0.0) {
        faults.push(bad(
            "cap width".into(),
            cap_mm,
            "it must not be negative".into(),
        ));
    }
    faults
}

fn bad(what: String, value: f64, must: String) -> RuleFault {
    RuleFault::BadMeasure {
        what,
        value,
        unit: "mm",
        must,
    }
}

/// The thickness by which holds and exemptions are read.
pub(crate) fn governing(weld: &Weld, book: &Book<'_>) -> GoverningThickness {
    by_rule(weld, book, |value| match value {
        Value::GoverningThickness(rule) => Some(*rule),
        _ => None,
    })
}

/// The thickness by which rates are read.
pub(crate) fn for_rates(weld: &Weld, book: &Book<'_>) -> GoverningThickness {
    by_rule(weld, book, |value| match value {
        Value::RateThickness(rule) => Some(*rule),
        _ => None,
    })
}

fn by_rule(
    weld: &Weld,
    book: &Book<'_>,
    rule_of: fn(&Value) -> Option<ThicknessRule>,
) -> GoverningThickness {
    let found = book.pages.iter().find_map(|page| {
        let mut rows = page.rows(weld.purpose).filter(|row| row.is_on());
        rows.find_map(|row| {
            Some((
                rule_of(&row.value)?,
                row.clause_in(page.table, page.edition),
            ))
        })
    });
    let (rule, clause) = found.unwrap_or_else(|| (ThicknessRule::Thicker, unwritten()));
    let walls_mm = [weld.sides[0].wall.mm(), weld.sides[1].wall.mm()];
    let (thickness_mm, reason) = take(rule, walls_mm);
    GoverningThickness {
        thickness: Millimeters::from_mm(thickness_mm),
        reason,
        clause,
    }
}

fn take(rule: ThicknessRule, [first_mm, second_mm]: [f64; 2]) -> (f64, String) {
    let (thin, thick) = (first_mm.min(second_mm), first_mm.max(second_mm));
    if thin == thick {
        return (thin, format!("both walls are {} mm", short(thin)));
    }
    let side_of = |wall: f64| if wall == first_mm { 1 } else { 2 };
    let both = format!("walls are {} and {} mm", short(first_mm), short(second_mm));
    match rule {
        ThicknessRule::Thicker => (
            thick,
            format!("{both}; the thicker, side {}, governs", side_of(thick)),
        ),
        ThicknessRule::Thinner => (
            thin,
            format!(
                "{both}; the thinner, side {}, governs a butt weld",
                side_of(thin)
            ),
        ),
        ThicknessRule::LesserOfWeldAndThicker => (
            thick,
            format!(
                "{both}; the lesser of the weld and the thicker wall governs; the weld's own thickness is not given, so the thicker, side {}, is taken, which never asks too little",
                side_of(thick)
            ),
        ),
    }
}

fn unwritten() -> Clause {
    Clause {
        document: "common practice".into(),
        clause: "thicker side".into(),
        status: quantity::Status::CommonPractice,
        note: None,
    }
}
