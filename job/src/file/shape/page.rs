//! The tables of `docs/job-file.md`.

use quantity::Units;

use super::{Key, Kind, TABLES, TableShape, Times};

/// Every table of the file with its keys, as Markdown.
pub fn page() -> String {
    TABLES.iter().map(section).collect::<Vec<_>>().join("\n")
}

fn section(table: &TableShape) -> String {
    let title = match (table.path, table.times) {
        ("", _) => "The head".to_owned(),
        (path, Times::Once) => format!("`[{path}]`"),
        (path, Times::AtMostOnce) => format!("`[{path}]`, may be left out"),
        (path, Times::Twice) => format!("`[[{path}]]`, twice"),
        (path, Times::Many) => format!("`[[{path}]]`, any number of times"),
    };
    let rows: Vec<String> = table.keys.iter().map(row).collect();
    format!(
        "## {title}\n\n{}\n\n| key | holds | must | what |\n|---|---|---|---|\n{}\n",
        table.says,
        rows.join("\n")
    )
}

fn row(key: &Key) -> String {
    let must = if key.must { "yes" } else { "" };
    format!(
        "| `{}` | {} | {must} | {} |",
        key.name,
        holds(key),
        key.says
    )
}

fn holds(key: &Key) -> String {
    match &key.kind {
        Kind::Measure(measure) => {
            let ends: Vec<String> = measure.suffixes().map(|s| format!("`{s}`")).collect();
            format!(
                "{} (`\"{}\"`, or {})",
                measure.name(),
                key.example(Units::Si),
                ends.join(", ")
            )
        }
        Kind::Measures(measure) => format!(
            "list of {}s (`[\"{}\"]`)",
            measure.name(),
            measure.dimension().example(Units::Si)
        ),
        Kind::Text => "text".to_owned(),
        Kind::Texts => "list of texts".to_owned(),
        Kind::Edition => "text or year".to_owned(),
        Kind::Word(words) => words
            .iter()
            .map(|w| format!("`\"{w}\"`"))
            .collect::<Vec<_>>()
            .join(", "),
        Kind::Number(least, most) => format!("number, {least} to {most}"),
        Kind::Clock => "clock position (`12`, `\"6:30\"`)".to_owned(),
        Kind::Moment => "date, time of day and zone (`\"2026-03-04T15:20+01:00\"`)".to_owned(),
        Kind::Truth => "`true` or `false`".to_owned(),
        Kind::Percentages => "table of numbers".to_owned(),
    }
}
