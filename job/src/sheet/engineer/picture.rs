//! The section at the end of heating: temperature in color; loss in ink with field lines.

use cycle::outcome::Snapshot;
use cycle::setup::Setup;
use quantity::Units;
use report::section_picture::{SectionPicture, Triangles, Window, even_levels};
use report::{Block, Drawing, Ink, Stroke, THIN_PT};

use crate::sheet::PlanSheet;
use crate::sheet::axes::{along, degrees};
use crate::sheet::words::moment_s;

/// Width on paper in mm.
const WIDTH_MM: f64 = 166.0;
/// Steps of the color scale, steps of ink, field lines.
const HEAT_BANDS: usize = 26;
const INK_BANDS: usize = 14;
const FIELD_LINES: usize = 16;
/// A quadratic triangle (corners, then middles of sides 01, 12, 20) as four plain ones.
const QUARTERS: [[usize; 3]; 4] = [[0, 3, 5], [3, 1, 4], [5, 4, 2], [3, 4, 5]];

/// Nodes as the picture wants them, and triangles of metal and of everything.
struct Mesh {
    nodes: Vec<[f64; 2]>,
    metal: Vec<[usize; 3]>,
    all: Vec<[usize; 3]>,
}

/// The two pictures; none where there is no section.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let snapshot = &plan.outcome.snapshot;
    if snapshot.elements.is_empty() {
        return Vec::new();
    }
    let units = plan.job.units;
    let [heat, field] = pictures(plan.setup, units, snapshot, "at the end of heating");
    let when = moment_s(snapshot.time_s);
    vec![
        Block::heading(2, "The section at the end of heating"),
        Block::figure(
            heat,
            format!(
                "Temperature at {when}; broken line: lower end of the hold range. {} along and from the axis.",
                match units {
                    Units::Si => "Millimeters",
                    Units::Us => "Inches",
                }
            ),
        ),
        Block::figure(
            field,
            format!(
                "Field lines at {when}, and where the heat arises: the darker, the more heat in a volume."
            ),
        ),
    ]
}

/// Temperature, and loss with field lines; `when` ends the title of the first.
pub(crate) fn pictures(
    setup: &Setup,
    units: Units,
    snapshot: &Snapshot,
    when: &str,
) -> [Drawing; 2] {
    let mesh = mesh(snapshot);
    let window = window(setup, snapshot);
    [
        temperature(setup, units, snapshot, (&mesh, window), when),
        field(snapshot, &mesh, window, units),
    ]
}

fn mesh(snapshot: &Snapshot) -> Mesh {
    let quarters =
        |element: &[u32; 6]| QUARTERS.map(|corners| corners.map(|corner| element[corner] as usize));
    let is_metal = |index: usize| snapshot.bodies.get(index).is_some_and(Option::is_some);
    let elements = snapshot.elements.iter();
    let metal = elements
        .clone()
        .enumerate()
        .filter(|(index, _)| is_metal(*index));
    Mesh {
        nodes: snapshot.nodes_mm.iter().map(|[r, z]| [*z, *r]).collect(),
        metal: metal.flat_map(|(_, element)| quarters(element)).collect(),
        all: elements.flat_map(quarters).collect(),
    }
}

/// Blanket and coil with a little round them, down to the bore.
fn window(setup: &Setup, snapshot: &Snapshot) -> Window {
    let [left, right] = setup.blanket.reach;
    let metal = snapshot.metal_outlines_mm.iter().flatten();
    let low = metal.map(|[r, _]| *r).fold(f64::INFINITY, f64::min);
    let low = if low.is_finite() { low } else { 0.0 };
    let turns = snapshot.turns_mm.iter().map(|([r, _], radius)| r + radius);
    let blanket = snapshot.blanket_outline_mm.iter().map(|[r, _]| *r);
    let high = turns.chain(blanket).fold(low + 1.0, f64::max);
    let margin = 0.15 * (high - low);
    Window {
        left_mm: -left.mm() - margin,
        right_mm: right.mm() + margin,
        low_mm: (low - margin).max(0.0),
        high_mm: high + margin,
    }
}

fn temperature(
    setup: &Setup,
    units: Units,
    snapshot: &Snapshot,
    (mesh, window): (&Mesh, Window),
    when: &str,
) -> Drawing {
    let nodes = snapshot.temperature_c.iter();
    let values: Vec<f64> = nodes
        .map(|t| t.map_or(f64::NAN, |c| degrees(c, units)))
        .collect();
    let hottest = values.iter().copied().fold(1.0, f64::max);
    let (cold, hot) = report::round_range(0.0, hottest, 6.0);
    let mut picture = SectionPicture::new(format!("Temperature {when}"), window, WIDTH_MM);
    picture.describe("Hottest under the coil, falling along the pipe and toward the bore");
    let triangles = Triangles {
        nodes_mm: &mesh.nodes,
        corners: &mesh.metal,
    };
    picture.heat(triangles, &values, cold, hot, HEAT_BANDS);
    let lowest = degrees(setup.programme.hold_range[0].c(), units);
    let dashed = Stroke::solid(Ink::Full, 0.7).dashed(&[3.0, 1.5]);
    picture.lines(triangles, &values, &[lowest], &dashed);
    parts(&mut picture, snapshot);
    let (length, length_mm) = along(units);
    picture.axes_in(length, length_mm);
    let unit = match units {
        Units::Si => "°C",
        Units::Us => "°F",
    };
    picture.heat_scale(cold, hot, unit, HEAT_BANDS);
    picture.finish()
}

fn field(snapshot: &Snapshot, mesh: &Mesh, window: Window, units: Units) -> Drawing {
    let mut picture = SectionPicture::new("Loss density and field lines", window, WIDTH_MM);
    picture.describe(
        "Field lines round the turns; the wall is the darker the more heat arises there, all depths together, for the skin \
         in which it does is too thin to be seen",
    );
    let loss = loss_along(snapshot);
    let most = FULL_INK * loss.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
    let metal = Triangles {
        nodes_mm: &mesh.nodes,
        corners: &mesh.metal,
    };
    picture.density(metal, &loss, 0.0, most, INK_BANDS);
    let all = Triangles {
        nodes_mm: &mesh.nodes,
        corners: &mesh.all,
    };
    let is_shown = |[z, r]: &[f64; 2]| {
        (window.left_mm..=window.right_mm).contains(z)
            && (window.low_mm..=window.high_mm).contains(r)
    };
    let nodes = mesh.nodes.iter().zip(&snapshot.flux_wb);
    let shown: Vec<f64> = nodes
        .filter(|(node, _)| is_shown(node))
        .map(|(_, flux)| *flux)
        .collect();
    let levels = even_levels(&shown, FIELD_LINES);
    let thin = Stroke::solid(Ink::Soft, 0.4);
    picture.lines(all, &snapshot.flux_wb, &levels, &thin);
    parts(&mut picture, snapshot);
    let (length, length_mm) = along(units);
    picture.axes_in(length, length_mm);
    picture.finish()
}

/// The most heat is not quite black, so that lines over it are seen.
const FULL_INK: f64 = 1.5;

/// Slices along the pipe over which the loss is summed.
const SLICES: usize = 160;

/// At every node the loss of its slice of the pipe in W/mm, all depths together; `NaN` in the air.
fn loss_along(snapshot: &Snapshot) -> Vec<f64> {
    let metal: Vec<(&[u32; 6], f64)> = snapshot
        .elements
        .iter()
        .zip(&snapshot.bodies)
        .zip(&snapshot.loss_w_m3)
        .filter(|((_, body), _)| body.is_some())
        .map(|((element, _), loss)| (element, *loss))
        .collect();
    let corners =
        |element: &[u32; 6]| [0, 1, 2].map(|i: usize| snapshot.nodes_mm[element[i] as usize]);
    let along = metal
        .iter()
        .flat_map(|(element, _)| corners(element))
        .map(|[_, z]| z);
    let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), z| {
        (low.min(z), high.max(z))
    });
    let width_mm = ((high - low) / SLICES as f64).max(f64::MIN_POSITIVE);
    let slice = |z: f64| (((z - low) / width_mm).max(0.0) as usize).min(SLICES - 1);
    let mut watts = vec![0.0; SLICES];
    for (element, loss) in &metal {
        let [a, b, c] = corners(element);
        let area_mm2 = 0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])).abs();
        let volume_m3 = 1e-9 * std::f64::consts::TAU * (a[0] + b[0] + c[0]) / 3.0 * area_mm2;
        watts[slice((a[1] + b[1] + c[1]) / 3.0)] += loss * volume_m3;
    }
    let mut of_node = vec![f64::NAN; snapshot.nodes_mm.len()];
    for (element, _) in &metal {
        for node in *element {
            let [_, z] = snapshot.nodes_mm[*node as usize];
            of_node[*node as usize] = smoothed(&watts, slice(z)) / width_mm;
        }
    }
    of_node
}

/// Triangles are larger than slices: the mean of neighbors takes out what is only the mesh.
fn smoothed(watts: &[f64], slice: usize) -> f64 {
    let near = &watts[slice.saturating_sub(2)..(slice + 3).min(watts.len())];
    near.iter().sum::<f64>() / near.len() as f64
}

fn parts(picture: &mut SectionPicture, snapshot: &Snapshot) {
    let turned =
        |outline: &[[f64; 2]]| -> Vec<[f64; 2]> { outline.iter().map(|[r, z]| [*z, *r]).collect() };
    for outline in &snapshot.metal_outlines_mm {
        picture.outline(&turned(outline), true, &Stroke::solid(Ink::Full, THIN_PT));
    }
    let blanket = turned(&snapshot.blanket_outline_mm);
    picture.outline(&blanket, true, &Stroke::solid(Ink::Soft, THIN_PT));
    for ([r, z], radius) in &snapshot.turns_mm {
        picture.turn([*z, *r], *radius);
    }
}
