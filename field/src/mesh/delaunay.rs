//! Fills a region bounded by straight pieces with triangles, by constrained Delaunay triangulation and refinement
//! (J. Ruppert, J. Algorithms 18 (1995) 548; the boundary itself is never split, so that neighbors conform).

use spade::{
    AngleLimit, ConstrainedDelaunayTriangulation, Point2, RefinementParameters, Triangulation,
};

use super::geometry::{bounds, distance, distance_to_segment, inside, triangle_area};
use crate::error::FieldError;
use crate::section::Point;

/// Angle that refinement aims at, in degrees; with kept boundaries larger limits may not end.
const ANGLE_DEG: f64 = 23.0;
/// Inner points keep this share of their size away from the boundary.
const CLEARANCE: f64 = 0.6;
/// A region that needs more points than this was asked for with a wrong size.
const MOST_POINTS: usize = 200_000;
/// Deepest level of cells of the grid of inner points.
const DEEPEST: u32 = 24;

/// A region to fill.
pub(crate) struct Region<'a> {
    /// Points of the boundary.
    pub points: Vec<Point>,
    /// Closed loops of straight pieces between points, outer and inner ones alike, in any direction.
    pub pieces: Vec<[usize; 2]>,
    /// Wanted size of triangles at a place.
    pub size: &'a dyn Fn(Point) -> f64,
}

/// Triangles as corners (counter-clockwise).
pub(crate) fn fill(region: &Region) -> Result<Vec<[Point; 3]>, FieldError> {
    let failed = |what: &str, place_m: Point| FieldError::MeshFailed {
        what: what.into(),
        place_m,
    };
    let first = region.points.first().copied().unwrap_or([0.0, 0.0]);
    let vertices = region
        .points
        .iter()
        .map(|&[x, y]| Point2::new(x, y))
        .collect();
    let mut crossed = None;
    let mut triangulation = ConstrainedDelaunayTriangulation::<Point2<f64>>::try_bulk_load_cdt(
        vertices,
        region.pieces.clone(),
        |piece| crossed = Some(piece[0]),
    )
    .map_err(|error| failed(&format!("a point cannot be used ({error})"), first))?;
    if triangulation.num_vertices() != region.points.len() {
        return Err(failed(
            "a boundary runs twice through the same point",
            first,
        ));
    }
    if let Some(piece) = crossed {
        return Err(failed(
            "boundaries cross",
            region.points.get(piece).copied().unwrap_or(first),
        ));
    }
    for [x, y] in inner_points(region)? {
        triangulation
            .insert(Point2::new(x, y))
            .map_err(|error| failed(&format!("a point cannot be used ({error})"), [x, y]))?;
    }
    let parameters = RefinementParameters::new()
        .exclude_outer_faces(true)
        .keep_constraint_edges()
        .with_angle_limit(AngleLimit::from_deg(ANGLE_DEG))
        .with_max_additional_vertices(MOST_POINTS);
    let refined = triangulation.refine(parameters);
    let mut excluded = vec![false; triangulation.num_all_faces()];
    refined
        .excluded_faces
        .iter()
        .for_each(|face| excluded[face.index()] = true);
    let kept = triangulation
        .inner_faces()
        .filter(|face| !excluded[face.fix().index()]);
    Ok(kept
        .map(|face| face.positions().map(|place| [place.x, place.y]))
        .collect())
}

/// Centers of the cells of a square grid that halves its cells until they are as small as wanted.
fn inner_points(region: &Region) -> Result<Vec<Point>, FieldError> {
    let [low, high] = bounds(region.points.iter());
    let pieces: Vec<[Point; 2]> = region
        .pieces
        .iter()
        .map(|piece| piece.map(|end| region.points[end]))
        .collect();
    let wide_m = (high[0] - low[0]).max(high[1] - low[1]);
    let mut cells = vec![(
        [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])],
        wide_m,
        0,
    )];
    let mut points = Vec::new();
    while let Some((center, cell_m, level)) = cells.pop() {
        if level < DEEPEST && cell_m > smallest_size(region, center, cell_m) {
            let quarter_m = 0.25 * cell_m;
            for (right, up) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
                let place = [center[0] + right * quarter_m, center[1] + up * quarter_m];
                cells.push((place, 0.5 * cell_m, level + 1));
            }
        } else if inside(pieces.iter().copied(), center)
            && pieces
                .iter()
                .all(|&[a, b]| distance_to_segment(a, b, center) > CLEARANCE * cell_m)
        {
            points.push(center);
        }
        if points.len() + cells.len() > MOST_POINTS {
            let what = format!("more than {MOST_POINTS} points wanted in one region");
            return Err(FieldError::MeshFailed {
                what,
                place_m: center,
            });
        }
    }
    Ok(points)
}

/// The smallest size wanted at the middle and the corners of a cell.
fn smallest_size(region: &Region, center: Point, cell_m: f64) -> f64 {
    let half_m = 0.5 * cell_m;
    let corners = [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)];
    let at = |(right, up): (f64, f64)| {
        (region.size)([center[0] + right * half_m, center[1] + up * half_m])
    };
    corners
        .into_iter()
        .map(at)
        .fold((region.size)(center), f64::min)
}

/// Smallest angle of a triangle in degrees.
pub(crate) fn smallest_angle_deg([a, b, c]: [Point; 3]) -> f64 {
    let sides = [distance(a, b), distance(b, c), distance(c, a)];
    let doubled = 2.0 * triangle_area(a, b, c).abs();
    let sine = |i: usize, j: usize| doubled / (sides[i] * sides[j]);
    // The smallest angle lies between the two longest sides and is never obtuse.
    let least = sine(0, 1).min(sine(1, 2)).min(sine(2, 0));
    libm::asin(least.clamp(0.0, 1.0)).to_degrees()
}
