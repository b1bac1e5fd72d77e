//! Names with places behind them: as words to choose from, and as a pattern for every grade and every place.

use super::one_of;
use super::value::numbers;
use crate::model::{Common, Extent, Forms, Model};
use serde_json::{Map, Value, json};

/// A name that may be written, with the words that may stand behind it
struct Word<'m> {
    common: &'m Common,
    grades: Vec<String>,
    /// The side may be told although the block is one of the whole machine
    sided: bool,
}

/// Each list of names, by what it is for
pub(super) fn define(model: &Model, all: &mut Map<String, Value>) {
    let causes: Vec<Word<'_>> = model
        .causes
        .iter()
        .map(|cause| {
            let grades = if let Forms::Named(names) = &cause.forms { names.clone() } else { Vec::new() };
            Word { common: &cause.common, grades, sided: cause.forms == Forms::Sides }
        })
        .collect();
    let graded = |common, grades: &[String]| Word { common, grades: grades.to_vec(), sided: false };
    let conditions = || model.conditions.iter().map(|own| graded(&own.common, &own.grades.names));
    let symptoms = || {
        let effects = model.symptoms.iter().map(|own| &own.effect);
        effects.map(|own| graded(&own.common, &own.grades.names))
    };
    let plain = |common| Word { common, grades: Vec::new(), sided: false };
    let bare_symptoms = || model.symptoms.iter().map(|own| plain(&own.effect.common));
    let checks = || model.checks.iter().map(|check| plain(&check.common));
    let facts = model.facts.iter().map(|fact| plain(&fact.common));
    let measures = model.measures.iter().map(|measure| plain(&measure.common));
    let mut put = |key: &str, value: Value| all.insert(key.to_owned(), value);
    put("finding_name", names(model, &symptoms().chain(conditions()).collect::<Vec<_>>(), false));
    put("cause_name", names(model, &causes, false));
    put("symptom_name", names(model, &bare_symptoms().collect::<Vec<_>>(), true));
    put(
        "held_name",
        names(model, &measures.chain(bare_symptoms()).chain(checks()).collect::<Vec<_>>(), true),
    );
    put("next_keys", keys(model, &checks().chain(facts).collect::<Vec<_>>(), true, "#/$defs/count"));
    let hidden: Vec<Word<'_>> = causes.into_iter().chain(conditions()).collect();
    put("hidden_name", names(model, &hidden, false));
    put("hidden_keys", keys(model, &hidden, false, "#/$defs/share"));
    put("weight", weight(model));
}

/// A party with a likelihood ratio: `owner over 10`
fn weight(model: &Model) -> Value {
    let mut parties: Vec<&str> = model.kinds.iter().map(|kind| kind.against.as_str()).collect();
    parties.sort_unstable();
    parties.dedup();
    let number = r"\+?0*(?:[1-9][0-9]*(?:\.[0-9]*)?|\.0*[1-9][0-9]*|0\.0*[1-9][0-9]*)";
    let pattern = format!(r"^\s*(?:{})\s+(?:over|under)\s+{number}\s*$", parties.join("|"));
    json!({"type": "string", "pattern": pattern})
}

/// A name in a text
fn names(model: &Model, words: &[Word<'_>], anywhere: bool) -> Value {
    let known = one_of(listed(words, anywhere).into_iter());
    let pattern = pattern(model, words, anywhere);
    json!({"anyOf": [known, {"type": "string", "pattern": pattern}]})
}

/// Names as keys, each with a figure
fn keys(model: &Model, words: &[Word<'_>], anywhere: bool, figure: &str) -> Value {
    let known = listed(words, anywhere).into_iter();
    let known: Map<String, Value> =
        known.map(|(name, label)| (name, json!({"$ref": figure, "description": label}))).collect();
    json!({
        "type": ["object", "null"], "properties": known, "additionalProperties": false,
        "patternProperties": {pattern(model, words, anywhere): {"$ref": figure}},
    })
}

/// The names with those places that are few, with their labels
fn listed(words: &[Word<'_>], anywhere: bool) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for word in words {
        let (name, label) = (&word.common.name, &word.common.label);
        if anywhere || word.common.extent == Extent::Machine {
            all.push((name.clone(), label.clone()));
        }
        if word.common.extent == Extent::Side || word.sided {
            all.extend(["left", "right"].map(|side| (format!("{name} {side}"), format!("{label}, {side}"))));
        }
    }
    all
}

/// What every name may look like: its grade, if it has any, and its place
fn pattern(model: &Model, words: &[Word<'_>], anywhere: bool) -> String {
    let each = words.iter().map(|word| {
        let grade = match word.grades.as_slice() {
            [] => String::new(),
            grades => format!(r"(?:\s+(?:{}))?", grades.join("|")),
        };
        let place = match word.common.extent {
            Extent::Machine if word.sided => r"(?:\s+(?:machine|left|right))?".to_owned(),
            Extent::Machine => r"(?:\s+machine)?".to_owned(),
            Extent::Side => r"\s+(?:left|right)".to_owned(),
            Extent::Each(part) => {
                let most = model[part].numbered.map_or(0, |(_, most)| most);
                format!(r"\s+(?:left|right)\s+{}\s+0*(?:{})", model[part].common.name, numbers(1, most))
            }
        };
        let place = if anywhere { format!("(?:{place})?") } else { place };
        format!("{}{grade}{place}", word.common.name)
    });
    format!(r"^\s*(?:{})\s*$", each.collect::<Vec<_>>().join("|"))
}
