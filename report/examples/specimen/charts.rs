//! Charts of the specimen: invented numbers.

use report::Drawing;
use report::chart::{
    Across, Allowed, Chart, Course, Event, Limit, Panel, Region, Series, SeriesMark, chart,
};

/// Temperature at hours since the start for a thermocouple that lags and reads a little less.
fn temperature(hours: f64, lag: f64, less: f64) -> f64 {
    let t = hours - lag;
    let rise = 21.0 + 118.0 * t.max(0.0);
    let hold = 622.0 - less + 2.0 * (9.0 * hours).sin();
    let fall = hold - 128.0 * (t - 6.6).max(0.0);
    rise.min(hold).min(fall.max(21.0))
}

/// A logged cycle with limits, the hold, events and the power below.
pub fn record() -> Drawing {
    let mut temperature_panel = Panel::new("Temperature, °C");
    temperature_panel.share = 3.0;
    for number in 1..=6 {
        let (lag, less) = (0.05 * f64::from(number), 2.4 * f64::from(number));
        // One reading every two seconds.
        let mut points: Vec<(f64, Option<f64>)> = (0..18_000)
            .map(|i| f64::from(i) / 1800.0)
            .map(|hours| {
                (
                    hours,
                    Some(temperature(hours, lag, less) + noise(hours + f64::from(number))),
                )
            })
            .collect();
        if number == 4 {
            points
                .iter_mut()
                .filter(|(hours, _)| (3.4..4.1).contains(hours))
                .for_each(|point| point.1 = None);
        }
        temperature_panel.series.push(Series {
            name: number.to_string(),
            title: format!("Thermocouple {number}"),
            points,
            mark: SeriesMark::Line,
        });
    }
    temperature_panel.limits = vec![
        Limit::at_most(650.0, "at most 650 °C, clause 4.2"),
        Limit {
            course: Course::Span {
                level: 595.0,
                from: 5.0,
                to: 6.7,
            },
            text: "at least 595 °C, clause 4.2".to_string(),
            allowed: Allowed::Above,
        },
    ];
    temperature_panel.regions = vec![Region {
        from: 5.25,
        to: 6.6,
        low: None,
        high: None,
        text: "hold 1 h 21 min".to_string(),
    }];
    let mut power = Panel::new("Power, kW");
    let watts: Vec<[f64; 2]> = (0..9000)
        .map(|i| f64::from(i) / 900.0)
        .map(|hours| {
            [
                hours,
                if hours < 5.2 {
                    3.0 + 2.9 * hours
                } else if hours < 6.6 {
                    12.5
                } else {
                    0.0
                },
            ]
        })
        .collect();
    power.series.push(Series::line("P", &watts));
    chart(&Chart {
        title: "Recorded cycle".to_string(),
        description: "Six thermocouples rise at 118 °C/h, hold near 620 °C and cool at 128 °C/h"
            .to_string(),
        width_mm: 166.0,
        height_mm: 112.0,
        across: Across::hours_and_clock(0.0, 10.0, 7.0 * 60.0 + 40.0),
        panels: vec![temperature_panel, power],
        events: vec![
            Event {
                at: 0.1,
                text: "power on".to_string(),
            },
            Event {
                at: 3.4,
                text: "4 silent".to_string(),
            },
            Event {
                at: 4.1,
                text: "4 back".to_string(),
            },
            Event {
                at: 6.6,
                text: "power off".to_string(),
            },
        ],
    })
}

fn noise(x: f64) -> f64 {
    1.5 * (x * 911.0).sin() * (x * 127.0).cos()
}

/// Temperature along the pipe, predicted and read.
pub fn along_the_pipe() -> Drawing {
    let line = |name: &str, width: f64, top: f64| {
        let points: Vec<[f64; 2]> = (-60..=60)
            .map(|i| 5.0 * f64::from(i))
            .map(|x| [x, 20.0 + top * (-(x / width).powi(2)).exp()])
            .collect();
        Series::line(name, &points)
    };
    let mut panel = Panel::new("Temperature, °C");
    panel.series = vec![line("outside", 160.0, 605.0), line("inside", 150.0, 588.0)];
    panel.series.push(Series {
        name: "read".to_string(),
        title: "Read by the thermocouples at the end of the hold".to_string(),
        points: [(-38.0, 600.0), (0.0, 624.0), (38.0, 601.0), (110.0, 404.0)]
            .map(|(x, y)| (x, Some(y)))
            .to_vec(),
        mark: SeriesMark::Dots,
    });
    panel.limits = vec![Limit {
        course: Course::Span {
            level: 595.0,
            from: -40.0,
            to: 40.0,
        },
        text: "soak band at least 595 °C".to_string(),
        allowed: Allowed::Above,
    }];
    chart(&Chart {
        title: "Temperature along the pipe".to_string(),
        description: "Highest at the weld, falling to both sides".to_string(),
        width_mm: 110.0,
        height_mm: 62.0,
        across: Across::numbers("Distance from the weld, mm", -300.0, 300.0),
        panels: vec![panel],
        events: Vec::new(),
    })
}

/// The small cycle of the site page.
pub fn small_cycle() -> Drawing {
    let mut panel = Panel::new("°C");
    let points = [
        [0.0, 20.0],
        [3.4, 425.0],
        [5.0, 620.0],
        [6.3, 620.0],
        [7.7, 425.0],
        [8.5, 330.0],
    ];
    panel.series.push(Series::line("", &points));
    panel.limits = vec![
        Limit::at_most(650.0, "650"),
        Limit {
            course: Course::Span {
                level: 595.0,
                from: 4.6,
                to: 6.7,
            },
            text: "595".to_string(),
            allowed: Allowed::Above,
        },
    ];
    chart(&Chart {
        title: "The cycle".to_string(),
        description: "Rise, hold and fall".to_string(),
        width_mm: 64.0,
        height_mm: 42.0,
        across: Across::hours(0.0, 8.5),
        panels: vec![panel],
        events: Vec::new(),
    })
}
