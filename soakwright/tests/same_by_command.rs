//! Nothing in the desk that the command line can't do: every address of the desk, and every change that its form sends,
//! stands in the table of `docs/desk.md` with a command that is there.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

fn read(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(name);
    fs::read_to_string(path).expect(name)
}

/// The rows of the table: what stands in the desk, and the command.
fn table() -> Vec<[String; 2]> {
    let page = read("docs/desk.md");
    let below = page
        .split("| In the desk |")
        .nth(1)
        .expect("the table of commands");
    let rows = below
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'));
    rows.map(|row| {
        let cells: Vec<&str> = row.trim_matches('|').split(" | ").collect();
        assert_eq!(cells.len(), 3, "{row}");
        [cells[0], cells[2]].map(str::to_owned)
    })
    .collect()
}

/// What stands between backticks.
fn marked(text: &str) -> Vec<&str> {
    text.split('`').skip(1).step_by(2).collect()
}

/// `GET /weld/{name}` for every address and deed of the desk, as its routes say.
fn addresses() -> BTreeSet<String> {
    let routes = read("desk/src/routes.rs");
    let mut all = BTreeSet::new();
    for piece in routes.split(".route(").skip(1) {
        let address = piece.split('"').nth(1).expect("an address");
        let handlers = piece.split('"').nth(2).expect("what it does");
        let end = handlers.find(".route_layer").unwrap_or(handlers.len());
        for deed in ["get", "post", "put", "delete", "patch"] {
            let called = format!("{deed}(");
            let is_called = handlers[..end].match_indices(&called).any(|(at, _)| {
                let before = handlers[..at].chars().next_back();
                before.is_none_or(|c| !c.is_alphanumeric() && c != '_' && c != ':')
            });
            if is_called {
                all.insert(format!("{} {address}", deed.to_uppercase()));
            }
        }
    }
    all
}

/// What the form of a weld sends: the names of its changes.
fn changes() -> BTreeSet<String> {
    let look = read("desk/src/weld/look.rs");
    let body = look.split("pub enum Change {").nth(1).expect("the changes");
    let body = body.split("\n}\n").next().expect("its end");
    let variants = body.lines().filter_map(|line| {
        let name = line.strip_prefix("    ")?;
        let name: String = name.chars().take_while(char::is_ascii_alphabetic).collect();
        name.starts_with(|c: char| c.is_ascii_uppercase())
            .then(|| name.to_lowercase())
    });
    variants.collect()
}

#[test]
fn every_address_and_change_of_the_desk_has_its_line() {
    let wanted: BTreeSet<String> = addresses().union(&changes()).cloned().collect();
    assert!(
        wanted.contains("POST /weld/{name}/record/accepted"),
        "{wanted:?}"
    );
    assert!(wanted.contains("DELETE /weld/{name}/cycle"), "{wanted:?}");
    assert!(wanted.contains("propose"), "{wanted:?}");
    let table = table();
    let told: BTreeSet<String> = table
        .iter()
        .flat_map(|[desk, _]| marked(desk))
        .map(str::to_owned)
        .collect();
    assert_eq!(told, wanted, "the table of docs/desk.md against the desk");
}

#[test]
fn every_command_of_the_table_is_there_with_its_options() {
    let mut commands = 0;
    for [desk, command] in table() {
        for line in marked(&command) {
            let Some(words) = line.strip_prefix("soakwright ") else {
                continue;
            };
            let deed = words.split(' ').next().unwrap_or_default();
            let help = Command::new(env!("CARGO_BIN_EXE_soakwright"))
                .args([deed, "--help"])
                .output()
                .expect("the program runs");
            assert!(help.status.success(), "{desk}: {line}");
            let help = String::from_utf8_lossy(&help.stdout).into_owned();
            for option in words.split(' ').filter(|word| word.starts_with("--")) {
                let stands = format!("{option} ");
                let ends = format!("{option}\n");
                assert!(
                    help.contains(&stands) || help.contains(&ends),
                    "{line}: no {option} in\n{help}"
                );
            }
            commands += 1;
        }
    }
    assert!(commands > 20, "{commands}");
}
