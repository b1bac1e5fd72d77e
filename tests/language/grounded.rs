//! Rules and a case held against each other, and the posteriors by going through every state of the network.

use crate::language::said::take;
use pinboss::case;
use pinboss::ground::{Ground, Origin, ground};
use pinboss::infer::Finding;
use pinboss::infer::enumerate::enumerate;
use pinboss::model::{CauseId, ConditionId, FactId, Model, SymptomId};
use pinboss::network::NodeId;
use pinboss::place::{Place, Side};
use pinboss::problem::Problems;
use pinboss::source::Sources;

/// What the rules below start with
const START: &str = "
scale
    always 98%   usually 85%   often 60%   sometimes 30%   seldom 8%
kind upkeep: \"put off\" counts against owner
part roller, each side, numbered 1 to 9: \"roller\"
";

/// Rules with one machine
pub struct Bench {
    pub model: Model,
    pub ground: Ground,
    pub problems: Problems,
    pub sources: Sources,
}

/// Rules behind the usual start, and a machine with these facts, written as in a case file
pub fn bench(rules: &str, facts: &str) -> Bench {
    visit(rules, &format!("{{tag: T, hours: 3000, facts: {{{facts}}}}}"), "{}")
}

/// The same with what was seen on it
pub fn visit(rules: &str, machine: &str, seen: &str) -> Bench {
    let taken = take(&[&format!("{START}{rules}")]);
    assert_eq!(taken.errors(), Vec::<String>::new());
    let mut sources = Sources::default();
    let id = sources.add("case.yaml", format!("case: x\nmachine: {machine}\nseen: {seen}\n"));
    let (inspection, said) = case::read(&sources, id);
    assert!(said.is_empty(), "{said:?}");
    let (ground, problems) = ground(&taken.model, &inspection.unwrap());
    Bench { model: taken.model, ground, problems, sources }
}

/// `left`, `right`, `left 3` for the third roller of the left side, or else the machine
fn place(words: &str) -> Place {
    let mut words = words.split_whitespace();
    let Some(side) = words.next().and_then(Side::from_word) else {
        return Place::Machine;
    };
    match words.next().map(str::parse) {
        Some(number) => Place::Numbered { side, part: "roller".to_owned(), number: number.unwrap() },
        None => Place::Side(side),
    }
}

impl Bench {
    /// The node of a name at a place, as in `worn left`, with the numbers of its states in which a grade, a form or a
    /// choice shows
    fn node(&self, name_at: &str, grade: &str) -> Option<(NodeId, Vec<usize>)> {
        let (name, at) = name_at.split_once(' ').unwrap_or((name_at, ""));
        let place = place(at);
        let model = &self.model;
        let effects = model.conditions.iter().enumerate().map(|(number, it)| (it, Some(number)));
        let symptoms = model.symptoms.iter().map(|it| (&it.effect, None));
        for (number, (effect, condition)) in effects.chain(symptoms).enumerate() {
            if effect.common.name == name {
                let found = effect.grades.find(grade).unwrap();
                let states = (0..effect.grades.states()).filter(|&state| effect.grades.shows(found, state));
                let origin = match condition {
                    Some(number) => Origin::Condition(ConditionId(number), place),
                    None => Origin::Symptom(SymptomId(number - model.conditions.len()), place),
                };
                return self.ground.node(&origin).map(|node| (node, states.collect()));
            }
        }
        if let Some(number) = model.causes.iter().position(|it| it.common.name == name) {
            let cause = &model.causes[number];
            let form = cause.forms.names().iter().position(|form| form == grade);
            let is_it = |state: &usize| form.is_none_or(|form| cause.form(*state) == form + 1);
            let states = (1..cause.states()).filter(is_it).collect();
            return self.ground.node(&Origin::Cause(CauseId(number), place)).map(|node| (node, states));
        }
        let number = model.facts.iter().position(|it| it.common.name == name).unwrap();
        let choice = model.facts[number].choices.iter().position(|it| it == grade).unwrap();
        let origin = Origin::Fact(FactId(number), place.side());
        self.ground.node(&origin).map(|node| (node, vec![choice]))
    }

    /// Whether something is on this machine at all
    pub fn has(&self, name_at: &str) -> bool {
        let grade = if self.is_cause(name_at) { "" } else { "yes" };
        self.node(name_at, grade).is_some()
    }

    fn is_cause(&self, name_at: &str) -> bool {
        let name = name_at.split(' ').next().unwrap();
        self.model.causes.iter().any(|cause| cause.common.name == name)
    }

    /// Chance that all of these show, each a name at a place with a grade, as in `("worn left", "heavy")`
    pub fn chance(&self, of: &[(&str, &str)]) -> f64 {
        let findings: Vec<Finding> = of.iter().map(|(name_at, grade)| self.finding(name_at, grade)).collect();
        libm::exp(enumerate(&self.ground.network, &findings).log_evidence)
    }

    /// Chance of the first, given the rest
    pub fn given(&self, wanted: (&str, &str), known: &[(&str, &str)]) -> f64 {
        let all: Vec<(&str, &str)> = known.iter().copied().chain([wanted]).collect();
        self.chance(&all) / self.chance(known)
    }

    fn finding(&self, name_at: &str, grade: &str) -> Finding {
        let (node, states) = self.node(name_at, grade).unwrap_or_else(|| panic!("no {name_at} here"));
        let count = self.ground.network.states(node);
        let likelihood = (0..count).map(|state| f64::from(u8::from(states.contains(&state)))).collect();
        Finding { node, likelihood }
    }

    /// What is said of the case, each as `code | underlined | message`
    pub fn said(&self) -> Vec<String> {
        let sorted = self.problems.sorted();
        let shown = sorted.iter();
        shown
            .map(|it| format!("{} | {} | {}", it.code.slug(), self.sources.slice(it.at), it.message))
            .collect()
    }
}

/// Holds a figure against the one had by hand
#[track_caller]
pub fn same(computed: f64, by_hand: f64) {
    assert!((computed - by_hand).abs() < 1e-12, "{computed} in place of {by_hand}");
}
