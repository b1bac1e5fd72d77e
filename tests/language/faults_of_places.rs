//! Parents, readings, tests and checks at other places than their block.

use crate::language::said::added;
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("symptom s: \"x\"\n    without 5%\n    shared 50%\n", &["place-not-fitting | shared 50% | one block of the whole machine has no places that go together | take `shared` out, or declare the block `each side` or for each of a numbered part"])]
#[case("fact f: \"x\"\n    choices a 50%, b 50%\n    shared 50%\n", &["place-not-fitting | shared 50% | one block of the whole machine has no places that go together | take `shared` out, or declare the block `each side` or for each of a numbered part"])]
#[case("cause c, each side: \"x\"\n    kind upkeep\n    chance 5% of sides\n    recent 0%\nsymptom s, each side: \"x\"\n    with c: 5% slowly\n", &[])]
#[case("symptom s: \"x\"\n    with off_line: 5%\n", &["place-needed | off_line | `off_line` has more places than this block | say which: write `off_line on either side`"])]
#[case("symptom s: \"x\"\n    with off_line on any roller: 5%\n", &["place-needed | on any roller | `off_line` has more places than this block | say which: write `off_line on either side`"])]
#[case("symptom s, each side: \"x\"\n    with off_line on either side: 5%\n", &["place-not-fitting | on either side | `on either side` does not fit: `off_line` has one place for each place of this block | leave these words out"])]
#[case("cause c, each roller: \"x\"\n    kind upkeep\n    chance 5% of rollers\nsymptom s, each side: \"x\"\n    with c: 5%\n", &["place-needed | c | `c` has more places than this block | say which: write `c on any roller`"])]
#[case("cause c, each roller: \"x\"\n    kind upkeep\n    chance 5% of rollers\nsymptom s, each side: \"x\"\n    with c on either side: 5%\n", &["place-needed | on either side | `c` has more places than this block | say which: write `c on any roller`"])]
#[case("cause c, each roller: \"x\"\n    kind upkeep\n    chance 5% of rollers\npart pad, each side, numbered: \"pad\"\nsymptom s, each pad: \"x\"\n    with c: 5%\n", &["place-needed | c | nothing says which roller `c` is to be taken from here | put a condition of each side between the two"])]
#[case("symptom s, each side: \"x\"\n    with off_line toward this side: 5%\n", &["place-not-fitting | toward this side | `off_line` does not lie toward a side | only a cause whose chance says `toward one side` has a this side and another"])]
#[case("cause c: \"x\"\n    kind upkeep\n    chance 5% of machines, toward one side\nsymptom s: \"x\"\n    with c toward this side: 5%\n", &["place-not-fitting | toward this side | this block is one for the whole machine and has no side of its own | name the form, `left` or `right`, or give the block `each side`"])]
#[case("cause c: \"x\"\n    kind upkeep\n    chance 5% of machines, toward one side\nsymptom s, each side: \"x\"\n    with c left toward this side: 5%\n", &["place-not-fitting | toward this side | `left` says already which side is meant | name the form, or the side, but not both"])]
#[case("cause c, each side: \"x\"\n    kind upkeep\n    chance 5% of sides, toward one side\n", &["place-not-fitting | toward one side | only a cause of the whole machine lies toward one side | take `each …` out of the declaration, or `toward one side` out of the chance"])]
#[case("cause c: \"x\"\n    kind upkeep\n    chance 5% of machines, toward one side\n    forms a, b\n", &["place-not-fitting | toward one side | this cause has forms of its own already | take out `forms` or `toward one side`: a cause has forms of one sort"])]
#[case("symptom s: \"x\"\n    without 1% where side is left\n", &["place-not-fitting | side | this block is one for the whole machine and has no side | take the term out, or give the block places with `each side` or `each …`"])]
#[case("symptom s, each side: \"x\"\n    without 1% where side is front\n", &["unknown-choice | front | `front` is not a side | write one of left, right"])]
#[case("symptom s, each side: \"x\"\n    without 1% where roller is first\n", &["place-not-fitting | roller | this block is not one for each roller | take the term out, or give the block places with `each side` or `each …`"])]
#[case("symptom s, each roller: \"x\"\n    without 1% where roller is middle\n", &["unknown-choice | middle | `middle` is not a spot along the row | write one of first, last, in front half, in rear half"])]
#[case("fact f, each side: \"x\"\n    choices a 50%, b 50%\nsymptom s: \"x\"\n    without 1% where f is a\n", &["place-not-fitting | f | `f` is a fact of each side, and this block has none | take the term out, or give the block places with `each side` or `each …`"])]
#[case("symptom s: \"x\"\n    with off_line on either side and off_line on either side: 5%\n", &["clause-twice | off_line | `off_line` stands twice in this line | name each cause or condition once; for two of its grades put a condition between"])]
#[case("symptom s, each side: \"x\"\n    with toe toed_in and toe toed_out: 5%\n", &["clause-twice | toe | `toe` stands twice in this line | name each cause or condition once; for two of its grades put a condition between"])]
#[case("symptom s: \"x\"\n    with off_line on either side and toe on either side: 5%\n", &["place-not-fitting | toe | only one of the parents of a line can be on any place | nothing says which places go together: put a condition of each place between"])]
#[case("symptom s, each side: \"x\"\n    with off_line and toe: 5%\n    with toe and off_line: 6%\n", &["line-never-reached | with toe and off_line: 6% | this line is never reached: an earlier one holds everywhere | the first line that holds counts; put the line with `where` first"])]
#[case("symptom s, each side: \"x\"\n    from gap: no, yes under 3 mm\n    without 1%\n", &["place-needed | gap | `gap` has more places than this block | write for instance `mean of … across rollers`"])]
#[case("symptom s, each side: \"x\"\n    from mean of gap across sides: no, yes under 3 mm\n    without 1%\n", &["place-not-fitting | sides | nothing here goes across `sides` | write `sides` in a block of the whole machine, or a numbered part in the plural"])]
#[case("symptom s, each side: \"x\"\n    from lead of gap across rollers: no, yes under 3 mm\n    without 1%\n", &["place-not-fitting | rollers | `lead` is that of the left less that of the right | write `across sides` behind it, in a block of the whole machine; or gather by `spread`"])]
#[case("symptom s, each roller: \"x\"\n    from lead of gap and gap: no, yes under 3 mm\n    without 1%\n", &["place-not-fitting | gap | `lead` is that of the left less that of the right | write `across sides` behind it, in a block of the whole machine; or gather by `spread`"])]
#[case("symptom s: \"x\"\n    gives way to edge\n    without 1%\n", &["place-not-fitting | edge | `edge` has other places than this | a symptom gives way to one that is seen at the same place"])]
#[case("check c, each roller: \"x\"\n    shows edge\n    takes 2 min\n", &["place-needed | edge | `edge` has other places than this check | a check shows what stands at its own place or within it: give it wider places"])]
#[case("part p, numbered: \"x\"\n", &["place-not-fitting | numbered | a numbered part stands along a side | write `each side, numbered`"])]
#[case("part p, each side, numbered 9 to 5: \"x\"\n", &["bad-bounds | numbered 9 to 5 | these are no numbers of parts along a side | write two whole numbers, the smaller first, up to 99"])]
#[case("part p, each side, numbered 1 to 500: \"x\"\n", &["bad-bounds | numbered 1 to 500 | these are no numbers of parts along a side | write two whole numbers, the smaller first, up to 99"])]
fn a_place_at_fault(#[case] text: &str, #[case] expected: &[&str]) {
    assert_eq!(added(text), expected);
}
