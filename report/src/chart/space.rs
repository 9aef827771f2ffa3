//! Where things lie on paper, and what is taken already.

use crate::drawing::{Face, LABEL_PT};
use crate::face::{CAP_HEIGHT_EM, text_width_pt};

/// Height of capitals of a label in mm.
pub(super) const CAP_MM: f64 = LABEL_PT * CAP_HEIGHT_EM * crate::MM_PER_PT;

/// The field of a panel on paper, and the values at its edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct View {
    pub left_mm: f64,
    pub right_mm: f64,
    pub top_mm: f64,
    pub bottom_mm: f64,
    pub from: f64,
    pub to: f64,
    pub low: f64,
    pub high: f64,
}

impl View {
    pub(super) fn x(&self, value: f64) -> f64 {
        self.left_mm + (value - self.from) / (self.to - self.from) * (self.right_mm - self.left_mm)
    }

    pub(super) fn y(&self, value: f64) -> f64 {
        self.bottom_mm
            - (value - self.low) / (self.high - self.low) * (self.bottom_mm - self.top_mm)
    }

    pub(super) fn width_mm(&self) -> f64 {
        self.right_mm - self.left_mm
    }

    pub(super) fn height_mm(&self) -> f64 {
        self.bottom_mm - self.top_mm
    }
}

/// An upright box on paper in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Area {
    /// The box of a label whose middle lies here, with a little air.
    pub(super) fn of_label(center: [f64; 2], words: &str, face: Face) -> Area {
        let half_width = text_width_pt(face, words, LABEL_PT) * crate::MM_PER_PT / 2.0 + 0.6;
        let half_height = CAP_MM / 2.0 + 0.5;
        Area {
            left: center[0] - half_width,
            right: center[0] + half_width,
            top: center[1] - half_height,
            bottom: center[1] + half_height,
        }
    }

    pub(super) fn meets(&self, other: &Area) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub(super) fn is_within(&self, view: &View) -> bool {
        self.left >= view.left_mm
            && self.right <= view.right_mm
            && self.top >= view.top_mm
            && self.bottom <= view.bottom_mm
    }

    /// Whether a straight line passes through (Liang and Barsky 1984).
    fn is_crossed(&self, [x1, y1]: [f64; 2], [x2, y2]: [f64; 2]) -> bool {
        let (dx, dy) = (x2 - x1, y2 - y1);
        let (mut enter, mut leave) = (0.0f64, 1.0f64);
        let edges = [
            (-dx, x1 - self.left),
            (dx, self.right - x1),
            (-dy, y1 - self.top),
            (dy, self.bottom - y1),
        ];
        for (slope, distance) in edges {
            if slope == 0.0 {
                if distance < 0.0 {
                    return false;
                }
            } else if slope < 0.0 {
                enter = enter.max(distance / slope);
            } else {
                leave = leave.min(distance / slope);
            }
        }
        enter <= leave
    }
}

/// What is taken in a panel: labels, and lines that words should not cover.
#[derive(Debug, Clone, Default)]
pub(super) struct Space {
    areas: Vec<Area>,
    lines: Vec<Course>,
}

/// A line on paper; where it never goes back, only the pieces near an area are looked at.
#[derive(Debug, Clone)]
struct Course {
    points: Vec<[f64; 2]>,
    goes_right: bool,
}

impl Course {
    /// The points whose pieces may reach between two places along the axis.
    fn between(&self, left: f64, right: f64) -> &[[f64; 2]] {
        if !self.goes_right {
            return &self.points;
        }
        let from = self.points.partition_point(|p| p[0] < left);
        let to = self.points.partition_point(|p| p[0] <= right);
        &self.points[from.saturating_sub(1)..(to + 1).min(self.points.len())]
    }
}

impl Space {
    pub(super) fn add_line(&mut self, line: &[[f64; 2]]) {
        self.lines.push(Course {
            points: line.to_vec(),
            goes_right: line.is_sorted_by(|a, b| a[0] <= b[0]),
        });
    }

    pub(super) fn take(&mut self, area: Area) {
        self.areas.push(area);
    }

    pub(super) fn is_free(&self, area: &Area) -> bool {
        !self.areas.iter().any(|taken| taken.meets(area))
    }

    /// How many pieces of lines pass through an area.
    pub(super) fn crossings(&self, area: &Area) -> usize {
        let near = self.lines.iter().map(|l| l.between(area.left, area.right));
        let pieces = near.flat_map(|points| points.windows(2));
        pieces
            .filter(|ends| area.is_crossed(ends[0], ends[1]))
            .count()
    }
}
