//! The damage that an assessment is asked about, as named in the call or in the case.

use crate::assess::question::{is_hearsay, likely, places};
use crate::assess::{self, Damage};
use crate::case::NameAt;
use crate::command::name::{self, Asked};
use crate::command::session::Session;
use crate::ground::find_symptom;
use crate::model::Hidden;
use crate::place::Place;

/// Most places named of a damage that lacks one
const MOST_PLACES: usize = 4;

/// The damage named in the call, or in the case, each once
///
/// # Errors
/// What is wrong with it, for the person who asked.
pub(super) fn damage(session: &Session, about: &[String]) -> Result<Vec<Damage>, String> {
    let in_question = &session.inspection().in_question;
    let named: Result<Vec<Damage>, String> = match (about, in_question.as_slice()) {
        ([], []) => return Err(nothing(session)),
        ([], named) => named.iter().map(|name| in_case(session, name)).collect(),
        (about, _) => about.iter().map(|words| in_call(session, words)).collect(),
    };
    let mut each: Vec<Damage> = Vec::new();
    for damage in named? {
        if !each.iter().any(|known| known.node == damage.node) {
            each.push(damage);
        }
    }
    Ok(each)
}

fn in_call(session: &Session, words: &str) -> Result<Damage, String> {
    let (model, ground) = (session.model(), session.ground());
    let (name, place) = match name::asked(session, words)? {
        Asked::Symptom(id, place) => (&model[id].effect.common.name, place),
        Asked::Hidden(Hidden::Condition(id), place) => (&model[id].common.name, place),
        Asked::Hidden(Hidden::Cause(_), _) => {
            return Err(format!("`{words}` is a cause: name the damage that it is said to have done"));
        }
    };
    damaged(session, name)?;
    let at = place.clone().unwrap_or(Place::Machine); // else: a name alone is of the machine as a whole
    let found = assess::damage_at(model, ground, name, None, at);
    found.ok_or_else(|| absent(session, name, place.as_ref(), words))
}

fn in_case(session: &Session, name: &NameAt) -> Result<Damage, String> {
    let word = &name.name.value;
    damaged(session, word)?;
    let found = assess::damage(session.model(), session.ground(), name);
    found.ok_or_else(|| absent(session, word, name.place.as_ref().map(|place| &place.value), word))
}

/// That a name is one of damage, and not of what papers or people say
fn damaged(session: &Session, name: &str) -> Result<(), String> {
    match find_symptom(session.model(), name) {
        Some(id) if is_hearsay(session.model(), id) => Err(format!(
            "`{name}` is known from papers or from what people say, and is no damage: name the damage itself and its place{}",
            likely_in_words(session)
        )),
        _ => Ok(()),
    }
}

/// What is wrong with a name that stands for nothing on this machine
fn absent(session: &Session, name: &str, place: Option<&Place>, words: &str) -> String {
    let places = places(session.model(), session.ground(), name);
    if place.is_some() || places.is_empty() {
        return format!(
            "`{words}` is no symptom or condition on this machine, as told: name the damage and its place"
        );
    }
    let named: Vec<String> =
        places.iter().take(MOST_PLACES).map(|place| format!("`{name} {place}`")).collect();
    let more = places.len().saturating_sub(MOST_PLACES);
    let more = if more > 0 { format!(", or one of {more} more places") } else { String::new() };
    format!("`{name}` can be at several places: say which: {}{more}", named.join(" or "))
}

/// What to say where nothing is put in question
fn nothing(session: &Session) -> String {
    let words = "the case puts no damage in question";
    match likely(session.model(), session.ground()) {
        Some((name, place)) => format!(
            "{words}: write it there, as in `in_question: [{name} {place}]`, or call with `--about \"{name} {place}\"`"
        ),
        None => format!(
            "{words}, and no damage was found that anything could be held against somebody for: name the damage and \
             its place with `--about \"NAME PLACE\"`; `pinboss words` lists the names"
        ),
    }
}

fn likely_in_words(session: &Session) -> String {
    likely(session.model(), session.ground())
        .map_or_else(String::new, |(name, place)| format!(", as in `{name} {place}`"))
}
