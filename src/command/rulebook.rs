//! The rules a command works with: those built into the program, or those of a folder.

use crate::check;
use crate::command::digest;
use crate::command::files::{self, Sort};
use crate::model::Model;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Sources};
use crate::syntax::{self, tree};
use std::path::Path;
use std::sync::{Arc, OnceLock};

/// Rules that a program carries: for each file its name and its text
pub type BuiltIn = &'static [(&'static str, &'static str)];

/// The rules of the program that runs; without [`build_in`] there are none
static BUILT_IN: OnceLock<BuiltIn> = OnceLock::new();

/// Makes these the rules that hold where no folder is named; the first rules given stay
pub(super) fn build_in(rules: BuiltIn) {
    BUILT_IN.get_or_init(|| rules);
}

/// The rules of the program that runs, none where it brings none
pub(super) fn built_in() -> BuiltIn {
    BUILT_IN.get().copied().unwrap_or_default() // else: the program brings none
}

/// A set of rules with what is wrong with it
pub(super) struct Rulebook {
    /// What the rules mean; to be computed with only when the problems hold no error
    pub(super) model: Arc<Model>,
    /// Everything wrong or doubtful
    pub(super) problems: Problems,
    /// `sha256:` and the digest of all names and texts
    pub(super) digest: String,
    /// The files as written
    pub(super) files: Vec<tree::File>,
}

/// Reads the rules of a folder, or those built in
pub(super) fn load(folder: Option<&Path>, sources: &mut Sources) -> Rulebook {
    let mut problems = Problems::default();
    let ids: Vec<SourceId> = match folder {
        Some(folder) => files::folder(folder, Sort::Rules, sources, &mut problems)
            .iter()
            .map(|path| files::read(path, sources, &mut problems))
            .collect(),
        // A program that carries no rules has an empty set, which is told as such.
        None => built_in().iter().map(|(name, text)| sources.add(*name, *text)).collect(),
    };
    let (files, model) = judge(&ids, sources, &mut problems, syntax::parse);
    Rulebook { model: Arc::new(model), problems, digest: digest::of_set(sources, &ids), files }
}

/// What the files of one set hold and mean, with everything wrong or doubtful in them; `parse` reads one file
pub(super) fn judge(
    ids: &[SourceId],
    sources: &mut Sources,
    problems: &mut Problems,
    mut parse: impl FnMut(&Sources, SourceId) -> (tree::File, Problems),
) -> (Vec<tree::File>, Model) {
    let mut files = Vec::new();
    for &id in ids {
        let (file, said) = parse(sources, id);
        problems.append(said);
        files.push(file);
    }
    if files.iter().all(|file| file.declarations.is_empty()) && !problems.any_error() {
        // else: there is no file to say it of
        let id = ids.first().copied().unwrap_or_else(|| sources.add("rules", ""));
        problems.push(
            Problem::new(Code::NoRules, sources.whole(id), "there is no rule in these files")
                .help("write a declaration such as `part idler, each side: \"front idler\"`"),
        );
    }
    let (model, said) = check::check(&files);
    problems.append(said);
    (files, model)
}
