//! What to look at that would settle a weight: the open checks, by how many bits each is expected to tell of the statement.
//!
//! The statement, that at least one of some causes is present, is no node of the network and need not be one: two circuits
//! do, one as things are and one with all of these causes absent, for by Bayes
//!
//! P(none is present | outcome) = P(outcome | findings, none is present) · P(none is present | findings) / P(outcome | findings).

use crate::ground::{Ground, Origin};
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::engine::Engine;
use crate::infer::information::{Effort, Information, entropy, information_by};
use crate::infer::pattern::Ask;
use crate::infer::{Finding, Limits, TooWide};
use crate::model::Model;
use crate::network::NodeId;
use crate::reason::decibans::{self, LEAST};
use crate::reason::evidence::findings;
use crate::reason::next::order::order;
use crate::reason::next::probes::{self, Open};
use crate::reason::next::{NextCheck, Shows, What, shown};
use crate::reason::{Settings, Weighing};
use std::collections::{BTreeMap, BTreeSet};

/// Chance under which an outcome is not shown
const RARE: f64 = 0.005;

/// A check with what it would do to the weight
#[derive(Clone, Debug)]
pub struct Settling {
    /// The check; its bits are those of the statement
    pub check: NextCheck,
    /// What can come out, the most telling first
    pub outcomes: Vec<Outcome>,
}

/// One thing that can come out
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// What shows; none for all looked at being normal
    pub shows: Option<Shows>,
    /// Its chance
    pub chance: f64,
    /// The weight of all findings then, in decibans
    pub decibans: f64,
}

/// For each of some statements, given by their causes, the checks still open that would tell whether one of these is present.
///
/// Where a check has over 64 joint outcomes, its worth is that of the best of its looks alone. All of them together are worth no
/// less, and the figure is not said to be exact.
///
/// None for a statement where the findings with everything that may still be seen couple too much, or where its checks
/// would take more work than the budget allows.
pub fn settle(weighing: &Weighing, statements: &[Vec<NodeId>]) -> Vec<Option<Vec<Settling>>> {
    let (model, ground, engine) = (weighing.model(), weighing.ground(), weighing.engine());
    let Settings { limits, budget, .. } = weighing.settings();
    let open = probes::open(model, ground);
    let probed: Vec<NodeId> =
        open.iter().flat_map(|open| open.probes.iter().map(|probe| probe.node)).collect();
    let is_fact = |node: &NodeId| matches!(ground.origin(*node), Some(Origin::Fact(..)));
    let (facts, leaves): (Vec<NodeId>, Vec<NodeId>) = probed.into_iter().partition(is_fact);
    let ask = Ask { keep: facts, bound: leaves };
    let answers = answers(ground, &open);
    let affordable = |circuit: &Circuit| answers.saturating_mul(circuit.total()) as u64 <= budget.entries;
    let compiled = |found: &[Finding]| engine.circuit(found, &ask, limits).ok().filter(|own| affordable(own));
    let mut checks = OpenChecks { model, ground, open: &open, scratch: Scratch::default() };
    let found = findings(ground);
    let Some(whole) = compiled(&found) else { return vec![None; statements.len()] };
    let seen = checks.all_seen(&whole);
    let before = whole.evaluate(&whole.weights());
    let one = |causes: &Vec<NodeId>| {
        let absent = causes.iter().map(|cause| Finding::state(&ground.network, *cause, 0));
        let none: Vec<Finding> = found.iter().cloned().chain(absent).collect();
        let without = compiled(&none)?;
        let after = without.evaluate(&without.weights());
        let start = start(engine, ground, causes, limits).ok()?;
        let own = Statement { absent: after.evidence_over(&before), start };
        Some(checks.settling(&own, &seen, &without))
    };
    statements.iter().map(one).collect()
}

/// How many times a circuit must be evaluated to value the open checks
fn answers(ground: &Ground, open: &[Open]) -> usize {
    let most = Effort::default().outcomes;
    let of_check = |open: &Open| {
        let sizes = || open.probes.iter().map(|probe| ground.network.states(probe.node));
        let joint = sizes().fold(1_usize, usize::saturating_mul);
        if joint <= most { joint } else { sizes().sum() }
    };
    open.iter().map(of_check).fold(0, usize::saturating_add)
}

struct OpenChecks<'a> {
    model: &'a Model,
    ground: &'a Ground,
    open: &'a [Open],
    scratch: Scratch,
}

/// What a check may show, and the chances of it
struct Seen {
    information: Information,
    exact: bool,
}

impl OpenChecks<'_> {
    /// What every open check may show, by a circuit
    fn all_seen(&mut self, circuit: &Circuit) -> Vec<Vec<Seen>> {
        self.open.iter().map(|open| self.seen(circuit, open)).collect()
    }

    /// The checks in order, from what each may show as things are (`seen`) and with none of the causes present
    fn settling(&mut self, own: &Statement, seen: &[Vec<Seen>], without: &Circuit) -> Vec<Settling> {
        let unseen = self.all_seen(without);
        let both = self.open.iter().zip(seen.iter().zip(&unseen));
        let checks = both.map(|(open, (seen, unseen))| own.valued(self.model, open, seen, unseen));
        ordered(self.model, self.ground, checks.collect())
    }

    /// All joint outcomes of a check by a circuit, or those of each of its looks alone where they are too many
    fn seen(&mut self, circuit: &Circuit, open: &Open) -> Vec<Seen> {
        let nodes: Vec<NodeId> = open.probes.iter().map(|probe| probe.node).collect();
        let network = &self.ground.network;
        let effort = Effort::default();
        let mut by =
            |nodes: &[NodeId]| information_by(circuit, network, nodes, &[], &effort, &mut self.scratch);
        match by(&nodes) {
            Some(information) => vec![Seen { information, exact: true }],
            None => {
                let single = nodes.iter().filter_map(|node| by(&[*node]));
                single.map(|information| Seen { information, exact: false }).collect()
            }
        }
    }
}

/// Odds in decibans that one of the causes is present before anything was found
fn start(engine: &Engine, ground: &Ground, causes: &[NodeId], limits: &Limits) -> Result<f64, TooWide> {
    let absent: Vec<Finding> =
        causes.iter().map(|cause| Finding::state(&ground.network, *cause, 0)).collect();
    let circuit = engine.circuit(&absent, &Ask::default(), limits)?;
    Ok(odds(libm::exp(circuit.evaluate(&circuit.weights()).log_evidence)))
}

/// Odds in decibans from the probability that all are absent
fn odds(absent: f64) -> f64 {
    decibans::of_ratio((1.0 - absent).max(LEAST) / absent.max(LEAST))
}

/// A statement as the findings leave it
struct Statement {
    /// Probability, given all findings, that none of its causes is present
    absent: f64,
    /// Its odds before anything was found, in decibans
    start: f64,
}

impl Statement {
    /// P(no cause | outcome), from the chances of the outcome as things are and with no cause
    fn then(&self, chance: f64, unseen: f64) -> f64 {
        (self.absent * unseen / chance).clamp(0.0, 1.0)
    }

    fn bits(&self, seen: &Information, unseen: &Information) -> f64 {
        let without: BTreeMap<&[usize], f64> =
            unseen.outcomes.iter().map(|outcome| (&*outcome.states, outcome.chance)).collect();
        let both = |absent: f64| entropy(&[absent, 1.0 - absent]);
        let after: f64 = seen
            .outcomes
            .iter()
            .map(|outcome| {
                // else: it cannot come out so with none of the causes present
                let unseen = without.get(&*outcome.states).copied().unwrap_or(0.0);
                outcome.chance * both(self.then(outcome.chance, unseen))
            })
            .sum();
        (both(self.absent) - after).max(0.0)
    }

    fn valued(&self, model: &Model, open: &Open, seen: &[Seen], unseen: &[Seen]) -> Settling {
        let mut bits = 0.0_f64;
        let mut outcomes = Vec::new();
        for (number, (seen, unseen)) in seen.iter().zip(unseen).enumerate() {
            bits = bits.max(self.bits(&seen.information, &unseen.information));
            for single in &seen.information.singles {
                let probe = if seen.exact { single.probe } else { number };
                let other = unseen.information.singles.iter();
                let mut other = other.filter(|own| (own.probe, own.state) == (single.probe, single.state));
                let unseen = other.next().map_or(0.0, |own| own.chance);
                let shows = open.probes.get(probe).and_then(|probe| shown(model, probe, single.state));
                if let Some(shows) = shows.filter(|_| single.chance >= RARE) {
                    outcomes.push(self.outcome(Some(shows), single.chance, unseen));
                }
            }
            if seen.exact {
                outcomes.extend(self.all_normal(open, &seen.information, &unseen.information));
            }
        }
        let now = odds(self.absent) - self.start;
        let telling = |own: &Outcome| own.chance * (own.decibans - now).abs();
        outcomes.sort_by(|a, b| telling(b).total_cmp(&telling(a)));
        let check = NextCheck {
            what: open.what,
            place: open.place.clone(),
            bits,
            exact: seen.iter().all(|seen| seen.exact),
            minutes: open.minutes,
            set_up: None,
            first: None,
            outcomes: Vec::new(),
            all_normal: None,
        };
        Settling { check, outcomes }
    }

    fn outcome(&self, shows: Option<Shows>, chance: f64, unseen: f64) -> Outcome {
        Outcome { shows, chance, decibans: odds(self.then(chance, unseen)) - self.start }
    }

    /// Everything that the check shows being normal
    fn all_normal(&self, open: &Open, seen: &Information, unseen: &Information) -> Option<Outcome> {
        let is_check = matches!(open.what, What::Check(_));
        let normal = |information: &Information| {
            let mut all = information.outcomes.iter();
            all.find(|outcome| outcome.states.iter().all(|state| *state == 0)).map(|outcome| outcome.chance)
        };
        let chance = normal(seen).filter(|_| is_check)?;
        let unseen = normal(unseen).unwrap_or(0.0); // else: as above
        Some(self.outcome(None, chance, unseen))
    }
}

/// In the order in which to do them, what tells nothing left out
fn ordered(model: &Model, ground: &Ground, list: Vec<Settling>) -> Vec<Settling> {
    let checks = order(model, ground, &BTreeSet::new(), list.iter().map(|own| own.check.clone()).collect());
    let settling = checks.into_iter().map(|check| {
        let mut own =
            list.iter().filter(|own| (own.check.what, &own.check.place) == (check.what, &check.place));
        let outcomes = own.next().map_or_else(Vec::new, |own| own.outcomes.clone());
        Settling { check, outcomes }
    });
    settling.collect()
}
