//! The pipe cut open along 12 o'clock and laid flat: distances to lay on with a tape.

use std::f64::consts::PI;

use quantity::{Millimeters, Units};
use report::{Anchor, Drawing, Face, Ink, Label, Path, Stand, Stroke, THIN_PT};
use rules::thermocouple::Thermocouple;

use super::shape;
use super::wrap::{Along, WORDS_PT};
use crate::sheet::PlanSheet;
use crate::sheet::words::{tape_inches, whole_mm};

/// Radius of the ring round a number in mm.
const RING_MM: f64 = 1.75;
/// Numbers stand at one of these distances from their place, in rings; the first that is free.
const AWAY: [[f64; 2]; 12] = [
    [2.6, 0.0],
    [-2.6, 0.0],
    [2.2, 2.2],
    [-2.2, 2.2],
    [2.2, -2.2],
    [-2.2, -2.2],
    [4.6, 0.0],
    [-4.6, 0.0],
    [4.4, 2.4],
    [-4.4, 2.4],
    [4.4, -2.4],
    [-4.4, -2.4],
];

/// The unrolled field on paper.
#[derive(Clone, Copy)]
struct Field {
    along: Along,
    top: f64,
    height: f64,
}

impl Field {
    fn y(&self, clock: f64) -> f64 {
        self.top + self.height * clock.rem_euclid(12.0) / 12.0
    }

    fn bottom(&self) -> f64 {
        self.top + self.height
    }
}

/// Draws the unrolled pipe from `top` on and returns where it ends with its tape values.
pub(super) fn draw(
    drawing: &mut Drawing,
    plan: &PlanSheet,
    along: Along,
    top: f64,
    height: f64,
) -> f64 {
    let field = Field { along, top, height };
    turns(drawing, plan, field);
    hours(drawing, plan, field);
    weld(drawing, plan, field);
    blanket_edges(drawing, plan, field);
    leads(drawing, plan, field);
    thermocouples(drawing, plan, field);
    tape(drawing, plan, field)
}

/// Lines along the pipe at 12, 3, 6, 9 and 12 o'clock with the tape round the outside.
fn hours(drawing: &mut Drawing, plan: &PlanSheet, field: Field) {
    let [left, right] = field.along.edges();
    let around = PI * shape::at(&plan.setup.joint, -1e-6).0;
    for (index, name) in ["12", "3", "6", "9", "12"].iter().enumerate() {
        let share = index as f64 / 4.0;
        let y = field.top + share * field.height;
        let ink = if index % 4 == 0 {
            Stroke::solid(Ink::Full, THIN_PT)
        } else {
            Stroke::hairline()
        };
        drawing.push(Path::polyline(&[[left, y], [right, y]], ink));
        let length = Millimeters::from_mm(share * around);
        let words = match plan.job.units {
            Units::Si => format!("{} mm", whole_mm(length)),
            Units::Us => format!("{} in", tape_inches(length)),
        };
        let hour = Label::new([left - 1.5, y - 0.2], format!("{name} o’clock"));
        drawing.push(
            hour.anchored(Anchor::End, Stand::Base)
                .sized(WORDS_PT)
                .faced(Face::Strong),
        );
        let tape = Label::new([left - 1.5, y + 0.4], words);
        drawing.push(tape.anchored(Anchor::End, Stand::Hang).sized(WORDS_PT));
    }
}

fn weld(drawing: &mut Drawing, plan: &PlanSheet, field: Field) {
    let cap = 0.5 * plan.setup.joint.cap_width.mm();
    for edge in [-cap, cap] {
        vertical(drawing, field, edge, Stroke::hairline());
    }
    let center = Stroke::solid(Ink::Full, 0.9).dashed(&[6.0, 1.5, 1.0, 1.5]);
    vertical(drawing, field, 0.0, center);
}

fn vertical(drawing: &mut Drawing, field: Field, axial_mm: f64, stroke: Stroke) {
    let x = field.along.x(axial_mm);
    drawing.push(Path::polyline(
        &[[x, field.top], [x, field.bottom()]],
        stroke,
    ));
}

fn turns(drawing: &mut Drawing, plan: &PlanSheet, field: Field) {
    let width = plan.setup.cable.outside_diameter_mm.value * field.along.scale;
    for turn in plan.coil.turns.iter() {
        let left = field.along.x(turn.axial.mm()) - 0.5 * width;
        drawing.push(
            Path::rectangle(left, field.top, width, field.height)
                .filled(Ink::Density(0.1))
                .stroked(Stroke::solid(Ink::Soft, THIN_PT)),
        );
    }
}

fn blanket_edges(drawing: &mut Drawing, plan: &PlanSheet, field: Field) {
    let [left, right] = plan.setup.blanket.reach;
    for edge in [-left.mm(), right.mm()] {
        let ink = Stroke::solid(Ink::Full, THIN_PT).dashed(&[3.0, 1.5]);
        vertical(drawing, field, edge, ink);
    }
}

/// A wedge at each end of the coil where a lead leaves.
fn leads(drawing: &mut Drawing, plan: &PlanSheet, field: Field) {
    let turns = || plan.coil.turns.iter().map(|t| t.axial.mm());
    let ends = [
        (turns().fold(f64::INFINITY, f64::min), -1.0, Anchor::End),
        (
            turns().fold(f64::NEG_INFINITY, f64::max),
            1.0,
            Anchor::Start,
        ),
    ];
    let y = field
        .y(plan.job.lead_exit_clock)
        .clamp(field.top + 1.2, field.bottom() - 1.2);
    let half = 0.5 * plan.setup.cable.outside_diameter_mm.value * field.along.scale;
    for (axial_mm, sign, anchor) in ends.into_iter().filter(|end| end.0.is_finite()) {
        let x = field.along.x(axial_mm) + sign * half;
        let wedge = [[x, y - 1.2], [x, y + 1.2], [x + sign * 2.6, y]];
        drawing.push(Path::polygon(&wedge, Ink::Full));
        let label = Label::new([x + sign * 3.2, y], "lead").anchored(anchor, Stand::Middle);
        drawing.push(label.sized(WORDS_PT).rimmed());
    }
}

/// A dot at each place and its number in a ring beside it.
fn thermocouples(drawing: &mut Drawing, plan: &PlanSheet, field: Field) {
    let fitted = || plan.setup.thermocouples.iter().filter(|one| one.fitted);
    let place = |one: &Thermocouple| [field.along.x(one.axial.mm()), field.y(one.clock)];
    let mut taken: Vec<[f64; 2]> = Vec::new();
    let dots: Vec<[f64; 2]> = fitted().map(place).collect();
    for one in fitted() {
        let dot = place(one);
        let ring = free_place(dot, &taken, &dots, field);
        taken.push(ring);
        drawing.push(Path::polyline(
            &[dot, ring],
            Stroke::solid(Ink::Full, THIN_PT),
        ));
        drawing.push(Path::circle(dot, 0.75).filled(Ink::Full));
        drawing.push(
            Path::circle(ring, RING_MM)
                .filled(Ink::Paper)
                .stroked(Stroke::solid(Ink::Full, THIN_PT)),
        );
        let number = Label::new(ring, number(&one.name)).faced(Face::Strong);
        drawing.push(number.anchored(Anchor::Middle, Stand::Middle).sized(6.6));
    }
}

/// The number of a thermocouple without the letters before it.
pub(in crate::sheet) fn number(name: &str) -> &str {
    let digits = name.trim_start_matches(|letter: char| !letter.is_ascii_digit());
    if digits.is_empty() { name } else { digits }
}

fn free_place(dot: [f64; 2], taken: &[[f64; 2]], dots: &[[f64; 2]], field: Field) -> [f64; 2] {
    let apart = |a: [f64; 2], b: [f64; 2]| distance(a[0] - b[0], a[1] - b[1]);
    let candidates = AWAY.map(|[x, y]| [dot[0] + x * RING_MM, dot[1] + y * RING_MM]);
    let is_free = |at: &&[f64; 2]| {
        at[1] > field.top - RING_MM
            && at[1] < field.bottom() + RING_MM
            && taken
                .iter()
                .all(|other| apart(**at, *other) > 2.0 * RING_MM)
            && dots.iter().all(|other| apart(**at, *other) > RING_MM + 0.8)
    };
    *candidates.iter().find(is_free).unwrap_or(&candidates[0])
}

fn distance(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// Two rotated lines of words stand side by side where the turns are this far apart on paper, in mm.
const TWO_LINES_MM: f64 = 5.0;
/// Half the distance between two lines of words in mm.
const HALF_LINE_MM: f64 = 1.25;

/// The distance of each turn, in mm and inches, standing under it.
fn tape(drawing: &mut Drawing, plan: &PlanSheet, field: Field) -> f64 {
    let top = field.bottom() + 3.8;
    let places: Vec<f64> = plan
        .coil
        .turns
        .iter()
        .map(|t| field.along.x(t.axial.mm()))
        .collect();
    let gaps = places.windows(2).map(|pair| (pair[1] - pair[0]).abs());
    let two_lines = gaps.fold(f64::INFINITY, f64::min) >= TWO_LINES_MM;
    let mut longest = 0.0_f64;
    for (turn, x) in plan.coil.turns.iter().zip(&places) {
        let mm = format!("{} mm", whole_mm(turn.axial));
        let inches = format!("{} in", tape_inches(turn.axial));
        let (first, second) = match plan.job.units {
            Units::Si => (mm, inches),
            Units::Us => (inches, mm),
        };
        let lines = match two_lines {
            true => vec![(x - HALF_LINE_MM, first), (x + HALF_LINE_MM, second)],
            false => vec![(*x, format!("{}   {}", bare(&first), bare(&second)))],
        };
        for (x, words) in lines {
            let label = Label::new([x, top], words.as_str()).anchored(Anchor::End, Stand::Middle);
            drawing.push(label.turned(-90.0).sized(WORDS_PT));
            let wide = report::text_width_pt(Face::Regular, &words, WORDS_PT) * 25.4 / 72.0;
            longest = longest.max(wide);
        }
    }
    if !two_lines {
        let units = match plan.job.units {
            Units::Si => "mm   in",
            Units::Us => "in   mm",
        };
        let at = [field.along.edges()[0] - 1.5, top];
        let label = Label::new(at, units).anchored(Anchor::End, Stand::Middle);
        drawing.push(label.turned(-90.0).sized(WORDS_PT));
    }
    top + longest + 0.5
}

/// A length without its unit, where the unit stands once for all.
fn bare(length: &str) -> &str {
    length.rsplit_once(' ').map_or(length, |(number, _)| number)
}
