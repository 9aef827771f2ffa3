//! Whether what each line says can be true together.

use cycle::setup::{Coil, Side};

use quantity::{Millimeters, Units};

use crate::model::Job;
use crate::wording::{dimension, length};

use super::places::Places;

/// The least wall in mm that both sides must share where they meet.
const LEAST_COMMON_WALL_MM: f64 = 1.5;

/// Notes everything in a job that cannot be.
pub(crate) fn note(job: &Job, places: &Places<'_, '_>) {
    sides_meet(job, places);
    turns_apart(job, places);
    coil_on_pipe(job, places);
    thermocouples_on_pipe(job, places);
    neighbors_on_pipe(job, places);
    blanket_on_pipe(job, places);
    bend(job, places);
}

fn lengths_mm(job: &Job) -> [f64; 2] {
    [
        job.joint.sides[0].length.mm(),
        job.joint.sides[1].length.mm(),
    ]
}

/// Whether a place lies on the pipe; `reach_mm` to both sides of it must lie there too.
fn on_pipe(axial_mm: f64, reach_mm: f64, [first_mm, second_mm]: [f64; 2]) -> bool {
    axial_mm - reach_mm >= -first_mm && axial_mm + reach_mm <= second_mm
}

fn range_words([first_mm, second_mm]: [f64; 2], units: Units) -> String {
    let (first, second) = (far(-first_mm, units), far(second_mm, units));
    format!("{first} to {second} from the weld center, where the sides end")
}

/// A place or a length along the pipe.
fn far(mm: f64, units: Units) -> String {
    length(Millimeters::from_mm(mm), units)
}

/// A dimension of a part.
fn part(mm: f64, units: Units) -> String {
    dimension(Millimeters::from_mm(mm), units)
}

/// Radii of outside and bore at the weld.
fn radii_mm(side: &Side) -> (f64, f64) {
    let (outside, wall) = side
        .transition
        .map_or((side.outside_diameter, side.wall), |t| {
            (t.outside_diameter, t.wall)
        });
    (0.5 * outside.mm(), 0.5 * outside.mm() - wall.mm())
}

fn sides_meet(job: &Job, places: &Places<'_, '_>) {
    let [first, second] = [radii_mm(&job.joint.sides[0]), radii_mm(&job.joint.sides[1])];
    let common_mm = first.0.min(second.0) - first.1.max(second.1);
    if common_mm < LEAST_COMMON_WALL_MM
        && let Some(side) = places.sides.get(1)
    {
        side.table.note(
            format!(
                "two sides with {} of wall in common at the weld",
                part(common_mm, job.units)
            ),
            format!("{} or more", part(LEAST_COMMON_WALL_MM, job.units)),
            Some("check both outside diameters and walls, or give a weld_end".into()),
        );
    }
}

/// Section of each turn, in the order of the turns.
fn sections_of(coil: &Coil, places: &Places<'_, '_>) -> Vec<usize> {
    let counts = places
        .sections
        .iter()
        .map(|s| s.get("turns").and_then(|v| v.count()).unwrap_or(0));
    let sections = counts
        .enumerate()
        .flat_map(|(section, count)| std::iter::repeat_n(section, count));
    sections.take(coil.turns.len()).collect()
}

fn turns_apart(job: &Job, places: &Places<'_, '_>) {
    let Some(coil) = &job.coil else { return };
    let diameter_mm = job.cable.outside_diameter_mm.value;
    let mut turns: Vec<(f64, f64, usize)> = coil
        .turns
        .iter()
        .zip(sections_of(coil, places))
        .map(|(turn, section)| (turn.axial.mm(), turn.standoff.mm(), section))
        .collect();
    turns.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut told: Vec<usize> = Vec::new();
    for pair in turns.windows(2) {
        let (along_mm, out_mm) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
        let section = pair[0].2.max(pair[1].2);
        if along_mm.hypot(out_mm) < diameter_mm * TOUCHING && !told.contains(&section) {
            told.push(section);
            places.sections[section].note(
                format!(
                    "turns at {} and {}",
                    part(pair[0].0, job.units),
                    part(pair[1].0, job.units)
                ),
                format!(
                    "at least {} between centers, the cable's diameter",
                    part(diameter_mm, job.units)
                ),
                Some("turns may not overlap: widen the pitch or move the section".into()),
            );
        }
    }
}

/// Turns may touch; rounding of inches to mm is not an overlap.
const TOUCHING: f64 = 0.999;

fn coil_on_pipe(job: &Job, places: &Places<'_, '_>) {
    let Some(coil) = &job.coil else { return };
    let lengths = lengths_mm(job);
    let reach_mm = 0.5 * job.cable.outside_diameter_mm.value;
    let mut told: Vec<usize> = Vec::new();
    for (turn, section) in coil.turns.iter().zip(sections_of(coil, places)) {
        if on_pipe(turn.axial.mm(), reach_mm, lengths) || told.contains(&section) {
            continue;
        }
        told.push(section);
        places.sections[section].note(
            format!("a turn at {}", length(turn.axial, job.units)),
            range_words(lengths, job.units),
            Some("the coil is longer than the pipe, or starts in the wrong place".into()),
        );
    }
}

fn thermocouples_on_pipe(job: &Job, places: &Places<'_, '_>) {
    let lengths = lengths_mm(job);
    for (thermocouple, table) in job
        .thermocouples
        .iter()
        .flatten()
        .zip(&places.thermocouples)
    {
        let axial_mm = thermocouple.axial.mm();
        if !on_pipe(axial_mm, 0.0, lengths) {
            let found = format!("{} at {}", thermocouple.name, far(axial_mm, job.units));
            table.note(
                found,
                range_words(lengths, job.units),
                Some("it is off the pipe".into()),
            );
        }
    }
}

fn neighbors_on_pipe(job: &Job, places: &Places<'_, '_>) {
    let lengths = lengths_mm(job);
    let listed = job.neighbors.len().saturating_sub(places.neighbors.len());
    for (neighbor, table) in job.neighbors.iter().skip(listed).zip(&places.neighbors) {
        let axial_mm = neighbor.axial.mm();
        if !on_pipe(axial_mm, 0.0, lengths) {
            let hint = Some("lengthen the side, so that the model reaches it".into());
            table.note(
                format!("{} at {}", neighbor.name, far(axial_mm, job.units)),
                range_words(lengths, job.units),
                hint,
            );
        }
    }
}

fn blanket_on_pipe(job: &Job, places: &Places<'_, '_>) {
    let (Some(reach), Some(table)) = (job.blanket.reach, &places.blanket) else {
        return;
    };
    for (reach, length_mm) in reach.iter().zip(lengths_mm(job)) {
        if reach.mm() > length_mm {
            let found = format!("a reach of {}", length(*reach, job.units));
            table.note(
                found,
                format!(
                    "at most {}, where that side ends",
                    far(length_mm, job.units)
                ),
                None,
            );
        }
    }
}

fn bend(job: &Job, places: &Places<'_, '_>) {
    let Some(at) = &places.cable else { return };
    let least_mm = job.cable.min_bend_radius_mm.value;
    let standoff_mm = job
        .coil
        .iter()
        .flat_map(|c| &c.turns)
        .map(|t| t.standoff.mm())
        .fold(f64::INFINITY, f64::min);
    let standoff_mm = if standoff_mm.is_finite() {
        standoff_mm
    } else {
        job.blanket.thickness.mm()
    };
    let outside = job
        .joint
        .sides
        .iter()
        .map(|s| s.outside_diameter.mm())
        .fold(f64::INFINITY, f64::min);
    let radius_mm = 0.5 * (outside + job.cable.outside_diameter_mm.value) + standoff_mm;
    if radius_mm < least_mm {
        at.fault(
            format!(
                "{} bent to a radius of {}",
                job.cable.name,
                far(radius_mm, job.units)
            ),
            format!(
                "{} or more ({})",
                far(least_mm, job.units),
                job.cable.min_bend_radius_mm.source.status.words()
            ),
            Some("take a thinner cable or a thicker blanket".into()),
        );
    }
}
