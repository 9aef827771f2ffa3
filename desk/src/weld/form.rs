//! The job file as a form. Keys, kinds and explanations are those of the file itself (`job::shape`), so that form,
//! schema and page never differ.

use std::collections::BTreeMap;

use job::edit;
use job::known_names;
use job::shape::{Key, Kind, TABLES, TableShape, Times};
use maud::{Markup, html};
use quantity::Units;

/// Values by the place of their field.
pub type Values = BTreeMap<String, String>;

/// A table as it stands in a file: its shape and its place (`side[2]`).
struct Stand {
    shape: &'static TableShape,
    place: String,
    is_there: bool,
}

/// Tables that can be added to, with what one of them is called.
const MANY: [(&str, &str); 7] = [
    ("neighbor", "neighbor"),
    ("coil.section", "section of turns"),
    ("thermocouple", "thermocouple"),
    ("person", "person"),
    ("equipment", "piece of equipment"),
    ("treatment", "treatment"),
    ("zone", "zone of the coil"),
];

/// Tables that are open from the start; the others open when something is in them.
const OPEN: [&str; 4] = ["", "weld", "side", "coil"];

/// Every value that the form shows.
pub fn values(text: &str) -> Values {
    let mut values = Values::new();
    for stand in stands(text) {
        for key in stand.shape.keys {
            let place = place_of(&stand.place, key.name);
            let value = edit::get(text, &place);
            values.insert(place, value);
        }
    }
    values
}

/// The place of the field that a fault belongs to: keys may carry a unit at their end.
pub fn field_of(place: &str, values: &Values) -> Option<String> {
    if values.contains_key(place) {
        return Some(place.to_owned());
    }
    let starts = |field: &&String| {
        place
            .strip_prefix(field.as_str())
            .is_some_and(|rest| rest.starts_with('_'))
    };
    values
        .keys()
        .filter(starts)
        .max_by_key(|field| field.len())
        .cloned()
}

/// The form.
pub fn form(text: &str, values: &Values, may_act: bool) -> Markup {
    let stands = stands(text);
    let top = |shape: &TableShape| shape.path.split('.').next().unwrap_or_default();
    let mut groups: Vec<(&str, Vec<&Stand>)> = Vec::new();
    for shape in TABLES {
        let name = top(shape);
        if groups.iter().any(|(known, _)| *known == name) {
            continue;
        }
        let group: Vec<&Stand> = stands.iter().filter(|s| top(s.shape) == name).collect();
        // What can be added is offered before there is any.
        if !group.is_empty() || MANY.iter().any(|(path, _)| *path == name) {
            groups.push((name, group));
        }
    }
    html! {
        (known_lists(values))
        fieldset disabled[!may_act] {
            legend.hidden { "The job" }
            @for (name, group) in &groups { (section(name, group, values)) }
        }
    }
}

/// Lists of names that the program knows, which fields offer.
const KNOWN: [(&str, &str); 5] = [
    ("code", "known-codes"),
    ("edition", "known-editions"),
    ("metal", "known-metals"),
    ("material", "known-blankets"),
    ("cable", "known-cables"),
];

fn known_lists(values: &Values) -> Markup {
    let code = values.get("code").map(String::as_str).unwrap_or_default();
    html! {
        (known("known-codes", &known_names::codes()))
        (known("known-editions", &known_names::editions(code)))
        (known("known-metals", &known_names::metals()))
        (known("known-blankets", &known_names::blankets()))
        (known("known-cables", &known_names::cables()))
    }
}

fn known(id: &str, names: &[&str]) -> Markup {
    html! { datalist id=(id) { @for name in names { option value=(name) {} } } }
}

fn section(name: &str, group: &[&Stand], values: &Values) -> Markup {
    let is_used = group.iter().any(|stand| stand.is_there);
    let sides = name == "side";
    html! {
        details.group open[OPEN.contains(&name) && is_used || name.is_empty()] id={ "group-" (name) } {
            summary { span.title { (title(name)) } " " span.soft { (brief(group, values)) } }
            div.stands .two[sides] {
                @for stand in group { (stand_fields(stand, values)) }
            }
            @for (path, what) in MANY.iter().filter(|(path, _)| path.split('.').next() == Some(name)) {
                button.quiet type="button" data-add=(path) { "Add a " (what) }
            }
        }
    }
}

fn stand_fields(stand: &Stand, values: &Values) -> Markup {
    let many = MANY.iter().any(|(path, _)| *path == stand.shape.path);
    html! {
        div.stand data-place=(stand.place) {
            @if !stand.place.is_empty() { h3 { (heading(&stand.place)) } }
            @if stand.place == "side[2]" { button.quiet type="button" data-same="pipe" { "The same pipe as the first side" } }
            p.soft.says { (with_code(stand.shape.says)) }
            @for key in stand.shape.keys { (field(stand, key, values)) }
            @if many { button.quiet type="button" data-drop=(stand.place) { "Take it away" } }
        }
    }
}

fn field(stand: &Stand, key: &Key, values: &Values) -> Markup {
    let place = place_of(&stand.place, key.name);
    let id = format!("f-{}", place.replace(['.', '[', ']'], "-"));
    let value = values.get(&place).map(String::as_str).unwrap_or_default();
    let needed = key.must
        && (stand.is_there
            || stand.shape.times == Times::Once
            || stand.shape.times == Times::Twice);
    html! {
        div.field data-field=(place) {
            label for=(id) { (label(key.name)) @if needed { " " span.soft { "needed" } } }
            (input(&id, &place, key, (value, units_of(values)), needed))
            p.help id={ (id) "-help" } { (with_code(key.says)) }
            p.taken id={ (id) "-taken" } hidden {}
            p.remark.look id={ (id) "-remark" } hidden {}
            p.fault id={ (id) "-fault" } hidden {}
        }
    }
}

fn input(id: &str, place: &str, key: &Key, (value, units): (&str, Units), needed: bool) -> Markup {
    let described = format!("{id}-fault {id}-remark {id}-taken {id}-help");
    let list = KNOWN.iter().find(|(name, _)| *name == key.name);
    let list = list.map(|(_, list)| *list);
    let required = needed.then_some("true");
    match &key.kind {
        Kind::Word(choices) => choice(id, place, value, choices, &described, required),
        Kind::Truth => choice(id, place, value, &["true", "false"], &described, required),
        kind => html! {
            input id=(id) name=(place) value=(value) placeholder=(example(kind, units)) aria-describedby=(described)
                aria-required=[required] autocomplete="off" spellcheck="false" list=[list]
                inputmode=[matches!(kind, Kind::Number(..)).then_some("decimal")];
        },
    }
}

fn choice(
    id: &str,
    place: &str,
    value: &str,
    choices: &[&str],
    described: &str,
    required: Option<&str>,
) -> Markup {
    html! {
        select id=(id) name=(place) aria-describedby=(described) aria-required=[required] {
            @if required.is_none() || value.is_empty() { option value="" {} }
            @if !value.is_empty() && !choices.contains(&value) { option value=(value) selected { (value) } }
            @for choice in choices { option value=(choice) selected[*choice == value] { (choice_words(choice)) } }
        }
    }
}

/// The units that the job is written for.
fn units_of(values: &Values) -> Units {
    match values.get("units").map(String::as_str) {
        Some("us") => Units::Us,
        _ => Units::Si,
    }
}

/// A text as it may stand in a field.
fn example(kind: &Kind, units: Units) -> String {
    match kind {
        Kind::Measure(measure) => format!("e.g. {}", measure.example(units)),
        Kind::Clock => "e.g. 6:30".to_owned(),
        Kind::Moment => "e.g. 2026-03-04T15:20+01:00".to_owned(),
        Kind::Percentages => "e.g. { C = 0.10, Mn = 0.45 }".to_owned(),
        Kind::Edition => "e.g. 2022".to_owned(),
        _ => String::new(),
    }
}

/// Every table of the shape as it stands in a file; what the file leaves out stands once, empty, but lists do not.
fn stands(text: &str) -> Vec<Stand> {
    let mut stands = Vec::new();
    for shape in TABLES {
        let count = if shape.path.is_empty() {
            1
        } else {
            edit::count(text, shape.path)
        };
        match (shape.times, shape.path.rsplit_once('.')) {
            (Times::Twice, _) => stands.extend((1..=2).map(|n| Stand {
                shape,
                place: format!("{}[{n}]", shape.path),
                is_there: true,
            })),
            (Times::Many, _) => stands.extend((1..=count).map(|n| Stand {
                shape,
                place: format!("{}[{n}]", shape.path),
                is_there: true,
            })),
            (_, Some(("side", rest))) => stands.extend((1..=2).map(|n| {
                let place = format!("side[{n}].{rest}");
                let is_there = shape
                    .keys
                    .iter()
                    .any(|key| !edit::get(text, &place_of(&place, key.name)).is_empty());
                Stand {
                    shape,
                    place,
                    is_there,
                }
            })),
            _ => stands.push(Stand {
                shape,
                place: shape.path.to_owned(),
                is_there: count > 0,
            }),
        }
    }
    // Both sides beside each other, each with what belongs to it below.
    stands.sort_by_key(order);
    stands
}

fn order(stand: &Stand) -> (usize, String, usize) {
    let top = stand.shape.path.split('.').next().unwrap_or_default();
    let group = TABLES
        .iter()
        .position(|table| table.path.split('.').next() == Some(top))
        .unwrap_or_default();
    let side = if top == "side" {
        stand.place[..7.min(stand.place.len())].to_owned()
    } else {
        String::new()
    };
    let own = TABLES
        .iter()
        .position(|table| std::ptr::eq(table, stand.shape))
        .unwrap_or_default();
    (group, side, own)
}

fn place_of(table: &str, key: &str) -> String {
    if table.is_empty() {
        key.to_owned()
    } else {
        format!("{table}.{key}")
    }
}

fn words(name: &str) -> String {
    name.replace('_', " ")
}

/// A choice as a person would say it.
fn choice_words(choice: &str) -> String {
    match choice {
        "si" => "mm and °C".to_owned(),
        "us" => "inches and °F".to_owned(),
        "true" => "yes".to_owned(),
        "false" => "no".to_owned(),
        other => capital(&words(other)),
    }
}

/// A key as the name of its field.
fn label(name: &str) -> String {
    match name {
        "p_number" => "P-number".to_owned(),
        other => capital(&words(other)),
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

/// Words in which backticks mark what is written in a file.
fn with_code(says: &str) -> Markup {
    html! {
        @for (index, piece) in says.split('`').enumerate() {
            @if index % 2 == 1 { code { (piece) } } @else { (piece) }
        }
    }
}

fn title(name: &str) -> String {
    match name {
        "" => "Heat and code".to_owned(),
        "identification" => "Who and what".to_owned(),
        "side" => "The two sides".to_owned(),
        "neighbor" => "Neighbors".to_owned(),
        "person" => "People".to_owned(),
        "treatment" => "Other treatments".to_owned(),
        "zone" => "Zones of the coil".to_owned(),
        "accepted" => "Deviations that somebody answers for".to_owned(),
        "disposition" => "Thermocouples taken out".to_owned(),
        "log" => "The logger’s file".to_owned(),
        "answers" => "What only a person can answer".to_owned(),
        "limits" => "Limits of owner and procedure".to_owned(),
        "thermocouple" => "Thermocouples".to_owned(),
        "reading" => "How the log is read".to_owned(),
        "cycle" => "What is asked of the cycle".to_owned(),
        other => capital(&words(other)),
    }
}

/// A table of the form as its heading says it.
pub fn heading(place: &str) -> String {
    let named = [
        (
            "side[1].weld_end",
            "First side at the weld, where it differs",
        ),
        (
            "side[2].weld_end",
            "Second side at the weld, where it differs",
        ),
        ("side[1]", "First side, at negative distances"),
        ("side[2]", "Second side"),
        ("limits.owner", "The owner’s limits"),
        ("limits.procedure", "The procedure’s limits"),
    ];
    if let Some((_, words)) = named.iter().find(|(at, _)| *at == place) {
        return (*words).to_owned();
    }
    match place
        .strip_suffix(']')
        .and_then(|rest| rest.rsplit_once('['))
    {
        Some((path, number)) => {
            let what = MANY
                .iter()
                .find(|(at, _)| *at == path)
                .map_or(path, |(_, what)| what);
            format!("{} {number}", capital(&words(what)))
        }
        None => title(place.rsplit('.').next().unwrap_or(place)),
    }
}

/// The most telling values of a closed group.
fn brief(group: &[&Stand], values: &Values) -> String {
    let shown = group.iter().flat_map(|stand| {
        stand.shape.keys.iter().filter_map(|key| {
            let value = values.get(&place_of(&stand.place, key.name))?;
            let is_told = !value.is_empty() && value.len() < 40 && !matches!(key.kind, Kind::Truth);
            is_told.then(|| match &key.kind {
                Kind::Word(_) => choice_words(value),
                _ => value.clone(),
            })
        })
    });
    let words: Vec<String> = shown.take(3).collect();
    words.join(", ")
}
