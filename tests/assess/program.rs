//! What the program itself answers.

use serde_json::Value;
use std::process::Command;

fn answered(case: &str, more: &[&str]) -> Vec<u8> {
    let case = format!("{}/cases/{case}", env!("CARGO_MANIFEST_DIR"));
    let call = ["assess", &case, "--format", "json"];
    let run = Command::new(env!("CARGO_BIN_EXE_pinboss")).args(call).args(more).output().unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    run.stdout
}

fn figure(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// Sum of the steps of a party, in decibans
fn sum_of_steps(against: &Value) -> f64 {
    against["carried_by"].as_array().unwrap().iter().map(|step| figure(&step["decibans"])).sum()
}

/// Where the ratio is held at 10,000 the steps go past it, and the answer says how far and why
#[test]
fn steps_past_the_cap_are_told_as_such() {
    let bytes = answered("hired_dozer_habits.yaml", &["--party", "operator", "--draws", "0"]);
    let told: Value = serde_json::from_slice(&bytes).unwrap();
    let operator = &told["against"][0];
    let weight = &operator["weight"];
    assert_eq!(weight["capped"], true);
    assert!((figure(&weight["decibans"]) - 40.0).abs() < 1e-12);
    let sum = sum_of_steps(operator);
    assert!(sum > 50.0 && (sum - figure(&weight["steps_come_to"])).abs() < 1e-9, "{sum}");
    assert!(weight["capped_because"].as_str().unwrap().contains("nobody has published"));
    // Without draws there is no range, and no word without one.
    assert!(weight["range"].is_null() && weight["word"].is_null() && weight["supports"].is_null());
}

/// A frame hung askew can rub a flange as well, but it is the shims that are likely here, and of them the reasons speak
#[test]
fn reasons_go_by_way_of_the_likeliest_of_the_causes() {
    let bytes = answered("bench_dozer_blamed_slope.yaml", &["--party", "fitter", "--draws", "0"]);
    let told: Value = serde_json::from_slice(&bytes).unwrap();
    let steps = told["against"][0]["carried_by"].as_array().unwrap();
    let because = |step: &Value| step["because"].as_str().unwrap_or_default().to_owned();
    assert!(because(&steps[0]).starts_with("Shims set the idler sideways"), "{}", because(&steps[0]));
    assert!(steps.iter().all(|step| !because(step).contains("turn the whole frame")));
}

/// Any number of threads gives the same bytes; and in them the steps add up to the weight, every opinion goes by the ratio,
/// and both statements have the whole list of causes
#[test]
fn the_answer_to_a_program() {
    let answered = |threads| {
        let call = ["--party", "owner", "--draws", "100", "--threads", threads];
        answered("quarry_dozer_two_faults.yaml", &call)
    };
    let bytes = answered("1");
    assert_eq!(bytes, answered("3"));
    let told: Value = serde_json::from_slice(&bytes).unwrap();
    let [owner] = told["against"].as_array().unwrap().as_slice() else { panic!("{told}") };
    let weight = &owner["weight"];
    let sum = sum_of_steps(owner);
    assert!((sum - figure(&weight["decibans"])).abs() < 1e-9);
    let ratio = figure(&weight["ratio"]);
    assert!((10.0 * libm::log10(ratio) - sum).abs() < 1e-9);
    assert!(figure(&weight["range"][0]) < ratio && ratio < figure(&weight["range"][1]));
    assert_eq!(weight["draws"], 100);
    let curve = weight["curve"].as_array().unwrap();
    assert_eq!(curve.len(), 99);
    for opinion in curve {
        let odds = |value: &Value| figure(value) / (1.0 - figure(value));
        let expected = odds(&opinion["from"]) * ratio;
        assert!((odds(&opinion["to"]) / expected - 1.0).abs() < 1e-6);
    }
    for cause in owner["causes"].as_array().unwrap() {
        let label = cause["label"].as_str().unwrap();
        for statement in ["first", "second"] {
            assert!(owner[statement].as_str().unwrap().contains(label), "{label}");
        }
    }
    assert!(told["this_is_not"].as_str().unwrap().contains("no opinion on liability"));
}
