//! Every code of the rule language has a text that brings it about, and a title, and a word on what to do.

use crate::language::said::{SOUND, take};
use pinboss::problem::code::Code::{self, *};
use rstest::rstest;
use std::collections::BTreeSet;

#[rustfmt::skip] // One row, one line.
const EACH: &[(Code, &str)] = &[
    (Syntax, "cause"),
    (TooDeep, "measure m: \"x\"\n is 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 1"),
    (UnclosedText, "cause c: \"x"),
    (WrongClause, "symptom s: \"x\"\n without 1%\n costs 3"),
    (RepeatedClause, "symptom s: \"x\"\n without 1%\n basis estimate\n basis estimate"),
    (MissingClause, "symptom s: \"x\""),
    (NothingToMirror, "symptom s: \"x\"\n mirror edge: 3%"),
    (UnknownName, "symptom s: \"x\"\n with nobody: 3%"),
    (DuplicateName, "symptom edge: \"x\"\n without 1%"),
    (WrongSort, "symptom s: \"x\"\n with edge: 3%"),
    (ReservedName, "cause side: \"x\""),
    (UnknownGrade, "symptom s: \"x\"\n without 1% maybe"),
    (UnknownChoice, "symptom s: \"x\"\n without 1% where chain_type is wet"),
    (NormalGrade, "symptom s: \"x\"\n without 1% no"),
    (BadGrades, "symptom s: \"x\"\n grades a | b\n without 1% b"),
    (TooMany, "symptom s: \"x\"\n grades a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q\n without 1% b"),
    (PlaceNeeded, "symptom s: \"x\"\n with off_line: 3%"),
    (PlaceUseless, "symptom s, each side: \"x\"\n with off_line on either side: 3%"),
    (BadShare, "cause c: \"x\"\n kind upkeep\n chance 5% of sides"),
    (ChanceRange, "symptom s: \"x\"\n without 101%"),
    (EffectsOver, "symptom s: \"x\"\n grades a, b, c\n without 60% b, 60% c"),
    (ChoicesSum, "fact f: \"x\"\n choices a 60%, b 60%"),
    (BadUnit, "measure m: \"x\"\n unit ell\n range 0 to 1\n error 1"),
    (BadBounds, "measure m: \"x\"\n unit mm\n range 3 to 1\n error 1"),
    (BadTable, "dimensions small: \"x\"\n gap 3 mm 0%, 3 mm 100%"),
    (DeadLine, "symptom s: \"x\"\n without 1%\n without 2%"),
    (GateNeverHolds, "symptom s: \"x\"\n without 1%\n only where hours under 0"),
    (Loop, "condition c: \"x\"\n with c: 3%"),
    (SharedReading, "symptom s, each roller: \"x\"\n without 1%\n from gap: no, yes under 3 mm"),
    (ContactPair, "part p, each side: \"x\" rubs idler\ncause a, each side: \"x\"\n kind upkeep\n chance 5% of sides\nsymptom s, each side, of p: \"x\"\n with a: 5%\n with off_line: 5%\nsymptom t, each side, of idler: \"x\"\n with a: 5%\n with off_line: 5%"),
    (CauseUnseen, "cause c: \"x\"\n kind upkeep\n chance 5% of machines"),
    (ConditionUnseen, "condition c: \"x\"\n without 1%"),
    (CauseUnfixed, "cause c: \"x\"\n kind upkeep\n chance 5% of machines\nremedy r, each side: \"x\"\n fixes off_line"),
    (SymptomUnchecked, "symptom s: \"x\"\n without 1%"),
    (HazardNoCaution, "hazard \"driving pins\": \"hammer\"\ncheck c, each side: \"Hammer it\"\n shows edge\n takes 2 min"),
    (NeverUsed, "state s: \"x\""),
    (RemedyForNothing, "remedy r, each roller: \"x\"\n renews gap from 90%"),
    (GateWithoutShare, "fact f: \"x\"\n choices a 0%, b 100%\nsymptom s: \"x\"\n without 1% where f is a"),
    (SignSaysLittle, "symptom s, each side: \"x\"\n with off_line inboard: 60%\n with off_line outboard: 3%\n without 50%"),
    (CommonerWithout, "symptom s, each side: \"x\"\n with off_line: 3%\n without 50%"),
    (WorseShowsLess, "condition c, each side: \"x\"\n grades a, b, d\n with off_line: 10% b, 10% d\nsymptom s, each side: \"x\"\n with c b: 60%\n with c d: 50%"),
    (NoBasis, "symptom s: \"x\"\n without 1%"),
];

#[test]
fn every_code_of_the_rule_language_is_here() {
    let here: BTreeSet<Code> = EACH.iter().map(|(code, _)| *code).collect();
    let all: BTreeSet<Code> =
        Code::ALL.iter().copied().filter(|code| (Syntax..=NoBasis).contains(code)).collect();
    assert_eq!(here, all);
}

#[rstest]
fn every_code_comes_about_and_says_what_to_do(#[values(false, true)] alone: bool) {
    for (code, text) in EACH {
        let taken = if alone { take(&[&format!("{SOUND}{text}")]) } else { take(&[SOUND, text]) };
        let sorted = taken.problems.sorted();
        let problem = sorted.iter().find(|problem| problem.code == *code);
        let problem = problem.unwrap_or_else(|| panic!("{code:?} is not told: {:?}", taken.problems));
        assert!(!problem.help.is_empty() || *code == Syntax, "{problem:?}");
        assert!(!code.title().is_empty() && !code.title().ends_with('.'), "{code:?}");
        let plain = problem.message.chars().next().is_some_and(|sign| !sign.is_uppercase());
        assert!(plain && !problem.message.ends_with('.'), "{problem:?}");
    }
}
