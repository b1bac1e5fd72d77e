//! The pictures that a case names, read and made ready; what cannot be shown is a problem at its line.

use super::super::digest;
use super::super::session::Session;
use crate::case::Seen;
use crate::case::SeenAt;
use crate::model::{Common, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::report::document::photo::{self, LONGEST_SIDE, MOST_BYTES, MOST_UNPACKED, Photo, Unusable};
use crate::source::Spanned;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Component, Path, PathBuf};

/// Pictures as a report shows them, and where they were read from
type Photos = (Vec<Photo>, Vec<PathBuf>);

/// All pictures of a case, in its order
///
/// # Errors
/// Every picture that cannot be shown, and every name of one that the rules do not know.
pub(super) fn photos(session: &Session, case: &Path) -> Result<Photos, Problems> {
    let folder = case.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut problems = Problems::default();
    let mut photos = Vec::new();
    let mut inputs = Vec::new();
    for seen in &session.inspection.seen {
        for (name, file) in &seen.photos {
            let shown = known(&session.model, name);
            let read = read(folder, file);
            match (shown, read) {
                (Ok(common), Ok((path, bytes, picture))) => {
                    inputs.push(path);
                    photos.push(Photo {
                        place: seen.place.value.to_string(),
                        id: name.value.clone(),
                        label: common.label.clone(),
                        says: says(seen, &name.value),
                        file: file.value.clone(),
                        digest: digest::of_bytes(&bytes),
                        width: picture.width,
                        height: picture.height,
                        data: picture.address(),
                    });
                }
                (shown, read) => {
                    shown.err().into_iter().chain(read.err()).for_each(|problem| problems.push(problem));
                }
            }
        }
    }
    if problems.any_error() { Err(problems) } else { Ok((photos, inputs)) }
}

/// What a picture is named after: a symptom, a measure or a part
fn known<'m>(model: &'m Model, name: &Spanned<String>) -> Result<&'m Common, Problem> {
    let symptoms = model.symptoms.iter().map(|it| &it.effect.common);
    let measures = model.measures.iter().map(|it| &it.common);
    let parts = model.parts.iter().map(|it| &it.common);
    let all: Vec<&Common> = symptoms.chain(measures).chain(parts).collect();
    all.iter().find(|common| common.name == name.value).copied().ok_or_else(|| {
        let message = format!("the rules know no symptom, measure or part `{}`", name.value);
        let names = all.iter().map(|common| common.name.as_str());
        let help = did_you_mean(
            &name.value,
            names,
            "name a picture after what it shows, as in `flange_worn` or `idler`",
        );
        Problem::new(Code::CaseUnknownName, name.at, message).help(help)
    })
}

/// The grade or the figures that the case tells beside a picture
fn says(seen: &SeenAt, name: &str) -> Option<String> {
    seen.found.iter().find(|found| found.symptom.value == name).map(|found| match &found.seen {
        Seen::Grade(grade) => grade.value.clone(),
        Seen::Unsure { grade, .. } => grade.value.clone(),
        Seen::Counted { noun, which, of, .. } => format!("{} of {} {}", which.len(), of.value, noun.value),
    })
}

fn read(folder: &Path, file: &Spanned<String>) -> Result<(PathBuf, Vec<u8>, photo::Picture), Problem> {
    let problem =
        |message: String, help: &str| Problem::new(Code::PhotoUnusable, file.at, message).help(help);
    let name = &file.value;
    let outside = || {
        problem(
            format!("the picture `{name}` does not lie in the folder of the case"),
            "put it beside the case file, or in a folder below, and name it from there",
        )
    };
    let relative = Path::new(name);
    if !relative.components().all(|part| matches!(part, Component::Normal(_) | Component::CurDir)) {
        return Err(outside());
    }
    let missing = |fault: std::io::Error| {
        let why = super::super::files::plainly(&fault);
        problem(format!("the picture `{name}` cannot be read: {why}"), "check its name, or take the line out")
    };
    let path = folder.join(relative);
    let real = fs::canonicalize(&path).map_err(missing)?;
    // A link may lead elsewhere, and what is elsewhere was not meant to be sent on.
    if !fs::canonicalize(folder).is_ok_and(|folder| real.starts_with(folder)) {
        return Err(outside());
    }
    if !fs::metadata(&real).is_ok_and(|there| there.is_file()) {
        return Err(problem(
            format!("the picture `{name}` is no file"),
            "name a picture saved as JPEG or PNG",
        ));
    }
    let mut bytes = Vec::new();
    let most = u64::try_from(MOST_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    File::open(&real).and_then(|open| open.take(most).read_to_end(&mut bytes)).map_err(missing)?;
    let picture = photo::ready(&bytes).map_err(|why| match why {
        Unusable::OtherSort => problem(
            format!("`{name}` is no picture in JPEG or PNG"),
            "save it as JPEG, the form that cameras give",
        ),
        Unusable::Damaged => {
            problem(format!("the picture `{name}` is damaged"), "copy it anew from the camera")
        }
        Unusable::TooLarge => problem(
            format!(
                "the picture `{name}` is larger than {} MiB, or than {} MiB unpacked",
                MOST_BYTES >> 20,
                MOST_UNPACKED >> 20
            ),
            &format!("scale it down; {LONGEST_SIDE} pixels on its longest side are enough"),
        ),
    })?;
    Ok((path, bytes, picture))
}
