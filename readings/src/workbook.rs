//! Workbooks (`.xlsx`): the rows of a sheet as lines of text, so that they are read as any other file.

use std::fmt::Write as _;
use std::io::Cursor;

use calamine::{Data, ExcelDateTime, Range, Reader, Xlsx};

/// The first bytes of a zip archive, which a workbook is.
const ZIP: [u8; 4] = *b"PK\x03\x04";

/// A sheet as text with tabs between its cells, one line a row.
pub(crate) struct Sheet {
    pub name: String,
    pub text: String,
    /// Names of other sheets with numbers.
    pub others: Option<String>,
}

/// Whether the bytes are a workbook.
pub(crate) fn is_one(bytes: &[u8]) -> bool {
    bytes.starts_with(&ZIP)
}

/// The wanted sheet, or the one with most rows of numbers.
pub(crate) fn text(bytes: &[u8], wanted: Option<&str>) -> Result<Sheet, String> {
    let mut workbook: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(|error| error.to_string())?;
    let mut sheets: Vec<(String, Range<Data>)> = workbook.worksheets();
    let listed = |names: Vec<&str>| names.join(", ");
    if let Some(wanted) = wanted {
        let names = listed(sheets.iter().map(|(name, _)| name.as_str()).collect());
        let place = sheets.iter().position(|(name, _)| name == wanted);
        let place = place.ok_or_else(|| format!("no sheet \"{wanted}\"; there are {names}"))?;
        let (name, range) = sheets.swap_remove(place);
        return Ok(Sheet {
            name,
            text: lines(&range),
            others: None,
        });
    }
    sheets.sort_by_key(|(_, range)| std::cmp::Reverse(rows_of_numbers(range)));
    let others: Vec<&str> = sheets
        .iter()
        .skip(1)
        .filter(|(_, range)| rows_of_numbers(range) > 1)
        .map(|(name, _)| name.as_str())
        .collect();
    let others = (!others.is_empty()).then(|| listed(others));
    let (name, range) = sheets.into_iter().next().ok_or("it holds no sheet")?;
    Ok(Sheet {
        name,
        text: lines(&range),
        others,
    })
}

fn rows_of_numbers(range: &Range<Data>) -> usize {
    let number = |cell: &&Data| matches!(cell, Data::Int(_) | Data::Float(_) | Data::DateTime(_));
    range
        .rows()
        .filter(|row| row.iter().filter(number).count() > 1)
        .count()
}

/// Lines keep the numbers that the sheet's rows have.
fn lines(range: &Range<Data>) -> String {
    let (above, left) = range.start().unwrap_or((0, 0));
    let mut text = "\n".repeat(above as usize);
    for row in range.rows() {
        text.push_str(&"\t".repeat(left as usize));
        for (column, cell) in row.iter().enumerate() {
            if column > 0 {
                text.push('\t');
            }
            write_cell(&mut text, cell);
        }
        text.push('\n');
    }
    text
}

fn write_cell(text: &mut String, cell: &Data) {
    // Writing to a string does not fail.
    let _ = match cell {
        Data::Empty => Ok(()),
        Data::Int(number) => write!(text, "{number}"),
        Data::Float(number) => write!(text, "{number}"),
        Data::Bool(true) => write!(text, "ON"),
        Data::Bool(false) => write!(text, "OFF"),
        Data::DateTime(at) => write!(text, "{}", moment(at)),
        Data::DateTimeIso(words) | Data::DurationIso(words) => write!(text, "{words}"),
        Data::Error(error) => write!(text, "{error}"),
        other => write!(
            text,
            "{}",
            other.to_string().replace(['\t', '\n', '\r'], " ")
        ),
    };
}

fn moment(at: &ExcelDateTime) -> String {
    if at.is_duration() {
        let seconds = at.as_f64() * 86_400.0;
        let whole = (seconds * 1e3).round() / 1e3;
        return format!(
            "{}:{:02}:{:06.3}",
            (whole / 3600.0) as i64,
            (whole / 60.0) as i64 % 60,
            whole % 60.0
        );
    }
    let (year, month, day, hour, minute, second, milli) = at.to_ymd_hms_milli();
    let date = format!("{year:04}-{month:02}-{day:02}");
    let time = match milli {
        0 => format!("{hour:02}:{minute:02}:{second:02}"),
        milli => format!("{hour:02}:{minute:02}:{second:02}.{milli:03}"),
    };
    let days = at.as_f64();
    match (days < 1.0, days.fract() == 0.0) {
        (true, _) => time,
        (false, true) => date,
        (false, false) => format!("{date} {time}"),
    }
}
