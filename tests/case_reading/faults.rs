//! One fault each: its code, the piece it underlines and what is said; and several at once.

use crate::case_reading::{read, with};
use pinboss::problem::code::Code::{self, *};
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
// Keys
#[case("sen: {}", CaseUnknownKey, "sen", "a case file has no key `sen`")]
#[case("visit: {at: noon}", CaseUnknownKey, "at", "`visit` has no key `at`")]
#[case("parts: [{part: chain, of: 3}]", CaseUnknownKey, "of", "`parts` has no key `of`")]
#[case("truth: {presnt: []}", CaseUnknownKey, "presnt", "`truth` has no key `presnt`")]
#[case("seen: {left: {fuond: {}}}", CaseUnknownKey, "fuond", "`left` has no key `fuond`")]
#[case("seen: {machine: {roller 3: {}}}", CaseUnknownKey, "roller 3", "`machine` has no key `roller 3`")]
#[case("seen: {left: {roller 3: {roller 4: {}}}}", CaseUnknownKey, "roller 4", "`roller 3` has no key `roller 4`")]
#[case("seen: {left: {roller three: {}}}", CaseUnknownKey, "roller three", "`left` has no key `roller three`")]
#[case("seen: {left: {found: {a: {saw: b, sur: 3%}}}}", CaseUnknownKey, "sur", "`a` has no key `sur`")]
#[case("seen: {left: {read: {a: {value: 1 mm, viod: b}}}}", CaseUnknownKey, "viod", "`a` has no key `viod`")]
#[case("1: {}", CaseUnknownKey, "1", "a case file has no key `1`")]
#[case("~: {}", CaseUnknownKey, "~", "a case file has no key `~`")]
// Keys given twice
#[case("case: again", CaseDuplicateKey, "case", "`case` is given twice")]
#[case("visit: {by: A, by: B}", CaseDuplicateKey, "by", "`by` is given twice")]
#[case("seen: {left: {}, left: {}}", CaseDuplicateKey, "left", "`left` is given twice")]
#[case("seen: {left: {found: {a: b, a: c}}}", CaseDuplicateKey, "a", "`a` is given twice")]
#[case("seen: {left: {read: {a: 1 mm, \"a\": 2 mm}}}", CaseDuplicateKey, "a", "`a` is given twice")]
#[case("seen: {left: {roller 3: {}, roller 3: {}}}", CaseDuplicateKey, "roller 3", "`roller 3` is given twice")]
#[case("seen: {left: {found: {a: {saw: b, sure: 3%, saw: b}}}}", CaseDuplicateKey, "saw", "`saw` is given twice")]
// Things said twice
#[case("seen: {left: {roller 3: {}, roller 03: {}}}", CaseTwice, "roller 03", "`left roller 3` is told of twice")]
#[case("seen: {left: {roller 3: {}}, left roller 3: {}}", CaseTwice, "left roller 3", "`left roller 3` is told of twice")]
#[case("parts: [{part: chain}, {part: idler}, {part: chain}]", CaseTwice, "chain", "`chain` is told of twice")]
#[case("parts: [{part: roller, at: left 3}, {part: roller, at: left roller 3}]", CaseTwice, "left roller 3", "`roller` is told of twice")]
#[case("earlier: [a.yaml, a.yaml]", CaseTwice, "a.yaml", "the same earlier visit is named twice")]
#[case("truth: {present: [a left], absent: [a left]}", CaseTwice, "a left", "`a` is named twice")]
#[case("seen: {left: {found: {a: {joints: [9, 9], of: 39}}}}", CaseTwice, "9", "number 9 is named twice")]
#[case("seen: {left: {read: {a: {value: 1 mm, values: [1 mm]}}}}", CaseTwice, "values", "the reading is given twice")]
#[case("seen: {left: {read: {a: 1 mm}, not_possible: {a: b}}}", CaseTwice, "a", "`a` was not possible and is told")]
#[case("seen: {left: {photos: {a: [b.jpg, b.jpg]}}}", CaseTwice, "b.jpg", "the same picture is named twice")]
// Shapes
#[case("seen: {left: {photos: {a: {b: c.jpg}}}}", CaseShape, "{b: c.jpg}", "`a` takes a picture's file or a list of them, not keys of its own")]
#[case("photos: {a left: [[b.jpg]]}", CaseShape, "[b.jpg]", "`a left` takes one text here, not a list")]
#[case("photos: [left a]", CaseShape, "[left a]", "`photos` takes keys of its own, not a list")]
#[case("visit: today", CaseShape, "today", "`visit` takes keys of its own, not a text")]
#[case("visit: [2026-05-11]", CaseShape, "[2026-05-11]", "`visit` takes keys of its own, not a list")]
#[case("visit:\n  - on: 2026-05-11\n  - by: A", CaseShape, "- on: 2026-05-11", "`visit` takes keys of its own, not a list")]
#[case("seen: {left: {looked: sight_idler}}", CaseShape, "sight_idler", "`looked` takes a list, not one text")]
#[case("earlier: {a: b}", CaseShape, "{a: b}", "`earlier` takes a list, not keys of its own")]
#[case("in_question: [[a left]]", CaseShape, "[a left]", "`in_question` takes one text here, not a list")]
#[case("visit: {by: {name: A}}", CaseShape, "{name: A}", "`by` takes one text here, not keys")]
#[case("parts: [chain]", CaseShape, "chain", "an item of `parts` has keys of its own")]
#[case("parts: [[]]", CaseShape, "[]", "an item of `parts` has keys of its own")]
#[case("seen: {left: {read: {a: {values: {b: 1 mm}}}}}", CaseShape, "{b: 1 mm}", "`values` takes a quantity, not keys")]
#[case("seen: {left: {found: {a: [b]}}}", CaseShape, "[b]", "`a` takes one text here, not a list")]
#[case("seen: {left: {found: {a: {saw: b, of: 3}}}}", CaseShape, "{saw: b, of: 3}", "it is not plain what was seen of `a`")]
#[case("seen: {left: {found: {a: {}}}}", CaseShape, "{}", "it is not plain what was seen of `a`")]
#[case("seen: {left: {found: {a: {joints: 9, of: 39}}}}", CaseShape, "9", "`joints` takes a list, not one text")]
#[case("seen: {left: {found: {a: {joints: [9], pins: [9], of: 39}}}}", CaseShape, "pins", "one finding counts one thing")]
// Things left out
#[case("visit: {by: }", CaseMissing, "by", "`by` is left blank")]
#[case("visit: {by: ''}", CaseMissing, "by", "`by` is left blank")]
#[case("parts: [{on: 0 h}]", CaseMissing, "{on: 0 h}", "it is not said which part")]
#[case("parts: [{part: , on: 0 h}]", CaseMissing, "part", "`part` is left blank")]
#[case("seen: {left: {found: {a: {saw: b}}}}", CaseMissing, "saw", "it is not said how sure this is")]
#[case("seen: {left: {found: {a: {joints: [9]}}}}", CaseMissing, "joints", "it is not said how many joints there are")]
#[case("seen: {left: {found: {a: {joints: , of: 39}}}}", CaseMissing, "joints", "`joints` is left blank")]
#[case("seen: {left: {read: {a: {void: turned}}}}", CaseMissing, "a", "`a` has no value")]
#[case("seen: {left: {read: {a: []}}}", CaseMissing, "a", "`a` has no value")]
#[case("seen: {left: {read: {a: {value: 1 mm, void: }}}}", CaseMissing, "void", "`void` is left blank")]
#[case("seen: {left: {not_possible: {a: }}}", CaseMissing, "a", "`a` is left blank")]
#[case("seen: {left: {found: {a: {joints: [9], off: 3}}}}", CaseUnknownKey, "off", "`a` has no key `off`")]
// Places
#[case("seen: {lfet: {}}", CaseUnknownPlace, "lfet", "`lfet` is no place on a machine")]
#[case("seen: {front: {}}", CaseUnknownPlace, "front", "`front` is no place on a machine")]
#[case("seen: {left: {roller 0: {}}}", CaseUnknownPlace, "roller 0", "`0` is no number in a row of parts")]
#[case("seen: {left: {roller 4294967296: {}}}", CaseUnknownPlace, "roller 4294967296", "`4294967296` is no number in a row of parts")]
#[case("parts: [{part: roller, at: left -1}]", CaseUnknownPlace, "left -1", "`-1` is no number in a row of parts")]
#[case("parts: [{part: idler, at: left roller 3}]", CaseUnknownPlace, "left roller 3", "this is a place of `roller`, not of `idler`")]
#[case("in_question: [a left roller]", CaseUnknownPlace, "left roller", "`left roller` is no place on a machine")]
#[case("photos: {left roller 0: a.jpg}", CaseUnknownPlace, "left roller 0", "`0` is no number in a row of parts")]
// Values
#[case("photos: {a b: c.jpg}", CaseValue, "a b", "`a b` does not say what a picture shows, and where")]
#[case("photos: {left: c.jpg}", CaseValue, "left", "`left` does not say what a picture shows, and where")]
#[case("photos: {left roller 3 a b: c.jpg}", CaseValue, "left roller 3 a b", "`left roller 3 a b` does not say what a picture shows, and where")]
#[case("visit: {on: 2026-02-29}", CaseValue, "2026-02-29", "`2026-02-29` is no day of the calendar")]
#[case("visit: {on: 11.5.2026}", CaseValue, "11.5.2026", "`11.5.2026` is no day as it is written here")]
#[case("visit: {on: 2026-5-11}", CaseValue, "2026-5-11", "`2026-5-11` is no day as it is written here")]
#[case("parts: [{part: a, on: -3 h}]", CaseValue, "-3 h", "`on` is under 0 h")]
#[case("parts: [{part: a, on: 1000000000 h}]", CaseValue, "1000000000 h", "`on` is more than any machine runs")]
#[case("parts: [{part: a, on: .nan}]", CaseValue, ".nan", "`.nan` is no number that can be read off")]
#[case("parts: [{part: a, on: new}]", CaseValue, "new", "`new` does not begin with a number")]
#[case("seen: {left: {found: {a: {saw: b, sure: 0%}}}}", CaseValue, "0%", "`sure` is not over 0 % and up to 100 %")]
#[case("seen: {left: {found: {a: {saw: b, sure: 101%}}}}", CaseValue, "101%", "`sure` is not over 0 % and up to 100 %")]
#[case("seen: {left: {found: {a: {saw: b, sure: .inf%}}}}", CaseValue, ".inf%", "`.inf%` is no number that can be read off")]
#[case("seen: {left: {found: {a: {joints: [0], of: 39}}}}", CaseValue, "0", "`0` is no whole number from 1 on")]
#[case("seen: {left: {found: {a: {joints: [1.5], of: 39}}}}", CaseValue, "1.5", "`1.5` is no whole number from 1 on")]
#[case("seen: {left: {found: {a: {joints: [], of: 0}}}}", CaseValue, "0", "`0` is no whole number from 1 on")]
#[case("seen: {left: {found: {a: {joints: [40], of: 39}}}}", CaseValue, "40", "number 40 of 39 joints")]
#[case("seen: {left: {read: {a: '109,2 mm'}}}", CaseValue, "109,2 mm", "a comma in the number `109,2 mm`")]
#[case("seen: {left: {read: {a: .nan mm}}}", CaseValue, ".nan mm", "`.nan mm` is no number that can be read off")]
#[case("seen: {left: {read: {a: [1 mm, .inf]}}}", CaseValue, ".inf", "`.inf` is no number that can be read off")]
#[case("seen: {left: {read: {a: 109-110 mm}}}", CaseValue, "109-110 mm", "`109-110 mm` holds more than one number")]
#[case("seen: {left: {read: {a: 1/0 in}}}", CaseValue, "1/0 in", "`1/0 in` divides by 0")]
#[case("seen: {left: {read: {a: none}}}", CaseValue, "none", "`none` does not begin with a number")]
// Units
#[case("seen: {left: {read: {a: 109.2}}}", CaseUnit, "109.2", "`109.2` has no unit")]
#[case("seen: {left: {read: {a: 109.2 mmm}}}", CaseUnit, "mmm", "`mmm` is no unit")]
#[case("seen: {left: {read: {a: \"1\\t\\u03bcm\"}}}", CaseUnit, "1\\t\\u03bcm", "`μm` is no unit")]
#[case("seen: {left: {found: {a: {saw: b, sure: 0.7}}}}", CaseUnit, "0.7", "`0.7` has no unit")]
#[case("seen: {left: {found: {a: {saw: b, sure: 7 h}}}}", CaseUnit, "7 h", "`sure` is told in %, not in `h`")]
#[case("parts: [{part: a, on: 30 min}]", CaseUnit, "30 min", "`on` is told in hours, not in `min`")]
// What is expected
#[case("expect: {frist: a left}", CaseUnknownKey, "frist", "`expect` has no key `frist`")]
#[case("expect: {first: {a: b}}", CaseShape, "{a: b}", "`first` takes a list, not keys of its own")]
#[case("expect: {first: [a left, a left]}", CaseTwice, "a left", "`a` is named twice")]
#[case("expect: {over: [a left]}", CaseShape, "[a left]", "`over` takes keys of its own, not a list")]
#[case("expect: {over: {a left: 60}}", CaseUnit, "60", "`60` has no unit")]
#[case("expect: {over: {a left: }}", CaseMissing, "a left", "`a left` is left blank")]
#[case("expect: {under: {a lfet up: 5%}}", CaseUnknownPlace, "up", "`up` is no place on a machine")]
#[case("expect: {under: {a left: 5%, a  left: 6%}}", CaseTwice, "a  left", "`a` is named twice")]
#[case("expect: {over: {a left: 60%}, under: {a left: 10%}}", CaseValue, "60%", "`a` cannot lie both over and under these")]
#[case("expect: {next: {a: 0}}", CaseValue, "0", "`0` is no whole number from 1 on")]
#[case("expect: {next: {a left roller 0: 1}}", CaseUnknownPlace, "left roller 0", "`0` is no number in a row of parts")]
#[case("expect: {held: [[a]]}", CaseShape, "[a]", "`held` takes one text here, not a list")]
// Hours
#[case("parts: [{part: a, turned: Never}]", CaseValue, "Never", "`Never` is neither hours nor `never`")]
#[case("parts: [{part: a, on: 400 h, turned: 300 h}]", CaseHours, "400 h", "`a` went on after it was turned")]
fn a_fault_is_told_where_it_stands(
    #[case] more: &str,
    #[case] code: Code,
    #[case] under: &str,
    #[case] message: &str,
) {
    let reading = read(&with(more));
    assert_eq!(reading.told(), [(code, under, message)]);
    assert!(reading.inspection.is_some());
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("machine: {tag: A}", CaseMissing, "machine", "the case has no title")]
#[case("case: a", CaseMissing, "case", "the case names no machine")]
#[case("case: a\nmachine: {}", CaseMissing, "machine", "the machine has no `tag`")]
#[case("case: a\nmachine:\n", CaseMissing, "machine", "the machine has no `tag`")]
#[case("case: a\nmachine: K3", CaseShape, "K3", "`machine` takes keys of its own, not a text")]
#[case("case: a\nmachine: {tag: [A]}", CaseShape, "[A]", "`tag` takes one text here, not a list")]
#[case("case:\nmachine: {tag: A}", CaseMissing, "case", "`case` is left blank")]
#[case("case: a\nmachine: {tag: A, tag: B}", CaseDuplicateKey, "tag", "`tag` is given twice")]
#[case("case: a\nmachine: {tag: A, hour: 3}", CaseUnknownKey, "hour", "`machine` has no key `hour`")]
#[case("case: a\nmachine: {tag: A, hours: 6 240}", CaseValue, "6 240", "`6 240` holds more than one number")]
#[case("case: a\nmachine: {tag: A, hours: .inf}", CaseValue, ".inf", "`.inf` is no number that can be read off")]
#[case("case: a\nmachine: {tag: A, facts: {b: {lft: c}}}", CaseUnknownKey, "lft", "`b` has no key `lft`")]
#[case("case: a\nmachine: {tag: A, facts: {b: [c]}}", CaseShape, "[c]", "`b` takes one text here, not a list")]
#[case("case: a\nmachine: {tag: A, facts: {b: }}", CaseMissing, "b", "`b` is left blank")]
#[case("case: a\nmachine: {tag: A, facts: {b: c, b: d}}", CaseDuplicateKey, "b", "`b` is given twice")]
#[case("case: a\nmachine: {tag: A, hours: 9 h}\nparts: [{part: b, on: 10 h}]", CaseHours, "10 h", "`b` went on after the hours of the machine")]
#[case("case: a\nmachine: {tag: A, hours: 9 h}\nparts: [{part: b, turned: 10 h}]", CaseHours, "10 h", "`b` was turned after the hours of the machine")]
fn a_fault_of_the_machine_is_told_where_it_stands(
    #[case] text: &str,
    #[case] code: Code,
    #[case] under: &str,
    #[case] message: &str,
) {
    assert_eq!(read(text).told(), [(code, under, message)]);
}

#[test]
fn what_is_said_twice_shows_both_places() {
    let reading =
        read(&with("seen:\n  left: {found: {flange_worn: none}}\n  right: {}\n  left: {found: {}}\n"));
    let [problem] = reading.problems.as_slice() else {
        panic!("one key is given twice");
    };
    let place = |at| (reading.sources.place(at).line, reading.sources.place(at).column);
    assert_eq!(place(problem.at), (6, 3));
    assert_eq!(place(problem.also[0].0), (4, 3));
    // The first stays, so that nothing is lost behind the problem.
    assert_eq!(reading.inspection.as_ref().unwrap().seen[0].found.len(), 1);
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("sen: {}", "did you mean `seen`?")]
#[case("seen: {lfet: {}}", "did you mean `left`?")]
#[case("seen: {left: {lookd: []}}", "did you mean `looked`?")]
#[case("seen: {left: {read: {a: 3 MM}}}", "did you mean `mm`?")]
#[case("seen: {left: {read: {a: 109.2}}}", "write the unit behind the number, as in `109.2 mm`")]
#[case("seen: {left: {looked: sight_idler}}", "write `looked: [sight_idler]`")]
#[case("seen: {left: {read: {a: '109,2 mm'}}}", "write a point before decimals, as in `109.2 mm`, and nothing between thousands")]
#[case("seen: {left: {found: {a: {saw: b, sure: 0.7}}}}", "write `70%`")]
#[case("seen: {left: {found: {a: {saw: b, sure: 85}}}}", "write `85%`")]
#[case("seen: {left: {found: {a: {joints: [50], of: 39}}}}", "count the joints again, or correct `of`")]
#[case("seen: {left: {roller 3: {oil_streak: yes}}}", "put it under `found`, as in `found: {oil_streak: yes}`")]
#[case("seen: {left: {link_height: 107 mm}}", "put it under `read`, as in `read: {link_height: 107 mm}`")]
#[case("seen: {left: {found: [oil_streak]}}", "write `found: {oil_streak: its grade}`")]
fn the_help_says_what_to_do(#[case] more: &str, #[case] help: &str) {
    assert_eq!(read(&with(more)).problems[0].help, help);
}

#[test]
fn one_fault_never_hides_the_next() {
    let reading = read(&with(
        "parts: [{part: chain, on: x}, {on: 3 h}]
visit: {on: today, by: , when: now}
seen:
  lft: {}
  left:
    looked: a
    found: {a: {saw: b, sure: 2}, c: {joints: [0, 50], of: 39}}
    read: {d: 1, e: [2 mm, 3 mn]}
  right: {found: {a: good}}
",
    ));
    let under: Vec<&str> = reading.told().iter().map(|told| told.1).collect();
    let expected = ["x", "{on: 3 h}", "today", "by", "when", "lft", "a", "2", "0", "50", "1", "mn"];
    assert_eq!(under, expected);
    // What is sound is there to be held against the rules.
    let case = reading.inspection.as_ref().unwrap();
    assert_eq!(case.seen[1].found[0].symptom.value, "a");
    assert_eq!(case.seen[0].read[1].values.len(), 1);
}

#[test]
fn messages_stay_on_one_line_and_short() {
    let key = format!("\"{}\\n{}\": 1", "k".repeat(45), "l".repeat(40));
    for problem in read(&with(&key)).problems {
        assert!(!problem.message.contains('\n') && problem.message.chars().count() < 100);
        assert!(!problem.message.ends_with('.'));
    }
}
