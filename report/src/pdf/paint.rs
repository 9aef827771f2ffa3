//! Pages painted on the surface of the PDF.

use krilla::color::{luma, rgb};
use krilla::geom::{Path as PdfPath, PathBuilder, Point, Transform};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Paint, Stroke as PdfStroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};
use krilla::text::{Font, GlyphId, KrillaGlyph};

use crate::drawing::{Anchor, Drawing, Face, Group, Ink, Item, Label, Path, Segment, Stroke};
use crate::error::ReportError;
use crate::face::{self, Shaped, shape};
use crate::layout::{Page, Placed, What};
use crate::scale;
use crate::svg::stand_em;

use super::structure::Structure;

/// Grays of the inks, 0 black to 255 white: dark enough for a photocopier.
const SOFT_GRAY: u8 = 0x48;
const HAIRLINE_GRAY: u8 = 0x8a;
/// The two attention tints, both dark.
const LOOK_RGB: [u8; 3] = [0x6b, 0x40, 0x00];
const PASSED_RGB: [u8; 3] = [0x8c, 0x12, 0x12];
/// Width of the rim of paper around a label in points.
const RIM_PT: f32 = 2.2;

/// The faces, ready to be embedded.
pub(super) struct Fonts {
    regular: Font,
    italic: Font,
    strong: Font,
}

impl Fonts {
    pub(super) fn load() -> Result<Fonts, ReportError> {
        let load = |file: &'static [u8]| {
            Font::new(file.into(), 0).ok_or_else(|| ReportError::Archival {
                reason: "the typeface cannot be read".to_string(),
            })
        };
        Ok(Fonts {
            regular: load(face::REGULAR_TTF)?,
            italic: load(face::ITALIC_TTF)?,
            strong: load(face::STRONG_TTF)?,
        })
    }

    fn of(&self, face: Face) -> Font {
        match face {
            Face::Regular => self.regular.clone(),
            Face::Italic => self.italic.clone(),
            Face::Strong => self.strong.clone(),
        }
    }
}

/// Paints one page.
pub(super) struct Painter<'p, 's> {
    pub surface: &'p mut Surface<'s>,
    pub fonts: &'p Fonts,
}

impl Painter<'_, '_> {
    /// Everything on a page; neighbors of one node share a tag.
    pub(super) fn page(&mut self, page: &Page, structure: &mut Structure) {
        for run in page.placed.chunk_by(|one, next| one.tag == next.tag) {
            match run[0].tag {
                Some(node) => {
                    let identifier = self.surface.start_tagged(content_tag(&run[0]));
                    structure.add(node, identifier);
                }
                None => {
                    let artifact = Artifact::with_kind(ArtifactType::Layout);
                    self.surface.start_tagged(ContentTag::Artifact(artifact));
                }
            }
            run.iter().for_each(|placed| self.placed(placed));
            self.surface.end_tagged();
        }
    }

    fn placed(&mut self, placed: &Placed) {
        let (x, y) = (placed.x_pt, placed.y_pt);
        match &placed.what {
            What::Words { style, shaped } => {
                self.surface.set_stroke(None);
                self.surface.set_fill(Some(fill(style.ink)));
                self.glyphs(shaped, style.face, style.size_pt, x, y, false);
            }
            What::Bar {
                width_pt,
                height_pt,
                ink,
            } => {
                let bar = Path::rectangle(x, y, *width_pt, *height_pt).filled(*ink);
                self.path(&bar, |point| point);
            }
            What::TickBox { side_pt } => {
                let stroke = Stroke::solid(Ink::Full, 0.75);
                let tick_box =
                    Path::rectangle(x, y - side_pt * 0.86, *side_pt, *side_pt).stroked(stroke);
                self.path(&tick_box, |point| point);
            }
            What::Drawing { drawing, shrink } => self.drawing(drawing, *shrink, x, y),
            What::Nothing => {}
        }
    }

    fn drawing(&mut self, drawing: &Drawing, shrink: f64, x_pt: f64, y_pt: f64) {
        let pt_per_unit = drawing.mm_per_unit / crate::MM_PER_PT;
        let place = Transform::from_row(
            shrink as f32,
            0.0,
            0.0,
            shrink as f32,
            x_pt as f32,
            y_pt as f32,
        );
        self.surface.push_transform(&place);
        let to_pt = |[x, y]: [f64; 2]| {
            [
                (x - drawing.left) * pt_per_unit,
                (y - drawing.top) * pt_per_unit,
            ]
        };
        for item in &drawing.items {
            self.item(item, &to_pt);
        }
        self.surface.pop();
    }

    fn item(&mut self, item: &Item, to_pt: &impl Fn([f64; 2]) -> [f64; 2]) {
        match item {
            Item::Path(path) => self.path(path, to_pt),
            Item::Label(label) => self.label(label, to_pt(label.at)),
            Item::Group(group) => self.group(group, to_pt),
        }
    }

    fn group(&mut self, group: &Group, to_pt: &impl Fn([f64; 2]) -> [f64; 2]) {
        let clip = group.clip.and_then(|clip| {
            pdf_path(
                &Path::rectangle(clip.left, clip.top, clip.width, clip.height),
                to_pt,
            )
        });
        if let Some(outline) = &clip {
            self.surface.push_clip_path(outline, &FillRule::EvenOdd);
        }
        group.items.iter().for_each(|inner| self.item(inner, to_pt));
        if clip.is_some() {
            self.surface.pop();
        }
    }

    fn path(&mut self, path: &Path, to_pt: impl Fn([f64; 2]) -> [f64; 2]) {
        let Some(outline) = pdf_path(path, to_pt) else {
            return;
        };
        if path.fill.is_none() && path.stroke.is_none() {
            return;
        }
        self.surface.set_fill(path.fill.map(fill));
        self.surface.set_stroke(path.stroke.as_ref().map(stroke));
        self.surface.draw_path(&outline);
    }

    fn label(&mut self, label: &Label, [x, y]: [f64; 2]) {
        let shaped = shape(label.face, &label.text);
        let width_pt = shaped.width_em * label.size_pt;
        let start_pt = match label.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -width_pt / 2.0,
            Anchor::End => -width_pt,
        };
        let base_pt = label.size_pt * stand_em(label.stand);
        let (sin, cos) = label.turn_deg.to_radians().sin_cos();
        let (sin, cos) = (sin as f32, cos as f32);
        self.surface.push_transform(&Transform::from_row(
            cos, sin, -sin, cos, x as f32, y as f32,
        ));
        if label.rim {
            self.surface.set_fill(None);
            self.surface.set_stroke(Some(PdfStroke {
                width: RIM_PT,
                line_join: LineJoin::Round,
                ..paper_stroke()
            }));
            self.glyphs(&shaped, label.face, label.size_pt, start_pt, base_pt, true);
        }
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(fill(label.ink)));
        self.glyphs(&shaped, label.face, label.size_pt, start_pt, base_pt, false);
        self.surface.pop();
    }

    fn glyphs(
        &mut self,
        shaped: &Shaped,
        face: Face,
        size_pt: f64,
        x: f64,
        y: f64,
        outlined: bool,
    ) {
        if shaped.glyphs.is_empty() {
            return;
        }
        let glyphs: Vec<KrillaGlyph> = shaped
            .glyphs
            .iter()
            .map(|glyph| {
                let (advance, shift, rise) = (
                    glyph.advance_em as f32,
                    glyph.shift_em as f32,
                    glyph.rise_em as f32,
                );
                KrillaGlyph::new(
                    GlyphId::new(glyph.id),
                    advance,
                    shift,
                    rise,
                    0.0,
                    glyph.bytes.clone(),
                    None,
                )
            })
            .collect();
        let start = Point::from_xy(x as f32, y as f32);
        self.surface.draw_glyphs(
            start,
            &glyphs,
            self.fonts.of(face),
            &shaped.text,
            size_pt as f32,
            outlined,
        );
    }
}

fn content_tag<'t>(placed: &Placed) -> ContentTag<'t> {
    match placed.what {
        What::Words { .. } => ContentTag::Span(SpanTag::empty()),
        _ => ContentTag::Other,
    }
}

fn pdf_path(path: &Path, to_pt: impl Fn([f64; 2]) -> [f64; 2]) -> Option<PdfPath> {
    let mut builder = PathBuilder::new();
    let at = |point: [f64; 2]| to_pt(point).map(|number| number as f32);
    for segment in &path.segments {
        match segment {
            Segment::Move(to) => {
                let [x, y] = at(*to);
                builder.move_to(x, y);
            }
            Segment::Line(to) => {
                let [x, y] = at(*to);
                builder.line_to(x, y);
            }
            Segment::Curve(first, second, to) => {
                let ([x1, y1], [x2, y2], [x, y]) = (at(*first), at(*second), at(*to));
                builder.cubic_to(x1, y1, x2, y2, x, y);
            }
            Segment::Close => builder.close(),
        }
    }
    builder.finish()
}

fn fill(ink: Ink) -> Fill {
    Fill {
        paint: paint(ink),
        opacity: NormalizedF32::ONE,
        rule: FillRule::EvenOdd,
    }
}

fn paper_stroke() -> PdfStroke {
    PdfStroke {
        paint: paint(Ink::Paper),
        ..PdfStroke::default()
    }
}

fn stroke(stroke: &Stroke) -> PdfStroke {
    let dash = (!stroke.dash_pt.is_empty()).then(|| StrokeDash {
        array: stroke.dash_pt.iter().map(|dash| *dash as f32).collect(),
        offset: 0.0,
    });
    PdfStroke {
        paint: paint(stroke.ink),
        width: stroke.width_pt as f32,
        line_cap: LineCap::Butt,
        line_join: LineJoin::Round,
        dash,
        ..PdfStroke::default()
    }
}

fn paint(ink: Ink) -> Paint {
    let gray = |level: u8| luma::Color::new(level).into();
    let color = |[red, green, blue]: [u8; 3]| rgb::Color::new(red, green, blue).into();
    match ink {
        Ink::Full => gray(0),
        Ink::Soft => gray(SOFT_GRAY),
        Ink::Hairline => gray(HAIRLINE_GRAY),
        Ink::Paper => gray(255),
        Ink::Density(density) => gray((255.0 * (1.0 - density.clamp(0.0, 1.0))).round() as u8),
        Ink::Heat(fraction) => color(scale::color(fraction)),
        Ink::Look => color(LOOK_RGB),
        Ink::Passed => color(PASSED_RGB),
    }
}
