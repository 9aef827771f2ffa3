//! The job file as a form. Keys, kinds and explanations are those of the file itself (`job::shape`), so that form,
//! schema and page never differ.

use std::collections::BTreeMap;

use job::edit;
use job::known_names;
use job::shape::{
    Key, Kind, TABLES, TableShape, Times, choice_words, heading, label, may_be_added, one_of, title,
};
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
        if !group.is_empty() || may_be_added(name) {
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
            @for path in TABLES.iter().map(|table| table.path).filter(|path| path.split('.').next() == Some(name) && may_be_added(path)) {
                button.quiet type="button" data-add=(path) { "Add a " (one_of(path).unwrap_or(path)) }
            }
        }
    }
}

fn stand_fields(stand: &Stand, values: &Values) -> Markup {
    let many = may_be_added(stand.shape.path);
    html! {
        div.stand data-place=(stand.place) {
            @if !stand.place.is_empty() { h3 { (heading(&stand.place)) } }
            @if stand.place == "side[2]" {
                button.quiet type="button" data-same="pipe" { "The same pipe as the first side" }
                p.says #same-says role="status" {}
            }
            // Beside each other, both sides are explained once.
            @if stand.place != "side[2]" { p.soft.says { (explained(stand.shape.says)) } }
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
            p.help id={ (id) "-help" } { (explained(key.says)) }
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
            input id=(id) name=(place) value=(value) placeholder=[example(key, units)] aria-describedby=(described)
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
fn example(key: &Key, units: Units) -> Option<String> {
    let example = key.example(units);
    (!example.is_empty()).then(|| format!("e.g. {example}"))
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

/// Words in which backticks mark what is written in a file, as the form says it.
fn explained(says: &str) -> Markup {
    html! {
        @for (index, piece) in says.split('`').enumerate() {
            @if index % 2 == 0 { (piece) } @else { (as_in_the_form(piece)) }
        }
    }
}

/// A word of the file as the form has it: a choice by its words, a key by the name of its field, contents without braces.
fn as_in_the_form(piece: &str) -> Markup {
    let keys = || TABLES.iter().flat_map(|table| table.keys);
    let is_choice = keys().any(|key| match key.kind {
        Kind::Word(words) => words.contains(&piece),
        Kind::Truth => matches!(piece, "true" | "false"),
        _ => false,
    });
    let plain = piece.trim_matches(['"', '{', '}', ' ']).replace(" = ", " ");
    html! {
        @if is_choice { "“" (choice_words(piece)) "”" }
        @else if keys().any(|key| key.name == piece) { "“" (label(piece)) "”" }
        @else { span.code { (plain) } }
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
