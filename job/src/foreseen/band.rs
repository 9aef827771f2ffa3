//! How wide the turns heat and how far the blanket reaches, on each side of the weld.

use checks::Verdict;
use cycle::setup::Coil;

use super::{About, Foreseen, fine};
use crate::model::Job;
use crate::plan::Prepared;
use crate::wording::length;

/// A coil or blanket counts as wide enough when this part of the band is covered: a band's width is not known better.
const WIDE_ENOUGH: f64 = 0.95;

/// A width that only a practice recommends may be narrower where the model keeps the soak band inside (`proven`).
pub(super) fn heated_band(job: &Job, prepared: &Prepared, coil: &Coil, proven: bool) -> Foreseen {
    let half_mm = 0.5 * prepared.bands.heated.width.mm();
    let row = &prepared.bands.by_rule[prepared.bands.heated.row];
    let clause = &row.clause;
    let cable_mm = job.cable.outside_diameter_mm.value;
    let pitches = Pitches::of(coil, cable_mm);
    let [first_mm, second_mm] = heated_by_turns(coil, cable_mm).map(|side| side.reach_mm);
    let words = |mm: f64| length(quantity::Millimeters::from_mm(mm), job.units);
    let gap = match pitches.widest_mm > GAP * pitches.usual_mm {
        true => format!(
            ", with a gap of {} between two turns where the usual pitch is {}",
            words(pitches.widest_mm),
            words(pitches.usual_mm)
        ),
        false => String::new(),
    };
    let says = format!(
        "the turns heat {} on the first side and {} on the second{gap}; {} {} asks for {} each way",
        words(first_mm),
        words(second_mm),
        clause.document,
        clause.clause,
        words(half_mm)
    );
    let shorter_mm = first_mm.min(second_mm);
    if shorter_mm >= WIDE_ENOUGH * half_mm {
        return fine(About::HeatedBand, says);
    }
    if proven && !row.binding {
        return fine(
            About::HeatedBand,
            format!(
                "narrower than a practice that is no limit: {says}; the model keeps the soak band inside"
            ),
        );
    }
    let side = match first_mm >= WIDE_ENOUGH * half_mm {
        true => " on the second side",
        false if second_mm >= WIDE_ENOUGH * half_mm => " on the first side",
        false => "",
    };
    Foreseen {
        about: About::HeatedBand,
        verdict: Verdict::NotMet,
        says: format!("too narrow{side}: {says}"),
        remedy: Some(format!("more turns{side}, or a wider pitch there")),
        severity: 1.0 - shorter_mm / half_mm,
    }
}

/// From turn to turn along a coil, in mm.
struct Pitches {
    /// The median: one turn that lies far out lends nothing to the others.
    usual_mm: f64,
    widest_mm: f64,
}

impl Pitches {
    fn of(coil: &Coil, cable_mm: f64) -> Pitches {
        let mut axial: Vec<f64> = coil.turns.iter().map(|t| t.axial.mm()).collect();
        axial.sort_by(f64::total_cmp);
        let mut all: Vec<f64> = axial.windows(2).map(|pair| pair[1] - pair[0]).collect();
        all.sort_by(f64::total_cmp);
        let at = |index: usize| all.get(index).copied().unwrap_or(cable_mm).max(cable_mm);
        Pitches {
            usual_mm: at(all.len() / 2),
            widest_mm: at(all.len().saturating_sub(1)),
        }
    }
}

/// A gap between two turns that is wider than this many usual pitches is told.
const GAP: f64 = 2.0;

/// How far the turns heat on one side of the weld.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct HeatedSide {
    /// From the weld center, in mm.
    pub reach_mm: f64,
    /// The last turn that counts, from the weld center along the pipe, in mm.
    pub last_turn_mm: f64,
    /// How far off the next turn lies, where a wide gap parts it from those that count, in mm.
    pub gap_mm: Option<f64>,
}

/// How far the turns heat on the first and the second side: to half a usual pitch beyond the last turn of that side that
/// no wide gap parts from the weld.
pub(crate) fn heated_by_turns(coil: &Coil, cable_mm: f64) -> [HeatedSide; 2] {
    let pitches = Pitches::of(coil, cable_mm);
    [-1.0, 1.0].map(|sign| {
        let turns = coil.turns.iter();
        let mut outward: Vec<f64> = turns.map(|turn| sign * turn.axial.mm()).collect();
        outward.sort_by(f64::total_cmp);
        let inner = outward.iter().rposition(|mm| *mm <= 0.0).unwrap_or(0);
        let mut last_mm = outward.get(inner).copied().unwrap_or(0.0);
        let mut gap_mm = None;
        for next_mm in outward.into_iter().skip(inner + 1) {
            // At the weld a gap is heated from both sides: it is measured from the weld itself.
            if next_mm - last_mm.max(0.0) > GAP * pitches.usual_mm {
                gap_mm = Some(next_mm - last_mm);
                break;
            }
            last_mm = next_mm;
        }
        HeatedSide {
            reach_mm: (last_mm + 0.5 * pitches.usual_mm).max(0.0),
            last_turn_mm: sign * last_mm,
            gap_mm,
        }
    })
}

pub(super) fn blanket(job: &Job, prepared: &Prepared, proven: bool) -> Foreseen {
    let row = &prepared.bands.by_rule[prepared.bands.gradient_control.row];
    let half_mm = 0.5 * prepared.bands.gradient_control.width.mm();
    let reach = prepared.setup.blanket.reach;
    let words = |mm: f64| length(quantity::Millimeters::from_mm(mm), job.units);
    let shortest_mm = reach[0].mm().min(reach[1].mm());
    let says = format!(
        "reaches {} and {} from the weld; the gradient control band asks for {} each way",
        words(reach[0].mm()),
        words(reach[1].mm()),
        words(half_mm)
    );
    if shortest_mm >= WIDE_ENOUGH * half_mm {
        return fine(About::Blanket, says);
    }
    if proven && !row.binding {
        return fine(
            About::Blanket,
            format!(
                "shorter than a practice that is no limit: {says}; the model keeps the soak band inside"
            ),
        );
    }
    let ended = [0, 1]
        .iter()
        .any(|s| job.joint.sides[*s].length.mm() <= reach[*s].mm() + 1.0);
    let remedy = match ended {
        true => {
            "the side ends there: wrap on over what follows, or judge the gradient from the curves"
        }
        false => "wrap further",
    };
    Foreseen {
        about: About::Blanket,
        verdict: Verdict::NotMet,
        says: format!("too short: {says}"),
        remedy: Some(remedy.into()),
        severity: 1.0 - shortest_mm / half_mm,
    }
}
