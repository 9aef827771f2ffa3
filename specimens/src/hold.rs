//! Hold as the true temperatures have it.

use crate::line::{Line, times};

/// A stretch of time in hours.
pub type Stretch = (f64, f64);

/// The stretches in which all lines lie between two levels in °C.
pub fn inside(lines: &[&Line], low_c: f64, high_c: f64) -> Vec<Stretch> {
    let cuts = times(lines);
    let mut found: Vec<Stretch> = Vec::new();
    for cut in cuts.windows(2) {
        let all = lines.iter().try_fold((cut[0], cut[1]), |all, line| {
            let piece = line.pieces(cut).into_iter().next()?;
            let (from, to) = piece.within(low_c, high_c)?;
            let both: Stretch = (all.0.max(from), all.1.min(to));
            (both.0 < both.1).then_some(both)
        });
        match (all, found.last_mut()) {
            (Some(next), Some(last)) if touching(lines, last.1, next.0, low_c, high_c) => {
                last.1 = next.1;
            }
            (Some(next), _) => found.push(next),
            (None, _) => {}
        }
    }
    found
}

/// Whether one stretch goes over into the next without a jump out of the levels.
fn touching(lines: &[&Line], end_h: f64, next_h: f64, low_c: f64, high_c: f64) -> bool {
    let stays = |line: &&Line| (low_c..=high_c).contains(&line.before(next_h));
    (next_h - end_h).abs() < 1e-12 && lines.iter().all(stays)
}

/// Stretches with others taken out.
pub fn without(stretches: &[Stretch], gaps: &[Stretch]) -> Vec<Stretch> {
    gaps.iter().fold(stretches.to_vec(), |left, gap| {
        left.iter()
            .flat_map(|s| [(s.0, s.1.min(gap.0)), (s.0.max(gap.1), s.1)])
            .filter(|s| s.1 > s.0)
            .collect()
    })
}

/// The sum of some stretches in hours.
pub fn total_h(stretches: &[Stretch]) -> f64 {
    stretches.iter().map(|s| s.1 - s.0).sum()
}

/// The longest of some stretches in hours.
pub fn longest_h(stretches: &[Stretch]) -> f64 {
    stretches.iter().map(|s| s.1 - s.0).fold(0.0, f64::max)
}

/// The greatest difference in K between two of the lines at one time within a stretch.
pub fn spread_k(lines: &[&Line], stretch: Stretch) -> f64 {
    let mut at: Vec<f64> = times(lines);
    at.retain(|h| (stretch.0..=stretch.1).contains(h));
    at.extend([stretch.0, stretch.1]);
    at.iter()
        .flat_map(|h| {
            [
                difference(lines, |l| l.before(*h)),
                difference(lines, |l| l.at(*h)),
            ]
        })
        .fold(0.0, f64::max)
}

fn difference(lines: &[&Line], value: impl Fn(&Line) -> f64) -> f64 {
    let values: Vec<f64> = lines.iter().map(|line| value(line)).collect();
    let hottest = values.iter().copied().fold(f64::MIN, f64::max);
    hottest - values.iter().copied().fold(f64::MAX, f64::min)
}

#[cfg(test)]
mod tests {
    use super::{inside, longest_h, spread_k, total_h, without};
    use crate::line::Line;

    #[test]
    fn the_slowest_begins_and_the_first_to_leave_ends() {
        let fast = Line::through(&[(0.0, 500.0), (1.0, 600.0), (4.0, 600.0), (5.0, 500.0)]);
        let slow = Line::through(&[(0.0, 500.0), (2.0, 620.0), (4.5, 620.0), (5.0, 500.0)]);
        let all = [&fast, &slow];
        let runs = inside(&all, 590.0, 650.0);
        // 90 K at 60 K/h for the slow one; the fast one leaves 10 K below 600 at 100 K/h.
        assert_eq!(runs.len(), 1);
        assert!((runs[0].0 - 1.5).abs() < 1e-12 && (runs[0].1 - 4.1).abs() < 1e-12);
        assert!((spread_k(&all, runs[0]) - 30.0).abs() < 1e-9);
        let seen = without(&runs, &[(2.0, 2.5)]);
        assert!((total_h(&seen) - 2.1).abs() < 1e-12);
        assert!((longest_h(&seen) - 1.6).abs() < 1e-12);
    }
}
