//! What a program gets: the shape of the JSON answers, the same bytes every time, and the exit codes.

use crate::support::program::{answer, json, pinboss};
use rstest::rstest;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::LazyLock;

const CASE: &str = "cases/quarry_dozer_two_faults.yaml";

static DIAGNOSIS: LazyLock<Value> = LazyLock::new(|| json(&["diagnose", CASE, "--format", "json"]));

#[test]
fn the_rules_built_in_are_those_of_the_folder() {
    let by_folder = json(&["wear", CASE, "--rules", "rules", "--format", "json"]);
    assert!(by_folder["rules_digest"].is_string());
    assert_eq!(DIAGNOSIS["rules_digest"], by_folder["rules_digest"]);
}

#[rstest]
#[case("/case")]
#[case("/machine")]
#[case("/rules_digest")]
#[case("/case_digest")]
#[case("/causes/0/id")]
#[case("/causes/0/place")]
#[case("/causes/0/label")]
#[case("/causes/0/kind")]
#[case("/causes/0/prior")]
#[case("/causes/0/probability")]
#[case("/causes/0/exact")]
#[case("/causes/0/lower")]
#[case("/causes/0/upper")]
#[case("/causes/0/reasons/0/finding")]
#[case("/causes/0/reasons/0/place")]
#[case("/causes/0/reasons/0/grade")]
#[case("/causes/0/reasons/0/decibans")]
#[case("/causes/0/reasons/0/alone")]
#[case("/causes/0/reasons/0/left_out")]
#[case("/causes/0/reasons/0/because")]
#[case("/next_checks/0/id")]
#[case("/next_checks/0/place")]
#[case("/next_checks/0/bits")]
#[case("/next_checks/0/minutes")]
#[case("/next_checks/0/bits_per_minute")]
#[case("/next_checks/0/exact")]
#[case("/next_checks/0/cautions")]
#[case("/next_checks/0/outcomes/0/finding")]
#[case("/next_checks/0/outcomes/0/grade")]
#[case("/next_checks/0/outcomes/0/chance")]
#[case("/wear/0/measure")]
#[case("/wear/0/place")]
#[case("/wear/0/percent")]
#[case("/wear/0/sigma")]
#[case("/wear/0/left/lower")]
#[case("/held")]
#[case("/log_evidence")]
#[case("/conflict")]
fn a_diagnosis_has_what_was_agreed(#[case] pointer: &str) {
    assert!(DIAGNOSIS.pointer(pointer).is_some(), "no {pointer}");
}

/// Where the findings are too entangled, bounds that are certain to hold, no point between them, and no guess at the rest
#[test]
fn what_is_not_exact_is_told_by_its_bounds() {
    let folder = "tests/cli/entangled";
    let (case, rules) = (format!("{folder}/web.yaml"), format!("{folder}/rules"));
    let told =
        |budget: &str| json(&["diagnose", &case, "--rules", &rules, "--budget", budget, "--format", "json"]);
    let (little, more) = (told("0.02"), told("0.1"));
    assert_eq!(more["causes"][0]["order_open"], true);
    assert_eq!((&more["log_evidence"], &more["conflict"]), (&Value::Null, &Value::Null));
    assert_eq!(more["untold"][0]["id"], "worked");
    assert_eq!(more["next_checks"], json!([]));
    let bounds = |answer: &Value| -> BTreeMap<String, (f64, f64)> {
        let causes = answer["causes"].as_array().unwrap().iter();
        causes
            .map(|cause| {
                assert_eq!((&cause["probability"], &cause["exact"]), (&Value::Null, &json!(false)));
                let bound = |key: &str| cause[key].as_f64().unwrap();
                (cause["id"].as_str().unwrap().to_owned(), (bound("lower"), bound("upper")))
            })
            .collect()
    };
    let wide = bounds(&little);
    let narrow = bounds(&more);
    assert_eq!(narrow.len(), 32);
    for (cause, (lower, upper)) in narrow {
        let (least, most) = wide[&cause];
        assert!(least <= lower && lower < upper && upper <= most, "{cause}: {least} {lower} {upper} {most}");
        assert!(upper - lower < 1.0, "{cause}");
    }
}

#[test]
fn steps_in_the_answer_add_up_to_the_probability() {
    let answer = json(&["diagnose", CASE, "--format", "json"]);
    let odds = |p: f64| 10.0 * libm::log10(p / (1.0 - p));
    let mut checked = 0;
    for cause in answer["causes"].as_array().unwrap() {
        let steps = cause["reasons"].as_array().unwrap();
        if steps.is_empty() {
            continue;
        }
        let sum: f64 = steps.iter().map(|step| step["decibans"].as_f64().unwrap()).sum();
        let whole = odds(cause["probability"].as_f64().unwrap()) - odds(cause["prior"].as_f64().unwrap());
        assert!((sum - whole).abs() < 1e-6, "{}: {sum} is not {whole}", cause["id"]);
        checked += 1;
    }
    assert!(checked >= 3);
}

#[rstest]
#[case(&["diagnose", CASE, "--format", "json"])]
#[case(&["diagnose", CASE])]
#[case(&["next", CASE, "--all", "--format", "json"])]
#[case(&["why", CASE, "flange_worn", "--format", "json"])]
#[case(&["rules", "balance", "--draws", "20", "--format", "json"])]
fn the_same_input_gives_the_same_bytes(#[case] arguments: &[&str]) {
    assert_eq!(pinboss(arguments).stdout, pinboss(arguments).stdout);
}

#[rstest]
#[case(&["words", "flange_worn", "--format", "json"], "/says/0/lines/0")]
#[case(&["words", "--format", "json"], "/0/id")]
#[case(&["next", CASE, "--format", "json"], "/next_checks/9/id")]
#[case(&["why", CASE, "flange_worn", "--format", "json"], "/findings/0/sources/0/left_out")]
#[case(&["why", CASE, "idler_out_of_line", "--format", "json"], "/causes/1/probability")]
#[case(&["rules", "balance", "--draws", "20", "--format", "json"], "/symptoms/0/share")]
fn other_answers_have_their_shape(#[case] arguments: &[&str], #[case] pointer: &str) {
    let answer = json(arguments);
    assert!(answer.pointer(pointer).is_some(), "no {pointer}");
}

#[rstest]
#[case(&["diagnose", CASE], 0)]
#[case(&["diagnose", "cases/not_there.yaml"], 1)]
#[case(&["diagnose", "tests/cli/cases/faulty.yaml"], 1)]
#[case(&["rules", "check", "tests/cli/faulty_rules"], 1)]
#[case(&["diagnose", CASE, "--rules", "tests/cli/faulty_rules"], 1)]
#[case(&["diagnose"], 2)]
#[case(&["divine", CASE], 2)]
#[case(&["words", "no_such_name"], 2)]
#[case(&["why", CASE, "idler_out_of_line", "upside"], 2)]
#[case(&["why", CASE, "idler_out_of_line", "--if", "flange_worn"], 2)]
fn exit_codes(#[case] arguments: &[&str], #[case] code: i32) {
    assert_eq!(pinboss(arguments).status.code(), Some(code));
}

#[test]
fn problems_are_the_answer_to_a_program() {
    let output = pinboss(&["diagnose", "tests/cli/cases/faulty.yaml", "--format", "json"]);
    let problems: Value = serde_json::from_slice(&output.stdout).unwrap();
    let first = &problems[0];
    assert!(first["code"].is_string() && first["line"].is_u64() && first["message"].is_string());
    assert!(output.stderr.is_empty());
}

/// What JSON says is told is what the other forms tell one by one, in the same order
#[test]
fn what_is_told_is_told_in_every_form() {
    let causes = DIAGNOSIS["causes"].as_array().unwrap();
    let told: Vec<&str> =
        causes.iter().filter(|own| own["told"] == true).map(|own| own["label"].as_str().unwrap()).collect();
    assert!(told.len() > 1 && told.len() < causes.len(), "{told:?}");
    let chapter = |text: &str, heading: &str, next: &str| {
        text.split(heading).nth(1).unwrap().split(next).next().unwrap().to_owned()
    };
    let markdown = answer(&["diagnose", CASE, "--format", "markdown"]);
    let own = chapter(&markdown, "## What probably made it wear\n", "\n## ");
    let titles: Vec<&str> = own.lines().filter_map(|line| line.strip_prefix("### ")).collect();
    assert_eq!(titles.len(), told.len(), "{titles:?}");
    for (number, (title, label)) in titles.iter().zip(&told).enumerate() {
        assert!(title.starts_with(&format!("{}. ", number + 1)), "{title}");
        assert!(title.to_lowercase().contains(&label.to_lowercase()), "{title}: {label}");
    }
    let text = answer(&["diagnose", CASE]);
    let own = chapter(&text, "WHAT PROBABLY MADE IT WEAR\n", "\nW");
    let numbered = own.lines().filter(|line| line.get(2..4) == Some(". "));
    assert_eq!(numbered.count(), told.len(), "{own}");
}
