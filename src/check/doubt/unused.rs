//! Names that are declared and used nowhere.

use super::remedies::can_be_read;
use crate::model::formula::{Formula, Row};
use crate::model::test::{Term, Test};
use crate::model::{Common, Extent, FactId, How, KindId, MeasureId, Model, PartId, StateId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use std::collections::BTreeSet;

/// Says which facts, states, kinds, parts and measures nothing uses
pub(super) fn check(model: &Model, problems: &mut Problems) {
    let mut used = Used::default();
    tests(model).for_each(|test| used.by_test(test));
    formulas(model).for_each(|formula| used.by_formula(formula));
    used.by_blocks(model);
    for (number, fact) in model.facts.iter().enumerate() {
        if !used.facts.contains(&FactId(number)) {
            let help =
                "test it in a `where` or an `only where`, or take it out: nobody should be asked for nothing";
            tell(&fact.common, "no rule tests", help, problems);
        }
    }
    for (number, state) in model.states.iter().enumerate() {
        if !used.states.contains(&StateId(number)) {
            let help = "name it in a check under `while`, `makes` or `ends`, or take it out";
            tell(&state.common, "no check needs, makes or ends", help, problems);
        }
    }
    for (number, kind) in model.kinds.iter().enumerate() {
        if !used.kinds.contains(&KindId(number)) {
            tell(&kind.common, "no cause is of the kind", "give it to a cause, or take it out", problems);
        }
    }
    for (number, part) in model.parts.iter().enumerate() {
        if !used.parts.contains(&PartId(number)) {
            let help = "write `of` and its name in what is seen on it, or take it out";
            tell(&part.common, "nothing is seen or measured on", help, problems);
        }
    }
    for (number, measure) in model.measures.iter().enumerate() {
        // What is reckoned stands beside a reading, to be compared with it, and so does what is held against others.
        let compared = (matches!(measure.how, How::Reckoned) || measure.against.is_some())
            && can_be_read(model, MeasureId(number));
        if !compared && !used.measures.contains(&MeasureId(number)) {
            let help = "reckon a symptom or a measure from it, give it `dimensions`, or take it out";
            tell(&measure.common, "nothing is made of", help, problems);
        }
    }
}

fn tell(block: &Common, what: &str, help: &str, problems: &mut Problems) {
    let message = format!("{what} `{}`", block.name);
    problems.push(Problem::new(Code::NeverUsed, block.at, message).help(help));
}

/// What is used
#[derive(Default)]
struct Used {
    facts: BTreeSet<FactId>,
    states: BTreeSet<StateId>,
    kinds: BTreeSet<KindId>,
    parts: BTreeSet<PartId>,
    measures: BTreeSet<MeasureId>,
}

impl Used {
    fn by_test(&mut self, test: &Test) {
        for term in &test.terms {
            match term {
                Term::Fact { fact, .. } => {
                    self.facts.insert(*fact);
                }
                Term::Count { part, .. } | Term::Spot { part, .. } => {
                    self.parts.insert(*part);
                }
                Term::Hours(_) | Term::Side(_) => {}
            }
        }
    }

    fn by_formula(&mut self, formula: &Formula) {
        self.measures.extend(formula.measures());
        let mut open = vec![formula];
        while let Some(formula) = open.pop() {
            match formula {
                Formula::Hours(part) | Formula::HoursSinceTurned(part) | Formula::Turn(part) => {
                    self.parts.insert(*part);
                }
                Formula::Across { of, row, .. } => {
                    open.push(of);
                    if let Row::All(part) | Row::Front(part) | Row::Rear(part) = row {
                        self.parts.insert(*part);
                    }
                }
                Formula::Among { of, .. } => open.extend(of),
                Formula::Pair(one, _, other) => open.extend([one.as_ref(), other.as_ref()]),
                _ => {}
            }
        }
    }

    /// By what blocks say of their kind, part, state, and sizes
    fn by_blocks(&mut self, model: &Model) {
        for block in model.blocks() {
            self.parts.extend(block.part);
            if let Extent::Each(part) = block.extent {
                self.parts.insert(part);
            }
        }
        self.kinds.extend(model.causes.iter().map(|cause| cause.kind));
        for check in &model.checks {
            self.states.extend(check.needs_state.iter().chain(&check.makes).chain(&check.ends));
        }
        self.states.extend(model.remedies.iter().filter_map(|remedy| remedy.state));
        // A measure with a table comes to a per cent worn, when a check reads it.
        let read = |id: &MeasureId| {
            let reads = model.checks.iter().any(|check| check.reads.contains(id));
            reads || matches!(model[*id].how, How::Reckoned)
        };
        let sized = model.sizes.values().flat_map(|size| size.dimensions.keys().copied());
        self.measures.extend(sized.filter(read));
        self.measures
            .extend(model.remedies.iter().flat_map(|remedy| remedy.renews.iter().map(|it| it.measure)));
        self.measures
            .extend(model.remedies.iter().flat_map(|remedy| remedy.lasts.iter().map(|it| it.measure)));
    }
}

/// Every test of the rules
fn tests(model: &Model) -> impl Iterator<Item = &Test> {
    let gates = model.blocks().map(|block| &block.gate);
    let shares = model.facts.iter().flat_map(|fact| fact.shares.iter().map(|(test, _)| test));
    let chances = model.causes.iter().flat_map(|cause| cause.chances.iter().map(|chance| &chance.test));
    let effects = || model.conditions.iter().chain(model.symptoms.iter().map(|symptom| &symptom.effect));
    let lines = effects().flat_map(|effect| effect.lines.iter().map(|line| &line.test));
    let leaks = effects().flat_map(|effect| effect.leaks.iter().map(|leak| &leak.test));
    let dimensions =
        model.sizes.values().flat_map(|size| size.dimensions.values().flatten().map(|row| &row.test));
    let life = model.sizes.values().flat_map(|size| size.life.values().flatten().map(|(_, test)| test));
    let sums = model.measures.iter().flat_map(|measure| measure.sums.iter().map(|(_, test)| test));
    let advice = model.measures.iter().flat_map(|measure| measure.advice.iter().map(|(_, test)| test));
    let lasting = model.remedies.iter().flat_map(|remedy| remedy.lasts.iter().map(|it| &it.test));
    let drawn = model.parts.iter().flat_map(|part| part.drawn.iter().map(|(_, test)| test));
    let of_measures = dimensions.chain(life).chain(sums).chain(advice).chain(lasting);
    gates.chain(shares).chain(chances).chain(lines).chain(leaks).chain(of_measures).chain(drawn)
}

/// Every expression of the rules
fn formulas(model: &Model) -> impl Iterator<Item = &Formula> {
    let symptoms = model.symptoms.iter().filter_map(|symptom| Some(&symptom.reading.as_ref()?.0));
    let facts = model.facts.iter().filter_map(|fact| Some(&fact.derived.as_ref()?.0));
    let sums = model.measures.iter().flat_map(|measure| measure.sums.iter().map(|(sum, _)| sum));
    let against = model.measures.iter().filter_map(|measure| Some(&measure.against.as_ref()?.formula));
    symptoms.chain(facts).chain(sums).chain(against)
}
