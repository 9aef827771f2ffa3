//! A law given by points, straight between them, the last values held outside.
//!
//! The kernels hold the end values; whoever makes a table decides whether its range may be left and refuses before
//! a solve, with both numbers, where it may not.

/// Points (x ascending) with straight lines between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    x: Vec<f64>,
    y: Vec<f64>,
}

impl Table {
    /// A law that has one value everywhere.
    pub fn constant(value: f64) -> Table {
        Table {
            x: vec![0.0],
            y: vec![value],
        }
    }

    /// A law through points.
    ///
    /// Returns `None` unless there is at least one point, all numbers are finite and x ascends strictly.
    pub fn new(points: &[(f64, f64)]) -> Option<Table> {
        let finite = points.iter().all(|(x, y)| x.is_finite() && y.is_finite());
        let ascending = points.windows(2).all(|pair| pair[0].0 < pair[1].0);
        (!points.is_empty() && finite && ascending).then(|| Table {
            x: points.iter().map(|p| p.0).collect(),
            y: points.iter().map(|p| p.1).collect(),
        })
    }

    /// The value at x.
    pub fn at(&self, x: f64) -> f64 {
        self.value_and_slope(x).0
    }

    /// The slope at x (right-sided at a point, zero outside).
    pub fn slope(&self, x: f64) -> f64 {
        self.value_and_slope(x).1
    }

    /// Value and slope together.
    pub fn value_and_slope(&self, x: f64) -> (f64, f64) {
        let after = self.x.partition_point(|&known| known <= x);
        if after == 0 {
            return (self.y[0], 0.0);
        }
        if after == self.x.len() {
            return (self.y[after - 1], 0.0);
        }
        let slope = (self.y[after] - self.y[after - 1]) / (self.x[after] - self.x[after - 1]);
        (self.y[after - 1] + slope * (x - self.x[after - 1]), slope)
    }

    /// The points.
    pub fn points(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.x.iter().copied().zip(self.y.iter().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::Table;

    #[test]
    fn straight_between_points_and_held_outside() {
        let law = Table::new(&[(0.0, 1.0), (10.0, 3.0), (20.0, 2.0)]).expect("ascending");
        assert_eq!(law.at(5.0), 2.0);
        assert_eq!(law.at(-5.0), 1.0);
        assert_eq!(law.at(25.0), 2.0);
        assert_eq!(law.slope(12.0), -0.1);
    }

    #[test]
    fn points_out_of_order_are_refused() {
        assert!(Table::new(&[(0.0, 1.0), (0.0, 2.0)]).is_none());
        assert!(Table::new(&[]).is_none());
        assert!(Table::new(&[(0.0, f64::NAN)]).is_none());
    }
}
