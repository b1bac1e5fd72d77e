//! A case file with what it names to be read besides: the file of its machine's sizes.

use super::files;
use crate::case::{self, Inspection};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Sources, Span};
use std::path::Path;

/// Reads a case whose text is at hand, and the sizes that it names by their path from its own folder
pub(super) fn read(sources: &mut Sources, id: SourceId, problems: &mut Problems) -> Option<Inspection> {
    let (inspection, said) = case::read(sources, id);
    problems.append(said);
    let mut inspection = inspection?;
    if let Some(file) = &inspection.machine.sizes_file {
        // else: the case came over a pipe, and files are named from where the program runs
        let folder = Path::new(sources.name(id)).parent().unwrap_or(Path::new(""));
        let path = folder.join(&file.value);
        if !path.is_file() {
            problems.push(not_there("the file of sizes", file.at));
            return Some(inspection);
        }
        let mut own = Problems::default();
        let id = files::read(&path, sources, &mut own);
        if !own.any_error() {
            let (sizes, said) = case::sizes::read(sources, id);
            inspection.machine.sizes = sizes;
            own.append(said);
        }
        problems.append(own);
    }
    Some(inspection)
}

/// Says at the place that names it that a file is not there
pub(super) fn not_there(what: &str, at: Span) -> Problem {
    Problem::new(Code::FileUnreadable, at, format!("{what} is not there"))
        .help("write its path from the folder of this case")
}
