//! What the program itself answers.

use serde_json::Value;
use std::process::Command;

fn answered(threads: &str) -> Vec<u8> {
    let case = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/quarry_dozer_two_faults.yaml");
    let call =
        ["assess", case, "--party", "owner", "--draws", "24", "--format", "json", "--threads", threads];
    let run = Command::new(env!("CARGO_BIN_EXE_pinboss")).args(call).output().unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    run.stdout
}

/// Any number of threads gives the same bytes; and in them the steps add up to the weight, every opinion goes by the ratio,
/// and both statements have the whole list of causes
#[test]
fn the_answer_to_a_program() {
    let bytes = answered("1");
    assert_eq!(bytes, answered("3"));
    let told: Value = serde_json::from_slice(&bytes).unwrap();
    let [owner] = told["against"].as_array().unwrap().as_slice() else { panic!("{told}") };
    let figure = |value: &Value| value.as_f64().unwrap();
    let weight = &owner["weight"];
    let steps = owner["carried_by"].as_array().unwrap();
    let sum: f64 = steps.iter().map(|step| figure(&step["decibans"])).sum();
    assert!((sum - figure(&weight["decibans"])).abs() < 1e-9);
    let ratio = figure(&weight["ratio"]);
    assert!((10.0 * libm::log10(ratio) - sum).abs() < 1e-9);
    assert!(figure(&weight["range"][0]) < ratio && ratio < figure(&weight["range"][1]));
    assert_eq!(weight["draws"], 24);
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
