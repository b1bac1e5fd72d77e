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

macro_rules! built_in {
    ($($name:literal)*) => {
        /// The trade's rules as they stood when the program was built
        const BUILT_IN: &[(&str, &str)] = &[
            $( (concat!("rules/", $name), include_str!(concat!("../../rules/", $name))), )*
        ];
    };
}

built_in! {
    "bogies.rules" "bushings.rules" "carrier.rules" "chain.rules" "dimensions.rules" "equalizer.rules" "facts.rules"
    "final_drive.rules" "frame.rules" "grousers.rules" "guards.rules" "habits.rules" "idler.rules" "joints.rules"
    "master.rules" "parts.rules" "pins.rules" "rails.rules" "rear_mount.rules" "roller.rules" "scale.rules"
    "shoes.rules" "site.rules" "sprocket.rules" "tension.rules"
}

/// A set of rules with what is wrong with it
pub(super) struct Rulebook {
    /// What the rules mean; to be computed with only when the problems hold no error
    pub(super) model: Model,
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
        None => BUILT_IN.iter().map(|(name, text)| sources.add(*name, *text)).collect(),
    };
    let (files, model) = judge(&ids, sources, &mut problems, syntax::parse);
    Rulebook { model, problems, digest: digest::of_set(sources, &ids), files }
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::fs;

    #[test]
    fn every_rule_file_is_built_in() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
        let there: BTreeSet<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| format!("rules/{}", entry.unwrap().file_name().to_str().unwrap()))
            .filter(|name| name.ends_with(".rules"))
            .collect();
        let built_in: BTreeSet<String> = BUILT_IN.iter().map(|(name, _)| (*name).to_owned()).collect();
        assert_eq!(built_in, there);
    }
}
