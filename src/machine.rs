//! The machine as the case gives it: facts, hours, how many of what, and the tests that hang on them.

use crate::model::test::{Term, Test};
use crate::model::{Dimension, Extent, FactId, MeasureId, Model, PartId};
use crate::place::{Place, Side};
use std::collections::BTreeMap;

/// What is known of one machine before anything on it is looked at
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Machine {
    /// Its size class
    pub size: Option<String>,
    /// Sizes of its own, by measure, in place of those of its class; the first row whose test holds counts
    pub sizes: BTreeMap<MeasureId, Vec<Dimension>>,
    /// Hours on its meter
    pub hours: Option<f64>,
    /// How many of each numbered part a side has
    pub counts: BTreeMap<PartId, u32>,
    /// Choices of the facts given or reckoned; a fact of the whole machine has no side
    pub facts: BTreeMap<(FactId, Option<Side>), usize>,
    /// Chances of the choices of facts reckoned so near a bound that either side of it may be meant; `facts` has the choice on
    /// whose side they lie
    pub near: BTreeMap<(FactId, Option<Side>), Vec<f64>>,
    /// Hours that parts have run, by place
    pub service: BTreeMap<(PartId, Place), Service>,
}

/// How long a part has run
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Service {
    /// Hours since it went on; none when they are not given
    pub hours: Option<f64>,
    /// Whether it was turned
    pub turned: Turned,
}

/// Whether a part was turned
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Turned {
    /// Nobody said
    #[default]
    Unknown,
    /// It never was
    Never,
    /// So many hours ago
    Since(f64),
}

impl Turned {
    /// Hours since it was turned; none where it was not, or nobody said
    pub fn since(self) -> Option<f64> {
        match self {
            Turned::Since(hours) => Some(hours),
            Turned::Never | Turned::Unknown => None,
        }
    }
}

/// Whether a test holds
#[derive(Clone, Debug, Eq, PartialEq)]
pub enum Answer {
    /// It holds
    Yes,
    /// It does not
    No,
    /// It hangs on facts that are not given
    Hangs(Vec<(FactId, Option<Side>)>),
}

/// Choices supposed for facts that are not given, or that lie near a bound
pub type Supposed = BTreeMap<(FactId, Option<Side>), usize>;

impl Machine {
    /// The places that a block with this extent has here, in order
    pub fn places(&self, model: &Model, extent: Extent) -> Vec<Place> {
        match extent {
            Extent::Machine => vec![Place::Machine],
            Extent::Side => Side::BOTH.map(Place::Side).to_vec(),
            Extent::Each(part) => {
                Side::BOTH.into_iter().flat_map(|side| self.row(model, part, side)).collect()
            }
        }
    }

    /// How many of a numbered part stand along each side
    pub fn count(&self, part: PartId) -> u32 {
        self.counts.get(&part).copied().unwrap_or(0) // else: nobody said how many, which is a problem elsewhere
    }

    /// The places of a numbered part along one side, from the front
    pub fn row(&self, model: &Model, part: PartId, side: Side) -> Vec<Place> {
        let name = &model[part].common.name;
        (1..=self.count(part)).map(|number| Place::Numbered { side, part: name.clone(), number }).collect()
    }

    /// The fact as it is known at a place: a fact of each side there, or the machine's
    pub fn key(model: &Model, fact: FactId, place: &Place) -> (FactId, Option<Side>) {
        match model[fact].common.extent {
            Extent::Machine => (fact, None),
            Extent::Side | Extent::Each(_) => (fact, place.side()),
        }
    }

    /// Whether a fact is left open: it is not given, or it was reckoned near a bound
    pub fn is_open(&self, key: &(FactId, Option<Side>)) -> bool {
        !self.facts.contains_key(key) || self.near.contains_key(key)
    }

    /// Whether a test holds at a place, given also what is supposed of open facts
    pub fn holds(&self, model: &Model, test: &Test, place: &Place, supposed: &Supposed) -> Answer {
        let mut hangs = Vec::new();
        for term in &test.terms {
            match term {
                Term::Fact { fact, choices } => {
                    let key = Machine::key(model, *fact, place);
                    match supposed.get(&key).or_else(|| self.facts.get(&key)) {
                        Some(choice) if choices.contains(choice) => {}
                        Some(_) => return Answer::No,
                        None => hangs.push(key),
                    }
                }
                other => {
                    if !self.place_term(other, place) {
                        return Answer::No;
                    }
                }
            }
        }
        if hangs.is_empty() { Answer::Yes } else { Answer::Hangs(hangs) }
    }

    /// Terms that hang on no fact. Hours not given are neither over nor under anything.
    fn place_term(&self, term: &Term, place: &Place) -> bool {
        match term {
            Term::Fact { .. } => true,
            Term::Count { part, bound } => bound.holds(f64::from(self.count(*part))),
            Term::Hours(bound) => self.hours.is_some_and(|hours| bound.holds(hours)),
            Term::Side(side) => place.side() == Some(*side),
            Term::Spot { part, spots, negated } => match place {
                Place::Numbered { number, .. } => {
                    let count = self.count(*part);
                    spots.iter().any(|spot| spot.holds(*number, count)) != *negated
                }
                Place::Machine | Place::Side(_) => false,
            },
        }
    }

    /// The first of some lines whose test holds at a place, or the facts the answer hangs on
    ///
    /// # Errors
    /// The facts not given on which it hangs which line is first.
    pub fn first<'m, T>(
        &self,
        model: &Model,
        lines: impl IntoIterator<Item = (&'m Test, T)>,
        place: &Place,
        supposed: &Supposed,
    ) -> Result<Option<T>, Vec<(FactId, Option<Side>)>> {
        for (test, line) in lines {
            match self.holds(model, test, place, supposed) {
                Answer::Yes => return Ok(Some(line)),
                Answer::No => {}
                Answer::Hangs(facts) => return Err(facts),
            }
        }
        Ok(None)
    }

    /// How long a part has run at a place: its own entry, or that of the wider place that holds it
    pub fn service(&self, model: &Model, part: PartId, place: &Place) -> Option<Service> {
        let own = model.places_of(part).seen_from(place);
        self.service.get(&(part, own)).copied()
    }
}
