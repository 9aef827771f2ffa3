//! Which thickness governs, and why.

use std::borrow::Cow;

use quantity::{Millimeters, Units};

use crate::answers::Question;
use crate::book::{Book, Page};
use crate::fault::RuleFault;
use crate::requirement::{Clause, GoverningThickness};
use crate::row::{BranchParts, ThicknessRule, Value};
use crate::weld::Weld;
use crate::wording::{Measure, length, rounded, short, worked_length};

/// The smallest and the largest wall in mm that the rules accept: below, a thermocouple wire is as thick as the wall;
/// above, no pipe is rolled.
const WALL_RANGE_MM: (f64, f64) = (1.0, 400.0);

/// Faults of the measures of a weld.
pub(crate) fn bad_measures(weld: &Weld) -> Vec<RuleFault> {
    let mut faults = Vec::new();
    let may_be_flat = !weld.joint.form.is_girth();
    for (index, side) in weld.sides.iter().enumerate() {
        let (od_mm, wall_mm) = (side.outside_diameter.mm(), side.wall.mm());
        let (least_mm, most_mm) = WALL_RANGE_MM;
        if !(least_mm..=most_mm).contains(&wall_mm) {
            faults.push(bad(
                format!("wall of side {}", index + 1),
                (wall_mm, weld.units),
                format!(
                    "it must lie between {} and {}",
                    Measure::Length.bare(least_mm, weld.units),
                    length(most_mm, weld.units)
                ),
            ));
        } else if !(od_mm > 2.0 * wall_mm && (od_mm.is_finite() || may_be_flat)) {
            faults.push(bad(
                format!("outside diameter of side {}", index + 1),
                (od_mm, weld.units),
                format!(
                    "it must be more than twice the wall, {}",
                    length(2.0 * wall_mm, weld.units)
                ),
            ));
        }
    }
    let cap_mm = weld.cap_width.mm();
    if !(cap_mm.is_finite() && cap_mm >= 0.0) {
        faults.push(bad(
            "cap width".into(),
            (cap_mm, weld.units),
            "it must not be negative".into(),
        ));
    }
    faults
}

fn bad(what: String, (mm, units): (f64, Units), must: String) -> RuleFault {
    RuleFault::BadMeasure {
        what,
        value: rounded(Measure::Length.number(mm, units)),
        unit: Measure::Length.unit(units),
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
    let of_page = |page: &Page<'_>| {
        let rows = page.rows(weld.purpose).filter(|row| row.is_on());
        let taken = rows.filter_map(|row| {
            Some((
                take(rule_of(&row.value)?, weld),
                row.clause_in(page.table, page.edition),
            ))
        });
        // Of several seats of a branch that may hold, the one that asks most.
        taken.reduce(|kept, other| if other.0.0 > kept.0.0 { other } else { kept })
    };
    let found = book.pages.iter().find_map(of_page);
    let ((thickness_mm, reason), clause) =
        found.unwrap_or_else(|| (take(ThicknessRule::Thicker, weld), unwritten()));
    GoverningThickness {
        thickness: Millimeters::from_mm(thickness_mm),
        reason,
        clause,
    }
}

/// A thickness in mm, and why it is this one.
type Taken = (f64, String);

fn take(rule: ThicknessRule, weld: &Weld) -> Taken {
    match rule {
        ThicknessRule::Thicker => of_walls(weld, "the thicker", f64::max),
        ThicknessRule::Thinner => of_walls(weld, "the thinner", f64::min),
        ThicknessRule::LesserOfWeldAndThicker => lesser_of_weld_and_thicker(weld),
        ThicknessRule::Throat => throat(weld),
        ThicknessRule::GreaterOfGrooveAndThroat => greater_of_groove_and_throat(weld),
        ThicknessRule::GreatestPart => greatest_part(weld),
        ThicknessRule::ThickestComponent => thickest_component(weld),
        ThicknessRule::BranchSum {
            of,
            throat_of_branch,
            throat_at_most_mm,
        } => branch_sum(weld, of, (throat_of_branch, throat_at_most_mm)),
    }
}

/// The weld with its cladding counted, where nobody said whether it counts.
pub(crate) fn with_open_cladding(weld: &Weld) -> Cow<'_, Weld> {
    let clad = weld.sides.iter().any(|side| side.cladding.is_some());
    if !clad || weld.answers.to(Question::CladdingCounts).is_some() {
        return Cow::Borrowed(weld);
    }
    let mut counted = weld.clone();
    counted.answers.said.insert(Question::CladdingCounts, true);
    Cow::Owned(counted)
}

/// The walls, with their cladding where it was answered that it counts.
pub(crate) fn walls_mm(weld: &Weld) -> [f64; 2] {
    let counts = weld.answers.to(Question::CladdingCounts) == Some(true);
    [0, 1].map(|index| {
        let side = &weld.sides[index];
        let cladding = side.cladding.filter(|_| counts);
        side.wall.mm() + cladding.map_or(0.0, Millimeters::mm)
    })
}

fn of_walls(weld: &Weld, which: &str, pick: fn(f64, f64) -> f64) -> Taken {
    let [first_mm, second_mm] = walls_mm(weld);
    if first_mm == second_mm {
        return (
            first_mm,
            format!("both walls are {}", length(first_mm, weld.units)),
        );
    }
    let taken_mm = pick(first_mm, second_mm);
    let side = if taken_mm == first_mm { 1 } else { 2 };
    let both = format!(
        "walls are {} and {}",
        Measure::Length.bare(first_mm, weld.units),
        length(second_mm, weld.units)
    );
    (taken_mm, format!("{both}; {which}, side {side}, governs"))
}

fn lesser_of_weld_and_thicker(weld: &Weld) -> Taken {
    let (thicker_mm, words) = of_walls(weld, "the thicker", f64::max);
    // A fillet has no groove; its throat is the weld's own thickness.
    let own = weld.joint.groove_depth.or(weld.joint.throat);
    match own.map(Millimeters::mm) {
        Some(weld_mm) if weld_mm < thicker_mm => (
            weld_mm,
            format!(
                "the weld itself, {}, is less than the thicker wall, {}, and governs",
                length(weld_mm, weld.units),
                length(thicker_mm, weld.units)
            ),
        ),
        Some(_) => (thicker_mm, words),
        None if walls_mm(weld)[0] == walls_mm(weld)[1] => (thicker_mm, words),
        None => (
            thicker_mm,
            format!(
                "{words} as the lesser of the weld and the thicker wall; the weld's own thickness (joint.groove_depth or joint.throat) is not given, and the wall never asks too little"
            ),
        ),
    }
}

fn throat(weld: &Weld) -> Taken {
    match weld.joint.throat.map(Millimeters::mm) {
        Some(mm) => (
            mm,
            format!(
                "the throat of the fillet, {}, governs",
                length(mm, weld.units)
            ),
        ),
        None => {
            let (mm, words) = of_walls(weld, "the thicker", f64::max);
            let open = "the throat (joint.throat), which governs, is not given";
            (
                mm,
                format!("{words}, because {open}; it never asks too little"),
            )
        }
    }
}

fn greater_of_groove_and_throat(weld: &Weld) -> Taken {
    let groove = weld.joint.groove_depth.map(Millimeters::mm);
    let throat = weld.joint.throat.map(Millimeters::mm);
    match [groove, throat].into_iter().flatten().reduce(f64::max) {
        Some(mm) => (
            mm,
            format!(
                "depth of the groove or throat of the fillet, whichever is more: {}",
                length(mm, weld.units)
            ),
        ),
        None => throat_or_wall(weld),
    }
}

fn throat_or_wall(weld: &Weld) -> Taken {
    let (mm, words) = of_walls(weld, "the thicker", f64::max);
    let open = "neither joint.groove_depth nor joint.throat is given";
    (
        mm,
        format!("{words}, because {open}; it never asks too little"),
    )
}

fn thickest_component(weld: &Weld) -> Taken {
    let (thicker_mm, words) = of_walls(weld, "the thicker", f64::max);
    match weld.joint.pad.map(Millimeters::mm) {
        Some(pad_mm) if pad_mm > thicker_mm => (
            pad_mm,
            format!(
                "the pad, {}, is thicker than run and branch, and governs",
                length(pad_mm, weld.units)
            ),
        ),
        _ => (thicker_mm, words),
    }
}

fn greatest_part(weld: &Weld) -> Taken {
    let [run_mm, branch_mm] = walls_mm(weld);
    let through_mm = weld.joint.groove_depth.map_or(run_mm, Millimeters::mm);
    let pad_mm = weld.joint.pad.map_or(0.0, Millimeters::mm);
    let fillet_mm = weld.joint.throat.map_or(0.0, Millimeters::mm);
    let mm = through_mm.max(branch_mm).max(pad_mm).max(fillet_mm);
    let pad = match weld.joint.pad {
        Some(pad) => format!(", pad {}", length(pad.mm(), weld.units)),
        None => String::new(),
    };
    let fillet = match weld.joint.throat {
        Some(throat) => format!(", fillet {}", length(throat.mm(), weld.units)),
        None => String::new(),
    };
    let words = format!(
        "the greatest of: weld through the run {}, branch {}{pad}{fillet}",
        length(through_mm, weld.units),
        length(branch_mm, weld.units)
    );
    (mm, words)
}

fn branch_sum(weld: &Weld, of: BranchParts, (part, most_mm): (f64, f64)) -> Taken {
    let mm = |mm: f64| worked_length(mm, weld.units);
    let [run_mm, branch_mm] = walls_mm(weld);
    let pad_mm = weld.joint.pad.map_or(0.0, Millimeters::mm);
    let (parts_mm, parts) = match of {
        BranchParts::Branch => (branch_mm, format!("branch {}", mm(branch_mm))),
        BranchParts::Run => (run_mm, format!("run {}", mm(run_mm))),
        BranchParts::GreaterOfBranchAndPad => {
            let more_mm = branch_mm.max(pad_mm);
            (more_mm, format!("branch or pad {}", mm(more_mm)))
        }
        BranchParts::RunAndPad => (
            run_mm + pad_mm,
            format!("run {} + pad {}", mm(run_mm), mm(pad_mm)),
        ),
    };
    let cover_mm = (part * branch_mm).min(most_mm);
    let words = format!(
        "{parts} + cover throat {} = min({}·{}, {})",
        mm(cover_mm),
        short(part),
        mm(branch_mm),
        mm(most_mm)
    );
    (parts_mm + cover_mm, words)
}

fn unwritten() -> Clause {
    Clause {
        document: "common practice".into(),
        clause: "thicker side".into(),
        status: quantity::Status::CommonPractice,
        note: None,
    }
}
