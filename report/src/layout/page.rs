//! Slabs stacked on pages, with running head and foot and the explanations of marks.

use crate::drawing::{Face, HAIRLINE_PT, Ink};
use crate::error::ReportError;
use crate::line::break_lines;
use crate::marks::{Marks, sign};
use crate::sheet::Sheet;
use crate::span::{Mark, Text};

use super::blocks::Setter;
use super::slab::{Placed, Slab, stacked};
use super::{Frame, Kind, SMALL, TIGHT, style};

/// Space above the explanations of marks in points.
const EXPLANATION_GAP_PT: f64 = 8.0;
/// Length of the hairline above them in points.
const EXPLANATION_RULE_PT: f64 = 60.0;
/// From that hairline to the first explanation in points.
const EXPLANATION_RULE_GAP_PT: f64 = 5.0;
/// Width of the sign before an explanation in points.
const SIGN_PT: f64 = 15.0;
/// Heights in mm: base line of the running head, its hairline, base line of the running foot above the lower edge.
const HEAD_MM: f64 = 14.0;
const HEAD_RULE_MM: f64 = 16.0;
const FOOT_MM: f64 = 11.5;

/// A page: everything on it, measured from the paper's upper left corner.
#[derive(Debug, Clone, Default)]
pub(crate) struct Page<'a> {
    pub placed: Vec<Placed<'a>>,
}

/// A heading with the place it stands at.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Bookmark {
    pub level: u8,
    pub text: String,
    pub page: usize,
    pub y_pt: f64,
}

struct Stack<'a, 's> {
    setter: &'s mut Setter,
    pages: Vec<Page<'a>>,
    bookmarks: Vec<Bookmark>,
    /// Height used on the page so far.
    used_pt: f64,
    /// Marks on the page so far.
    marks: Vec<usize>,
    /// The page takes no more.
    ended: bool,
}

/// Stacks slabs on pages.
pub(super) fn stack_on_pages<'a>(
    slabs: Vec<Slab<'a>>,
    setter: &mut Setter,
) -> Result<(Vec<Page<'a>>, Vec<Bookmark>), ReportError> {
    let mut stack = Stack {
        setter,
        pages: vec![Page::default()],
        bookmarks: Vec::new(),
        used_pt: 0.0,
        marks: Vec::new(),
        ended: false,
    };
    let mut rest = slabs.into_iter().peekable();
    while rest.peek().is_some() {
        let mut chain = Vec::new();
        while let Some(slab) = rest.next() {
            let keeps = slab.keep_with_next && rest.peek().is_some_and(|next| !next.starts_page);
            chain.push(slab);
            if !keeps {
                break;
            }
        }
        stack.put_chain(chain)?;
    }
    stack.close_page();
    Ok((stack.pages, stack.bookmarks))
}

impl<'a> Stack<'a, '_> {
    /// Slabs that stay together; a chain longer than a page is divided all the same.
    fn put_chain(&mut self, chain: Vec<Slab<'a>>) -> Result<(), ReportError> {
        let starts = chain.first().is_some_and(|slab| slab.starts_page) || self.ended;
        if starts || !self.has_room(&chain) {
            self.next_page();
        }
        for slab in chain {
            self.put(slab)?;
        }
        Ok(())
    }

    fn has_room(&self, chain: &[Slab<'a>]) -> bool {
        let mut height_pt = self.used_pt;
        let mut marks = self.marks.clone();
        for slab in chain {
            height_pt += if height_pt > 0.0 { slab.before_pt } else { 0.0 } + slab.height_pt;
            marks.extend(&slab.marks);
        }
        height_pt + self.setter.explanations_height_pt(&marks) <= self.setter.frame.height_pt
    }

    fn put(&mut self, slab: Slab<'a>) -> Result<(), ReportError> {
        if !self.has_room(std::slice::from_ref(&slab)) {
            self.next_page();
        }
        if self.used_pt == 0.0
            && let Some(head) = &slab.head
        {
            let head = (**head).clone();
            self.place(head);
        }
        if !self.has_room(std::slice::from_ref(&slab)) {
            let frame = self.setter.frame;
            return Err(ReportError::TallerThanPage {
                what: slab.first_words(),
                needed_mm: slab.height_pt * crate::MM_PER_PT,
                available_mm: frame.height_pt * crate::MM_PER_PT,
            });
        }
        self.ended = slab.ends_page;
        self.place(slab);
        Ok(())
    }

    fn place(&mut self, slab: Slab<'a>) {
        let frame = self.setter.frame;
        if self.used_pt > 0.0 {
            self.used_pt += slab.before_pt;
        }
        let top_pt = frame.top_pt + self.used_pt;
        let page = self.pages.len() - 1;
        self.used_pt += slab.height_pt;
        for (level, text, y_pt) in slab.bookmarks {
            self.bookmarks.push(Bookmark {
                level,
                text,
                page,
                y_pt: top_pt + y_pt,
            });
        }
        self.marks.extend(slab.marks);
        put_on(&mut self.pages[page], slab.placed, frame.left_pt, top_pt);
    }

    /// A new page, unless nothing stands on this one yet.
    fn next_page(&mut self) {
        self.ended = false;
        if self.used_pt > 0.0 {
            self.close_page();
            self.pages.push(Page::default());
        }
    }

    fn close_page(&mut self) {
        let marks = std::mem::take(&mut self.marks);
        let frame = self.setter.frame;
        if let Some(slab) = self.setter.explanations(&marks) {
            let top_pt = frame.top_pt + frame.height_pt - slab.height_pt;
            let page = self.pages.len() - 1;
            put_on(&mut self.pages[page], slab.placed, frame.left_pt, top_pt);
        }
        self.used_pt = 0.0;
    }
}

fn put_on<'a>(page: &mut Page<'a>, placed: Vec<Placed<'a>>, x_pt: f64, y_pt: f64) {
    page.placed.extend(placed.into_iter().map(|placed| Placed {
        x_pt: placed.x_pt + x_pt,
        y_pt: placed.y_pt + y_pt,
        ..placed
    }));
}

impl Setter {
    /// Height of the explanations of these marks at the foot of a page, with the space above them.
    pub(super) fn explanations_height_pt(&self, numbers: &[usize]) -> f64 {
        let mut numbers = numbers.to_vec();
        numbers.sort_unstable();
        numbers.dedup();
        if numbers.is_empty() {
            return 0.0;
        }
        let above_pt = EXPLANATION_GAP_PT + EXPLANATION_RULE_GAP_PT;
        if self.frame.explains_in_one {
            let (look, width_pt) = (
                style(TIGHT.small, Face::Regular, Ink::Soft),
                self.frame.width_pt,
            );
            let text = self.told_in_one(&numbers);
            let lines = break_lines(&text, look, width_pt, &mut Marks::default()).len();
            return above_pt + lines as f64 * TIGHT.small.leading_pt;
        }
        let lines: usize = numbers
            .iter()
            .map(|number| self.explanation_lines[*number])
            .sum();
        above_pt + lines as f64 * SMALL.leading_pt
    }

    /// Explanations one behind the other, each with its sign.
    fn told_in_one(&self, numbers: &[usize]) -> Text {
        let mut all = Text::default();
        for number in numbers {
            all = all.strong(format!("{}\u{a0}", sign(*number)));
            all.0.extend(told(&self.marks.all()[*number]).and(" ").0);
        }
        all
    }

    fn explanations<'a>(&mut self, numbers: &[usize]) -> Option<Slab<'a>> {
        let mut numbers = numbers.to_vec();
        numbers.sort_unstable();
        numbers.dedup();
        if numbers.is_empty() {
            return None;
        }
        let mut rule = Slab::of_height(0.0, EXPLANATION_RULE_GAP_PT);
        rule.put_bar(0.0, 0.0, EXPLANATION_RULE_PT, HAIRLINE_PT, Ink::Soft);
        let mut slabs = vec![rule];
        if self.frame.explains_in_one {
            let tag = self.tags.add(None, Kind::Explanation);
            let look = style(TIGHT.small, Face::Regular, Ink::Soft);
            let text = self.told_in_one(&numbers);
            slabs.extend(self.lines(&text, look, TIGHT.small, self.frame.width_pt, tag, 0.0));
            return Some(stacked(slabs));
        }
        for number in numbers {
            slabs.push(self.explanation(number));
        }
        Some(stacked(slabs))
    }

    fn explanation<'a>(&mut self, number: usize) -> Slab<'a> {
        let mark = self.marks.all()[number].clone();
        let tag = self.tags.add(None, Kind::Explanation);
        let look = style(SMALL, Face::Regular, Ink::Soft);
        let text = told(&mark);
        let width_pt = self.frame.width_pt - SIGN_PT;
        let body = stacked(self.lines(&text, look, SMALL, width_pt, tag, 0.0));
        let label = Text::default().and(sign(number));
        let label = stacked(self.lines(&label, look, SMALL, SIGN_PT, tag, 0.0));
        let mut slab = Slab::of_height(0.0, body.height_pt);
        slab.take(label, 0.0, 0.0);
        slab.take(body, SIGN_PT, 0.0);
        slab
    }
}

fn told(mark: &Mark) -> Text {
    Text::default()
        .italic(&mark.word)
        .and(format!(": {}", mark.explanation))
}

/// How many lines each explanation takes at the foot of a page of this frame.
pub(super) fn explanation_lines(marks: &Marks, frame: Frame) -> Vec<usize> {
    let look = style(SMALL, Face::Regular, Ink::Soft);
    let width_pt = frame.width_pt - SIGN_PT;
    let lines = |mark: &Mark| break_lines(&told(mark), look, width_pt, &mut Marks::default()).len();
    marks.all().iter().map(lines).collect()
}

/// Running head and foot on every page.
pub(super) fn add_running(pages: &mut [Page], sheet: &Sheet, frame: Frame) {
    let pt = |mm: f64| mm / crate::MM_PER_PT;
    let count = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        let running = &sheet.running;
        let mut slab = Slab::default();
        let foot_pt = frame.paper_height_pt - pt(FOOT_MM);
        put_words(
            &mut slab,
            &running.head_left,
            Face::Regular,
            0.0,
            pt(HEAD_MM),
            frame,
        );
        put_words(
            &mut slab,
            running.mark.as_deref().unwrap_or(""),
            Face::Strong,
            0.5,
            pt(HEAD_MM),
            frame,
        );
        put_words(
            &mut slab,
            &running.head_right,
            Face::Regular,
            1.0,
            pt(HEAD_MM),
            frame,
        );
        put_words(
            &mut slab,
            &running.foot_left,
            Face::Regular,
            0.0,
            foot_pt,
            frame,
        );
        put_words(
            &mut slab,
            &format!("page {} of {count}", i + 1),
            Face::Regular,
            1.0,
            foot_pt,
            frame,
        );
        slab.put_bar(
            0.0,
            pt(HEAD_RULE_MM),
            frame.width_pt,
            HAIRLINE_PT,
            Ink::Hairline,
        );
        put_on(page, slab.placed, frame.left_pt, 0.0);
    }
}

/// One line at the left (0), in the middle (0.5) or at the right (1).
fn put_words(slab: &mut Slab, words: &str, face: Face, side: f64, y_pt: f64, frame: Frame) {
    let ink = if face == Face::Strong {
        Ink::Full
    } else {
        Ink::Soft
    };
    let look = style(SMALL, face, ink);
    let lines = break_lines(
        &Text::plain(words),
        look,
        frame.width_pt,
        &mut Marks::default(),
    );
    if let Some(line) = lines.into_iter().next() {
        let x_pt = (frame.width_pt - line.width_pt) * side;
        slab.put_line(line, x_pt, y_pt, None);
    }
}
