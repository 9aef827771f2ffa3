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
    x: Vec<f64>,
    y: Vec<f64>,
    slope: Vec<f64>,
    /// First segment that reaches into each bin.
    bins: Vec<u32>,
    bins_per_x: f64,
    beyond: Beyond,
}

/// Bins for each segment: most bins then begin in the segment that is asked for.
const BINS_PER_SEGMENT: usize = 4;
const MOST_BINS: usize = 16_384;

impl Lookup {
    /// Indexes a table.
    pub fn new(table: &Table, beyond: Beyond) -> Lookup {
        let (x, y): (Vec<f64>, Vec<f64>) = table.points().unzip();
        let slope: Vec<f64> = (1..x.len())
            .map(|i| (y[i] - y[i - 1]) / (x[i] - x[i - 1]))
            .collect();
        let count = (BINS_PER_SEGMENT * slope.len()).clamp(1, MOST_BINS);
        let range = x[x.len() - 1] - x[0];
        let start_of = |bin: usize| x[0] + range * bin as f64 / count as f64;
        let segment = |at: f64| {
            x.partition_point(|&known| known <= at)
                .clamp(1, slope.len().max(1))
                - 1
        };
        let bins = (0..count)
            .map(|bin| segment(start_of(bin)) as u32)
            .collect();
        Lookup {
            bins,
            bins_per_x: if range > 0.0 {
                count as f64 / range
            } else {
                0.0
            },
            x,
            y,
            slope,
            beyond,
        }
    }

    /// Value and slope at x.
    pub fn at(&self, x: f64) -> (f64, f64) {
        let last = self.x.len() - 1;
        if x < self.x[0] || last == 0 {
            return self.outside(x, 0, 0);
        }
        if x >= self.x[last] {
            return self.outside(x, last, last.saturating_sub(1));
        }
        let bin = ((x - self.x[0]) * self.bins_per_x) as usize;
        let mut segment = self.bins[bin.min(self.bins.len() - 1)] as usize;
        while x >= self.x[segment + 1] {
            segment += 1;
        }
        while x < self.x[segment] {
            segment -= 1;
        }
        (
            self.y[segment] + self.slope[segment] * (x - self.x[segment]),
            self.slope[segment],
        )
    }

    fn outside(&self, x: f64, end: usize, segment: usize) -> (f64, f64) {
        match (self.beyond, self.slope.get(segment)) {
            (Beyond::Continue, Some(&slope)) => (self.y[end] + slope * (x - self.x[end]), slope),
            _ => (self.y[end], 0.0),
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
