//! Names given on the command line: `idler_out_of_line left`, `flange_worn right=inboard`.

use super::session::Session;
use crate::ground::{Ground, How, Observation, Origin, find_hidden, find_symptom, likelihood};
use crate::model::{Hidden, Model, SymptomId};
use crate::place::{Place, Side};
use crate::problem::did_you_mean;
use crate::source::Span;

/// Where all names stand
const LISTED: &str = "`pinboss words` lists what the rules know";

/// What a name asks about
pub(super) enum Asked {
    /// A cause or condition, at a place or at all of them
    Hidden(Hidden, Option<Place>),
    /// A symptom
    Symptom(SymptomId, Option<Place>),
}

/// What `words` ask about
///
/// # Errors
/// What is wrong with them, for the person who typed them.
pub(super) fn asked(session: &Session, words: &str) -> Result<Asked, String> {
    let mut words = words.split_whitespace();
    let name = words.next().unwrap_or(""); // else: nothing was typed, and nothing has no name
    let place = place(&words.collect::<Vec<_>>())?;
    let model = session.model();
    if let Some(hidden) = find_hidden(model, name) {
        return Ok(Asked::Hidden(hidden, place));
    }
    if let Some(symptom) = find_symptom(model, name) {
        return Ok(Asked::Symptom(symptom, place));
    }
    Err(unknown(model, name))
}

/// What to say of a name that the rules do not know
pub(super) fn no_such<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    format!("the rules know no `{name}`: {}", did_you_mean(name, known, LISTED))
}

fn unknown(model: &Model, name: &str) -> String {
    let causes = model.causes.iter().map(|cause| &cause.common);
    let conditions = model.conditions.iter().map(|condition| &condition.common);
    let symptoms = model.symptoms.iter().map(|symptom| &symptom.effect.common);
    let known = causes.chain(conditions).chain(symptoms).map(|common| common.name.as_str());
    let help = did_you_mean(name, known, LISTED);
    format!("no cause, condition or symptom is called `{name}`: {help}")
}

/// A place from its words: nothing, `machine`, `left`, `left roller 3`
fn place(words: &[&str]) -> Result<Option<Place>, String> {
    let wrong = || {
        format!("`{}` is no place: write `left`, `right` or for instance `left roller 3`", words.join(" "))
    };
    match words {
        [] => Ok(None),
        ["machine"] => Ok(Some(Place::Machine)),
        [side] => Side::from_word(side).map(|side| Some(Place::Side(side))).ok_or_else(wrong),
        [side, part, number] => {
            let side = Side::from_word(side).ok_or_else(wrong)?;
            let number = number.parse().map_err(|_| wrong())?;
            Ok(Some(Place::Numbered { side, part: (*part).to_owned(), number }))
        }
        _ => Err(wrong()),
    }
}

/// The network with a finding supposed on top of the others; it stands last among the observations
///
/// # Errors
/// What is wrong with the words, for the person who typed them.
pub(super) fn supposed(session: &Session, words: &str) -> Result<Ground, String> {
    let form = "write for instance `--if \"flange_worn right=inboard\"`";
    let (finding, grade) =
        words.split_once('=').ok_or_else(|| format!("`{words}` names no grade: {form}"))?;
    let Asked::Symptom(symptom, place) = asked(session, finding)? else {
        return Err(format!("`{finding}` is no symptom: {form}"));
    };
    let place = place.unwrap_or(Place::Machine); // else: a name alone is of the machine as a whole
    let block = &session.model()[symptom];
    let grades = &block.effect.grades;
    let number = grades.find(grade.trim()).ok_or_else(|| {
        let known = grades.names.iter().map(String::as_str);
        let otherwise = format!("it is one of {}", grades.names.join(", "));
        format!("`{}` is no grade of it: {}", grade.trim(), did_you_mean(grade.trim(), known, &otherwise))
    })?;
    let node = session.ground().node(&Origin::Symptom(symptom, place.clone())).ok_or_else(|| {
        format!("`{}` is not on this machine, or needs another place than {place}", block.effect.common.name)
    })?;
    let mut ground = session.ground().clone();
    ground.observations.retain(|own| own.node != node);
    ground.observations.push(Observation {
        symptom,
        place,
        node,
        grade: number,
        likelihood: likelihood(block, |grade| f64::from(u8::from(grade == number))),
        how: How::Seen { sure: 1.0 },
        at: Span::default(),
    });
    Ok(ground)
}
