//! Whether a page is the one that its case and its rules make.

use super::bench::{Desk, shipped};
use crate::support::program::{answer, refused};
use rstest::rstest;
use serde_json::Value;
use sha2::Digest;
use std::sync::LazyLock;

/// A case of an invented machine, and rules with as little as a page can be made of
const SMALL: &str = "
case: the frame looked at
machine: {tag: O2, hours: 1320}
seen: {machine: {found: {bow: yes, sway: yes}}}
";
const RULES: &str = "tests/cli/next_rules";
const SECOND: &str = "
symptom sway: \"track that sways\"
    with    frame_bent: 50%
    without 2%
    basis   estimate
";

static PAGE: LazyLock<String> = LazyLock::new(|| page_of(SMALL));

/// A folder with a case and its rules
fn folder(case: &str) -> Desk {
    let desk = Desk::with(case);
    desk.put("rules/frame.rules", (shipped(&format!("{RULES}/frame.rules")) + SECOND).as_bytes());
    desk
}

/// The page of a case as text, about the bow of its frame
fn page_of(case: &str) -> String {
    let desk = folder(case);
    let (case, page, rules) = (desk.path("case.yaml"), desk.path("page.html"), desk.path("rules"));
    answer(&["report", &case, "-o", &page, "--rules", &rules, "--about", "bow", "--draws", "100"]);
    std::fs::read_to_string(page).unwrap()
}

/// A folder with a case and its rules, and the page that was made of them
fn made() -> Desk {
    let desk = folder(SMALL);
    desk.put("page.html", PAGE.as_bytes());
    desk
}

/// What is said of its page
fn verified(desk: &Desk, case: &str) -> String {
    answer(&["report", "verify", &desk.path("page.html"), &desk.path(case), "--rules", &desk.path("rules")])
}

/// What differs by its own rules
fn differs(desk: &Desk, more: &[&str]) -> Vec<String> {
    differs_by(desk, "rules", more)
}

/// What differs, by the program's own words for it
fn differs_by(desk: &Desk, rules: &str, more: &[&str]) -> Vec<String> {
    let (page, case, rules) = (desk.path("page.html"), desk.path("case.yaml"), desk.path(rules));
    let verify = ["report", "verify", &page, &case, "--format", "json", "--rules", &rules];
    let (code, said) = refused(&[&verify, more].concat());
    assert_eq!(code, Some(1), "{said}");
    let verdict: Value = serde_json::from_str(&said).unwrap();
    assert_eq!(verdict["belongs"], false);
    let differences = verdict["differences"].as_array().unwrap();
    differences.iter().map(|own| own["what"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn a_page_belongs_to_its_case() {
    let desk = made();
    let said = verified(&desk, "case.yaml");
    assert!(said.contains("belongs to this case and to these rules, and is as it was made"), "{said}");
}

/// A case that was copied is the same case, and its digest is that of its bytes
#[test]
fn a_page_belongs_to_its_case_whatever_the_file_is_called() {
    let desk = made();
    desk.put("q.yaml", SMALL.as_bytes());
    let said = verified(&desk, "q.yaml");
    assert!(said.contains("belongs to this case"), "{said}");
    let digest = sha2::Sha256::digest(SMALL);
    let hex: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
    assert!(PAGE.contains(&format!("<meta name=\"pinboss-case\" content=\"sha256:{hex}\">")));
}

#[test]
fn a_case_that_was_changed_is_told() {
    let desk = made();
    desk.put("case.yaml", SMALL.replace("hours: 1320", "hours: 1321").as_bytes());
    assert_eq!(differs(&desk, &[]), ["case"]);
}

#[rstest]
#[case("Hours on the meter</dt><dd>1320 h", "Hours on the meter</dt><dd>1330 h")]
#[case("--draws 100", "--draws 120")]
#[case("</html>", "</html>\n<!-- -->")]
fn a_page_that_was_edited_is_told(#[case] from: &str, #[case] to: &str) {
    let desk = made();
    let page = std::fs::read_to_string(desk.path("page.html")).unwrap();
    assert!(page.contains(from));
    desk.put("page.html", page.replacen(from, to, 1).as_bytes());
    assert_eq!(differs(&desk, &[]), ["text"]);
}

/// An editor who forges the digests of another case as well is found out, since every byte is compared
#[test]
fn forged_digests_do_not_help() {
    let desk = made();
    let other = page_of(&SMALL.replace("hours: 1320", "hours: 1321"));
    let page = std::fs::read_to_string(desk.path("page.html")).unwrap();
    let digest = |page: &str| {
        page.split("<meta name=\"pinboss-case\" content=\"")
            .nth(1)
            .unwrap()
            .split('"')
            .next()
            .unwrap()
            .to_owned()
    };
    desk.put("page.html", other.replace(&digest(&other), &digest(&page)).as_bytes());
    assert_eq!(differs(&desk, &[]), ["text"]);
}

#[test]
fn other_rules_and_other_options_are_told() {
    let desk = made();
    let changed = shipped(&format!("{RULES}/frame.rules")) + SECOND + "# changed\n";
    desk.put("others/frame.rules", changed.as_bytes());
    assert_eq!(differs_by(&desk, "others", &[]), ["rules"]);
    assert_eq!(differs(&desk, &["--budget", "2"]), ["asked"]);
    assert_eq!(differs(&desk, &["--draws", "120"]), ["asked"]);
    assert_eq!(differs(&desk, &["--about", "sway"]), ["asked"]);
}

/// What was asked is told in plain words, not in those of the page's source
#[test]
fn other_options_are_told_as_they_were_given() {
    let desk = made();
    let (page, case, rules) = (desk.path("page.html"), desk.path("case.yaml"), desk.path("rules"));
    let arguments = ["report", "verify", &page, &case, "--rules", &rules, "--draws", "120"];
    let said = refused(&arguments).1.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains(
            "made with --budget 1 --about \"bow\" --draws 100, and was checked with --budget 1 --about \"bow\" --draws 120."
        ),
        "{said}"
    );
    assert!(PAGE.contains("Made with</dt><dd><code>--budget 1 --about &quot;bow&quot; --draws 100</code>"));
}

/// Options that a forged page names go through the same bounds as a call's, and no file is opened by their word
#[rstest]
#[case("--draws 100000000")]
#[case("--budget 1e300")]
#[case("--help")]
#[case("--about &quot;bow left&quot; --draws lots \u{1b}[2J")]
fn options_that_are_no_call_are_told(#[case] asked: &str) {
    let desk = made();
    let true_one = "--budget 1 --about &quot;bow&quot; --draws 100";
    desk.put("page.html", PAGE.replace(true_one, asked).as_bytes());
    assert_eq!(differs(&desk, &[]), ["asked"]);
}

#[test]
fn another_version_is_told() {
    let desk = made();
    let page = std::fs::read_to_string(desk.path("page.html")).unwrap();
    let own = concat!("pinboss ", env!("CARGO_PKG_VERSION"));
    desk.put("page.html", page.replace(own, "pinboss 0.0.1").as_bytes());
    assert_eq!(differs(&desk, &[]), ["version"]);
}

#[test]
fn what_is_no_report_is_said_to_be_none() {
    let desk = made();
    desk.put("page.html", b"<html><p>words");
    assert_eq!(differs(&desk, &[]), ["form"]);
    let (code, said) = refused(&["report", "verify", &desk.path("none.html"), &desk.path("case.yaml")]);
    assert_eq!((code, said.contains("it is not there")), (Some(1), true));
}

/// Prices count by what they say, not by what their file is called
#[test]
fn a_page_made_with_prices_belongs_only_with_the_same() {
    let desk = folder(SMALL);
    let rules = desk.path("rules");
    desk.put("prices.yaml", b"currency: shells\nlabour: 40\n");
    desk.put("again.yaml", b"currency: shells\nlabour: 40\n");
    desk.put("dearer.yaml", b"currency: shells\nlabour: 41\n");
    let (page, case) = (desk.path("page.html"), desk.path("case.yaml"));
    answer(&["report", &case, "--rules", &rules, "--prices", &desk.path("prices.yaml"), "-o", &page]);
    assert!(std::fs::read_to_string(&page).unwrap().contains("Costs are in shells"));
    answer(&["report", "verify", &page, &case, "--rules", &rules, "--prices", &desk.path("again.yaml")]);
    assert_eq!(differs(&desk, &["--prices", &desk.path("dearer.yaml")]), ["asked"]);
    let (code, said) = refused(&["report", "verify", &page, &case, "--rules", &rules]);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(code, Some(2));
    assert!(said.contains("was made with prices") && said.contains("`--prices prices.yaml`"), "{said}");
    let prices = desk.path("prices.yaml");
    let (code, said) = refused(&["report", &case, "--rules", &rules, "--prices", &prices, "-o", &prices]);
    assert_eq!((code, said.contains("would be lost")), (Some(2), true), "{said}");
}
