//! A table read without a search: the solver asks for a law at every point of every iteration.

use crate::table::Table;

/// What follows beyond the ends of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Beyond {
    /// The last value.
    Hold,
    /// The last slope.
    Continue,
}

/// The same law as a [`Table`], with an index of equal bins.
#[derive(Clone, Debug)]
pub struct Lookup {
    /// Where each straight piece begins, and one more point that ends the last.
    pieces: Vec<Piece>,
    /// First piece that reaches into each bin.
    bins: Vec<u32>,
    bins_per_x: f64,
    beyond: Beyond,
}

#[derive(Clone, Copy, Debug)]
struct Piece {
    x: f64,
    y: f64,
    slope: f64,
}

/// A table of equal steps gets one bin for each; a short one of any steps at least so many, so that most bins begin in
/// the piece that is asked for.
const LEAST_BINS: usize = 64;
const MOST_BINS: usize = 16_384;

impl Lookup {
    /// Indexes a table.
    pub fn new(table: &Table, beyond: Beyond) -> Lookup {
        let points: Vec<(f64, f64)> = table.points().collect();
        let slope = |a: (f64, f64), b: (f64, f64)| (b.1 - a.1) / (b.0 - a.0);
        let last = points.len() - 1;
        let slope_from = |i: usize| {
            if i < last {
                slope(points[i], points[i + 1])
            } else {
                0.0
            }
        };
        let pieces: Vec<Piece> = (0..=last)
            .map(|i| Piece {
                x: points[i].0,
                y: points[i].1,
                slope: slope_from(i),
            })
            .collect();
        let count = last.clamp(LEAST_BINS, MOST_BINS);
        let range = points[last].0 - points[0].0;
        let start_of = |bin: usize| points[0].0 + range * bin as f64 / count as f64;
        let piece_at = |x: f64| {
            pieces
                .partition_point(|piece| piece.x <= x)
                .clamp(1, last.max(1))
                - 1
        };
        let bins = (0..count)
            .map(|bin| piece_at(start_of(bin)) as u32)
            .collect();
        Lookup {
            bins,
            bins_per_x: if range > 0.0 {
                count as f64 / range
            } else {
                0.0
            },
            pieces,
            beyond,
        }
    }

    /// Value and slope at x.
    #[inline]
    pub fn at(&self, x: f64) -> (f64, f64) {
        let (first, last) = (self.pieces[0], self.pieces[self.pieces.len() - 1]);
        if x < first.x || x >= last.x {
            return self.outside(x);
        }
        let bin = ((x - first.x) * self.bins_per_x) as usize;
        let mut number = self.bins[bin.min(self.bins.len() - 1)] as usize;
        // The bin of a rounded x may begin a piece too late.
        while x < self.pieces[number].x {
            number -= 1;
        }
        while x >= self.pieces[number + 1].x {
            number += 1;
        }
        let piece = self.pieces[number];
        (piece.y + piece.slope * (x - piece.x), piece.slope)
    }

    fn outside(&self, x: f64) -> (f64, f64) {
        let last = self.pieces.len() - 1;
        let (end, piece) = if x < self.pieces[0].x {
            (0, 0)
        } else {
            (last, last.saturating_sub(1))
        };
        let (end, slope) = (self.pieces[end], self.pieces[piece].slope);
        match self.beyond {
            Beyond::Hold => (end.y, 0.0),
            Beyond::Continue => (end.y + slope * (x - end.x), slope),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Beyond, Lookup};
    use crate::table::Table;

    #[test]
    fn reads_as_the_table_does() {
        let points: Vec<(f64, f64)> = [-40.0, 20.0, 20.5, 21.0, 300.0, 735.0, 735.1, 900.0]
            .iter()
            .map(|&x: &f64| (x, (x * x).sin()))
            .collect();
        let table = Table::new(&points).expect("ascending");
        let lookup = Lookup::new(&table, Beyond::Hold);
        for step in -100..1200 {
            let x = 0.83 * f64::from(step);
            assert_eq!(lookup.at(x), table.value_and_slope(x), "at {x}");
        }
        for (x, y) in points {
            assert_eq!(lookup.at(x).0, y);
        }
    }

    #[test]
    fn goes_on_with_the_last_slope_where_asked() {
        let table = Table::new(&[(0.0, 0.0), (1.0, 2.0), (2.0, 6.0)]).expect("ascending");
        let lookup = Lookup::new(&table, Beyond::Continue);
        assert_eq!(lookup.at(-1.0), (-2.0, 2.0));
        assert_eq!(lookup.at(3.0), (10.0, 4.0));
    }

    #[test]
    fn a_constant_stays_one() {
        let lookup = Lookup::new(&Table::constant(45.0), Beyond::Hold);
        assert_eq!(
            [lookup.at(-300.0), lookup.at(0.0), lookup.at(900.0)],
            [(45.0, 0.0); 3]
        );
    }
}
