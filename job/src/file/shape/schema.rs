//! The JSON schema of the job file, for editors that complete and check TOML by one.

use quantity::Units;
use serde_json::{Map, Value, json};

use super::{Key, Kind, TABLES, TableShape, Times};

/// The schema (JSON Schema, draft 2020-12).
pub fn schema() -> Value {
    let mut schema = object(&TABLES[0]);
    for table in &TABLES[1..] {
        insert(&mut schema, table);
    }
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!("Soakwright job file");
    schema
}

/// Puts a table in its place, making the tables above it where they are only a path.
fn insert(schema: &mut Value, table: &TableShape) {
    let mut steps: Vec<&str> = table.path.split('.').collect();
    let name = steps.pop().unwrap_or_default();
    let mut outer = schema;
    for step in steps {
        let properties = &mut outer["properties"];
        if properties.get(step).is_none() {
            properties[step] =
                json!({ "type": "object", "additionalProperties": false, "properties": {} });
        }
        let inner = &mut properties[step];
        outer = if inner["type"] == "array" {
            &mut inner["items"]
        } else {
            inner
        };
    }
    let object = object(table);
    outer["properties"][name] = match table.times {
        Times::Once | Times::AtMostOnce => object,
        Times::Twice => json!({ "type": "array", "minItems": 2, "maxItems": 2, "items": object }),
        Times::Many => json!({ "type": "array", "items": object }),
    };
    if matches!(table.times, Times::Once | Times::Twice)
        && let Some(required) = outer["required"].as_array_mut()
    {
        required.push(json!(name));
    }
}

fn object(table: &TableShape) -> Value {
    let mut properties = Map::new();
    for key in table.keys {
        for spelling in key.spellings() {
            properties.insert(spelling.clone(), property(key, spelling == key.name));
        }
    }
    let required: Vec<&str> = table
        .keys
        .iter()
        .filter(|k| k.must && !is_measure(k))
        .map(|k| k.name)
        .collect();
    let measures: Vec<Value> = table
        .keys
        .iter()
        .filter(|k| is_measure(k))
        .map(one_spelling)
        .collect();
    let mut object = json!({
        "type": "object",
        "description": table.says,
        "additionalProperties": false,
        "properties": properties,
        "required": required,
    });
    if !measures.is_empty() {
        object["allOf"] = Value::Array(measures);
    }
    object
}

fn is_measure(key: &Key) -> bool {
    matches!(key.kind, Kind::Measure(_))
}

/// A measure stands in one spelling: exactly one where it must be there, else at most one.
fn one_spelling(key: &Key) -> Value {
    let each: Vec<Value> = key
        .spellings()
        .iter()
        .map(|s| json!({ "required": [s] }))
        .collect();
    if key.must {
        return json!({ "oneOf": each });
    }
    let none = json!({ "not": { "anyOf": each } });
    json!({ "oneOf": each.into_iter().chain([none]).collect::<Vec<_>>() })
}

fn property(key: &Key, bare: bool) -> Value {
    let mut property = match &key.kind {
        Kind::Measure(_) if bare => {
            json!({ "type": "string", "examples": [key.example(Units::Si)] })
        }
        Kind::Measure(_) => json!({ "type": "number" }),
        Kind::Text => json!({ "type": "string" }),
        Kind::Texts | Kind::Measures(_) => {
            json!({ "type": "array", "items": { "type": "string" } })
        }
        Kind::Edition => json!({ "type": ["string", "integer"] }),
        Kind::Word(words) => json!({ "enum": words }),
        Kind::Number(least, most) => json!({ "type": "number", "minimum": least, "maximum": most }),
        Kind::Clock => json!({ "type": ["number", "string"] }),
        Kind::Moment => {
            json!({ "type": "string", "examples": ["2026-03-04T15:20+01:00"] })
        }
        Kind::Truth => json!({ "type": "boolean" }),
        Kind::Percentages => {
            json!({ "type": "object", "additionalProperties": { "type": "number" } })
        }
    };
    property["description"] = json!(key.says);
    property
}
