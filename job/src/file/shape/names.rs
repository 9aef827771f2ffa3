//! What a person reads instead of keys and words of the file: names of fields and groups of the form, and sentences in
//! which they stand. Whoever shows a sentence to a person of the trade passes it through [`spoken`]; whoever types keys
//! reads it as it is.

use super::{Key, Kind, TABLES, Times, key_at};

/// Tables that stand any number of times, with what one of them is called.
const ONE_OF: [(&str, &str); 9] = [
    ("neighbor", "neighbor"),
    ("coil.section", "section of turns"),
    ("thermocouple", "thermocouple"),
    ("person", "person"),
    ("equipment", "piece of equipment"),
    ("treatment", "treatment"),
    ("zone", "zone of the coil"),
    ("accepted", "deviation that somebody answers for"),
    ("disposition", "thermocouple taken out"),
];

/// Tables whose heading is no plain word of their path.
const TITLES: [(&str, &str); 18] = [
    ("", "Heat and code"),
    ("identification", "Who and what"),
    ("side", "The two sides"),
    ("neighbor", "Neighbors"),
    ("person", "People"),
    ("treatment", "Other treatments"),
    ("zone", "Zones of the coil"),
    ("accepted", "Deviations that somebody answers for"),
    ("disposition", "Thermocouples taken out"),
    ("log", "The logger’s file"),
    ("answers", "What only a person can answer"),
    ("limits", "Limits of owner and procedure"),
    ("limits.owner", "The owner’s limits"),
    ("limits.procedure", "The procedure’s limits"),
    ("thermocouple", "Thermocouples"),
    ("reading", "How the log is read"),
    ("reading.failures", "Signs of a failed thermocouple"),
    ("cycle", "What is asked of the cycle"),
];

/// The two sides and their ends at the weld.
const SIDES: [(&str, &str); 4] = [
    ("side[1]", "First side, left in the drawing"),
    ("side[2]", "Second side"),
    (
        "side[1].weld_end",
        "First side at the weld, where it differs",
    ),
    (
        "side[2].weld_end",
        "Second side at the weld, where it differs",
    ),
];

/// What one table of a list is called; `None` where it is no list to which one may be added.
pub fn one_of(path: &str) -> Option<&'static str> {
    let found = ONE_OF.iter().find(|(at, _)| *at == path);
    found.map(|(_, what)| *what)
}

/// A group of the form by the path of its table.
pub fn title(path: &str) -> String {
    let found = TITLES.iter().find(|(at, _)| *at == path);
    found.map_or_else(
        || capital(&plain(path.rsplit('.').next().unwrap_or(path))),
        |(_, words)| (*words).to_owned(),
    )
}

/// A table of the form as its heading says it: `thermocouple[3]`, `side[2].weld_end`.
pub fn heading(place: &str) -> String {
    if let Some((_, words)) = SIDES.iter().find(|(at, _)| *at == place) {
        return (*words).to_owned();
    }
    let numbered = place
        .strip_suffix(']')
        .and_then(|rest| rest.rsplit_once('['));
    match numbered {
        Some((path, number)) => format!("{} {number}", capital(one_of(path).unwrap_or(path))),
        None => title(place),
    }
}

/// A key as the name of its field.
pub fn label(key: &str) -> String {
    match key {
        "p_number" => "P-number",
        "ended" => "Welding ended",
        "reach_first" => "Reach on the first side",
        "reach_second" => "Reach on the second side",
        "frequency_min" => "Lowest frequency",
        "frequency_max" => "Highest frequency",
        "hold_min" => "Lower end of the hold",
        "hold_max" => "Upper end of the hold",
        "free_heating_rate" => "Heating rate below the threshold",
        "axial" => "Distance from the weld",
        "first" => "First turn",
        "max" | "next_max" => "Temperature that it bears",
        "next" => "Leads to",
        "next_name" => "Name of what it leads to",
        other => return capital(&plain(other)),
    }
    .to_owned()
}

/// A word that a key may hold as a person says it.
pub fn choice_words(choice: &str) -> String {
    match choice {
        "si" => "mm and °C".to_owned(),
        "us" => "inches and °F".to_owned(),
        "true" => "yes".to_owned(),
        "false" => "no".to_owned(),
        "propose" => "Proposed by the plan".to_owned(),
        other => capital(&plain(other)),
    }
}

/// A place by group and field of the form: "Weld: cap width", "Second side: wall"; a place of the head by its field alone.
pub fn named(place: &str) -> String {
    let table = place.rsplit_once('.').map_or("", |(table, _)| table);
    let Some(key) = key_at(place).map(|key: &Key| label(key.name)) else {
        return short_heading(place);
    };
    match table {
        "" => key,
        table => format!("{}: {}", short_heading(table), small(&key)),
    }
}

/// Places by the group in which they stand: "blanket (material, thickness) and coil (cable)".
pub fn named_together<Place: AsRef<str>>(places: &[Place]) -> String {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for place in places {
        let name = small(&named(place.as_ref()));
        let (group, field) = name.split_once(": ").unwrap_or(("", &name));
        match groups.iter_mut().find(|(known, _)| known == group) {
            Some((_, fields)) => fields.push(field.to_owned()),
            None => groups.push((group.to_owned(), vec![field.to_owned()])),
        }
    }
    let words: Vec<String> = groups
        .into_iter()
        .map(|(group, fields)| match group.as_str() {
            "" => fields.join(", "),
            group => format!("{group} ({})", fields.join(", ")),
        })
        .collect();
    match words.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}

/// A heading without what behind a comma tells the sides apart on a drawing.
fn short_heading(place: &str) -> String {
    let heading = heading(place);
    heading.split(',').next().unwrap_or_default().to_owned()
}

/// A sentence in which places, keys and words of the file stand by the names that the form gives them.
pub fn spoken(sentence: &str) -> String {
    let mut said = String::with_capacity(sentence.len());
    let mut rest = sentence;
    while let Some(letter) = rest.chars().next() {
        let is_start = letter.is_ascii_lowercase() || letter == '[';
        let behind_word = said.ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == '/');
        let length = match is_start && !behind_word {
            true => rest.find(|c: char| !is_of_place(c)).unwrap_or(rest.len()),
            false => 0,
        };
        let token = rest[..length].trim_end_matches('.');
        if let Some(name) = name_of(token) {
            said.push_str(&name);
            rest = &rest[token.len()..];
        } else {
            let step = length.max(letter.len_utf8());
            said.push_str(&rest[..step]);
            rest = &rest[step..];
        }
    }
    // `role = "control"` is the role "control", and a text of the file is what stands there.
    said.replace(" = \"", " \"").replace("the text \"", "\"")
}

fn is_of_place(c: char) -> bool {
    c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '_' | '.' | '[' | ']')
}

/// What a word of a sentence is called, where it is one that only a file has: with a dot, brackets or an underscore.
fn name_of(token: &str) -> Option<String> {
    if let Some(path) = token.strip_prefix('[') {
        let path = path.trim_start_matches('[').trim_end_matches(']');
        let is_table = !path.is_empty() && TABLES.iter().any(|table| table.path == path);
        return is_table.then(|| format!("“{}”", title(path)));
    }
    if token.contains('.') {
        let is_place = key_at(token).is_some() && !token.ends_with(']');
        return is_place.then(|| format!("“{}”", named(token)));
    }
    if !token.contains('_') {
        return None;
    }
    let keys = || TABLES.iter().flat_map(|table| table.keys);
    let key = keys().find(|key| key.spellings().iter().any(|one| one == token));
    let is_word =
        || keys().any(|key| matches!(key.kind, Kind::Word(words) if words.contains(&token)));
    match key {
        Some(key) => Some(small(&label(key.name))),
        None => is_word().then(|| plain(token)),
    }
}

/// Whether one more of a list may be added in a form.
pub fn may_be_added(path: &str) -> bool {
    let is_list = TABLES
        .iter()
        .any(|table| table.path == path && table.times == Times::Many);
    // These two are answers to what a log shows, and come from the page of the record.
    is_list && !matches!(path, "accepted" | "disposition")
}

fn plain(name: &str) -> String {
    name.replace('_', " ")
}

/// With a capital letter at its begin.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

/// The name of a field within a sentence.
pub fn small(label: &str) -> String {
    match label.strip_prefix("P-") {
        Some(_) => label.to_owned(),
        None => label[..1].to_lowercase() + &label[1..],
    }
}

#[cfg(test)]
mod tests {
    use super::{named, named_together, spoken};

    #[test]
    fn places_of_one_group_are_named_together() {
        let places = [
            "code",
            "edition",
            "blanket.material",
            "blanket.thickness",
            "side[2].wall",
        ];
        assert_eq!(
            named_together(&places),
            "code, edition, blanket (material, thickness) and second side (wall)"
        );
        assert_eq!(named_together(&["coil.cable"]), "coil (cable)");
        assert_eq!(named_together::<&str>(&[]), "");
    }

    #[test]
    fn a_place_is_called_as_the_form_calls_it() {
        for (place, name) in [
            ("weld.cap_width", "Weld: cap width"),
            ("side[2].wall_mm", "Second side: wall"),
            ("side[1].p_number", "First side: P-number"),
            ("side[1].weld_end.taper", "First side at the weld: taper"),
            ("coil.section[3].pitch", "Section of turns 3: pitch"),
            (
                "limits.owner.hold_min",
                "The owner’s limits: lower end of the hold",
            ),
            ("purpose", "Purpose"),
            ("thermocouple[2]", "Thermocouple 2"),
            ("blanket", "Blanket"),
        ] {
            assert_eq!(named(place), name);
        }
    }

    #[test]
    fn a_sentence_speaks_of_fields_and_leaves_every_other_word() {
        for (written, said) in [
            (
                "Hold is read for one layer (answers.multilayer).",
                "Hold is read for one layer (“What only a person can answer: multilayer”).",
            ),
            (
                "add it to [joint], or say girth_butt",
                "add it to “Joint”, or say girth butt",
            ),
            (
                "frequency_min or more (400 Hz)",
                "lowest frequency or more (400 Hz)",
            ),
            ("[ ] fire watch", "[ ] fire watch"),
            ("no key p_number", "no key P-number"),
            (
                "one with role = \"control\" outside",
                "one with role \"control\" outside",
            ),
            (
                "EN 13480-4 table 9.14.1-1, 17.5 mm, 25 kJ/mm, e.g. wall",
                "EN 13480-4 table 9.14.1-1, 17.5 mm, 25 kJ/mm, e.g. wall",
            ),
        ] {
            assert_eq!(spoken(written), said);
        }
    }
}
