//! The record in short, for a terminal of 80 columns.

use std::path::Path;

use checks::{FailureKind, Finding, Origin, Verdict};
use job::record::Record;
use quantity::{Hours, Units};
use readings::{Mapping, Reading};

use crate::plan::told::{row, wrapped};

/// Everything that is said on the terminal: what was not met first.
pub fn told(record: &Record, folder: &Path, names: &[String]) -> String {
    let weld = &record.basis.identification.weld;
    let head = match weld.as_str() {
        "" => record.basis.file_name.clone(),
        weld => format!("Weld {weld}"),
    };
    let mut lines = vec![format!("{head}, {}", record.basis.what)];
    if record.basis.demo.is_some() {
        lines.push("Demo: everything about this weld is invented.".into());
    }
    lines.push(String::new());
    lines.extend(findings(record));
    let open: Vec<_> = record.deviations.iter().filter(|d| d.open).collect();
    for deviation in open {
        lines.extend(wrapped(
            &format!("- waits for an answer: {}", deviation.says),
            2,
        ));
    }
    match record.basis.unanswered().len() {
        0 => {}
        1 => lines
            .push("- 1 question of the rules is not answered and stands so on the record".into()),
        many => lines.push(format!(
            "- {many} questions of the rules are not answered and stand so on the record"
        )),
    }
    lines.push(String::new());
    let start = record.log.start.local();
    let length = Hours::from_h(record.length().as_secs_f64() / 3600.0);
    lines.extend(row(
        "Log",
        &format!(
            "{} scans of {} channels from {}, {}",
            record.log.scans.len(),
            record.log.channels.len(),
            start.strftime("%Y-%m-%d %H:%M"),
            length.words()
        ),
    ));
    for file in record.mapping.left_out() {
        lines.extend(row(
            "Left out",
            &format!("{file}: it is of another heat, as was said"),
        ));
    }
    for complaint in record.log.complaints.iter().take(5) {
        lines.extend(row("Remark", &complaint.to_string()));
    }
    let more = record.log.complaints.len().saturating_sub(5);
    if more > 0 {
        lines.extend(row("Remark", &format!("{more} more stand in the record")));
    }
    let told = record.deviations.iter().filter(|d| !d.open).take(6);
    for deviation in told {
        lines.extend(row("Note", &deviation.says));
    }
    for failure in &record.findings.failures {
        let word = match failure.kind {
            FailureKind::Drifting => "Seen",
            _ => "Failed",
        };
        lines.extend(row(
            word,
            &format!(
                "{}: {} from {}",
                failure.channel,
                failure.kind.words(),
                failure.first_evidence.words()
            ),
        ));
    }
    if let Some((_, against)) = &record.plan {
        for says in against.says(record.basis.units) {
            lines.extend(row("Plan", &says));
        }
    }
    lines.extend(row(
        "Written",
        &format!("{} in {}", names.join(", "), folder.display()),
    ));
    lines.push(String::new());
    lines.extend(wrapped(
        "Measured values against limits by stated definitions; the code of the contract and licensed practice decide.",
        0,
    ));
    lines.into_iter().map(|line| line + "\n").collect()
}

fn findings(record: &Record) -> Vec<String> {
    let all = &record.findings.findings;
    let met = all.iter().filter(|f| f.verdict == Verdict::Met).count();
    let by = record.findings.soak_band_names().join(", ");
    let mut lines = wrapped(
        &format!(
            "Measured values met {met} of {} limits, by {by}.",
            all.len()
        ),
        0,
    );
    let mut unmet: Vec<&Finding> = all.iter().filter(|f| f.verdict != Verdict::Met).collect();
    unmet.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
    for finding in unmet {
        let by = record.findings.names_for(&finding.limit.kind);
        let sentence = finding.sentence(Origin::Measured, record.basis.units, &by);
        lines.extend(wrapped(&format!("- {sentence}"), 2));
    }
    lines
}

/// How files were understood: what they were taken for, their first rows, and what they leave open.
pub fn understood(read: &[Reading], mapping: &Mapping, units: Units) -> String {
    let mut lines = Vec::new();
    for reading in read {
        let shown = &reading.understood;
        let said = mapping.of(&reading.file.name);
        lines.push(reading.file.name.clone());
        if mapping.leaves_out(&reading.file.name) {
            lines.extend(row("Left out", "it is of another heat, as was said"));
        }
        lines.extend(row(
            "Text",
            &format!(
                "{}, cells parted by {}, decimal {}",
                shown.encoding, shown.delimiter, shown.decimal
            ),
        ));
        if let Some(order) = &shown.date_order {
            lines.extend(row("Dates", order));
        }
        if let Some(zone) = &shown.time_zone {
            lines.extend(row("Zone", zone));
        }
        for column in &shown.columns {
            let unit = match column.unit.as_str() {
                "" => String::new(),
                unit => format!(", {unit}"),
            };
            lines.extend(row(
                "Column",
                &format!("{}: {}{unit}", column.name, column.role),
            ));
        }
        if !shown.preview.is_empty() {
            lines.extend(row(
                "Readings",
                &job::record::first_rows_words(shown, said.unit.as_deref(), units),
            ));
        }
        for one in &shown.preview {
            let readings = one
                .readings
                .iter()
                .map(|t| job::record::reading_words(*t, units));
            let readings: Vec<String> = readings.collect();
            lines.extend(row(
                &format!("line {}", one.line),
                &format!("{}  {}", one.time, readings.join("  ")),
            ));
        }
        for complaint in &reading.complaints {
            lines.extend(row("Remark", &complaint.to_string()));
        }
        for question in &reading.questions {
            lines.extend(row("Open", &question.to_string()));
        }
        lines.push(String::new());
    }
    for question in job::record::heats_open(read, mapping) {
        lines.extend(row("Open", &question.to_string()));
    }
    lines.into_iter().map(|line| line + "\n").collect()
}
