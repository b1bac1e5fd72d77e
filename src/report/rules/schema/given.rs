//! What a case tells of its machine, its parts and the visit.

use super::{described, list, object, one_of, properties, value};
use crate::case::keys;
use crate::model::{Common, Extent, Fact, Model, PartId};
use crate::place::Side;
use serde_json::{Map, Value, json};

/// What stands under `machine`
pub(super) fn machine(model: &Model) -> Value {
    let facts = facts(model);
    let needs_facts = facts.get("required").is_some();
    let keys = properties(&keys::MACHINE, |key| match key {
        "tag" => described(value::text(), "What its people call the machine"),
        "hours" => described(json!({"$ref": "#/$defs/hours"}), "Hours on its meter"),
        "meter" => meter(),
        "size" => {
            let sizes = model.sizes.iter().map(|(name, size)| (name.clone(), size.label.clone()));
            described(one_of(sizes), "Its size class, by which dimensions go")
        }
        "sizes" => sizes(model),
        "facts" => facts.clone(),
        _ => Value::Bool(false),
    });
    let required = if needs_facts { json!(["tag", "facts"]) } else { json!(["tag"]) };
    json!({"type": "object", "properties": keys, "additionalProperties": false, "required": required})
}

/// Sizes of its own, here or in a file
fn sizes(model: &Model) -> Value {
    let size = || json!({"$ref": "#/$defs/text"});
    let limits = json!({"type": "object", "additionalProperties": size()});
    let new_and_limit = object(properties(&keys::SIZES, |key| match key {
        "new" => described(size(), "Size of a new part, with its unit"),
        "limit" => described(
            json!({"anyOf": [size(), limits.clone()]}),
            "Size at which it is worn out; or one for each choice of a fact, as `impact high`, and `else`",
        ),
        _ => Value::Bool(false),
    }));
    let measures = model.measures.iter().map(|measure| {
        let one = json!({"anyOf": [size(), new_and_limit.clone()]});
        (measure.common.name.clone(), described(one, &measure.common.label))
    });
    let here = object(Value::Object(measures.collect()));
    described(
        json!({"anyOf": [size(), here]}),
        "Sizes of its own, beside or in place of those of its class; or the file that holds them",
    )
}

/// A change of the meter
fn meter() -> Value {
    let hours = || json!({"$ref": "#/$defs/hours"});
    let mut meter = object(properties(&keys::METER, |key| match key {
        "changed_at" => described(hours(), "Hours on the old meter when it was changed"),
        "from" => described(hours(), "Hours that the new meter began with, where it did not begin at 0"),
        _ => Value::Bool(false),
    }));
    if let Some(meter) = meter.as_object_mut() {
        meter.insert("type".to_owned(), json!("object"));
        meter.insert("required".to_owned(), json!(["changed_at"]));
    }
    described(
        meter,
        "Told where the meter was changed; hours of parts go on counting from those of the old one",
    )
}

/// Facts with their choices; how many of a numbered part a side has must be told, or what rules the part out
fn facts(model: &Model) -> Value {
    let mut known = Map::new();
    for fact in &model.facts {
        known.insert(fact.common.name.clone(), described(choices(fact), &meaning(fact)));
    }
    let (mut required, mut either) = (Vec::new(), Vec::new());
    for (number, part) in model.parts.iter().enumerate() {
        let Some((least, most)) = part.numbered else { continue };
        let words = format!("How many of them a side has: {}", part.common.label);
        known.insert(part.plural(), described(value::whole_number(least, most), &words));
        if !model.blocks().any(|block| block.extent == Extent::Each(PartId(number))) {
            continue;
        }
        let gates: Vec<&str> =
            part.common.gate.facts().map(|fact| model[fact].common.name.as_str()).collect();
        if gates.is_empty() {
            required.push(part.plural());
        } else {
            let any = gates.into_iter().map(str::to_owned).chain([part.plural()]);
            either.push(json!({"anyOf": any.map(|name| json!({"required": [name]})).collect::<Vec<_>>()}));
        }
    }
    let mut facts = object(Value::Object(known));
    if let Some(object) = facts.as_object_mut() {
        if !required.is_empty() {
            object.insert("type".to_owned(), json!("object"));
            object.insert("required".to_owned(), json!(required));
        }
        if !either.is_empty() {
            object.insert("allOf".to_owned(), json!(either));
        }
    }
    described(facts, "What is so about this machine and changes which rules apply")
}

fn meaning(fact: &Fact) -> String {
    let tell = fact.tell.as_ref().map_or_else(String::new, |(tell, _)| format!(". {tell}"));
    format!("{}{tell}", fact.common.label)
}

/// A choice, or of a fact of each side one for both or one a side
fn choices(fact: &Fact) -> Value {
    let one = json!({"enum": fact.choices});
    if fact.common.extent == Extent::Machine {
        return one;
    }
    let sides = properties(&Side::BOTH.map(Side::word), |_| one.clone());
    json!({"anyOf": [one, {"type": "object", "properties": sides, "additionalProperties": false}]})
}

/// The list under `parts`
pub(super) fn parts(model: &Model) -> Value {
    let hours = || json!({"$ref": "#/$defs/hours"});
    let keys = properties(&keys::PARTS, |key| match key {
        "part" => one_of(model.parts.iter().map(|part| word(&part.common))),
        "at" => described(
            value::text(),
            "Which of them: `left`, or `left 3` in a row of parts; without it all of them",
        ),
        "on" => described(hours(), "Hours of the machine when it went on"),
        "turned" => described(
            json!({"anyOf": [hours(), {"const": keys::NEVER}]}),
            "Hours of the machine when it was turned, or `never`",
        ),
        _ => Value::Bool(false),
    });
    let places = model.parts.iter().map(|part| {
        let name = &part.common.name;
        let pattern = match (part.numbered, part.common.extent) {
            (Some((_, most)), _) => {
                format!(r"^\s*(?:left|right)(?:\s+(?:{name}\s+)?0*(?:{}))?\s*$", value::numbers(1, most))
            }
            (None, Extent::Machine) => r"^\s*machine\s*$".to_owned(),
            (None, _) => r"^\s*(?:left|right)\s*$".to_owned(),
        };
        json!({
            "if": {"properties": {"part": {"const": name}}, "required": ["part"]},
            "then": {"properties": {"at": {"pattern": pattern}}},
        })
    });
    let places: Vec<Value> = places.collect();
    let mut item = json!({
        "type": "object", "properties": keys, "additionalProperties": false, "required": ["part"],
    });
    // A schema allows no empty list here.
    if let (Some(item), false) = (item.as_object_mut(), places.is_empty()) {
        item.insert("allOf".to_owned(), Value::Array(places));
    }
    described(list(item), "When parts went on and when they were turned")
}

/// Hours on a part are counted from those of the machine
pub(super) fn hours_needed() -> Value {
    json!({
        "if": {
            "properties": {"parts": {
                "type": "array",
                "contains": {"anyOf": [{"required": ["on"]}, {"required": ["turned"]}]},
            }},
            "required": ["parts"],
        },
        "then": {"properties": {"machine": {"required": ["hours"]}}},
    })
}

/// What stands under `visit`
pub(super) fn visit(model: &Model) -> Value {
    object(properties(&keys::VISIT, |key| match key {
        "on" => described(value::day(), "Day of the visit: year, month, day"),
        "by" => described(value::text(), "Who looked"),
        "place" => described(value::text(), "Where the machine stood"),
        "state" => {
            let states = one_of(model.states.iter().map(|state| word(&state.common)));
            described(list(states), "States the machine was in on arrival")
        }
        _ => Value::Bool(false),
    }))
}

/// A name with its label
pub(super) fn word(common: &Common) -> (String, String) {
    (common.name.clone(), common.label.clone())
}
