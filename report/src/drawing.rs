//! Line drawings without a format: paths, text and groups in a unit of their own, at a given scale on paper.

/// A drawing. Coordinates are in a unit of its own, x to the right and **y downwards**; line widths and type sizes are in
/// points on paper, so that they stay the same at any scale.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// A short name, read aloud in place of the picture.
    pub title: String,
    /// What the picture tells, for those who cannot see it.
    pub description: String,
    /// Left edge in the drawing's unit.
    pub left: f64,
    /// Upper edge in the drawing's unit.
    pub top: f64,
    /// Width in the drawing's unit.
    pub width: f64,
    /// Height in the drawing's unit.
    pub height: f64,
    /// Millimeters on paper for one unit of the drawing.
    pub mm_per_unit: f64,
    /// What is drawn, the first at the bottom.
    pub items: Vec<Item>,
}

/// Something drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A path, filled and/or stroked.
    Path(Path),
    /// A line of text.
    Label(Label),
    /// Items that belong together.
    Group(Group),
}

/// A path of one or more contours; filled by the even-odd rule.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Path {
    /// How the pen moves.
    pub segments: Vec<Segment>,
    /// What fills it.
    pub fill: Option<Ink>,
    /// What draws its outline.
    pub stroke: Option<Stroke>,
}

/// A movement of the pen to a point `[x, y]`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// Lifts the pen and moves it.
    Move([f64; 2]),
    /// A straight line.
    Line([f64; 2]),
    /// A cubic curve with two control points and its end.
    Curve([f64; 2], [f64; 2], [f64; 2]),
    /// Back to the start of the contour.
    Close,
}

/// What a mark on paper is made of. Color is for temperature alone: there is no free choice of color.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ink {
    /// Full ink.
    Full,
    /// Quieter ink for what stands back: dimensions, axes, captions.
    Soft,
    /// Ink for hairlines that only separate.
    Hairline,
    /// The paper itself, to cover what lies below.
    Paper,
    /// Ink at a density from 0 (paper) to 1 (full): loss density, hatching.
    Density(f64),
    /// A temperature as a fraction of the scale from 0 (cold, dark) to 1 (hot, bright).
    Heat(f64),
    /// The tint of `needs a look`; only beside its word.
    Look,
    /// The tint of `a limit is passed`; only beside its word.
    Passed,
}

/// How a line is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// What it is made of.
    pub ink: Ink,
    /// Width in points on paper.
    pub width_pt: f64,
    /// Lengths of dashes and gaps in points on paper; empty for a solid line.
    pub dash_pt: Vec<f64>,
}

/// Line widths in points: a hairline separates.
pub const HAIRLINE_PT: f64 = 0.35;
/// Line width in points of outlines.
pub const THIN_PT: f64 = 0.6;
/// Line width in points of what the drawing is about.
pub const STRONG_PT: f64 = 1.1;
/// Type size in points of labels in drawings.
pub const LABEL_PT: f64 = 8.0;

/// A line of text in a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// Where its anchor lies.
    pub at: [f64; 2],
    /// The words.
    pub text: String,
    /// Which point of the text lies at `at`, along the line.
    pub anchor: Anchor,
    /// Which height of the text lies at `at`.
    pub stand: Stand,
    /// Turned by this many degrees, clockwise as seen.
    pub turn_deg: f64,
    /// Type size in points on paper.
    pub size_pt: f64,
    /// The face.
    pub face: Face,
    /// What it is made of.
    pub ink: Ink,
    /// Whether a narrow rim of paper keeps it legible on lines below.
    pub rim: bool,
}

/// Which point along a line of text is its anchor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Anchor {
    /// Its start.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// Which height of a line of text is its anchor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stand {
    /// The base line.
    #[default]
    Base,
    /// Half the height of capitals: centered on `at`.
    Middle,
    /// The top of capitals: the text hangs below `at`.
    Hang,
}

/// The three faces of the one family.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Face {
    /// Upright.
    #[default]
    Regular,
    /// Italic.
    Italic,
    /// Semibold.
    Strong,
}

/// Items that belong together and may be pointed at.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Group {
    /// An identifier within the drawing, for example `tc-3`.
    pub id: Option<String>,
    /// A short name, read aloud and shown when pointed at.
    pub title: Option<String>,
    /// Outside this box nothing of the group is drawn.
    pub clip: Option<Clip>,
    /// The items.
    pub items: Vec<Item>,
}

/// An upright box in the drawing's unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clip {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Width, above zero.
    pub width: f64,
    /// Height, above zero.
    pub height: f64,
}

impl Stroke {
    /// A solid line.
    #[must_use]
    pub fn solid(ink: Ink, width_pt: f64) -> Stroke {
        Stroke {
            ink,
            width_pt,
            dash_pt: Vec::new(),
        }
    }

    /// A hairline that only separates.
    #[must_use]
    pub fn hairline() -> Stroke {
        Stroke::solid(Ink::Hairline, HAIRLINE_PT)
    }

    /// The same line with dashes and gaps of these lengths in points.
    #[must_use]
    pub fn dashed(mut self, dash_pt: &[f64]) -> Stroke {
        self.dash_pt = dash_pt.to_vec();
        self
    }
}

impl Label {
    /// Words in ordinary label size and full ink, starting at a point.
    pub fn new(at: [f64; 2], text: impl Into<String>) -> Label {
        Label {
            at,
            text: text.into(),
            anchor: Anchor::Start,
            stand: Stand::Base,
            turn_deg: 0.0,
            size_pt: LABEL_PT,
            face: Face::Regular,
            ink: Ink::Full,
            rim: false,
        }
    }

    /// The same words with another anchor.
    #[must_use]
    pub fn anchored(mut self, anchor: Anchor, stand: Stand) -> Label {
        self.anchor = anchor;
        self.stand = stand;
        self
    }

    /// The same words in another ink.
    #[must_use]
    pub fn inked(mut self, ink: Ink) -> Label {
        self.ink = ink;
        self
    }

    /// The same words in another face.
    #[must_use]
    pub fn faced(mut self, face: Face) -> Label {
        self.face = face;
        self
    }

    /// The same words in another size, in points.
    #[must_use]
    pub fn sized(mut self, size_pt: f64) -> Label {
        self.size_pt = size_pt;
        self
    }

    /// The same words turned clockwise by this many degrees.
    #[must_use]
    pub fn turned(mut self, turn_deg: f64) -> Label {
        self.turn_deg = turn_deg;
        self
    }

    /// The same words with a rim of paper.
    #[must_use]
    pub fn rimmed(mut self) -> Label {
        self.rim = true;
        self
    }
}

impl From<Label> for Item {
    fn from(label: Label) -> Item {
        Item::Label(label)
    }
}

impl From<Path> for Item {
    fn from(path: Path) -> Item {
        Item::Path(path)
    }
}

impl From<Group> for Item {
    fn from(group: Group) -> Item {
        Item::Group(group)
    }
}

impl Path {
    /// An open line through points.
    #[must_use]
    pub fn polyline(points: &[[f64; 2]], stroke: Stroke) -> Path {
        Path {
            segments: contour(points, false),
            fill: None,
            stroke: Some(stroke),
        }
    }

    /// A closed, filled polygon without outline.
    #[must_use]
    pub fn polygon(points: &[[f64; 2]], fill: Ink) -> Path {
        Path {
            segments: contour(points, true),
            fill: Some(fill),
            stroke: None,
        }
    }

    /// A closed outline without filling.
    #[must_use]
    pub fn outline(points: &[[f64; 2]], stroke: Stroke) -> Path {
        Path {
            segments: contour(points, true),
            fill: None,
            stroke: Some(stroke),
        }
    }

    /// An upright rectangle without ink; give it fill or stroke.
    #[must_use]
    pub fn rectangle(left: f64, top: f64, width: f64, height: f64) -> Path {
        let (right, bottom) = (left + width, top + height);
        let corners = [[left, top], [right, top], [right, bottom], [left, bottom]];
        Path {
            segments: contour(&corners, true),
            fill: None,
            stroke: None,
        }
    }

    /// A circle without ink; give it fill or stroke.
    #[must_use]
    pub fn circle(center: [f64; 2], radius: f64) -> Path {
        // Four cubics match a circle to 0.03 % of its radius.
        const REACH: f64 = 0.552_284_75;
        let [x, y] = center;
        let (r, k) = (radius, radius * REACH);
        let segments = vec![
            Segment::Move([x + r, y]),
            Segment::Curve([x + r, y + k], [x + k, y + r], [x, y + r]),
            Segment::Curve([x - k, y + r], [x - r, y + k], [x - r, y]),
            Segment::Curve([x - r, y - k], [x - k, y - r], [x, y - r]),
            Segment::Curve([x + k, y - r], [x + r, y - k], [x + r, y]),
            Segment::Close,
        ];
        Path {
            segments,
            fill: None,
            stroke: None,
        }
    }

    /// The same path, filled.
    #[must_use]
    pub fn filled(mut self, fill: Ink) -> Path {
        self.fill = Some(fill);
        self
    }

    /// The same path, stroked.
    #[must_use]
    pub fn stroked(mut self, stroke: Stroke) -> Path {
        self.stroke = Some(stroke);
        self
    }
}

/// Segments through points, closed or open.
#[must_use]
pub fn contour(points: &[[f64; 2]], closed: bool) -> Vec<Segment> {
    let mut segments: Vec<Segment> = Vec::with_capacity(points.len() + 1);
    for (i, point) in points.iter().enumerate() {
        segments.push(if i == 0 {
            Segment::Move(*point)
        } else {
            Segment::Line(*point)
        });
    }
    if closed && !points.is_empty() {
        segments.push(Segment::Close);
    }
    segments
}

impl Drawing {
    /// An empty drawing of this size in its own unit, at this many millimeters on paper for one unit.
    pub fn new(title: impl Into<String>, width: f64, height: f64, mm_per_unit: f64) -> Drawing {
        Drawing {
            title: title.into(),
            width,
            height,
            mm_per_unit,
            ..Drawing::default()
        }
    }

    /// Draws one more item on top.
    pub fn push(&mut self, item: impl Into<Item>) {
        self.items.push(item.into());
    }

    /// Size on paper in millimeters: width and height.
    #[must_use]
    pub fn size_mm(&self) -> (f64, f64) {
        (
            self.width * self.mm_per_unit,
            self.height * self.mm_per_unit,
        )
    }

    /// How many of the drawing's units are this many points on paper.
    #[must_use]
    pub fn units_of_pt(&self, points: f64) -> f64 {
        points * crate::MM_PER_PT / self.mm_per_unit
    }
}
