//! Tests that no machine and no place can pass.

use crate::language::said::added;
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("symptom s: \"x\"\n    without 1% where chain_type is dry and chain_type is sealed\n", &["gate-never-holds | chain_type | no choice of `chain_type` passes this test | take one of the terms out, or widen one of them"])]
#[case("symptom s: \"x\"\n    only where chain_type is not dry or sealed\n    without 1%\n", &["gate-never-holds | chain_type | no choice of `chain_type` passes this test | take one of the terms out, or widen one of them"])]
#[case("symptom s, each side: \"x\"\n    without 1% where side is left and side is right\n", &["gate-never-holds | side | this test can never hold together with the terms before it | take one of the terms out, or widen one of them"])]
#[case("symptom s, each side: \"x\"\n    without 1% where side is not left or right\n", &["gate-never-holds | side | neither side passes this test | name one side, or take the term out"])]
#[case("symptom s: \"x\"\n    without 1% where hours over 300 and hours under 200\n", &["gate-never-holds | hours | this test can never hold together with the terms before it | take one of the terms out, or widen one of them"])]
#[case("symptom s: \"x\"\n    without 1% where rollers over 6 and rollers under 7\n", &["gate-never-holds | rollers | this test can never hold together with the terms before it | take one of the terms out, or widen one of them"])]
#[case("symptom s: \"x\"\n    without 1% where rollers over 99\n", &["gate-never-holds | rollers | this test can never hold | take one of the terms out, or widen one of them"])]
#[case("part pad, each side, numbered 2 to 4: \"x\"\nsymptom s, each pad: \"x\"\n    without 1% where pad is first and pad is last\n", &["gate-never-holds | pad | this test can never hold together with the terms before it | take one of the terms out, or widen one of them"])]
#[case("part pad, each side, numbered 1 to 4: \"x\"\nsymptom s, each pad: \"x\"\n    without 1% where pad is first and pad is last\n", &[])]
#[case("symptom s, each roller: \"x\"\n    without 1% where roller is in front half and roller is in rear half\n", &["gate-never-holds | roller | this test can never hold together with the terms before it | take one of the terms out, or widen one of them"])]
#[case("symptom s: \"x\"\n    only where chain_type is dry\n    without 1% where chain_type is sealed\n", &["gate-never-holds | chain_type is sealed | this never holds where `s` exists | its own `only where`, or that of the part it is seen on, rules it out: change one of them"])]
#[case("part rear, each side: \"x\" only where chain_type is dry\nsymptom s, each side, of rear: \"x\"\n    only where chain_type is sealed\n    without 1%\n", &["gate-never-holds | chain_type is sealed | `s` can never exist | its own `only where` and that of its part rule each other out: change one of them"])]
#[case("cause c: \"x\"\n    kind upkeep\n    only where chain_type is dry\n    chance 3% of machines where chain_type is sealed\n", &["gate-never-holds | chain_type is sealed | this never holds where `c` exists | its own `only where`, or that of the part it is seen on, rules it out: change one of them"])]
#[case("symptom s, each side: \"x\"\n    without 1% where side is left or right\n", &["place-not-fitting | side | both sides pass this test | name one side, or take the term out"])]
#[case("symptom s, each side: \"x\"\n    without 1% where side is not lft\n", &["unknown-choice | lft | `lft` is not a side | did you mean `left`?"])]
#[case("symptom s: \"x\"\n    without 1% where chian_type is dry\n    without 2%\n", &["unknown-name | chian_type | no fact is called `chian_type` | did you mean `chain_type`?"])]
#[case("remedy r, each side: \"x\"\n    fixes toe\n    only where edge is heavvy\n", &["unknown-choice | heavvy | `heavvy` is not a grade of `edge` | did you mean `heavy`?"])]
#[case("remedy r, each side: \"x\"\n    fixes toe\n    only where edge over 3\n", &["wrong-sort-of-name | 3 | `edge` is no number | write `edge is …`"])]
#[case("remedy r, each side: \"x\"\n    fixes toe\n    only where close is small\n", &["place-needed | close | `close` has other places than this remedy | a remedy can ask what was seen at its own place, on its side, or of the machine"])]
#[case("remedy r, each roller: \"x\"\n    renews gap from 90%\n    only where edge is heavy and close is small\n", &[])]
#[case("remedy r, each side: \"x\"\n    fixes toe\n    only where edge is not none or slight or heavy\n", &["gate-never-holds | edge | no grade of `edge` passes this test | take the term out, or widen it"])]
#[case("check c, each side: \"x\"\n    shows edge\n    takes 1 min\n    only where edge is heavy\n", &["wrong-sort-of-name | edge | `edge` is a symptom, where a fact belongs | name a fact here"])]
fn a_test_at_fault(#[case] text: &str, #[case] expected: &[&str]) {
    assert_eq!(added(text), expected);
}
