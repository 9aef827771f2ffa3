//! Lines: running text broken to a width.

use crate::drawing::{Face, Ink};
use crate::face::{Shaped, shape};
use crate::marks::{Marks, sign};
use crate::span::{Span, State, Text};

/// Size of a raised mark relative to the text beside it.
const MARK_SIZE: f64 = 0.8;
/// How far a mark is raised, in ems of the text beside it.
const MARK_RISE_EM: f64 = 0.3;
/// Side of a box to tick in ems.
const TICK_BOX_EM: f64 = 0.92;
/// A space after a number stays unbroken before these.
const UNITS: [&str; 27] = [
    "°C", "°F", "K", "mm", "m", "in", "ft", "h", "min", "s", "A", "V", "W", "kW", "kVA", "Hz",
    "kHz", "%", "°C/h", "°F/h", "K/h", "W/mm", "MPa", "turns", "T", "kJ/mm", "mΩ",
];

/// How text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Style {
    pub size_pt: f64,
    pub face: Face,
    pub ink: Ink,
}

/// A part of a line at its distance from the line's start.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Piece {
    pub x_pt: f64,
    pub kind: PieceKind,
}

/// What a part of a line is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum PieceKind {
    Words {
        style: Style,
        rise_pt: f64,
        shaped: Shaped,
    },
    TickBox {
        side_pt: f64,
    },
    WriteIn {
        width_pt: f64,
    },
}

/// A set line.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Line {
    pub pieces: Vec<Piece>,
    /// Width without the space at its end.
    pub width_pt: f64,
    /// Marks on this line.
    pub marks: Vec<usize>,
}

/// The smallest part that is never divided, with the space that follows it.
#[derive(Debug, Clone)]
struct Atom {
    kind: PieceKind,
    width_pt: f64,
    space_pt: f64,
    may_break_after: bool,
    mark: Option<usize>,
}

/// Breaks text into lines no wider than `width_pt`; a single word wider than that is divided.
pub(crate) fn break_lines(
    text: &Text,
    style: Style,
    width_pt: f64,
    marks: &mut Marks,
) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut line = Line::default();
    let mut x_pt = 0.0;
    for cluster in clusters(atoms(text, style, marks)) {
        for part in divided(cluster, width_pt) {
            let part_pt = solid_width(&part);
            if x_pt > 0.0 && x_pt + part_pt > width_pt + ROUNDING_PT {
                lines.push(std::mem::take(&mut line));
                x_pt = 0.0;
            }
            for atom in part {
                place(&mut line, atom, &mut x_pt);
            }
        }
    }
    lines.push(line);
    lines
}

/// Floating sums of advances may differ by this much from the same sum in another order.
const ROUNDING_PT: f64 = 1e-6;

fn place(line: &mut Line, atom: Atom, x_pt: &mut f64) {
    line.width_pt = *x_pt + atom.width_pt;
    line.marks.extend(atom.mark);
    let whole_pt = atom.width_pt + atom.space_pt;
    let joined = match (
        line.pieces.last_mut().map(|piece| &mut piece.kind),
        &atom.kind,
    ) {
        (
            Some(PieceKind::Words {
                style,
                rise_pt,
                shaped,
            }),
            PieceKind::Words {
                style: next_style,
                rise_pt: next_rise,
                shaped: next,
            },
        ) if style == next_style && rise_pt == next_rise => {
            shaped.append(next);
            true
        }
        _ => false,
    };
    if !joined {
        line.pieces.push(Piece {
            x_pt: *x_pt,
            kind: atom.kind,
        });
    }
    *x_pt += whole_pt;
}

/// Widths that matter for columns: the widest unbreakable part and the whole on one line.
pub(crate) fn widths_pt(text: &Text, style: Style, marks: &mut Marks) -> (f64, f64) {
    let clusters = clusters(atoms(text, style, marks));
    let narrowest = clusters
        .iter()
        .map(|cluster| solid_width(cluster))
        .fold(0.0, f64::max);
    let all: Vec<Atom> = clusters.into_iter().flatten().collect();
    (narrowest, solid_width(&all))
}

fn solid_width(atoms: &[Atom]) -> f64 {
    let whole: f64 = atoms.iter().map(|atom| atom.width_pt + atom.space_pt).sum();
    whole - atoms.last().map_or(0.0, |atom| atom.space_pt)
}

/// Joins atoms that no break may part.
fn clusters(atoms: Vec<Atom>) -> Vec<Vec<Atom>> {
    let mut clusters: Vec<Vec<Atom>> = Vec::new();
    let mut open = false;
    for atom in atoms {
        let breaks = atom.may_break_after;
        match clusters.last_mut() {
            Some(last) if open => last.push(atom),
            _ => clusters.push(vec![atom]),
        }
        open = !breaks;
    }
    clusters
}

/// A cluster wider than the line is divided between letters.
fn divided(cluster: Vec<Atom>, width_pt: f64) -> Vec<Vec<Atom>> {
    if solid_width(&cluster) <= width_pt + ROUNDING_PT {
        return vec![cluster];
    }
    let mut parts = Vec::new();
    for atom in cluster {
        match &atom.kind {
            PieceKind::Words {
                style,
                rise_pt,
                shaped,
            } if atom.width_pt > width_pt => {
                parts.extend(
                    cut(shaped, *style, *rise_pt, width_pt)
                        .into_iter()
                        .map(|part| vec![part]),
                );
            }
            _ => parts.push(vec![atom]),
        }
    }
    parts
}

fn cut(shaped: &Shaped, style: Style, rise_pt: f64, width_pt: f64) -> Vec<Atom> {
    let mut parts: Vec<String> = Vec::new();
    let mut part_pt = f64::INFINITY;
    for c in shaped.text.chars() {
        let letter_pt = shape(style.face, &c.to_string()).width_em * style.size_pt;
        if part_pt + letter_pt > width_pt {
            parts.push(String::new());
            part_pt = 0.0;
        }
        part_pt += letter_pt;
        if let Some(part) = parts.last_mut() {
            part.push(c);
        }
    }
    parts
        .iter()
        .map(|part| words_atom(part, style, rise_pt, true))
        .collect()
}

fn atoms(text: &Text, style: Style, marks: &mut Marks) -> Vec<Atom> {
    let mut atoms = Vec::new();
    for span in &text.0 {
        match span {
            Span::Plain(words) => words_atoms(words, style, &mut atoms),
            Span::Strong(words) => words_atoms(
                words,
                Style {
                    face: Face::Strong,
                    ..style
                },
                &mut atoms,
            ),
            Span::Italic(words) => words_atoms(
                words,
                Style {
                    face: Face::Italic,
                    ..style
                },
                &mut atoms,
            ),
            Span::Mark(mark) => mark_atom(marks.number(mark), style, &mut atoms),
            Span::Status { state, word } => status_atoms(*state, word, style, &mut atoms),
            Span::TickBox => {
                let side_pt = TICK_BOX_EM * style.size_pt;
                atoms.push(thing_atom(PieceKind::TickBox { side_pt }, side_pt));
            }
            Span::WriteIn { width_mm } => {
                let width_pt = if width_mm.is_finite() {
                    width_mm.clamp(0.0, 1000.0) / crate::MM_PER_PT
                } else {
                    0.0
                };
                atoms.push(thing_atom(PieceKind::WriteIn { width_pt }, width_pt));
            }
        }
    }
    atoms
}

fn thing_atom(kind: PieceKind, width_pt: f64) -> Atom {
    Atom {
        kind,
        width_pt,
        space_pt: 0.0,
        may_break_after: false,
        mark: None,
    }
}

/// A mark stands right behind the value it belongs to, before the space.
fn mark_atom(number: usize, style: Style, atoms: &mut Vec<Atom>) {
    let raised = Style {
        size_pt: style.size_pt * MARK_SIZE,
        face: Face::Regular,
        ..style
    };
    let mut atom = words_atom(&sign(number), raised, style.size_pt * MARK_RISE_EM, false);
    atom.mark = Some(number);
    if let Some(last) = atoms.last_mut() {
        last.may_break_after = false;
    }
    atoms.push(atom);
}

fn status_atoms(state: State, word: &str, style: Style, atoms: &mut Vec<Atom>) {
    let (ink, face) = match state {
        State::Fine => (style.ink, style.face),
        State::Look => (Ink::Look, Face::Strong),
        State::Passed => (Ink::Passed, Face::Strong),
        State::Open => (Ink::Soft, style.face),
    };
    words_atoms(
        &format!("{}\u{a0}{word}", state.shape()),
        Style { ink, face, ..style },
        atoms,
    );
}

fn words_atoms(words: &str, style: Style, atoms: &mut Vec<Atom>) {
    let parts = split(words);
    for (i, part) in parts.iter().enumerate() {
        let next = parts.get(i + 1).map_or("", |next| next.trim());
        let glued = belongs_to(part.trim_end(), next);
        let last_without_space = i + 1 == parts.len() && !part.ends_with(' ');
        atoms.push(words_atom(part, style, 0.0, !glued && !last_without_space));
    }
}

/// Words in which a number and its unit are kept on one line.
pub(crate) fn glued(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    let parts = split(words);
    for (i, part) in parts.iter().enumerate() {
        let next = parts.get(i + 1).map_or("", |next| next.trim());
        match part.strip_suffix(' ') {
            Some(number) if belongs_to(number, next) => {
                out.push_str(number);
                out.push('\u{a0}');
            }
            _ => out.push_str(part),
        }
    }
    out
}

/// Whether a word is the unit of the number before it.
fn belongs_to(number: &str, word: &str) -> bool {
    UNITS.contains(&unit_of(word)) && number.ends_with(|c: char| c.is_ascii_digit())
}

fn unit_of(word: &str) -> &str {
    word.trim_end_matches([',', '.', ';', ':', ')'])
}

fn words_atom(part: &str, style: Style, rise_pt: f64, may_break_after: bool) -> Atom {
    let shaped = shape(style.face, part);
    let space_em = shape(
        style.face,
        &part[part.trim_end_matches([' ', '\n', '\t']).len()..],
    )
    .width_em;
    let whole_pt = shaped.width_em * style.size_pt;
    let space_pt = space_em * style.size_pt;
    let kind = PieceKind::Words {
        style,
        rise_pt,
        shaped,
    };
    Atom {
        kind,
        width_pt: whole_pt - space_pt,
        space_pt,
        may_break_after,
        mark: None,
    }
}

/// Parts that a line break may follow: after spaces, and after hyphens and dashes between words.
fn split(words: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut letters = words.chars().peekable();
    let mut before = ' ';
    while let Some(c) = letters.next() {
        let c = if c.is_control() { ' ' } else { c };
        let next = letters.peek().copied().unwrap_or(' ');
        if let Some(part) = parts.last_mut() {
            part.push(c);
        }
        let after_space = c == ' ' && next != ' ';
        let after_dash =
            matches!(c, '-' | '–' | '—') && before.is_alphabetic() && next.is_alphabetic();
        if after_space || after_dash {
            parts.push(String::new());
        }
        before = c;
    }
    parts.retain(|part| !part.is_empty());
    parts
}
