//! Print-outs: columns by their place on the line, so that an empty place stays empty.

use crate::cell::{Cell, Decimal, cell};
use crate::moment::stamp;
use crate::words::words;

/// Rows looked at for the places of the columns.
const LOOKED_AT: usize = 4000;
/// A place belongs to a column when more than one row in this many writes there.
const RARE: usize = 40;

/// A word with the places of its first letter and behind its last.
#[derive(Clone, Copy, Debug)]
struct Word<'l> {
    text: &'l str,
    from: usize,
    to: usize,
}

/// Lines of a print-out with a tab between their columns, line by line; `None` where rows do not keep to columns.
pub(crate) fn with_tabs(lines: &[&str]) -> Option<Vec<String>> {
    let rows: Vec<Vec<Word<'_>>> = lines
        .iter()
        .map(|line| parted(line))
        .filter(|words| is_row(words))
        .take(LOOKED_AT)
        .collect();
    let spans = spans(&rows);
    if rows.is_empty() || spans.len() < 2 || !keep_to(&rows, &spans) {
        return None;
    }
    let joined = joined(&rows, &spans);
    Some(lines.iter().map(|l| laid_out(l, &spans, &joined)).collect())
}

fn parted(line: &str) -> Vec<Word<'_>> {
    let mut found = Vec::new();
    let (mut open, mut place) = (None, 0);
    for (at, letter) in line.char_indices() {
        match (letter.is_whitespace() || letter == '|', open) {
            (false, None) => open = Some((at, place)),
            (true, Some((from_at, from))) => {
                found.push(Word {
                    text: &line[from_at..at],
                    from,
                    to: place,
                });
                open = None;
            }
            _ => {}
        }
        place += 1;
    }
    if let Some((from_at, from)) = open {
        found.push(Word {
            text: &line[from_at..],
            from,
            to: place,
        });
    }
    found
}

fn is_number(text: &str) -> bool {
    [Decimal::Point, Decimal::Comma]
        .into_iter()
        .any(|decimal| matches!(cell(text, decimal), Cell::Number(..)))
}

fn is_clean(text: &str) -> bool {
    is_number(text) || stamp(text).is_some() || words().is_silent(text)
}

/// A time or a number in front, and something behind that is a number.
fn is_row(words: &[Word<'_>]) -> bool {
    let leads = |word: &Word<'_>| stamp(word.text).is_some() || is_number(word.text);
    words.first().is_some_and(leads) && words.iter().skip(1).any(|w| is_number(w.text))
}

/// Runs of places where rows write.
fn spans(rows: &[Vec<Word<'_>>]) -> Vec<[usize; 2]> {
    let width = rows.iter().flatten().map(|w| w.to).max().unwrap_or(0);
    let mut written = vec![0_usize; width + 1];
    for word in rows.iter().flatten() {
        written[word.from..word.to]
            .iter_mut()
            .for_each(|count| *count += 1);
    }
    let rare = rows.len() / RARE;
    let mut spans = Vec::new();
    let mut from = None;
    for (place, count) in written.iter().enumerate() {
        match (*count > rare, from) {
            (true, None) => from = Some(place),
            (false, Some(begin)) => {
                spans.push([begin, place]);
                from = None;
            }
            _ => {}
        }
    }
    spans
}

/// Whether nearly all rows write one word into a column.
fn keep_to(rows: &[Vec<Word<'_>>], spans: &[[usize; 2]]) -> bool {
    let keeps = |row: &&Vec<Word<'_>>| {
        let places: Vec<usize> = row.iter().map(|w| place_of(w, spans)).collect();
        places.windows(2).all(|pair| pair[0] < pair[1])
    };
    rows.iter().filter(keeps).count() * 20 >= rows.len() * 19
}

/// The column that a word overlaps most, or lies nearest to.
fn place_of(word: &Word<'_>, spans: &[[usize; 2]]) -> usize {
    let distance = |span: &[usize; 2]| {
        let overlap = word.to.min(span[1]) as i64 - word.from.max(span[0]) as i64;
        let middle = (word.from + word.to) as i64 - (span[0] + span[1]) as i64;
        (-overlap, middle.abs())
    };
    let nearest = spans
        .iter()
        .enumerate()
        .min_by_key(|(_, span)| distance(span));
    nearest.map_or(0, |(place, _)| place)
}

/// For each column whether it belongs to the one before: a unit behind a number, a half of the day behind a time.
fn joined(rows: &[Vec<Word<'_>>], spans: &[[usize; 2]]) -> Vec<bool> {
    let mut belongs = vec![true; spans.len()];
    let mut seen = vec![false; spans.len()];
    for word in rows.iter().flatten() {
        let place = place_of(word, spans);
        let half_of_day = matches!(
            word.text.to_ascii_lowercase().as_str(),
            "am" | "pm" | "a.m." | "p.m."
        );
        seen[place] = true;
        belongs[place] &= half_of_day || words().unit_of(word.text).is_some();
    }
    (0..spans.len())
        .map(|place| place > 0 && seen[place] && belongs[place])
        .collect()
}

fn laid_out(line: &str, spans: &[[usize; 2]], joined: &[bool]) -> String {
    let words = parted(line);
    let timed = words.iter().take_while(|w| stamp(w.text).is_some()).count();
    let clean = words[timed..].iter().filter(|w| is_clean(w.text)).count();
    if timed > 0
        && clean * 2 < words.len() - timed
        && !words[timed..].iter().any(|w| is_number(w.text))
    {
        return timed_words(line, &words, timed);
    }
    let mut cells = vec![String::new(); spans.len()];
    for word in &words {
        let cell = &mut cells[place_of(word, spans)];
        if !cell.is_empty() {
            cell.push(' ');
        }
        cell.push_str(word.text);
    }
    let mut laid: Vec<String> = Vec::new();
    for (cell, belongs) in cells.into_iter().zip(joined) {
        match laid.last_mut() {
            Some(last) if *belongs && !cell.is_empty() => {
                last.push(' ');
                last.push_str(&cell);
            }
            Some(_) if *belongs => {}
            _ => laid.push(cell),
        }
    }
    let filled = laid.iter().filter(|c| !c.is_empty()).count();
    if !is_row(&words) && filled * 2 <= laid.len() {
        return line.to_string();
    }
    laid.join("\t")
}

/// Words behind a time stay together in one cell.
fn timed_words(line: &str, words: &[Word<'_>], timed: usize) -> String {
    let mut cells: Vec<&str> = words[..timed].iter().map(|w| w.text).collect();
    let rest: String = match words.get(timed) {
        Some(word) => line.chars().skip(word.from).collect(),
        None => String::new(),
    };
    cells.push(rest.trim_end());
    cells.join("\t")
}
