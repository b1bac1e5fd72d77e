//! How well findings and rules go together: conflict, findings that nothing explains, findings that cannot be.
//!
//! A finding counts as unexplained when, given everything, its grade most likely came from the node's leak, and when the leak
//! gives it to under 3 % of such places; wear that age explains is no riddle.
//!
//! Findings hardly go together when some set of them is under a tenth as likely together as apart and no cause has grown by as
//! much (a rare case is no contradiction). Sets of two and three with an abnormal finding are tried within a quarter of a
//! second's work, then findings are left out of the whole one by one.
//!
//! Findings that cannot be are refused instead of guessed at: P(findings) = 0 has no posterior. A smallest set that cannot be
//! is named, so that the person looks again at those, or mends the rule that says `always`.

mod together;

pub use together::{HARDLY, Hardly};

use super::evidence::{Evidence, findings, hidden};
use crate::ground::{Ground, Observation, Origin};
use crate::infer::engine::Engine;
use crate::infer::pattern::Ask;
use crate::infer::{self, Finding, Limits, TooWide, chosen};
use crate::network::shape::Shape;
use crate::network::{Law, Network, NodeId, Path};
use std::f64::consts::LN_2;

/// Probability, given all findings, from which an abnormal finding counts as explained by nothing in the rules
const UNEXPLAINED_FROM: f64 = 0.5;
/// Share of places that show a grade without any cause from which it is ordinary for such a machine, and no riddle
const ORDINARY_FROM: f64 = 0.03;

/// How the findings go together
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Natural logarithm of the probability of all findings
    pub log_evidence: f64,
    /// log2(Π P(eᵢ) / P(e)), in bits: over 0 when the findings are less likely together than apart (Jensen, Chamberlain,
    /// Nordahl and Jensen 1990)
    pub conflict: f64,
    /// Abnormal observations, not ordinary for a machine of such age and ground, that most likely came about without any
    /// cause or condition of the rules, with the probability of that
    pub unexplained: Vec<(usize, f64)>,
    /// The smallest set of observations that hardly go together, and that no cause explains
    pub hardly: Option<Hardly>,
}

/// Jensen's measure of conflict, bits: log2(Π P(eᵢ) / P(e)), from the natural logarithms of the probabilities of the findings one
/// by one, added up, and of all together
pub fn conflict(singly: f64, together: f64) -> f64 {
    (singly - together) / LN_2
}

/// How the findings of an inspection go together
///
/// # Errors
/// [`TooWide`] when one of the questions couples too much.
pub(super) fn fit(ground: &Ground, evidence: &Evidence, limits: &Limits) -> Result<Fit, TooWide> {
    let log_evidence = evidence.all().log_evidence;
    let singly = (0..evidence.findings())
        .map(|number| evidence.given(&chosen::only(evidence.findings(), &[number])).log_evidence)
        .sum();
    let mut alone = Vec::new();
    for (number, own) in ground.observations.iter().enumerate() {
        if own.grade != 0 && !is_ordinary(ground, own) {
            let probability = unexplained(ground, evidence, number, limits)?;
            if probability > UNEXPLAINED_FROM {
                alone.push((number, probability));
            }
        }
    }
    let observations = ground.observations.iter().enumerate();
    let abnormal: Vec<usize> =
        observations.filter(|(_, own)| own.grade != 0).map(|(number, _)| number).collect();
    let abnormal = chosen::only(evidence.findings(), &abnormal);
    let hardly = together::hardly(evidence, &abnormal, &hidden(ground));
    Ok(Fit { log_evidence, conflict: conflict(singly, log_evidence), unexplained: alone, hardly })
}

/// Probability, given all findings, that an abnormal observation came about without any cause or condition of the rules
///
/// # Errors
/// [`TooWide`] when the question couples too much.
pub(super) fn unexplained(
    ground: &Ground,
    evidence: &Evidence,
    number: usize,
    limits: &Limits,
) -> Result<f64, TooWide> {
    let all = evidence.all();
    let explained = explained(ground, number, all.log_evidence, limits)?;
    let node = ground.observations.get(number).map(|own| own.node);
    let states = node.and_then(|node| all.marginal(node));
    // else: the circuit does not have it, where all that was found of it is that it is no worse than its grade
    let normal = states.and_then(|states| states.first().copied()).unwrap_or(0.0);
    Ok((1.0 - explained - normal).clamp(0.0, 1.0))
}

/// Probability, given all findings, that the parents of an observation bring its grade about by themselves.
///
/// The leak is taken out of the node and put into a child of it that says whether the grade seen would still have come
/// from the parents: P(that child, all other findings) / P(all findings).
fn explained(ground: &Ground, number: usize, log_evidence: f64, limits: &Limits) -> Result<f64, TooWide> {
    let Some(own) = ground.observations.get(number) else {
        return Ok(0.0);
    };
    let mut network = Network::clone(&ground.network);
    let Law::Max { shape, paths } = network.law(own.node).clone() else {
        return Ok(1.0);
    };
    let (leaks, others): (Vec<Path>, Vec<Path>) = paths.into_iter().partition(|path| is_leak(ground, path));
    let scale = own.likelihood.iter().copied().fold(0.0, f64::max);
    let Some(leak) = leaks.first().filter(|_| leaks.len() == 1 && scale > 0.0) else {
        return Ok(1.0);
    };
    let states = shape.states();
    let mut rows = Vec::new();
    for state in 0..states {
        for leaked in leak.rows.chunks(states) {
            let kept: f64 = leaked
                .iter()
                .enumerate()
                .filter(|(other, _)| state != 0 && shape.join(state, *other) == state)
                // else: entries left out are nought
                .map(|(_, share)| share * own.likelihood.get(state).copied().unwrap_or(0.0) / scale)
                .sum();
            rows.extend([1.0 - kept, kept]);
        }
    }
    let child = without_leak(&mut network, own.node, shape, others, leak, rows);
    let Some(child) = child else { return Ok(1.0) };
    let mut found = findings(ground);
    if let Some(finding) = found.get_mut(number) {
        *finding = Finding::state(&network, child, 1);
    }
    let circuit = infer::compile(&network, &found, &[], limits)?;
    let beliefs = circuit.evaluate(&circuit.weights());
    Ok(libm::exp(beliefs.log_evidence + libm::log(scale) - log_evidence).min(1.0))
}

/// True when many places show the grade without any of its causes
pub(super) fn is_ordinary(ground: &Ground, own: &Observation) -> bool {
    let Law::Max { shape, paths } = ground.network.law(own.node) else {
        return false;
    };
    let leaks = paths.iter().filter(|path| is_leak(ground, path));
    let rows = leaks.flat_map(|path| path.rows.chunks(shape.states()));
    let shown = |row: &[f64]| {
        row.iter().zip(&own.likelihood).skip(1).map(|(share, weight)| share * weight).sum::<f64>()
    };
    let scale = own.likelihood.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
    rows.map(shown).any(|share| share / scale >= ORDINARY_FROM)
}

fn is_leak(ground: &Ground, path: &Path) -> bool {
    let fact = |parent: &NodeId| matches!(ground.origin(*parent), Some(Origin::Fact(..)));
    path.parents.iter().all(fact)
}

fn without_leak(
    network: &mut Network,
    node: NodeId,
    shape: Shape,
    paths: Vec<Path>,
    leak: &Path,
    rows: Vec<f64>,
) -> Option<NodeId> {
    network.change(node, Law::Max { shape, paths }).ok()?;
    let parents = std::iter::once(node).chain(leak.parents.iter().copied()).collect();
    network.add("explained", 2, Law::Table { parents, rows }).ok()
}

/// Most findings among which pairs are tried one by one
const MOST_FOR_PAIRS: usize = 80;

/// A smallest set of observations that cannot occur together: one alone, else two, else one from which none can be left out
pub(super) fn impossible(evidence: &Evidence) -> Vec<usize> {
    let count = evidence.findings();
    smallest(count, |members| evidence.given(&chosen::only(count, members)).is_impossible())
}

/// The same where all of them together couple too much to be weighed: a smaller set is tried by itself
pub(super) fn impossible_apart(engine: &Engine, ground: &Ground, limits: &Limits) -> Vec<usize> {
    let found = findings(ground);
    smallest(found.len(), |members| {
        let some: Vec<Finding> = members.iter().filter_map(|&member| found.get(member).cloned()).collect();
        let circuit = engine.circuit(&some, &Ask::default(), limits);
        circuit.is_ok_and(|circuit| circuit.evaluate(&circuit.weights()).is_impossible())
    })
}

fn smallest(count: usize, mut cannot: impl FnMut(&[usize]) -> bool) -> Vec<usize> {
    if let Some(one) = (0..count).find(|&one| cannot(&[one])) {
        return vec![one];
    }
    if count <= MOST_FOR_PAIRS {
        for one in 0..count {
            if let Some(other) = (one + 1..count).find(|&other| cannot(&[one, other])) {
                return vec![one, other];
            }
        }
    }
    let mut kept: Vec<usize> = (0..count).collect();
    for number in 0..count {
        let fewer: Vec<usize> = kept.iter().copied().filter(|&other| other != number).collect();
        if cannot(&fewer) {
            kept = fewer;
        }
    }
    kept
}
