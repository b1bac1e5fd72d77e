//! Texts that are no YAML, or more of it than a case file takes.

use crate::case_reading::{read, with};
use pinboss::problem::code::Code::{self, *};
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case::empty("", CaseMissing, "", "the file says nothing")]
#[case::blank("  \n\n", CaseMissing, "", "the file says nothing")]
#[case::comments("# nothing yet\n", CaseMissing, "", "the file says nothing")]
#[case::text("limestone quarry dozer", CaseShape, "limestone quarry dozer", NO_MAP)]
#[case::number("42", CaseShape, "42", NO_MAP)]
#[case::list("- case: a\n- machine: b\n", CaseShape, "- case: a", NO_MAP)]
#[case::list_in_brackets("# x\n[case, machine]", CaseShape, "[case, machine]", NO_MAP)]
#[case::two_documents("case: a\n---\ncase: b\n", CaseSyntax, "---", "a second document begins here")]
#[case::empty_second("case: a\n---\n", CaseSyntax, "---", "a second document begins here")]
#[case::two_maps("{case: a} {case: b}", CaseSyntax, "{case: b}", "text after the end of the keys")]
#[case::open_list("case: a\nearlier: [a.yaml, b.yaml\ntruth: {}\n", CaseSyntax, ":", "a list that does not go on here and is not closed")]
#[case::open_braces("machine: {tag: A", CaseSyntax, "machine:", "keys in braces that do not go on here and are not closed")]
#[case::colon("case: quarry: spring", CaseSyntax, ":", "a colon where none can stand")]
#[case::no_colon("case: a\nmachine\nseen: {}", CaseSyntax, "seen:", "a key without its colon")]
#[case::indent("machine:\n    tag: A\n  hours: 3\n", CaseSyntax, "hours:", "a line that belongs to nothing above it")]
#[case::tab("machine:\n\ttag: A\n", CaseSyntax, "\t", "a tab where the line is indented")]
#[case::at_sign("case: @home", CaseSyntax, "@home", "a text cannot begin with `@`")]
#[case::quote("case: \"open\nmachine: {tag: A}\n", CaseSyntax, "machine:", "a text in quotes that is not closed")]
#[case::escape(r#"case: "a\q""#, CaseSyntax, r#"\q""#, "a `\\` before something it does not go with")]
#[case::directive("%YAML 1.2\n---\ncase: a\n", CaseSyntax, "%YAML 1.2", "a line that begins with `%`")]
#[case::control("case: a\u{7}b", CaseSyntax, "\u{7}", "a character that is no text, number 7")]
#[case::zero("case: a\0b", CaseSyntax, "\0", "a character that is no text, number 0")]
#[case::anchor("case: a\nseen: {left: &one {looked: [b]}, right: *one}", CaseSyntax, "&one", "`&one` stands for another piece of the file")]
#[case::anchor_on_text("case: &one a\nmachine: {tag: *one}", CaseSyntax, "&one", "`&one` stands for another piece of the file")]
#[case::anchor_on_key("&one case: a", CaseSyntax, "&one", "`&one` stands for another piece of the file")]
#[case::anchor_on_all("&one {case: a, machine: *one}", CaseSyntax, "&one", "`&one` stands for another piece of the file")]
#[case::no_anchor("case: *one", CaseSyntax, "*one", "a name after `*` that stands for nothing")]
#[case::tag("case: a\nmachine: {tag: !name A}", CaseSyntax, "!name", "`!name` names a sort of value")]
#[case::tag_on_keys("# !\ncase: a\nmachine: !m\n  tag: A", CaseSyntax, "!m", "`!m` names a sort of value")]
#[case::tag_on_all("# !\n--- !m\ncase: a", CaseSyntax, "!m", "`!m` names a sort of value")]
#[case::tag_of_yaml("case: !!int 3", CaseSyntax, "!!int", "`!!int` names a sort of value")]
#[case::list_as_key("case: a\n? [b, c]\n: d\n", CaseShape, "[b, c]", "a key is one word, not a list or keys of its own")]
#[case::braces_as_key("case: a\n{b: c}: d\n", CaseShape, "{b: c}", "a key is one word, not a list or keys of its own")]
fn a_text_that_cannot_be_read_says_why(
    #[case] text: &str,
    #[case] code: Code,
    #[case] under: &str,
    #[case] message: &str,
) {
    let reading = read(text);
    assert_eq!(reading.told(), [(code, under, message)]);
    assert!(reading.inspection.is_none());
    let words = format!("{} {}", message, reading.problems[0].help);
    for theirs in [
        "mapping",
        "scalar",
        "sequence",
        "token",
        "node",
        "serde",
        "invalid type",
    ] {
        assert!(!words.contains(theirs), "{words}");
    }
}

const NO_MAP: &str = "a file such as this is made of keys with values, and this is none";

#[test]
fn what_is_not_closed_shows_where_it_was_opened() {
    let reading = read("case: a\nearlier: [a.yaml,\n  b.yaml\ntruth: {}\n");
    let (at, words) = &reading.problems[0].also[0];
    assert_eq!((reading.sources.slice(*at), words.as_str()), ("[", "begun here"));
}

#[test]
fn names_that_stand_for_one_another_are_refused_before_they_multiply() {
    let mut text = with("a0: &a0 [x, x, x, x, x, x, x, x, x]\n");
    for level in 1..30 {
        let last = format!("*a{}", level - 1);
        text += &format!("a{level}: &a{level} [{last}, {last}, {last}, {last}, {last}]\n");
    }
    assert_eq!(read(&text).told()[0].1, "&a0");
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case::brackets("[".repeat(10_000), "[")]
#[case::closed_brackets("[".repeat(10_000) + &"]".repeat(10_000), "[")]
#[case::braces("{a: ".repeat(10_000), "{")]
#[case::dashes("- ".repeat(10_000), "-")]
#[case::a_little("[".repeat(40) + "x" + &"]".repeat(40), "[")]
fn deep_nesting_is_refused(#[case] nested: String, #[case] under: &str) {
    for text in [format!("{}earlier:\n  {nested}", with("")), nested] {
        let reading = read(&text);
        let message = "lists and keys nested deeper than a case goes";
        assert_eq!(reading.told(), [(TooDeep, under, message)]);
    }
}

#[test]
fn a_key_as_long_as_a_page_is_refused() {
    let reading = read(&with(&format!("{}: 1", "k".repeat(500))));
    assert_eq!(reading.told()[0].2, "a key longer than any name");
}
