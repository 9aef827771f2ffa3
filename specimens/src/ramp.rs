//! Ramps as the true temperatures have them.

use crate::line::{Line, Piece, times};

/// A change smaller than this, in K, is no ramp.
const LEAST_CHANGE_K: f64 = 15.0;

/// A ramp shorter than this, in hours, is read as if it had taken this long.
const SHORTEST_H: f64 = 0.25;

/// Rates of the steepest ramps of one direction, in K/h, all positive.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rates {
    /// The steepest slope at any time.
    pub steepest_k_h: f64,
    /// The greatest change within any hour of one ramp; a shorter ramp as a whole, by the hour.
    pub gain_k_h: f64,
    /// The steepest least-squares slope over any hour of one ramp, as the interval between readings goes to nothing;
    /// a shorter ramp as a whole.
    pub least_squares_k_h: f64,
}

impl Rates {
    fn most(self, other: Rates) -> Rates {
        Rates {
            steepest_k_h: self.steepest_k_h.max(other.steepest_k_h),
            gain_k_h: self.gain_k_h.max(other.gain_k_h),
            least_squares_k_h: self.least_squares_k_h.max(other.least_squares_k_h),
        }
    }
}

/// Rates of climbs and falls of some lines between two levels in °C.
pub fn rates(lines: &[&Line], low_c: f64, high_c: f64) -> (Rates, Rates) {
    let mut found = (Rates::default(), Rates::default());
    for ramp in lines.iter().flat_map(|line| ramps(line, low_c, high_c)) {
        if change_k(&ramp) > 0.0 {
            found.0 = found.0.most(rates_of(&ramp));
        } else {
            found.1 = found.1.most(rates_of(&ramp));
        }
    }
    found
}

fn change_k(ramp: &[Piece]) -> f64 {
    ramp.iter().map(|p| p.to_c - p.from_c).sum()
}

/// The stretches between two levels in which a line only climbs or only falls, as far as they change enough.
fn ramps(line: &Line, low_c: f64, high_c: f64) -> Vec<Vec<Piece>> {
    let mut ramps: Vec<Vec<Piece>> = Vec::new();
    for piece in line.pieces(&times(&[line])) {
        let Some((from_h, to_h)) = piece.within(low_c, high_c).filter(|w| w.1 > w.0) else {
            continue;
        };
        let slope = piece.slope_k_h();
        let value = |h: f64| piece.from_c + slope * (h - piece.from_h);
        let part = Piece {
            from_h,
            to_h,
            from_c: value(from_h),
            to_c: value(to_h),
        };
        match ramps.last_mut() {
            Some(ramp) if goes_on(ramp, &part) => ramp.push(part),
            _ => ramps.push(vec![part]),
        }
    }
    ramps.retain(|ramp| change_k(ramp).abs() >= LEAST_CHANGE_K);
    ramps
}

fn goes_on(ramp: &[Piece], next: &Piece) -> bool {
    let last = ramp[ramp.len() - 1];
    let joined = (last.to_h - next.from_h).abs() < 1e-12 && (last.to_c - next.from_c).abs() < 1e-9;
    joined && change_k(ramp) * (next.to_c - next.from_c) >= 0.0
}

fn rates_of(ramp: &[Piece]) -> Rates {
    let (from_h, to_h) = (ramp[0].from_h, ramp[ramp.len() - 1].to_h);
    let window_h = (to_h - from_h).min(1.0);
    let most = |rate: &dyn Fn(f64) -> f64| {
        starts(ramp, to_h - window_h)
            .into_iter()
            .map(|h| rate(h).abs())
            .fold(0.0, f64::max)
    };
    let shortened = (window_h / SHORTEST_H).min(1.0);
    Rates {
        steepest_k_h: ramp.iter().map(|p| p.slope_k_h().abs()).fold(0.0, f64::max),
        gain_k_h: most(&|h| weighted_slope(ramp, h, window_h, |x| x)) * shortened,
        least_squares_k_h: most(&|h| weighted_slope(ramp, h, window_h, parabola)) * shortened,
    }
}

/// Where windows begin that may be the steepest: every half minute, and where a window begins or ends at a corner.
fn starts(ramp: &[Piece], last_h: f64) -> Vec<f64> {
    let first_h = ramp[0].from_h;
    let window_h = ramp[ramp.len() - 1].to_h - last_h;
    let steps = ((last_h - first_h) * 120.0).floor() as usize;
    let mut starts: Vec<f64> = (0..=steps).map(|i| first_h + i as f64 / 120.0).collect();
    starts.extend(ramp.iter().flat_map(|p| [p.from_h, p.to_h - window_h]));
    starts.push(last_h);
    starts.retain(|h| (first_h..=last_h).contains(h));
    starts
}

/// Mean slope over a window with weights whose integral from the middle, as a share of the window, is given.
fn weighted_slope(ramp: &[Piece], from_h: f64, window_h: f64, integral: fn(f64) -> f64) -> f64 {
    let place = |h: f64| ((h - from_h) / window_h).clamp(0.0, 1.0) - 0.5;
    ramp.iter()
        .map(|p| p.slope_k_h() * (integral(place(p.to_h)) - integral(place(p.from_h))))
        .sum()
}

/// A least-squares slope weighs slopes by 1.5 (1 - 4 x²), x from -1/2 to 1/2: partial integration of its definition.
fn parabola(x: f64) -> f64 {
    1.5 * x - 2.0 * x * x * x
}

#[cfg(test)]
mod tests {
    use super::rates;
    use crate::line::Line;

    #[test]
    fn a_straight_ramp_has_one_rate_by_every_definition() {
        let line = Line::through(&[(0.0, 20.0), (6.0, 620.0), (8.0, 620.0), (12.0, 220.0)]);
        let (up, down) = rates(&[&line], 300.0, 600.0);
        for rate in [up.steepest_k_h, up.gain_k_h, up.least_squares_k_h] {
            assert!((rate - 100.0).abs() < 1e-9, "{up:?}");
        }
        assert!((down.gain_k_h - 100.0).abs() < 1e-9);
    }

    #[test]
    fn a_burst_within_a_slow_hour_weighs_more_by_least_squares() {
        let line = Line::through(&[(0.0, 300.0), (2.0, 420.0), (2.25, 502.5), (5.0, 667.5)]);
        let (up, _) = rates(&[&line], 300.0, 600.0);
        assert!((up.steepest_k_h - 330.0).abs() < 1e-9);
        // A quarter of the hour at 330, the rest at 60.
        assert!((up.gain_k_h - 127.5).abs() < 1e-9);
        // The middle quarter weighs 1.5 / 4 - 4 / 8³ = 0.3671875.
        assert!(
            (up.least_squares_k_h - (60.0 + 270.0 * 0.367_187_5)).abs() < 0.05,
            "{up:?}"
        );
    }

    #[test]
    fn a_ramp_of_half_an_hour_is_taken_whole() {
        let line = Line::through(&[(0.0, 300.0), (0.5, 600.0), (3.0, 620.0)]);
        let (up, _) = rates(&[&line], 300.0, 600.0);
        assert!((up.gain_k_h - 600.0).abs() < 1e-9);
        assert!((up.least_squares_k_h - 600.0).abs() < 1e-9);
    }
}
