//! Another name for a thing, everywhere at once, or why not.

use crate::editor::marked::{PARTS, SIGNS, cursor, rules, sound, third};
use pinboss::editor::mention::mentions;
use pinboss::editor::{Cursor, Rules, rename};
use pinboss::source::Span;
use rstest::rstest;

/// The lines that differ after the edits, as they are then
fn changed(rules: &Rules, edits: &[(Span, String)]) -> Vec<String> {
    let mut changed = Vec::new();
    for id in rules.sources.ids() {
        let here: Vec<(Span, String)> = edits.iter().filter(|(at, _)| at.source == id).cloned().collect();
        let text = rules.sources.text(id);
        let new = rename::replaced(text, &here);
        let lines = text.lines().zip(new.lines()).filter(|(old, new)| old != new);
        changed.extend(lines.map(|(_, new)| new.trim().to_owned()));
    }
    changed
}

#[rustfmt::skip] // One row, one new name.
#[rstest]
#[case("with    off_‸line: often", "idler_off", &[
    "cause idler_off, each side: \"Leitrad läuft schräg\"",
    "with    idler_off inboard: often toed_in",
    "with    idler_off: often slight   # with off_line",
    "fixes   idler_off, toe",
])]
#[case("part rol‸ler", "wheel", &[
    "part wheel, each side, numbered 5 to 9: \"bottom roller\"",
    "cause seal_failed, each wheel: \"seal failed\"",
    "chance  0.3% of wheels",
    "symptom streak, each wheel: \"oil run down\"",
    "without 1% where wheel is first and wheels over 6",
    "with    seal_failed on any wheel: often",
    "measure gap, each wheel: \"gap\"",
    "symptom close, each wheel: \"close\"",
    "from    mean of worn gap across wheels: ample, small over 80%",
])]
#[case("age is la‸te", "old", &[
    "choices early 60%, old 40% where chain_type is dry",
    "choices old 70%, early 30%",
    "without 2% slight where age is old",
])]
#[case("toed‸_in: always", "in2", &[
    "grades  in2 < straight > toed_out",
    "with    off_line inboard: often in2",
    "without 1% in2, 1% toed_out",
    "with    toe in2: always heavy",
])]
#[case("sel‸dom 8%", "rarely", &[
    "always 98%   often 60%   rarely 8%",
    "chance  rarely of machines, toward one side",
    "with    slope toward this side: rarely toed_out",
])]
#[case("life med‸ium", "middle", &["dimensions middle: \"invented\"", "life middle: \"invented\""])]
#[case("fixes   off_‸line", "off_line", &[])]
fn a_thing_gets_another_name_everywhere(#[case] marked: &str, #[case] name: &str, #[case] expected: &[&str]) {
    let (rules, cursor) = sound(marked);
    let edits = rename::rename(&rules, cursor, name).unwrap();
    assert_eq!(changed(&rules, &edits), expected);
}

#[rustfmt::skip] // One row, one refusal.
#[rstest]
#[case("cause off_‸line", "toe", "there is a condition called `toe` already")]
#[case("cause off_‸line", "with", "`with` is a word of the language and cannot name anything")]
#[case("cause off_‸line", "hours", "`hours` is a word of the language and cannot name anything")]
#[case("cause off_‸line", "Off", "`Off` is no name: a name is made of small letters, digits and `_`, starts with a letter, and is no word of the language")]
#[case("cause off_‸line", "", "`` is no name: a name is made of small letters, digits and `_`, starts with a letter, and is no word of the language")]
#[case("cause off_‸line", "a b", "`a b` is no name: a name is made of small letters, digits and `_`, starts with a letter, and is no word of the language")]
#[case("cause off_‸line", "left", "`left` stands for places on every machine: choose another name")]
#[case("cause off_‸line", "machine", "`machine` stands for places on every machine: choose another name")]
#[case("cause off_‸line", "rollers", "`rollers` says how many of `roller` a side has")]
#[case("part rol‸ler", "slope", "there is a cause called `slope` already")]
#[case("grades  toed‸_in", "straight", "`toe` has a `straight` already")]
#[case("grades  toed‸_in", "under", "`under` is a word of the language and cannot name anything")]
#[case("grades  toed‸_in", "2", "`2` is no name: a name is made of letters, digits and `_`, starts with a letter, and is no word of the language")]
#[case("sel‸dom 8%", "often", "the scale has a `often` already")]
#[case("of rol‸lers", "wheels", "`rollers` follows the name of the part `roller`: rename that")]
fn a_bad_name_is_refused(#[case] marked: &str, #[case] name: &str, #[case] expected: &str) {
    let (rules, cursor) = sound(marked);
    assert_eq!(rename::rename(&rules, cursor, name), Err(expected.to_owned()));
}

/// A part whose plural would be the name of something else
#[test]
fn a_part_whose_plural_is_taken_is_refused() {
    let rules = rules(&[PARTS, SIGNS, "fact wheels: \"wheels\"\n    choices a 50%, b 50%\n"]);
    let told = rename::rename(&rules, cursor(&rules, "part rol‸ler"), "wheel").unwrap_err();
    assert_eq!(told, "`wheels` would say how many of `wheel` a side has, and names something already");
}

#[rustfmt::skip] // One row, one place.
#[rstest]
#[case("with    off_‸line: often", Ok(Some("off_line")))]
#[case("rang‸e 0 to", Ok(None))]
#[case("\"Leit‸rad", Ok(None))]
#[case("rol‸lers over 6", Err("`rollers` follows the name of the part `roller`: rename that"))]
fn what_can_be_renamed_is_said_before(#[case] marked: &str, #[case] expected: Result<Option<&str>, &str>) {
    let (rules, cursor) = sound(marked);
    let told = rename::renamed(&rules, cursor).map(|found| found.map(|(at, name)| {
        assert_eq!(rules.sources.slice(at), name);
        name
    }));
    assert_eq!(told, expected.map(|name| name.map(str::to_owned)).map_err(str::to_owned));
}

#[rustfmt::skip] // One row, one place.
#[rstest]
#[case("symptom x: \"x\"\n    with wet ye‸s on either side: often\n", "no line of a rule gives `yes` its name: it is a word of the language")]
#[case("symptom x: \"x\"\n    with no‸body: often\n", "nothing declares `nobody`")]
fn what_nothing_declares_cannot_be_renamed(#[case] text: &str, #[case] expected: &str) {
    let (rules, cursor) = third(text);
    assert_eq!(rename::renamed(&rules, cursor), Err(expected.to_owned()));
}

/// A file that could not be read in places is renamed in as far as it could be
#[test]
fn a_broken_file_is_renamed_in_where_it_can_be_read() {
    let (rules, cursor) =
        third("symptom x, each side: \"x\"\n    with off_line : : often\n    with off_‸line: often\n");
    let edits = rename::rename(&rules, cursor, "skew").unwrap();
    assert!(changed(&rules, &edits).contains(&"with skew: often".to_owned()));
}

/// Everything that is declared can have another name, and its own again, whereupon every text is as it was
#[test]
fn a_name_there_and_back_leaves_every_text_as_it_was() {
    let rules = rules(&[PARTS, SIGNS]);
    let declared: Vec<Span> =
        mentions(&rules.files).iter().filter(|it| it.declares).map(|it| it.at).collect();
    assert!(declared.len() > 30, "{}", declared.len());
    for at in declared {
        let name = rules.sources.slice(at);
        let there = rename::rename(&rules, Cursor { source: at.source, at: at.start }, "zz9").unwrap();
        let before: Vec<&str> = rules.sources.ids().map(|id| rules.sources.text(id)).collect();
        let after = |rules: &Rules, edits: &[(Span, String)]| -> Vec<String> {
            let ids = rules.sources.ids();
            let of = |id| -> Vec<_> { edits.iter().filter(|(at, _)| at.source == id).cloned().collect() };
            ids.map(|id| rename::replaced(rules.sources.text(id), &of(id))).collect()
        };
        let changed = after(&rules, &there);
        assert_ne!(changed, before, "{name}");
        let changed = self::rules(&changed.iter().map(String::as_str).collect::<Vec<_>>());
        let back = rename::rename(&changed, cursor(&changed, "zz9‸"), name).unwrap();
        assert_eq!(after(&changed, &back), before, "{name}");
    }
}
