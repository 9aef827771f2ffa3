//! What several files of one heat have to be looked at again for, although each reads well by itself.

use job::record::answer_words;
use maud::{Markup, html};

use super::judged::{Judged, ReadFile};
use super::logs::TEMPERATURE;

/// A unit that was said of every file, and the files that are left out.
pub fn together(judged: &Judged) -> Markup {
    let left_out: Vec<&str> = judged
        .read
        .iter()
        .filter(|file| file.left_out)
        .map(name)
        .collect();
    html! {
        @if let Some(words) = unit_for_all(judged) { p { span.look { span aria-hidden="true" { "▲ " } (words) } " For a file that is in another unit, say so under the answers given about the files." } }
        @if !left_out.is_empty() { p { span.look { span aria-hidden="true" { "▲ " } (left_out.join(", ")) @if left_out.len() == 1 { " is" } @else { " are" } " left out of this record:" } " of another heat, as was said." } }
    }
}

fn name(file: &ReadFile) -> &str {
    &file.file.name
}

/// Files that do not tell their unit, where one answer stands for several of them.
fn unit_for_all(judged: &Judged) -> Option<String> {
    let said = judged.mapping.unit.as_deref()?;
    let has_own = |file: &&ReadFile| judged.mapping.said_of(name(file), "unit").is_some();
    let silent: Vec<&str> = judged
        .here()
        .filter(|file| tells_no_unit(file) && !has_own(file))
        .map(name)
        .collect();
    (silent.len() > 1).then(|| {
        format!(
            "{} do not tell their unit; what was said of every file is taken for all: {}.",
            silent.join(", "),
            answer_words("unit", said)
        )
    })
}

fn tells_no_unit(file: &ReadFile) -> bool {
    let columns = file.understood.columns.iter();
    let mut temperatures = columns.filter(|column| column.role == TEMPERATURE);
    temperatures.any(|column| column.unit.is_empty())
}
