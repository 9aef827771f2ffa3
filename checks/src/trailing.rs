//! The highest value of the last while.

use std::collections::VecDeque;

use crate::slope::Sample;

/// Highest value over a span that trails behind, in a queue of falling values.
#[derive(Clone, Debug)]
pub(crate) struct TrailingMax {
    span_s: f64,
    falling: VecDeque<Sample>,
}

impl TrailingMax {
    pub fn new(span_s: f64) -> TrailingMax {
        TrailingMax {
            span_s,
            falling: VecDeque::new(),
        }
    }

    /// Takes the next value and gives the highest of the span.
    pub fn push(&mut self, sample: Sample) -> f64 {
        while self
            .falling
            .back()
            .is_some_and(|s| s.value_c <= sample.value_c)
        {
            self.falling.pop_back();
        }
        self.falling.push_back(sample);
        while self
            .falling
            .front()
            .is_some_and(|s| sample.time_s - s.time_s > self.span_s)
        {
            self.falling.pop_front();
        }
        self.falling.front().map_or(sample.value_c, |s| s.value_c)
    }

    pub fn clear(&mut self) {
        self.falling.clear();
    }

    pub fn len(&self) -> usize {
        self.falling.len()
    }
}
