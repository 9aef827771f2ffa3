//! From bytes to text.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use crate::complaint::ComplaintKind;
use crate::mapping::Mapping;
use crate::read::Reading;
use crate::workbook;

/// The text of a file.
pub(crate) struct Decoded<'b> {
    pub text: Cow<'b, str>,
    pub encoding: &'static str,
    /// Line of the first bytes that are no text.
    pub bad_line: Option<usize>,
}

/// Bytes looked at for zeros that only UTF-16 has.
const LOOKED_AT: usize = 4096;

/// By the mapping, by a byte order mark, by zeros in every second byte, as UTF-8 where more letters speak for it than bytes
/// against it, and else as Windows-1252, which takes every byte.
pub(crate) fn decoded<'b>(bytes: &'b [u8], wanted: Option<&str>) -> Decoded<'b> {
    let encoding = wanted
        .and_then(|label| Encoding::for_label(label.as_bytes()))
        .unwrap_or_else(|| sniffed(bytes));
    let (text, used, bad) = encoding.decode(bytes);
    let bad_line = bad.then(|| {
        let at = text.find('\u{fffd}').unwrap_or(0);
        1 + text[..at].bytes().filter(|b| *b == b'\n').count()
    });
    Decoded {
        text,
        encoding: used.name(),
        bad_line,
    }
}

fn sniffed(bytes: &[u8]) -> &'static Encoding {
    if let Some((encoding, _)) = Encoding::for_bom(bytes) {
        return encoding;
    }
    let head = &bytes[..bytes.len().min(LOOKED_AT)];
    let zeros = |odd: usize| {
        head.iter()
            .skip(odd)
            .step_by(2)
            .filter(|b| **b == 0)
            .count()
    };
    let half = head.len() / 2;
    if half > 4 && zeros(1) * 2 > half {
        return UTF_16LE;
    }
    if half > 4 && zeros(0) * 2 > half {
        return UTF_16BE;
    }
    match std::str::from_utf8(bytes) {
        Ok(_) => UTF_8,
        // A file cut within a letter is UTF-8 all the same.
        Err(error) if error.error_len().is_none() => UTF_8,
        Err(_) if mostly_utf_8(bytes) => UTF_8,
        Err(_) => WINDOWS_1252,
    }
}

/// A damaged byte among letters of several bytes is a damaged byte, not another encoding.
fn mostly_utf_8(bytes: &[u8]) -> bool {
    let (mut letters, mut broken) = (0, 0);
    for chunk in bytes.utf8_chunks() {
        letters += chunk.valid().chars().filter(|c| !c.is_ascii()).count();
        broken += usize::from(!chunk.invalid().is_empty());
    }
    letters > broken
}

impl Reading {
    /// The text of the file, or of the sheet of a workbook with one line a row.
    pub(crate) fn text<'b>(&mut self, bytes: &'b [u8], mapping: &Mapping) -> Option<Cow<'b, str>> {
        if workbook::is_one(bytes) {
            self.understood.encoding = "workbook".to_string();
            return match workbook::text(bytes, mapping.sheet.as_deref()) {
                Ok(sheet) => {
                    if let Some(others) = sheet.others {
                        self.complain(
                            None,
                            ComplaintKind::OtherSheets {
                                read: sheet.name,
                                others,
                            },
                        );
                    }
                    Some(Cow::Owned(sheet.text))
                }
                Err(problem) => {
                    self.complain(None, ComplaintKind::WorkbookNotRead(problem));
                    None
                }
            };
        }
        let decoded = decoded(bytes, mapping.encoding.as_deref());
        self.understood.encoding = decoded.encoding.to_string();
        if let Some(line) = decoded.bad_line {
            self.complain(Some(line), ComplaintKind::BadBytes);
        }
        Some(decoded.text)
    }
}
