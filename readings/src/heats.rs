//! Files far apart in time: whether they are of one heat, only a person knows.

use quantity::Hours;

use crate::join::{begin_ns, comparable};
use crate::log::Log;
use crate::mapping::Mapping;
use crate::of_file::{HEAT, OTHER_HEAT, of_one_file};
use crate::question::Question;
use crate::words::words;

/// A file in time.
struct Span<'l> {
    name: &'l str,
    begin_ns: i64,
    end_ns: i64,
    /// Files of one number are of one heat, as far as is known.
    heat: usize,
}

/// What is asked where a long silence lies between files of which nobody said whether they are of one heat.
pub fn other_heats(logs: &[&Log], mapping: &Mapping) -> Vec<Question> {
    if comparable(logs).is_err() {
        return Vec::new();
    }
    let mut spans = spans(logs);
    let silences = parted_by_silence(&mut spans);
    join_as_said(&mut spans, mapping);
    let mut asked = Vec::new();
    for (before, at, silence) in silences {
        let (one, other) = (spans[before].heat, spans[at].heat);
        if one != other {
            asked.push(question(&spans, before, at, silence));
            become_one(&mut spans, one, other);
        }
    }
    asked
}

fn spans<'l>(logs: &[&'l Log]) -> Vec<Span<'l>> {
    let mut spans: Vec<Span<'_>> = logs.iter().map(|log| span(log)).collect();
    spans.sort_by_key(|span| span.begin_ns);
    spans
}

fn span(log: &Log) -> Span<'_> {
    let length = log.scans.last().map_or(0, |scan| scan.elapsed.as_nanos());
    let length = i64::try_from(length).unwrap_or(i64::MAX);
    Span {
        name: log.files.first().map_or("", |file| file.name.as_str()),
        begin_ns: begin_ns(log),
        end_ns: begin_ns(log).saturating_add(length),
        heat: 0,
    }
}

/// The long silences: the file that ended last before each, the file that begins after it, and how long it is.
fn parted_by_silence(spans: &mut [Span<'_>]) -> Vec<(usize, usize, Hours)> {
    let long_h = words().silence.between_heats_h;
    let (mut silences, mut last, mut heat) = (Vec::new(), 0, 0);
    for at in 1..spans.len() {
        let silent_ns = spans[at].begin_ns.saturating_sub(spans[last].end_ns);
        let silence = Hours::from_s(silent_ns as f64 / 1e9);
        if silence.h() > long_h {
            silences.push((last, at, silence));
            heat += 1;
        }
        spans[at].heat = heat;
        if spans[at].end_ns > spans[last].end_ns {
            last = at;
        }
    }
    silences
}

fn join_as_said(spans: &mut [Span<'_>], mapping: &Mapping) {
    for at in 0..spans.len() {
        let said = mapping.said_of(spans[at].name, HEAT);
        let named = said.and_then(|said| spans.iter().position(|span| span.name == said));
        if let Some(with) = named {
            let (one, other) = (spans[with].heat, spans[at].heat);
            become_one(spans, one, other);
        }
    }
}

fn become_one(spans: &mut [Span<'_>], one: usize, other: usize) {
    for span in spans.iter_mut().filter(|span| span.heat == other) {
        span.heat = one;
    }
}

fn question(spans: &[Span<'_>], before: usize, at: usize, silence: Hours) -> Question {
    let (before, file) = (&spans[before], &spans[at]);
    let of_heat = spans.iter().filter(|span| span.heat == before.heat).count();
    let earlier = format!("{}={OTHER_HEAT}", of_one_file(before.name, HEAT));
    let twins = before.name == file.name;
    let hint = match twins {
        true => " Both have one name; give one of them another to leave it out.",
        false => "",
    };
    let mut answers = vec![before.name.to_owned(), OTHER_HEAT.to_owned()];
    answers.truncate(if twins { 1 } else { 2 });
    Question {
        file: file.name.to_owned(),
        line: None,
        key: HEAT,
        asks: format!("Is it of the same heat as {}?", before.name),
        evidence: format!(
            "Between the last scan of {} and its first lie {}.{hint}",
            before.name,
            silence.words()
        ),
        answers,
        instead: (of_heat == 1 && !twins).then_some(earlier),
    }
}
