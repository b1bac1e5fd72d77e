//! Answers cases over any network, and tells what they cost: the one way for programs outside to ask the engine.
//!
//! `cargo bench --bench answer -- NETWORK CASES [REPEATS]` reads two JSON files. `tests/support/network_file.rs` says how
//! a network is written down; `CASES` is `{"cases": [...]}`, and each case has
//!
//! - `evidence`, from id to state, and `likelihoods`, from id to P(observation | state); either may be left out;
//! - `changed`, like `evidence`, if one finding is then to be changed in a dialogue.
//!
//! It prints `{"answers": [...]}` with one object for each case, in their order:
//!
//! - `log_evidence`, natural, `null` when the findings cannot be, and `posteriors`, from id to the probability of each
//!   state: of the nodes of the kind `cause`, or of all nodes when none is of that kind;
//! - `table` and `total`, the entries of the circuit's largest table and of all its tables;
//! - `compile_ms` and `evaluate_ms`, medians over the repeats;
//! - `changed`: the same but `compile_ms`, from a circuit that is at hand;
//! - or else `too_wide`, what the engine says when it refuses the case, and `compile_ms`, how long that took.

#![expect(clippy::print_stdout, reason = "what it finds out goes to the program that asked")]

#[path = "support/asked.rs"]
mod asked;
#[path = "../tests/support/network_file.rs"]
mod network_file;

use std::fs;
use std::time::Instant;

use asked::Asked;
use pinboss::infer::Finding;
use pinboss::infer::beliefs::Beliefs;
use pinboss::network::{Network, NodeId};
use serde_json::{Value, json};

/// Told when no file is named, as when all benches are run
const USAGE: &str = "answer: cargo bench --bench answer -- NETWORK CASES [REPEATS]";

fn main() -> Result<(), String> {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    let (network, cases, repeats) = match arguments.as_slice() {
        [network, cases] => (network, cases, 1),
        [network, cases, repeats] => (network, cases, repeats.parse().map_err(|_| USAGE)?),
        [] => {
            println!("{USAGE}");
            return Ok(());
        }
        _ => return Err(USAGE.to_owned()),
    };
    println!("{}", answers(&read(network)?, &read(cases)?, repeats)?);
    Ok(())
}

fn read(path: &str) -> Result<Value, String> {
    let text = fs::read_to_string(path).map_err(|fault| format!("{path}: {fault}"))?;
    serde_json::from_str(&text).map_err(|fault| format!("{path}: {fault}"))
}

fn answers(file: &Value, cases: &Value, repeats: usize) -> Result<Value, String> {
    let network = network_file::network(file)?;
    let cases = cases.get("cases").and_then(Value::as_array).ok_or("there is no list `cases`")?;
    let desk = Desk { wanted: wanted(file, &network), network, repeats: repeats.max(1) };
    let answer = |(place, case)| desk.answer(case).map_err(|fault| format!("case {place}: {fault}"));
    Ok(json!({ "answers": cases.iter().enumerate().map(answer).collect::<Result<Vec<_>, _>>()? }))
}

/// The causes, or all nodes of a network that knows no causes
fn wanted(file: &Value, network: &Network) -> Vec<NodeId> {
    let nodes = file.get("nodes").and_then(Value::as_array).into_iter().flatten();
    let is_cause = |node: &Value| node.get("kind").is_some_and(|kind| kind == "cause");
    let causes: Vec<NodeId> =
        network.nodes().zip(nodes).filter(|(_, node)| is_cause(node)).map(|(id, _)| id).collect();
    if causes.is_empty() { network.nodes().collect() } else { causes }
}

struct Desk {
    network: Network,
    wanted: Vec<NodeId>,
    repeats: usize,
}

impl Desk {
    fn answer(&self, case: &Value) -> Result<Value, String> {
        let mut findings = network_file::hard(&self.network, &case["evidence"])?;
        findings.extend(network_file::soft(&self.network, &case["likelihoods"])?);
        let compile = || Asked::compiled(&self.network, &findings, &self.wanted);
        let (asked, compile_ms) = self.timed(compile);
        let mut asked = match asked {
            Ok(asked) => asked,
            Err(stop) => return Ok(json!({ "too_wide": stop.to_string(), "compile_ms": compile_ms })),
        };
        let (table, total) = asked.width();
        let (beliefs, evaluate_ms) = self.timed(|| asked.evaluated());
        let mut answer = self.told(&beliefs, evaluate_ms);
        answer["compile_ms"] = json!(compile_ms);
        answer["table"] = json!(table);
        answer["total"] = json!(total);
        if let Some(changed) = network_file::hard(&self.network, &case["changed"])?.first() {
            answer["changed"] = self.changed(&findings, changed)?;
        }
        Ok(answer)
    }

    /// One finding changed, with a circuit that was compiled before
    fn changed(&self, findings: &[Finding], to: &Finding) -> Result<Value, String> {
        let wanted: Vec<NodeId> = self.wanted.iter().copied().chain([to.node]).collect();
        let mut asked = Asked::compiled(&self.network, findings, &wanted).map_err(|stop| stop.to_string())?;
        asked.evaluated();
        let (beliefs, evaluate_ms) = self.timed(|| asked.changed(to));
        Ok(self.told(&beliefs, evaluate_ms))
    }

    fn told(&self, beliefs: &Beliefs, evaluate_ms: f64) -> Value {
        let posteriors: serde_json::Map<String, Value> = self
            .wanted
            .iter()
            .filter_map(|&node| Some((self.network.name(node).to_owned(), json!(beliefs.marginal(node)?))))
            .collect();
        json!({ "log_evidence": beliefs.log_evidence, "posteriors": posteriors, "evaluate_ms": evaluate_ms })
    }

    /// The last outcome of as many runs as asked for, and the median of their times in milliseconds
    fn timed<T>(&self, mut run: impl FnMut() -> T) -> (T, f64) {
        let mut once = || {
            let start = Instant::now();
            let outcome = run();
            (outcome, start.elapsed().as_secs_f64() * 1e3)
        };
        let (mut outcome, first) = once();
        let mut times = vec![first];
        for _ in 1..self.repeats {
            let (again, time) = once();
            outcome = again;
            times.push(time);
        }
        times.sort_by(f64::total_cmp);
        (outcome, times.get(times.len() / 2).copied().unwrap_or(first))
    }
}
