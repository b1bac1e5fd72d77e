//! The rules a command works with: those built into the program, or those of a folder.

use crate::check;
use crate::model::Model;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{LARGEST_FILE, SourceId, Sources, Unreadable};
use crate::syntax::{self, tree};
use sha2::{Digest, Sha256};
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

macro_rules! built_in {
    ($($name:literal)*) => {
        /// The trade's rules as they stood when the program was built
        const BUILT_IN: &[(&str, &str)] = &[
            $( (concat!("rules/", $name), include_str!(concat!("../../rules/", $name))), )*
        ];
    };
}

built_in! {
    "chain.rules" "dimensions.rules" "equalizer.rules" "facts.rules" "idler.rules" "joints.rules" "parts.rules"
    "rear_mount.rules" "roller.rules" "scale.rules" "site.rules" "sprocket.rules" "tension.rules"
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
        Some(folder) => read_folder(folder, sources, &mut problems).into_iter().map(|(_, id)| id).collect(),
        None => BUILT_IN.iter().map(|(name, text)| sources.add(*name, *text)).collect(),
    };
    let (files, model) = judge(&ids, sources, &mut problems, syntax::parse);
    Rulebook { model, problems, digest: digest(sources, &ids), files }
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

/// A rule file, or the `.rules` files of a folder by name, with their paths
pub(super) fn read_files(
    path: &Path,
    sources: &mut Sources,
    problems: &mut Problems,
) -> Vec<(PathBuf, SourceId)> {
    if path.is_dir() {
        read_folder(path, sources, problems)
    } else {
        vec![(path.to_owned(), read_file(path, sources, problems))]
    }
}

/// The `.rules` files of a folder, by name
fn read_folder(folder: &Path, sources: &mut Sources, problems: &mut Problems) -> Vec<(PathBuf, SourceId)> {
    let Some(paths) = files(folder, "rules", sources, problems) else {
        return Vec::new();
    };
    if paths.is_empty() {
        let name = folder.display().to_string();
        let at = sources.add(&name, "");
        let message = format!("the folder `{name}` holds no rule files");
        problems.push(
            Problem::new(Code::NoRules, sources.whole(at), message)
                .help("give a folder that holds files ending in `.rules`"),
        );
    }
    paths
        .into_iter()
        .map(|path| {
            let id = read_file(&path, sources, problems);
            (path, id)
        })
        .collect()
}

/// The files of a folder that end in `extension`, by name; none when the folder cannot be read
pub(super) fn files(
    folder: &Path,
    extension: &str,
    sources: &mut Sources,
    problems: &mut Problems,
) -> Option<Vec<PathBuf>> {
    match paths(folder, extension) {
        Ok(paths) => Some(paths),
        Err(fault) => {
            let name = folder.display().to_string();
            let at = sources.add(&name, "");
            let message = format!("the folder `{name}` cannot be read: {}", plainly(&fault));
            problems.push(
                Problem::new(Code::FileUnreadable, sources.whole(at), message)
                    .help(format!("give a folder that holds files ending in `.{extension}`")),
            );
            None
        }
    }
}

/// Paths of the `.rules` files of a folder, in order
pub(super) fn rule_files(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    paths(folder, "rules")
}

fn paths(folder: &Path, extension: &str) -> std::io::Result<Vec<PathBuf>> {
    let entries = fs::read_dir(folder)?.filter_map(|entry| entry.ok().map(|entry| entry.path()));
    let mut paths: Vec<PathBuf> =
        entries.filter(|path| path.extension().is_some_and(|own| own == extension)).collect();
    paths.sort();
    Ok(paths)
}

/// Whether the name of a file says that it holds rules
pub(super) fn is_rule_file(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "rules")
}

/// Reads one file; what cannot be read stands as an empty text with its problem
pub(super) fn read_file(path: &Path, sources: &mut Sources, problems: &mut Problems) -> SourceId {
    let name = path.display().to_string();
    let bytes = match read(path) {
        Ok(bytes) => bytes,
        Err(fault) => {
            let at = sources.add(&name, "");
            let message = format!("the file `{name}` cannot be read: {}", plainly(&fault));
            problems.push(
                Problem::new(Code::FileUnreadable, sources.whole(at), message)
                    .help("check the path and that you may read it"),
            );
            return at;
        }
    };
    take(&name, bytes, sources, problems)
}

/// Takes in what a file holds; what is no text stands as an empty one with its problem
pub(super) fn take(name: &str, bytes: Vec<u8>, sources: &mut Sources, problems: &mut Problems) -> SourceId {
    match sources.add_bytes(name, bytes) {
        Ok(id) => id,
        Err((id, Unreadable::TooLarge { .. })) => {
            let message = format!("the file `{name}` is larger than {} KiB", LARGEST_FILE / 1024);
            problems.push(
                Problem::new(Code::FileTooLarge, sources.whole(id), message)
                    .help("split it; a file is meant to be written and read by hand"),
            );
            id
        }
        Err((id, Unreadable::NotText { byte })) => {
            let message = format!("the file `{name}` is no UTF-8 text: byte {} is none", byte + 1);
            problems.push(
                Problem::new(Code::FileNotText, sources.whole(id), message).help("save it as UTF-8 text"),
            );
            id
        }
    }
}

/// The bytes of a file, or of one too large the first of them: enough to see that it is
fn read(path: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    fs::File::open(path)?.take(LARGEST_FILE as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// What went wrong, in words that do not change from system to system
fn plainly(fault: &std::io::Error) -> &'static str {
    match fault.kind() {
        std::io::ErrorKind::NotFound => "it is not there",
        std::io::ErrorKind::PermissionDenied => "reading it is not allowed",
        std::io::ErrorKind::NotADirectory => "it is no folder",
        std::io::ErrorKind::IsADirectory => "it is a folder",
        _ => "the system refused",
    }
}

/// Digest over names (without their folders) and texts, so that the same rules give the same digest anywhere
pub(super) fn digest(sources: &Sources, ids: &[SourceId]) -> String {
    let mut hash = Sha256::new();
    for &id in ids {
        let name = Path::new(sources.name(id)).file_name().unwrap_or_default();
        hash.update(name.as_encoded_bytes());
        hash.update([0]);
        hash.update(sources.text(id));
        hash.update([0]);
    }
    let hex: String = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{hex}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

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
