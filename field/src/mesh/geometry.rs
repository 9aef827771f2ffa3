//! Points, straight segments and polygons in the plane.

use crate::section::Point;

pub(crate) fn plus(a: Point, b: Point) -> Point {
    [a[0] + b[0], a[1] + b[1]]
}

pub(crate) fn minus(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

pub(crate) fn times(factor: f64, a: Point) -> Point {
    [factor * a[0], factor * a[1]]
}

pub(crate) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

pub(crate) fn cross(a: Point, b: Point) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

pub(crate) fn length(a: Point) -> f64 {
    dot(a, a).sqrt()
}

pub(crate) fn distance(a: Point, b: Point) -> f64 {
    length(minus(b, a))
}

/// The point at parameter t (0 at a, 1 at b) of a segment; exact at both ends.
pub(crate) fn between(a: Point, b: Point, t: f64) -> Point {
    [(1.0 - t) * a[0] + t * b[0], (1.0 - t) * a[1] + t * b[1]]
}

/// Unit vector from a to b.
pub(crate) fn direction(a: Point, b: Point) -> Point {
    times(1.0 / distance(a, b), minus(b, a))
}

/// A quarter turn counter-clockwise: the inner normal of a side of a counter-clockwise polygon.
pub(crate) fn left_of(a: Point) -> Point {
    [-a[1], a[0]]
}

/// Where along the segment (0..=1) the point nearest to p lies.
pub(crate) fn nearest_parameter(a: Point, b: Point, p: Point) -> f64 {
    let along = minus(b, a);
    (dot(minus(p, a), along) / dot(along, along)).clamp(0.0, 1.0)
}

/// Distance from p to a segment.
pub(crate) fn distance_to_segment(a: Point, b: Point, p: Point) -> f64 {
    distance(p, between(a, b, nearest_parameter(a, b, p)))
}

/// Where two segments cross in the inside of both.
pub(crate) fn crossing(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (along, other) = (minus(b, a), minus(d, c));
    let sides = (cross(along, minus(c, a)), cross(along, minus(d, a)));
    let others = (cross(other, minus(a, c)), cross(other, minus(b, c)));
    let separated =
        |pair: (f64, f64)| (pair.0 > 0.0 && pair.1 < 0.0) || (pair.0 < 0.0 && pair.1 > 0.0);
    (separated(sides) && separated(others)).then(|| between(a, b, others.0 / (others.0 - others.1)))
}

/// Area of a polygon, positive when counter-clockwise.
pub(crate) fn area(polygon: &[Point]) -> f64 {
    let Some(&origin) = polygon.first() else {
        return 0.0;
    };
    let doubled: f64 = polygon
        .windows(2)
        .map(|pair| cross(minus(pair[0], origin), minus(pair[1], origin)))
        .sum();
    0.5 * doubled
}

/// Area of a triangle, positive when counter-clockwise.
pub(crate) fn triangle_area(a: Point, b: Point, c: Point) -> f64 {
    0.5 * cross(minus(b, a), minus(c, a))
}

/// Does a ray to the right of p cross an odd number of these segments?
pub(crate) fn inside(segments: impl Iterator<Item = [Point; 2]>, p: Point) -> bool {
    let crosses = |[a, b]: &[Point; 2]| {
        (a[1] > p[1]) != (b[1] > p[1])
            && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
    };
    segments.filter(crosses).count() % 2 == 1
}

/// The sides of a polygon.
pub(crate) fn sides(polygon: &[Point]) -> impl Iterator<Item = [Point; 2]> + '_ {
    (0..polygon.len()).map(|i| [polygon[i], polygon[(i + 1) % polygon.len()]])
}

/// Lower left and upper right corner of the box around points.
pub(crate) fn bounds<'a>(points: impl Iterator<Item = &'a Point>) -> [Point; 2] {
    points.fold(
        [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]],
        |[low, high], p| {
            [
                [low[0].min(p[0]), low[1].min(p[1])],
                [high[0].max(p[0]), high[1].max(p[1])],
            ]
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn segments_that_touch_do_not_cross() {
        let (a, b) = ([0.0, 0.0], [1.0, 0.0]);
        assert!(crossing(a, b, [0.5, 0.0], [0.5, 1.0]).is_none());
        assert_eq!(crossing(a, b, [0.5, -1.0], [0.5, 1.0]), Some([0.5, 0.0]));
    }

    #[test]
    fn area_is_positive_counter_clockwise() {
        let square = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]];
        assert_eq!(area(&square), 4.0);
        assert!(inside(sides(&square), [1.0, 1.0]));
        assert!(!inside(sides(&square), [3.0, 1.0]));
    }
}
