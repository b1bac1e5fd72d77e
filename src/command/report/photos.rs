//! The pictures that a case names, read and made ready; what cannot be shown is a problem at its line.

use super::super::digest;
use super::super::session::Session;
use crate::case::{self, Inspection, Read, SeenAt};
use crate::command::files;
use crate::ground::{How, find_symptom};
use crate::model::{Common, Model};
use crate::place::Place;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::report::record::document::photo::{
    self, LONGEST_SIDE, MOST_BYTES, MOST_UNPACKED, Photo, Unusable,
};
use crate::source::Spanned;
use std::fs::{self, File};
use std::io::Read as _;
use std::path::{Component, Path, PathBuf};

/// A picture as it was taken, with what the case says of it
pub(super) struct Taken {
    given: case::Photo,
    digest: String,
    picture: photo::Picture,
    /// Where it was read from
    pub(super) path: PathBuf,
}

/// All pictures of a case that can be shown, and what is wrong with the others
pub(super) fn taken(model: &Model, inspection: &Inspection, case: &Path) -> (Vec<Taken>, Problems) {
    let folder = files::home(case);
    let mut problems = Problems::default();
    let mut all = Vec::new();
    for photo in inspection.pictures() {
        match read(folder, &photo.file) {
            Err(problem) => problems.push(problem),
            Ok((path, bytes, picture)) => {
                if shown(model, &photo).is_some() {
                    all.push(Taken { given: photo, digest: digest::of_bytes(&bytes), picture, path });
                }
            }
        }
    }
    (all, problems)
}

/// Pictures as a report shows them, with what the case says of what each shows
pub(super) fn photos(session: &Session, taken: &[Taken]) -> Vec<Photo> {
    let photo = |own: &Taken| {
        let Taken { given, digest, picture, .. } = own;
        let common = shown(session.model(), given)?;
        Some(Photo {
            place: given.place.value.to_string(),
            id: given.name.value.clone(),
            label: common.label.clone(),
            says: says(session, given),
            file: given.file.value.clone(),
            digest: digest.clone(),
            width: picture.width,
            height: picture.height,
            data: picture.address(),
        })
    };
    taken.iter().filter_map(photo).collect()
}

/// What a picture is named after: a symptom, a measure or a part
fn shown<'m>(model: &'m Model, photo: &case::Photo) -> Option<&'m Common> {
    model.pictured().find(|common| common.name == photo.name.value)
}

/// The grade or the figures that the case tells beside a picture; nothing of a part, and that there are none where there
/// are none
fn says(session: &Session, photo: &case::Photo) -> Option<String> {
    let (model, inspection) = (session.model(), session.inspection());
    let (name, place) = (&photo.name.value, &photo.place.value);
    let mut there = inspection.seen.iter().filter(|seen| seen.place.value == *place);
    if find_symptom(model, name).is_some() {
        let noted = there.find_map(|seen| grade(seen, name)).or_else(|| by_reading(session, name, place));
        return Some(noted.unwrap_or_else(|| "not noted".to_owned())); // else: the case does not say
    }
    if model.measures.iter().any(|measure| measure.common.name == *name) {
        let read = there.find_map(|seen| seen.read.iter().find(|read| read.measure.value == *name));
        return Some(read.map_or_else(|| "not read".to_owned(), figures));
    }
    None
}

/// What was seen of a symptom
fn grade(seen: &SeenAt, name: &str) -> Option<String> {
    seen.found.iter().find(|found| found.symptom.value == name).map(|found| match &found.seen {
        case::Seen::Grade(grade) => grade.value.clone(),
        case::Seen::Unsure { grade, sure } => {
            format!("{}, {:.0} % sure", grade.value, 100.0 * sure.value)
        }
        case::Seen::Counted { noun, which, of, .. } => {
            format!("{} of {} {}", which.len(), of.value, noun.value)
        }
    })
}

/// The grade that readings say, where nobody noted one
fn by_reading(session: &Session, name: &str, place: &Place) -> Option<String> {
    let (model, ground) = (session.model(), session.ground());
    let own = ground.observations.iter().find(|own| {
        let effect = &model[own.symptom].effect;
        effect.common.name == name && own.place == *place && matches!(own.how, How::Read { .. })
    })?;
    Some(format!("{}, by what was read", model[own.symptom].effect.grades.name(own.grade)))
}

/// The figures of a reading, as written
fn figures(read: &Read) -> String {
    let values: Vec<String> = read.values.iter().map(|value| value.value.to_string()).collect();
    let void = read.void.as_ref().map_or_else(String::new, |why| format!(" (does not count: {})", why.value));
    format!("{}{void}", values.join(", "))
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
    let most = MOST_BYTES as u64 + 1;
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
