//! In each column of the screen the lowest and the highest reading, so that half a million readings are a few thousand
//! points and no peak is lost.

/// Places in one column, and parts of a degree, so that points travel as whole numbers.
const TENTHS: f64 = 10.0;

/// Place in tenths of a column and tenths of a unit by turns; no value is a gap.
pub(super) type Thinned = Vec<Option<i32>>;

/// A window of the log, parted into columns of the screen.
pub(super) struct Frame {
    /// Its begin in h.
    pub from: f64,
    /// Width of a column in h.
    pub column_h: f64,
    /// How many.
    pub columns: usize,
}

impl Frame {
    /// The same window with a part of the columns, for lines that bend slowly.
    pub fn coarser(&self, by: usize) -> Frame {
        let columns = (self.columns / by).max(1);
        Frame {
            from: self.from,
            column_h: self.column_h * self.columns as f64 / columns as f64,
            columns,
        }
    }

    /// What lies in the window, with one more on each side, so that lines run to its edges.
    pub fn with_neighbors<'a, T>(&self, all: &'a [T], at: impl Fn(&T) -> f64) -> &'a [T] {
        let to = self.from + self.column_h * self.columns as f64;
        let first = all.partition_point(|one| at(one) < self.from);
        let last = all.partition_point(|one| at(one) <= to);
        &all[first.saturating_sub(1)..(last + 1).min(all.len())]
    }

    /// The lowest and the highest reading of each column in the order in which they came.
    pub fn thinned(
        &self,
        readings: impl Iterator<Item = (f64, Option<f64>)>,
        gap_h: f64,
    ) -> Thinned {
        let mut out = Vec::new();
        let mut column = Column::default();
        let mut before: Option<f64> = None;
        for (at, value) in readings {
            let place = (at - self.from) / self.column_h;
            let number = place.floor().clamp(-1.0, self.columns as f64) as i64;
            if column.number != Some(number) {
                column.end(&mut out);
                column = Column {
                    number: Some(number),
                    ..Column::default()
                };
            }
            let Some(value) = value else {
                before = None;
                column.gap |= !column.is_empty() || !out.is_empty();
                continue;
            };
            if before.is_some_and(|before| at - before > gap_h) {
                column.gap = true;
            }
            before = Some(at);
            column.take(
                (TENTHS * place).round() as i32,
                (TENTHS * value).round() as i32,
            );
        }
        column.end(&mut out);
        out
    }
}

/// One column of the screen as it fills.
#[derive(Default)]
struct Column {
    number: Option<i64>,
    low: Option<(i32, i32)>,
    high: Option<(i32, i32)>,
    /// Whether something was silent in it or before it.
    gap: bool,
}

impl Column {
    fn is_empty(&self) -> bool {
        self.low.is_none()
    }

    fn take(&mut self, place: i32, value: i32) {
        if self.low.is_none_or(|(_, low)| value < low) {
            self.low = Some((place, value));
        }
        if self.high.is_none_or(|(_, high)| value > high) {
            self.high = Some((place, value));
        }
    }

    fn end(&self, out: &mut Vec<Option<i32>>) {
        if self.gap && out.last().is_some_and(Option::is_some) {
            out.extend([Some(0), None]);
        }
        let (Some(low), Some(high)) = (self.low, self.high) else {
            return;
        };
        let (first, second) = if low.0 <= high.0 {
            (low, high)
        } else {
            (high, low)
        };
        out.extend([Some(first.0), Some(first.1)]);
        if first != second {
            out.extend([Some(second.0), Some(second.1)]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frame(columns: usize) -> Frame {
        Frame {
            from: 0.0,
            column_h: 1.0 / columns as f64,
            columns,
        }
    }

    #[test]
    fn half_a_million_readings_are_two_points_a_column_and_no_peak_is_lost() {
        let readings = (0..500_000).map(|i| {
            let value = if i == 321_987 {
                999.0
            } else {
                600.0 + f64::from(i % 7)
            };
            (f64::from(i) / 500_000.0, Some(value))
        });
        let out = frame(1000).thinned(readings, 1.0);
        assert!(out.len() <= 2 * 2 * 1002, "{}", out.len());
        assert!(out.iter().skip(1).step_by(2).any(|v| *v == Some(9990)));
    }

    #[test]
    fn silence_is_a_gap_and_never_bridged() {
        let silent = [(0.1, Some(20.0)), (0.2, None), (0.3, Some(30.0))];
        let out = frame(10).thinned(silent.into_iter(), 1.0);
        assert!(
            out.iter().skip(1).step_by(2).any(Option::is_none),
            "{out:?}"
        );
        let missing = [(0.1, Some(20.0)), (0.9, Some(30.0))];
        let out = frame(10).thinned(missing.into_iter(), 0.5);
        assert!(
            out.iter().skip(1).step_by(2).any(Option::is_none),
            "{out:?}"
        );
        let steady = [(0.1, Some(20.0)), (0.3, Some(30.0))];
        let out = frame(10).thinned(steady.into_iter(), 0.5);
        assert_eq!(out.len(), 4, "{out:?}");
    }
}
