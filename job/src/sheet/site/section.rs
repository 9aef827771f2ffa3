//! The upper half of the joint in section, to scale: walls, weld, blanket, turns, thermocouples.

use report::{Anchor, Drawing, Ink, Label, Path, STRONG_PT, Stand, Stroke, THIN_PT};
use rules::thermocouple::Face;

use super::shape;
use super::wrap::{Along, ROW_MM, WORDS_PT};
use crate::sheet::PlanSheet;
use crate::sheet::words::both_tape;

/// The root of the weld is drawn at this share of its cap; the groove itself is not asked for.
const ROOT_SHARE: f64 = 0.25;

/// Where a place lies on paper.
#[derive(Clone, Copy)]
struct View {
    along: Along,
    /// Radius in mm at the top of the field, and where that is on paper.
    top: (f64, f64),
}

impl View {
    fn on(&self, axial_mm: f64, radius_mm: f64) -> [f64; 2] {
        let below = (self.top.0 - radius_mm) * self.along.scale;
        [self.along.x(axial_mm), self.top.1 + below]
    }
}

/// Draws the section at the top of the figure and returns where it ends.
pub(super) fn draw(drawing: &mut Drawing, plan: &PlanSheet, along: Along) -> f64 {
    let [low, high] = radii(plan, along);
    let view = View {
        along,
        top: (high, ROW_MM),
    };
    blanket(drawing, plan, view);
    walls(drawing, plan, view);
    turns(drawing, plan, view);
    thermocouples(drawing, plan, view);
    let bottom = view.on(0.0, low)[1];
    words(drawing, plan, view, bottom);
    bottom + ROW_MM + 1.0
}

/// Lowest and highest radius of anything drawn, in mm.
fn radii(plan: &PlanSheet, along: Along) -> [f64; 2] {
    let joint = &plan.setup.joint;
    let mut low = f64::INFINITY;
    let mut high = 0.0_f64;
    for place in shape::places_mm(joint, along.ends_mm[0], along.ends_mm[1]) {
        let (diameter, wall) = shape::at(joint, place);
        low = low.min(0.5 * diameter - wall);
        high = high.max(0.5 * diameter + plan.setup.blanket.thickness.mm());
    }
    for turn in plan.coil.turns.iter() {
        let cable = plan.setup.cable.outside_diameter_mm.value;
        let outside = 0.5 * shape::at(joint, turn.axial.mm()).0;
        high = high.max(outside + turn.standoff.mm() + cable);
    }
    [low, high]
}

fn walls(drawing: &mut Drawing, plan: &PlanSheet, view: View) {
    let joint = &plan.setup.joint;
    let [left, right] = view.along.ends_mm;
    let places = shape::places_mm(joint, left, right);
    let outside: Vec<[f64; 2]> = places
        .iter()
        .map(|x| view.on(*x, 0.5 * shape::at(joint, *x).0))
        .collect();
    let bore: Vec<[f64; 2]> = places
        .iter()
        .map(|x| {
            let (diameter, wall) = shape::at(joint, *x);
            view.on(*x, 0.5 * diameter - wall)
        })
        .collect();
    let mut ring = outside.clone();
    ring.extend(bore.iter().rev());
    drawing.push(Path::polygon(&ring, Ink::Density(0.12)));
    for line in [&outside, &bore] {
        drawing.push(Path::polyline(line, Stroke::solid(Ink::Full, STRONG_PT)));
    }
    weld(drawing, plan, view);
}

fn weld(drawing: &mut Drawing, plan: &PlanSheet, view: View) {
    let (diameter, wall) = shape::at(&plan.setup.joint, 1e-6);
    let cap = 0.5 * plan.setup.joint.cap_width.mm();
    let (outside, bore) = (0.5 * diameter, 0.5 * diameter - wall);
    let ring = [
        view.on(-cap, outside),
        view.on(cap, outside),
        view.on(ROOT_SHARE * cap, bore),
        view.on(-ROOT_SHARE * cap, bore),
    ];
    drawing
        .push(Path::polygon(&ring, Ink::Density(0.5)).stroked(Stroke::solid(Ink::Full, THIN_PT)));
}

fn blanket(drawing: &mut Drawing, plan: &PlanSheet, view: View) {
    let wrap = &plan.setup.blanket;
    let joint = &plan.setup.joint;
    let [left, right] = [-wrap.reach[0].mm(), wrap.reach[1].mm()];
    let places = shape::places_mm(joint, left, right);
    let surface = |add: f64| {
        let at = move |x: &f64| view.on(*x, 0.5 * shape::at(joint, *x).0 + add);
        places.iter().map(at).collect::<Vec<_>>()
    };
    let mut ring = surface(wrap.thickness.mm());
    ring.extend(surface(0.0).iter().rev());
    drawing.push(Path::outline(
        &ring,
        Stroke::solid(Ink::Full, THIN_PT).dashed(&[3.0, 1.5]),
    ));
    let middle = 0.5 * wrap.thickness.mm();
    let first_turn = plan.coil.turns.iter().map(|t| t.axial.mm());
    let free = first_turn.fold(right, f64::min);
    let at = 0.5 * (left + free.min(right));
    let [x, y] = view.on(at, 0.5 * shape::at(joint, at).0 + middle);
    let label = Label::new([x, y], "blanket").anchored(Anchor::Middle, Stand::Middle);
    drawing.push(label.sized(WORDS_PT).rimmed());
}

fn turns(drawing: &mut Drawing, plan: &PlanSheet, view: View) {
    let radius = 0.5 * plan.setup.cable.outside_diameter_mm.value;
    let coil = plan.coil.turns.iter();
    for (index, turn) in coil.enumerate() {
        let outside = 0.5 * shape::at(&plan.setup.joint, turn.axial.mm()).0;
        let center = view.on(turn.axial.mm(), outside + turn.standoff.mm() + radius);
        drawing.push(
            Path::circle(center, radius * view.along.scale)
                .filled(Ink::Paper)
                .stroked(Stroke::solid(Ink::Full, STRONG_PT)),
        );
        if !is_numbered(index, plan.coil.turns.len(), view) {
            continue;
        }
        let above = [center[0], center[1] - radius * view.along.scale - 0.6];
        let number = Label::new(above, (index + 1).to_string());
        drawing.push(number.anchored(Anchor::Middle, Stand::Base).sized(WORDS_PT));
    }
}

/// Turns that stand closer than this on paper, in mm, are numbered at the ends and at every fifth.
const NUMBER_EVERY_MM: f64 = 3.4;

fn is_numbered(index: usize, count: usize, view: View) -> bool {
    let [left, right] = view.along.edges();
    let is_close = (right - left) / (count.max(1) as f64) < 2.0 * NUMBER_EVERY_MM;
    !is_close || index == 0 || index + 1 == count || (index + 1).is_multiple_of(5)
}

/// Dots where wires are fitted; their numbers stand on the unrolled pipe below.
fn thermocouples(drawing: &mut Drawing, plan: &PlanSheet, view: View) {
    for one in plan.setup.thermocouples.iter().filter(|one| one.fitted) {
        let (diameter, wall) = shape::at(&plan.setup.joint, one.axial.mm());
        let radius = match one.face {
            Face::Outside => 0.5 * diameter,
            Face::Bore => 0.5 * diameter - wall,
        };
        let dot = Path::circle(view.on(one.axial.mm(), radius), 0.75);
        drawing.push(dot.filled(Ink::Full));
    }
}

fn words(drawing: &mut Drawing, plan: &PlanSheet, view: View, bottom: f64) {
    let [left, right] = view.along.edges();
    let (diameter, wall) = shape::at(&plan.setup.joint, view.along.ends_mm[0]);
    let middle = view.on(0.0, 0.5 * (diameter - wall))[1];
    let sides = [
        (left - 1.5, "side 1", Anchor::End),
        (right + 1.5, "side 2", Anchor::Start),
    ];
    for (x, name, anchor) in sides {
        drawing.push(
            Label::new([x, middle], name)
                .anchored(anchor, Stand::Middle)
                .sized(WORDS_PT),
        );
    }
    let reach = plan.setup.blanket.reach;
    let edges = [(reach[0] * -1.0, Anchor::Start), (reach[1], Anchor::End)];
    for (edge, anchor) in edges {
        let words = format!("blanket edge {}", both_tape(edge, plan.job.units));
        let at = [view.along.x(edge.mm()), bottom + 0.9];
        drawing.push(
            Label::new(at, words)
                .anchored(anchor, Stand::Hang)
                .sized(WORDS_PT),
        );
    }
    let at = [view.along.x(0.0), bottom + 0.9];
    drawing.push(
        Label::new(at, "bore")
            .anchored(Anchor::Middle, Stand::Hang)
            .sized(WORDS_PT),
    );
}
