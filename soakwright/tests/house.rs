//! The rules of the house, held by reading the tree: floors, documents that list things, words that do not belong.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// A room, its floor, and what it may never know: rooms of lower floors, crates, and names in its source.
struct Room {
    name: &'static str,
    floor: u8,
    rooms: &'static [&'static str],
    source: &'static [&'static str],
}

const CLOCK: [&str; 4] = ["SystemTime", "Instant::now", "Zoned::now", "Timestamp::now"];
const CLOCK_AND_FILES: [&str; 5] = [CLOCK[0], CLOCK[1], CLOCK[2], CLOCK[3], "std::fs"];

/// The rooms. A room may know the rooms of lower floors, except those named here.
const ROOMS: [Room; 13] = [
    Room {
        name: "quantity",
        floor: 1,
        rooms: &[],
        source: &CLOCK_AND_FILES,
    },
    Room {
        name: "field",
        floor: 1,
        rooms: &[],
        source: &CLOCK_AND_FILES,
    },
    Room {
        name: "specimens",
        floor: 1,
        rooms: &[],
        source: &CLOCK_AND_FILES,
    },
    Room {
        name: "materials",
        floor: 2,
        rooms: &["field"],
        source: &CLOCK,
    },
    Room {
        name: "rules",
        floor: 2,
        rooms: &["field"],
        source: &CLOCK,
    },
    Room {
        name: "readings",
        floor: 2,
        rooms: &["field"],
        source: &CLOCK_AND_FILES,
    },
    Room {
        name: "report",
        floor: 2,
        rooms: &["field", "quantity"],
        source: &CLOCK_AND_FILES,
    },
    Room {
        name: "cycle",
        floor: 3,
        rooms: &["report"],
        source: &CLOCK_AND_FILES,
    },
    Room {
        name: "checks",
        floor: 3,
        rooms: &["field", "materials", "report"],
        source: &CLOCK_AND_FILES,
    },
    Room {
        name: "live",
        floor: 3,
        rooms: &["field", "materials", "rules", "report"],
        source: &[],
    },
    Room {
        name: "job",
        floor: 4,
        rooms: &[],
        source: &["std::io::stdout", "println!"],
    },
    Room {
        name: "desk",
        floor: 5,
        rooms: &["field"],
        source: &[],
    },
    Room {
        name: "soakwright",
        floor: 6,
        rooms: &["field", "cycle"],
        source: &[],
    },
];

/// Crates that only some rooms may use: HTTP belongs to the desk, the terminal to the command line.
const CRATES: [(&str, &[&str]); 6] = [
    ("axum", &["desk"]),
    ("hyper", &["desk"]),
    ("maud", &["desk"]),
    ("clap", &["soakwright"]),
    ("indicatif", &["soakwright"]),
    ("krilla", &["report"]),
];

/// Lines that a source file may have: one concept, one file.
const MOST_LINES: usize = 600;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Every file of the tree with one of these endings, without build products and version control.
fn files(endings: &[&str]) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of the tree") {
            let path = entry.expect("an entry").path();
            let name = path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            if path.is_dir() {
                let skipped = name == "target" || (name.starts_with('.') && name != ".ci");
                if !skipped {
                    folders.push(path);
                }
            } else if endings.iter().any(|ending| name.ends_with(ending)) {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn text(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn members() -> Vec<String> {
    let manifest: toml::Table = text(&root().join("Cargo.toml"))
        .parse()
        .expect("the manifest");
    let members = manifest["workspace"]["members"].as_array().expect("a list");
    members
        .iter()
        .map(|member| member.as_str().expect("a name").to_owned())
        .collect()
}

/// Every crate that a room depends on, tests included.
fn dependencies(room: &str) -> Vec<String> {
    let manifest: toml::Table = text(&root().join(room).join("Cargo.toml"))
        .parse()
        .expect("a manifest");
    ["dependencies", "dev-dependencies", "build-dependencies"]
        .iter()
        .filter_map(|kind| manifest.get(*kind)?.as_table())
        .flat_map(|table| table.keys().cloned())
        .collect()
}

#[test]
fn every_room_has_a_floor() {
    let known: Vec<&str> = ROOMS.iter().map(|room| room.name).collect();
    assert_eq!(
        members(),
        known,
        "a new crate needs a floor and a prohibition in this test"
    );
}

#[test]
fn rooms_know_only_what_lies_below_them() {
    let floors: BTreeMap<&str, u8> = ROOMS.iter().map(|room| (room.name, room.floor)).collect();
    let mut forbidden = Vec::new();
    for room in &ROOMS {
        for dependency in dependencies(room.name) {
            let above = floors
                .get(dependency.as_str())
                .is_some_and(|floor| *floor >= room.floor);
            let named = room.rooms.contains(&dependency.as_str());
            let reserved = CRATES
                .iter()
                .any(|(name, rooms)| *name == dependency && !rooms.contains(&room.name));
            if above || named || reserved {
                forbidden.push(format!("{} may not know {dependency}", room.name));
            }
        }
    }
    assert!(forbidden.is_empty(), "{forbidden:#?}");
}

#[test]
fn rooms_without_a_clock_or_files_take_neither() {
    let mut found = Vec::new();
    for room in &ROOMS {
        let inside = root().join(room.name).join("src");
        let in_room = |path: &&PathBuf| path.starts_with(&inside) && !path.ends_with("tests.rs");
        for path in files(&[".rs"]).iter().filter(in_room) {
            let (path, text) = (path.display(), text(path));
            let used = room
                .source
                .iter()
                .filter(|name| without_tests(&text).contains(**name));
            found.extend(used.map(|name| format!("{path}: {name}")));
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

/// A source file up to its tests.
fn without_tests(text: &str) -> &str {
    text.find("#[cfg(test)]").map_or(text, |at| &text[..at])
}

#[test]
fn the_map_has_a_paragraph_with_an_invariant_for_every_room() {
    let map = text(&root().join("ARCHITECTURE.md"));
    let paragraphs: Vec<&str> = map.split("\n\n").collect();
    for member in members() {
        let begins = format!("**`{member}`**");
        let paragraph = paragraphs
            .iter()
            .find(|paragraph| paragraph.trim_start().starts_with(&begins));
        let paragraph = paragraph.unwrap_or_else(|| panic!("no paragraph begins with {begins}"));
        let last = paragraph
            .rsplit("**Invariant: never ")
            .next()
            .expect("a piece");
        assert!(
            paragraph.contains("**Invariant: never "),
            "{member} has no invariant"
        );
        assert!(
            last.trim_end().ends_with("**"),
            "the paragraph of {member} does not end in its invariant"
        );
    }
}

#[test]
fn documents_point_to_files_that_exist() {
    let mut missing = Vec::new();
    for path in files(&[".md"]) {
        let folder = path.parent().expect("a folder");
        for target in text(&path)
            .split("](")
            .skip(1)
            .filter_map(|rest| rest.split(')').next())
        {
            let file = target.split('#').next().unwrap_or_default();
            let outside = target.contains("://") || file.is_empty();
            if !outside && !folder.join(file).exists() {
                missing.push(format!("{}: {target}", path.display()));
            }
        }
    }
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn the_table_of_cases_counts_what_is_there() {
    let table = text(&root().join("cases/README.md"));
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for path in files(&[".toml"]) {
        let Ok(inside) = path.strip_prefix(root().join("cases")) else {
            continue;
        };
        let kind = inside
            .iter()
            .next()
            .expect("a folder")
            .to_string_lossy()
            .into_owned();
        *counts.entry(kind).or_default() += usize::from(text(&path).contains("\nsymmetry = "));
    }
    for (kind, count) in counts {
        let row = format!("| `{kind}` | {count} |");
        assert!(table.contains(&row), "cases/README.md has no row {row:?}");
    }
}

#[test]
fn no_file_is_longer_than_one_concept() {
    let long: Vec<String> = files(&[".rs"])
        .iter()
        .map(|path| (path, text(path).lines().count()))
        .filter(|(_, lines)| *lines >= MOST_LINES)
        .map(|(path, lines)| format!("{}: {lines} lines", path.display()))
        .collect();
    assert!(long.is_empty(), "{long:#?}");
}

#[test]
fn no_file_carries_a_path_of_a_machine_or_unfinished_work() {
    // Written in pieces, so that this file is not found itself.
    let words = [
        ["/wo", "rk/"].concat(),
        ["/ho", "me/"].concat(),
        ["/Us", "ers/"].concat(),
        ["../sh", "ared"].concat(),
        ["tran", "script"].concat(),
        ["#[ig", "nore"].concat(),
        ["to", "do!("].concat(),
        ["unimpl", "emented!("].concat(),
        ["FIX", "ME"].concat(),
    ];
    let mut found = Vec::new();
    for path in files(&[".rs", ".toml", ".md", ".css", ".js", ".html", ".yml", "run"]) {
        let text = text(&path);
        let used = words.iter().filter(|word| text.contains(word.as_str()));
        found.extend(used.map(|word| format!("{}: {word}", path.display())));
    }
    assert!(found.is_empty(), "{found:#?}");
}
