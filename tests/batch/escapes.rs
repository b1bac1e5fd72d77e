//! Escapes of JSON that YAML has not: a letter past the first plane in two halves.

use crate::batch::bench::{Bench, Ran};
use proptest::prelude::*;
use rstest::rstest;

/// Cases called so, as they stand between the quotes
fn called(names: &[String]) -> Ran {
    let line = |name: &String| format!(r#"{{"case":"{name}","machine":{{"tag":"A1"}}}}"#);
    Bench::new().batch(names.iter().map(line).collect::<Vec<_>>().join("\n"), &[])
}

#[rstest]
#[case::none("b", "b")]
#[case::one(r"x \ud83d\uDE9C y", "x \u{1f69c} y")]
#[case::two_in_a_row(r"\ud83d\ude9c\ud83d\ude9c", "\u{1f69c}\u{1f69c}")]
#[case::other_escapes_stay(r#"\u00e9 \n \" \\"#, "é \n \" \\")]
#[case::behind_a_backslash_of_its_own(r"\\ud83d\\ude9c", r"\ud83d\ude9c")]
fn pairs_become_letters(#[case] written: &str, #[case] name: &str) {
    let ran = called(&[written.to_owned()]);
    assert_eq!((ran.code, ran.lines()[0]["case"].as_str()), (Some(0), Some(name)), "{}", ran.err);
}

/// A half without its other half stands for no letter
#[rstest]
#[case::apart(r"\ud83d \ude9c")]
#[case::a_letter_between(r"\ud83dx\ude9c")]
#[case::torn(r"\ud83d\ude9")]
fn halves_are_no_letter(#[case] written: &str) {
    let ran = called(&[written.to_owned()]);
    assert_eq!((ran.code, ran.lines()[0]["problems"][0]["code"].as_str()), (Some(1), Some("not-yaml")));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4))]

    /// Whatever text is written with escapes alone comes back
    #[test]
    fn what_is_escaped_comes_back(texts in prop::collection::vec("[\u{10000}-\u{10ffff}a\\\\]{1,40}", 64)) {
        let escaped = |text: &String| -> String {
            let halves = text.chars().flat_map(|letter| letter.encode_utf16(&mut [0; 2]).to_vec());
            halves.map(|half| format!("\\u{half:04x}")).collect()
        };
        let lines = called(&texts.iter().map(escaped).collect::<Vec<_>>()).lines();
        let names: Vec<&str> = lines.iter().map(|line| line["case"].as_str().unwrap_or("none")).collect();
        prop_assert_eq!(names, texts);
    }

    /// Any bytes are taken, a line at a time
    #[test]
    fn any_bytes_are_taken(lines in prop::collection::vec(prop::collection::vec(any::<u8>().prop_filter("an end", |byte| *byte != b'\n'), 0..60), 64)) {
        let ran = Bench::new().batch(lines.join(&b'\n'), &[]);
        let said = lines.iter().filter(|line| !line.trim_ascii().is_empty()).count();
        prop_assert_eq!((ran.code, ran.lines().len()), (Some(1), said), "{}", ran.err);
    }
}
