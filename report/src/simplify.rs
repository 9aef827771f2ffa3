//! Lines with fewer points, at a given accuracy.

/// The line without points that lie closer to it than the accuracy (Douglas and Peucker 1973). A closed ring is divided at
/// the point farthest from its start.
pub(crate) fn simplified(points: &[[f64; 2]], closed: bool, accuracy: f64) -> Vec<[f64; 2]> {
    if points.len() < 3 {
        return points.to_vec();
    }
    if !closed {
        return open(points, accuracy);
    }
    let farthest = (0..points.len())
        .max_by(|a, b| gap(points[0], points[*a]).total_cmp(&gap(points[0], points[*b])));
    let middle = farthest.unwrap_or(0).max(1);
    let mut ring = open(&points[..=middle], accuracy);
    let mut back = points[middle..].to_vec();
    back.push(points[0]);
    let second = open(&back, accuracy);
    ring.extend(&second[1..second.len() - 1]);
    ring
}

fn open(points: &[[f64; 2]], accuracy: f64) -> Vec<[f64; 2]> {
    let mut keep = vec![false; points.len()];
    let mut parts = vec![(0, points.len() - 1)];
    while let Some((start, end)) = parts.pop() {
        (keep[start], keep[end]) = (true, true);
        let within = start + 1..end;
        let off = |i: usize| (square(points[i], points[start], points[end]), i);
        let worst = within.map(off).max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((_, worst)) = worst.filter(|(off, _)| *off > accuracy * accuracy) {
            parts.push((start, worst));
            parts.push((worst, end));
        }
    }
    points
        .iter()
        .zip(keep)
        .filter(|(_, kept)| *kept)
        .map(|(point, _)| *point)
        .collect()
}

/// Square of the distance of two points.
fn gap(one: [f64; 2], other: [f64; 2]) -> f64 {
    let (x, y) = (one[0] - other[0], one[1] - other[1]);
    x * x + y * y
}

/// Square of the distance of a point from the straight piece between two others.
fn square(point: [f64; 2], start: [f64; 2], end: [f64; 2]) -> f64 {
    let (dx, dy) = (end[0] - start[0], end[1] - start[1]);
    let length_squared = dx * dx + dy * dy;
    if length_squared == 0.0 {
        return gap(point, start);
    }
    let share = (((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / length_squared)
        .clamp(0.0, 1.0);
    gap(point, [start[0] + share * dx, start[1] + share * dy])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_point_lies_farther_off_than_the_accuracy() {
        let circle: Vec<[f64; 2]> = (0..720)
            .map(|i| (f64::from(i) / 2.0).to_radians().sin_cos())
            .map(|(y, x)| [10.0 * x, 10.0 * y])
            .collect();
        let few = simplified(&circle, true, 0.05);
        assert!(few.len() < 60 && few.len() > 10, "{}", few.len());
        for point in &circle {
            let nearest = (0..few.len())
                .map(|i| square(*point, few[i], few[(i + 1) % few.len()]).sqrt())
                .fold(f64::INFINITY, f64::min);
            assert!(nearest <= 0.05 + 1e-12);
        }
    }
}
