//! A solved section as a drawing: temperature in color, loss in ink, lines of flux, coils, to scale.

use field::section::{Point, Shape, Symmetry};
use report::section_picture::{SectionPicture, Triangles, Window, even_levels};
use report::{Drawing, HAIRLINE_PT, Ink, Label, Stroke, THIN_PT, round_range};

use super::answer::Solved;
use super::problem::SectionProblem;
use super::scene::Scene;

/// The picture is at most this large on paper.
const WIDTH_MM: f64 = 170.0;
const HEIGHT_MM: f64 = 120.0;

/// Margin round the coils, or round the bodies where there is no coil, as a share of their diagonal.
const MARGIN_OF_COILS: f64 = 0.5;
const MARGIN_OF_BODIES: f64 = 0.04;

/// Room round the picture, and the height of a line of words below it.
const MARGIN_MM: f64 = 5.0;
const LINE_MM: f64 = 4.0;

/// Loss is shown over so many powers of ten below its largest density: a linear scale would show a skin as a line.
const LOSS_DECADES: f64 = 3.0;

/// Colors of temperature, bands of loss, lines of flux.
const HEAT_BANDS: usize = 24;
const LOSS_BANDS: usize = 12;
const FLUX_LINES: usize = 18;

/// Draws a solved problem: the surroundings of its coils, or all of it where it has none. The axis of a turned section
/// lies along the lower edge.
pub fn picture(problem: &SectionProblem, solved: &Solved) -> Drawing {
    let scene = &solved.scene;
    let window = window(problem);
    let aspect = (window.right_mm - window.left_mm) / (window.high_mm - window.low_mm);
    let width_mm = WIDTH_MM.min(HEIGHT_MM * aspect + 20.0);
    let mut picture = SectionPicture::new(problem.title.clone(), window, width_mm);
    let nodes_mm: Vec<Point> = scene
        .nodes_m
        .iter()
        .map(|&point| place_mm(problem, point))
        .collect();
    let metal = Triangles {
        nodes_mm: &nodes_mm,
        corners: &scene.metal,
    };
    let heat = scene
        .temperature_c
        .as_ref()
        .map(|values| (values, range(values)));
    let outline_pt = match (&heat, &scene.loss_w_m3) {
        (Some((values, (cold, hot))), _) => {
            picture.heat(metal, values, *cold, *hot, HEAT_BANDS);
            THIN_PT
        }
        (None, Some(loss)) => {
            let full_w_m3 = full(loss);
            let decades: Vec<f64> = loss
                .iter()
                .map(|loss| libm::log10(loss / full_w_m3))
                .collect();
            picture.density(metal, &decades, -LOSS_DECADES, 0.0, LOSS_BANDS);
            // A heavier line would hide a thin skin.
            HAIRLINE_PT
        }
        (None, None) => THIN_PT,
    };
    lines_of_flux(&mut picture, scene, &nodes_mm, &window);
    for body in &problem.bodies {
        let corners: Vec<Point> = body
            .polygon
            .iter()
            .map(|&corner| place_mm(problem, corner))
            .collect();
        picture.outline(&corners, true, &Stroke::solid(Ink::Full, outline_pt));
    }
    turns(&mut picture, problem);
    picture.axes();
    if let Some((_, (cold, hot))) = heat {
        picture.heat_scale(cold, hot, "°C", HEAT_BANDS);
    }
    let words = caption(problem, scene);
    picture.describe(words.join("; "));
    with_margin(picture.finish(), &words)
}

/// The words below a picture, and room round it.
fn with_margin(mut drawing: Drawing, words: &[String]) -> Drawing {
    for line in words {
        drawing.height += LINE_MM;
        let at = [drawing.left + MARGIN_MM, drawing.top + drawing.height];
        drawing.push(Label::new(at, line.clone()).inked(Ink::Soft));
    }
    drawing.left -= MARGIN_MM;
    drawing.top -= MARGIN_MM;
    drawing.width += 2.0 * MARGIN_MM;
    drawing.height += 2.0 * MARGIN_MM;
    drawing
}

fn lines_of_flux(picture: &mut SectionPicture, scene: &Scene, nodes_mm: &[Point], window: &Window) {
    let Some(flux) = &scene.flux_wb else {
        return;
    };
    let seen = nodes_mm
        .iter()
        .zip(flux)
        .filter(|(place, _)| inside(window, **place));
    let seen: Vec<f64> = seen.map(|(_, value)| *value).collect();
    let all = Triangles {
        nodes_mm,
        corners: &scene.triangles,
    };
    let stroke = Stroke::solid(Ink::Soft, HAIRLINE_PT);
    picture.lines(all, flux, &even_levels(&seen, FLUX_LINES), &stroke);
}

fn turns(picture: &mut SectionPicture, problem: &SectionProblem) {
    for conductor in problem.coils.iter().flat_map(|coil| &coil.conductors) {
        match conductor.shape {
            Shape::Circle { center_m, radius_m } => {
                picture.turn(place_mm(problem, center_m), 1e3 * radius_m);
            }
            Shape::Rectangle {
                min_m: [u1, v1],
                max_m: [u2, v2],
            } => {
                let corners = [[u1, v1], [u2, v1], [u2, v2], [u1, v2]];
                let corners = corners.map(|corner| place_mm(problem, corner));
                picture.area(
                    &corners,
                    Ink::Paper,
                    Some(Stroke::solid(Ink::Full, THIN_PT)),
                );
            }
        }
    }
}

/// Along and up on the picture: the axis of a turned section runs to the right.
fn place_mm(problem: &SectionProblem, [u, v]: Point) -> Point {
    match problem.symmetry {
        Symmetry::Axisymmetric => [1e3 * v, 1e3 * u],
        Symmetry::Planar => [1e3 * u, 1e3 * v],
    }
}

fn window(problem: &SectionProblem) -> Window {
    let conductors = problem.coils.iter().flat_map(|coil| &coil.conductors);
    let coils: Vec<Point> = conductors
        .flat_map(|conductor| conductor.shape.bounds_m())
        .collect();
    let bodies: Vec<Point> = problem
        .bodies
        .iter()
        .flat_map(|body| body.polygon.clone())
        .collect();
    let (shown, margin) = match coils.is_empty() {
        true => (bodies, MARGIN_OF_BODIES),
        false => (coils, MARGIN_OF_COILS),
    };
    let places = shown.into_iter().map(|place| place_mm(problem, place));
    let around = |mut window: Window, [along, up]: Point| {
        window.left_mm = window.left_mm.min(along);
        window.right_mm = window.right_mm.max(along);
        window.low_mm = window.low_mm.min(up);
        window.high_mm = window.high_mm.max(up);
        window
    };
    let (most, least) = (f64::INFINITY, f64::NEG_INFINITY);
    let empty = Window {
        left_mm: most,
        right_mm: least,
        low_mm: most,
        high_mm: least,
    };
    let tight = places.fold(empty, around);
    let margin_mm =
        margin * libm::hypot(tight.right_mm - tight.left_mm, tight.high_mm - tight.low_mm);
    let low_mm = tight.low_mm - margin_mm;
    Window {
        left_mm: tight.left_mm - margin_mm,
        right_mm: tight.right_mm + margin_mm,
        low_mm: if problem.symmetry == Symmetry::Axisymmetric {
            low_mm.max(0.0)
        } else {
            low_mm
        },
        high_mm: tight.high_mm + margin_mm,
    }
}

fn inside(window: &Window, [along, up]: Point) -> bool {
    (window.left_mm..=window.right_mm).contains(&along)
        && (window.low_mm..=window.high_mm).contains(&up)
}

/// The ends of the scale of temperature: round numbers round all values.
fn range(values: &[f64]) -> (f64, f64) {
    let known = values.iter().copied().filter(|value| value.is_finite());
    let (low, high) = known.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    round_range(low, high, 6.0)
}

/// The largest loss density in W/m3.
fn full(loss_w_m3: &[f64]) -> f64 {
    loss_w_m3.iter().copied().fold(0.0, f64::max)
}

/// What the picture shows, a line each.
fn caption(problem: &SectionProblem, scene: &Scene) -> Vec<String> {
    let mut lines = Vec::new();
    match (problem.heat.and_then(|heat| heat.end_s), &scene.loss_w_m3) {
        _ if scene.temperature_c.is_none() => {}
        (Some(end_s), _) => lines.push(format!("Temperature after {end_s} s")),
        (None, _) => lines.push("Temperature at rest".to_owned()),
    }
    if let (None, Some(loss)) = (&scene.temperature_c, &scene.loss_w_m3) {
        lines.push(format!(
            "Loss density in ink: full at {:.2e} W/m³, each band less by a factor of {:.1}",
            full(loss),
            libm::pow(10.0, LOSS_DECADES / (LOSS_BANDS as f64 + 1.0)),
        ));
    }
    if scene.flux_wb.is_some() {
        lines.push("Lines of flux at the moment of the largest current".to_owned());
    }
    lines
}
