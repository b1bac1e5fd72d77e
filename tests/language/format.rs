//! The one layout of a rule file: what it looks like, what it keeps, and when it is refused.

mod generated;

use pinboss::check;
use pinboss::source::{SourceId, Sources};
use pinboss::syntax::{self, tree::File};
use rstest::rstest;

/// A text laid out, or what the formatter says about it
fn format(text: &str) -> Result<String, Vec<String>> {
    let mut sources = Sources::default();
    let id = sources.add("a.rules", text);
    syntax::format::format(&sources, id, &[])
        .map_err(|problems| problems.sorted().iter().map(|problem| problem.message.clone()).collect())
}

/// The same with everything that is said in short written out
fn long(text: &str) -> Result<String, Vec<String>> {
    let mut sources = Sources::default();
    let id = sources.add("a.rules", text);
    syntax::format::long(&sources, id, &[])
        .map_err(|problems| problems.sorted().iter().map(|problem| problem.message.clone()).collect())
}

#[rstest]
#[case::nothing("", "")]
#[case::only_blanks(" \n\n \t\n", "")]
#[case::words_and_signs(
    "cause  a ,each   side :\"x\"\n  kind   duty\n chance 5 %  of sides\n",
    "cause a, each side: \"x\"  kind duty  chance 5% of sides\n"
)]
#[case::clauses_on_lines_of_their_own(
    "cause a: \"x\"  kind duty  basis estimate\n",
    "cause a: \"x\"\n    kind    duty\n    basis   estimate\n"
)]
#[case::long_words_are_not_filled_up(
    "symptom s: \"x\"\n only   where a is b\n gives  way to t\n without 1%\n",
    "symptom s: \"x\"\n    only where a is b\n    gives way to t\n    without 1%\n"
)]
#[case::a_look_beside_what_it_finds_out(
    "remedy r: \"x\"\n fixes a  finds   out takes 1h\n",
    "remedy r: \"x\"\n    fixes   a   finds out\n    takes   1 h\n"
)]
#[case::figures_of_a_measure_share_a_line(
    "measure m: \"x\"\n unit mm\n range 0 to 60\n error 0.5\n needs \"a\",\"b\"\n",
    "measure m: \"x\"\n    unit    mm   range 0 to 60   error 0.5   needs \"a\", \"b\"\n"
)]
#[case::a_part_on_one_line(
    "part p,each side,of q:\"x\"\n rubs q\n only where a is b\n text \"t\"\n",
    "part p, each side, of q: \"x\"  rubs q  only where a is b\n    text    \"t\"\n"
)]
#[case::where_a_part_is_drawn_on_lines_of_its_own(
    "part p,each side:\"x\"\n rubs q  drawn as  hub where a is b\n drawn along frame 5 %\n",
    "part p, each side: \"x\"  rubs q\n    drawn   as hub where a is b\n    drawn   along frame 5%\n"
)]
#[case::hazards("hazard \"a\" :\"b\",\"c d\"\n", "hazard \"a\": \"b\", \"c d\"\n")]
#[case::what_cautions_say(
    "hazard \"a\": \"b\"  beware \"c\",\"d\"\n",
    "hazard \"a\": \"b\" beware \"c\", \"d\"\n"
)]
#[case::the_scale_on_one_line("scale\n always 98%\n often 60%\n", "scale\n    always 98%   often 60%\n")]
#[case::rows_line_up(
    "dimensions d: \"x\"\n aa 5mm 0%,-4 mm 100% where b is c\n long_one 9 mm tolerance 1mm only where b is c\n",
    "dimensions d: \"x\"\n    aa        5 mm 0%, -4 mm 100%  where b is c\n    long_one  9 mm  tolerance 1 mm  only where b is c\n"
)]
#[case::life_with_its_spread(
    "life d: \"x\" spread 18%\n aa 5h\n",
    "life d: \"x\"  spread 18%\n    aa  5 h\n"
)]
#[case::expressions(
    "symptom s: \"x\"\n from a-5 mm+half  of(b/-2)-worn c:g,h under -5mm,i over 3%\n",
    "symptom s: \"x\"\n    from    a - 5 mm + half of (b / -2) - worn c: g, h under -5 mm, i over 3%\n"
)]
#[case::figures_below_nothing_in_the_where_of_a_sum(
    "measure m: \"m\"\n is a-b where t over -5\n is a only where t under -2\n",
    "measure m: \"m\"\n    is      a - b where t over -5\n    is      a only where t under -2\n"
)]
#[case::words_that_start_with_a_digit(
    "fact f: \"x\"\n choices 2wd 50%,4wd 50% where g is 3rd or 4th and h over 5t\n from hours of p:2wd,4wd over 5h\n",
    "fact f: \"x\"\n    choices 2wd 50%, 4wd 50% where g is 3rd or 4th and h over 5 t\n    from    hours of p: 2wd, 4wd over 5 h\n"
)]
#[case::a_stand_that_starts_with_a_digit(
    "check c: \"x\"\n access 2nd_floor\n takes 5min\n",
    "check c: \"x\"\n    access  2nd_floor   takes 5 min\n"
)]
#[case::sentences_stand_under_their_line(
    "symptom s: \"x\"\n with a: often  \"Why.\"\n without 2%\n  \"And  so.\"\n",
    "symptom s: \"x\"\n    with    a: often\n            \"Why.\"\n    without 2%\n            \"And  so.\"\n"
)]
fn what_it_looks_like(#[case] text: &str, #[case] expected: &str) {
    assert_eq!(format(text).as_deref(), Ok(expected));
    assert_eq!(format(expected).as_deref(), Ok(expected));
}

#[rstest]
#[case::a_cause_with_two_chances_below(
    "cause c: \"x\"\n kind a\n chance 1% where g is h\n chance 2%\n",
    "cause c: \"x\"\n    kind    a\n    chance  1% where g is h\n    chance  2%\n"
)]
#[case::a_cause_with_a_text(
    "cause c: \"x\"\n kind a\n chance 2%\n text \"t\"\n",
    "cause c: \"x\"\n    kind    a   chance 2%\n    text    \"t\"\n"
)]
#[case::grades_behind_the_head(
    "symptom s: \"x\"\n grades a<b>c\n without 1% a\n",
    "symptom s: \"x\"  grades a < b > c\n    without 1% a\n"
)]
#[case::what_a_check_takes(
    "check c: \"x\"\n shows s\n reads m\n while w\n takes 5 min\n needs \"a\"\n access parked\n caution \"c\"\n",
    "check c: \"x\"\n    shows   s   reads m\n    while   w   takes 5 min   needs \"a\"   access parked\n    caution \"c\"\n"
)]
#[case::what_a_remedy_takes(
    "remedy r: \"x\"\n fixes a\n spares b\n while w\n takes 5 h\n costs 6\n within 7 h\n left \"l\"\n",
    "remedy r: \"x\"\n    fixes   a   spares b\n    while   w   takes 5 h   costs 6   within 7 h\n    left    \"l\"\n"
)]
#[case::no_line_grows_too_long(
    "check c: \"x\"\n shows a_symptom_with_quite_a_long_name_indeed, another_one_with_a_name_as_long\n reads a_measure_with_a_long_name\n",
    "check c: \"x\"\n    shows   a_symptom_with_quite_a_long_name_indeed, another_one_with_a_name_as_long\n    reads   a_measure_with_a_long_name\n"
)]
fn what_is_read_together_shares_a_line(#[case] text: &str, #[case] expected: &str) {
    assert_eq!(format(text).as_deref(), Ok(expected));
    assert_eq!(format(expected).as_deref(), Ok(expected));
}

const PAIR: &str = "opposites \"in\" and \"out\", \"inner\" and \"outer\"\n\n";

#[rstest]
#[case::with_their_sentence(
    "condition c: \"x\"\n    with    a in: often out\n            \"The inner edge, and no other.\"\n    with    a out: often in\n            \"The outer edge, and no other.\"\n",
    "condition c: \"x\"\n    mirror  a in: often out\n            \"The inner edge, and no other.\"\n"
)]
#[case::a_capital_stays(
    "condition c: \"x\"\n    with    a in: often\n            \"Inner edges.\"\n    with    a out: often\n            \"Outer edges.\"\n",
    "condition c: \"x\"\n    mirror  a in: often\n            \"Inner edges.\"\n"
)]
#[case::this_side_and_the_other(
    "condition c: \"x\"\n    with    a toward this side: 22% out where b is in\n    with    a toward the other side: 22% in where b is out\n",
    "condition c: \"x\"\n    mirror  a toward this side: 22% out where b is in\n"
)]
#[case::three_in_a_row(
    "condition c: \"x\"\n    with    a in: often\n    with    a out: often\n    with    a in: often\n",
    "condition c: \"x\"\n    mirror  a in: often\n    with    a in: often\n"
)]
fn twins_become_one_mirrored_line(#[case] two: &str, #[case] one: &str) {
    let (two, one) = (PAIR.to_owned() + two, PAIR.to_owned() + one);
    assert_eq!(format(&two).as_ref(), Ok(&one));
    assert_eq!(format(&one).as_ref(), Ok(&one));
    assert_eq!(long(&one).as_ref(), Ok(&two));
}

#[rstest]
#[case::another_share("with    a in: often out\n    with    a out: 61% in")]
#[case::another_sentence(
    "with    a in: often out\n            \"In.\"\n    with    a out: often in\n            \"Outside.\""
)]
#[case::another_line_between("with    a in: often out\n    with    b: often in\n    with    a out: often in")]
#[case::a_comment_between("with    a in: often out\n    # b\n    with    a out: often in")]
#[case::a_comment_behind("with    a in: often out\n    with    a out: often in  # b")]
#[case::nothing_to_swap("with    a some: often\n    with    a much: often")]
fn other_lines_stay_as_they_are(#[case] lines: &str) {
    let text = format!("{PAIR}condition c: \"x\"\n    {lines}\n");
    assert_eq!(format(&text).as_ref(), Ok(&text));
}

const THREE: &str = "cause a: \"x\"\n    basis   estimate\n\ncause b: \"x\"\n    basis   estimate\n\ncause c: \"x\"\n    basis   estimate\n";

#[rstest]
#[case::of_all(
    "# About it.\n\n{}",
    "# About it.\n\nbasis estimate\n\ncause a: \"x\"\n\ncause b: \"x\"\n\ncause c: \"x\"\n"
)]
#[case::of_a_sort_beside(
    "{}\nremedy d: \"x\"\n    basis   common practice\n\nremedy e: \"x\"\n    basis   common practice\n",
    "basis estimate\nbasis common practice for remedy\n\ncause a: \"x\"\n\ncause b: \"x\"\n\ncause c: \"x\"\n\nremedy d: \"x\"\n\nremedy e: \"x\"\n"
)]
#[case::not_of_one_that_differs(
    "{}\ncause d: \"x\"\n    basis   \"A book\"\n    text    \"t\"\n",
    "basis estimate\n\ncause a: \"x\"\n\ncause b: \"x\"\n\ncause c: \"x\"\n\ncause d: \"x\"\n    basis   \"A book\"\n    text    \"t\"\n"
)]
fn what_most_blocks_say_of_their_basis_is_said_once(#[case] text: &str, #[case] expected: &str) {
    let text = text.replace("{}", THREE);
    assert_eq!(format(&text).as_deref(), Ok(expected));
    assert_eq!(format(expected).as_deref(), Ok(expected));
    assert_eq!(long(expected), Ok(text));
}

#[rstest]
#[case::one_block_has_none("\ncause d: \"x\"\n    text    \"t\"\n")]
#[case::one_has_two("\ncause d: \"x\"\n    basis   \"A book\"\n    basis   \"A book\"\n")]
fn no_block_is_given_another_basis(#[case] more: &str) {
    let text = THREE.to_owned() + more;
    let laid_out = format(&text).unwrap();
    // Said once for three blocks, and twice at the fourth; or at each of three.
    assert_eq!(laid_out.starts_with("basis estimate\n"), more.contains("book"), "{laid_out}");
    assert_eq!(laid_out.matches("basis").count(), 3, "{laid_out}");
}

#[test]
fn a_size_class_that_is_a_multiple_is_said_so_but_for_the_rows_that_differ() {
    let rows = |of: &[u32]| -> String {
        let row = |(number, hours): (usize, &u32)| {
            format!("    m{}  {hours} h  where a is b{number}\n", number % 3)
        };
        of.iter().enumerate().map(row).collect()
    };
    let hours: Vec<u32> = (1..=16).map(|number| number * 350).collect();
    let mut smaller: Vec<u32> =
        hours.iter().map(|hours| (f64::from(*hours) * 0.8 / 50.0).round() as u32 * 50).collect();
    let table = |name: &str, rows: &str| format!("life {name}: \"x\"  spread 18%\n{rows}");
    let as_large = table("large", &rows(&hours));
    smaller[7] += 50;
    let text = [as_large.clone(), table("small", &rows(&smaller)), table("other", &rows(&hours))].join("\n");
    let short = [
        as_large,
        table(
            "small",
            &format!(
                "    as      large times 0.8, to the nearest 50 h\n    m1  {} h  where a is b7\n",
                smaller[7]
            ),
        ),
        table("other", "    as      large\n"),
    ]
    .join("\n");
    assert_eq!(format(&text).as_ref(), Ok(&short));
    assert_eq!(format(&short).as_ref(), Ok(&short));
    assert_eq!(long(&short).as_ref(), Ok(&text));
}

#[rstest]
#[case::tall_blocks_stand_apart(
    "kind a: \"x\"\nkind b: \"x\"\ncause c: \"x\"\n kind a\ncause d: \"x\"\n kind a\n",
    "kind a: \"x\"\nkind b: \"x\"\n\ncause c: \"x\"\n    kind    a\n\ncause d: \"x\"\n    kind    a\n"
)]
#[case::many_empty_lines_are_one(
    "kind a: \"x\"\n\n\n\nkind b: \"x\"\n\n\n",
    "kind a: \"x\"\n\nkind b: \"x\"\n"
)]
#[case::none_within_a_block(
    "cause c: \"x\"\n\n kind a\n\n basis estimate\n",
    "cause c: \"x\"\n    kind    a\n    basis   estimate\n"
)]
fn empty_lines(#[case] text: &str, #[case] expected: &str) {
    assert_eq!(format(text).as_deref(), Ok(expected));
    assert_eq!(format(expected).as_deref(), Ok(expected));
}

#[rstest]
#[case::above_and_behind(
    "# file\n\n# of c\ncause c: \"x\" #head\n kind a   # kind\n# within\n basis estimate#basis\n",
    "# file\n\n# of c\ncause c: \"x\"  #head\n    kind    a  # kind\n    # within\n    basis   estimate  #basis\n"
)]
#[case::indented_at_the_end_stays_with_the_block(
    "cause c: \"x\"\n kind a\n\n  # still c\n# of d\ncause d: \"x\"\n kind a\n  # last\n# end",
    "cause c: \"x\"\n    kind    a\n    # still c\n\n# of d\ncause d: \"x\"\n    kind    a\n    # last\n\n# end\n"
)]
#[case::a_comment_keeps_clauses_apart(
    "measure m: \"x\"\n unit mm # a\n range 0 to 5\n # b\n error 1\n",
    "measure m: \"x\"\n    unit    mm  # a\n    range   0 to 5\n    # b\n    error   1\n"
)]
#[case::a_comment_behind_two_clauses_stands_behind_the_last(
    "cause c: \"x\"  kind a  basis estimate # both\n",
    "cause c: \"x\"\n    kind    a\n    basis   estimate  # both\n"
)]
#[case::a_number_sign_in_a_text_is_none(
    "cause c: \"x # y\"\n kind a # \"z\n",
    "cause c: \"x # y\"\n    kind    a  # \"z\n"
)]
#[case::nothing_but_comments("  # a\n\n\n# b", "# a\n\n# b\n")]
#[case::windows_line_ends(
    "# a\r\ncause c: \"x\" # b\r\n kind a\r\n",
    "# a\ncause c: \"x\"  # b\n    kind    a\n"
)]
fn comments_stay_where_they_were(#[case] text: &str, #[case] expected: &str) {
    assert_eq!(format(text).as_deref(), Ok(expected));
    assert_eq!(format(expected).as_deref(), Ok(expected));
}

#[rstest]
#[case("cause c: \"x\"\n kind\n", "expected a name before the end of the line")]
#[case("cause c: \"x\n", "this text has no closing quote")]
#[case("# a\rcause c: \"x\"\n", "byte 13 stands here, which is no sign to be read")]
#[case("eth a few # teeth\u{1}\n", "byte 1 stands here, which is no sign to be read")]
fn a_file_with_mistakes_is_left_alone(#[case] text: &str, #[case] said: &str) {
    assert_eq!(format(text), Err(vec![said.to_owned()]));
}

/// The shipped rules are laid out the one way
#[rstest]
fn shipped_rules_are_laid_out(#[files("rules/*.rules")] path: std::path::PathBuf) {
    let (sources, ids, set) = shipped();
    let name = path.file_name().unwrap().to_str().unwrap();
    let id = ids.into_iter().find(|id| sources.name(*id) == name).unwrap();
    let laid_out = syntax::format::format(&sources, id, &set).unwrap();
    assert_eq!(laid_out, sources.text(id));
}

fn shipped() -> (Sources, Vec<SourceId>, Vec<File>) {
    let mut sources = Sources::default();
    let mut paths: Vec<_> = std::fs::read_dir("rules").unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "rules"));
    paths.sort();
    let add = |path: &std::path::PathBuf| {
        sources.add(path.file_name().unwrap().to_str().unwrap(), std::fs::read_to_string(path).unwrap())
    };
    let ids: Vec<SourceId> = paths.iter().map(add).collect();
    let set = ids.iter().map(|id| syntax::parse(&sources, *id).0).collect();
    (sources, ids, set)
}

/// A model as text, without the places where it is written
fn placeless(model: &pinboss::model::Model) -> String {
    let text = format!("{model:?}");
    let mut pieces = text.split("Span { ");
    let first = pieces.next().unwrap_or("").to_owned();
    pieces.fold(first, |whole, piece| whole + piece.split_once('}').unwrap().1)
}

/// The shipped rules with nothing said in short mean the same, figure for figure, so that every case has the same posteriors to
/// the bit
#[test]
fn shipped_rules_written_out_mean_the_same() {
    let (sources, ids, set) = shipped();
    let mut long = Sources::default();
    let long_ids: Vec<SourceId> = ids
        .iter()
        .map(|id| {
            let text = syntax::format::long(&sources, *id, &set).unwrap_or_else(|said| panic!("{said:?}"));
            long.add(sources.name(*id), text)
        })
        .collect();
    let lines = |sources: &Sources, ids: &[SourceId]| -> usize {
        ids.iter().map(|id| sources.text(*id).lines().count()).sum()
    };
    assert!(lines(&long, &long_ids) > lines(&sources, &ids) + 700);
    for id in &long_ids {
        let short =
            |line: &str| ["basis ", "    mirror ", "    as "].iter().any(|word| line.starts_with(word));
        assert_eq!(long.text(*id).lines().find(|line| short(line)), None, "{}", long.name(*id));
    }
    let long_set: Vec<File> = long_ids.iter().map(|id| syntax::parse(&long, *id).0).collect();
    let (model, said) = check::check(&set);
    let (long_model, long_said) = check::check(&long_set);
    assert!(said.is_empty() && long_said.is_empty());
    assert_eq!(placeless(&model), placeless(&long_model));
}
