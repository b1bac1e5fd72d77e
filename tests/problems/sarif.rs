//! Problems as OASIS SARIF 2.1.0 ("Static Analysis Results Interchange Format Version 2.1.0", OASIS Standard): what the
//! sections named ask. `tests/outside/check_sarif.py` holds the same output against the published schema.

use pinboss::problem::code::Code;
use pinboss::problem::{MOST_KEPT, Problem, Problems};
use pinboss::report::form::sarif::sarif;
use pinboss::source::{Sources, Span};
use rstest::rstest;
use serde_json::{Value, json};

const TEXT: &str = "zwölf €5\ndrei\n";

fn span(sources: &Sources, id: pinboss::source::SourceId, piece: &str) -> Span {
    let start = sources.text(id).find(piece).unwrap();
    Span { source: id, start, end: start + piece.len() }
}

fn log(problems: &Problems, sources: &Sources) -> Value {
    serde_json::from_str(&sarif(problems, sources).unwrap()).unwrap()
}

/// Columns count characters and start at 1, the end column stands behind the last (3.30.5 to 3.30.8); related locations
/// carry their words (3.27.22); the rule is named by its id and by its index (3.27.5, 3.27.6)
#[test]
fn a_problem_is_a_result_with_its_places() {
    let mut sources = Sources::default();
    let first = sources.add("front idler.rules", TEXT);
    let second = sources.add("b.rules", TEXT);
    let mut problems = Problems::default();
    problems.push(
        Problem::new(Code::UnknownName, span(&sources, first, "€5"), "no part is called `€5`")
            .also(span(&sources, second, "5\ndrei"), "declared here")
            .help("did you mean `drei`?"),
    );
    let log = log(&problems, &sources);
    assert_eq!(
        (&log["version"], &log["runs"][0]["columnKind"]),
        (&json!("2.1.0"), &json!("unicodeCodePoints"))
    );
    let index = log["runs"][0]["results"][0]["ruleIndex"].as_u64().unwrap();
    let index = usize::try_from(index).unwrap();
    assert_eq!(log["runs"][0]["tool"]["driver"]["rules"][index]["id"], "unknown-name");
    assert_eq!(
        log["runs"][0]["results"],
        json!([{
            "ruleId": "unknown-name",
            "ruleIndex": index,
            "level": "error",
            "message": {"text": "No part is called `€5`. Did you mean `drei`?"},
            "locations": [{"physicalLocation": {
                "artifactLocation": {"uri": "front%20idler.rules"},
                "region": {"startLine": 1, "startColumn": 7, "endLine": 1, "endColumn": 9},
            }}],
            "relatedLocations": [{
                "physicalLocation": {
                    "artifactLocation": {"uri": "b.rules"},
                    "region": {"startLine": 1, "startColumn": 8, "endLine": 2, "endColumn": 5},
                },
                "message": {"text": "declared here"},
            }],
        }])
    );
}

/// A path is a reference by RFC 3986: relative where the path is, and an address where it is not
#[rstest]
#[case("rules/idler.rules", "rules/idler.rules")]
#[case(r"rules\front idler.rules", "rules/front%20idler.rules")]
#[case("räder/100%.rules", "r%C3%A4der/100%25.rules")]
#[case("a:b#c?d.rules", "file:///a%3Ab%23c%3Fd.rules")]
#[case("/tmp/x.rules", "file:///tmp/x.rules")]
fn paths_become_references(#[case] path: &str, #[case] expected: &str) {
    let mut sources = Sources::default();
    let id = sources.add(path, TEXT);
    let mut problems = Problems::default();
    problems.push(Problem::new(Code::Syntax, span(&sources, id, "drei"), "not understood"));
    let place = &log(&problems, &sources)["runs"][0]["results"][0]["locations"][0]["physicalLocation"];
    assert_eq!(place["artifactLocation"]["uri"], expected);
}

/// Every code stands in the tool's table once, with all that a code host shows of it (3.19.23, 3.49)
#[test]
fn every_code_is_described() {
    let log = log(&Problems::default(), &Sources::default());
    let rules = log["runs"][0]["tool"]["driver"]["rules"].as_array().unwrap();
    let ids: Vec<&str> = rules.iter().map(|rule| rule["id"].as_str().unwrap()).collect();
    assert_eq!(ids, Code::ALL.iter().map(|code| code.slug()).collect::<Vec<_>>());
    for rule in rules {
        for key in ["shortDescription", "fullDescription", "help"] {
            let text = rule[key]["text"].as_str().unwrap();
            assert!(text.len() > 10 && text.starts_with(|sign: char| !sign.is_lowercase()), "{rule}");
        }
        assert!(rule["help"]["markdown"].as_str().unwrap().contains("```"), "{rule}");
    }
    assert_eq!(log["runs"][0]["results"], json!([]), "no result is a list without one, not a missing list");
    assert_eq!(log["runs"][0]["invocations"], Value::Null);
}

/// Those that are only counted are a notification of the tool (3.20.21), not a result
#[test]
fn what_is_left_out_is_said() {
    let mut sources = Sources::default();
    let id = sources.add("a.rules", "x".repeat(MOST_KEPT + 7));
    let mut problems = Problems::default();
    for start in 0..MOST_KEPT + 7 {
        problems.push(Problem::new(
            Code::Syntax,
            Span { source: id, start, end: start + 1 },
            "not understood",
        ));
    }
    let log = log(&problems, &sources);
    assert_eq!(log["runs"][0]["results"].as_array().unwrap().len(), MOST_KEPT);
    let told = &log["runs"][0]["invocations"][0]["toolExecutionNotifications"][0]["message"]["text"];
    assert_eq!(told, "7 more are left out: mend these first.");
}
