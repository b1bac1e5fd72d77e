//! Rules given as texts, read and checked as the files of one set.

use pinboss::model::Model;
use pinboss::problem::Problems;
use pinboss::source::Sources;
use pinboss::syntax::tree;
use pinboss::{check, syntax};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

/// A set of rules with everything that is wrong or doubtful in it
pub struct Rules {
    pub sources: Sources,
    pub files: Vec<tree::File>,
    pub model: Model,
    pub problems: Problems,
}

/// Reads files, each a name and its text
pub fn read<N: Into<String>, T: Into<String>>(texts: impl IntoIterator<Item = (N, T)>) -> Rules {
    let mut sources = Sources::default();
    let mut problems = Problems::default();
    let mut files = Vec::new();
    for (name, text) in texts {
        let id = sources.add(name.into(), text.into());
        let (file, said) = syntax::parse(&sources, id);
        problems.append(said);
        files.push(file);
    }
    let (model, said) = check::check(&files);
    problems.append(said);
    Rules { sources, files, model, problems }
}

/// The rules as they lie in the folder, read once for all tests
pub static SHIPPED: LazyLock<Rules> = LazyLock::new(|| {
    read(
        listed("rules", "rules")
            .iter()
            .map(|path| (path.display().to_string(), fs::read_to_string(path).unwrap())),
    )
});

/// What they mean, for whoever weighs a case by them
pub fn shipped() -> Arc<Model> {
    static MODEL: LazyLock<Arc<Model>> = LazyLock::new(|| Arc::new(SHIPPED.model.clone()));
    Arc::clone(&MODEL)
}

/// Files of a folder of the project with this extension, by name
pub fn listed(folder: &str, extension: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut paths: Vec<PathBuf> =
        entries.filter(|path| path.extension().is_some_and(|own| own == extension)).collect();
    paths.sort();
    paths
}

/// A case of the project as text
pub fn case(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("cases").join(name)).unwrap()
}

/// All problems, a line each
pub fn told(problems: &Problems, sources: &Sources) -> Vec<String> {
    let line = |problem: &pinboss::problem::Problem| {
        let place = sources.place(problem.at);
        format!("{}:{}: {} [{}]", place.file, place.line, problem.message, problem.code.slug())
    };
    problems.sorted().into_iter().map(line).collect()
}
