//! True temperatures: straight pieces in continuous time, so that every answer about them is exact.

/// Straight pieces through corners of (hours, °C). Before the first and after the last corner it is level. Two corners
/// at one time are a jump.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    corners: Vec<(f64, f64)>,
}

/// A straight piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Its beginning in hours.
    pub from_h: f64,
    /// Its end in hours.
    pub to_h: f64,
    /// Value at its beginning in °C.
    pub from_c: f64,
    /// Value at its end in °C.
    pub to_c: f64,
}

impl Piece {
    /// Its slope in K/h.
    pub fn slope_k_h(&self) -> f64 {
        (self.to_c - self.from_c) / (self.to_h - self.from_h)
    }

    /// The part of its time, in hours, in which it lies between two levels in °C; `None` where it never does.
    pub fn within(&self, low_c: f64, high_c: f64) -> Option<(f64, f64)> {
        let slope = self.slope_k_h();
        if slope == 0.0 {
            let inside = (low_c..=high_c).contains(&self.from_c);
            return inside.then_some((self.from_h, self.to_h));
        }
        let reach = |c: f64| self.from_h + (c - self.from_c) / slope;
        let (first, last) = (reach(low_c), reach(high_c));
        let from_h = first.min(last).max(self.from_h);
        let to_h = first.max(last).min(self.to_h);
        (from_h <= to_h).then_some((from_h, to_h))
    }
}

impl Line {
    /// Through corners of (hours, °C) by rising time.
    pub fn through(corners: &[(f64, f64)]) -> Line {
        debug_assert!(corners.windows(2).all(|w| w[0].0 <= w[1].0));
        Line {
            corners: corners.to_vec(),
        }
    }

    /// Its corners.
    pub fn corners(&self) -> &[(f64, f64)] {
        &self.corners
    }

    /// Value at a time in hours; where it jumps, the value after the jump.
    pub fn at(&self, hours: f64) -> f64 {
        self.beside(self.corners.partition_point(|c| c.0 <= hours), hours)
    }

    /// Value at a time in hours; where it jumps, the value before the jump.
    pub fn before(&self, hours: f64) -> f64 {
        self.beside(self.corners.partition_point(|c| c.0 < hours), hours)
    }

    fn beside(&self, next: usize, hours: f64) -> f64 {
        let Some(after) = self.corners.get(next) else {
            return self.corners.last().map_or(0.0, |c| c.1);
        };
        let Some(before) = next.checked_sub(1).map(|i| self.corners[i]) else {
            return after.1;
        };
        before.1 + (after.1 - before.1) * (hours - before.0) / (after.0 - before.0)
    }

    /// Moved by a number of kelvins.
    pub fn shifted(&self, by_k: f64) -> Line {
        Line {
            corners: self.corners.iter().map(|c| (c.0, c.1 + by_k)).collect(),
        }
    }

    /// Moved later by a number of hours.
    pub fn later(&self, by_h: f64) -> Line {
        Line {
            corners: self.corners.iter().map(|c| (c.0 + by_h, c.1)).collect(),
        }
    }

    /// The sum of two lines.
    pub fn plus(&self, other: &Line) -> Line {
        let corners = times(&[self, other])
            .into_iter()
            .flat_map(|h| {
                [
                    (h, self.before(h) + other.before(h)),
                    (h, self.at(h) + other.at(h)),
                ]
            })
            .collect();
        let mut sum: Line = Line { corners };
        sum.corners.dedup();
        sum
    }

    /// Its pieces, jumps left out, cut further at other times.
    pub fn pieces(&self, cuts_h: &[f64]) -> Vec<Piece> {
        cuts_h
            .windows(2)
            .filter(|w| w[1] > w[0])
            .map(|w| Piece {
                from_h: w[0],
                to_h: w[1],
                from_c: self.at(w[0]),
                to_c: self.before(w[1]),
            })
            .collect()
    }

    /// The first time in hours at which it reaches a level in °C from below.
    pub fn first_reaches(&self, level_c: f64) -> Option<f64> {
        self.pieces(&times(&[self]))
            .iter()
            .find_map(|p| p.within(level_c, f64::MAX).map(|w| w.0))
    }

    /// The last time in hours at which it stands at or above a level in °C.
    pub fn last_leaves(&self, level_c: f64) -> Option<f64> {
        self.pieces(&times(&[self]))
            .iter()
            .rev()
            .find_map(|p| p.within(level_c, f64::MAX).map(|w| w.1))
    }
}

/// The times in hours of the corners of some lines, rising, each once.
pub fn times(lines: &[&Line]) -> Vec<f64> {
    let mut times: Vec<f64> = lines
        .iter()
        .flat_map(|line| line.corners.iter().map(|c| c.0))
        .collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    times
}

#[cfg(test)]
mod tests {
    use super::{Line, times};

    #[test]
    fn a_jump_has_two_values() {
        let jump = Line::through(&[(0.0, 10.0), (1.0, 20.0), (1.0, 50.0), (2.0, 60.0)]);
        assert_eq!((jump.before(1.0), jump.at(1.0)), (20.0, 50.0));
        assert_eq!(
            (jump.at(0.5), jump.at(1.5), jump.at(9.0)),
            (15.0, 55.0, 60.0)
        );
        assert_eq!(jump.pieces(&times(&[&jump])).len(), 2);
    }

    #[test]
    fn a_sum_keeps_the_corners_of_both() {
        let up = Line::through(&[(0.0, 0.0), (10.0, 100.0)]);
        let dip = Line::through(&[(4.0, 0.0), (5.0, -30.0), (6.0, 0.0)]);
        let sum = up.plus(&dip);
        assert_eq!((sum.at(3.0), sum.at(5.0), sum.at(8.0)), (30.0, 20.0, 80.0));
        assert_eq!(sum.first_reaches(50.0), Some(5.0 + 30.0 / 40.0));
    }
}
