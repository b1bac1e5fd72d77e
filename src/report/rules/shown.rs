//! A block of the rules as the program understood it, in sentences with counts, to be held against experience.
//!
//! Nothing is reckoned here, so that an editor's hover has it at once; what the engine says of a block comes from
//! `reason::standing` and is added by the command.

mod blocks;
mod cases;
pub(super) mod formula;
mod lines;
mod off_network;
mod standing;
mod strength;
pub mod used;

pub use strength::Figure;

use crate::case::Inspection;
use crate::model::named::{Named, named};
use crate::model::{Hidden, Model, PartId};
use crate::reason::standing::{Block, Standing};
use crate::report::prose::Prose;
use crate::report::rules::entry::{self, Entry};
use crate::report::words::{capital, hundreds};
use crate::source::{Sources, Span};
use serde::Serialize;
use std::fmt::Display;

/// A block with all that is said of it
#[derive(Debug, Serialize)]
pub struct Shown {
    /// Name, sort, label, places and the sentences under their heads
    #[serde(flatten)]
    pub entry: Entry,
    /// Where its name is declared, `file:line`; none for what has no place of its own
    pub declared: Option<String>,
    /// The machine the standing is reckoned for, in words
    pub machine: Option<String>,
    /// How it stands before anything is seen
    pub standing: Option<standing::Figures>,
}

/// The block of the network that a name stands for, if it stands for one
pub fn block(model: &Model, name: &str) -> Option<Block> {
    match named(model, name)? {
        Named::Cause(id) => Some(Block::Hidden(Hidden::Cause(id))),
        Named::Condition(id) => Some(Block::Hidden(Hidden::Condition(id))),
        Named::Symptom(id) => Some(Block::Symptom(id)),
        Named::Fact(id) => Some(Block::Fact(id)),
        _ => None,
    }
}

/// What the rules say of a name, as the program understood them; none when they do not know it
pub fn shown(model: &Model, name: &str) -> Option<Shown> {
    let named = named(model, name)?;
    let entry = match &named {
        Named::Cause(id) => blocks::of_cause(model, *id),
        Named::Condition(id) => blocks::of_condition(model, *id),
        Named::Symptom(id) => blocks::of_symptom(model, *id),
        Named::Fact(id) => blocks::of_fact(model, *id),
        Named::Measure(id) => off_network::of_measure(model, *id),
        Named::Check(id) => off_network::of_check(model, *id),
        Named::Remedy(id) => off_network::of_remedy(model, *id),
        Named::Part(id) => off_network::of_part(model, *id),
        Named::Kind(id) => off_network::of_kind(model, *id),
        Named::State(id) => off_network::of_state(model, *id),
        Named::Size(size) => off_network::of_size(model, size),
        Named::Scale => off_network::of_scale(model),
    };
    Some(Shown { entry, declared: None, machine: None, standing: None })
}

impl Shown {
    /// Adds where the block is declared
    pub fn declare(&mut self, model: &Model, sources: &Sources) {
        let block = model.blocks().find(|block| block.name == self.entry.id);
        self.declared = block.filter(|block| block.at != Span::default()).map(|block| {
            let place = sources.place(block.at);
            format!("{}:{}", place.file, place.line)
        });
    }

    /// Adds how the block stands on a machine before anything is seen, or why that cannot be said
    pub fn stands<E: Display>(
        &mut self,
        model: &Model,
        block: Block,
        standing: Result<Standing, E>,
        machine: String,
    ) {
        match standing {
            Ok(standing) => {
                self.entry.say("Reckoned for", [format!("{}.", capital(&machine))]);
                standing::say(model, block, &standing, &mut self.entry);
                self.standing = Some(standing::figures(model, block, &standing));
            }
            Err(width) => {
                let why = format!("These rules are too entangled to be weighed exactly here: {width}.");
                self.entry.say("All told", [why]);
            }
        }
        self.machine = Some(machine);
    }

    /// Adds the cases that touch the block, each with the name of its file
    pub fn touched(&mut self, cases: &[(String, Inspection)]) {
        let lines = cases::touching(&self.entry.id, cases);
        self.entry.say("Cases that touch it", lines);
    }
}

/// A machine of which only the numbers of its parts are known, in words
pub fn bare_machine(model: &Model, counts: impl Iterator<Item = (PartId, u32)>) -> String {
    let rows: Vec<String> = counts
        .map(|(part, count)| {
            let part = &model[part];
            format!("{} {} a side", hundreds(count), part.plural())
        })
        .collect();
    let with = if rows.is_empty() { String::new() } else { format!(", with {}", rows.join(" and ")) };
    format!("a machine of which nothing is told{with}")
}

/// A block as text
pub fn text(shown: &Shown) -> Prose {
    let mut prose = entry::text(&shown.entry);
    if let Some(declared) = &shown.declared {
        prose.gap();
        prose.say(0, &format!("Declared in {declared}."));
    }
    prose
}
