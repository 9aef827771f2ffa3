//! The tables of `docs/plan-json.md`, made from the schema.

use serde_json::Value;

use super::schema;

/// Every object of the file with its keys, as Markdown.
pub fn page() -> String {
    let schema = schema();
    let mut sections = vec![section("The file", &schema)];
    if let Some(objects) = schema["$defs"].as_object() {
        sections.extend(
            objects
                .iter()
                .map(|(name, object)| section(&format!("`{name}`"), object)),
        );
    }
    sections.join("\n")
}

fn section(title: &str, object: &Value) -> String {
    let said = object["description"].as_str().unwrap_or_default();
    let rows: Vec<String> = object["properties"]
        .as_object()
        .into_iter()
        .flatten()
        .map(|(key, property)| {
            let says = property["description"]
                .as_str()
                .unwrap_or_default()
                .replace('\n', " ");
            format!("| `{key}` | {} | {says} |", kind(property))
        })
        .collect();
    format!(
        "## {title}\n\n{said}\n\n| key | holds | what |\n|---|---|---|\n{}\n",
        rows.join("\n")
    )
}

fn kind(property: &Value) -> String {
    if let Some(target) = property["$ref"].as_str() {
        return format!("`{}`", target.rsplit('/').next().unwrap_or_default());
    }
    if let Some(choices) = property["anyOf"].as_array() {
        return choices.iter().map(kind).collect::<Vec<_>>().join(" or ");
    }
    match &property["type"] {
        Value::String(kind) if kind == "array" => format!("list of {}", kind_of_items(property)),
        Value::String(kind) => kind.clone(),
        Value::Array(kinds) => kinds
            .iter()
            .filter_map(Value::as_str)
            .collect::<Vec<_>>()
            .join(" or "),
        _ => String::new(),
    }
}

fn kind_of_items(property: &Value) -> String {
    match kind(&property["items"]) {
        items if items.is_empty() => "values".into(),
        items => items,
    }
}
