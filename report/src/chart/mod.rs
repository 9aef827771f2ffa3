//! Line charts as drawings: lines name themselves, limits carry their clause, there is no legend.
//!
//! Coordinates of the drawing are millimeters on paper.

mod axis;
mod limits;
mod names;
mod series;
mod space;

use crate::drawing::{Drawing, Group};
pub use series::{dash_of, thinned};
use space::{Space, View};

/// A chart: panels one below the other that share the axis along the bottom.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Chart {
    /// A short name, read aloud in place of the picture.
    pub title: String,
    /// What the picture tells, for those who cannot see it.
    pub description: String,
    /// Width on paper in mm.
    pub width_mm: f64,
    /// Height on paper in mm.
    pub height_mm: f64,
    /// The axis along the bottom.
    pub across: Across,
    /// The panels from top to bottom.
    pub panels: Vec<Panel>,
    /// What happened when; marked through all panels.
    pub events: Vec<Event>,
}

/// The axis along the bottom.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Across {
    /// What it measures, with its unit; empty where the ticks say it.
    pub label: String,
    /// Value at the left end.
    pub from: f64,
    /// Value at the right end.
    pub to: f64,
    /// What its numbers are.
    pub kind: AcrossKind,
}

/// What the numbers along the bottom are.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum AcrossKind {
    /// Plain numbers.
    #[default]
    Numbers,
    /// Hours since the start.
    Hours,
    /// Hours since the start, with the time of day by one clock or several in a row each.
    HoursAndClocks(Vec<Clock>),
}

/// A clock whose time of day stands below the hours.
#[derive(Debug, Clone, PartialEq)]
pub struct Clock {
    /// What it is called at the left of its row; empty where there is only one.
    pub name: String,
    /// Minutes after midnight at hour zero, 0 to 1440.
    pub start_minute_of_day: f64,
}

/// One field of lines with its own axis at the left.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// What it measures, with its unit, for example `Temperature, °C`.
    pub label: String,
    /// Ends of its axis; without them, round numbers around everything in it.
    pub range: Option<(f64, f64)>,
    /// Its share of the height, relative to the other panels.
    pub share: f64,
    /// The lines.
    pub series: Vec<Series>,
    /// The limits.
    pub limits: Vec<Limit>,
    /// Regions hatched with hairlines.
    pub regions: Vec<Region>,
}

/// A line with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// A number or a letter, written on the line and at its end.
    pub name: String,
    /// What it is, read aloud and shown when pointed at.
    pub title: String,
    /// Points in order of the axis along the bottom; a silent one breaks the line.
    pub points: Vec<(f64, Option<f64>)>,
    /// How it is drawn.
    pub mark: SeriesMark,
}

/// How a series is drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum SeriesMark {
    /// A line with the dash pattern of its place in the panel.
    #[default]
    Line,
    /// A line with this dash pattern in points.
    Dashed(Vec<f64>),
    /// Hollow dots without a line: single readings.
    Dots,
}

/// A limit with its text.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// Where it runs.
    pub course: Course,
    /// What it says and where that is written, for example `at most 650 °C, cl. 6.4`.
    pub text: String,
    /// On which side what is allowed lies.
    pub allowed: Allowed,
}

/// Where a limit runs.
#[derive(Debug, Clone, PartialEq)]
pub enum Course {
    /// At one value throughout.
    Level(f64),
    /// At one value between two places.
    Span {
        /// The value.
        level: f64,
        /// Where it begins.
        from: f64,
        /// Where it ends.
        to: f64,
    },
    /// Through points, for example a rate.
    Through(Vec<[f64; 2]>),
}

/// On which side of a limit what is allowed lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Allowed {
    /// Below it: a maximum. Its text stands above.
    Below,
    /// Above it: a minimum. Its text stands below.
    Above,
}

/// A region hatched with hairlines.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// Its lower value; without it, the bottom of the panel.
    pub low: Option<f64>,
    /// Its upper value; without it, the top of the panel.
    pub high: Option<f64>,
    /// What it is; empty for none.
    pub text: String,
}

/// Something that happened.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// When.
    pub at: f64,
    /// What, in a word or two.
    pub text: String,
}

impl Across {
    /// An axis of hours.
    #[must_use]
    pub fn hours(from: f64, to: f64) -> Across {
        Across {
            label: String::new(),
            from,
            to,
            kind: AcrossKind::Hours,
        }
    }

    /// An axis of hours with the time of day below.
    #[must_use]
    pub fn hours_and_clock(from: f64, to: f64, start_minute_of_day: f64) -> Across {
        Across {
            label: String::new(),
            from,
            to,
            kind: AcrossKind::HoursAndClocks(vec![Clock {
                name: String::new(),
                start_minute_of_day,
            }]),
        }
    }

    /// An axis of hours with the times of day of named clocks below, in a row each.
    #[must_use]
    pub fn hours_and_clocks(from: f64, to: f64, clocks: Vec<Clock>) -> Across {
        Across {
            label: String::new(),
            from,
            to,
            kind: AcrossKind::HoursAndClocks(clocks),
        }
    }

    /// An axis of plain numbers.
    pub fn numbers(label: impl Into<String>, from: f64, to: f64) -> Across {
        Across {
            label: label.into(),
            from,
            to,
            kind: AcrossKind::Numbers,
        }
    }
}

impl Panel {
    /// An empty panel.
    pub fn new(label: impl Into<String>) -> Panel {
        Panel {
            label: label.into(),
            range: None,
            share: 1.0,
            series: Vec::new(),
            limits: Vec::new(),
            regions: Vec::new(),
        }
    }
}

impl Series {
    /// A line through points without silence.
    pub fn line(name: impl Into<String>, points: &[[f64; 2]]) -> Series {
        Series {
            name: name.into(),
            title: String::new(),
            points: points.iter().map(|[x, y]| (*x, Some(*y))).collect(),
            mark: SeriesMark::Line,
        }
    }
}

impl Limit {
    /// A maximum throughout.
    pub fn at_most(level: f64, text: impl Into<String>) -> Limit {
        Limit {
            course: Course::Level(level),
            text: text.into(),
            allowed: Allowed::Below,
        }
    }

    /// A minimum throughout.
    pub fn at_least(level: f64, text: impl Into<String>) -> Limit {
        Limit {
            course: Course::Level(level),
            text: text.into(),
            allowed: Allowed::Above,
        }
    }
}

/// Smallest size in mm at which a chart can be drawn at all.
const SMALLEST_MM: f64 = 20.0;

/// Draws a chart. Values that are not numbers are left out.
#[must_use]
pub fn chart(chart: &Chart) -> Drawing {
    let (width_mm, height_mm) = (
        chart.width_mm.max(SMALLEST_MM),
        chart.height_mm.max(SMALLEST_MM),
    );
    let mut drawing = Drawing::new(&chart.title, width_mm, height_mm, 1.0);
    drawing.description = chart.description.clone();
    let views = axis::views(chart, width_mm, height_mm);
    let mut spaces: Vec<Space> = views.iter().map(|_| Space::default()).collect();
    axis::draw_events(&mut drawing, chart, &views);
    for (panel, view) in chart.panels.iter().zip(&views) {
        axis::draw_panel_axis(&mut drawing, panel, view);
    }
    axis::draw_across(&mut drawing, chart, &views);
    for ((panel, view), space) in chart.panels.iter().zip(&views).zip(&mut spaces) {
        draw_panel(&mut drawing, panel, view, space);
    }
    drawing
}

fn draw_panel(drawing: &mut Drawing, panel: &Panel, view: &View, space: &mut Space) {
    for region in &panel.regions {
        limits::draw_region(drawing, region, view);
    }
    let lines: Vec<Vec<Vec<[f64; 2]>>> = panel
        .series
        .iter()
        .map(|series| series::runs(series, view))
        .collect();
    lines.iter().flatten().for_each(|run| space.add_line(run));
    for limit in &panel.limits {
        limits::draw_course(drawing, limit, view, space);
    }
    for (i, (series, runs)) in panel.series.iter().zip(&lines).enumerate() {
        drawing.push(series::drawn(series, i, runs, view));
    }
    for (i, (series, runs)) in panel.series.iter().zip(&lines).enumerate() {
        let place = names::Place {
            number: i,
            of: panel.series.len(),
        };
        drawing.push(names::on_line(series, place, runs, view, space));
    }
    names::put_at_ends(drawing, panel, &lines, view, space);
    for limit in &panel.limits {
        limits::draw_text(drawing, &limit.text, limit, view, space);
    }
    for region in &panel.regions {
        limits::draw_region_text(drawing, region, view, space);
    }
}

/// A group with an identifier that pages can find.
fn named_group(kind: &str, name: &str, title: &str) -> Group {
    let title = if title.is_empty() {
        None
    } else {
        Some(title.to_string())
    };
    Group {
        id: Some(format!("{kind}-{name}")),
        title,
        ..Group::default()
    }
}
