//! Reads just enough of a PDF to check it: objects stand plainly in the files that this room writes.

use std::io::Read;

/// The content of every embedded file.
pub fn embedded_files(file: &[u8]) -> Vec<Vec<u8>> {
    places(file, b"/Type/EmbeddedFile")
        .into_iter()
        .map(|at| stream_around(file, at))
        .collect()
}

/// How often something stands in a file.
pub fn count(file: &[u8], what: &[u8]) -> usize {
    places(file, what).len()
}

/// Pages by the count in the page tree.
pub fn page_count(file: &[u8]) -> usize {
    let tree = places(file, b"/Type/Pages");
    let counts = tree
        .into_iter()
        .map(|at| number_after(dictionary_around(file, at), b"/Count"));
    counts.max().unwrap_or(0)
}

fn places(file: &[u8], what: &[u8]) -> Vec<usize> {
    (0..file.len().saturating_sub(what.len()))
        .filter(|at| file[*at..].starts_with(what))
        .collect()
}

/// The text from the object's beginning to its end or its stream.
fn dictionary_around(file: &[u8], at: usize) -> &[u8] {
    let start = (0..at)
        .rev()
        .find(|i| file[*i..].starts_with(b" obj"))
        .unwrap_or(0);
    let end = (at..file.len())
        .find(|i| file[*i..].starts_with(b"\nstream") || file[*i..].starts_with(b"endobj"))
        .unwrap_or(file.len());
    &file[start..end]
}

fn number_after(text: &[u8], key: &[u8]) -> usize {
    let at = places(text, key)[0] + key.len();
    let digits: String = text[at..]
        .iter()
        .map(|byte| char::from(*byte))
        .skip_while(|c| *c == ' ')
        .take_while(char::is_ascii_digit)
        .collect();
    digits.parse().unwrap()
}

fn stream_around(file: &[u8], at: usize) -> Vec<u8> {
    let dictionary = dictionary_around(file, at);
    let length = number_after(dictionary, b"/Length");
    let mut start = (at..file.len())
        .find(|i| file[*i..].starts_with(b"\nstream"))
        .unwrap()
        + b"\nstream".len();
    start += if file[start] == b'\r' { 2 } else { 1 };
    let bytes = &file[start..start + length];
    if places(dictionary, b"/FlateDecode").is_empty() {
        return bytes.to_vec();
    }
    let mut plain = Vec::new();
    flate2::read::ZlibDecoder::new(bytes)
        .read_to_end(&mut plain)
        .unwrap();
    plain
}
