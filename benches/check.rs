//! What `rules check` costs on 1,250 to 10,000 declarations, against reading alone and against the bytes read.
//!
//! `cargo bench --bench check` tells times, and under `max alloc` the most memory held at once. Read: linear when a row
//! takes twice the row above; `check` is the whole of `rules check`, `read` the parser alone.

#![expect(clippy::unwrap_used, reason = "a bench that cannot read its rules should stop")]

#[path = "support/many.rs"]
mod many;

use divan::counter::BytesCount;
use divan::{AllocProfiler, Bencher};
use pinboss::source::{SourceId, Sources};
use pinboss::{check, syntax};

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

const DECLARATIONS: [usize; 4] = [1250, 2500, 5000, 10_000];

fn main() {
    divan::main();
}

fn bytes(texts: &[String]) -> BytesCount {
    BytesCount::new(texts.iter().map(String::len).sum::<usize>())
}

fn taken_in(texts: &[String]) -> (Sources, Vec<SourceId>) {
    let mut sources = Sources::default();
    let ids =
        texts.iter().enumerate().map(|(number, text)| sources.add(format!("{number}.rules"), text.as_str()));
    let ids = ids.collect();
    (sources, ids)
}

/// Text to trees
#[divan::bench(args = DECLARATIONS, sample_count = 5)]
fn read(bencher: Bencher<'_, '_>, declarations: usize) {
    let texts = many::rules(declarations);
    bencher.counter(bytes(&texts)).bench(|| {
        let (sources, ids) = taken_in(&texts);
        ids.into_iter().map(|id| syntax::parse(&sources, id).0).collect::<Vec<_>>()
    });
}

/// Text to a checked model with all its problems
#[divan::bench(args = DECLARATIONS, sample_count = 5)]
fn check(bencher: Bencher<'_, '_>, declarations: usize) {
    let texts = many::rules(declarations);
    bencher.counter(bytes(&texts)).bench(|| {
        let (sources, ids) = taken_in(&texts);
        let files: Vec<_> = ids
            .into_iter()
            .map(|id| {
                let (file, problems) = syntax::parse(&sources, id);
                assert!(!problems.any_error());
                file
            })
            .collect();
        let (model, problems) = check::check(&files);
        assert!(!problems.any_error(), "{:?}", problems.sorted().first());
        (sources, model)
    });
}
