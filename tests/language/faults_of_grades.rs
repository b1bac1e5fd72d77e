//! Grades and forms that do not hold together.

use crate::language::said::added;
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("symptom s: \"x\"\n    grades none\n    without 1%\n", &["bad-grades | none | these grades fit none of the three shapes | write a ladder `none, slight, heavy`, alternatives `none, inboard | outboard, both` with a last grade for two that come together, or two arms `tight < right > slack`"])]
#[case("symptom s: \"x\"\n    grades none, a | b\n    without 1% a\n", &["bad-grades | none, a | b | these grades fit none of the three shapes | write a ladder `none, slight, heavy`, alternatives `none, inboard | outboard, both` with a last grade for two that come together, or two arms `tight < right > slack`"])]
#[case("symptom s: \"x\"\n    grades none | a | b, both\n    without 1% a\n", &["bad-grades | none | a | b, both | these grades fit none of the three shapes | write a ladder `none, slight, heavy`, alternatives `none, inboard | outboard, both` with a last grade for two that come together, or two arms `tight < right > slack`"])]
#[case("symptom s: \"x\"\n    grades a < b < c\n    without 1% a\n", &["bad-grades | a < b < c | these grades fit none of the three shapes | write a ladder `none, slight, heavy`, alternatives `none, inboard | outboard, both` with a last grade for two that come together, or two arms `tight < right > slack`"])]
#[case("symptom s: \"x\"\n    grades a > b < c\n    without 1% a\n", &["bad-grades | a > b < c | these grades fit none of the three shapes | write a ladder `none, slight, heavy`, alternatives `none, inboard | outboard, both` with a last grade for two that come together, or two arms `tight < right > slack`"])]
#[case("symptom s: \"x\"\n    grades a, b, a\n    without 1% b\n", &["bad-grades | a | the grade `a` stands twice | give each grade a name of its own"])]
#[case("symptom s: \"x\"\n    grades g0, g1, g2, g3, g4, g5, g6, g7, g8, g9, g10, g11, g12, g13, g14, g15, g16\n    without 1% g2\n", &["too-many | g16 | nobody tells more than 16 grades apart | put neighbouring grades together"])]
#[case("cause c: \"x\"\n    kind upkeep\n    chance 5% of machines\n    forms a, b, a\n", &["name-twice | a | the form `a` stands twice | give each form a name of its own"])]
fn grades_at_fault(#[case] text: &str, #[case] expected: &[&str]) {
    assert_eq!(added(text), expected);
}
