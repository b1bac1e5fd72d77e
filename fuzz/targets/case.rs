//! Any bytes as a case file: read and bound to a small set of rules without a panic, every problem within the file.
#![no_main]

use libfuzzer_sys::fuzz_target;
use pinboss::model::Model;
use pinboss::problem::explained::BESIDE;
use pinboss::report::rules::problems::{self, Screen};
use pinboss::source::Sources;
use pinboss::{case, check, ground, syntax};
use std::sync::LazyLock;

static MODEL: LazyLock<Model> = LazyLock::new(|| {
    let mut sources = Sources::default();
    let id = sources.add("beside.rules", BESIDE);
    let (file, problems) = syntax::parse(&sources, id);
    let (model, said) = check::check(&[file]);
    assert!(!problems.any_error() && !said.any_error());
    model
});

fuzz_target!(|bytes: &[u8]| {
    let mut sources = Sources::default();
    let Ok(id) = sources.add_bytes("a.yaml", bytes.to_vec()) else { return };
    let (inspection, mut problems) = case::read(&sources, id);
    if let Some(inspection) = inspection {
        problems.append(ground::ground(&MODEL, &inspection).1);
    }
    for problem in problems.sorted() {
        assert!(sources.text(id).get(problem.at.start..problem.at.end).is_some(), "{problem:?}");
    }
    problems::text(&problems, &sources, Screen { width: 80, colour: false });
});
