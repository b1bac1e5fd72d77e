//! What a person at a terminal is told beside the problems themselves.

use pinboss::problem::code::Code;
use pinboss::problem::{Problem, Problems};
use pinboss::report::rules::problems::{Screen, text, where_more};
use pinboss::source::{Sources, Span};

fn problem(sources: &mut Sources) -> Problem {
    let id = sources.add("a.rules", "one\ntwo\nthree\nfour\n");
    let at = |start: usize, end: usize| Span { source: id, start, end };
    Problem::new(Code::DeadLine, at(8, 13), "a line is never reached")
        .also(at(0, 3), "this one answers before it")
}

#[test]
fn where_more_is_told_is_said_once_and_names_a_code_at_hand() {
    let mut problems = Problems::default();
    assert_eq!(where_more(&problems), "");
    let mut sources = Sources::default();
    problems.push(problem(&mut sources));
    problems.push(Problem::new(Code::Syntax, sources.whole(sources.ids().next().unwrap()), "x"));
    let said = where_more(&problems);
    assert_eq!(said.lines().count(), 1);
    assert!(said.contains("`pinboss rules explain CODE`"), "{said}");
    assert!(said.contains("rules explain not-understood`"), "{said}");
}

/// The place over the drawing is that of the problem, though the other end stands further up
#[test]
fn the_place_told_is_the_problem_s_own() {
    let mut sources = Sources::default();
    let mut problems = Problems::default();
    problems.push(problem(&mut sources));
    let drawn = text(&problems, &sources, Screen { width: 100, colour: false });
    assert!(drawn.contains("[a.rules:3:1]"), "{drawn}");
    assert!(drawn.contains("this one answers before it"), "{drawn}");
}
