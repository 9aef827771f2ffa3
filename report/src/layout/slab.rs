//! A slab is a piece of the document that is never divided between pages.

use std::rc::Rc;

use crate::drawing::{Drawing, Ink};
use crate::face::Shaped;
use crate::line::{Line, PieceKind, Style};

/// Something placed, measured from the slab's or the page's upper left corner; for words, `y_pt` is the base line.
#[derive(Debug, Clone)]
pub(crate) struct Placed<'a> {
    pub x_pt: f64,
    pub y_pt: f64,
    /// The node of the logical structure it belongs to; none for what only decorates.
    pub tag: Option<usize>,
    pub what: What<'a>,
}

/// What is placed.
#[derive(Debug, Clone)]
pub(crate) enum What<'a> {
    Words {
        style: Style,
        shaped: Shaped,
    },
    Bar {
        width_pt: f64,
        height_pt: f64,
        ink: Ink,
    },
    TickBox {
        side_pt: f64,
    },
    Drawing {
        drawing: &'a Drawing,
        shrink: f64,
    },
    /// An empty cell.
    Nothing,
}

/// A piece that is never divided.
#[derive(Debug, Clone, Default)]
pub(crate) struct Slab<'a> {
    /// Space above, dropped at the top of a page.
    pub before_pt: f64,
    pub height_pt: f64,
    pub placed: Vec<Placed<'a>>,
    /// Marks whose explanation must stand on the same page.
    pub marks: Vec<usize>,
    pub keep_with_next: bool,
    pub starts_page: bool,
    pub ends_page: bool,
    /// What is repeated above it when it starts a page: the head of a table.
    pub head: Option<Rc<Slab<'a>>>,
    /// Headings with their level and distance from the top.
    pub bookmarks: Vec<(u8, String, f64)>,
}

impl<'a> Slab<'a> {
    /// An empty piece of this height.
    pub(crate) fn of_height(before_pt: f64, height_pt: f64) -> Slab<'a> {
        Slab {
            before_pt,
            height_pt,
            ..Slab::default()
        }
    }

    /// Puts a line with its base line at `y_pt`.
    pub(crate) fn put_line(&mut self, line: Line, x_pt: f64, y_pt: f64, tag: Option<usize>) {
        self.marks.extend(line.marks);
        for piece in line.pieces {
            let x_pt = x_pt + piece.x_pt;
            let (y_pt, what) = match piece.kind {
                PieceKind::Words {
                    style,
                    rise_pt,
                    shaped,
                } => (y_pt - rise_pt, What::Words { style, shaped }),
                PieceKind::TickBox { side_pt } => (y_pt, What::TickBox { side_pt }),
                PieceKind::WriteIn { width_pt } => (
                    y_pt + 1.5,
                    What::Bar {
                        width_pt,
                        height_pt: crate::THIN_PT,
                        ink: Ink::Full,
                    },
                ),
            };
            self.placed.push(Placed {
                x_pt,
                y_pt,
                tag,
                what,
            });
        }
    }

    /// Puts a bar of ink that only decorates.
    pub(crate) fn put_bar(
        &mut self,
        x_pt: f64,
        y_pt: f64,
        width_pt: f64,
        height_pt: f64,
        ink: Ink,
    ) {
        self.placed.push(Placed {
            x_pt,
            y_pt,
            tag: None,
            what: What::Bar {
                width_pt,
                height_pt,
                ink,
            },
        });
    }

    /// Takes everything of `other`, moved by this much.
    pub(crate) fn take(&mut self, other: Slab<'a>, x_pt: f64, y_pt: f64) {
        self.placed
            .extend(other.placed.into_iter().map(|placed| Placed {
                x_pt: placed.x_pt + x_pt,
                y_pt: placed.y_pt + y_pt,
                ..placed
            }));
        self.marks.extend(other.marks);
        self.bookmarks.extend(
            other
                .bookmarks
                .into_iter()
                .map(|(level, text, at)| (level, text, at + y_pt)),
        );
    }

    /// The same piece without any place in the logical structure: a repetition.
    pub(crate) fn repeated(&self) -> Slab<'a> {
        let mut copy = self.clone();
        copy.placed.iter_mut().for_each(|placed| placed.tag = None);
        copy.bookmarks.clear();
        copy
    }

    /// The first words in it, to name it in an error.
    pub(crate) fn first_words(&self) -> String {
        let words = self.placed.iter().find_map(|placed| match &placed.what {
            What::Words { shaped, .. } => Some(shaped.text.trim().to_string()),
            What::Drawing { drawing, .. } => Some(drawing.title.clone()),
            _ => None,
        });
        words.unwrap_or_default()
    }
}

/// Slabs one below the other as a single one.
pub(crate) fn stacked(slabs: Vec<Slab<'_>>) -> Slab<'_> {
    let mut whole = Slab::default();
    for (i, slab) in slabs.into_iter().enumerate() {
        if i == 0 {
            whole.before_pt = slab.before_pt;
        } else {
            whole.height_pt += slab.before_pt;
        }
        whole.keep_with_next = slab.keep_with_next;
        let (y_pt, height_pt) = (whole.height_pt, slab.height_pt);
        whole.take(slab, 0.0, y_pt);
        whole.height_pt += height_pt;
    }
    whole
}
