//! What is noted place by place: under the machine, under a side, and under a numbered part.

use super::given::word;
use super::{described, list, object, one_of, properties, value};
use crate::case::keys;
use crate::model::{Common, Extent, How, Measure, Model, PartId, Symptom};
use serde_json::{Map, Value, json};

/// A kind of place, with the definition that describes what is noted there
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Machine,
    Side,
    Numbered(PartId),
}

/// What stands under `seen`
pub(super) fn seen(model: &Model) -> Value {
    let side = || json!({"$ref": "#/$defs/at_side"});
    let mut rows = Map::new();
    for (id, _, most) in rows_of(model) {
        let name = &model[id].common.name;
        let pattern = format!(r"^\s*(?:left|right)\s+{name}\s+0*(?:{})\s*$", value::numbers(1, most));
        rows.insert(pattern, json!({"$ref": format!("#/$defs/at_{name}")}));
    }
    let places = json!({"machine": {"$ref": "#/$defs/at_machine"}, "left": side(), "right": side()});
    let mut seen = object(places);
    put(&mut seen, "patternProperties", Value::Object(rows));
    described(seen, "What was looked at, found and read, place by place")
}

/// Each kind of place
pub(super) fn define(model: &Model, all: &mut Map<String, Value>) {
    let mut rows = Map::new();
    for (id, _, most) in rows_of(model) {
        let name = &model[id].common.name;
        all.insert(format!("at_{name}"), at(model, Kind::Numbered(id)));
        let pattern = format!(r"^\s*{name}\s+0*(?:{})\s*$", value::numbers(1, most));
        rows.insert(pattern, json!({"$ref": format!("#/$defs/at_{name}")}));
    }
    let mut side = at(model, Kind::Side);
    put(&mut side, "patternProperties", Value::Object(rows));
    all.insert("at_side".to_owned(), side);
    all.insert("at_machine".to_owned(), at(model, Kind::Machine));
    let names = model.blocks().map(|block| (block.name.clone(), json!({"$ref": "#/$defs/text"}))).collect();
    all.insert("not_possible".to_owned(), object(Value::Object(names)));
    let text = || json!({"$ref": "#/$defs/text"});
    let several = json!({"type": "array", "items": text(), "uniqueItems": true});
    all.insert("pictures".to_owned(), json!({"anyOf": [text(), several]}));
    let shown = model.pictured().map(|block| (block.name.clone(), pictures())).collect();
    all.insert("photos".to_owned(), object(Value::Object(shown)));
}

/// One picture or several
fn pictures() -> Value {
    json!({"$ref": "#/$defs/pictures"})
}

/// Pictures at the outermost level, with a place before or behind what they show
pub(super) fn all_photos(model: &Model) -> Value {
    let names: Vec<&str> = model.pictured().map(|block| block.name.as_str()).collect();
    let numbers = |most| value::numbers(1, most);
    let row = |(id, _, most): (PartId, u32, u32)| {
        format!(r"(?:left|right)\s+{}\s+0*(?:{})", model[id].common.name, numbers(most))
    };
    let rows: Vec<String> = rows_of(model).map(row).collect();
    let place = [vec!["machine|left|right".to_owned()], rows.clone()].concat().join("|");
    let (name, rows) = (names.join("|"), rows.join("|"));
    let pattern = format!(r"^\s*(?:(?:{name})(?:\s+(?:{place}))?|(?:{place})\s+(?:{name})|(?:{rows}))\s*$");
    let mut all = object(json!({}));
    if !names.is_empty() {
        put(&mut all, "patternProperties", json!({pattern: pictures()}));
    }
    all
}

/// Where the machine says how many of a numbered part a side has, no more of them can be told of
pub(super) fn counted_places(model: &Model) -> Vec<Value> {
    let mut conditions = Vec::new();
    for (id, least, most) in rows_of(model) {
        let (part, plural) = (&model[id].common.name, model[id].plural());
        for count in least..most {
            let over = value::numbers(count + 1, most);
            let none =
                |before: &str| json!({"not": {"pattern": format!(r"^\s*{before}{part}\s+0*(?:{over})\s*$")}});
            let counted = json!({plural.as_str(): {"enum": [count, count.to_string()]}});
            let facts = json!({"facts": {"properties": counted, "required": [plural]}});
            let side = json!({"propertyNames": none("")});
            conditions.push(json!({
                "if": {
                    "properties": {"machine": {"properties": facts, "required": ["facts"]}},
                    "required": ["machine"],
                },
                "then": {"properties": {"seen": {
                    "propertyNames": none(r"(?:left|right)\s+"),
                    "properties": {"left": side, "right": side},
                }}},
            }));
        }
    }
    conditions
}

/// Numbered parts, with the least and the most of them that a side can have
fn rows_of(model: &Model) -> impl Iterator<Item = (PartId, u32, u32)> {
    let parts = model.parts.iter().enumerate();
    parts.filter_map(|(number, part)| part.numbered.map(|(least, most)| (PartId(number), least, most)))
}

fn at(model: &Model, kind: Kind) -> Value {
    object(properties(&keys::SEEN, |key| match key {
        "looked" => {
            let checks = model.checks.iter().filter(|check| holds(kind, check.common.extent));
            let words = "Checks done here: what they show and nobody noted was normal";
            described(list(one_of(checks.map(|check| word(&check.common)))), words)
        }
        "found" => {
            let symptoms = model.symptoms.iter().filter(|own| is_at(kind, &own.effect.common));
            object(symptoms.map(|own| (own.effect.common.name.clone(), found(own))).collect())
        }
        "read" => {
            let measures = model.measures.iter().filter(|own| is_at(kind, &own.common));
            let read = measures.filter_map(|own| Some((own.common.name.clone(), reading(own)?)));
            object(read.collect())
        }
        "not_possible" => {
            described(json!({"$ref": "#/$defs/not_possible"}), "What could not be looked at or read, and why")
        }
        "photos" => json!({"$ref": "#/$defs/photos"}),
        _ => Value::Bool(false),
    }))
}

/// True when a check with these places has one of them within a place of this kind
fn holds(kind: Kind, extent: Extent) -> bool {
    match (kind, extent) {
        (Kind::Machine, _) | (Kind::Side, Extent::Side | Extent::Each(_)) => true,
        (Kind::Numbered(part), Extent::Each(other)) => part == other,
        (Kind::Side, Extent::Machine) | (Kind::Numbered(_), _) => false,
    }
}

/// True when a block is noted at just this kind of place
fn is_at(kind: Kind, common: &Common) -> bool {
    match common.extent {
        Extent::Machine => kind == Kind::Machine,
        Extent::Side => kind == Kind::Side,
        Extent::Each(part) => kind == Kind::Numbered(part),
    }
}

/// A symptom: a grade, a grade with how sure it is, or which of a row show it
fn found(symptom: &Symptom) -> Value {
    let grades = json!({"enum": symptom.effect.grades.names});
    let [saw, sure, of] = keys::FOUND;
    let mut forms = vec![
        grades.clone(),
        json!({
            "type": "object", "required": [saw, sure], "additionalProperties": false,
            "properties": {saw: grades, sure: {"$ref": "#/$defs/share"}},
        }),
    ];
    if !symptom.counts.is_empty() {
        let count = || json!({"$ref": "#/$defs/count"});
        let rows = json!({"type": "array", "items": count(), "uniqueItems": true});
        let things: Vec<&str> = symptom.counted.iter().map(String::as_str).collect();
        let mut known = properties(&things, |_| rows.clone());
        put(&mut known, of, count());
        forms.push(json!({
            "type": "object", "properties": known, "additionalProperties": false, "required": [of],
            "minProperties": 2, "maxProperties": 2,
        }));
    }
    let label = &symptom.effect.common.label;
    let words = format!("{label}: {}", symptom.effect.grades.names.join(", "));
    described(json!({"anyOf": forms}), &words)
}

/// A measure: one value, several, or a value that does not count; none for what is reckoned, not read
fn reading(measure: &Measure) -> Option<Value> {
    let How::Read { unit, range, .. } = &measure.how else { return None };
    let one = value::quantity(unit.dimension());
    let several = json!({"type": "array", "items": one, "minItems": 1});
    let values = json!({"anyOf": [one, several]});
    let [value, all, void] = keys::READ;
    let form = json!({
        "type": "object", "additionalProperties": false,
        "properties": {value: values, all: values, void: {"$ref": "#/$defs/text"}},
        "oneOf": [{"required": [value]}, {"required": [all]}],
    });
    let shown = |base: f64| crate::report::words::figure(unit.from_base(base));
    let words = format!("{}, {} to {} {}", measure.common.label, shown(range.0), shown(range.1), unit.word());
    Some(described(json!({"anyOf": [one, several, form]}), &words))
}

fn put(schema: &mut Value, key: &str, value: Value) {
    if let Some(object) = schema.as_object_mut() {
        object.insert(key.to_owned(), value);
    }
}
