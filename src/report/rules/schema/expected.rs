//! What was there in the end, and what a case expects of the rules.

use super::{described, list, object, properties};
use crate::case::keys;
use serde_json::{Value, json};

/// What stands under `truth`
pub(super) fn truth() -> Value {
    let names = || list(json!({"$ref": "#/$defs/hidden_name"}));
    let truth = object(properties(&keys::TRUTH, |key| match key {
        "present" => described(names(), "What strip-down showed to be there"),
        "absent" => described(names(), "What was looked for and was not there"),
        _ => Value::Bool(false),
    }));
    described(truth, "What was there in the end")
}

/// What stands under `expect`
pub(super) fn expect() -> Value {
    let one_or_several = |name: &str| {
        let name = json!({"$ref": format!("#/$defs/{name}")});
        json!({"anyOf": [name, list(name.clone())]})
    };
    let keys = |name: &str| json!({"$ref": format!("#/$defs/{name}")});
    let expect = object(properties(&keys::EXPECT, |key| match key {
        "first" => described(one_or_several("cause_name"), "Causes that stand above all not named here"),
        "over" => described(keys("hidden_keys"), "Causes and conditions over a chance"),
        "under" => described(keys("hidden_keys"), "Causes and conditions under a chance"),
        "next" => described(keys("next_keys"), "Checks among the first so many to do next"),
        "unexplained" => {
            described(one_or_several("symptom_name"), "Findings that nothing in the rules explains")
        }
        "held" => described(one_or_several("held_name"), "Readings and looks that are held back"),
        "weight" => described(
            one_or_several("weight"),
            "Likelihood ratios on the damage in question, as in owner over 10",
        ),
        _ => Value::Bool(false),
    }));
    described(expect, "What the rules are expected to make of this case")
}
