//! Is the section fit to be meshed? Every complaint names the body or conductor and the place.

use super::geometry::{
    area, between, bounds, crossing, direction, distance, distance_to_segment, inside, left_of,
    plus, sides, times,
};
use super::outline::Outline;
use super::settings::MeshSettings;
use crate::error::FieldError;
use crate::section::{Body, Outer, Point, Section, Shape, Symmetry};

/// A conductor may touch a body; this share of its size forgives rounding.
const TOUCHING: f64 = 1e-6;

/// Checks each polygon for itself.
pub(crate) fn polygons(section: &Section) -> Result<(), FieldError> {
    let nothing_to_mesh =
        section.outer == Outer::Natural || section.windings.iter().all(|w| w.conductors.is_empty());
    if section.bodies.is_empty() && nothing_to_mesh {
        return Err(FieldError::WrongCount {
            what: "bodies of the section".into(),
            got: 0,
            need: 1,
        });
    }
    section
        .bodies
        .iter()
        .try_for_each(|body| polygon(body, section.symmetry))
}

fn polygon(body: &Body, symmetry: Symmetry) -> Result<(), FieldError> {
    let bad = |problem: &str| {
        Err(FieldError::BadPolygon {
            body: body.name.clone(),
            problem: problem.into(),
        })
    };
    if body.polygon.len() < 3 {
        return bad("fewer than three corners");
    }
    if body.polygon.iter().flatten().any(|x| !x.is_finite()) {
        return bad("a coordinate is not a finite number");
    }
    let radius_m = bounds(body.polygon.iter())[0][0];
    if symmetry == Symmetry::Axisymmetric && radius_m < 0.0 {
        return Err(FieldError::LeftOfAxis {
            what: format!("body \"{}\"", body.name),
            radius_m,
        });
    }
    if sides(&body.polygon).any(|[a, b]| a == b) {
        return bad("two corners in a row are the same");
    }
    match area(&body.polygon) {
        enclosed if enclosed < 0.0 => bad("its corners run clockwise"),
        0.0 => bad("it has no area"),
        _ => Ok(()),
    }
}

/// Checks that outlines cross neither themselves nor each other, and that no body lies in another.
pub(crate) fn outlines(section: &Section, outline: &Outline) -> Result<(), FieldError> {
    for (body, round) in outline.loops.iter().enumerate() {
        for (other, other_round) in outline.loops.iter().enumerate().skip(body) {
            for step in round {
                for other_step in other_round {
                    let [a, b] = outline.ends(step.side);
                    let [c, d] = outline.ends(other_step.side);
                    if let Some(place_m) = crossing(a, b, c, d) {
                        return Err(collision(section, body, other, place_m));
                    }
                }
            }
        }
    }
    for body in 0..outline.loops.len() {
        let Some(place_m) = inner_point(&outline.polygon(body)) else {
            return Err(FieldError::BadPolygon {
                body: section.bodies[body].name.clone(),
                problem: "it is a sliver".into(),
            });
        };
        for other in (0..outline.loops.len()).filter(|&other| other != body) {
            if inside(sides(&outline.polygon(other)), place_m) {
                return Err(collision(section, body, other, place_m));
            }
        }
    }
    Ok(())
}

fn collision(section: &Section, body: usize, other: usize, place_m: Point) -> FieldError {
    let name = |body: usize| section.bodies[body].name.clone();
    if body == other {
        return FieldError::OutlineCrossesItself {
            body: name(body),
            place_m,
        };
    }
    FieldError::BodiesOverlap {
        first: name(body),
        second: name(other),
        place_m,
    }
}

/// A point well inside a polygon: the middle of the longest stretch that a line normal to some side cuts out.
fn inner_point(polygon: &[Point]) -> Option<Point> {
    let cut = |[a, b]: [Point; 2]| {
        let (start, inwards) = (between(a, b, 0.5), left_of(direction(a, b)));
        let reach = sides(polygon)
            .filter_map(|[c, d]| ray_meets(start, inwards, c, d))
            .filter(|&reach| reach > 1e-9 * distance(a, b))
            .fold(f64::INFINITY, f64::min);
        (reach, plus(start, times(0.5 * reach, inwards)))
    };
    sides(polygon)
        .map(cut)
        .filter(|(reach, place)| reach.is_finite() && inside(sides(polygon), *place))
        .max_by(|x, y| x.0.total_cmp(&y.0))
        .map(|(_, place)| place)
}

/// How far from `start` a ray meets a segment.
fn ray_meets(start: Point, ray: Point, c: Point, d: Point) -> Option<f64> {
    let across = |p: Point| ray[0] * (p[1] - start[1]) - ray[1] * (p[0] - start[0]);
    let (from, to) = (across(c), across(d));
    let meets = (from <= 0.0 && to > 0.0) || (from > 0.0 && to <= 0.0);
    meets.then(|| {
        let place = between(c, d, from / (from - to));
        ray[0] * (place[0] - start[0]) + ray[1] * (place[1] - start[1])
    })
}

/// Checks that every conductor is right of the axis and outside bodies that conduct.
pub(crate) fn conductors(section: &Section) -> Result<(), FieldError> {
    for winding in &section.windings {
        for (i, conductor) in winding.conductors.iter().enumerate() {
            let what = || format!("winding \"{}\", conductor {}", winding.name, i + 1);
            shape(&conductor.shape, section.symmetry, &what)?;
            for body in section
                .bodies
                .iter()
                .filter(|body| body.metal.resistivity_ohm_m.is_some())
            {
                if let Some(place_m) = overlap(&conductor.shape, &body.polygon) {
                    let (winding, body) = (winding.name.clone(), body.name.clone());
                    return Err(FieldError::ConductorInBody {
                        winding,
                        conductor: i + 1,
                        body,
                        place_m,
                    });
                }
            }
        }
    }
    Ok(())
}

fn shape(shape: &Shape, symmetry: Symmetry, what: &dyn Fn() -> String) -> Result<(), FieldError> {
    let ([low, high], size_m) = (shape.bounds_m(), shape.half_width_m());
    let fits = low.iter().chain(&high).all(|x| x.is_finite()) && size_m > 0.0;
    if !fits {
        return Err(FieldError::OutOfRange {
            what: format!("{}: its half width", what()),
            value: size_m,
            lowest: f64::MIN_POSITIVE,
            highest: f64::MAX,
            unit: "m",
        });
    }
    if symmetry == Symmetry::Axisymmetric && low[0] < 0.0 {
        return Err(FieldError::LeftOfAxis {
            what: what(),
            radius_m: low[0],
        });
    }
    Ok(())
}

/// A place where a conductor and a polygon overlap.
fn overlap(shape: &Shape, polygon: &[Point]) -> Option<Point> {
    let center = shape.center_m();
    if inside(sides(polygon), center) {
        return Some(center);
    }
    match *shape {
        Shape::Circle { radius_m, .. } => {
            let near = |[a, b]: &[Point; 2]| {
                distance_to_segment(*a, *b, center) < (1.0 - TOUCHING) * radius_m
            };
            sides(polygon).find(near).map(|_| center)
        }
        Shape::Rectangle { min_m, max_m } => {
            let shrink = |x: f64, middle: f64| x + TOUCHING * (middle - x);
            let (low, high) = (
                [shrink(min_m[0], center[0]), shrink(min_m[1], center[1])],
                [shrink(max_m[0], center[0]), shrink(max_m[1], center[1])],
            );
            let corners = [low, [high[0], low[1]], high, [low[0], high[1]]];
            let crossed = sides(&corners)
                .flat_map(|[a, b]| sides(polygon).map(move |[c, d]| crossing(a, b, c, d)));
            let swallowed = polygon
                .iter()
                .copied()
                .find(|&p| inside(sides(&corners), p));
            crossed.flatten().next().or(swallowed)
        }
    }
}

/// Checks that the settings fit the section.
pub(crate) fn settings(section: &Section, settings: &MeshSettings) -> Result<(), FieldError> {
    let (got, need) = (settings.bodies.len(), section.bodies.len());
    if got != need {
        return Err(FieldError::WrongCount {
            what: "mesh settings of bodies".into(),
            got,
            need,
        });
    }
    let in_range = |what: &str, value: f64, lowest: f64, highest: f64, unit: &'static str| {
        let fits = value >= lowest && value <= highest;
        fits.then_some(()).ok_or(FieldError::OutOfRange {
            what: what.into(),
            value,
            lowest,
            highest,
            unit,
        })
    };
    for body in &settings.bodies {
        in_range(
            "largest size of a body's triangles",
            body.largest_size_m,
            1e-6,
            1e3,
            "m",
        )?;
        in_range(
            "first layer of a body",
            body.first_layer_m.unwrap_or(1e-3),
            1e-9,
            1e3,
            "m",
        )?;
    }
    in_range("growth of layers", settings.growth, 1.0, 2.5, "(-)")?;
    in_range(
        "share of the wall for layers",
        settings.wall_share,
        0.05,
        0.45,
        "(-)",
    )?;
    in_range(
        "surface spacing",
        settings.surface_spacing,
        0.01,
        2.0,
        "(-)",
    )?;
    in_range("corner spacing", settings.corner_spacing, 0.01, 2.0, "(-)")?;
    in_range("air size", settings.air_size, 0.02, 2.0, "(-)")?;
    in_range(
        "growth of air triangles",
        settings.air_gradation,
        0.05,
        2.0,
        "(-)",
    )?;
    in_range("far radius", settings.far_radius, 1.5, 20.0, "(-)")?;
    in_range(
        "pieces of the far boundary",
        settings.arc_pieces as f64,
        4.0,
        1000.0,
        "(-)",
    )
}
