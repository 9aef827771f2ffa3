//! Lines of a chart: thinned without losing a peak, broken where silent.

use crate::drawing::{Clip, Group, Ink, Item, Path, Segment, Stroke};
use crate::simplify::simplified;

use super::space::View;
use super::{Series, SeriesMark, named_group};

/// Width in mm of a column of which the lowest and the highest point are drawn: half a line's width.
const COLUMN_MM: f64 = 0.15;
/// Points that lie closer to the line than this, in mm, change nothing that a printer can show.
const ACCURACY_MM: f64 = 0.03;
/// Lines of more points than this are dashed along their middle, as their ups and downs would tear the dashes.
const MANY_POINTS: usize = 400;
/// Width of lines in points.
const LINE_PT: f64 = 0.75;
/// Radius of dots in mm.
const DOT_MM: f64 = 0.75;

/// Dash patterns in points, told apart on a black-and-white copy. The first is solid.
const DASHES: [&[f64]; 8] = [
    &[],
    &[5.0, 2.0],
    &[1.2, 1.6],
    &[7.0, 2.0, 1.2, 2.0],
    &[2.6, 2.0],
    &[9.0, 2.4],
    &[5.0, 1.6, 1.2, 1.6, 1.2, 1.6],
    &[1.2, 3.2],
];

/// The dash pattern, in points, of the line at this place in a panel.
#[must_use]
pub fn dash_of(place: usize) -> &'static [f64] {
    DASHES[place % DASHES.len()]
}

/// First, lowest, highest and last point of each column of this width, in order: no peak is lost.
///
/// Points are `[x, y]` with rising `x`; columns start at the first point.
#[must_use]
pub fn thinned(points: &[[f64; 2]], column: f64) -> Vec<[f64; 2]> {
    let Some(start) = points.first().map(|point| point[0]) else {
        return Vec::new();
    };
    let column_of = |point: &[f64; 2]| ((point[0] - start) / column).floor();
    let mut kept = Vec::new();
    for chunk in points.chunk_by(|one, next| column_of(one) == column_of(next)) {
        let mut chosen = vec![0, chunk.len() - 1];
        chosen.extend(extreme(chunk, |value, best| value < best));
        chosen.extend(extreme(chunk, |value, best| value > best));
        chosen.sort_unstable();
        chosen.dedup();
        kept.extend(chosen.into_iter().map(|i| chunk[i]));
    }
    kept
}

fn extreme(chunk: &[[f64; 2]], is_better: impl Fn(f64, f64) -> bool) -> Option<usize> {
    let mut best = None::<usize>;
    for (i, point) in chunk.iter().enumerate() {
        if best.is_none_or(|known| is_better(point[1], chunk[known][1])) {
            best = Some(i);
        }
    }
    best
}

/// The pieces of a line between silences, on paper in mm.
pub(super) fn runs(series: &Series, view: &View) -> Vec<Vec<[f64; 2]>> {
    let heard =
        |point: &(f64, Option<f64>)| point.0.is_finite() && point.1.is_some_and(f64::is_finite);
    let mut runs = Vec::new();
    for run in series
        .points
        .chunk_by(|one, next| heard(one) == heard(next))
    {
        let on_paper: Vec<[f64; 2]> = run
            .iter()
            .filter_map(|(x, y)| y.map(|y| [view.x(*x), view.y(y)]))
            .filter(|point| point[0].is_finite())
            .collect();
        if heard(&run[0]) {
            runs.push(simplified(
                &thinned(&on_paper, COLUMN_MM),
                false,
                ACCURACY_MM,
            ));
        }
    }
    runs
}

/// The line itself, clipped to its panel.
pub(super) fn drawn(series: &Series, place: usize, runs: &[Vec<[f64; 2]>], view: &View) -> Group {
    let mut clipped = Group {
        // A line along the edge keeps its full width.
        clip: Some(Clip {
            left: view.left_mm,
            top: view.top_mm - 0.5,
            width: view.width_mm() + 1.0,
            height: view.height_mm() + 0.7,
        }),
        ..Group::default()
    };
    for run in runs {
        match &series.mark {
            SeriesMark::Line => clipped.items.push(line(run, dash_of(place))),
            SeriesMark::Dashed(dash) => clipped.items.push(line(run, dash)),
            SeriesMark::Dots => clipped.items.extend(run.iter().map(|point| dot(*point))),
        }
    }
    let mut group = named_group("series", &series.name, &series.title);
    group.items.push(clipped.into());
    group
}

fn line(run: &[[f64; 2]], dash: &[f64]) -> Item {
    match run {
        [point] => dot(*point),
        _ if run.len() > MANY_POINTS && !dash.is_empty() => dashed_by_hand(run, dash).into(),
        _ => Path::polyline(run, Stroke::solid(Ink::Full, LINE_PT).dashed(dash)).into(),
    }
}

/// Dashes measured along the middle of a line that goes up and down: every dash shows the whole band.
fn dashed_by_hand(run: &[[f64; 2]], dash_pt: &[f64]) -> Path {
    let dash_mm: Vec<f64> = dash_pt.iter().map(|pt| pt * crate::MM_PER_PT).collect();
    let period_mm: f64 = dash_mm.iter().sum();
    let mut segments = Vec::new();
    let mut is_drawn = false;
    let mut along_mm = 0.0;
    let mut middle = run[0];
    for window in run.chunks(WINDOW) {
        let next = middle_of(window);
        along_mm += (next[0] - middle[0]).hypot(next[1] - middle[1]);
        middle = next;
        let draws = is_dash(along_mm % period_mm, &dash_mm);
        for (i, point) in window.iter().enumerate() {
            let starts = draws && !is_drawn && i == 0;
            if draws {
                segments.push(if starts {
                    Segment::Move(*point)
                } else {
                    Segment::Line(*point)
                });
            }
        }
        is_drawn = draws;
    }
    Path {
        segments,
        fill: None,
        stroke: Some(Stroke::solid(Ink::Full, LINE_PT)),
    }
}

/// So many points are drawn or left out together.
const WINDOW: usize = 4;

fn middle_of(window: &[[f64; 2]]) -> [f64; 2] {
    let low = window
        .iter()
        .map(|point| point[1])
        .fold(f64::INFINITY, f64::min);
    let high = window
        .iter()
        .map(|point| point[1])
        .fold(f64::NEG_INFINITY, f64::max);
    [window[0][0], (low + high) / 2.0]
}

fn is_dash(at_mm: f64, dash_mm: &[f64]) -> bool {
    let mut end = 0.0;
    for (i, length) in dash_mm.iter().enumerate() {
        end += length;
        if at_mm < end {
            return i % 2 == 0;
        }
    }
    true
}

fn dot(point: [f64; 2]) -> Item {
    Path::circle(point, DOT_MM)
        .filled(Ink::Paper)
        .stroked(Stroke::solid(Ink::Full, LINE_PT))
        .into()
}
