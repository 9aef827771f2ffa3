//! Axes, ticks and events of a chart.

use crate::drawing::{
    Anchor, Drawing, Face, HAIRLINE_PT, Ink, LABEL_PT, Label, Path, Stand, Stroke,
};
use crate::face::text_width_pt;
use crate::ticks::{Tick, decimal_ticks, hour_ticks, round_range};

use super::space::{CAP_MM, View};
use super::{AcrossKind, Chart, Clock, Course, Event, Panel};

/// Length of a tick in mm.
const TICK_MM: f64 = 1.2;
/// Gap between a tick and its number in mm.
const NUMBER_GAP_MM: f64 = 1.0;
/// Gap between the name of a clock and its first time in mm.
const CLOCK_GAP_MM: f64 = 1.5;
/// Height of a row of numbers in mm.
pub(super) const ROW_MM: f64 = 4.2;
/// Space above a panel for its label in mm.
const LABEL_ROW_MM: f64 = 5.4;
/// A field is never narrower than this, in mm.
const NARROWEST_MM: f64 = 5.0;
/// More of it between panels in mm.
const BETWEEN_MM: f64 = 4.0;
/// Wanted distance of ticks along the left and along the bottom, in mm.
const LEFT_TICK_MM: f64 = 9.0;
const BOTTOM_TICK_MM: f64 = 17.0;
/// Ink of the lines behind the data.
const GRID: Ink = Ink::Density(0.16);

/// The fields of all panels.
pub(super) fn views(chart: &Chart, width_mm: f64, height_mm: f64) -> Vec<View> {
    let (from, to) = ends(chart.across.from, chart.across.to);
    let right_mm = width_mm - names_mm(chart);
    let event_rows = rows_of_events(chart, from, to, right_mm).len();
    let above_mm = event_rows as f64 * ROW_MM + if event_rows > 0 { 1.0 } else { 0.0 };
    let count = chart.panels.len() as f64;
    let room_mm = height_mm
        - above_mm
        - below_mm(chart)
        - LABEL_ROW_MM * count
        - BETWEEN_MM * (count - 1.0).max(0.0);
    let shares: f64 = chart.panels.iter().map(|panel| panel.share.max(0.1)).sum();
    let mut top_mm = above_mm;
    let mut views = Vec::new();
    for panel in &chart.panels {
        top_mm += LABEL_ROW_MM;
        let panel_mm = (room_mm * panel.share.max(0.1) / shares).max(8.0);
        let (low, high) = range_of(panel, panel_mm);
        views.push(View {
            left_mm: 0.0,
            right_mm,
            top_mm,
            bottom_mm: top_mm + panel_mm,
            from,
            to,
            low,
            high,
        });
        top_mm += panel_mm + BETWEEN_MM;
    }
    let numbers_mm = views.iter().map(widest_number_mm).fold(0.0, f64::max);
    let left_mm = (numbers_mm + TICK_MM + NUMBER_GAP_MM).max(clock_names_mm(chart));
    for view in &mut views {
        view.left_mm = left_mm;
        view.right_mm = view.right_mm.max(left_mm + NARROWEST_MM);
    }
    views
}

/// Ends of an axis, never equal.
fn ends(from: f64, to: f64) -> (f64, f64) {
    let is_fine = from.is_finite() && to.is_finite() && to > from;
    if is_fine { (from, to) } else { (0.0, 1.0) }
}

/// Room at the right for the names at the ends of lines.
fn names_mm(chart: &Chart) -> f64 {
    let names = chart
        .panels
        .iter()
        .flat_map(|panel| &panel.series)
        .map(|series| &series.name);
    let widest_pt = names
        .map(|name| text_width_pt(Face::Strong, name, LABEL_PT))
        .fold(0.0, f64::max);
    (widest_pt * crate::MM_PER_PT + 3.6).max(4.0)
}

fn clocks(chart: &Chart) -> &[Clock] {
    match &chart.across.kind {
        AcrossKind::HoursAndClocks(clocks) => clocks,
        AcrossKind::Numbers | AcrossKind::Hours => &[],
    }
}

/// Room at the left for the names of clocks; a time of day below the first tick takes half its width of it.
fn clock_names_mm(chart: &Chart) -> f64 {
    let width_mm = |text: &str| text_width_pt(Face::Regular, text, LABEL_PT) * crate::MM_PER_PT;
    let named = clocks(chart).iter().filter(|clock| !clock.name.is_empty());
    let widest = named.map(|clock| width_mm(&clock.name)).reduce(f64::max);
    widest.map_or(0.0, |widest| {
        widest + CLOCK_GAP_MM + 0.5 * width_mm("00:00")
    })
}

/// Room for the rows of numbers and the label below.
fn below_mm(chart: &Chart) -> f64 {
    let label = f64::from(u8::from(!chart.across.label.is_empty()));
    TICK_MM + NUMBER_GAP_MM + (1.0 + clocks(chart).len() as f64 + label) * ROW_MM
}

fn range_of(panel: &Panel, panel_mm: f64) -> (f64, f64) {
    if let Some((low, high)) = panel.range
        && low.is_finite()
        && high.is_finite()
        && high > low
    {
        return (low, high);
    }
    let mut low = f64::INFINITY;
    let mut high = f64::NEG_INFINITY;
    let mut hold = |value: f64| {
        if value.is_finite() {
            (low, high) = (low.min(value), high.max(value));
        }
    };
    panel
        .series
        .iter()
        .flat_map(|series| &series.points)
        .filter_map(|point| point.1)
        .for_each(&mut hold);
    for limit in &panel.limits {
        match &limit.course {
            Course::Level(level) | Course::Span { level, .. } => hold(*level),
            Course::Through(points) => points.iter().for_each(|point| hold(point[1])),
        }
    }
    if low > high {
        (0.0, 1.0)
    } else {
        round_range(low, high, panel_mm / LEFT_TICK_MM)
    }
}

fn left_ticks(view: &View) -> Vec<Tick> {
    decimal_ticks(
        view.low,
        view.high,
        (view.height_mm() / LEFT_TICK_MM).max(2.0),
    )
}

fn widest_number_mm(view: &View) -> f64 {
    let widths = left_ticks(view)
        .into_iter()
        .map(|tick| text_width_pt(Face::Regular, &tick.label, LABEL_PT));
    widths.fold(0.0, f64::max) * crate::MM_PER_PT
}

/// The label, the axis at the left with its numbers, and the lines behind the data.
pub(super) fn draw_panel_axis(drawing: &mut Drawing, panel: &Panel, view: &View) {
    drawing.push(Label::new([0.0, view.top_mm - 2.6], &panel.label).rimmed());
    for tick in left_ticks(view) {
        let y = view.y(tick.value);
        let grid = Stroke::solid(GRID, HAIRLINE_PT);
        drawing.push(Path::polyline(
            &[[view.left_mm, y], [view.right_mm, y]],
            grid,
        ));
        drawing.push(Path::polyline(
            &[[view.left_mm - TICK_MM, y], [view.left_mm, y]],
            axis_stroke(),
        ));
        let at = [view.left_mm - TICK_MM - NUMBER_GAP_MM, y];
        drawing.push(Label::new(at, tick.label).anchored(Anchor::End, Stand::Middle));
    }
    let corner = [
        [view.left_mm, view.top_mm],
        [view.left_mm, view.bottom_mm],
        [view.right_mm, view.bottom_mm],
    ];
    drawing.push(Path::polyline(&corner, axis_stroke()));
}

fn axis_stroke() -> Stroke {
    Stroke::solid(Ink::Full, 0.5)
}

/// Ticks along the bottom of every panel and the numbers below the last.
pub(super) fn draw_across(drawing: &mut Drawing, chart: &Chart, views: &[View]) {
    let Some(last) = views.last() else { return };
    let count = (last.width_mm() / BOTTOM_TICK_MM).max(2.0);
    let ticks = match chart.across.kind {
        AcrossKind::Numbers => decimal_ticks(last.from, last.to, count),
        AcrossKind::Hours | AcrossKind::HoursAndClocks(_) => hour_ticks(last.from, last.to, count),
    };
    let first_row = last.bottom_mm + TICK_MM + NUMBER_GAP_MM;
    let half_mm = 0.5 * text_width_pt(Face::Regular, "00:00", LABEL_PT) * crate::MM_PER_PT;
    for (row, one) in clocks(chart).iter().enumerate() {
        let at = [
            last.left_mm - half_mm - CLOCK_GAP_MM,
            first_row + ROW_MM * (row + 1) as f64,
        ];
        drawing.push(
            Label::new(at, &one.name)
                .anchored(Anchor::End, Stand::Hang)
                .inked(Ink::Soft),
        );
    }
    for tick in &ticks {
        let x = last.x(tick.value);
        for view in views {
            let bottom = view.bottom_mm;
            drawing.push(Path::polyline(
                &[[x, bottom], [x, bottom + TICK_MM]],
                axis_stroke(),
            ));
        }
        drawing.push(Label::new([x, first_row], &tick.label).anchored(Anchor::Middle, Stand::Hang));
        for (row, one) in clocks(chart).iter().enumerate() {
            let shown = clock(one.start_minute_of_day + tick.value * 60.0);
            let at = [x, first_row + ROW_MM * (row + 1) as f64];
            drawing.push(
                Label::new(at, shown)
                    .anchored(Anchor::Middle, Stand::Hang)
                    .inked(Ink::Soft),
            );
        }
    }
    if !chart.across.label.is_empty() {
        let y = last.bottom_mm + below_mm(chart) - ROW_MM;
        let at = [last.right_mm, y];
        drawing.push(Label::new(at, &chart.across.label).anchored(Anchor::End, Stand::Hang));
    }
}

/// Time of day as `14:05`.
fn clock(minutes: f64) -> String {
    let minutes = minutes.round().rem_euclid(24.0 * 60.0);
    format!("{:02}:{:02}", (minutes / 60.0).floor(), minutes % 60.0)
}

/// Events through all panels, their words above the first in as many rows as they need.
pub(super) fn draw_events(drawing: &mut Drawing, chart: &Chart, views: &[View]) {
    let (Some(first), Some(last)) = (views.first(), views.last()) else {
        return;
    };
    let rows = rows_of_events(chart, first.from, first.to, first.right_mm);
    let count = rows.len();
    for (row, events) in rows.iter().enumerate() {
        let y = CAP_MM + ROW_MM * row as f64;
        for event in events {
            let x = first.x(event.at);
            let line = [[x, y + 0.8], [x, last.bottom_mm]];
            drawing.push(Path::polyline(
                &line,
                Stroke::solid(Ink::Soft, HAIRLINE_PT).dashed(&[1.0, 2.0]),
            ));
            let anchor = if row + 1 == count || is_left(event, first) {
                Anchor::Start
            } else {
                Anchor::End
            };
            let anchor = if is_left(event, first) {
                Anchor::Start
            } else {
                anchor
            };
            let anchor = if ends_beyond(event, x, first) {
                Anchor::End
            } else {
                anchor
            };
            drawing.push(
                Label::new([x, y], &event.text)
                    .anchored(anchor, Stand::Base)
                    .inked(Ink::Soft)
                    .rimmed(),
            );
        }
    }
}

fn is_left(event: &Event, view: &View) -> bool {
    event.at < view.from + (view.to - view.from) * 0.5
}

fn ends_beyond(event: &Event, x: f64, view: &View) -> bool {
    x + text_width_pt(Face::Regular, &event.text, LABEL_PT) * crate::MM_PER_PT > view.right_mm
}

/// Events in rows so that no two words meet; left to right, the first row that has room.
fn rows_of_events(chart: &Chart, from: f64, to: f64, width_mm: f64) -> Vec<Vec<&Event>> {
    let mut events: Vec<&Event> = chart
        .events
        .iter()
        .filter(|event| event.at >= from && event.at <= to)
        .collect();
    events.sort_by(|one, next| one.at.total_cmp(&next.at));
    let mut rows: Vec<(f64, Vec<&Event>)> = Vec::new();
    for event in events {
        let x = (event.at - from) / (to - from) * width_mm;
        let words_mm = text_width_pt(Face::Regular, &event.text, LABEL_PT) * crate::MM_PER_PT + 2.5;
        let start = if x + words_mm > width_mm {
            x - words_mm
        } else {
            x
        };
        match rows.iter_mut().find(|(end, _)| *end <= start) {
            Some((end, row)) => {
                *end = start + words_mm;
                row.push(event);
            }
            None => rows.push((start + words_mm, vec![event])),
        }
    }
    rows.into_iter().map(|(_, row)| row).collect()
}
