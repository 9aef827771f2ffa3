//! Pictures of a section: temperature in color, loss in ink, field lines and outlines, with millimeters at the edges.
//!
//! The caller speaks in millimeters of the part, `[along, up]`; the drawing is in millimeters on paper.

mod bands;

pub use bands::Triangles;

use crate::drawing::{
    Anchor, Clip, Drawing, Group, HAIRLINE_PT, Ink, Item, LABEL_PT, Label, Path, STRONG_PT,
    Segment, Stand, Stroke, THIN_PT, contour,
};
use crate::face::text_width_pt;
use crate::scale;
use crate::simplify::simplified;
use crate::ticks::decimal_ticks;

/// The part of the section that is shown, in mm of the part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Left edge along the axis.
    pub left_mm: f64,
    /// Right edge along the axis.
    pub right_mm: f64,
    /// Lower edge.
    pub low_mm: f64,
    /// Upper edge.
    pub high_mm: f64,
}

/// A picture in the making.
#[derive(Debug, Clone)]
pub struct SectionPicture {
    drawing: Drawing,
    window: Window,
    /// Millimeters on paper for one mm of the part.
    paper_per_mm: f64,
    /// Left and upper edge of the field on paper.
    left: f64,
    top: f64,
    /// Lowest point used so far on paper.
    bottom: f64,
    layer: Vec<Item>,
}

/// Outlines are drawn with this accuracy on paper, in mm: less than a dot of a printer.
const ACCURACY_MM: f64 = 0.04;
/// Wanted distance of ticks in mm on paper.
const TICK_EVERY_MM: f64 = 18.0;
/// Length of ticks in mm.
const TICK_MM: f64 = 1.2;
/// Height of a row of numbers in mm.
const ROW_MM: f64 = 4.4;
/// Width added to a line for its rim of paper, in points.
const RIM_PT: f64 = 0.9;
/// More bands than this no eye tells apart.
const MOST_BANDS: usize = 64;

impl SectionPicture {
    /// An empty picture whose field is so wide on paper that the whole has this width.
    pub fn new(title: impl Into<String>, window: Window, width_mm: f64) -> SectionPicture {
        let window = usable(window);
        let labels = decimal_ticks(window.low_mm, window.high_mm, 4.0);
        let widest_pt = labels
            .iter()
            .map(|tick| text_width_pt(Default::default(), &tick.label, LABEL_PT));
        let left = widest_pt.fold(0.0, f64::max) * crate::MM_PER_PT + TICK_MM + 1.2;
        // Half a number may stand out at the right.
        let field = (width_mm - left - 5.0).max(10.0);
        let paper_per_mm = field / (window.right_mm - window.left_mm);
        let top = 2.0;
        let bottom = top + (window.high_mm - window.low_mm) * paper_per_mm;
        let drawing = Drawing::new(title, width_mm.max(left + field), bottom, 1.0);
        SectionPicture {
            drawing,
            window,
            paper_per_mm,
            left,
            top,
            bottom,
            layer: Vec::new(),
        }
    }

    /// What the picture tells, for those who cannot see it.
    pub fn describe(&mut self, description: impl Into<String>) {
        self.drawing.description = description.into();
    }

    /// Scale of the picture: millimeters on paper for one mm of the part.
    #[must_use]
    pub fn paper_per_mm(&self) -> f64 {
        self.paper_per_mm
    }

    /// Where a point of the part lies on paper.
    #[must_use]
    pub fn on_paper(&self, [along_mm, up_mm]: [f64; 2]) -> [f64; 2] {
        [
            self.left + (along_mm - self.window.left_mm) * self.paper_per_mm,
            self.top + (self.window.high_mm - up_mm) * self.paper_per_mm,
        ]
    }

    /// Temperatures at the nodes as bands of color between the ends of the scale.
    pub fn heat(&mut self, mesh: Triangles, values: &[f64], cold: f64, hot: f64, bands: usize) {
        let bands = bands.clamp(1, MOST_BANDS);
        let color = |band: usize| Ink::Heat((band as f64 + 0.5) / bands as f64);
        self.fill(mesh.outlines(), color(0));
        for band in 1..bands {
            let level = cold + (hot - cold) * band as f64 / bands as f64;
            self.fill(mesh.area_above(values, level), color(band));
        }
    }

    /// Densities at the nodes as bands of ink: paper at `none`, full ink at `full`.
    pub fn density(&mut self, mesh: Triangles, values: &[f64], none: f64, full: f64, bands: usize) {
        let bands = bands.clamp(1, MOST_BANDS);
        self.fill(mesh.outlines(), Ink::Paper);
        for band in 1..=bands {
            let level = none + (full - none) * band as f64 / (bands + 1) as f64;
            let density = band as f64 / bands as f64;
            self.fill(mesh.area_above(values, level), Ink::Density(density));
        }
    }

    /// Lines of equal value at these levels: isotherms, or field lines of the flux function.
    pub fn lines(&mut self, mesh: Triangles, values: &[f64], levels: &[f64], stroke: &Stroke) {
        for level in levels {
            let lines = mesh.lines_at(values, *level);
            let segments = lines
                .iter()
                .flat_map(|line| self.segments(line, false))
                .collect();
            self.add_rimmed(segments, stroke);
        }
    }

    /// An outline through points of the part, for example of the wall or the weld.
    pub fn outline(&mut self, points_mm: &[[f64; 2]], closed: bool, stroke: &Stroke) {
        let segments = contour(&self.all_on_paper(points_mm), closed);
        if stroke.dash_pt.is_empty() {
            self.add(Path {
                segments,
                fill: None,
                stroke: Some(stroke.clone()),
            });
        } else {
            self.add_rimmed(segments, stroke);
        }
    }

    /// A filled polygon through points of the part, for example the blanket.
    pub fn area(&mut self, points_mm: &[[f64; 2]], ink: Ink, stroke: Option<Stroke>) {
        let segments = contour(&self.all_on_paper(points_mm), true);
        self.add(Path {
            segments,
            fill: Some(ink),
            stroke,
        });
    }

    /// A turn of the coil, seen in section.
    pub fn turn(&mut self, center_mm: [f64; 2], radius_mm: f64) {
        let circle = Path::circle(self.on_paper(center_mm), radius_mm * self.paper_per_mm);
        self.add(
            circle
                .filled(Ink::Paper)
                .stroked(Stroke::solid(Ink::Full, THIN_PT)),
        );
    }

    /// A point with its name beside it, for example a thermocouple; the group is `tc-NAME`.
    pub fn point(&mut self, at_mm: [f64; 2], name: &str, title: &str) {
        let [x, y] = self.on_paper(at_mm);
        let dot = Path::circle([x, y], 0.8)
            .filled(Ink::Paper)
            .stroked(Stroke::solid(Ink::Full, STRONG_PT));
        let label = Label::new([x + 1.5, y - 1.2], name)
            .faced(crate::Face::Strong)
            .rimmed();
        let title = if title.is_empty() {
            None
        } else {
            Some(title.to_string())
        };
        let items = vec![dot.into(), label.into()];
        self.layer.push(Item::Group(Group {
            id: Some(format!("tc-{name}")),
            title,
            items,
            clip: None,
        }));
    }

    /// Words at a point of the part.
    pub fn words(&mut self, at_mm: [f64; 2], words: &str, anchor: Anchor) {
        let label = Label::new(self.on_paper(at_mm), words)
            .anchored(anchor, Stand::Middle)
            .rimmed();
        self.layer.push(label.into());
    }

    /// Ticks in mm of the part along the lower and the left edge.
    pub fn axes(&mut self) {
        self.axes_in("mm", 1.0);
    }

    /// The same in another unit of length, of so many mm.
    pub fn axes_in(&mut self, unit: &str, unit_mm: f64) {
        self.flush();
        let Window {
            left_mm,
            right_mm,
            low_mm,
            high_mm,
        } = self.window;
        let (width, height) = (
            (right_mm - left_mm) * self.paper_per_mm,
            (high_mm - low_mm) * self.paper_per_mm,
        );
        let (field_left, field_bottom) = (self.left, self.top + height);
        let stroke = Stroke::solid(Ink::Soft, HAIRLINE_PT);
        let [left, right, low, high] = [left_mm, right_mm, low_mm, high_mm].map(|mm| mm / unit_mm);
        let count = decimal_ticks(left, right, (width / TICK_EVERY_MM).max(2.0));
        let last = count.len().saturating_sub(1);
        for (i, tick) in count.into_iter().enumerate() {
            let x = self.on_paper([tick.value * unit_mm, low_mm])[0];
            let label = if i == last {
                format!("{} {unit}", tick.label)
            } else {
                tick.label
            };
            self.drawing.push(Path::polyline(
                &[[x, field_bottom], [x, field_bottom + TICK_MM]],
                stroke.clone(),
            ));
            let at = [x, field_bottom + TICK_MM + 1.0];
            self.drawing.push(
                Label::new(at, label)
                    .anchored(Anchor::Middle, Stand::Hang)
                    .inked(Ink::Soft),
            );
        }
        for tick in decimal_ticks(low, high, (height / TICK_EVERY_MM).clamp(2.0, 4.0)) {
            let y = self.on_paper([left_mm, tick.value * unit_mm])[1];
            self.drawing.push(Path::polyline(
                &[[field_left - TICK_MM, y], [field_left, y]],
                stroke.clone(),
            ));
            let at = [field_left - TICK_MM - 0.8, y];
            self.drawing.push(
                Label::new(at, tick.label)
                    .anchored(Anchor::End, Stand::Middle)
                    .inked(Ink::Soft),
            );
        }
        let corner = [
            [field_left, self.top],
            [field_left, field_bottom],
            [field_left + width, field_bottom],
        ];
        self.drawing.push(Path::polyline(&corner, stroke));
        self.bottom = field_bottom + TICK_MM + ROW_MM;
    }

    /// The color scale below the picture.
    pub fn heat_scale(&mut self, cold: f64, hot: f64, unit: &str, bands: usize) {
        self.flush();
        let length = (self.drawing.width - self.left - 12.0).min(80.0);
        let at = [self.left, self.bottom + 2.0];
        let bands = bands.clamp(1, MOST_BANDS);
        self.drawing
            .items
            .extend(scale::bar(at, length, cold, hot, unit, bands));
        self.bottom += 2.0 + scale::BAR_HEIGHT_MM;
    }

    /// The finished drawing.
    #[must_use]
    pub fn finish(mut self) -> Drawing {
        self.flush();
        self.drawing.height = self.bottom + 0.5;
        self.drawing
    }

    /// Puts what was drawn so far into the field, clipped to it.
    fn flush(&mut self) {
        let Window {
            left_mm,
            right_mm,
            low_mm,
            high_mm,
        } = self.window;
        let clip = Clip {
            left: self.left,
            top: self.top,
            width: (right_mm - left_mm) * self.paper_per_mm,
            height: (high_mm - low_mm) * self.paper_per_mm,
        };
        let items = std::mem::take(&mut self.layer);
        if !items.is_empty() {
            self.drawing.push(Group {
                clip: Some(clip),
                items,
                ..Group::default()
            });
        }
    }

    fn add(&mut self, path: Path) {
        if !path.segments.is_empty() {
            self.layer.push(path.into());
        }
    }

    /// A line with a narrow rim of paper, to be seen on every color.
    fn add_rimmed(&mut self, segments: Vec<Segment>, stroke: &Stroke) {
        let rim = Stroke {
            ink: Ink::Paper,
            width_pt: stroke.width_pt + RIM_PT,
            ..stroke.clone()
        };
        self.add(Path {
            segments: segments.clone(),
            fill: None,
            stroke: Some(rim),
        });
        self.add(Path {
            segments,
            fill: None,
            stroke: Some(stroke.clone()),
        });
    }

    fn fill(&mut self, rings: Vec<Vec<[f64; 2]>>, ink: Ink) {
        let mut path = Path {
            fill: Some(ink),
            ..Path::default()
        };
        for ring in rings {
            path.segments.extend(self.segments(&ring, true));
        }
        self.add(path);
    }

    fn segments(&self, points_mm: &[[f64; 2]], closed: bool) -> Vec<Segment> {
        let points = simplified(&self.all_on_paper(points_mm), closed, ACCURACY_MM);
        if points.len() < 2 {
            Vec::new()
        } else {
            contour(&points, closed)
        }
    }

    fn all_on_paper(&self, points_mm: &[[f64; 2]]) -> Vec<[f64; 2]> {
        points_mm
            .iter()
            .map(|point| self.on_paper(*point))
            .collect()
    }
}

/// A window that has a size, whatever was asked for.
fn usable(window: Window) -> Window {
    let (left_mm, right_mm) = ordered(window.left_mm, window.right_mm);
    let (low_mm, high_mm) = ordered(window.low_mm, window.high_mm);
    Window {
        left_mm,
        right_mm,
        low_mm,
        high_mm,
    }
}

fn ordered(low: f64, high: f64) -> (f64, f64) {
    if low.is_finite() && high.is_finite() && high > low {
        (low, high)
    } else {
        (0.0, 1.0)
    }
}

/// `count` levels spread evenly between the least and the greatest value, without the ends.
#[must_use]
pub fn even_levels(values: &[f64], count: usize) -> Vec<f64> {
    let finite = || values.iter().copied().filter(|value| value.is_finite());
    let (low, high) = (
        finite().fold(f64::INFINITY, f64::min),
        finite().fold(f64::NEG_INFINITY, f64::max),
    );
    if low >= high {
        return Vec::new();
    }
    (1..=count)
        .map(|i| low + (high - low) * i as f64 / (count + 1) as f64)
        .collect()
}
