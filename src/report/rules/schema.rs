//! The form of a case file as JSON Schema (2020-12), with every name of the rules at hand: what an editor completes and
//! checks a case by.
//!
//! The keys are those that the reader takes, from the same lists; the names, grades, choices, units and places come from
//! the model. What a schema cannot say stays with the reader: hours that run backwards, readings out of range, facts that
//! rule a finding out.
//!
//! It is written out by hand rather than derived from types: the reader goes over a tree with places, in short and long forms,
//! so that no type has the file's shape; and nearly everything in it comes from the rules at hand.

mod expected;
mod given;
mod names;
mod place;
mod value;

use crate::case::keys;
use crate::model::Model;
use serde_json::{Map, Value, json};

/// The schema of case files for these rules
pub fn schema(model: &Model) -> Value {
    let mut conditions = place::counted_places(model);
    conditions.push(given::hours_needed());
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "An inspection of a crawler tractor's undercarriage",
        "type": "object",
        "required": ["case", "machine"],
        "properties": properties(&keys::WHOLE, |key| whole(model, key)),
        "additionalProperties": false,
        "allOf": conditions,
        "$defs": definitions(model),
    })
}

fn whole(model: &Model, key: &str) -> Value {
    match key {
        "case" => described(value::text(), "What the case is called"),
        "machine" => given::machine(model),
        "parts" => given::parts(model),
        "visit" => given::visit(model),
        "seen" => place::seen(model),
        "in_question" => {
            described(list(json!({"$ref": "#/$defs/finding_name"})), "The damage an assessor is asked about")
        }
        "earlier" => described(list(value::text()), "Files of earlier visits to the same machine"),
        "photos" => described(place::all_photos(model), "Pictures, each by its place and what it shows"),
        "truth" => expected::truth(),
        "expect" => expected::expect(),
        _ => Value::Bool(false),
    }
}

/// What several places of the schema refer to
fn definitions(model: &Model) -> Value {
    let mut all = Map::new();
    all.insert("text".to_owned(), value::text());
    all.insert("hours".to_owned(), value::hours());
    all.insert("share".to_owned(), value::share());
    all.insert("count".to_owned(), value::count());
    place::define(model, &mut all);
    names::define(model, &mut all);
    Value::Object(all)
}

/// Keys with what stands under each
fn properties(known: &[&str], under: impl Fn(&str) -> Value) -> Value {
    Value::Object(known.iter().map(|key| ((*key).to_owned(), under(key))).collect())
}

/// Keys of its own, or nothing yet
fn object(properties: Value) -> Value {
    json!({"type": ["object", "null"], "properties": properties, "additionalProperties": false})
}

/// A list, or nothing yet
fn list(items: Value) -> Value {
    json!({"type": ["array", "null"], "items": items, "uniqueItems": true})
}

/// One of some words, each with what it means
fn one_of(words: impl Iterator<Item = (String, String)>) -> Value {
    let word = |(word, means): (String, String)| json!({"const": word, "description": means});
    let words: Vec<Value> = words.map(word).collect();
    // A choice among nothing is no schema.
    if words.is_empty() { json!({"not": {}}) } else { json!({"anyOf": words}) }
}

/// The same with words for whoever writes
fn described(mut schema: Value, words: &str) -> Value {
    if let Some(object) = schema.as_object_mut() {
        object.insert("description".to_owned(), Value::String(words.to_owned()));
    }
    schema
}
