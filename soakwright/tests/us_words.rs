//! A user's promise: whoever works in °F and inches reads °F and inches, in need, quick answer, plan and record.
//!
//! Where a number stands in both, the metric one is in brackets behind the other. What else may be metric is listed here.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const DEMO: &str = include_str!("../../jobs/carbon-steel-line.toml");
const LOG: &str = include_str!("../../jobs/carbon-steel-line-log.csv");

/// Units of which a number stands in brackets behind one of the reader's.
const BOTH: [&str; 5] = [" mm)", " °C)", " K)", "°C/h)", " m)"];

/// What may be metric, and why.
const MAY_BE_METRIC: [(&str, &str); 6] = [
    (
        "in °C (at ",
        "a rule of practice is a part of a temperature in °C",
    ),
    ("each end", "the allowance of a definition stands in both"),
    ("Along mm", "the site sheet has columns in both"),
    ("Round mm", "the site sheet has columns in both"),
    (" in   mm", "the tape of the site sheet has both"),
    (
        "against its neighbors",
        "why a thermocouple is doubted, in the unit of its log",
    ),
];

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn said(folder: &Path, arguments: &[&str]) -> String {
    let run = Command::new(env!("CARGO_BIN_EXE_soakwright"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .expect("the program runs");
    let words = [run.stdout, run.stderr].map(|said| String::from_utf8_lossy(&said).into_owned());
    assert_ne!(run.status.code(), Some(2), "{words:?}");
    words[0].clone()
}

/// What a reader of a page sees, block by block.
fn seen(html: &str) -> Vec<String> {
    let body = html.split("</style>").last().unwrap_or_default();
    let mut blocks = vec![String::new()];
    for piece in body.split('<') {
        let (tag, text) = piece.split_once('>').unwrap_or(("", piece));
        let name = tag
            .trim_start_matches('/')
            .split([' ', '\n'])
            .next()
            .unwrap_or_default();
        // Marks and emphasis stand within a sentence.
        if !["a", "sup", "strong", "b", "em", "span"].contains(&name) {
            blocks.push(String::new());
        }
        if let Some(last) = blocks.last_mut() {
            let text = text.replace("&#39;", "'").replace("&amp;", "&");
            last.push_str(&text.replace('\u{a0}', " "));
        }
    }
    blocks.retain(|block| !block.trim().is_empty());
    blocks
}

/// A text without brackets that hold nothing but the same number in the other unit.
fn without_both(text: &str) -> String {
    let mut left = String::new();
    let mut rest = text;
    while let Some(open) = rest.find('(') {
        let Some(close) = rest[open..].find(')').map(|at| open + at + 1) else {
            break;
        };
        let inside = &rest[open..close];
        let is_number = inside[1..]
            .trim_start_matches('−')
            .starts_with(|c: char| c.is_ascii_digit());
        left.push_str(&rest[..open]);
        if !(is_number && BOTH.iter().any(|end| inside.ends_with(end))) {
            left.push_str(inside);
        }
        rest = &rest[close..];
    }
    left + rest
}

/// Metric units in a text.
fn metric(text: &str) -> Vec<&'static str> {
    let text = format!("{} ", without_both(text));
    let ends = |c: char| !c.is_alphanumeric() && c != '/' && c != '·' && c != '²';
    let units = ["mm", "°C", "K/h", "K", "°C/h"];
    let stands = |unit: &&&str| {
        text.match_indices(&format!(" {unit}")).any(|(at, found)| {
            let after = text[at + found.len()..].chars().next();
            let before = text[..at].chars().next_back();
            after.is_none_or(ends) && before.is_some_and(|c| c.is_ascii_digit())
        })
    };
    units.iter().filter(stands).copied().collect()
}

/// Fails on every metric unit that is not allowed.
fn only_us(of: &str, blocks: &[String]) {
    // Turns have their place in both on the site sheet, one below the other.
    let is_place = |block: &str| {
        let number = block.trim().strip_suffix(" mm").unwrap_or_default();
        number.trim_start_matches('−').parse::<u32>().is_ok()
    };
    let is_allowed = |block: &str| MAY_BE_METRIC.iter().any(|(words, _)| block.contains(words));
    let wrong: Vec<&String> = blocks
        .iter()
        .filter(|block| !metric(block).is_empty() && !is_allowed(block) && !is_place(block))
        .collect();
    assert!(wrong.is_empty(), "{of}: {wrong:#?}");
}

/// Blocks without the definitions, which are published as they are, and without what a source says in its own words.
fn told(file: &Path, json: &Path) -> Vec<String> {
    let json = fs::read_to_string(json).expect("data");
    let data: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let mut verbatim = Vec::new();
    texts(&data, &mut verbatim);
    let squeezed = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let verbatim: Vec<String> = verbatim.iter().map(|text| squeezed(text)).collect();
    let blocks = seen(&fs::read_to_string(file).expect("a page"));
    let is_verbatim = |block: &String| verbatim.contains(&squeezed(block));
    blocks
        .into_iter()
        .filter(|block| !is_verbatim(block))
        .collect()
}

/// Definitions, wherever they stand, and sources.
fn texts(data: &serde_json::Value, found: &mut Vec<String>) {
    let list = |key: &str| data[key].as_array().into_iter().flatten();
    for (key, text) in [("definitions", "text"), ("assumptions", "source")] {
        found.extend(list(key).filter_map(|one| one[text].as_str().map(str::to_owned)));
    }
    let within = data
        .as_object()
        .into_iter()
        .flat_map(|object| object.values());
    within.for_each(|inside| texts(inside, found));
}

#[test]
fn a_job_in_inches_is_told_in_inches_and_fahrenheit() {
    let folder = folder("us-words");
    fs::write(folder.join("job.toml"), DEMO).expect("written");
    fs::write(folder.join("log.csv"), LOG).expect("written");
    let lines = |text: &str| -> Vec<String> {
        // Lines of a paragraph together, so that no number is parted from its unit.
        text.split("\n\n")
            .map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "))
            .collect()
    };
    for arguments in [
        &["need", "job.toml"][..],
        &["rest", "job.toml"],
        &["plan", "job.toml", "--out", "plan"],
        &[
            "record",
            "job.toml",
            "log.csv",
            "--plan",
            "plan/plan.json",
            "--out",
            "record",
        ],
    ] {
        only_us(arguments[0], &lines(&said(&folder, arguments)));
    }
    for (page, data) in [
        ("plan/plan.html", "plan/plan.json"),
        ("record/record.html", "record/record.json"),
    ] {
        only_us(page, &told(&folder.join(page), &folder.join(data)));
    }
    let page = told(
        &folder.join("plan/plan.html"),
        &folder.join("plan/plan.json"),
    )
    .join("\n");
    for words in [
        "Distance from the weld center, in",
        "Btu/(h ft °F)",
        "Pitch, in",
        "heating at 600 °F",
    ] {
        assert!(page.contains(words), "{words}");
    }
}

#[test]
fn a_job_that_leaves_much_open_is_told_in_the_same_units() {
    let folder = folder("us-open");
    let text = DEMO
        .replace("ambient = \"68 °F\"\n", "")
        .replace("lead_length    = \"20 ft\"\n", "")
        .replace("[limits.owner]\ndocument  = \"Owner's specification OS-12 (invented)\"\nhold_time = \"1 h\"\nspread    = \"72 °F\"\n", "");
    fs::write(folder.join("job.toml"), text).expect("written");
    said(&folder, &["plan", "job.toml", "--out", "plan"]);
    let told = told(
        &folder.join("plan/plan.html"),
        &folder.join("plan/plan.json"),
    );
    only_us("plan.html", &told);
    for words in ["197 in, one way", "68 °F, air"] {
        assert!(told.iter().any(|block| block.contains(words)), "{words}");
    }
    let wrong = fs::read_to_string(folder.join("job.toml")).expect("there");
    let wrong = wrong.replacen("wall             = \"0.688 in\"", "wall = \"40 in\"", 1);
    fs::write(folder.join("wrong.toml"), wrong).expect("written");
    let refused = Command::new(env!("CARGO_BIN_EXE_soakwright"))
        .args(["plan", "wrong.toml"])
        .current_dir(&folder)
        .output()
        .expect("the program runs");
    let refused = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(
        metric(&refused).is_empty() && refused.contains(" in"),
        "{refused}"
    );
}
