//! Work done on all cores, item by item, given out in the order in which it came in and never more than a chunk held.
//!
//! A chunk is read, weighed on all threads and written before the next is read. So memory is bounded and order is free, for a
//! few per cent of the time in which threads wait for the last of a chunk.

use crate::invariant;
use rayon::ThreadPoolBuilder;
use rayon::iter::{IndexedParallelIterator, IntoParallelIterator, ParallelIterator};
use std::io;

/// Items of a chunk for each thread: so many that none waits long for the last of them
const A_THREAD: usize = 256;
/// Most bytes of a chunk, so that long items do not fill the memory
const MOST_BYTES: usize = 16 << 20;

/// How many threads work
#[derive(Clone, Copy, Debug, clap::Args)]
pub(super) struct Threads {
    /// Threads to work on; without it, one for each core. The answer is the same with any number
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
}

/// Works on every item, as many at a time as there are threads, and gives the answers out in the order of the items
///
/// `bytes` tells how much memory an item holds.
///
/// # Errors
/// The first fault of an item that cannot be had, or of an answer that cannot be given: what came before it has been
/// given, and nothing after it is. So it is with a fault of the program in the work on an item: the first of them in the
/// order of the items goes on from here.
pub(super) fn in_order<I: Send, O: Send>(
    items: impl Iterator<Item = io::Result<I>>,
    threads: Threads,
    bytes: impl Fn(&I) -> usize,
    work: impl Fn(I) -> O + Sync,
    mut give: impl FnMut(Vec<O>) -> io::Result<()>,
) -> io::Result<()> {
    let wanted = threads.threads.map_or(0, usize::from);
    let pool = ThreadPoolBuilder::new().num_threads(wanted).build().map_err(io::Error::other)?;
    let most = A_THREAD * pool.current_num_threads();
    let work = |item| invariant::caught(|| work(item));
    let mut items = items;
    let mut fault = None;
    while fault.is_none() {
        let mut chunk = Vec::new();
        let mut held = 0;
        while chunk.len() < most && held < MOST_BYTES {
            match items.next() {
                Some(Ok(item)) => {
                    held += bytes(&item);
                    chunk.push(item);
                }
                Some(Err(met)) => {
                    fault = Some(met);
                    break;
                }
                None => break,
            }
        }
        if chunk.is_empty() {
            break;
        }
        let done: Vec<_> = pool.install(|| chunk.into_par_iter().with_max_len(1).map(&work).collect());
        let mut broken = None;
        let answers = done.into_iter().map_while(|done| done.map_err(|met| broken = Some(met)).ok());
        give(answers.collect())?;
        if let Some(broken) = broken {
            invariant::again(broken);
        }
    }
    fault.map_or(Ok(()), Err)
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

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
        let items =
            (0..5_u32).map(|number| if number < 4 { Ok(number) } else { Err(io::Error::other("torn")) });
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
}
