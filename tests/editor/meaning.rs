//! What a word means where it stands.

use crate::editor::marked::{sound, third};
use pinboss::editor::hover;
use pinboss::editor::keyword::{Stands, keywords};
use pinboss::source::Sources;
use pinboss::syntax;
use pinboss::syntax::language::{self, ROW};
use pinboss::syntax::tree::Sort;
use rstest::rstest;

fn told(marked: &str) -> Option<(String, Vec<String>)> {
    let (rules, cursor) = sound(marked);
    hover::hover(&rules, cursor).map(|told| (rules.sources.slice(told.at).to_owned(), told.paragraphs))
}

#[rustfmt::skip] // One row, one name.
#[rstest]
#[case("with    off_‸line: often", &[
    "`off_line`: Leitrad läuft schräg",
    "A cause, one for each side.",
    "What it is: It stands off the middle.",
    "What sort of cause: Wartung – versäumt (upkeep); it counts against the owner.",
    "How often it is there, by the rules:\n- Of 100 sides where chain type is dry, 5 have it.\n- Elsewhere it does not happen.",
    "What it may look like: “inboard” and “outboard”, each as often as the others.",
    "What it leads to:\n- Frame points in or out (toe): Of 100 sides with Leitrad läuft schräg (“inboard”), 60 come to “toed in” for that reason.\n- Side wear – „Kante“ (edge): Of 100 sides with Leitrad läuft schräg in any grade, 60 show “slight” for that reason.",
    "Checks that can show it: Look (look), 2 min",
    "Remedies that fix it: Shim (shim)",
    "Where the rule comes from: common practice",
    "Used 3 times: `fixes` in `shim`; `with` in `toe` and `edge`.",
])]
#[case("shows   ed‸ge", &[
    "`edge`: side wear – „Kante“",
    "A symptom of `idler` (Leitrad 𝄞), one for each side.",
    "Grades, the normal one first: none, slight, heavy",
    "Where: On the Leitrad 𝄞.",
    "What it comes from:\n- Of 100 sides with Leitrad läuft schräg in any grade, 60 show “slight” for that reason. off_line rubs.\n- Of 100 sides with frame points in or out (“toed in”), 98 show “heavy” for that reason.",
    "Without any of that: Of 100 sides with none of these causes where age is late, 2 show “slight”.",
    "Checks that show it: Look (look), 2 min",
    "Remedies for what can be behind it: Shim (shim)",
    "Where the rule comes from: common practice",
    "Used once: `shows` in `look`.",
])]
#[case("kind    up‸keep\n    chance  5%", &[
    "`upkeep`: Wartung – versäumt",
    "A kind of cause; it counts against owner.",
    "Counts against: owner",
    "Causes of this kind:\n- Leitrad läuft schräg (off_line). Of 100 sides where chain type is dry, 5 have it. Elsewhere it does not happen.\n- Seal failed (seal_failed). Of 1,000 rollers, 3 have it.\n- Long work across a slope (slope). Of 100 machines, 8 have it.",
    "Used 3 times: `kind` in `off_line`, `seal_failed` and `slope`.",
])]
#[case("remedy sh‸im", &[
    "`shim`: Shim",
    "A remedy, one for each side.",
    "Beware: Engine off.",
    "Mends:\n- Leitrad läuft schräg (off_line)\n- frame points in or out (toe)",
    "Renews: gap (gap), from 85 % worn",
    "Work: 3 h",
    "Where the rule comes from: an estimate, to be corrected by whoever knows better",
    "Nothing uses it.",
])]
#[case("part rol‸ler", &[
    "`roller`: bottom roller",
    "A part, several along each side.",
    "How many: From 5 to 9 on each side; the fact `rollers` says how many.",
    "Causes on it: seal failed (seal_failed)",
    "Symptoms on it:\n- oil run down (streak)\n- close (close)",
    "Measures on it: gap (gap)",
    "Used 6 times: `each` in `seal_failed`, `streak`, `gap` and `close`; `where` in `streak`; `with` in `wet`.",
])]
#[case("rol‸lers over 6", &[
    "`rollers`: all of the part `roller` (bottom roller) along a side; as a fact, how many of them a side has.",
    "Used 3 times: `chance` in `seal_failed`; `from` in `close`; `where` in `streak`.",
])]
#[case("of‸ten slight", &["`often`: 60 %.", "The scale: `always` 98 %, `often` 60 %, `seldom` 8 %."])]
#[case("often sl‸ight", &[
    "`slight`: a grade of the symptom `edge`.",
    "`edge`: side wear – „Kante“. It can be `none`, `slight` or `heavy`.",
])]
#[case("< stra‸ight", &[
    "`straight`: a grade of the condition `toe`, the normal one.",
    "`toe`: frame points in or out. It can be `toed_in`, `straight` or `toed_out`.",
])]
#[case("life med‸ium", &["`medium`: a size class, as a case says it in `size`.", "Its `dimensions`: invented.", "Its `life`: invented."])]
fn a_name_is_told_in_sentences(#[case] marked: &str, #[case] expected: &[&str]) {
    assert_eq!(told(marked).unwrap().1, expected);
}

#[rustfmt::skip] // One row, one word.
#[rstest]
#[case("    wi‸th    toe", "with", "Says what a cause or condition brings about")]
#[case("\ncau‸se off_line", "cause", "Declares what can go wrong at the root")]
#[case("\nki‸nd upkeep", "kind", "Declares a kind of cause")]
#[case("    ki‸nd    upkeep", "kind", "Says what kind of cause it is")]
#[case("   ra‸nge 0", "range", "Says between what")]
#[case("age i‸s late", "is", "Asks whether")]
#[case("gap fr‸om 85%", "from", "The per cent worn")]
#[case("co‸unts against", "counts", "Names the party")]
#[case("wo‸rn gap", "worn", "How far a measure has gone")]
fn a_word_of_the_language_is_told_where_it_stands(#[case] marked: &str, #[case] word: &str, #[case] start: &str) {
    let (at, paragraphs) = told(marked).unwrap();
    assert_eq!(at, word);
    assert!(paragraphs[1].starts_with(start), "{paragraphs:?}");
}

#[rstest]
#[case("# with off_‸line")]
#[case("\"off_‸line rubs")]
#[case("unit m‸m")]
#[case("5‸000 h")]
#[case("inboard: often toed_in\n  ‸  with")]
fn nothing_is_told_in_texts_comments_and_figures(#[case] marked: &str) {
    assert_eq!(told(marked), None);
}

/// A name in a line of a broken file is told without the figures that only sound rules have
#[test]
fn a_broken_file_still_tells() {
    let (rules, cursor) =
        third("symptom x, each side: \"x\"\n    with : : often\n    with off_‸line: often\n");
    let told = hover::hover(&rules, cursor).unwrap().paragraphs;
    assert_eq!(told[0], "`off_line`: Leitrad läuft schräg");
    assert!(told.last().unwrap().starts_with("Used 4 times"), "{told:?}");
    assert!(!told.iter().any(|line| line.contains("before anything is seen")));
}

#[test]
fn a_look_is_told_where_it_is_written() {
    let (rules, cursor) = third("remedy x, each side: \"x\"\n    fixes toe\n    fi‸nds out\n");
    let told = hover::hover(&rules, cursor).unwrap().paragraphs;
    assert!(told[1].starts_with("`finds out` says that the remedy is a look"), "{told:?}");
    let (rules, cursor) =
        third("remedy lo‸ok_in, each side: \"x\"\n    fixes toe\n    finds out\n    takes 1 h\n");
    let told = hover::hover(&rules, cursor).unwrap().paragraphs;
    let mended = "Finds out about, before anything is mended: frame points in or out (toe)";
    assert!(told.iter().any(|it| it == mended) && !told.iter().any(|it| it.starts_with("Mends")), "{told:?}");
}

/// The table of words holds every keyword of a declaration and every word of a clause
#[test]
fn every_sort_and_every_clause_has_its_words() {
    for sort in Sort::ALL {
        assert!(keywords().any(|it| it.stands == Stands::Head(sort) && it.word == sort.word()), "{sort:?}");
        for clause in language::taken(sort).map(|(clause, _)| clause.word).filter(|word| *word != ROW) {
            let first = clause.split(' ').next().unwrap();
            assert!(keywords().any(|it| it.stands == Stands::Clause && it.word == first), "{clause}");
        }
    }
}

/// Every example of the table follows the language, and holds the word
#[test]
fn every_example_can_be_read() {
    let problems = |text: &str| {
        let mut sources = Sources::default();
        let id = sources.add("example.rules", text);
        syntax::parse(&sources, id).1
    };
    for keyword in keywords() {
        let head = if keyword.example.starts_with("bushing_rev") { "life" } else { "symptom" };
        let readings = match keyword.stands {
            Stands::Head(_) => vec![format!("{}\n", keyword.example)],
            _ => {
                vec![format!("{}\n", keyword.example), format!("{head} x: \"x\"\n    {}\n", keyword.example)]
            }
        };
        let good = readings.iter().any(|text| problems(text).is_empty());
        assert!(good, "{}", keyword.example);
        assert!(keyword.example.contains(keyword.word), "{}", keyword.word);
        assert!(keyword.says.ends_with('.'), "{}", keyword.says);
    }
}
