//! Bad input of every sort: a clear problem that names the thing and the place, the right exit code, and never a panic.

use crate::support::program::pinboss;
use proptest::prelude::*;
use rstest::rstest;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Rules enough for a case, with one thing that always shows
const RULES: &str = "\
kind upkeep: \"upkeep put off\" counts against owner
part idler, each side: \"front idler\"
part roller, each side, numbered 2 to 9: \"bottom roller\"
fact chain_type: \"kind of chain\"
    choices sealed 60%, dry 40%
cause idler_off, each side: \"idler off\"
    kind    upkeep
    chance  5% of sides
    basis   estimate
symptom rubbed, each side, of idler: \"rubbed flange\"
    with    idler_off: 100%
    basis   estimate
symptom shims_gone, each side, of idler: \"shims gone\"
    with    idler_off: 100%
    basis   estimate
symptom streak, each roller: \"oil streak\"
    with    idler_off: 10%
    without 2%
    basis   estimate
measure flange, each side, of idler: \"flange width\"
    unit    mm   range 40 to 90   error 0.4
symptom sealed_only, each side: \"on sealed chains alone\"
    only where chain_type is sealed
    with    idler_off: 10%
    basis   estimate
check look, each side: \"Look\"
    shows   rubbed, streak, sealed_only
    reads   flange
    takes   2 min
check count_shims, each side: \"Count the shims\"
    shows   shims_gone
    takes   2 min
remedy shim, each side: \"Shim it\"
    fixes   idler_off
    takes   3 h
";

const CASE: &str = "\
case: c
machine: {tag: T, hours: 4000, facts: {chain_type: dry, rollers: 7}}
seen:
  left: {looked: [look], found: {rubbed: yes}}
";

/// A folder with these files
fn folder(files: &[(&str, &[u8])]) -> TempDir {
    let folder = TempDir::new().unwrap();
    for (name, bytes) in files {
        fs::write(folder.path().join(name), bytes).unwrap();
    }
    folder
}

/// Exit code and everything said
fn run(arguments: &[&str]) -> (i32, String) {
    let output = pinboss(arguments);
    let said =
        format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    assert!(!said.contains("panicked"), "{said}");
    (output.status.code().unwrap(), said)
}

fn check(folder: &Path) -> (i32, String) {
    run(&["rules", "check", folder.to_str().unwrap()])
}

/// The words in one line, however the screen broke them
fn flat(said: &str) -> String {
    said.split_whitespace().filter(|word| *word != "│").collect::<Vec<_>>().join(" ")
}

#[test]
fn the_rules_of_these_tests_hold_together() {
    let folder = folder(&[("a.rules", RULES.as_bytes()), ("c.yaml", CASE.as_bytes())]);
    let (code, said) = check(folder.path());
    assert_eq!(code, 0, "{said}");
    let case = folder.path().join("c.yaml");
    let (code, said) = run(&["diagnose", case.to_str().unwrap(), "--rules", folder.path().to_str().unwrap()]);
    assert_eq!(code, 0, "{said}");
}

#[rstest]
#[case::empty(b"", "there is no rule in these files")]
#[case::only_comments(b"# nothing\n", "there is no rule in these files")]
#[case::binary(b"part\x00\xff", "is no UTF-8 text")]
#[case::not_utf8(b"part idler\xff", "is no UTF-8 text: byte 11 is none")]
#[case::unclosed_text(b"part idler: \"front idler\n", "this text has no closing quote")]
#[case::twice(b"part idler: \"a\"\npart idler: \"b\"\n", "`idler` is declared twice")]
fn faulty_rule_files(#[case] bytes: &[u8], #[case] message: &str) {
    let folder = folder(&[("a.rules", bytes)]);
    let (code, said) = check(folder.path());
    assert_eq!(code, 1);
    assert!(flat(&said).contains(message), "{said}");
}

#[test]
fn a_rule_file_of_50_mb_is_refused_before_it_is_read() {
    let folder = TempDir::new().unwrap();
    let file = fs::File::create(folder.path().join("a.rules")).unwrap();
    file.set_len(50 << 20).unwrap();
    let (code, said) = check(folder.path());
    assert_eq!(code, 1);
    assert!(flat(&said).contains("is larger than 1024 KiB"), "{said}");
}

#[test]
fn ten_thousand_brackets_are_told_at_the_one_too_many() {
    let measure = format!("measure m: \"m\"\n    is {}1{}\n", "(".repeat(10_000), ")".repeat(10_000));
    let folder = folder(&[("a.rules", measure.as_bytes())]);
    let (code, said) = check(folder.path());
    assert_eq!(code, 1);
    assert!(flat(&said).contains("brackets are nested more than 64 deep"), "{}", &said[..400]);
}

#[rstest]
#[case::byte_order_mark(format!("\u{feff}{RULES}"))]
#[case::carriage_returns(RULES.replace('\n', "\r\n"))]
#[case::no_line_end(RULES.trim_end().to_owned())]
#[case::tabs(RULES.replace("    ", "\t"))]
fn marks_and_line_ends_change_nothing(#[case] rules: String) {
    let folder = folder(&[("a.rules", rules.as_bytes())]);
    let (code, said) = check(folder.path());
    assert_eq!(code, 0, "{said}");
}

#[test]
fn folders_without_rules() {
    let empty = TempDir::new().unwrap();
    let (code, said) = check(empty.path());
    assert_eq!(code, 1);
    assert!(flat(&said).contains("holds no rule files"), "{said}");
    let (code, said) = check(&empty.path().join("missing"));
    assert_eq!(code, 1);
    assert!(flat(&said).contains("cannot be read: it is not there"), "{said}");
}

#[rstest]
#[case::key_twice(CASE.replace("case: c", "case: c\ncase: d"), "`case` is given twice")]
#[case::not_a_number(CASE.replace("hours: 4000", "hours: .nan"), "`.nan`")]
#[case::unknown_symptom(CASE.replace("rubbed: yes", "rubed: yes"), "the rules know no symptom `rubed`")]
#[case::unknown_grade(CASE.replace("rubbed: yes", "rubbed: heavy"), "`rubbed` has no grade `heavy`")]
#[case::unknown_check(CASE.replace("[look]", "[lok]"), "the rules know no check `lok`")]
#[case::unknown_fact(CASE.replace("chain_type: dry", "chain_kind: dry"), "the rules know no fact `chain_kind`")]
#[case::unknown_choice(CASE.replace("chain_type: dry", "chain_type: wet"), "`wet` is no choice of `chain_type`")]
#[case::unknown_part(format!("{CASE}parts: [{{part: idlr, on: 0 h}}]\n"), "the rules know no part `idlr`")]
#[case::unknown_size(CASE.replace("tag: T", "tag: T, size: huge"), "the rules have no size `huge`")]
#[case::unknown_measure(CASE.replace("found: {rubbed: yes}", "read: {flang: 70 mm}"), "the rules know no measure `flang`")]
#[case::wrong_unit(CASE.replace("found: {rubbed: yes}", "read: {flange: 70 h}"), "`flange` is not read in `h`")]
#[case::no_unit(CASE.replace("found: {rubbed: yes}", "read: {flange: 70}"), "unit")]
#[case::out_of_range(CASE.replace("found: {rubbed: yes}", "read: {flange: 700 mm}"), "`flange` cannot be 700 mm")]
#[case::no_such_roller(CASE.replace("rubbed: yes}", "rubbed: yes}, roller 8: {found: {streak: yes}}"), "this machine has no `left roller 8`")]
#[case::rollers_untold(CASE.replace(", rollers: 7", ""), "it is not told how many rollers a side has")]
#[case::rollers_by_sides(CASE.replace("rollers: 7", "rollers: {left: 7, right: 8}"), "`rollers` is a fact of the whole machine")]
#[case::rollers_in_letters(CASE.replace("rollers: 7", "rollers: seven"), "1 error")]
#[case::a_beginning(CASE.replace("rubbed: yes", "rub: yes"), "did you mean `rubbed`?")]
#[case::ruled_out(CASE.replace("rubbed: yes", "sealed_only: yes"), "`chain_type: dry`, told under `machine`")]
#[case::hours_backwards(format!("{CASE}parts: [{{part: idler, on: 5000 h}}]\n"), "`idler` went on after the hours of the machine")]
#[case::wrong_place(CASE.replace("rubbed: yes", "streak: yes"), "`streak` is a thing of one roller")]
#[case::cannot_be(CASE.replace("rubbed: yes}", "rubbed: yes, shims_gone: no}"), "cannot occur together by these rules")]
#[case::empty(String::new(), "")]
#[case::a_list("- a\n- b\n".to_owned(), "")]
#[case::alias_bomb(bomb(), "")]
#[case::deep(format!("case: {}", "[".repeat(10_000)), "")]
fn faulty_cases(#[case] case: String, #[case] message: &str) {
    let folder = folder(&[("a.rules", RULES.as_bytes()), ("c.yaml", case.as_bytes())]);
    let path = folder.path().join("c.yaml");
    let (code, said) = run(&["diagnose", path.to_str().unwrap(), "--rules", folder.path().to_str().unwrap()]);
    assert_eq!(code, 1, "{said}");
    assert!(flat(&said).contains(message), "{said}");
    assert!(said.contains("error"), "{said}");
    // The name of the folder is drawn by chance, and any letters can be in it.
    let said = said.replace(folder.path().to_str().unwrap(), "");
    assert!(!said.contains("NaN"), "{said}");
}

fn bomb() -> String {
    let mut text = String::from("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
    for level in 1..12 {
        let before = vec![format!("*a{}", level - 1); 10].join(", ");
        text.push_str(&format!("a{level}: &a{level} [{before}]\n"));
    }
    text + CASE
}

#[test]
fn findings_that_cannot_be_are_both_named() {
    let case = CASE.replace("rubbed: yes}", "rubbed: yes, shims_gone: no}");
    let folder = folder(&[("a.rules", RULES.as_bytes()), ("c.yaml", case.as_bytes())]);
    let path = folder.path().join("c.yaml");
    let (_, said) = run(&["diagnose", path.to_str().unwrap(), "--rules", folder.path().to_str().unwrap()]);
    let said = flat(&said);
    assert!(said.contains("`rubbed left: yes` and `shims_gone left: no` cannot occur together"), "{said}");
    assert!(said.contains("look again at these findings"), "{said}");
}

#[test]
fn everything_wrong_is_told_in_one_run() {
    let case = CASE.replace("[look]", "[lok]").replace("rubbed: yes", "rubed: yes").replace("dry", "wet");
    let folder = folder(&[("a.rules", RULES.as_bytes()), ("c.yaml", case.as_bytes())]);
    let path = folder.path().join("c.yaml");
    let (_, said) = run(&["diagnose", path.to_str().unwrap(), "--rules", folder.path().to_str().unwrap()]);
    assert!(said.contains("3 errors"), "{said}");
}

/// Every stage a command goes through, short of printing
fn through_all_stages(rules: &str, case: &str) {
    use crate::support::rules::{Rules, read};
    use pinboss::{case, ground};
    let Rules { mut sources, mut problems, model, .. } = read([("a.rules", rules)]);
    let id = sources.add("c.yaml", case);
    let (inspection, said) = case::read(&sources, id);
    problems.append(said);
    if let Some(inspection) = inspection.filter(|_| !problems.any_error()) {
        let (_, said) = ground::ground(&model, &inspection);
        problems.append(said);
    }
    for problem in problems.sorted() {
        let text = sources.text(problem.at.source);
        let inside = text.get(problem.at.start..problem.at.end);
        assert!(inside.is_some(), "{problem:?} lies outside its text");
    }
}

/// A text with a piece of it taken out, doubled, or replaced
fn mangled(text: &'static str) -> impl Strategy<Value = String> {
    let pieces = prop_oneof![
        Just(""),
        Just("\""),
        Just("("),
        Just("%"),
        Just("\n"),
        Just("é"),
        Just(": "),
        Just("where "),
        Just("-1")
    ];
    (0..text.len(), 0..40_usize, pieces, any::<bool>()).prop_map(move |(start, length, piece, doubled)| {
        let end = (start + length).min(text.len());
        match (text.get(..start), text.get(start..end), text.get(end..)) {
            (Some(before), Some(cut), Some(after)) if doubled => format!("{before}{cut}{cut}{after}"),
            (Some(before), Some(_), Some(after)) => format!("{before}{piece}{after}"),
            _ => text.to_owned(),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn mangled_rules_and_cases_bring_nothing_down(rules in mangled(RULES), case in mangled(CASE)) {
        through_all_stages(&rules, &case);
    }

    #[test]
    fn any_text_brings_nothing_down(rules in "\\PC{0,200}", case in "\\PC{0,200}") {
        through_all_stages(&rules, &case);
    }
}

/// The program at fault in the middle of its work, each way in a process of its own
mod at_fault {
    use pinboss::command::{Exit, guarded};
    use pinboss::invariant::Hold;
    use rstest::rstest;
    use std::process::{Command, exit};

    fn ends(work: impl FnOnce()) {
        let ended = guarded(|| {
            work();
            Exit::Done
        });
        exit(ended.number().into());
    }

    #[test]
    #[ignore = "ends the process: started by the test below"]
    fn missing() {
        ends(|| None.hold("it is always there"));
    }

    #[test]
    #[ignore = "ends the process: started by the test below"]
    fn panicking() {
        ends(|| panic!("a library\nfails"));
    }

    #[test]
    #[ignore = "ends the process: started by the test below"]
    fn elsewhere() {
        ends(|| _ = rayon::join(|| panic!("a library fails"), || 1));
    }

    #[rstest]
    #[case("missing", "it is always there (tests/bad_input.rs:")]
    #[case("panicking", "a library fails (tests/bad_input.rs:")]
    #[case("elsewhere", "a library fails")]
    fn one_line_says_so_and_the_exit_is_its_own(#[case] way: &str, #[case] why: &str) {
        let (_, module) = module_path!().split_once("::").unwrap();
        let child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", &format!("{module}::{way}"), "--ignored", "--nocapture"])
            .env("RUST_BACKTRACE", "1")
            .output()
            .unwrap();
        let said = String::from_utf8(child.stderr).unwrap();
        assert_eq!((child.status.code(), said.lines().count()), (Some(70), 1), "{said}");
        let expected = format!("pinboss: a fault in Pinboss, not in your file: {why}");
        assert!(said.starts_with(&expected), "{said}");
    }
}
