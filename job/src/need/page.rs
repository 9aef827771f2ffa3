//! The needs of a weld on one page.

use quantity::Units;
use report::{Block, Fit, Margins, Note, NoteKind, Paper, Running, Sheet, Text};
use rules::requirement::Requirement;
use rules::standing::Verdict;

use super::Need;
use super::blocks::{
    bake_out, bands, exposure_in_short, limits, preheat, time_temperature, with_clause,
};
use super::notes::{notes, shared_lines, two_columns};
use crate::NeedJob;
use crate::sheet::words::{both_dimension, first_c};

/// The document; `made` says who or what made it and when. It is set closer where one page does not hold it otherwise, then
/// its notes share lines, then its margins are narrow, and only notes that no page would hold go on to the next.
pub fn need_sheet(job: &NeedJob, need: &Need, made: &str) -> Sheet {
    let frame = frame(job, need, made);
    let page = Page::of(job, need);
    let all = page.notes.len();
    let usual = [
        (one_page as fn(Vec<Block>) -> Block, Notes::OwnLines),
        (close, Notes::OwnLines),
        (close, Notes::Shared),
    ];
    let usual = usual.map(|(set, notes)| (Margins::Usual, page.set(all, set, notes)));
    let narrow = (0..=all)
        .rev()
        .map(|kept| (Margins::Narrow, page.set(kept, close, Notes::Shared)));
    for (margins, blocks) in usual.into_iter().chain(narrow) {
        let trial = Sheet {
            blocks,
            margins,
            ..frame.clone()
        };
        if report::one_page_fits(&trial).is_ok_and(|fits| fits.iter().all(Fit::fits)) {
            return trial;
        }
    }
    Sheet {
        blocks: page.flowing(),
        ..frame
    }
}

/// How lists of notes are set.
#[derive(Clone, Copy)]
enum Notes {
    /// Each note begins a line.
    OwnLines,
    /// A note goes on where the one before it ends; cautions keep their lines.
    Shared,
}

/// What stands on the page.
struct Page {
    /// The verdict.
    verdict: Block,
    /// Why it is so.
    reasons: Vec<Note>,
    /// The governing thickness, and which document is not named.
    thickness: Text,
    /// Everything below but the notes.
    body: Vec<Block>,
    /// What must be answered, what cannot be, what is to be known and heeded.
    notes: Vec<Note>,
}

impl Page {
    fn of(job: &NeedJob, need: &Need) -> Page {
        let home = home(need);
        let requirement = need.stress_relief.requirement.iter();
        let mut body: Vec<Block> = requirement
            .map(|one| limits(&one.limits, job.units, &home))
            .collect();
        body.extend(preheat(&need.preheat, job.units, &home));
        body.extend(bake_out(&need.bake_out, job.units));
        let treated = need.time_temperature.iter();
        body.extend(treated.flat_map(|one| time_temperature(one, job.units)));
        body.extend(bands(need, job.units, &home));
        body.extend(
            need.exposure
                .iter()
                .flat_map(|one| exposure_in_short(one, job.units)),
        );
        Page {
            verdict: verdict(job, need),
            reasons: reasons(need, &home),
            thickness: thickness(job, need, &home),
            body,
            notes: notes(need, &home),
        }
    }

    /// The page with so many of its notes, and the others behind it.
    fn set(&self, kept: usize, page: fn(Vec<Block>) -> Block, notes: Notes) -> Vec<Block> {
        let (here, behind) = self.notes.split_at(kept);
        let mut first = vec![self.verdict.clone()];
        match notes {
            Notes::OwnLines => first.extend([
                Block::Notes(self.reasons.clone()),
                Block::paragraph(self.thickness.clone()),
            ]),
            Notes::Shared => {
                let mut reasons = shared_lines(&self.reasons).and(". ");
                reasons.0.extend(self.thickness.0.iter().cloned());
                first.push(Block::Paragraph(reasons));
            }
        }
        match notes {
            Notes::OwnLines => first.extend(self.body.iter().cloned()),
            Notes::Shared => self
                .body
                .iter()
                .cloned()
                .for_each(|block| share(&mut first, block)),
        }
        match (here, notes) {
            ([], _) => {}
            (_, Notes::OwnLines) => {
                first.extend([Block::heading(2, TO_ANSWER), two_columns(here)]);
            }
            (_, Notes::Shared) => {
                let (cautions, plain): (Vec<Note>, Vec<Note>) = here
                    .iter()
                    .cloned()
                    .partition(|note| note.kind == NoteKind::Caution);
                first.push(Block::heading(2, TO_ANSWER));
                if !cautions.is_empty() {
                    first.push(two_columns(&cautions));
                }
                if !plain.is_empty() {
                    first.push(Block::Paragraph(shared_lines(&plain)));
                }
            }
        }
        let mut blocks = vec![page(first)];
        blocks.extend(below(behind));
        blocks
    }

    /// Page after page, where even what stands before the notes fills more than one.
    fn flowing(&self) -> Vec<Block> {
        self.set(0, Block::Close, Notes::OwnLines)
    }
}

fn one_page(blocks: Vec<Block>) -> Block {
    Block::OnePage(blocks)
}

fn close(blocks: Vec<Block>) -> Block {
    Block::OnePage(vec![Block::Close(blocks)])
}

/// The document whose clauses need no name on the page.
fn home(need: &Need) -> String {
    format!("{}-{}", need.code.code, need.code.edition.trim())
}

fn frame(job: &NeedJob, need: &Need, made: &str) -> Sheet {
    let who = &job.identification;
    let weld = match who.weld.as_str() {
        "" => "this weld".to_owned(),
        weld => format!("weld {weld}"),
    };
    Sheet {
        title: format!("What {weld} needs"),
        subject: need.weld.clone(),
        author: who.prepared_by.clone(),
        language: "en-US".into(),
        paper: match job.units {
            Units::Si => Paper::A4,
            Units::Us => Paper::Letter,
        },
        margins: Margins::Usual,
        running: Running {
            head_left: format!("{} {}", need.code.code, need.code.edition),
            head_right: who.line.clone(),
            foot_left: made.into(),
            mark: job.demo.as_ref().map(|_| "demo, not for use".into()),
        },
        blocks: Vec::new(),
    }
}

fn verdict(job: &NeedJob, need: &Need) -> Block {
    let standing = &need.stress_relief.standing;
    let requirement = need.stress_relief.requirement.as_ref();
    let hold = requirement.and_then(|one| in_short(one, job.units));
    let verdict = match standing.verdict {
        Verdict::Open => "open, see the questions below",
        _ => standing.words(),
    };
    let heading = match (hold, standing.verdict) {
        (None, _) => format!("Stress relief: {verdict}"),
        (Some(hold), Verdict::Required) => format!("Stress relief: {verdict}, {hold}"),
        (Some(hold), _) => format!("Stress relief: {verdict}; if done, {hold}"),
    };
    Block::heading(2, heading)
}

fn reasons(need: &Need, home: &str) -> Vec<Note> {
    let reasons = need.stress_relief.standing.reasons.iter();
    reasons
        .map(|reason| Note::plain(with_clause(&reason.text, reason.clause.as_ref(), home)))
        .collect()
}

fn thickness(job: &NeedJob, need: &Need, home: &str) -> Text {
    let unnamed = format!("Clauses that name no document are those of {home}.");
    let Some(requirement) = &need.stress_relief.requirement else {
        return Text::plain(unnamed);
    };
    let thickness = &requirement.governing_thickness;
    let words = format!(
        "Governing thickness {}: {}",
        both_dimension(thickness.thickness, job.units),
        thickness.reason,
    );
    let words = with_clause(&words, Some(&thickness.clause), home);
    words.and(". ").and(unnamed)
}

/// The hold that all limits together leave.
fn in_short(requirement: &Requirement, units: Units) -> Option<String> {
    let (min, max) = (requirement.hold_min()?, requirement.hold_max());
    let time = requirement
        .hold_time()
        .map_or(String::new(), |time| format!(" for {}", time.words()));
    let low = first_c(min.c(), units);
    let range = match max {
        None => format!("{low} or above"),
        Some(max) if max < min => {
            format!(
                "no range is left: {low} at least, {} at most",
                first_c(max.c(), units)
            )
        }
        Some(max) => {
            let (number, _) = low.split_once(' ').unwrap_or((&low, ""));
            format!("{number} to {}", first_c(max.c(), units))
        }
    };
    Some(format!("{range}{time}"))
}

/// A paragraph goes on where the one before it ends.
fn share(blocks: &mut Vec<Block>, next: Block) {
    match (blocks.last_mut(), next) {
        (Some(Block::Paragraph(text)), Block::Paragraph(more)) => {
            text.0.extend(Text::plain(" ").0);
            text.0.extend(more.0);
        }
        (_, next) => blocks.push(next),
    }
}

/// The headings of the notes.
const TO_ANSWER: &str = "To answer, to know and to heed";
const CONTINUED: &str = "To answer, to know and to heed, continued";

/// Notes one below the other, which a page may end between.
fn below(notes: &[Note]) -> Vec<Block> {
    if notes.is_empty() {
        return Vec::new();
    }
    vec![Block::heading(2, CONTINUED), Block::Notes(notes.to_vec())]
}
