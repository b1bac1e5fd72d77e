//! Faulty lines: each is told with its number and what to do, and the rest is done all the same.

use crate::batch::bench::{Bench, run};
use pinboss::report;
use pinboss::report::record::batch::{Asked, Line};
use rstest::rstest;
use serde_json::Value;

const GOOD: &str =
    r#"{"case":"good","machine":{"tag":"A1"},"seen":{"left":{"looked":["look"],"found":{"rubbed":"yes"}}}}"#;

fn with_seen(seen: &str) -> Vec<u8> {
    format!(r#"{{"case":"x","machine":{{"tag":"A1"}},"seen":{seen}}}"#).into_bytes()
}

#[rstest]
#[case::torn(br#"{"case":"x","machine":{"#.to_vec(), "not-yaml")]
#[case::no_json(b"{case: [}".to_vec(), "not-yaml")]
#[case::a_word(b"nonsense".to_vec(), "case-shape")]
#[case::a_list(b"[1, 2]".to_vec(), "case-shape")]
#[case::not_utf8(b"{\"case\":\"\xff\"}".to_vec(), "file-not-text")]
#[case::a_zero(b"{\"case\":\"\0\"}".to_vec(), "file-not-text")]
#[case::key_twice(br#"{"case":"x","case":"y","machine":{"tag":"A1"}}"#.to_vec(), "key-twice")]
#[case::empty(b"{}".to_vec(), "key-missing")]
#[case::unknown_key(br#"{"case":"x","machine":{"tag":"A1"},"sean":{}}"#.to_vec(), "unknown-key")]
#[case::unknown_name(with_seen(r#"{"left":{"found":{"rubbd":"yes"}}}"#), "unknown-name-in-case")]
#[case::unknown_grade(with_seen(r#"{"left":{"found":{"rubbed":"maybe"}}}"#), "unknown-name-in-case")]
#[case::unknown_place(with_seen(r#"{"top":{"looked":["look"]}}"#), "unknown-place")]
#[case::deep([vec![b'['; 10_000], vec![b']'; 10_000]].concat(), "too-deep")]
#[case::huge(vec![b'x'; 3 << 20], "file-too-large")]
#[case::impossible(
    with_seen(r#"{"left":{"found":{"rubbed":"no","shims_gone":"yes"}}}"#),
    "cannot-be-together"
)]
fn a_faulty_line_is_told_and_the_rest_done(#[case] line: Vec<u8>, #[case] code: &str) {
    let bench = Bench::new();
    let input = [GOOD.as_bytes(), &line, GOOD.as_bytes()].join(&b'\n');
    let ran = bench.batch(input, &[]);
    let lines = ran.lines();
    assert_eq!((ran.code, lines.len()), (Some(1), 3), "{}", ran.err);
    for (place, number) in [(0, 1), (2, 3)] {
        let good = &lines[place];
        assert_eq!((good["line"].as_u64(), good["machine"].as_str()), (Some(number), Some("A1")));
        assert!(good["causes"][0]["probability"].as_f64().unwrap() > 0.5);
        assert!(good.get("problems").is_none());
    }
    let faulty = &lines[1];
    let problem = &faulty["problems"][0];
    assert_eq!((faulty["line"].as_u64(), problem["code"].as_str()), (Some(2), Some(code)), "{faulty}");
    assert!(faulty.get("causes").is_none());
    assert_eq!(problem["file"].as_str(), Some("line 2"));
    assert_eq!(problem["help"].as_str().is_none_or(str::is_empty), code == "too-deep", "{problem}");
    assert!(faulty["case_digest"].as_str().unwrap().starts_with("sha256:"));
    // The screen may break the message after its first words.
    let words: String = problem["message"].as_str().unwrap().chars().take(20).collect();
    assert!(ran.err.contains(&words), "{}", ran.err);
    assert!(ran.err.contains("line 2"), "{}", ran.err);
    assert!(
        ran.err.ends_with(
            "1 of 3 cases could not be weighed; each has a line among the results that says why\n"
        )
    );
}

#[rstest]
#[case::nothing("", 0, &[])]
#[case::blank_lines("\n \t\n\r\n", 0, &[])]
#[case::between("\n{good}\n\n \n{good}", 0, &[2, 5])]
#[case::other_ends("{good}\r\n{good}\r\n", 0, &[1, 2])]
#[case::a_mark_in_front("\u{feff}{good}\n", 0, &[1])]
fn blank_lines_are_counted_and_passed_over(#[case] input: &str, #[case] code: i32, #[case] numbers: &[u64]) {
    let bench = Bench::new();
    let ran = bench.batch(input.replace("{good}", GOOD), &[]);
    let told: Vec<u64> = ran.lines().iter().map(|line| line["line"].as_u64().unwrap()).collect();
    assert_eq!((ran.code, told.as_slice(), ran.err.as_str()), (Some(code), numbers, ""));
}

/// What JSON may write in several ways is the same case
#[rstest]
#[case::escapes(r#"{"case":"\u00e9 \ud83d\ude9c a\/b\tc","machine":{"tag":"A1"}}"#)]
#[case::letters("{\"case\":\"é 🚜 a/b\\tc\",\"machine\":{\"tag\":\"A1\"}}")]
#[case::space("\t{ \"case\" :\t\"é 🚜 a/b\\tc\" , \"machine\": { \"tag\": \"A1\" } } ")]
fn json_is_read_however_it_is_written(#[case] line: &str) {
    let ran = Bench::new().batch(line, &[]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    assert_eq!(ran.lines()[0]["case"].as_str(), Some("é 🚜 a/b\tc"));
}

/// The same line has the same digest wherever it stands, and another line another one
#[test]
fn a_digest_is_of_the_line_alone() {
    let bench = Bench::new();
    let ran = bench.batch(format!("{GOOD}\n{{}}\n{GOOD}\r\n"), &[]);
    let digests: Vec<_> = ran.lines().iter().map(|line| line["case_digest"].clone()).collect();
    assert_eq!(digests[0], digests[2]);
    assert_ne!(digests[0], digests[1]);
}

/// Where the program is at fault and not the case, the line still says which case it is, and tells no answer and no problem
#[test]
fn a_line_lost_to_a_fault_of_the_program_says_so() {
    let asked = Asked { over: 0.01, reasons: false, next: false, budget: 1.0 };
    let line = Line {
        line: 3,
        file: None,
        case: None,
        machine: None,
        rules_digest: "sha256:0".to_owned(),
        case_digest: "sha256:1".to_owned(),
        asked,
        answer: None,
        problems: Vec::new(),
        fault: Some("a fault in Pinboss, not in your file: no case is like this".to_owned()),
    };
    let told: Value = serde_json::from_str(&report::json_line(&line).unwrap()).unwrap();
    let keys: Vec<&str> = told.as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(keys, ["asked", "case_digest", "fault", "line", "rules_digest"]);
}

/// Many faulty lines are all among the results, and only the first of them are told in full beside them
#[test]
fn many_faulty_lines_do_not_flood_standard_error() {
    let bench = Bench::new();
    let ran = bench.batch("{}\n".repeat(300), &[]);
    assert_eq!((ran.code, ran.lines().len()), (Some(1), 300));
    assert!(ran.err.contains("line 20:"), "{}", ran.err);
    assert!(!ran.err.contains("line 21:"), "{}", ran.err);
    assert!(ran.err.contains("300 of 300 cases"), "{}", ran.err);
}

#[rstest]
#[case::no_file(&["batch", "nowhere.jsonl"], 1, "the file `nowhere.jsonl` cannot be read: it is not there")]
#[case::no_rules(&["batch", "--rules", "nowhere"], 1, "the folder `nowhere` cannot be read")]
#[case::no_cases(&["batch", "src"], 1, "the folder `src` holds no case files")]
#[case::too_sure(&["batch", "--over", "120%"], 2, "write a share from 0 to 1, or from 0% to 100%")]
#[case::no_share(&["batch", "--over", "much"], 2, "write a share from 0 to 1, or from 0% to 100%")]
#[case::no_threads(&["batch", "--threads", "0"], 2, "0 is not in 1..=1024")]
#[case::over_itself(&["batch", "Cargo.toml", "-o", "Cargo.toml"], 2, "would be lost")]
#[case::over_itself_again(&["batch", "Cargo.toml", "--resume", "Cargo.toml"], 2, "would be lost")]
#[case::over_rules(&["batch", "-o", "rules/idler.rules"], 2, "would be lost")]
#[case::nowhere(&["batch", "-o", "no/folder/x"], 1, "`no/folder/x` cannot be written")]
fn a_faulty_call_says_what_is_wrong(#[case] call: &[&str], #[case] code: i32, #[case] words: &str) {
    let ran = run("", call);
    assert_eq!((ran.code, ran.out.as_str()), (Some(code), ""), "{}", ran.err);
    assert!(ran.err.contains(words), "{}", ran.err);
}
