//! An inspection as written: from the YAML of a case file to what is given of the machine, seen and read, each with its place in the text.

mod expect;
mod fields;
mod found;
mod inspection;
pub mod keys;
mod machine;
mod names;
mod not_yaml;
mod parts;
mod photos;
pub mod prices;
mod readings;
mod seen;
pub mod sizes;
mod tree;
mod visit;
mod walk;
mod whole;
pub mod write;

pub use inspection::{
    Expect, Fitted, Found, GivenFact, GivenLimit, GivenSize, GivenWeight, Inspection, MOST_HOURS, Machine,
    NameAt, Photo, Read, Seen, SeenAt, Truth, Turned, Visit,
};

use crate::case::fields::Notes;
use crate::problem::Problems;
use crate::source::{SourceId, Sources};

/// Reads the text of a case file
///
/// An inspection comes back whenever the text is a map of keys, even with problems noted, so that the names in what
/// could be read are still held against the rules; nothing may be computed from it while [`Problems::any_error`].
/// None for a text that is no YAML, and for one that is no map.
pub fn read(sources: &Sources, id: SourceId) -> (Option<Inspection>, Problems) {
    let mut notes = Notes::new(sources.text(id), sources.whole(id));
    let inspection = match tree::grow(&mut notes, whole::BEGIN) {
        Ok(entries) => Some(whole::inspection(&mut notes, &entries)),
        Err(stop) => {
            notes.say(stop);
            None
        }
    };
    (inspection, notes.into_problems())
}
