//! Drawings as SVG. Everything is written in points on paper; inks are classes, so that a style sheet can turn the sheet
//! dark without touching the drawing.

use std::fmt::Write;

use crate::drawing::{
    Anchor, Drawing, Face, Group, Ink, Item, Label, Path, Segment, Stand, Stroke,
};
use crate::face::CAP_HEIGHT_EM;
use crate::scale;

/// Inks of a drawing that stands alone: on light and on dark ground.
const ALONE_STYLE: &str = include_str!("html/ink.css");

/// A file of its own, with its inks for light and dark ground.
#[must_use]
pub fn svg(drawing: &Drawing) -> String {
    let (width_mm, height_mm) = drawing.size_mm();
    let size = format!(
        "width=\"{}mm\" height=\"{}mm\"",
        number(width_mm),
        number(height_mm)
    );
    let style = format!("<style>{ALONE_STYLE}svg{{background:var(--paper)}}</style>");
    element(
        drawing,
        &format!("xmlns=\"http://www.w3.org/2000/svg\" {size}"),
        &style,
    )
}

/// An element to stand within a page whose style sheet is [`crate::STYLE`].
#[must_use]
pub fn svg_inline(drawing: &Drawing) -> String {
    let width_pt = number(drawing.size_mm().0 / crate::MM_PER_PT);
    element(drawing, &format!("style=\"--own-width:{width_pt}pt\""), "")
}

fn element(drawing: &Drawing, attributes: &str, style: &str) -> String {
    let (width_mm, height_mm) = drawing.size_mm();
    let (width, height) = (
        number(width_mm / crate::MM_PER_PT),
        number(height_mm / crate::MM_PER_PT),
    );
    let mut out = format!(
        "<svg class=\"drawing\" role=\"img\" {attributes} viewBox=\"0 0 {width} {height}\">{style}"
    );
    push_title(&mut out, &drawing.title);
    if !drawing.description.is_empty() {
        let _ = write!(out, "<desc>{}</desc>", escape(&drawing.description));
    }
    let pen = Pen {
        left: drawing.left,
        top: drawing.top,
        pt_per_unit: drawing.mm_per_unit / crate::MM_PER_PT,
    };
    drawing
        .items
        .iter()
        .for_each(|item| pen.item(&mut out, item));
    out.push_str("</svg>");
    out
}

fn push_title(out: &mut String, title: &str) {
    if !title.is_empty() {
        let _ = write!(out, "<title>{}</title>", escape(title));
    }
}

/// Turns the drawing's unit into points from its upper left corner.
struct Pen {
    left: f64,
    top: f64,
    pt_per_unit: f64,
}

impl Pen {
    fn point(&self, [x, y]: [f64; 2]) -> (String, String) {
        (
            number((x - self.left) * self.pt_per_unit),
            number((y - self.top) * self.pt_per_unit),
        )
    }

    fn item(&self, out: &mut String, item: &Item) {
        match item {
            Item::Path(path) => self.path(out, path),
            Item::Label(label) => self.label(out, label),
            Item::Group(group) => self.group(out, group),
        }
    }

    fn group(&self, out: &mut String, group: &Group) {
        out.push_str("<g");
        if let Some(id) = &group.id {
            let _ = write!(out, " data-id=\"{}\"", escape(id));
        }
        out.push('>');
        push_title(out, group.title.as_deref().unwrap_or(""));
        if let Some(clip) = group.clip {
            // A nested viewport clips without an identifier that could clash with another drawing's.
            let (x, y) = self.point([clip.left, clip.top]);
            let (width, height) = (
                number(clip.width * self.pt_per_unit),
                number(clip.height * self.pt_per_unit),
            );
            let _ = write!(
                out,
                "<svg x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" viewBox=\"{x} {y} {width} {height}\" overflow=\"hidden\">"
            );
        }
        group.items.iter().for_each(|item| self.item(out, item));
        out.push_str(if group.clip.is_some() {
            "</svg></g>"
        } else {
            "</g>"
        });
    }

    fn path(&self, out: &mut String, path: &Path) {
        out.push_str("<path d=\"");
        for segment in &path.segments {
            self.segment(out, *segment);
        }
        out.push('"');
        let mut styles = String::new();
        push_fill(out, &mut styles, path.fill);
        if let Some(stroke) = &path.stroke {
            push_stroke(out, &mut styles, stroke);
        }
        if !styles.is_empty() {
            let _ = write!(out, " style=\"{styles}\"");
        }
        out.push_str("/>");
    }

    fn segment(&self, out: &mut String, segment: Segment) {
        let mut pair = |letter: &str, point: [f64; 2]| {
            let (x, y) = self.point(point);
            let _ = write!(out, "{letter}{x} {y}");
        };
        match segment {
            Segment::Move(to) => pair("M", to),
            Segment::Line(to) => pair("L", to),
            Segment::Curve(first, second, to) => {
                pair("C", first);
                pair(" ", second);
                pair(" ", to);
            }
            Segment::Close => out.push('Z'),
        }
    }

    fn label(&self, out: &mut String, label: &Label) {
        let (x, y) = self.point(label.at);
        let drop_pt = number(label.size_pt * stand_em(label.stand));
        let size = number(label.size_pt);
        let place = if label.turn_deg == 0.0 {
            format!("translate({x} {y})")
        } else {
            format!("translate({x} {y}) rotate({})", number(label.turn_deg))
        };
        let class = format!(
            "{}{}{}",
            fill_class(label.ink),
            face_class(label.face),
            if label.rim { " rim" } else { "" }
        );
        let anchor = anchor_name(label.anchor);
        let _ = write!(
            out,
            "<text class=\"{class}\" transform=\"{place}\" y=\"{drop_pt}\" font-size=\"{size}\" text-anchor=\"{anchor}\">{}</text>",
            escape(&label.text)
        );
    }
}

/// How far the base line lies below the anchor, in ems.
pub(crate) fn stand_em(stand: Stand) -> f64 {
    match stand {
        Stand::Base => 0.0,
        Stand::Middle => CAP_HEIGHT_EM / 2.0,
        Stand::Hang => CAP_HEIGHT_EM,
    }
}

fn anchor_name(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    }
}

fn face_class(face: Face) -> &'static str {
    match face {
        Face::Regular => "",
        Face::Italic => " italic",
        Face::Strong => " strong",
    }
}

fn fill_class(ink: Ink) -> &'static str {
    match ink {
        Ink::Full | Ink::Density(_) | Ink::Heat(_) => "f-full",
        Ink::Soft => "f-soft",
        Ink::Hairline => "f-hair",
        Ink::Paper => "f-paper",
        Ink::Look => "f-look",
        Ink::Passed => "f-passed",
    }
}

fn push_fill(out: &mut String, styles: &mut String, fill: Option<Ink>) {
    match fill {
        None => out.push_str(" fill=\"none\""),
        Some(ink) => {
            push_ink(out, styles, "fill", ink);
            out.push_str(" fill-rule=\"evenodd\"");
        }
    }
}

/// The ink for readers that know style sheets, beside a plain color for those that do not.
fn push_ink(out: &mut String, styles: &mut String, property: &str, ink: Ink) {
    let _ = write!(out, " {property}=\"{}\"", plain_color(ink));
    if let Some(styled) = styled_color(ink) {
        let _ = write!(styles, "{property}:{styled};");
    }
}

fn plain_color(ink: Ink) -> String {
    match ink {
        Ink::Full => "#000".to_string(),
        Ink::Soft => "#444".to_string(),
        Ink::Hairline => "#999".to_string(),
        Ink::Paper => "#fff".to_string(),
        Ink::Look => "#6b4000".to_string(),
        Ink::Passed => "#7d1010".to_string(),
        Ink::Heat(fraction) => scale::hex(fraction),
        Ink::Density(density) => {
            let gray = (255.0 * (1.0 - density.clamp(0.0, 1.0))).round() as u8;
            format!("#{gray:02x}{gray:02x}{gray:02x}")
        }
    }
}

fn styled_color(ink: Ink) -> Option<String> {
    let variable = match ink {
        Ink::Full => "var(--ink)",
        Ink::Soft => "var(--soft)",
        Ink::Hairline => "var(--hair)",
        Ink::Paper => "var(--paper)",
        Ink::Look => "var(--look)",
        Ink::Passed => "var(--passed)",
        Ink::Heat(_) => return None,
        Ink::Density(density) => {
            let percent = number(100.0 * density.clamp(0.0, 1.0));
            return Some(format!(
                "color-mix(in srgb,var(--ink) {percent}%,var(--paper))"
            ));
        }
    };
    Some(variable.to_string())
}

fn push_stroke(out: &mut String, styles: &mut String, stroke: &Stroke) {
    push_ink(out, styles, "stroke", stroke.ink);
    let _ = write!(
        out,
        " stroke-width=\"{}\" stroke-linejoin=\"round\"",
        number(stroke.width_pt)
    );
    if !stroke.dash_pt.is_empty() {
        let dashes: Vec<String> = stroke.dash_pt.iter().map(|dash| number(*dash)).collect();
        let _ = write!(out, " stroke-dasharray=\"{}\"", dashes.join(" "));
    }
}

/// A number with at most two decimals and none to spare.
pub(crate) fn number(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_string();
    }
    let rounded = format!("{value:.2}");
    let short = rounded.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" {
        "0".to_string()
    } else {
        short.to_string()
    }
}

/// Text made safe within markup.
pub(crate) fn escape(words: &str) -> String {
    let mut safe = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            c if c.is_control() => safe.push(' '),
            c => safe.push(c),
        }
    }
    safe
}
