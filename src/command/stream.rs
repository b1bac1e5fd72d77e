//! Work done on all cores, item by item, given out in the order in which it came in and never more than a chunk held.
//!
//! A chunk is read, weighed on all threads and written before the next is read. So memory is bounded and order is free, for a
//! few per cent of the time in which threads wait for the last of a chunk.

use crate::invariant;
use rayon::ThreadPoolBuilder;
use rayon::iter::{IndexedParallelIterator, IntoParallelIterator, ParallelIterator};
use std::io;

/// Items of a chunk for each thread: so many that none waits long for the last of them
pub const A_THREAD: usize = 256;
/// Most bytes of a chunk, so that long items do not fill the memory
pub const MOST_BYTES: usize = 16 << 20;

/// How many threads work
#[derive(Clone, Copy, Debug, clap::Args)]
pub struct Threads {
    /// Threads to work on; without it, one for each core. The answer is the same with any number
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
}

/// Works on every item, as many at a time as there are threads, and gives the answers out in the order of the items
///
/// `bytes` tells how much memory an item holds.
///
/// # Errors
/// The first fault of an item that cannot be had, or of an answer that cannot be given: what came before it has been
/// given, and nothing after it is. So it is with a fault of the program in the work on an item: the first of them in the
/// order of the items goes on from here.
pub fn in_order<I: Send, O: Send>(
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
