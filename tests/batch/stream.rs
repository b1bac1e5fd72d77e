//! Work on all cores: answers in order, a chunk at a time, and nothing behind a fault.

use pinboss::command::stream::{A_THREAD, MOST_BYTES, Threads, in_order};
use pinboss::invariant;
use rstest::rstest;
use std::io;

/// More items than a chunk holds come out once each and in order, whatever the threads
#[rstest]
#[case(1)]
#[case(3)]
fn answers_come_in_the_order_of_the_items(#[case] threads: u16) {
    let mut given = Vec::new();
    let items = (0..1000_u32).map(Ok);
    let threads = Threads { threads: Some(threads) };
    in_order(
        items,
        threads,
        |_| 0,
        |item| item * 2,
        |answers| {
            assert!(answers.len() <= 3 * A_THREAD);
            given.extend(answers);
            Ok(())
        },
    )
    .unwrap();
    assert_eq!(given, (0..1000).map(|item| item * 2).collect::<Vec<_>>());
}

/// What came before a fault of the program is given, and it is the first of several that is told
#[test]
fn a_fault_of_the_program_ends_the_work_behind_what_came_before_it() {
    let mut given = Vec::new();
    let work = |item: u32| match item {
        7 => invariant::broken("seven cannot be"),
        9 => panic!("nine cannot be either"),
        other => other,
    };
    let threads = Threads { threads: Some(2) };
    let done = invariant::caught(|| {
        in_order(
            (0..1000).map(Ok),
            threads,
            |_| 0,
            work,
            |answers| {
                given.extend(answers);
                Ok(())
            },
        )
    });
    assert!(done.unwrap_err().to_string().contains("seven cannot be"));
    assert_eq!(given, [0, 1, 2, 3, 4, 5, 6]);
}

#[test]
fn long_items_make_short_chunks_and_a_fault_ends_the_work_behind_what_came_before_it() {
    let items = (0..5_u32).map(|number| if number < 4 { Ok(number) } else { Err(io::Error::other("torn")) });
    let mut chunks = Vec::new();
    let threads = Threads { threads: Some(2) };
    let done = in_order(
        items,
        threads,
        |_| MOST_BYTES / 2,
        |item| item,
        |answers| {
            chunks.push(answers);
            Ok(())
        },
    );
    assert_eq!(chunks, [vec![0, 1], vec![2, 3]]);
    assert_eq!(done.unwrap_err().to_string(), "torn");
}
