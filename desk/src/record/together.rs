//! What several files of one heat have to be asked again about, although each reads well by itself.

use job::record::{Record, answer_words};
use maud::{Markup, html};
use quantity::Hours;

use super::judged::{Judged, ReadFile};
use super::logs::TEMPERATURE;

/// So long a silence between two files may part two heats, in h. Our choice, no source.
const LONG_SILENCE_H: f64 = 1.0;

/// A unit that was said once and is taken for every file, and a silence that may part two heats.
pub fn together(judged: &Judged) -> Markup {
    if judged.read.len() < 2 {
        return html! {};
    }
    let silence = judged.record.as_ref().ok().and_then(longest_silence);
    html! {
        @if let Some(words) = unit_for_all(judged) { p { span.look { span aria-hidden="true" { "▲ " } (words) } " A file that is in another unit is not of these: set it aside, or have the logger write its unit." } }
        @if let Some(silence) = silence.filter(|silence| silence.h() > LONG_SILENCE_H) {
            p { span.look { span aria-hidden="true" { "▲ " } "Between the files lie " (silence.words()) " without a scan. Is that one heat?" } " Take the tick from a file that is of another, or set it aside." }
        }
    }
}

/// Files that do not tell their unit, where one answer stands for several of them.
fn unit_for_all(judged: &Judged) -> Option<String> {
    let said = judged.mapping.unit.as_deref()?;
    let silent: Vec<&str> = judged
        .read
        .iter()
        .filter(|file| tells_no_unit(file))
        .map(|file| file.file.name.as_str())
        .collect();
    (silent.len() > 1).then(|| {
        format!(
            "{} do not tell their unit; what was said of one is taken for all: {}.",
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

fn longest_silence(record: &Record) -> Option<Hours> {
    let steps = record.log.scans.windows(2).map(|pair| {
        let step = pair[1].elapsed.saturating_sub(pair[0].elapsed);
        Hours::from_s(step.as_secs_f64())
    });
    steps.reduce(|longest, step| {
        if step.h() > longest.h() {
            step
        } else {
            longest
        }
    })
}
