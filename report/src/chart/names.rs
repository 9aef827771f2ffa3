//! Lines name themselves: at their end and at intervals on the line.

use crate::drawing::{Anchor, Drawing, Face, Group, HAIRLINE_PT, Ink, Label, Path, Stand, Stroke};

use super::space::{Area, CAP_MM, Space, View};
use super::{Panel, Series, SeriesMark, named_group};

/// A line is named about every so many mm, and the names of all lines of a panel are about so far apart.
const INTERVAL_MM: f64 = 46.0;
const APART_MM: f64 = 9.0;
/// How far a name may move along its line to find room, in mm, and by which steps.
const REACH_MM: f64 = 16.0;
const STEP_MM: f64 = 1.0;
/// Distance of names below each other at the ends, in mm.
const ENDS_MM: f64 = CAP_MM + 0.9;
/// Lines that end this close to the right edge are named beside it.
const AT_EDGE_MM: f64 = 3.0;

/// Names on the line at intervals, shifted so that those of neighbors do not meet.
///
/// They form a second group of the series, above all lines.
pub(super) fn on_line(
    series: &Series,
    place: Place,
    runs: &[Vec<[f64; 2]>],
    view: &View,
    space: &mut Space,
) -> Group {
    let mut group = named_group("series", &series.name, &series.title);
    if series.name.is_empty() || series.mark == SeriesMark::Dots {
        return group;
    }
    let widest_mm = view.width_mm().max(INTERVAL_MM);
    let interval_mm = (APART_MM * place.of as f64).clamp(INTERVAL_MM, widest_mm);
    let offset_mm = interval_mm * (place.number as f64 + 0.5) / place.of as f64;
    let mut x = view.left_mm + offset_mm;
    while x < view.right_mm - 8.0 {
        if let Some(center) = free_place(series, x, runs, view, space) {
            space.take(Area::of_label(center, &series.name, Face::Strong));
            group.items.push(name(series, center).into());
        }
        x += interval_mm;
    }
    group
}

/// Place of a series among those of its panel.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub number: usize,
    pub of: usize,
}

fn name(series: &Series, center: [f64; 2]) -> Label {
    Label::new(center, &series.name)
        .anchored(Anchor::Middle, Stand::Middle)
        .faced(Face::Strong)
        .rimmed()
}

/// The nearest place on the line where the name meets no other.
fn free_place(
    series: &Series,
    x: f64,
    runs: &[Vec<[f64; 2]>],
    view: &View,
    space: &Space,
) -> Option<[f64; 2]> {
    let steps = (REACH_MM / STEP_MM) as i32;
    let shifts =
        (0..=steps).flat_map(|step| [f64::from(step) * STEP_MM, -f64::from(step) * STEP_MM]);
    shifts
        .filter_map(|shift| height_at(runs, x + shift).map(|y| [x + shift, y]))
        .find(|center| {
            let area = Area::of_label(*center, &series.name, Face::Strong);
            area.is_within(view) && space.is_free(&area)
        })
}

/// Height of the line at a place along the axis, if it is heard there.
fn height_at(runs: &[Vec<[f64; 2]>], x: f64) -> Option<f64> {
    let run = runs.iter().find(|run| {
        run.first().is_some_and(|p| p[0] <= x) && run.last().is_some_and(|p| p[0] >= x)
    })?;
    let after = run
        .partition_point(|point| point[0] < x)
        .clamp(1, run.len().max(2) - 1);
    let ([x1, y1], [x2, y2]) = (*run.get(after - 1)?, *run.get(after)?);
    Some(if x2 > x1 {
        y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    } else {
        y1
    })
}

/// Names at the ends: beside the right edge without meeting each other; inside where a line ends early.
pub(super) fn put_at_ends(
    drawing: &mut Drawing,
    panel: &Panel,
    lines: &[Vec<Vec<[f64; 2]>>],
    view: &View,
    space: &mut Space,
) {
    let mut at_edge: Vec<(f64, &Series, [f64; 2])> = Vec::new();
    for (series, runs) in panel.series.iter().zip(lines) {
        let within = |point: &&[f64; 2]| {
            point[0] <= view.right_mm + 0.1
                && point[1] >= view.top_mm - 0.5
                && point[1] <= view.bottom_mm + 0.5
        };
        // A line that leaves the panel does not end where it leaves.
        let last = runs.iter().flatten().next_back();
        let ends_here =
            |point: &&[f64; 2]| last == Some(*point) || point[0] > view.right_mm - AT_EDGE_MM;
        let end = runs.iter().flatten().rfind(within).filter(ends_here);
        let Some(end) = end.filter(|_| !series.name.is_empty()) else {
            continue;
        };
        if end[0] > view.right_mm - AT_EDGE_MM {
            at_edge.push((end[1], series, *end));
        } else {
            put_beside(drawing, series, *end, (view, space));
        }
    }
    at_edge.sort_by(|one, next| one.0.total_cmp(&next.0));
    let wanted: Vec<f64> = at_edge.iter().map(|(y, _, _)| *y).collect();
    let heights = spread(&wanted, ENDS_MM, view.top_mm, view.bottom_mm);
    for ((wanted, series, end), y) in at_edge.into_iter().zip(heights) {
        let x = view.right_mm + 2.2;
        if (y - wanted).abs() > 0.4 {
            let leader = [[end[0] + 0.3, wanted], [x - 0.5, y]];
            drawing.push(Path::polyline(
                &leader,
                Stroke::solid(Ink::Soft, HAIRLINE_PT),
            ));
        }
        drawing.push(
            Label::new([x, y], &series.name)
                .anchored(Anchor::Start, Stand::Middle)
                .faced(Face::Strong),
        );
    }
}

fn put_beside(
    drawing: &mut Drawing,
    series: &Series,
    end: [f64; 2],
    (view, space): (&View, &mut Space),
) {
    let half_mm = {
        let area = Area::of_label(end, &series.name, Face::Strong);
        (area.right - area.left) / 2.0
    };
    let shifts = [0.0, -ENDS_MM, ENDS_MM, -2.0 * ENDS_MM, 2.0 * ENDS_MM];
    for shift in shifts {
        let center = [end[0] + half_mm + 0.6, end[1] + shift];
        let area = Area::of_label(center, &series.name, Face::Strong);
        let is_last = shift == shifts[4];
        if is_last || (space.is_free(&area) && area.is_within(view)) {
            space.take(area);
            drawing.push(name(series, center));
            return;
        }
    }
}

/// Places as near as possible to the wanted ones (rising), at least `gap` apart and within the ends if they can be: groups
/// that meet are merged around their mean.
pub(super) fn spread(wanted: &[f64], gap: f64, low: f64, high: f64) -> Vec<f64> {
    // A group: its first place, and how many.
    let mut groups: Vec<(f64, usize)> = Vec::new();
    for want in wanted {
        groups.push((*want, 1));
        while let [.., (first, count), (next, more)] = groups[..] {
            if first + gap * count as f64 <= next {
                break;
            }
            let whole = (count + more) as f64;
            let shifted = next - gap * count as f64;
            groups.pop();
            groups.pop();
            groups.push((
                (first * count as f64 + shifted * more as f64) / whole,
                count + more,
            ));
        }
    }
    let mut places: Vec<f64> = groups
        .iter()
        .flat_map(|(first, count)| (0..*count).map(move |i| first + gap * i as f64))
        .collect();
    keep_within(&mut places, gap, low, high);
    places
}

fn keep_within(places: &mut [f64], gap: f64, low: f64, high: f64) {
    let mut most = high;
    for place in places.iter_mut().rev() {
        *place = place.min(most);
        most = *place - gap;
    }
    let mut least = low;
    for place in places.iter_mut() {
        *place = place.max(least);
        least = *place + gap;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_at_the_ends_never_meet_and_keep_their_order() {
        let places = spread(&[10.0, 10.1, 10.2, 30.0, 49.9, 50.0], 3.0, 0.0, 50.0);
        assert!(
            places
                .windows(2)
                .all(|pair| pair[1] - pair[0] >= 3.0 - 1e-9),
            "{places:?}"
        );
        assert!(places[0] >= 0.0 && places[5] <= 50.0 + 1e-9);
        assert!(
            (places[3] - 30.0).abs() < 1e-9,
            "one that has room stays where its line ends"
        );
    }
}
