//! Where the turns of a proposed coil lie.

use quantity::Millimeters;

use crate::setup::{Coil, Turn};

/// A layout of turns by few numbers. Lengths in m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layout {
    /// Number of turns, at least one.
    pub turns: usize,
    /// From the middle of the first turn to that of the last.
    pub span_m: f64,
    /// Middle of the coil from the weld center.
    pub offset_m: f64,
    /// How much denser the turns lie at the ends: 0 even, up to 0.3.
    pub opening: f64,
    /// From the pipe surface to the underside of the cable.
    pub standoff_m: f64,
}

impl Layout {
    /// The coil: turn i lies at offset + span/2 * g(x), x from -1 to 1, g(x) = x + w (x - x³) (controller.md eq. 5).
    pub fn coil(&self) -> Coil {
        let turn = |axial_m: f64| Turn {
            axial: Millimeters::from_mm(tenths(axial_m * 1e3)),
            standoff: Millimeters::from_m(self.standoff_m),
        };
        Coil {
            turns: self.places_m().into_iter().map(turn).collect(),
        }
    }

    /// Mean distance between turns.
    pub fn pitch_m(&self) -> f64 {
        self.span_m / (self.turns.max(2) - 1) as f64
    }

    /// Distance of the turns in the middle over that at the ends.
    pub fn opening_ratio(&self) -> f64 {
        (1.0 + self.opening) / (1.0 - 2.0 * self.opening)
    }

    /// Least distance of two turns.
    pub fn least_pitch_m(&self) -> f64 {
        let places = self.places_m();
        places
            .windows(2)
            .map(|pair| pair[1] - pair[0])
            .fold(f64::INFINITY, f64::min)
    }

    /// Largest distance of two turns.
    pub fn largest_pitch_m(&self) -> f64 {
        let places = self.places_m();
        places
            .windows(2)
            .map(|pair| pair[1] - pair[0])
            .fold(0.0, f64::max)
    }

    fn places_m(&self) -> Vec<f64> {
        if self.turns < 2 {
            return vec![self.offset_m];
        }
        let place = |i: usize| {
            let x = 2.0 * i as f64 / (self.turns - 1) as f64 - 1.0;
            self.offset_m + 0.5 * self.span_m * (x + self.opening * (x - x * x * x))
        };
        (0..self.turns).map(place).collect()
    }
}

/// A tape measure is not read more finely, in mm.
fn tenths(mm: f64) -> f64 {
    libm::round(mm * 2.0) / 2.0
}

#[cfg(test)]
mod tests {
    use super::Layout;

    fn layout(opening: f64) -> Layout {
        Layout {
            turns: 9,
            span_m: 0.32,
            offset_m: 0.01,
            opening,
            standoff_m: 0.05,
        }
    }

    #[test]
    fn an_even_layout_has_one_pitch() {
        let even = layout(0.0);
        assert!((even.least_pitch_m() - 0.04).abs() < 1e-12);
        assert!((even.largest_pitch_m() - even.pitch_m()).abs() < 1e-12);
        let turns = even.coil().turns;
        assert_eq!(turns[4].axial.mm(), 10.0);
        assert_eq!(turns[0].axial.mm(), -150.0);
    }

    #[test]
    fn an_open_layout_is_denser_at_its_ends() {
        let open = layout(0.2);
        let places = open.places_m();
        assert!(places[1] - places[0] < places[5] - places[4]);
        assert!((places[8] - places[0] - 0.32).abs() < 1e-12);
        assert!(open.opening_ratio() > 1.9);
    }
}
