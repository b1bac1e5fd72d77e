//! One mistake gives one problem, and never hides the next.

use crate::language::said::{SOUND, errors, form};
use rstest::rstest;

#[test]
fn the_rules_without_a_mistake_have_no_error() {
    assert_eq!(errors(SOUND), Vec::<String>::new());
}

/// What hangs on a line that could not be read is not told as well
#[rustfmt::skip] // One row, one line.
#[rstest]
// Heads: their names stay known
#[case("cause off_line, each side:", "cause off_line, each side", "not-understood | \" | expected `,` or `:`, found `\"`")]
#[case("cause off_line, each side: \"out of line\"", "cause off_line, each side: \"out of line", "unclosed-text | \"out of line | this text has no closing quote")]
#[case("part roller,", "part roller", "not-understood | each | expected `,` or `:`, found `each`")]
#[case("fact chain_type:", "fact chain_type", "not-understood | \" | expected `,` or `:`, found `\"`")]
#[case("symptom edge, each side, of idler: \"edge\"", "symptom edge, each side, of idler: edge", "not-understood | edge | expected a text in quotes, found `edge`")]
#[case("measure gap, each", "measure gap each", "not-understood | each | expected `,` or `:`, found `each`")]
#[case("kind upkeep: \"put off\" counts", "kind upkeep: \"put off\" count", "not-understood | count | expected `counts`, found `count`")]
// Clauses: what they would have given is not missed
#[case("choices dry 40%, sealed 60%", "choices dry 40%, sealed 60", "not-understood | 60 | expected a per cent, found `60`")]
#[case("forms inboard, outboard", "forms inboard outboard", "not-understood | outboard | expected `,`, a clause or the end of the line, found `outboard`")]
#[case("grades toed_in < straight > toed_out", "grades toed_in < straight >", "not-understood |  | expected a grade before the end of the line")]
#[case("grades none, slight, heavy", "grades none, slight; heavy", "not-understood | ; | expected a clause, a sign between grades (`,` `|` `<` `>`) or the end of the line, found `;`")]
#[case("grades ample, small", "grade ample, small", "not-understood | grade | no clause starts with `grade`")]
#[case("unit mm   range 0 to 60   error 1", "unit mm   range 0-60   error 1", "not-understood | - | expected `to`, found `-`")]
#[case("always 98%   often 60%", "always 98%   often", "not-understood |  | expected a number before the end of the line")]
#[case("kind upkeep\n", "kind of upkeep\n", "not-understood | of | expected a name, found `of`")]
#[case("chance 5% of sides where", "chance 5% of sides when", "not-understood | when | expected `,`, `where`, a clause or the end of the line, found `when`")]
#[case("shows edge", "shows: edge", "not-understood | : | expected a name, found `:`")]
#[case("takes 2 min", "takes two min", "not-understood | two | expected a number, found `two`")]
#[case("with toe toed_in: always heavy", "with toe toed_in: always heavy \"Why", "unclosed-text | \"Why | this text has no closing quote")]
// Clauses that go on over a line end
#[case("with off_line: often slight", "with off_line: often slight,\n      5% heavy", "not-understood |  | expected a per cent or a word of the scale before the end of the line")]
#[case("forms inboard, outboard", "forms inboard,\n        outboard", "not-understood |  | expected a form before the end of the line")]
// Names and words
#[case("unit mm", "unit mmm", "wrong-unit | mmm | no unit is called `mmm`")]
fn one_mistake_is_one_problem(#[case] sound: &str, #[case] broken: &str, #[case] told: &str) {
    assert_eq!(SOUND.matches(sound).count(), 1, "{sound}");
    assert_eq!(errors(&SOUND.replace(sound, broken)), [told]);
}

/// Every mistake of a file in one run, in the order of the file
#[test]
fn many_mistakes_are_all_told_in_one_run() {
    let text = r#"
caus a: "x"
    kind upkeep
cause b: "x
    basis trade
symptom c: "x"
    with nobody: 140%
    whit nobody: 3%
    counts one 1,
measure d: "x"
    unit mm range 5 to 3 error 0.5
    takes 3 min
symptom d: "x"
    without 3%
"#;
    assert_eq!(
        errors(text),
        [
            "not-understood | caus | no declaration starts with `caus`",
            "unknown-name | upkeep | no kind is called `upkeep`",
            "unclosed-text | \"x | this text has no closing quote",
            "not-understood | trade | expected `common practice`, `estimate` or a text in quotes, found `trade`",
            "unknown-name | nobody | no cause or condition is called `nobody`",
            "chance-off-range | 140% | 140 % is no chance",
            "not-understood | whit | no clause starts with `whit`",
            "not-understood |  | expected a grade before the end of the line",
            "bad-bounds | range 5 to 3 | this range ends before it starts",
            "clause-not-here | takes | `takes` does not belong in a measure",
            "name-twice | d | `d` is declared twice",
        ]
    );
}

/// What is skipped ends with the line, and a block at the next head
#[rstest]
#[case("cause a \"x\"\n    kind upkeep\ncause b: \"x\"\n", 1)]
#[case("?\n?\n?\ncause b: \"x\"\n", 3)]
#[case("    kind upkeep\ncause b: \"x\"\n", 1)]
#[case("cause a: \"x\"\n    ?\n    kind upkeep\n    ?\n    ?\n", 3)]
fn reading_goes_on_after_a_mistake(#[case] text: &str, #[case] problems: usize) {
    assert_eq!(form(text).len(), problems);
}
