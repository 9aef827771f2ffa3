//! One row with all that is known of it.

use quantity::Status;
use rules::{Entry, UsEntry};

use crate::columns::{named, wrapped};

/// Columns of the names at the left.
const NAMES: usize = 12;

/// The row for a terminal: what it says, where it holds, how far to trust it, how to confirm it.
pub fn explained(entry: &Entry) -> String {
    let editions = match entry.editions.as_slice() {
        [] => entry.generation.clone(),
        editions => format!("{} ({})", editions.join(", "), entry.generation),
    };
    let range = match entry.range.as_str() {
        "" => "everywhere",
        range => range,
    };
    let rows = [
        ("document", entry.document.clone()),
        ("editions", editions),
        ("clause", entry.clause.clone()),
        ("purpose", entry.purpose.words().to_owned()),
        ("gives", entry.quantity.to_owned()),
        ("value", entry.value.clone()),
        ("unit", entry.unit.clone()),
        ("where", range.to_owned()),
        ("status", status(entry.status, &entry.verified_in)),
        ("use", in_use(entry).to_owned()),
    ];
    let mut rows = rows.to_vec();
    rows.extend(entry.note.iter().map(|note| ("note", note.clone())));
    rows.extend(entry.us.iter().flat_map(us_column));
    let mut lines = vec![entry.id.clone()];
    lines.extend(
        rows.iter()
            .flat_map(|(name, words)| named(&format!("  {name}"), NAMES, words)),
    );
    lines.extend(how_to_confirm(entry));
    lines.join("\n") + "\n"
}

/// The second column, by which a job in US units is held.
fn us_column(us: &UsEntry) -> Vec<(&'static str, String)> {
    let mut rows = vec![("US value", us.value.clone()), ("US unit", us.unit.clone())];
    if !us.range.is_empty() {
        rows.push(("US where", us.range.clone()));
    }
    rows.push(("US status", status(us.status, &us.verified_in)));
    rows.extend(us.note.iter().map(|note| ("US note", note.clone())));
    rows
}

fn status(status: Status, verified_in: &[String]) -> String {
    let words = status.words();
    match (status, verified_in) {
        (Status::Verified, []) => format!("{words}: read in public text of the document"),
        (Status::Verified, read) => format!(
            "{words}: read in edition {}; in any other it counts as from memory",
            read.join(", ")
        ),
        (Status::FromMemory, _) => {
            format!("{words}: recalled, not read again; marked wherever it is used")
        }
        (Status::Unsure, _) => format!("{words}: sources disagree or the recollection is weak"),
        _ => words.to_owned(),
    }
}

fn in_use(entry: &Entry) -> &'static str {
    match (entry.is_on, entry.status) {
        (true, Status::Unsure) => "on although unsure, because it can only ask more",
        (true, _) => "on",
        (false, _) => "off until somebody who has read the clause confirms it",
    }
}

fn how_to_confirm(entry: &Entry) -> Vec<String> {
    let settled = |status: Status| matches!(status, Status::Verified | Status::Computed);
    if settled(entry.status) && entry.us.as_ref().is_none_or(|us| settled(us.status)) {
        return Vec::new();
    }
    let mut lines = vec![String::new()];
    lines.extend(wrapped(
        "",
        "Read it in the document? Write into confirmed.toml beside the job file:",
    ));
    let mut written = vec![
        "[[confirmed]]".to_owned(),
        format!("row = \"{}\"", entry.id),
        "by = \"your name\"".to_owned(),
        "on = \"2026-01-31\"".to_owned(),
        "note = \"edition and page where you read it\"".to_owned(),
        format!(
            "# unit = \"{}\"   # these two only where it says otherwise",
            entry.unit
        ),
        format!("# value = {}", entry.value_as_written),
    ];
    if let Some(us) = &entry.us {
        written.push("# or as the US column prints it:".to_owned());
        written.push(format!("# unit = \"{}\"", us.unit));
        written.push(format!("# value = {}", us.value_as_written));
    }
    lines.extend(written.iter().map(|line| format!("  {line}")));
    lines
}
