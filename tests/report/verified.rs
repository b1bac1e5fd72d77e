//! Whether a page is the one that its case and its rules make.

use super::bench::{CASE, Desk, answer, refused, shipped};
use rstest::rstest;
use serde_json::Value;
use std::sync::LazyLock;

static PAGE: LazyLock<String> = LazyLock::new(|| {
    let desk = Desk::with(&shipped(CASE));
    answer(&["report", &desk.path("case.yaml"), "--draws", "9", "-o", &desk.path("page.html")]);
    std::fs::read_to_string(desk.path("page.html")).unwrap()
});

/// A folder with a case, and the page that was made of it
fn made() -> Desk {
    let desk = Desk::with(&shipped(CASE));
    desk.put("page.html", PAGE.as_bytes());
    desk
}

/// What differs, by the program's own words for it
fn differs(desk: &Desk, more: &[&str]) -> Vec<String> {
    let (page, case) = (desk.path("page.html"), desk.path("case.yaml"));
    let arguments = ["report", "verify", &page, &case, "--format", "json"];
    let draws = if more.contains(&"--draws") { &[][..] } else { &["--draws", "9"] };
    let arguments: Vec<&str> = arguments.into_iter().chain(draws.iter().chain(more).copied()).collect();
    let (code, said) = refused(&arguments);
    assert_eq!(code, Some(1));
    let verdict: Value = serde_json::from_str(&said).unwrap();
    assert_eq!(verdict["belongs"], false);
    let differences = verdict["differences"].as_array().unwrap();
    differences.iter().map(|own| own["what"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn a_page_belongs_to_its_case() {
    let desk = made();
    let (page, case) = (desk.path("page.html"), desk.path("case.yaml"));
    let said = answer(&["report", "verify", &page, &case, "--draws", "9"]);
    assert!(said.contains("belongs to this case and to these rules, and is as it was made"), "{said}");
}

#[test]
fn a_case_that_was_changed_is_told() {
    let desk = made();
    desk.put("case.yaml", shipped(CASE).replace("hours: 2380", "hours: 2381").as_bytes());
    assert_eq!(differs(&desk, &[]), ["case"]);
}

#[rstest]
#[case("almost certain, 97 %", "almost certain, 99 %")]
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
    let other = answer(&["report", "cases/hired_dozer_habits.yaml", "--draws", "9"]);
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
    let rules = desk.path("rules");
    std::fs::create_dir(&rules).unwrap();
    for file in std::fs::read_dir("rules").unwrap().map(|file| file.unwrap().path()) {
        if file.extension().is_some_and(|ending| ending == "rules") {
            let text = std::fs::read_to_string(&file).unwrap() + "# changed\n";
            std::fs::write(format!("{rules}/{}", file.file_name().unwrap().to_str().unwrap()), text).unwrap();
        }
    }
    assert_eq!(differs(&desk, &["--rules", &rules]), ["rules"]);
    assert_eq!(differs(&desk, &["--budget", "2"]), ["asked"]);
    assert_eq!(differs(&desk, &["--draws", "8"]), ["asked"]);
    assert_eq!(differs(&desk, &["--about", "flange_worn left"]), ["asked"]);
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
    let desk = Desk::with(&shipped("cases/healthy_dozer.yaml"));
    desk.put("prices.yaml", b"currency: shells\nlabour: 40\n");
    desk.put("again.yaml", b"currency: shells\nlabour: 40\n");
    desk.put("dearer.yaml", b"currency: shells\nlabour: 41\n");
    let (page, case) = (desk.path("page.html"), desk.path("case.yaml"));
    answer(&["report", &case, "--prices", &desk.path("prices.yaml"), "-o", &page]);
    assert!(std::fs::read_to_string(&page).unwrap().contains("Costs are in shells"));
    answer(&["report", "verify", &page, &case, "--draws", "3", "--prices", &desk.path("again.yaml")]);
    assert_eq!(differs(&desk, &["--prices", &desk.path("dearer.yaml")]), ["asked"]);
    assert_eq!(differs(&desk, &[]), ["asked"]);
    let prices = desk.path("prices.yaml");
    let (code, said) = refused(&["report", &case, "--prices", &prices, "-o", &prices]);
    assert_eq!((code, said.contains("would be lost")), (Some(2), true), "{said}");
}
