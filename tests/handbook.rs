//! The handbook, the course in rules/README.md and the reference beside it: every example does what its page says it does.
//!
//! Each `rules` block adds to the rules so far: one of the same name takes the place of the one before, `...` standing for the
//! clauses it had, and `<!-- start anew -->` puts all away. `wrong CODE` or `doubtful CODE` behind the fence names the problems that
//! must come, a wrong block being dropped again. A `case` is weighed by the rules so far; `result`, `reckon`, `message` and `console`
//! hold what must then come out, a line `...` in a transcript standing for any lines.

mod claims;
mod desk;
mod page;
mod reckoning;
mod words;

use desk::Desk;
use rstest::rstest;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

const COURSE: &str = "rules/README.md";
const REFERENCE: &str = "rules/REFERENCE.md";

fn read(file: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(file)).unwrap()
}

/// Everything on the pages that does not do what is said, each with its place; what was written on one page holds on the next
fn faults(pages: &[(&str, &str)]) -> Vec<String> {
    let mut desk = Desk::default();
    let mut faults = Vec::new();
    let mut blocks = 0;
    for (page, text) in pages {
        for block in page::blocks(text) {
            blocks += 1;
            faults
                .extend(desk.take(&block).into_iter().map(|(line, fault)| format!("{page}:{line}: {fault}")));
        }
    }
    if blocks == 0 { vec!["no block was found".to_owned()] } else { faults }
}

#[test]
fn the_handbook_does_what_it_says() {
    let found = faults(&[(COURSE, &read(COURSE)), (REFERENCE, &read(REFERENCE))]);
    assert!(found.is_empty(), "\n{}", found.join("\n"));
}

#[test]
fn the_handbook_shows_every_sort_of_example() {
    let text = read(COURSE);
    let shown: BTreeSet<String> =
        page::blocks(&text).into_iter().map(|block| block.sort().to_owned()).collect();
    let sorts = ["case", "console", "message", "reckon", "result", "rules"].map(str::to_owned);
    assert_eq!(shown, BTreeSet::from(sorts));
}

#[test]
fn the_table_of_words_leaves_none_out() {
    let told = read(REFERENCE);
    let told: BTreeSet<&str> = told
        .split('`')
        .skip(1)
        .step_by(2)
        .flat_map(|code| code.split(|letter: char| !letter.is_ascii_alphabetic()))
        .collect();
    let grammar = read("grammar/rules.pest");
    let words: Vec<&str> =
        grammar.lines().filter_map(|line| line.strip_prefix("kw_")?.split(' ').next()).collect();
    assert!(words.len() > 50, "the grammar's keywords were not found");
    let missing: Vec<&str> = words.into_iter().filter(|word| !told.contains(word)).collect();
    assert_eq!(missing, Vec::<&str>::new());
}

/// `WRITE_HANDBOOK=1 cargo test handbook::` makes the lists anew
#[test]
fn the_lists_of_words_are_those_of_the_language() {
    let text = read(REFERENCE);
    let made = words::made_anew(&text).expect("two lists between their marks");
    if std::env::var_os("WRITE_HANDBOOK").is_some() {
        fs::write(Path::new(env!("CARGO_MANIFEST_DIR")).join(REFERENCE), &made).unwrap();
    }
    let differs = text.lines().zip(made.lines()).find(|(is, should)| is != should);
    assert!(made == text, "the lists in {REFERENCE} are not those of the language, first at {differs:?}");
}

#[test]
fn the_handbook_shows_every_clause_where_its_list_says() {
    assert_eq!(words::not_shown(&read(COURSE)), Vec::<String>::new());
    assert!(!words::not_shown("## Remedies\n").is_empty(), "the reader sees nothing missing");
    assert_eq!(words::unsaid(), Vec::<String>::new());
}

/// The anchors of a page's headings
fn anchors(text: &str) -> BTreeSet<String> {
    text.lines().filter_map(|line| line.strip_prefix("## ")).map(words::anchor).collect()
}

#[test]
fn every_link_leads_to_a_heading() {
    let mut found = 0;
    for page in [COURSE, REFERENCE] {
        let text = read(page);
        for link in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            let (file, anchor) = link.split_once('#').unwrap_or((link, ""));
            let other = if file.is_empty() { page.to_owned() } else { format!("rules/{file}") };
            let there = anchor.is_empty() || anchors(&read(&other)).contains(anchor);
            assert!(there, "{page}: {link}");
            found += 1;
        }
    }
    assert!(found > 10, "the links were not found");
}

const FIRST: &str = "\
```rules
kind upkeep: \"upkeep\" counts against owner
part idler, each side: \"idler\"
cause off_line, each side: \"idler out of line\"
    kind upkeep
    chance 10% of sides
    basis estimate
symptom edge, each side, of idler: \"worn edge\"
    with off_line: 60%
    without 6%
    basis estimate
check look, each side: \"Look\"
    shows edge
    takes 2 min
```
```case
case: trial
machine: {tag: T1}
seen: {left: {looked: [look], found: {edge: yes}}, right: {looked: [look]}}
```
";

#[rstest]
#[case("", "")]
#[case("```result\nbefore off_line left: 10 %\noff_line left: 54 %\n```\n", "")]
#[case("```result\n\noff_line left: 50 %\n```\n", "23: `off_line left` is 54 %, not 50 %")]
#[case(
    "```result\nedge left for off_line left: 9 decibans\n```\n",
    "22: `edge left for off_line left` is 10 decibans, not 9 decibans"
)]
#[case("```result\nheld edge left: yes\n```\n", "22: `held edge left` is no, not yes")]
#[case("```result\nedge left: no\n```\n", "22: `edge left` is yes, not no")]
#[case("```result\noff_lime left: 50 %\n```\n", "22: the answer knows no `off_lime left`")]
#[case("```result\noff_line left 50\n```\n", "22: `off_line left 50` is no `what: value`")]
#[case("```rule\n```\n", "22: `rule` is no sort of example")]
#[case("```\n```\n", "22: `` is no sort of example")]
#[case(
    "```rules wrong\nkind duty: \"duty\" counts against site\n```\n",
    "22: `rules wrong` is no sort of example"
)]
#[case("```rules wrogn no-basis\n```\n", "22: `rules wrogn no-basis` is no sort of example")]
#[case(
    "```rules doubtful cause-nothing-shows\ncause off, each side: \"off\"\n    kind upkeep   chance 5% of sides   basis estimate\n```\n```result\nbefore off left: 5 %\n```\n",
    ""
)]
#[case("```rules\n# A word.\nkind duty \"d\"\n```\n", "22: [not-understood] expected `:`, found `\"`")]
#[case(
    "```rules\ncause off_line, each side: \"off\"\n    kind upkeep\n    chance 5% of sides\n```\n",
    "22: [no-basis] `off_line` does not say where it comes from"
)]
#[case(
    "```rules wrong no-basis\ncause off_line, each side: \"off\"\n    kind upkeep\n    chance 5% of sides\n```\n",
    ""
)]
#[case(
    "```rules wrong no-basis\nkind duty: \"duty\" counts against site\n```\n",
    "22: said [], not [no-basis]"
)]
#[case(
    "```rules wrong unknown-name\nkind duty: \"duty\" counts against sites\n```\n```message\nnobody here is called\n`sites`\nhelp: did you mean `site`?\n```\n",
    ""
)]
#[case(
    "```rules wrong unknown-name\nkind duty: \"duty\" counts against sites\n```\n```message\nnobody is called `sites`\n```\n",
    "25: the program says: nobody here is called `sites` help: did you mean `site`?"
)]
#[case(
    "```case wrong unknown-name-in-case\ncase: b\nmachine: {tag: T}\nseen: {left: {looked: [lock]}}\n```\n",
    ""
)]
#[case(
    "```case\ncase: b\nmachine: {tag: T}\nseen: {left: {looked: [lock]}}\n```\n",
    "22: said [unknown-name-in-case], not []"
)]
#[case("```reckon\n1 - 0.4 * 0.95 = 62 %\n10 * log (0.62 / 0.05) = 10.9 decibans\n```\n", "")]
#[case(
    "```reckon\n\n(3 + 1) / (40 + 2) = 9 %\n1 +\n```\n",
    "23: (3 + 1) / (40 + 2) is 10 %, not 9 %|24: `1 +` is no reckoning"
)]
#[case(
    "```console\n$ pinboss rules check mine\nThe rules of `mine` hold together: 1 causes, ...\n```\n",
    "22: `pinboss rules check mine` prints:\nThe rules of `mine` hold together: 1 causes, 0 conditions, 1 symptoms, 0 measures, 1 checks, 0 remedies, 0 facts.\n"
)]
#[case("```console\n$ pinboss rules check mine\n...\n```\n", "")]
#[case(
    "```rules wrong not-understood\npart idler\n```\n```console\n$ pinboss rules check mine\nnot-understood\n...\n1 error\n```\n",
    ""
)]
#[case("<!-- start anew -->\n```result\noff_line left: 54 %\n```\n", "23: there is no case before this")]
fn the_reader_of_the_handbook_sees(#[case] more: &str, #[case] said: &str) {
    let found = faults(&[("page", &format!("{FIRST}{more}"))]);
    let found: Vec<&str> = found.iter().map(|it| it.strip_prefix("page:").unwrap()).collect();
    assert_eq!(found.join("|"), said);
}

#[test]
fn a_page_without_examples_is_a_fault() {
    assert_eq!(faults(&[("page", "# A page\n\nWords.\n")]), ["no block was found"]);
}
