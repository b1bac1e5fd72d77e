//! The desk of somebody who follows the page: the rules written so far, the case at hand, the program.

use super::page::Block;
use super::{claims, reckoning};
use crate::support::rules;
use pinboss::problem::code::Code;
use pinboss::problem::{Problem, Problems};
use serde_json::Value;
use std::fs;
use std::process::{Command, Output};
use tempfile::TempDir;

/// A fault with its line on the page
type Fault = (usize, String);

/// Rules, case, and what was said last
#[derive(Default)]
pub struct Desk {
    /// Declarations by sort and name: one written again takes the place of the one before
    rules: Vec<(String, String)>,
    case: Option<String>,
    answer: Option<Value>,
    /// The rules with a wrong block, as long as no other is written
    wrong: Option<String>,
    said: Vec<String>,
}

impl Desk {
    /// Does what a block asks for; gives what does not come out as said
    pub fn take(&mut self, block: &Block) -> Vec<Fault> {
        if block.anew {
            *self = Desk::default();
        }
        if !block.is_known() {
            return vec![(block.line, format!("`{}` is no sort of example", block.info))];
        }
        let at_start = |fault: String| vec![(block.line, fault)];
        match block.sort() {
            "rules" => self.rules(block),
            "case" => self.case(block).map_or_else(Vec::new, at_start),
            "message" => self.message(block).map_or_else(Vec::new, at_start),
            "result" => self.result(block),
            "console" => self.console(block),
            _ => {
                let lines = block.numbered();
                lines.filter_map(|(line, text)| Some((line, reckoning::fault(text)?))).collect()
            }
        }
    }

    fn rules(&mut self, block: &Block) -> Vec<Fault> {
        let before = self.rules.clone();
        for (key, text) in declarations(&block.lines) {
            match self.rules.iter_mut().find(|(known, _)| *known == key) {
                Some(slot) => slot.1 = filled(&text, &slot.1),
                // The basis of a file stands above its blocks.
                None if key.starts_with("basis ") => self.rules.insert(0, (key, text)),
                None => self.rules.push((key, text)),
            }
        }
        let problems = problems(&self.written());
        let wanted = block.codes();
        // The page builds one set of rules step by step: what is used, or mended, may come further down.
        let later = |it: &&Problem| {
            matches!(it.code, Code::NeverUsed | Code::CauseUnfixed)
                && !wanted.iter().any(|code| code == it.code.slug())
        };
        let problems: Vec<&Problem> = problems.sorted().into_iter().filter(|it| !later(it)).collect();
        self.said = problems.iter().map(|problem| said(problem)).collect();
        self.wrong = None;
        if block.word() == "wrong" {
            self.wrong = Some(self.written());
            self.rules = before;
        } else {
            self.answer = None;
        }
        if wanted.is_empty() {
            let told = problems.iter().map(|it| format!("[{}] {}", it.code.slug(), it.message));
            return told.map(|told| (block.line, told)).collect();
        }
        let codes: Vec<&str> = problems.iter().map(|problem| problem.code.slug()).collect();
        if codes == wanted { Vec::new() } else { vec![(block.line, not(&codes, &wanted))] }
    }

    fn case(&mut self, block: &Block) -> Option<String> {
        let wrong = block.codes();
        let before = self.case.replace(block.text());
        self.answer = None;
        self.wrong = None;
        let output = self.run(&["diagnose", "case.yaml", "--rules", "mine", "--format", "json"]);
        let answer: Value = match serde_json::from_slice(&output.stdout) {
            Ok(answer) => answer,
            Err(_) => return Some(shown(&output)),
        };
        let problems: Vec<&Value> = answer.as_array().into_iter().flatten().collect();
        self.said = problems
            .iter()
            .map(|it| format!("{} help: {}", text(&it["message"]), text(&it["help"])))
            .collect();
        let codes: Vec<&str> = problems.iter().map(|it| text(&it["code"])).collect();
        let fault = (codes != wrong).then(|| not(&codes, &wrong));
        if wrong.is_empty() {
            self.answer = Some(answer);
        } else {
            self.case = before;
        }
        fault
    }

    fn message(&self, block: &Block) -> Option<String> {
        let words: Vec<&str> = block.lines.iter().flat_map(|line| line.split_whitespace()).collect();
        let said = self.said.join(" ");
        (words.join(" ") != said).then(|| format!("the program says: {said}"))
    }

    fn result(&mut self, block: &Block) -> Vec<Fault> {
        if self.case.is_none() {
            return vec![(block.line, "there is no case before this".to_owned())];
        }
        if self.answer.is_none() {
            let output = self.run(&["diagnose", "case.yaml", "--rules", "mine", "--format", "json"]);
            match serde_json::from_slice(&output.stdout) {
                Ok(answer) => self.answer = Some(answer),
                Err(_) => return vec![(block.line, shown(&output))],
            }
        }
        let Some(answer) = &self.answer else { return Vec::new() };
        block.numbered().filter_map(|(line, text)| Some((line, claims::fault(text, answer)?))).collect()
    }

    fn console(&self, block: &Block) -> Vec<Fault> {
        let starts = block.lines.iter().enumerate().filter(|(_, line)| line.starts_with("$ "));
        let starts: Vec<usize> = starts.map(|(number, _)| number).collect();
        if starts.first() != Some(&0) {
            return vec![(block.line, "a transcript starts with `$ pinboss …`".to_owned())];
        }
        let ends = starts.iter().skip(1).copied().chain([block.lines.len()]);
        let runs = starts.iter().zip(ends).filter_map(|(&start, end)| {
            let command = &block.lines[start][2..];
            let arguments: Vec<&str> = command.strip_prefix("pinboss ")?.split(' ').collect();
            let output = shown(&self.run(&arguments));
            let printed: Vec<&str> = output.lines().collect();
            let wanted: Vec<&str> = block.lines[start + 1..end].iter().map(String::as_str).collect();
            (!agrees(&wanted, &printed))
                .then(|| (block.line + start, format!("`{command}` prints:\n{output}")))
        });
        runs.collect()
    }

    fn written(&self) -> String {
        let blocks: Vec<&str> = self.rules.iter().map(|(_, text)| text.as_str()).collect();
        blocks.join("\n")
    }

    /// Runs the program where `mine` holds the rules and `case.yaml` the case
    fn run(&self, arguments: &[&str]) -> Output {
        let folder = TempDir::new().unwrap();
        fs::create_dir(folder.path().join("mine")).unwrap();
        let rules = self.wrong.clone().unwrap_or_else(|| self.written());
        fs::write(folder.path().join("mine/first.rules"), rules).unwrap();
        fs::write(folder.path().join("case.yaml"), self.case.as_deref().unwrap_or("")).unwrap();
        let mut command = Command::new(env!("CARGO_BIN_EXE_pinboss"));
        command.current_dir(folder.path()).env("COLUMNS", "90").env("NO_COLOR", "1");
        command.args(arguments).output().unwrap()
    }
}

/// Everything wrong or doubtful in one file of rules
fn problems(text: &str) -> Problems {
    rules::read([("first.rules", text)]).problems
}

fn said(problem: &Problem) -> String {
    let help = if problem.help.is_empty() { String::new() } else { format!(" help: {}", problem.help) };
    format!("{}{help}", problem.message)
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or("")
}

fn not(codes: &[&str], wanted: &[String]) -> String {
    format!("said [{}], not [{}]", codes.join(", "), wanted.join(", "))
}

/// What a run prints
fn shown(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stderr), String::from_utf8_lossy(&output.stdout))
}

/// Declarations of a block by sort and name, each with the comments above it
fn declarations(lines: &[String]) -> Vec<(String, String)> {
    let mut found: Vec<(String, String)> = Vec::new();
    let mut above = String::new();
    for line in lines {
        if line.is_empty() {
            continue;
        } else if line.starts_with('#') {
            above.push_str(&format!("{line}\n"));
        } else if line.starts_with(' ') {
            let text = format!("{above}{line}\n");
            above.clear();
            match found.last_mut() {
                Some(last) => last.1.push_str(&text),
                None => found.push((String::new(), text)),
            }
        } else {
            let key = line.split([',', ':', '"']).next().unwrap_or(line).trim().to_owned();
            found.push((key, format!("{above}{line}\n")));
            above.clear();
        }
    }
    found
}

/// A declaration in which an indented `...` stands for the clauses it had before
fn filled(text: &str, before: &str) -> String {
    let clauses: String =
        before.lines().filter(|line| line.starts_with(' ')).map(|line| format!("{line}\n")).collect();
    text.replace("    ...\n", &clauses)
}

/// Whether output is as wanted, where a line `...` stands for any lines
fn agrees(wanted: &[&str], printed: &[&str]) -> bool {
    match wanted {
        [] => printed.iter().all(|line| line.is_empty()),
        ["...", rest @ ..] => (0..=printed.len()).any(|skipped| agrees(rest, &printed[skipped..])),
        [first, rest @ ..] => printed.first() == Some(first) && agrees(rest, &printed[1..]),
    }
}
