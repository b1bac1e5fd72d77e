//! Columns, indents, comments, line ends, and the sentence that belongs to the line above it.

use crate::language::said::{declaration, take};
use crate::language::shown::clause;
use pinboss::source::Sources;
use pinboss::syntax;
use rstest::rstest;

/// The same block in every layout that the language takes
#[rstest]
#[case("cause a: \"x\"\n    kind duty\n    basis estimate\n")]
#[case("cause a: \"x\"\n kind duty\n\n\n basis estimate")]
#[case("cause a: \"x\"  kind duty  basis estimate")]
#[case("cause a: \"x\"  kind duty\n\tbasis estimate\n")]
#[case("cause a: \"x\"\n    kind duty   basis estimate\n")]
#[case("# before\n\ncause a: \"x\" # behind\n    kind duty # behind\n# between\n    basis estimate\n# after")]
#[case("cause a: \"x\"\r\n    kind duty\r\n    basis estimate\r\n")]
#[case("cause a: \"x\"   \n    kind duty   \n    basis estimate   \n   ")]
#[case("\u{feff}cause a: \"x\"\n kind duty\n basis estimate")]
#[case("cause   a  :   \"x\"\n kind   duty\n basis\testimate")]
fn layouts_that_mean_the_same(#[case] text: &str) {
    let read: Vec<String> = declaration(text).clauses.iter().map(|it| clause(&it.value)).collect();
    assert_eq!(read, ["kind duty", "basis estimate"]);
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("with a: often\n   \"Why.\"", &["with [a] often> -- Why."])]
#[case("with a: often  \"Why.\"", &["with [a] often> -- Why."])]
#[case("without 3%\n   \"Why.\"", &["without [] 3%> -- Why."])]
#[case("with a: often where b is c\n # note\n\n   \"Why.\"", &["with [a] often> if b=c -- Why."])]
#[case("with a: often\n \"One.\"\n with b: often\n with c: often\n \"Three.\"",
       &["with [a] often> -- One.", "with [b] often>", "with [c] often> -- Three."])]
#[case("needs \"torch\"\n caution \"Hot.\"", &["needs \"torch\"", "caution \"Hot.\""])]
fn a_sentence_belongs_to_the_line_above(#[case] lines: &str, #[case] expected: &[&str]) {
    let declaration = declaration(&format!("symptom s: \"x\"\n {lines}\n"));
    let read: Vec<String> = declaration.clauses.iter().map(|it| clause(&it.value)).collect();
    assert_eq!(read, expected);
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("symptom s: \"x\"\n    \"Why.\"\n", "\"Why.\"")]
#[case("symptom s: \"x\"\n    grades no, yes\n    \"Why.\"\n", "\"Why.\"")]
#[case("symptom s: \"x\"\n    with a: 5%\n    \"Why.\"\n    \"And why again.\"\n", "\"And why again.\"")]
fn a_sentence_with_no_line_above_it_is_told(#[case] text: &str, #[case] underlined: &str) {
    let mut sources = Sources::default();
    let id = sources.add("a.rules", text);
    let (_, problems) = syntax::parse(&sources, id);
    let said: Vec<(&str, &str)> =
        problems.sorted().iter().map(|it| (sources.slice(it.at), it.message.as_str())).collect();
    assert_eq!(said, [(underlined, "this sentence stands under no `with` or `without` line")]);
}

/// A sentence under a line that could not be read is the reason of that line, and no second mistake
#[test]
fn a_sentence_under_a_broken_line_is_not_told() {
    let taken = take(&["symptom s: \"x\"\n    with : often\n    \"Why.\"\n    basis estimate\n"]);
    assert_eq!(taken.errors(), ["not-understood | : | expected a name, found `:`"]);
}

/// Every place of the tree lies where its text stands, also behind signs of several bytes
#[test]
fn places_count_bytes_behind_wide_signs() {
    let taken = take(&["cause ä: \"x\"\ncause b: \"Bläue – naß\"\n    kind duty\n"]);
    let [declaration] = taken.files[0].declarations.as_slice() else { panic!("{:?}", taken.files) };
    assert_eq!(taken.sources.slice(declaration.name.at), "b");
    assert_eq!(taken.sources.slice(declaration.label.as_ref().unwrap().at), "\"Bläue – naß\"");
    assert_eq!(taken.sources.slice(declaration.clauses[0].at), "kind duty");
}
