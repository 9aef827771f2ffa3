//! Rows one under the other, by document.

use rules::Entry;

use crate::columns::wrapped;

/// The rows for a terminal.
pub fn listed(entries: &[Entry]) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut document = String::new();
    for entry in entries {
        let heading = format!("{}, {}", entry.document, entry.generation);
        if heading != document {
            if !lines.is_empty() {
                lines.push(String::new());
            }
            lines.extend(wrapped("", &heading));
            document = heading;
        }
        lines.push(format!("  {}", entry.id));
        lines.extend(wrapped("    ", &in_short(entry)));
    }
    let off = entries.iter().filter(|entry| !entry.is_on).count();
    lines.push(String::new());
    lines.extend(wrapped(
        "",
        &format!(
            "{} rows, {off} of them off. 'soakwright rules ID' explains a row.",
            entries.len()
        ),
    ));
    lines.join("\n") + "\n"
}

fn in_short(entry: &Entry) -> String {
    let range = match entry.range.as_str() {
        "" => String::new(),
        range => format!("; {range}"),
    };
    let off = if entry.is_on { "" } else { ", OFF" };
    format!(
        "{}: {}, {}{range} [{}{off}]",
        entry.clause,
        entry.quantity,
        entry.value,
        entry.status.words()
    )
}
