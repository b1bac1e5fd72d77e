//! Clauses and places of a declaration that do not belong, stand twice or are missing.

use crate::language::said::added;
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("symptom s: \"x\"\n    kind upkeep\n    without 1%\n", &["clause-not-here | kind | `kind` does not belong in a symptom | what belongs there is `with`, `mirror`, `without`, `gives way`, `shared`, `grades`, `from`, `counts`, `seen`, `only where`, `basis`, `text`"])]
#[case("cause c: \"x\"\n    kind upkeep\n    chance 5% of machines\n    with off_line: 3%\n", &["clause-not-here | with | `with` does not belong in a cause | what belongs there is `chance`, `recent`, `kind`, `forms`, `only where`, `basis`, `text`"])]
#[case("scale\n    always 98%\n    basis estimate\n", &["name-twice | scale | `scale` is declared twice | put the rows into one block"])]
#[case("life small: \"x\"\n    gap 300 h\n    caution \"x\"\n", &["clause-not-here | caution | `caution` does not belong in `life` | what belongs there is a row, `spread`, `as`, `basis`, `text`"])]
#[case("kind k: \"x\" counts against owner\n    basis estimate\n", &["clause-not-here | basis | `basis` does not belong in a kind | what belongs there is `text`"])]
#[case("cause c: \"x\" counts against owner\n    kind upkeep\n    chance 5% of machines\n", &["clause-not-here | owner | only a kind counts against somebody | take it out, and give the cause a `kind` that counts against them"])]
#[case("symptom s: \"x\"\n    grades no, yes\n    grades no, yes\n    without 1%\n", &["clause-twice | grades | `grades` stands twice in this block | keep one of the two"])]
#[case("cause c: \"x\"\n    kind upkeep\n    kind upkeep\n    chance 5% of machines\n", &["clause-twice | kind | `kind` stands twice in this block | keep one of the two"])]
#[case("symptom s: \"x\"\n    grades a, b, c\n    without 1% b, 2% b\n", &["clause-twice | 2% | the grade `b` stands twice in this line | keep one of the two"])]
#[case("symptom s, each side, each roller: \"x\"\n    without 1%\n", &["clause-twice | each roller | `each` stands twice in this line | keep one of the two"])]
#[case("symptom s, of idler, of roller: \"x\"\n    without 1%\n", &["clause-twice | of roller | `of` stands twice in this line | keep one of the two"])]
#[case("kind k, each side: \"x\" counts against owner\n", &["place-not-fitting | each side | a block of `kind` has no places | take it out"])]
#[case("dimensions small, each side: \"x\"\n    gap 3 mm\n", &["place-not-fitting | each side | a block of `dimensions` has no places | take it out"])]
#[case("cause c, numbered: \"x\"\n    kind upkeep\n    chance 5% of machines\n", &["place-not-fitting | numbered | only a part can be `numbered` | take it out"])]
#[case("part p, of idler: \"x\"\n", &["place-not-fitting | of idler | a block of `part` is not seen on a part | take it out"])]
#[case("cause c: \"x\"\n", &["clause-missing | c | `c` has no `kind` | add an indented line with `kind`", "clause-missing | c | `c` has no `chance` | add an indented line with `chance`"])]
#[case("condition c: \"x\"\n", &["clause-missing | c | `c` has no `with` and no `without` | add an indented line with `with` or `without`"])]
#[case("symptom s: \"x\"\n", &["clause-missing | s | `s` has no `with` and no `without` | add an indented line with `with` or `without`"])]
#[case("measure m: \"x\"\n", &["clause-missing | m | `m` has no `unit` and no `is` | add an indented line with `unit` or `is`", "clause-missing | m | `m` has no `range` | add an indented line with `range`", "clause-missing | m | `m` has no `error` | add an indented line with `error`"])]
#[case("measure m: \"x\"\n    unit mm\n", &["clause-missing | m | `m` has no `range` | add an indented line with `range`", "clause-missing | m | `m` has no `error` | add an indented line with `error`"])]
#[case("fact f: \"x\"\n", &["clause-missing | f | `f` has no `choices` | add an indented line with `choices`"])]
#[case("check c: \"x\"\n", &["clause-missing | c | `c` has no `shows` and no `reads` and no `makes` | add an indented line with `shows` or `reads` or `makes`", "clause-missing | c | `c` has no `takes` | add an indented line with `takes`"])]
#[case("remedy r: \"x\"\n", &["clause-missing | r | `r` has no `fixes` and no `mends` and no `renews` | add an indented line with `fixes` or `mends` or `renews`"])]
#[case("remedy r, each side: \"x\"\n    fixes off_line\n    finds out\n    finds out\n", &["clause-twice | finds out | `finds out` stands twice in this block | keep one of the two"])]
#[case("remedy r, each roller: \"x\"\n    finds out\n    renews gap from 90%\n    lasts gap 50% of 80%\n", &["clause-not-here | renews | `renews` does not belong in a remedy that finds out | take `finds out` away, or write the look as a remedy of its own", "clause-not-here | lasts | `lasts` does not belong in a remedy that finds out | take `finds out` away, or write the look as a remedy of its own"])]
#[case("remedy r: \"x\"\n    finds out\n", &["clause-missing | r | `r` has no `fixes` and no `mends` and no `renews` | add an indented line with `fixes` or `mends` or `renews`"])]
#[case("remedy r, each roller: \"x\"\n    sets right\n    renews gap from 90%\n", &["clause-not-here | renews | `renews` does not belong in a remedy that sets right | take `sets right` away, or write the setting as a remedy of its own"])]
#[case("remedy r, each side: \"x\"\n    fixes off_line\n    finds out\n    sets right last\n", &["clause-not-here | finds out | `finds out` does not belong in a remedy that sets right | take `sets right` away, or write the setting as a remedy of its own"])]
#[case("remedy r, each roller: \"x\"\n    on site\n    renews gap from 90%\n", &["clause-not-here | renews | `renews` does not belong in a remedy that is done on site | take `on site` away, or write what is done on site as a remedy of its own"])]
#[case("symptom s, each side: \"x\"\n    with off_line: 5% slowly\n", &["clause-missing | slowly | of nothing that this line names is it said how often it is recent | add for instance `recent 40%` to the cause, or leave `slowly` out"])]
#[case("symptom s, each side: \"x\"\n    without 5%\n    shared 120%\n", &["chance-off-range | 120% | 120 % is no chance | a chance lies from 0 % to 100 %"])]
#[case("symptom s, each side: \"x\"\n    without 5%\n    recent 20%\n", &["clause-not-here | recent | `recent` does not belong in a symptom | what belongs there is `with`, `mirror`, `without`, `gives way`, `shared`, `grades`, `from`, `counts`, `seen`, `only where`, `basis`, `text`"])]
#[case("check c, each side: \"x\"\n    shows edge\n    takes 2 min\n    finds out\n", &["clause-not-here | finds out | `finds out` does not belong in a check | what belongs there is `shows`, `reads`, `ends`, `needs`, `caution`, `while`, `makes`, `takes`, `access`, `only where`, `basis`, `text`"])]
#[case("life small: \"x\"\n", &["clause-missing | small | `small` has no row | add an indented row, such as `link_height 5000 h`"])]
#[case("dimensions small: \"x\"\n", &["clause-missing | small | `small` has no row | add an indented row, such as `link_height 114 mm 0%, 103 mm 100%`"])]
#[case("fact f, each roller: \"x\"\n    choices a 100%\n", &["place-not-fitting | f | a fact is of the machine or of each side | write `each side`, or nothing for one of the whole machine"])]
fn a_clause_at_fault(#[case] text: &str, #[case] expected: &[&str]) {
    assert_eq!(added(text), expected);
}
