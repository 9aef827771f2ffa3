//! Job files to begin from: an empty one, and another weld's without what belongs to that weld alone.

use toml_edit::DocumentMut;

/// Of a real weld, what belongs to it and to nobody else: its number, when it was welded, who was there, and what was
/// decided about its log.
const OF_ONE_WELD: [&str; 5] = ["person", "disposition", "accepted", "treatment", "answers"];

/// Of an invented weld, also whatever nobody may take for given: papers, names and analyses that do not exist.
const INVENTED: [&str; 7] = [
    "demo",
    "scenario",
    "identification",
    "limits",
    "equipment",
    "welding",
    "neighbor",
];

/// The same of each side of an invented weld.
const INVENTED_OF_A_SIDE: [&str; 7] = [
    "name",
    "chemistry",
    "tensile_strength",
    "tempered_at",
    "next",
    "next_name",
    "next_max",
];

/// A job file in which everything that is needed is still missing, but for the weld's number and the units.
pub fn empty(us_units: bool) -> String {
    let units = if us_units { "us" } else { "si" };
    format!("units = \"{units}\"\n")
}

/// A job file to begin another weld from. A text that is no whole file comes back as it is.
pub fn pattern(text: &str) -> String {
    let Ok(mut document) = text.parse::<DocumentMut>() else {
        return text.to_owned();
    };
    let is_invented = document.get("demo").and_then(toml_edit::Item::as_bool) == Some(true);
    if is_invented {
        return of_invented(document);
    }
    OF_ONE_WELD
        .iter()
        .for_each(|key| drop(document.remove(key)));
    take_away(
        &mut document,
        "identification",
        &["weld", "revision", "prepared_by"],
    );
    take_away(&mut document, "weld", &["ended"]);
    document.to_string()
}

fn of_invented(mut document: DocumentMut) -> String {
    for key in INVENTED.iter().chain(&OF_ONE_WELD) {
        document.remove(key);
    }
    take_away(&mut document, "weld", &["ended"]);
    take_away(&mut document, "source", &["name"]);
    if let Some(sides) = document
        .get_mut("side")
        .and_then(toml_edit::Item::as_array_of_tables_mut)
    {
        for side in sides.iter_mut() {
            INVENTED_OF_A_SIDE
                .iter()
                .for_each(|key| drop(side.remove(key)));
        }
    }
    // Its comments speak of the invented weld.
    let text = document.to_string();
    let kept: Vec<&str> = text
        .lines()
        .filter(|line| !line.trim_start().starts_with('#'))
        .collect();
    let head =
        "# Begun from a pattern: every value here is still to be checked against the weld.\n";
    format!("{head}{}\n", kept.join("\n").trim())
}

fn take_away(document: &mut DocumentMut, table: &str, keys: &[&str]) {
    if let Some(table) = document
        .get_mut(table)
        .and_then(toml_edit::Item::as_table_like_mut)
    {
        keys.iter().for_each(|key| drop(table.remove(key)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEMOS: [&str; 3] = [
        include_str!("../../jobs/carbon-steel-line.toml"),
        include_str!("../../jobs/thick-9cr-header.toml"),
        include_str!("../../jobs/unequal-heavy-fitting.toml"),
    ];

    #[test]
    fn nothing_invented_comes_along_and_what_is_left_reads_well() {
        for demo in DEMOS {
            let text = pattern(demo);
            for gone in ["invented", "demo", "limits", "prepared_by", "scenario"] {
                assert!(!text.contains(gone), "{gone} in {text}");
            }
            crate::read(&text, "job.toml").unwrap_or_else(|refusal| panic!("{refusal}\n{text}"));
        }
    }

    #[test]
    fn limits_of_a_real_weld_stay_and_its_own_history_does_not() {
        let real = "units = \"si\" # why\n[identification]\nproject = \"P\"\nweld = \"W-1\"\nprepared_by = \"N. N.\"\n\
                    [weld]\nended = \"2026-03-04T15:20+01:00\"\n[limits.procedure]\nhold_time = \"3 h\"\n\
                    [[disposition]]\nchannel = \"TC 3\"\n[[person]]\nname = \"N. N.\"\n";
        let text = pattern(real);
        for kept in ["# why", "project", "[limits.procedure]", "hold_time"] {
            assert!(text.contains(kept), "{kept}: {text}");
        }
        for gone in ["W-1", "N. N.", "ended", "disposition"] {
            assert!(!text.contains(gone), "{gone}: {text}");
        }
    }

    #[test]
    fn an_empty_weld_lacks_what_is_needed_and_says_what() {
        let refusal = crate::read(&empty(false), "job.toml").expect_err("much is missing");
        assert!(refusal.faults.len() > 5, "{refusal}");
        assert_eq!(pattern("no = toml = file"), "no = toml = file");
    }
}
