//! Answers cases over any network, and tells what they cost: the one way for programs outside to ask the engine.
//!
//! `cargo bench --bench answer -- NETWORK CASES [REPEATS]` reads two JSON files. `tests/support/network_file.rs` says how
//! a network is written down; `CASES` is `{"cases": [...]}`, and each case has
//!
//! - `evidence`, from id to state, and `likelihoods`, from id to P(observation | state); either may be left out;
//! - `changed`, like `evidence`, if one finding is then to be changed in a dialogue;
//! - `moved`, from id to another table of the node, its rows as in the network, if numbers are to be moved.
//!
//! It prints `{"answers": [...]}` with one object for each case, in their order:
//!
//! - `log_evidence`, natural, `null` when the findings cannot be, and `posteriors`, from id to the probability of each
//!   state: of the nodes of the kind `cause`, or of all nodes when none is of that kind;
//! - `table` and `total`, the entries of the circuit's largest table and of all its tables;
//! - `compile_ms`, with a pattern never met before, `again_ms`, with one met before, and `evaluate_ms`, the shortest of
//!   the repeats, which other work on the machine disturbs least;
//! - `changed`: evidence, posteriors and `evaluate_ms` from a circuit at hand, or `null` when nothing was to be changed;
//! - `moved`: from id to the probability of the evidence under the node's other table over that under its own, by the slopes
//!   of the circuit; `null` where they cannot tell it;
//! - or else `too_wide`, what the engine says when it has no exact answer, `compile_ms`, how long that took, and `bounds`,
//!   from id to the bounds on the probability of each state, `bounds_ms` how long these took.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "what it says goes to the program that asked")]

#[path = "support/asked.rs"]
mod asked;
#[path = "../tests/support/network_file.rs"]
mod network_file;

use std::collections::BTreeMap;
use std::fs;
use std::process::ExitCode;
use std::sync::Arc;
use std::time::Instant;

use asked::{Asked, bounded};
use pinboss::infer::beliefs::Beliefs;
use pinboss::infer::engine::Engine;
use pinboss::infer::mould::Mould;
use pinboss::infer::pattern::Ask;
use pinboss::infer::slopes::Slopes;
use pinboss::infer::{Finding, Limits, TooWide};
use pinboss::network::{Network, NodeId};
use serde::Serialize;
use serde_json::{Value, json};

/// Told when no file is named, as when all benches are run
const USAGE: &str = "cargo bench --bench answer -- NETWORK CASES [REPEATS]";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    match run(&arguments) {
        Ok(said) => {
            println!("{said}");
            ExitCode::SUCCESS
        }
        Err(fault) => {
            eprintln!("answer: {fault}");
            ExitCode::FAILURE
        }
    }
}

fn run(arguments: &[String]) -> Result<String, String> {
    let (network, cases, repeats) = match arguments {
        [] => return Ok(USAGE.to_owned()),
        [network, cases] => (network, cases, 1),
        [network, cases, repeats] => (network, cases, repeats.parse().map_err(|_| USAGE)?),
        _ => return Err(USAGE.to_owned()),
    };
    let desk = within(network, |file| desk(file, repeats))?;
    within(cases, |file| answers(&desk, file))
}

/// What is made of a JSON file, or what is wrong with it, by its name
fn within<T>(path: &str, make: impl FnOnce(&Value) -> Result<T, String>) -> Result<T, String> {
    let text = fs::read_to_string(path).map_err(|fault| fault.to_string());
    let file = text.and_then(|text| serde_json::from_str(&text).map_err(|fault| fault.to_string()));
    file.and_then(|file| make(&file)).map_err(|fault| format!("{path}: {fault}"))
}

fn desk(file: &Value, repeats: usize) -> Result<Desk, String> {
    let network = network_file::network(file)?;
    let wanted = wanted(file, &network);
    Ok(Desk { wanted, engine: Engine::new(Arc::new(network)), repeats: repeats.max(1) })
}

fn answers(desk: &Desk, file: &Value) -> Result<String, String> {
    let cases = file.get("cases").and_then(Value::as_array).ok_or("there is no list `cases`")?;
    let answer = |(place, case)| desk.answer(case).map_err(|fault| format!("case {place}: {fault}"));
    let answers = cases.iter().enumerate().map(answer).collect::<Result<Vec<_>, _>>()?;
    Ok(json!({ "answers": answers }).to_string())
}

/// The causes, or all nodes of a network that knows no causes
fn wanted(file: &Value, network: &Network) -> Vec<NodeId> {
    let nodes = file.get("nodes").and_then(Value::as_array).into_iter().flatten();
    let is_cause = |node: &Value| node.get("kind").is_some_and(|kind| kind == "cause");
    let causes: Vec<NodeId> =
        network.nodes().zip(nodes).filter(|(_, node)| is_cause(node)).map(|(id, _)| id).collect();
    if causes.is_empty() { network.nodes().collect() } else { causes }
}

/// Probability of the findings with another table of one node over that with its own, for each of some tables
fn moved(
    network: &Network,
    findings: Vec<Finding>,
    tables: &Value,
) -> Result<BTreeMap<String, Option<f64>>, String> {
    if tables.is_null() {
        return Ok(BTreeMap::new());
    }
    let tables: BTreeMap<String, Vec<Vec<f64>>> =
        serde_json::from_value(tables.clone()).map_err(|fault| format!("`moved`: {fault}"))?;
    let told = |stop: TooWide| format!("numbers moved: {stop}");
    let mould = Mould::new(network, findings, Ask::default(), &Limits::default()).map_err(told)?;
    let circuit = mould.circuit(network).map_err(told)?;
    let slopes = Slopes::new(network, &mould, &circuit, &circuit.weights());
    let ratio = |(id, rows): (String, Vec<Vec<f64>>)| {
        let node = network.find(&id).ok_or(format!("there is no node `{id}`"))?;
        let ratio = slopes.as_ref().and_then(|slopes| slopes.ratio(node, 0, &rows.concat()));
        Ok((id, ratio))
    };
    tables.into_iter().map(ratio).collect()
}

struct Desk {
    engine: Engine,
    wanted: Vec<NodeId>,
    repeats: usize,
}

/// What is told of a case; its members stand at the head of this file
#[derive(Serialize)]
#[serde(untagged)]
enum Answer {
    Refused {
        too_wide: String,
        compile_ms: f64,
        bounds: BTreeMap<String, Vec<[f64; 2]>>,
        bounds_ms: f64,
    },
    Exact {
        table: usize,
        total: usize,
        compile_ms: f64,
        again_ms: f64,
        #[serde(flatten)]
        told: Told,
        changed: Option<Told>,
        moved: BTreeMap<String, Option<f64>>,
    },
}

#[derive(Serialize)]
struct Told {
    log_evidence: f64,
    posteriors: BTreeMap<String, Vec<f64>>,
    evaluate_ms: f64,
}

impl Desk {
    fn answer(&self, case: &Value) -> Result<Answer, String> {
        let network = self.engine.network();
        let mut findings = network_file::hard(network, &case["evidence"])?;
        findings.extend(network_file::soft(network, &case["likelihoods"])?);
        let changed = network_file::hard(network, &case["changed"])?;
        let (asked, compile_ms) = self.timed(|| {
            self.engine.forget();
            Asked::found(&self.engine, &findings, &self.wanted)
        });
        let mut asked = match asked {
            Ok(asked) => asked,
            Err(stop) => return Ok(self.refused(&findings, &stop, compile_ms)),
        };
        let (_, again_ms) = self.timed(|| Asked::found(&self.engine, &findings, &self.wanted));
        let (table, total) = asked.width();
        let told = self.told(|| asked.evaluated());
        let changed = changed.first().map(|to| self.changed(&findings, to)).transpose()?;
        let moved = moved(network, findings, &case["moved"])?;
        Ok(Answer::Exact { table, total, compile_ms, again_ms, told, changed, moved })
    }

    /// Bounds in place of an exact answer
    fn refused(&self, findings: &[Finding], stop: &TooWide, compile_ms: f64) -> Answer {
        let start = Instant::now();
        let bounds = bounded(&self.engine, findings, &self.wanted);
        let bounds_ms = start.elapsed().as_secs_f64() * 1e3;
        let network = self.engine.network();
        let states = |node: NodeId| {
            let states = (0..network.states(node)).filter_map(|state| bounds.among(node, |own| own == state));
            states.map(|interval| [interval.lower, interval.upper]).collect()
        };
        let bounds = self.wanted.iter().map(|&node| (network.name(node).to_owned(), states(node))).collect();
        Answer::Refused { too_wide: stop.to_string(), compile_ms, bounds, bounds_ms }
    }

    /// One finding changed, with a circuit that is at hand
    fn changed(&self, findings: &[Finding], to: &Finding) -> Result<Told, String> {
        let wanted: Vec<NodeId> = self.wanted.iter().copied().chain([to.node]).collect();
        let asked = Asked::found(&self.engine, findings, &wanted);
        let mut asked = asked.map_err(|stop| format!("one finding changed: {stop}"))?;
        asked.evaluated();
        Ok(self.told(|| asked.changed(to)))
    }

    fn told(&self, evaluate: impl FnMut() -> Beliefs) -> Told {
        let (beliefs, evaluate_ms) = self.timed(evaluate);
        let posterior = |&node: &NodeId| {
            Some((self.engine.network().name(node).to_owned(), beliefs.marginal(node)?.to_vec()))
        };
        let posteriors = self.wanted.iter().filter_map(posterior).collect();
        Told { log_evidence: beliefs.log_evidence, posteriors, evaluate_ms }
    }

    /// The last outcome of as many runs as asked for, and the shortest of their times in milliseconds
    fn timed<T>(&self, mut run: impl FnMut() -> T) -> (T, f64) {
        let mut once = || {
            let start = Instant::now();
            let outcome = run();
            (outcome, start.elapsed().as_secs_f64() * 1e3)
        };
        (1..self.repeats).fold(once(), |(_, shortest), _| {
            let (outcome, time) = once();
            (outcome, shortest.min(time))
        })
    }
}
