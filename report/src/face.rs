//! The typeface: three faces of one family with tabular figures, shaped with kerning and ligatures.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock, Mutex, PoisonError};

use rustybuzz::{Direction, Script, ShapePlan, UnicodeBuffer};

use crate::drawing::Face;

/// The upright face as a TrueType file.
pub static REGULAR_TTF: &[u8] = include_bytes!("fonts/SourceSans3-Regular.ttf");
/// The italic face as a TrueType file.
pub static ITALIC_TTF: &[u8] = include_bytes!("fonts/SourceSans3-It.ttf");
/// The semibold face as a TrueType file.
pub static STRONG_TTF: &[u8] = include_bytes!("fonts/SourceSans3-Semibold.ttf");

/// Height of capitals in ems, the same in all three faces.
pub(crate) const CAP_HEIGHT_EM: f64 = 0.66;

/// Shown in place of a character that the typeface lacks; the text behind it stays what it was.
const STAND_IN: char = '□';

struct Faces {
    regular: rustybuzz::Face<'static>,
    italic: rustybuzz::Face<'static>,
    strong: rustybuzz::Face<'static>,
}

static FACES: LazyLock<Faces> = LazyLock::new(|| Faces {
    regular: parsed(REGULAR_TTF),
    italic: parsed(ITALIC_TTF),
    strong: parsed(STRONG_TTF),
});

fn parsed(file: &'static [u8]) -> rustybuzz::Face<'static> {
    rustybuzz::Face::from_slice(file, 0).expect("the embedded typeface is a valid TrueType file")
}

fn face(which: Face) -> &'static rustybuzz::Face<'static> {
    match which {
        Face::Regular => &FACES.regular,
        Face::Italic => &FACES.italic,
        Face::Strong => &FACES.strong,
    }
}

/// How a face sets a script; made once, because that takes longer than setting a word.
fn plan(which: Face, script: Script) -> Arc<ShapePlan> {
    static PLANS: Mutex<BTreeMap<(Face, Script), Arc<ShapePlan>>> = Mutex::new(BTreeMap::new());
    let mut plans = PLANS.lock().unwrap_or_else(PoisonError::into_inner);
    let made = plans.entry((which, script)).or_insert_with(|| {
        let direction = Direction::LeftToRight;
        Arc::new(ShapePlan::new(
            face(which),
            direction,
            Some(script),
            None,
            &[],
        ))
    });
    Arc::clone(made)
}

/// A glyph with its advance and offset in ems and the bytes of the text it stands for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Glyph {
    pub id: u32,
    pub advance_em: f64,
    pub shift_em: f64,
    pub rise_em: f64,
    pub bytes: std::ops::Range<usize>,
}

/// Words turned into glyphs.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Shaped {
    pub text: String,
    pub glyphs: Vec<Glyph>,
    pub width_em: f64,
}

impl Shaped {
    /// Sets `more` after this, as one run.
    pub(crate) fn append(&mut self, more: &Shaped) {
        let offset = self.text.len();
        self.text.push_str(&more.text);
        self.width_em += more.width_em;
        self.glyphs.extend(more.glyphs.iter().map(|glyph| Glyph {
            bytes: glyph.bytes.start + offset..glyph.bytes.end + offset,
            ..glyph.clone()
        }));
    }
}

/// Shapes words in one face. Control characters become spaces.
pub(crate) fn shape(which: Face, words: &str) -> Shaped {
    let text: String = words
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let mut buffer = UnicodeBuffer::new();
    for (at, c) in text.char_indices() {
        buffer.add(drawable(which, c), u32::try_from(at).unwrap_or(u32::MAX));
    }
    buffer.guess_segment_properties();
    buffer.set_direction(Direction::LeftToRight);
    let plan = plan(which, buffer.script());
    let shaped = rustybuzz::shape_with_plan(face(which), &plan, buffer);
    let units = f64::from(face(which).units_per_em());
    let clusters: Vec<usize> = shaped
        .glyph_infos()
        .iter()
        .map(|info| info.cluster as usize)
        .collect();
    let mut glyphs = Vec::with_capacity(clusters.len());
    for (i, (info, position)) in shaped
        .glyph_infos()
        .iter()
        .zip(shaped.glyph_positions())
        .enumerate()
    {
        let end = clusters[i..]
            .iter()
            .copied()
            .find(|cluster| *cluster > clusters[i])
            .unwrap_or(text.len());
        glyphs.push(Glyph {
            id: info.glyph_id,
            advance_em: f64::from(position.x_advance) / units,
            shift_em: f64::from(position.x_offset) / units,
            rise_em: f64::from(position.y_offset) / units,
            bytes: clusters[i]..end,
        });
    }
    let width_em = glyphs.iter().map(|glyph| glyph.advance_em).sum();
    Shaped {
        text,
        glyphs,
        width_em,
    }
}

fn drawable(which: Face, c: char) -> char {
    if face(which).glyph_index(c).is_some() {
        c
    } else {
        STAND_IN
    }
}

/// Width in points of a line of text in this face and size.
#[must_use]
pub fn text_width_pt(which: Face, words: &str, size_pt: f64) -> f64 {
    shape(which, words).width_em * size_pt
}
