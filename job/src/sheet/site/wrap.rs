//! The wrap as a figure: the section to scale above, the bands between, the pipe unrolled below, all along one axis.

use quantity::Millimeters;
use report::{Anchor, Block, Drawing, Ink, Label, Path, Stand, Stroke, THIN_PT};

use super::{section, unrolled};
use crate::sheet::PlanSheet;
use crate::sheet::words::{both_c, both_tape, trimmed};

/// Width of the figure in mm: the text width of the narrower paper.
const WIDTH_MM: f64 = 166.0;
/// Room for clock positions at the left and the name of a side at the right, in mm.
const MARGINS_MM: [f64; 2] = [20.0, 11.0];
/// Height of one row of words in mm.
pub(super) const ROW_MM: f64 = 3.9;
/// Size of words in the figure in points; still read on a second copy.
pub(super) const WORDS_PT: f64 = 7.4;
/// Bare pipe shown beyond the last thing, as a share of what is shown.
const BEYOND: f64 = 0.04;

/// Where a distance along the pipe lies on paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Along {
    /// Ends of what is shown, in mm from the weld center.
    pub ends_mm: [f64; 2],
    /// Millimeters on paper for one of the pipe.
    pub scale: f64,
}

impl Along {
    fn of(plan: &PlanSheet) -> Along {
        let setup = plan.setup;
        let half = 0.5 * plan.bands.gradient_control.width.mm();
        let mut ends = [
            -half.max(setup.blanket.reach[0].mm()),
            half.max(setup.blanket.reach[1].mm()),
        ];
        let turns = plan.coil.turns.iter();
        let places = turns.map(|turn| turn.axial.mm()).chain(
            setup
                .thermocouples
                .iter()
                .filter(|one| one.fitted)
                .map(|one| one.axial.mm()),
        );
        for place in places {
            ends = [ends[0].min(place), ends[1].max(place)];
        }
        let beyond = BEYOND * (ends[1] - ends[0]);
        let ends_mm = [ends[0] - beyond, ends[1] + beyond];
        let field = WIDTH_MM - MARGINS_MM[0] - MARGINS_MM[1];
        Along {
            ends_mm,
            scale: field / (ends_mm[1] - ends_mm[0]).max(1.0),
        }
    }

    /// On paper, in mm from the left edge of the figure.
    pub fn x(&self, axial_mm: f64) -> f64 {
        MARGINS_MM[0] + (axial_mm - self.ends_mm[0]) * self.scale
    }

    /// Left and right edge of the field on paper.
    pub fn edges(&self) -> [f64; 2] {
        self.ends_mm.map(|end| self.x(end))
    }
}

/// The figure, its unrolled part so high in mm.
pub(super) fn figure(plan: &PlanSheet, unrolled_mm: f64) -> Block {
    let along = Along::of(plan);
    let mut drawing = Drawing::new("The wrap", WIDTH_MM, 10.0, 1.0);
    drawing.description = description(plan);
    let below_section = section::draw(&mut drawing, plan, along);
    let below_bands = bands(&mut drawing, plan, along, below_section);
    drawing.height = unrolled::draw(&mut drawing, plan, along, below_bands, unrolled_mm);
    Block::figure(drawing, caption(plan, along))
}

fn description(plan: &PlanSheet) -> String {
    format!(
        "Section of the joint with {} turns, blanket and bands, and the pipe unrolled with {} thermocouples",
        plan.coil.turns.len(),
        plan.setup.thermocouples.iter().filter(|t| t.fitted).count()
    )
}

/// The bands as dimension lines; returns where they end.
fn bands(drawing: &mut Drawing, plan: &PlanSheet, along: Along, top: f64) -> f64 {
    let rows = [
        ("soak band", plan.bands.soak.width),
        ("heated band", plan.bands.heated.width),
        ("gradient control band", plan.bands.gradient_control.width),
    ];
    let mut y = top + 0.5 * ROW_MM;
    for (name, width) in rows {
        let words = format!("{name} {}", both_tape(width, plan.job.units));
        dimension(drawing, along, width, &words, y);
        y += ROW_MM;
    }
    y - 0.8
}

fn dimension(drawing: &mut Drawing, along: Along, width: Millimeters, words: &str, y: f64) {
    let [left, right] = [along.x(-0.5 * width.mm()), along.x(0.5 * width.mm())];
    let ink = Stroke::solid(Ink::Full, THIN_PT);
    for end in [left, right] {
        let tick = [[end, y - 1.1], [end, y + 1.1]];
        drawing.push(Path::polyline(&tick, ink.clone()));
    }
    let needed = report::text_width_pt(Default::default(), words, WORDS_PT) * 25.4 / 72.0;
    let middle = 0.5 * (left + right);
    let is_inside = needed + 8.0 < right - left;
    let (runs, label) = if is_inside {
        let [from, to] = [middle - 0.5 * needed - 1.0, middle + 0.5 * needed + 1.0];
        let label = Label::new([middle, y], words).anchored(Anchor::Middle, Stand::Middle);
        (vec![[left, from], [to, right]], label)
    } else {
        let label = Label::new([right + 1.5, y], words).anchored(Anchor::Start, Stand::Middle);
        (vec![[left, right]], label)
    };
    for [from, to] in runs {
        drawing.push(Path::polyline(&[[from, y], [to, y]], ink.clone()));
    }
    drawing.push(label.sized(WORDS_PT));
}

fn caption(plan: &PlanSheet, along: Along) -> String {
    let mut words = format!(
        "{} Along the pipe 1\u{a0}:\u{a0}{}, from the weld center line to the middle of the cable, minus toward side 1; clock and tape \
         clockwise from 12 as seen from side 1.",
        super::source_card::coil_words(plan),
        trimmed(1.0 / along.scale, 1)
    );
    for neighbor in &plan.setup.neighbors {
        let bears = neighbor.limit.map_or(String::new(), |limit| {
            format!(", bears {}", both_c(limit.c(), plan.job.units))
        });
        words += &format!(
            " {}: at {}{bears}.",
            neighbor.name,
            both_tape(neighbor.axial, plan.job.units)
        );
    }
    words
}
