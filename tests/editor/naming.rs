//! Where a name is declared and used, and the list of declarations.

use crate::editor::marked::{rules, shown, sound, third};
use pinboss::editor::mention::mentions;
use pinboss::editor::{outline, uses};
use rstest::rstest;
use std::fs;
use std::path::Path;

#[rustfmt::skip] // One row, one name.
#[rstest]
#[case("with    off‸_line: often", &["parts.rules:14:7 off_line"])]
#[case("with    ‸off_line: often", &["parts.rules:14:7 off_line"])]
#[case("with    off_line‸: often", &["parts.rules:14:7 off_line"])]
#[case("cause off_‸line", &["parts.rules:14:7 off_line"])]
#[case("kind    up‸keep", &["parts.rules:4:6 upkeep"])]
#[case("of id‸ler", &["parts.rules:6:6 idler"])]
#[case("each ro‸ller: \"seal", &["parts.rules:7:6 roller"])]
#[case("any rol‸ler", &["parts.rules:7:6 roller"])]
#[case("of rol‸lers", &["parts.rules:7:6 roller"])]
#[case("across rol‸lers", &["parts.rules:7:6 roller"])]
#[case("rol‸lers over 6", &["parts.rules:7:6 roller"])]
#[case("off_line in‸board: often toed", &["parts.rules:17:13 inboard"])]
#[case("often toed‸_in", &["signs.rules:3:13 toed_in"])]
#[case("toe toed‸_in: always", &["signs.rules:3:13 toed_in"])]
#[case("small‸ over 80%", &["signs.rules:25:20 small"])]
#[case("age is la‸te", &["parts.rules:12:24 late"])]
#[case("choices la‸te 70%", &["parts.rules:12:24 late"])]
#[case("chain_type is d‸ry\n    choices", &["parts.rules:9:25 dry"])]
#[case("of‸ten slight", &["parts.rules:3:18 often"])]
#[case("life med‸ium", &["signs.rules:29:12 medium", "signs.rules:31:6 medium"])]
#[case("    ga‸p 20 mm", &["signs.rules:22:9 gap"])]
#[case("worn ga‸p", &["signs.rules:22:9 gap"])]
#[case("while   cle‸aned", &["parts.rules:5:7 cleaned"])]
#[case("roller is fi‸rst", &[])]
#[case("# with off_‸line", &[])]
#[case("\"off_‸line rubs", &[])]
#[case("unit m‸m", &[])]
#[case("without 1‸%", &[])]
fn a_name_is_followed_to_where_it_is_declared(#[case] marked: &str, #[case] expected: &[&str]) {
    let (rules, cursor) = sound(marked);
    let found: Vec<String> = uses::declared(&rules, cursor).into_iter().map(|at| shown(&rules, at)).collect();
    assert_eq!(found, expected);
}

/// A grade that no line names leads to the block that has it
#[test]
fn a_grade_of_no_line_leads_to_its_block() {
    let (rules, cursor) = third("symptom x: \"x\"\n    with wet ye‸s on either side: often\n");
    let found: Vec<String> = uses::declared(&rules, cursor).into_iter().map(|at| shown(&rules, at)).collect();
    assert_eq!(found, ["signs.rules:18:9 wet"]);
}

#[rustfmt::skip] // One row, one name.
#[rstest]
#[case("cause off_‸line", true, &["parts.rules:14:7 off_line", "signs.rules:4:13 off_line", "signs.rules:9:13 off_line", "signs.rules:42:13 off_line"])]
#[case("fixes   off_‸line", false, &["signs.rules:4:13 off_line", "signs.rules:9:13 off_line", "signs.rules:42:13 off_line"])]
#[case("part rol‸ler", false, &["parts.rules:20:25 roller", "parts.rules:22:21 rollers", "signs.rules:14:22 roller", "signs.rules:16:22 roller", "signs.rules:16:42 rollers", "signs.rules:19:32 roller", "signs.rules:22:19 roller", "signs.rules:24:21 roller", "signs.rules:26:37 rollers"])]
#[case("grades  toed‸_in", true, &["signs.rules:3:13 toed_in", "signs.rules:4:37 toed_in", "signs.rules:6:16 toed_in", "signs.rules:11:17 toed_in"])]
#[case("choices sealed 80%, d‸ry", true, &["parts.rules:9:25 dry", "parts.rules:12:53 dry", "parts.rules:16:45 dry"])]
#[case("sel‸dom 8%", false, &["parts.rules:26:13 seldom", "signs.rules:5:37 seldom"])]
#[case("tak‸es 2 min\nfact", true, &[])]
fn the_uses_of_a_name_stand_in_order(#[case] marked: &str, #[case] with_declaration: bool, #[case] expected: &[&str]) {
    let (rules, cursor) = sound(marked);
    let found = uses::uses(&rules, cursor, with_declaration);
    let found: Vec<String> = found.into_iter().map(|at| shown(&rules, at)).collect();
    assert_eq!(found, expected);
}

#[test]
fn the_list_of_a_file_holds_every_declaration_with_its_whole_block() {
    let (rules, cursor) = sound("symptom ‸edge");
    let items = outline::of_file(&rules, cursor.source);
    let named: Vec<(&str, &str)> = items.iter().map(|it| (it.name.as_str(), it.detail.as_str())).collect();
    assert_eq!(
        named[..3],
        [
            ("toe", "condition: frame points in or out"),
            ("edge", "symptom: side wear – „Kante“"),
            ("streak", "symptom: oil run down"),
        ]
    );
    assert_eq!(items.len(), 11);
    let whole = rules.sources.slice(items[1].whole);
    assert!(whole.starts_with("symptom edge") && whole.ends_with("basis   common practice"), "{whole}");
    let found: Vec<String> = outline::search(&rules, "LEITRAD").into_iter().map(|item| item.name).collect();
    assert_eq!(found, ["idler", "off_line"]);
}

/// In the shipped rules every mention stands on the very word that it names, and every block and grade is declared
#[test]
fn every_mention_of_the_shipped_rules_stands_on_its_word() {
    use pinboss::editor::mention::Thing;
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
    let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut paths: Vec<_> = paths.filter(|path| path.extension().is_some_and(|it| it == "rules")).collect();
    paths.sort();
    let texts: Vec<String> = paths.iter().map(|path| fs::read_to_string(path).unwrap()).collect();
    // All in one text: the small bench knows three files.
    let rules = rules(&[&texts.concat()]);
    let all = mentions(&rules.files);
    assert!(all.len() > 1000, "{}", all.len());
    for mention in &all {
        let word = rules.sources.slice(mention.at);
        let expected = match mention.thing {
            Thing::Block(name) | Thing::Share(name) | Thing::Size(name) => name.to_owned(),
            Thing::Row(part) => format!("{part}s"),
            Thing::Word { word, .. } => word.to_owned(),
        };
        assert_eq!(word, expected);
        let implied = ["no", "yes", "left", "right"].contains(&word);
        assert!(implied || !uses::declarations(&all, mention.thing).is_empty(), "{word} is not declared");
    }
}
