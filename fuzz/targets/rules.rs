//! Any bytes as a rule file: read, checked and told without a panic, every problem at a place within the file.
#![no_main]

use libfuzzer_sys::fuzz_target;
use pinboss::report::rules::problems::{self, Screen};
use pinboss::source::Sources;
use pinboss::{check, syntax};

fuzz_target!(|bytes: &[u8]| {
    let mut sources = Sources::default();
    let Ok(id) = sources.add_bytes("a.rules", bytes.to_vec()) else { return };
    let (file, mut problems) = syntax::parse(&sources, id);
    let (_, said) = check::check(&[file]);
    problems.append(said);
    for problem in problems.sorted() {
        assert!(sources.text(id).get(problem.at.start..problem.at.end).is_some(), "{problem:?}");
    }
    problems::text(&problems, &sources, Screen { width: 80, colour: false });
    assert!(problems::json(&problems, &sources).is_ok());
});
