//! What must be answered, known and heeded, each in a line of its own or in shared lines.

use report::{Block, Column, Note, NoteKind, Text};
use rules::requirement::Remark;

use super::Need;
use super::blocks::with_clause;

/// What must be answered, what cannot be, what disagrees, what is heeded while it is set up.
pub(super) fn notes(need: &Need, home: &str) -> Vec<Note> {
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
pub(super) const WARNING: &str = "warning: ";

/// Notes side by side, about as many letters in either column.
pub(super) fn two_columns(notes: &[Note]) -> Block {
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
    Block::Columns(columns.map(column).collect())
}

/// What the end of a note takes beside its letters: half a line of a column.
const NOTE_LETTERS: usize = 30;

/// Notes one behind the other in the same lines, each with its number.
pub(super) fn shared_lines(notes: &[Note]) -> Text {
    let mut text = Text::default();
    for (index, note) in notes.iter().enumerate() {
        let lead = match (index, note.kind) {
            (0, NoteKind::Note) => "1\u{a0}".to_owned(),
            (0, NoteKind::Caution) => "1\u{a0}Caution ".to_owned(),
            (_, NoteKind::Note) => format!("  {}\u{a0}", index + 1),
            (_, NoteKind::Caution) => format!("  {}\u{a0}Caution ", index + 1),
        };
        text = text.strong(lead);
        text.0.extend(note.text.0.iter().cloned());
    }
    text
}
