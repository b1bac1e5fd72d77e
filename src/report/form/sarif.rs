//! Problems in the form that code hosts and editors take in: OASIS SARIF 2.1.0.

use crate::invariant::Hold;
use crate::problem::code::Code;
use crate::problem::explained::explained;
use crate::problem::{Problem, Problems};
use crate::report::rules::explain::{Explanation, explanation, flowing};
use crate::report::rules::problems::{left_out, word};
use crate::report::words::capital;
use crate::source::{Sources, Span};
use serde::Serialize;

/// Where the schema of the form is published
const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

#[derive(Serialize)]
struct Log<'a> {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run<'a>; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run<'a> {
    tool: Tool,
    column_kind: &'static str,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    invocations: Vec<Invocation>,
    results: Vec<SarifResult<'a>>,
}

#[derive(Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Driver {
    name: &'static str,
    semantic_version: &'static str,
    rules: Vec<Rule>,
}

/// A code, which the form calls a rule
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Rule {
    id: &'static str,
    short_description: Text,
    full_description: Text,
    help: Help,
    default_configuration: Configuration,
}

#[derive(Serialize)]
struct Text {
    text: String,
}

#[derive(Serialize)]
struct Help {
    text: String,
    markdown: &'static str,
}

#[derive(Serialize)]
struct Configuration {
    level: &'static str,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Invocation {
    execution_successful: bool,
    tool_execution_notifications: [Notification; 1],
}

#[derive(Serialize)]
struct Notification {
    level: &'static str,
    message: Text,
}

/// A problem, which the form calls a result
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct SarifResult<'a> {
    rule_id: &'static str,
    rule_index: usize,
    level: &'static str,
    message: Text,
    locations: [Location<'a>; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location<'a>>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Location<'a> {
    physical_location: Physical,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Words<'a>>,
}

#[derive(Serialize)]
struct Words<'a> {
    text: &'a str,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Artifact,
    region: Region,
}

#[derive(Serialize)]
struct Artifact {
    uri: String,
}

/// Lines and columns from 1, in characters; the end column is the one after the last
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: usize,
    start_column: usize,
    end_line: usize,
    end_column: usize,
}

/// All problems as one SARIF 2.1.0 log with one run
///
/// # Errors
/// When the library that writes JSON fails, which it does not for these types.
pub fn sarif(problems: &Problems, sources: &Sources) -> Result<String, serde_json::Error> {
    let driver = Driver {
        name: env!("CARGO_PKG_NAME"),
        semantic_version: env!("CARGO_PKG_VERSION"),
        rules: Code::ALL.iter().map(|code| rule(*code)).collect(),
    };
    let run = Run {
        tool: Tool { driver },
        column_kind: "unicodeCodePoints",
        invocations: invocations(problems),
        results: problems.sorted().into_iter().map(|problem| result(problem, sources)).collect(),
    };
    crate::report::json(&Log { schema: SCHEMA, version: "2.1.0", runs: [run] })
}

fn rule(code: Code) -> Rule {
    let Explanation { code: id, severity: level, title, what, what_to_do, wrong, right } = explanation(code);
    let example = |head: &str, text: &str| format!("\n\n{head}:\n\n{}", text.trim_end());
    let examples = [("Wrong", wrong), ("Right", right)];
    let examples = examples.into_iter().filter_map(|(head, it)| it.map(|it| example(head, &it.text)));
    Rule {
        id,
        short_description: Text { text: sentence(title) },
        full_description: Text { text: what.join(" ") },
        help: Help {
            text: what_to_do + &examples.collect::<String>(),
            markdown: explained(code).map_or("", |explained| explained.markdown),
        },
        default_configuration: Configuration { level },
    }
}

/// What is left out, as a word of the tool about its run
fn invocations(problems: &Problems) -> Vec<Invocation> {
    let notification =
        Notification { level: "warning", message: Text { text: sentence(&left_out(problems)) } };
    let more = (problems.left_out() > 0).then_some(notification);
    more.into_iter()
        .map(|notification| Invocation {
            execution_successful: true,
            tool_execution_notifications: [notification],
        })
        .collect()
}

fn result<'a>(problem: &'a Problem, sources: &Sources) -> SarifResult<'a> {
    let related = problem.also.iter().map(|(span, words)| Location {
        physical_location: physical(*span, sources),
        message: Some(Words { text: words }),
    });
    let help = if problem.help.is_empty() { String::new() } else { format!(" {}", sentence(&problem.help)) };
    SarifResult {
        rule_id: problem.code.slug(),
        rule_index: Code::ALL.iter().position(|code| *code == problem.code).hold("all codes are there"),
        level: word(problem.code.severity()),
        message: Text { text: sentence(&problem.message) + &help },
        locations: [Location { physical_location: physical(problem.at, sources), message: None }],
        related_locations: related.collect(),
    }
}

/// Words with a capital and a full stop
fn sentence(words: &str) -> String {
    let ending = if words.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{}{ending}", capital(&flowing(words)))
}

fn physical(span: Span, sources: &Sources) -> Physical {
    let (start, end) = (sources.place(span), sources.place_after(span));
    Physical {
        artifact_location: Artifact { uri: uri(&start.file) },
        region: Region {
            start_line: start.line,
            start_column: start.column,
            end_line: end.line,
            end_column: end.column,
        },
    }
}

/// A path as a reference by RFC 3986: relative where the path is, forward slashes, all else but letters, digits and
/// `-._~` percent-encoded
fn uri(path: &str) -> String {
    let path = path.replace('\\', "/");
    let mut uri = String::new();
    if path.starts_with('/') {
        uri.push_str("file://");
    } else if path.as_bytes().get(1) == Some(&b':') {
        uri.push_str("file:///");
    }
    for byte in path.bytes() {
        let plain = byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte);
        let text = if plain { char::from(byte).to_string() } else { format!("%{byte:02X}") };
        uri.push_str(&text);
    }
    uri
}
