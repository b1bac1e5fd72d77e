//! What only shows when all blocks are taken together: rings, readings used twice, tables past all reason.

use crate::language::said::added;
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("condition a: \"x\"\n    with b: 5%\ncondition b: \"x\"\n    with c: 5%\ncondition c: \"x\"\n    with a: 5%\n", &["loop | c | these depend on one another in a ring: c → b → a → c | take one of the `with` lines out: what comes first must not depend on what follows from it"])]
#[case("condition a: \"x\"\n    with a: 5%\n", &["loop | a | `a` depends on itself | take one of the `with` lines out: what comes first must not depend on what follows from it"])]
#[case("fact f: \"x\"\n    choices a 50%, b 50% where g is a\n    choices a 50%, b 50%\nfact g: \"x\"\n    choices a 50%, b 50% where f is a\n    choices a 50%, b 50%\n", &["loop | g | these depend on one another in a ring: g → f → g | take one of the tests out: what a fact is must not depend on itself"])]
#[case("measure m: \"x\"\n    is n + 1 mm\nmeasure n: \"x\"\n    is half of m\n", &["loop | n | these depend on one another in a ring: n → m → n | reckon one of them from readings alone"])]
#[case("measure m: \"x\"\n    is m\n", &["loop | m | `m` depends on itself | reckon one of them from readings alone"])]
#[case("symptom s: \"x\"\n    gives way to t\n    without 1%\nsymptom t: \"x\"\n    gives way to s\n    without 1%\n", &["loop | t | these depend on one another in a ring: t → s → t | take one of the `gives way` lines out: where all give way to one another none is left"])]
#[case("symptom s: \"x\"\n    gives way to s\n    without 1%\n", &["loop | s | `s` depends on itself | take one of the `gives way` lines out: where all give way to one another none is left"])]
#[case("symptom s, each roller: \"x\"\n    from gap: no, yes under 3 mm\n    without 1%\n", &["shared-reading | s | these symptoms outnumber the readings they are made from: `close`, `s` | let one of them give way: write `gives way to close` in it, or take another measure"])]
#[case("symptom s, each roller: \"x\"\n    from gap: no, yes under 3 mm\n    gives way to close\n    without 1%\n", &[])]
#[case("measure m, each roller: \"x\"\n    is gap\nsymptom s, each roller: \"x\"\n    from half of m: no, yes under 3 mm\n    without 1%\n", &["shared-reading | s | these symptoms outnumber the readings they are made from: `close`, `s` | let one of them give way: write `gives way to close` in it, or take another measure"])]
#[case("measure m, each side: \"x\"\n    is hours of idler / life gap\n", &["wrong-unit | hours of idler / life gap | this reckons a plain ratio | a measure can be reckoned only as a length; write other figures in `from`"])]
#[case("measure m, each roller: \"x\"\n    unit hh range 0 to 3 error 1\nmeasure n, each roller: \"x\"\n    is m + gap\n", &["wrong-unit | hh | no unit is called `hh` | units are mm, cm, m, in, ft, deg, h, min, s, %, N·m, lbf·ft, degC, degF, bar, kPa, MPa, psi, kN, lbf"])]
#[case("fact f0: \"x\"\n    choices a 12%, b 88%\nfact f1: \"x\"\n    choices a 12%, b 12%, c 12%, d 12%, e 12%, f 12%, g 12%, h 16%\nfact f2: \"x\"\n    choices a 12%, b 12%, c 12%, d 12%, e 12%, f 12%, g 12%, h 16%\nfact f3: \"x\"\n    choices a 12%, b 12%, c 12%, d 12%, e 12%, f 12%, g 12%, h 16%\nfact f4: \"x\"\n    choices a 12%, b 12%, c 12%, d 12%, e 12%, f 12%, g 12%, h 16%\nsymptom s: \"x\"\n    without 1% where f0 is a and f1 is a and f2 is a and f3 is a and f4 is a and chain_type is dry\n", &["too-many | s | this hangs on more facts and parents at once than can be tabled | test fewer facts together, or put a condition between"])]
#[case("measure m0, each roller: \"x\"\n    is gap + gap + gap + gap + gap + gap + gap + gap + gap + gap + gap + gap + gap + gap\nmeasure m1, each roller: \"x\"\n    is m0 + m0 + m0 + m0 + m0 + m0 + m0 + m0 + m0 + m0\nmeasure m2, each roller: \"x\"\n    is m1 + m1 + m1 + m1 + m1 + m1 + m1 + m1 + m1 + m1\nmeasure m3, each roller: \"x\"\n    is m2 + m2 + m2 + m2 + m2 + m2 + m2 + m2 + m2 + m2\n", &["too-deep | m2 | `m2` is reckoned from more than can be followed | written out to its readings it has at most 1000 operands, through 16 measures in a row"])]
fn a_fault_of_the_whole(#[case] text: &str, #[case] expected: &[&str]) {
    assert_eq!(added(text), expected);
}
