//! Limits with their clause, and hatched regions.

use crate::drawing::{
    Anchor, Clip, Drawing, Face, Group, HAIRLINE_PT, Ink, Label, Path, Stand, Stroke,
};

use super::space::{Area, CAP_MM, Space, View};
use super::{Allowed, Course, Limit, Region};

/// Gap between a limit and its text in mm.
const TEXT_GAP_MM: f64 = 1.3;
/// Distance of hatch lines in mm.
const HATCH_MM: f64 = 3.0;
/// Ink of hatch lines: behind everything.
const HATCH: Ink = Ink::Density(0.35);
/// How far from its limit a text may stand, in mm.
const AWAY_MM: [f64; 8] = [0.0, 2.8, 5.6, 8.4, 12.6, 16.8, 21.0, 25.2];
/// Places along a limit where its text may stand.
const CANDIDATES: usize = 9;
/// What a candidate costs: each piece of line beneath, a step away, the other side, a label beneath, leaving the panel.
const COST_LINE: usize = 4;
const COST_AWAY: usize = 3;
const COST_OTHER_SIDE: usize = 12;
const COST_LABEL: usize = 400;
const COST_OUTSIDE: usize = 2000;

/// The line of a limit.
pub(super) fn draw_course(drawing: &mut Drawing, limit: &Limit, view: &View, space: &mut Space) {
    let points = on_paper(limit, view);
    if points.len() < 2 {
        return;
    }
    space.add_line(&points);
    let mut group = Group {
        clip: Some(clip(view)),
        ..Group::default()
    };
    group
        .items
        .push(Path::polyline(&points, Stroke::solid(Ink::Full, 0.6)).into());
    // Short strokes on the forbidden side tell a limit from a reading, on a copy too.
    let side = match limit.allowed {
        Allowed::Below => -1.0,
        Allowed::Above => 1.0,
    };
    for pair in points.windows(2) {
        group
            .items
            .extend(teeth(pair[0], pair[1], side).into_iter().map(Into::into));
    }
    drawing.push(group);
}

fn clip(view: &View) -> Clip {
    Clip {
        left: view.left_mm,
        top: view.top_mm - 1.0,
        width: view.width_mm(),
        height: view.height_mm() + 1.0,
    }
}

fn teeth(start: [f64; 2], end: [f64; 2], side: f64) -> Vec<Path> {
    const EVERY_MM: f64 = 3.0;
    const LONG_MM: f64 = 0.9;
    let (dx, dy) = (end[0] - start[0], end[1] - start[1]);
    let length = dx.hypot(dy);
    if length < EVERY_MM || !length.is_finite() {
        return Vec::new();
    }
    let (along_x, along_y) = (dx / length, dy / length);
    let count = ((length / EVERY_MM) as usize).min(400);
    (0..count)
        .map(|i| {
            let at = EVERY_MM * (i as f64 + 0.5);
            let foot = [start[0] + along_x * at, start[1] + along_y * at];
            let tip = [foot[0] + LONG_MM * 0.7, foot[1] + side * LONG_MM];
            Path::polyline(&[foot, tip], Stroke::solid(Ink::Full, HAIRLINE_PT))
        })
        .collect()
}

/// The course on paper; what is not a number is left out.
fn on_paper(limit: &Limit, view: &View) -> Vec<[f64; 2]> {
    let mut points = course(limit, view);
    points.retain(|point| point.iter().all(|number| number.is_finite()));
    points
}

fn course(limit: &Limit, view: &View) -> Vec<[f64; 2]> {
    match &limit.course {
        Course::Level(level) => vec![
            [view.left_mm, view.y(*level)],
            [view.right_mm, view.y(*level)],
        ],
        Course::Span { level, from, to } => {
            let x = |value: f64| view.x(value.clamp(view.from, view.to));
            vec![[x(*from), view.y(*level)], [x(*to), view.y(*level)]]
        }
        Course::Through(points) => points
            .iter()
            .map(|[x, y]| [view.x(*x), view.y(*y)])
            .collect(),
    }
}

/// The text of a limit where it covers least.
pub(super) fn draw_text(
    drawing: &mut Drawing,
    text: &str,
    limit: &Limit,
    view: &View,
    space: &mut Space,
) {
    let points = on_paper(limit, view);
    let (Some(start), Some(end)) = (points.first(), points.last()) else {
        return;
    };
    if text.is_empty() || points.len() < 2 {
        return;
    }
    let half_mm = {
        let area = Area::of_label([0.0, 0.0], text, Face::Italic);
        area.right
    };
    let preferred = match limit.allowed {
        Allowed::Below => -1.0,
        Allowed::Above => 1.0,
    };
    let (from, to) = (
        start[0].max(view.left_mm) + half_mm + 1.0,
        end[0].min(view.right_mm) - half_mm - 1.0,
    );
    let mut best: Option<(usize, [f64; 2])> = None;
    for (side, away, i) in places(preferred) {
        let x = if to > from {
            from + (to - from) * i as f64 / (CANDIDATES - 1) as f64
        } else {
            (from + to) / 2.0
        };
        let y = height_of(&points, x) + side * (CAP_MM / 2.0 + TEXT_GAP_MM + AWAY_MM[away]);
        let area = Area::of_label([x, y], text, Face::Italic);
        let mut cost = space.crossings(&area) * COST_LINE + i / 3 + away * COST_AWAY;
        cost += if side == preferred {
            0
        } else {
            COST_OTHER_SIDE
        };
        cost += if space.is_free(&area) { 0 } else { COST_LABEL };
        cost += if area.top < view.top_mm - 4.0 || area.bottom > view.bottom_mm {
            COST_OUTSIDE
        } else {
            0
        };
        if best.is_none_or(|(known, _)| cost < known) {
            best = Some((cost, [x, y]));
        }
    }
    if let Some((_, center)) = best {
        space.take(Area::of_label(center, text, Face::Italic));
        drawing.push(label(center, text));
    }
}

/// Sides, steps away and places along a limit.
fn places(preferred: f64) -> impl Iterator<Item = (f64, usize, usize)> {
    let sides = [preferred, -preferred].into_iter();
    let aways = move |side: f64| (0..AWAY_MM.len()).map(move |away| (side, away));
    sides
        .flat_map(aways)
        .flat_map(|(side, away)| (0..CANDIDATES).map(move |i| (side, away, i)))
}

fn label(center: [f64; 2], text: &str) -> Label {
    Label::new(center, text)
        .anchored(Anchor::Middle, Stand::Middle)
        .faced(Face::Italic)
        .rimmed()
}

fn height_of(points: &[[f64; 2]], x: f64) -> f64 {
    for pair in points.windows(2) {
        let ([x1, y1], [x2, y2]) = (pair[0], pair[1]);
        if x >= x1 && x <= x2 && x2 > x1 {
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1);
        }
    }
    points.first().map_or(0.0, |point| point[1])
}

fn box_of(region: &Region, view: &View) -> Area {
    let x = |value: f64| view.x(value.clamp(view.from, view.to));
    let y = |value: Option<f64>, other: f64| {
        value.map_or(other, |value| view.y(value.clamp(view.low, view.high)))
    };
    Area {
        left: x(region.from),
        right: x(region.to),
        top: y(region.high, view.top_mm),
        bottom: y(region.low, view.bottom_mm),
    }
}

/// Slanted hairlines within the region, and its two ends.
pub(super) fn draw_region(drawing: &mut Drawing, region: &Region, view: &View) {
    let area = box_of(region, view);
    let (width, height) = (area.right - area.left, area.bottom - area.top);
    if !(width > 0.0 && height > 0.0) {
        return;
    }
    let clip = Clip {
        left: area.left,
        top: area.top,
        width,
        height,
    };
    let mut group = Group {
        clip: Some(clip),
        ..Group::default()
    };
    let count = ((width + height) / HATCH_MM).ceil().min(400.0) as usize;
    for i in 1..=count {
        let x = area.left + HATCH_MM * i as f64;
        let hatch = Path::polyline(
            &[[x, area.top], [x - height, area.bottom]],
            Stroke::solid(HATCH, HAIRLINE_PT),
        );
        group.items.push(hatch.into());
    }
    drawing.push(group);
    for x in [area.left, area.right] {
        drawing.push(Path::polyline(
            &[[x, area.top], [x, area.bottom]],
            Stroke::solid(Ink::Soft, HAIRLINE_PT),
        ));
    }
}

/// The words of a region, where they cover least.
pub(super) fn draw_region_text(
    drawing: &mut Drawing,
    region: &Region,
    view: &View,
    space: &mut Space,
) {
    if region.text.is_empty() {
        return;
    }
    let area = box_of(region, view);
    let x = (area.left + area.right) / 2.0;
    if !x.is_finite() {
        return;
    }
    let rows = 14;
    let mut best: Option<(usize, [f64; 2])> = None;
    for i in 1..rows {
        let y = view.top_mm + view.height_mm() * f64::from(i) / f64::from(rows);
        let words = Area::of_label([x, y], &region.text, Face::Regular);
        let inside = words.top >= area.top && words.bottom <= area.bottom;
        let cost = space.crossings(&words) * COST_LINE
            + if space.is_free(&words) { 0 } else { COST_LABEL }
            + if inside { 0 } else { COST_OTHER_SIDE };
        if best.is_none_or(|(known, _)| cost < known) {
            best = Some((cost, [x, y]));
        }
    }
    if let Some((_, center)) = best {
        let words = Area::of_label(center, &region.text, Face::Regular);
        space.take(words);
        let (width, height) = (words.right - words.left, words.bottom - words.top);
        drawing.push(Path::rectangle(words.left, words.top, width, height).filled(Ink::Paper));
        drawing.push(Label {
            face: Face::Regular,
            ..label(center, &region.text)
        });
    }
}
