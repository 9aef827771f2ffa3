//! The needs of a weld on one page.

use quantity::Units;
use report::{Block, Column, Fit, Note, Paper, Running, Sheet, Text};
use rules::requirement::{Remark, Requirement};
use rules::standing::Verdict;

use super::Need;
use super::blocks::{
    bake_out, bands, exposure_in_short, limits, preheat, thermocouples, time_temperature,
    with_clause,
};
use crate::NeedJob;
use crate::sheet::words::{both_dimension, first_c};

/// The document; `made` says who or what made it and when. It is set closer where one page does not hold it otherwise, and
/// only notes that no page would hold go on to the next.
pub fn need_sheet(job: &NeedJob, need: &Need, made: &str) -> Sheet {
    let frame = frame(job, need, made);
    let page = Page::of(job, need);
    let all = page.notes.len();
    let mut trials = vec![page.set(all, Block::OnePage), page.set(all, close)];
    trials.extend((0..all).rev().map(|kept| page.set(kept, close)));
    for blocks in trials {
        let trial = Sheet {
            blocks,
            ..frame.clone()
        };
        if report::one_page_fits(&trial).is_ok_and(|fits| fits.iter().all(Fit::fits)) {
            return trial;
        }
    }
    Sheet {
        blocks: [page.first, below(&page.notes)].concat(),
        ..frame
    }
}

/// What stands on the page.
struct Page {
    /// Everything but the notes.
    first: Vec<Block>,
    /// What must be answered, what cannot be, what is to be known and heeded.
    notes: Vec<Note>,
}

impl Page {
    fn of(job: &NeedJob, need: &Need) -> Page {
        let home = home(need);
        let mut first = vec![Block::paragraph(format!(
            "Clauses that name no document are those of {home}."
        ))];
        first.extend(stress_relief(job, need, &home));
        first.extend(preheat(&need.preheat, job.units, &home));
        first.extend(bake_out(&need.bake_out, job.units));
        let treated = need.time_temperature.iter();
        first.extend(treated.flat_map(|one| time_temperature(one, job.units)));
        first.extend(bands(need, job.units, &home));
        first.extend(thermocouples(&need.thermocouples));
        first.extend(need.exposure.iter().flat_map(exposure_in_short));
        Page {
            first,
            notes: notes(need, &home),
        }
    }

    /// The page with so many of its notes, and the others behind it.
    fn set(&self, kept: usize, page: fn(Vec<Block>) -> Block) -> Vec<Block> {
        let (here, behind) = self.notes.split_at(kept);
        let mut first = self.first.clone();
        first.extend(two_columns(here, TO_ANSWER));
        let mut blocks = vec![page(first)];
        blocks.extend(below(behind));
        blocks
    }
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
        running: Running {
            head_left: format!("{} {}", need.code.code, need.code.edition),
            head_right: who.line.clone(),
            foot_left: made.into(),
            mark: job.demo.as_ref().map(|_| "demo, not for use".into()),
        },
        blocks: Vec::new(),
    }
}

fn stress_relief(job: &NeedJob, need: &Need, home: &str) -> Vec<Block> {
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
    let because = standing
        .reasons
        .iter()
        .map(|reason| Note::plain(with_clause(&reason.text, reason.clause.as_ref(), home)));
    let mut blocks = vec![Block::heading(2, heading), Block::Notes(because.collect())];
    if let Some(requirement) = requirement {
        let thickness = &requirement.governing_thickness;
        let words = format!(
            "Governing thickness {}: {}",
            both_dimension(thickness.thickness, job.units),
            thickness.reason,
        );
        blocks.push(Block::paragraph(
            with_clause(&words, Some(&thickness.clause), home).and("."),
        ));
        blocks.push(limits(&requirement.limits, job.units, home));
    }
    blocks
}

/// The hold that all limits together leave.
fn in_short(requirement: &Requirement, units: Units) -> Option<String> {
    let (min, max) = (requirement.hold_min()?, requirement.hold_max());
    let time = requirement
        .hold_time()
        .map_or(String::new(), |time| match time.h() < 1.0 {
            true => format!(" for {:.0} min", time.minutes()),
            false => format!(" for {:.2} h", time.h()),
        });
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

/// What must be answered, what cannot be, what disagrees, what is heeded while it is set up.
fn notes(need: &Need, home: &str) -> Vec<Note> {
    let standing = &need.stress_relief.standing;
    let open = standing.open.iter().map(|open| {
        Note::caution(
            Text::plain("To be answered: ")
                .strong(&open.key)
                .and(format!(": {}", open.text)),
        )
    });
    let gaps = need
        .unanswered
        .iter()
        .map(|gap| Note::caution(format!("No answer on {}: {}", gap.what, gap.why)));
    let confirmed = need
        .confirmed
        .iter()
        .map(|one| Note::plain(format!("Confirmed: {one}")));
    let mut remarks = remarks(need);
    remarks.sort_by_key(|remark| !is_warning(remark));
    let remarks = remarks.into_iter().chain(&need.setting_up).map(|remark| {
        let words = remark.text.trim_start_matches(WARNING);
        let text = with_clause(words, remark.clause.as_ref(), home);
        match is_warning(remark) {
            true => Note::caution(text),
            false => Note::plain(text),
        }
    });
    open.chain(gaps).chain(confirmed).chain(remarks).collect()
}

/// The remarks that the page does not tell elsewhere: as a question, among the methods of preheat, under the bake-out.
fn remarks(need: &Need) -> Vec<&Remark> {
    let open = &need.stress_relief.standing.open;
    let of_preheat = need.preheat.disagreement();
    let shown = [of_preheat.as_ref(), need.bake_out.answer.disagreement()];
    let mut remarks = need.remarks();
    remarks.retain(|remark| {
        let asked = |key: &str| remark.text.contains(&format!("({key})"));
        !open.iter().any(|open| asked(&open.key))
            && !shown
                .iter()
                .flatten()
                .any(|known| known.text == remark.text)
    });
    remarks
}

fn is_warning(remark: &Remark) -> bool {
    remark.text.starts_with(WARNING)
}

/// How a remark begins that is set as a caution.
const WARNING: &str = "warning: ";

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

/// Notes side by side, about as many letters in either column.
fn two_columns(notes: &[Note], heading: &str) -> Vec<Block> {
    if notes.is_empty() {
        return Vec::new();
    }
    let letters = |note: &Note| note.text.words().chars().count() + NOTE_LETTERS;
    let half = notes.iter().map(letters).sum::<usize>().div_ceil(2);
    let mut before = 0;
    let first = notes
        .iter()
        .take_while(|note| {
            let here = letters(note);
            before += here;
            before <= half + here / 2
        })
        .count();
    let (left, right) = notes.split_at(first);
    let column = |notes: &[Note]| Column::new(1.0, vec![Block::Notes(notes.to_vec())]);
    let columns = [left, right].into_iter().filter(|part| !part.is_empty());
    vec![
        Block::heading(2, heading),
        Block::Columns(columns.map(column).collect()),
    ]
}

/// What the end of a note takes beside its letters: half a line of a column.
const NOTE_LETTERS: usize = 30;
