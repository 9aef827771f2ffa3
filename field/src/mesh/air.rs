//! The air: from the outlines of the bodies to a far circle (half circle when axisymmetric), where the field is
//! taken for that of a dipole.

use std::f64::consts::PI;

use super::builder::Builder;
use super::delaunay::{self, Region as Domain};
use super::geometry::{between, bounds, distance};
use super::outline::{Outline, SideKind};
use super::settings::MeshSettings;
use super::spacing::{GRADATION, SourceSizes, places, spread};
use super::{FarCircle, Region};
use crate::error::FieldError;
use crate::section::{Point, Section, Shape, Symmetry};

/// The far circle clears all bodies and conductors by this factor.
const CLEARS_BODIES: f64 = 1.3;
/// Air triangles are at most this share of the far radius.
const LARGEST_AIR: f64 = 0.4;

/// Where the far circle lies.
pub(crate) fn far_circle(section: &Section, settings: &MeshSettings) -> FarCircle {
    let boxes: Vec<Point> = places(section, settings)
        .flat_map(Shape::bounds_m)
        .collect();
    let outlines: Vec<Point> = section
        .bodies
        .iter()
        .flat_map(|body| body.polygon.iter().copied())
        .collect();
    let [low, high] = if boxes.is_empty() {
        bounds(outlines.iter())
    } else {
        bounds(boxes.iter())
    };
    let center_u_m = if section.symmetry == Symmetry::Axisymmetric {
        0.0
    } else {
        0.5 * (low[0] + high[0])
    };
    let center_m = [center_u_m, 0.5 * (low[1] + high[1])];
    let reach = |points: &[Point]| {
        points
            .iter()
            .map(|&p| distance(center_m, p))
            .fold(0.0, f64::max)
    };
    // The polygon that stands for the circle lies inside it; its flats must clear the bodies too.
    let flat = libm::cos(0.5 * PI / settings.arc_pieces as f64);
    let radius_m = (settings.far_radius * reach(&boxes))
        .max(CLEARS_BODIES * reach(&boxes).max(reach(&outlines)) / flat);
    FarCircle { center_m, radius_m }
}

/// Meshes the air.
///
/// # Errors
/// [`FieldError::MeshFailed`] where the region cannot be filled.
pub(crate) fn air(
    builder: &mut Builder,
    section: &Section,
    outline: &Outline,
    settings: &MeshSettings,
    nodes: &[Vec<u32>],
    circle: FarCircle,
) -> Result<(), FieldError> {
    let mut pieces: Vec<[u32; 2]> = Vec::new();
    for (side, run) in outline.sides.iter().zip(nodes) {
        if side.kind == SideKind::Surface {
            pieces.extend(run.windows(2).map(|pair| [pair[0], pair[1]]));
        }
    }
    let wishes = SourceSizes::new(section, settings);
    let size = |place: Point| wishes.at(place, LARGEST_AIR * circle.radius_m);
    let arc = arc(section.symmetry, settings, circle);
    let arc: Vec<u32> = arc.into_iter().map(|place| builder.point(place)).collect();
    pieces.extend(arc.windows(2).map(|pair| [pair[0], pair[1]]));
    if section.symmetry == Symmetry::Axisymmetric {
        pieces.extend(axis(builder, outline, nodes, circle, &size));
    } else {
        pieces.push([arc[arc.len() - 1], arc[0]]);
    }
    builder.mesh.arc = pieces_of_arc(&arc, section.symmetry);
    let mut numbers: Vec<u32> = pieces.iter().flatten().copied().collect();
    numbers.sort_unstable();
    numbers.dedup();
    let local = |number: u32| numbers.partition_point(|&known| known < number);
    let domain = Domain {
        points: numbers
            .iter()
            .map(|&number| builder.place(number))
            .collect(),
        pieces: pieces.iter().map(|piece| piece.map(local)).collect(),
        size: &size,
    };
    for corners in delaunay::fill(&domain)? {
        let corners = corners.map(|place| builder.point(place));
        builder.triangle(corners, Region::Air);
    }
    Ok(())
}

/// Points of the far circle, counter-clockwise; of the half circle from bottom to top.
fn arc(symmetry: Symmetry, settings: &MeshSettings, circle: FarCircle) -> Vec<Point> {
    let FarCircle {
        center_m: [u, v],
        radius_m,
    } = circle;
    let pieces = settings.arc_pieces;
    match symmetry {
        Symmetry::Axisymmetric => (0..=pieces)
            .map(|k| match k {
                0 => [0.0, v - radius_m],
                k if k == pieces => [0.0, v + radius_m],
                k => {
                    let angle = PI * (k as f64 / pieces as f64 - 0.5);
                    [radius_m * libm::cos(angle), v + radius_m * libm::sin(angle)]
                }
            })
            .collect(),
        Symmetry::Planar => (0..2 * pieces)
            .map(|k| {
                let angle = PI * k as f64 / pieces as f64;
                [
                    u + radius_m * libm::cos(angle),
                    v + radius_m * libm::sin(angle),
                ]
            })
            .collect(),
    }
}

fn pieces_of_arc(arc: &[u32], symmetry: Symmetry) -> Vec<[u32; 2]> {
    let closing = (symmetry == Symmetry::Planar).then(|| [arc[arc.len() - 1], arc[0]]);
    arc.windows(2)
        .map(|pair| [pair[0], pair[1]])
        .chain(closing)
        .collect()
}

/// Pieces of the axis that no body covers.
fn axis(
    builder: &mut Builder,
    outline: &Outline,
    nodes: &[Vec<u32>],
    circle: FarCircle,
    size: &dyn Fn(Point) -> f64,
) -> Vec<[u32; 2]> {
    let (bottom, top) = (
        circle.center_m[1] - circle.radius_m,
        circle.center_m[1] + circle.radius_m,
    );
    let mut covered: Vec<[f64; 2]> = (0..outline.sides.len())
        .filter(|&side| {
            outline.sides[side]
                .ends
                .iter()
                .all(|&end| outline.corners[end as usize][0] == 0.0)
        })
        .map(|side| outline.ends(side).map(|end| end[1]))
        .collect();
    // Bodies may also touch the axis in single points.
    covered.extend(
        outline
            .corners
            .iter()
            .filter(|corner| corner[0] == 0.0)
            .map(|corner| [corner[1]; 2]),
    );
    covered.sort_by(|x, y| x[0].total_cmp(&y[0]).then(x[1].total_cmp(&y[1])));
    covered.push([top, top]);
    let finest = |z: f64| finest_at(builder, outline, nodes, [0.0, z]);
    let mut free = Vec::new();
    let mut from = bottom;
    for [low, high] in covered {
        if low > from {
            let (a, b) = ([0.0, from], [0.0, low]);
            let ends = [finest(from), finest(low)];
            let graded = |place: Point| {
                let from_ends =
                    [0, 1].map(|end| ends[end] + GRADATION * distance([a, b][end], place));
                size(place).min(from_ends[0]).min(from_ends[1])
            };
            free.push((a, b, spread(a, b, graded)));
        }
        from = from.max(high);
    }
    let mut pieces = Vec::new();
    for (a, b, parameters) in free {
        let points: Vec<u32> = parameters
            .iter()
            .map(|&t| builder.point(between(a, b, t)))
            .collect();
        pieces.extend(points.windows(2).map(|pair| [pair[0], pair[1]]));
    }
    pieces
}

/// Length of the shortest piece of outline at a place.
fn finest_at(builder: &Builder, outline: &Outline, nodes: &[Vec<u32>], place: Point) -> f64 {
    let at_ends = outline.sides.iter().zip(nodes).flat_map(|(side, run)| {
        let ends = [(run[0], run[1]), (run[run.len() - 1], run[run.len() - 2])];
        ends.into_iter().filter(|_| side.kind == SideKind::Surface)
    });
    let lengths = at_ends.filter(|&(end, _)| builder.place(end) == place);
    lengths
        .map(|(end, next)| distance(builder.place(end), builder.place(next)))
        .fold(f64::INFINITY, f64::min)
}
