//! What cannot happen: that it ends the work at hand, and what is told of it.

use pinboss::invariant::{Hold, again, broken, caught};
use rstest::rstest;
use std::panic;

#[test]
fn what_holds_is_had_and_nothing_is_caught() {
    assert_eq!(caught(|| Some(1).hold("one is there") + Ok::<i32, ()>(2).hold("two is there")), Ok(3));
}

#[rstest]
#[case::missing(|| None::<()>.hold("it is there"), "it is there (tests/invariant.rs:")]
#[case::failed(|| Err::<(), _>(3).hold("it works"), "it works (tests/invariant.rs:")]
#[case::a_literal(|| panic!("of a library"), "of a library")]
#[case::several_lines(|| panic!("{}\n  of {}", "two lines", "a library"), "two lines of a library")]
#[case::of_another_kind(|| panic::panic_any(7), "a panic without a message")]
fn a_fault_is_told_in_one_line(#[case] work: fn(), #[case] expected: &str) {
    let told = caught(work).unwrap_err().to_string();
    assert!(told.starts_with(&format!("a fault in Pinboss, not in your file: {expected}")), "{told}");
    assert_eq!(told.lines().count(), 1);
}

#[test]
fn a_fault_comes_over_from_another_thread() {
    let first = std::thread::spawn(|| caught(|| broken("it cannot be"))).join().unwrap().unwrap_err();
    assert_eq!(caught(|| again(first.clone())), Err(first));
}
