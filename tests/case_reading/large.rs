//! Large files: time in proportion to their size, whatever is in them.
//!
//! The bound is generous, for a busy machine and a build without optimizing: what took time by the square of the
//! size would need minutes.

use crate::case_reading::{read, with};
use pinboss::source::LARGEST_FILE;
use rstest::rstest;
use std::time::{Duration, Instant};

const LONG: Duration = Duration::from_secs(30);

#[test]
fn two_thousand_findings_are_read_at_once() {
    let mut text = with("seen:\n");
    for side in ["left", "right"] {
        text += &format!("  {side}:\n");
        for roller in 1..=100 {
            text += &format!("    roller {roller}:\n      found:\n");
            for symptom in 1..=10 {
                text += &format!("        symptom_{symptom}: {{saw: heavy, sure: 90%}}\n");
            }
        }
    }
    let start = Instant::now();
    let reading = read(&text);
    assert!(start.elapsed() < Duration::from_secs(2));
    let found = reading.clean().unwrap().seen.iter().map(|seen| seen.found.len());
    assert_eq!(found.sum::<usize>(), 2000);
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case::lists("", "[a],", "[", "]")]
#[case::texts("earlier: [", "a,", "", "]")]
#[case::escaped_texts("earlier: [", "\"\\t\",", "", "]")]
#[case::block_texts("earlier:\n", "  - |\n   a\n", "", "")]
#[case::same_keys("", "a: b\n", "", "")]
#[case::one_long_text("case: ", "word\n  ", "", "")]
#[case::one_long_word("case: ", "ä", "", "")]
#[case::quotes("case: ", "\"", "", "")]
#[case::dashes("", "- ", "", "")]
#[case::question_marks("", "? ", "", "")]
#[case::comments("", "#", "", "")]
#[case::documents("", "---\n", "", "")]
#[case::directives("a: 1\n...\n", "%TAG !a! x\n", "", "")]
#[case::anchors("", "&a b\n", "", "")]
#[case::names_in_a_long_key("kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk: {llllllllllllllllllllllll: [", "a,", "", "]}")]
fn the_largest_file_is_read_in_seconds(
    #[case] front: &str,
    #[case] piece: &str,
    #[case] open: &str,
    #[case] close: &str,
) {
    let room = LARGEST_FILE - front.len() - open.len() - close.len();
    let text = format!("{front}{open}{}{close}", piece.repeat(room / piece.len()));
    let start = Instant::now();
    let reading = read(&text);
    assert!(start.elapsed() < LONG);
    assert!(!reading.problems.is_empty());
}

#[test]
fn a_file_full_of_faults_tells_the_first_five_hundred() {
    let keys: String = (0..50_000).map(|number| format!("key{number}: 1\n")).collect();
    let start = Instant::now();
    let reading = read(&with(&keys));
    assert!(start.elapsed() < LONG);
    assert_eq!(reading.problems.len(), 500);
}
