//! The one layout of a rule file: what it looks like, what it keeps, and when it is refused.

mod generated;

use pinboss::source::Sources;
use pinboss::syntax;
use rstest::rstest;

/// A text laid out, or what the formatter says about it
fn format(text: &str) -> Result<String, Vec<String>> {
    let mut sources = Sources::default();
    let id = sources.add("a.rules", text);
    syntax::format::format(&sources, id)
        .map_err(|problems| problems.sorted().iter().map(|problem| problem.message.clone()).collect())
}

#[rstest]
#[case::nothing("", "")]
#[case::only_blanks(" \n\n \t\n", "")]
#[case::words_and_signs(
    "cause  a ,each   side :\"x\"\n  kind   duty\n chance 5 %  of sides\n",
    "cause a, each side: \"x\"\n    kind    duty\n    chance  5% of sides\n"
)]
#[case::clauses_on_lines_of_their_own(
    "cause a: \"x\"  kind duty  basis estimate\n",
    "cause a: \"x\"\n    kind    duty\n    basis   estimate\n"
)]
#[case::long_words_are_not_filled_up(
    "symptom s: \"x\"\n only   where a is b\n gives  way to t\n without 1%\n",
    "symptom s: \"x\"\n    only where a is b\n    gives way to t\n    without 1%\n"
)]
#[case::a_look_on_lines_of_its_own(
    "remedy r: \"x\"\n fixes a  finds   out takes 1h\n",
    "remedy r: \"x\"\n    fixes   a\n    finds out\n    takes   1 h\n"
)]
#[case::figures_of_a_measure_share_a_line(
    "measure m: \"x\"\n unit mm\n range 0 to 60\n error 0.5\n needs \"a\",\"b\"\n",
    "measure m: \"x\"\n    unit    mm   range 0 to 60   error 0.5\n    needs   \"a\", \"b\"\n"
)]
#[case::a_part_on_one_line(
    "part p,each side,of q:\"x\"\n rubs q\n only where a is b\n text \"t\"\n",
    "part p, each side, of q: \"x\"  rubs q  only where a is b\n    text    \"t\"\n"
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
    "check c: \"x\"\n    access  2nd_floor\n    takes   5 min\n"
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
    let text = std::fs::read_to_string(path).unwrap();
    assert_eq!(format(&text).as_deref(), Ok(text.as_str()));
}
