//! A problem underlines the smallest piece at fault, and points at the other end where there is one.

use crate::support::rules;
use pinboss::problem::explained::BESIDE;
use rstest::rstest;

/// The first problem of an example beside the small set of rules: its code, the underlined piece, and each other place
fn told(example: &str) -> Vec<String> {
    let rules::Rules { sources, problems, .. } =
        rules::read([("beside.rules", BESIDE), ("example.rules", example)]);
    let sorted = problems.sorted();
    let first = sorted.iter().find(|problem| sources.name(problem.at.source) == "example.rules").unwrap();
    let head = format!("{} | {}", first.code.slug(), sources.slice(first.at));
    let also = first.also.iter().map(|(at, words)| format!("{words} | {}", sources.slice(*at)));
    [head].into_iter().chain(also).collect()
}

#[rustfmt::skip] // One row, one line.
#[rstest]
// First declarations
#[case("state cleaned: \"x\"\n", &["name-twice | cleaned", "first declared here | cleaned"])]
#[case("cause c: \"x\"\n    forms a, b, a\n    kind upkeep\n    chance 5% of machines\n", &["name-twice | a", "first here | a"])]
#[case("fact f: \"x\"\n    choices a 50%, b 30%, a 20%\n", &["name-twice | a", "first here | a"])]
#[case("symptom s: \"x\"\n    grades a, b, a\n    without 1% b\n", &["bad-grades | a", "first here | a"])]
#[case("symptom s: \"x\"\n    without 1%\n    basis estimate\n    basis  common practice\n", &["clause-twice | basis", "first given here | basis"])]
#[case("basis estimate\nbasis common practice\nstate wet: \"x\"\n", &["clause-twice | basis common practice", "first given here | basis estimate"])]
#[case("hazard \"lifting\": \"jack\"\nhazard \"Lifting\": \"crib\"\n", &["name-twice | \"Lifting\"", "first given here | \"lifting\""])]
#[case("part p, each side: \"x\"\n    drawn as hub\npart q, each side: \"x\"\n    drawn as hub\n", &["name-twice | as hub", "the other one | as hub"])]
#[case("part p, each side: \"x\"\n    drawn as hub\n    drawn along frame 3%\n", &["line-never-reached | drawn along frame 3%", "this one holds everywhere | drawn as hub"])]
#[case("hazard \"lifting\": \"jack\"\nhazard \"falling\": \"jack\"\n", &["name-twice | \"jack\"", "first given here | \"jack\""])]
#[case("opposites \"in\" and \"out\"\nopposites \"up\" and \"in\"\n", &["name-twice | \"in\"", "first given here | \"in\""])]
#[case("life a: \"x\"\n    as b\nlife b: \"x\"\n    as a\n", &["loop | b", "declared here | b"])]
#[case("dimensions b: \"x\"\n    flange_gap 20 mm 0%, 4 mm 100%\nbasis estimate\n", &["not-understood | basis estimate", "one that stands above it | dimensions b: \"x\""])]
#[case("symptom s, each side: \"x\"\n    with toe toed_in and toe: 5%\n", &["clause-twice | toe", "first here | toe"])]
#[case("cause rollers: \"x\"\n    kind upkeep\n    chance 5% of machines\n", &["reserved-name | rollers", "the numbered part | roller"])]
// What a name is declared as, and what it has
#[case("symptom s, each side: \"x\"\n    with flange_worn: 5%\n", &["wrong-sort-of-name | flange_worn", "declared here | flange_worn"])]
#[case("symptom s: \"x\"\n    with idler_off: 5%\n", &["place-needed | idler_off", "declared here, with its places | idler_off"])]
#[case("symptom s, each side: \"x\"\n    with toe toed_inn: 5%\n", &["unknown-grade | toed_inn", "its grades | toed_in < straight > toed_out"])]
#[case("symptom s, each side: \"x\"\n    with toe straight: 5%\n", &["normal-grade | straight", "its grades, the normal one first | toed_in < straight > toed_out"])]
#[case("symptom s, each side: \"x\"\n    with idler_off inward: 5%\n", &["unknown-grade | inward", "declared here | idler_off"])]
#[case("symptom s: \"x\"\n    without 5% where chain_type is wet\n", &["unknown-choice | wet", "its choices | sealed 70%, dry"])]
#[case("symptom s: \"x\"\n    gives way to flange_worn\n    without 5%\n", &["place-not-fitting | flange_worn", "declared here | flange_worn"])]
#[case("check c, each roller: \"x\"\n    shows flange_worn\n    takes 2 min\n", &["place-needed | flange_worn", "declared here | flange_worn"])]
// The line that makes this one dead
#[case("symptom s: \"x\"\n    without 1%\n    without 2% where chain_type is dry\n", &["line-never-reached | without 2% where chain_type is dry", "this one holds everywhere | without 1%"])]
#[case("symptom s: \"x\"\n    without 1% where chain_type is dry\n    without 2% where chain_type is not dry\n    without 3%\n", &["line-never-reached | without 3%", "this one answers before it | without 1% where chain_type is dry", "this one answers before it | without 2% where chain_type is not dry"])]
#[case("symptom s, each roller: \"x\"\n    without 1% where roller is first\n    without 2% where roller is not first\n    without 3% where chain_type is dry\n", &["line-never-reached | without 3% where chain_type is dry", "this one answers before it | without 1% where roller is first", "this one answers before it | without 2% where roller is not first"])]
#[case("cause c: \"x\"\n    kind upkeep\n    chance 5% of machines\n    chance 6% of machines where hours over 300\n", &["line-never-reached | chance 6% of machines where hours over 300", "this one holds everywhere | chance 5% of machines"])]
#[case("fact f: \"x\"\n    choices a 100%\n    choices a 100% where hours over 300\n", &["line-never-reached | choices a 100% where hours over 300", "this one holds everywhere | choices a 100%"])]
#[case("life medium: \"x\"\n    flange_gap 300 h\n    flange_gap 200 h where chain_type is dry\n", &["line-never-reached | flange_gap 200 h where chain_type is dry", "this one holds everywhere | flange_gap 300 h"])]
// The gate that contradicts
#[case("symptom s: \"x\"\n    only where chain_type is dry\n    without 1% where hours over 3 and chain_type is sealed\n", &["gate-never-holds | hours over 3 and chain_type is sealed", "its own gate | chain_type is dry"])]
#[case("part p: \"x\" only where chain_type is dry\nsymptom s, of p: \"x\"\n    only where chain_type is sealed\n    without 1%\n", &["gate-never-holds | chain_type is sealed", "the gate of its part | chain_type is dry"])]
#[case("part p: \"x\" only where chain_type is dry\nsymptom s, of p: \"x\"\n    without 1% where chain_type is sealed\n", &["gate-never-holds | chain_type is sealed", "the gate of its part | chain_type is dry"])]
// The line by which a remedy is a look
#[case("remedy r, each roller: \"x\"\n    renews flange_gap from 90%\n    sets right\n", &["clause-not-here | renews", "by this it only sets right what is there | sets right"])]
#[case("remedy r, each roller: \"x\"\n    renews flange_gap from 90%\n    finds out\n", &["clause-not-here | renews", "by this it mends nothing | finds out"])]
// Numbers: the shares, not the line
#[case("symptom s: \"x\"\n    grades a, b, c\n    without 60% b, 60% c where chain_type is dry\n", &["effects-over-100 | 60% b, 60% c"])]
#[case("fact f: \"x\"\n    choices a 60%, b 60%\n", &["choices-not-100 | a 60%, b 60%"])]
#[case("dimensions heavy: \"x\"\n    flange_gap 3 mm 0%, 3 mm 100% where chain_type is dry\n", &["bad-table | 3 mm 0%, 3 mm 100%"])]
#[case("symptom s, each roller: \"x\"\n    from flange_gap: a, b under 5 mm, c under 9 mm\n    grades a, b, c\n    without 1% b\n", &["bad-bounds | 9 mm", "the one before it | 5 mm"])]
// The ring's members
#[case("condition a: \"x\"\n    with b: 5%\ncondition b: \"x\"\n    with a: 5%\n", &["loop | b", "in the ring | a"])]
fn the_other_end_is_shown(#[case] example: &str, #[case] expected: &[&str]) {
    assert_eq!(told(example), expected);
}
