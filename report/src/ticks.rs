//! Round numbers for axes.

/// A place on an axis with what is written there.
#[derive(Debug, Clone, PartialEq)]
pub struct Tick {
    /// The value.
    pub value: f64,
    /// The number as written, with a true minus sign.
    pub label: String,
}

/// Steps that read well, within a factor of ten.
const DECIMAL: [f64; 4] = [1.0, 2.0, 2.5, 5.0];
/// Steps of hours that a clock knows: 1, 2, 5, 10, 15, 20 and 30 minutes, then whole hours.
const HOURS: [f64; 16] = [
    1.0 / 60.0,
    1.0 / 30.0,
    1.0 / 12.0,
    1.0 / 6.0,
    0.25,
    1.0 / 3.0,
    0.5,
    1.0,
    2.0,
    3.0,
    4.0,
    6.0,
    8.0,
    12.0,
    24.0,
    48.0,
];
/// A tick may lie this fraction of a step beyond the end: sums of steps are not exact.
const ROUNDING: f64 = 1e-6;
/// No axis has more ticks than this.
const MOST_TICKS: usize = 200;

/// Ticks of an ordinary axis, about `count` of them.
#[must_use]
pub fn decimal_ticks(from: f64, to: f64, count: f64) -> Vec<Tick> {
    let step = decimal_step(to - from, count);
    let decimals = decimals_of(step);
    multiples(from, to, step)
        .into_iter()
        .map(|value| Tick {
            value,
            label: written(value, decimals),
        })
        .collect()
}

/// Ticks of an axis in hours, about `count` of them; below an hour they are written in minutes.
#[must_use]
pub fn hour_ticks(from: f64, to: f64, count: f64) -> Vec<Tick> {
    let wanted = (to - from) / count.max(1.0);
    let step = HOURS
        .into_iter()
        .find(|step| *step >= wanted * (1.0 - ROUNDING))
        .unwrap_or_else(|| {
            let days = decimal_step((to - from) / 24.0, count);
            days.max(1.0).round() * 24.0
        });
    let in_minutes = step < 1.0 - ROUNDING && to - from <= 3.0;
    multiples(from, to, step)
        .into_iter()
        .map(|value| {
            let label = if in_minutes {
                format!("{} min", written(value * 60.0, 0))
            } else if step < 1.0 - ROUNDING {
                format!("{} h", hours_and_minutes(value))
            } else {
                format!("{} h", written(value, 0))
            };
            Tick { value, label }
        })
        .collect()
}

/// Hours and minutes as `1:30`.
fn hours_and_minutes(hours: f64) -> String {
    let minutes = (hours * 60.0).round();
    let sign = if minutes < 0.0 { "−" } else { "" };
    let minutes = minutes.abs();
    format!(
        "{sign}{}:{:02}",
        (minutes / 60.0).floor(),
        (minutes % 60.0).round()
    )
}

fn decimal_step(span: f64, count: f64) -> f64 {
    let wanted = (span / count.max(1.0)).abs();
    if !wanted.is_finite() || wanted <= 0.0 {
        return 1.0;
    }
    let tens = 10f64.powf(wanted.log10().floor());
    let step = DECIMAL
        .into_iter()
        .find(|step| step * tens >= wanted * (1.0 - ROUNDING));
    step.unwrap_or(10.0) * tens
}

fn decimals_of(step: f64) -> usize {
    (0..9)
        .find(|decimals| is_whole(step * 10f64.powi(*decimals)))
        .unwrap_or(9) as usize
}

fn is_whole(value: f64) -> bool {
    (value - value.round()).abs() < ROUNDING * value.abs().max(1.0)
}

fn multiples(from: f64, to: f64, step: f64) -> Vec<f64> {
    let first = (from / step - ROUNDING).ceil();
    let last = (to / step + ROUNDING).floor();
    if !first.is_finite() || !last.is_finite() || last < first {
        return Vec::new();
    }
    let count = ((last - first) as usize + 1).min(MOST_TICKS);
    (0..count).map(|i| (first + i as f64) * step).collect()
}

/// A number with so many decimals and a true minus sign.
pub(crate) fn written(value: f64, decimals: usize) -> String {
    let digits = format!("{:.decimals$}", value.abs());
    let is_zero = digits.chars().all(|c| matches!(c, '0' | '.'));
    if value < 0.0 && !is_zero {
        format!("−{digits}")
    } else {
        digits
    }
}

/// The smallest range of whole steps that holds these values, at about `count` steps.
#[must_use]
pub fn round_range(low: f64, high: f64, count: f64) -> (f64, f64) {
    let (low, high) = if high > low {
        (low, high)
    } else {
        (low - 0.5, low + 0.5)
    };
    let step = decimal_step(high - low, count);
    (
        (low / step + ROUNDING).floor() * step,
        (high / step - ROUNDING).ceil() * step,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(ticks: &[Tick]) -> Vec<&str> {
        ticks.iter().map(|tick| tick.label.as_str()).collect()
    }

    #[test]
    fn ticks_are_round_and_within_the_axis() {
        assert_eq!(
            labels(&decimal_ticks(0.0, 700.0, 7.0)),
            ["0", "100", "200", "300", "400", "500", "600", "700"]
        );
        assert_eq!(
            labels(&decimal_ticks(-0.05, 0.05, 4.0)),
            ["−0.050", "−0.025", "0.000", "0.025", "0.050"]
        );
        assert_eq!(
            labels(&hour_ticks(0.0, 12.5, 7.0)),
            ["0 h", "2 h", "4 h", "6 h", "8 h", "10 h", "12 h"]
        );
        assert_eq!(
            labels(&hour_ticks(0.0, 1.0, 4.0)),
            ["0 min", "15 min", "30 min", "45 min", "60 min"]
        );
        assert_eq!(
            labels(&hour_ticks(0.0, 4.0, 8.0))[..3],
            ["0:00 h", "0:30 h", "1:00 h"]
        );
    }

    #[test]
    fn odd_ranges_neither_panic_nor_run_away() {
        for (from, to) in [
            (0.0, 0.0),
            (5.0, -5.0),
            (f64::NAN, 1.0),
            (0.0, f64::INFINITY),
            (1e12, 1e12 + 1.0),
        ] {
            assert!(decimal_ticks(from, to, 5.0).len() <= MOST_TICKS);
            assert!(hour_ticks(from, to, 5.0).len() <= MOST_TICKS);
        }
    }

    #[test]
    fn a_round_range_holds_its_values() {
        let (low, high) = round_range(21.3, 648.0, 6.0);
        assert!(low <= 21.3 && high >= 648.0);
        assert!(high - low < 900.0);
    }
}
