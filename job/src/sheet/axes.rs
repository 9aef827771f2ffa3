//! Temperature axes of charts.

use quantity::{Celsius, Millimeters, Units};
use report::chart::{Course, Limit, Panel};

/// Steps of the axis.
const STEP: f64 = 50.0;

/// In the unit of the axis.
pub(crate) fn degrees(celsius: f64, units: Units) -> f64 {
    match units {
        Units::Si => celsius,
        Units::Us => Celsius::from_c(celsius).f(),
    }
}

/// The unit of temperature axes.
pub(crate) fn axis_words(units: Units) -> &'static str {
    match units {
        Units::Si => "Temperature, °C",
        Units::Us => "Temperature, °F",
    }
}

/// The unit of lengths along the pipe on axes, and how many mm it has.
pub(crate) fn along(units: Units) -> (&'static str, f64) {
    match units {
        Units::Si => ("mm", 1.0),
        Units::Us => ("in", Millimeters::from_in(1.0).mm()),
    }
}

/// From nothing, or what is colder, to the highest limit or reading with a part of it above for the texts of limits.
pub(crate) fn with_headroom(panel: &Panel, part: f64) -> Option<(f64, f64)> {
    let level = |limit: &Limit| match limit.course {
        Course::Level(level) | Course::Span { level, .. } => Some(level),
        Course::Through(_) => None,
    };
    let series = panel.series.iter();
    let readings = series.flat_map(|s| s.points.iter().filter_map(|p| p.1));
    let levels = panel.limits.iter().filter_map(level);
    let lowest = readings.clone().reduce(f64::min)?.min(0.0);
    let highest = readings.chain(levels).reduce(f64::max)?;
    let up = |value: f64| STEP * (value / STEP).ceil();
    Some((-up(-lowest), up(highest * (1.0 + part))))
}
