//! Problems as they are gathered: what is told once, how many are kept, and which name is offered for another.

use pinboss::problem::code::Code;
use pinboss::problem::{MOST_KEPT, Problem, Problems, nearest};
use pinboss::source::Span;
use rstest::rstest;

/// The same said ten thousand times at places of its own is counted as often, and an unknown name once
#[test]
fn what_is_said_again_is_counted_by_place_and_an_unknown_name_told_once() {
    let mut problems = Problems::default();
    for start in (0..300).chain(0..300) {
        let at = Span { start, end: start + 1, ..Span::default() };
        problems.push(Problem::new(Code::Syntax, at, "not understood"));
        problems.push(Problem::new(Code::UnknownName, at, "no part is called `x`"));
    }
    assert_eq!((problems.counts(), problems.left_out()), ((301, 0), 0));
    let unknown = problems.sorted().into_iter().find(|problem| problem.code == Code::UnknownName).unwrap();
    let starts: Vec<usize> = unknown.also.iter().map(|(at, _)| at.start).collect();
    assert_eq!((unknown.at.start, starts), (0, vec![1, 2, 3, 4, 5]));
}

/// Past the limit problems are only counted, errors among them, and so are those of another list
#[test]
fn past_the_limit_problems_are_only_counted() {
    let mut problems = Problems::default();
    for start in 0..MOST_KEPT {
        problems.push(Problem::new(Code::NoBasis, Span { start, ..Span::default() }, "no basis"));
    }
    assert_eq!((problems.any_error(), problems.left_out()), (false, 0));
    problems.push(Problem::new(Code::Loop, Span::default(), "a ring"));
    assert_eq!((problems.any_error(), problems.left_out()), (true, 1));
    let mut other = Problems::default();
    other.append(problems.clone());
    other.append(problems);
    assert_eq!((other.sorted().len(), other.counts(), other.left_out()), (MOST_KEPT, (2, MOST_KEPT), 2));
}

#[rstest]
#[case("idler_crakced", Some("idler_cracked"))]
#[case("idlr", Some("idler"))]
#[case("bushing", None)]
#[case("i", None)]
#[case("idl", Some("idler"))]
#[case("idler_cr", Some("idler_cracked"))]
fn a_near_name_is_offered_and_a_far_one_is_not(#[case] word: &str, #[case] offered: Option<&str>) {
    assert_eq!(nearest(word, ["idler", "idler_cracked", "j"]), offered);
}
