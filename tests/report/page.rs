//! What a page holds, and that it stands by itself.

use super::bench::{CASE, Desk, shipped};
use crate::support::program::{answer, refused};
use rstest::rstest;
use serde_json::Value;
use std::sync::LazyLock;

static PAGE: LazyLock<String> = LazyLock::new(|| answer(&["report", CASE, "--draws", "100"]));
static WRITTEN: LazyLock<String> =
    LazyLock::new(|| answer(&["report", CASE, "--draws", "100", "--format", "json"]));
static JSON: LazyLock<Value> = LazyLock::new(|| serde_json::from_str(&WRITTEN).unwrap());
static TEXT: LazyLock<String> = LazyLock::new(|| answer(&["diagnose", CASE]));

/// Levels of the headings of a page, in order
fn levels(page: &str) -> Vec<u8> {
    let heads = page.match_indices("<h").filter_map(|(at, _)| page.as_bytes().get(at + 2));
    heads.filter(|digit| digit.is_ascii_digit()).map(|digit| digit - b'0').collect()
}

#[test]
fn headings_go_down_one_level_at_a_time_from_one_first() {
    let levels = levels(&PAGE);
    assert_eq!(levels[0], 1);
    assert_eq!(levels.iter().filter(|level| **level == 1).count(), 1);
    assert!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{levels:?}");
}

#[rstest]
#[case("<html lang=\"en\">")]
#[case("default-src 'none'; img-src data:; style-src 'unsafe-inline'")]
#[case("<main id=\"report\"")]
#[case("<header>")]
#[case("<nav aria-label=\"Contents\">")]
#[case("<footer>")]
#[case("href=\"#report\">Skip to the report")]
#[case("<th scope=\"col\">")]
#[case("<th scope=\"row\">")]
#[case("Right roller 5: roller seal failed")]
#[case("<h2 id=\"firm-head\">How firm this stands</h2>")]
#[case("varied by chance 200 times")]
#[case("<h2 id=\"assessment-head\">")]
#[case("<strong>Statement 1:</strong> At least one of these causes was present.")]
#[case("By 100 draws of the strengths of the rules")]
#[case("What this is not</h3>")]
#[case("<p class=\"lead\">Speaks for statement 1:</p>")]
#[case("<p class=\"lead\">Speaks against statement 1:</p>")]
#[case("<p>In question: side wear on the idler flange, left: inboard.</p>")]
#[case("<p>The owner: likelihood ratio ")]
#[case(" for no cause that counts against the ")]
#[case("almost certain, 97 %, from the rules&#39; own starting chances.</li>")]
#[case("one figure of the whole")]
#[case("2026-05-11")]
#[case("Change the hot roller as soon as one can be had")]
#[case("caked with rock dust")]
#[case("common practice")]
#[case("it is no substitute for the machine&#39;s own manual")]
fn a_page_holds(#[case] text: &str) {
    assert!(PAGE.contains(text), "{text}");
}

/// Nothing runs and nothing is fetched: the only addresses are those within the page
#[test]
fn a_page_stands_by_itself() {
    for word in
        ["<script", "javascript:", "http:", "https:", "@import", "url(", "<link", "<iframe", "<object"]
    {
        assert!(!PAGE.contains(word), "{word}");
    }
    for (at, _) in PAGE.match_indices("href=\"") {
        let target = PAGE[at + 6..].split('"').next().unwrap();
        let id = target.strip_prefix('#').unwrap_or_else(|| panic!("{target} leads outside"));
        assert_eq!(PAGE.matches(&format!("id=\"{id}\"")).count(), 1, "{id}");
    }
}

/// The contents are the headings that are there, in their order and their words
#[test]
fn the_contents_name_every_heading() {
    let pairs = |start: &str, end: &str| -> Vec<(String, String)> {
        let parts = PAGE.split(start).skip(1).map(|rest| rest.split(end).next().unwrap());
        parts
            .map(|part| part.split_once("\">").unwrap())
            .map(|(id, words)| (id.into(), words.into()))
            .collect()
    };
    let headings = pairs("<h2 id=\"", "</h2>");
    assert_eq!(pairs("<li><a href=\"#", "</a>"), headings);
    for words in ["What state that left it in", "For and against: the assessment"] {
        assert!(headings.iter().any(|(_, own)| own == words), "{words}: {headings:?}");
    }
}

/// On paper what was told of the check before may lie on another sheet
#[test]
fn cautions_are_told_at_every_check_that_they_belong_to() {
    assert!(TEXT.contains("CAUTION: the same as for the check before."));
    assert!(!PAGE.contains("the same as for the check before"));
}

/// The numbers in the drawings are those of the lists beneath, and no other
#[test]
fn every_number_of_a_list_is_in_its_drawing() {
    let sides: Vec<&str> = PAGE.split("<section class=\"track-side\"").skip(1).collect();
    for side in sides {
        let side = side.split("</section>").next().unwrap();
        let listed = side.matches("<li value=\"").count();
        assert!(listed > 0);
        assert_eq!(side.matches("<text class=\"number\"").count(), listed);
    }
}

#[rstest]
#[case("{}", 2, 0)]
#[case("{left: {looked: [walk_rollers]}}", 1, 1)]
#[case("{machine: {looked: [scrape_tracks]}}", 2, 0)]
fn a_track_that_nobody_looked_at_is_not_called_sound(
    #[case] seen: &str,
    #[case] nothing_looked: usize,
    #[case] nothing_wrong: usize,
) {
    let desk = Desk::with(&format!(
        "case: a\nmachine: {{tag: A, hours: 10, size: medium, facts: {{rollers: 7}}}}\nseen: {seen}\n"
    ));
    let page = desk.report();
    assert_eq!(page.matches("<p>Nothing was looked at or read here.</p>").count(), nothing_looked);
    assert_eq!(page.matches("<p>Nothing out of order was found here.</p>").count(), nothing_wrong);
}

/// Whoever reads an assessment finds every cause that it weighs, and every finding that carries it, among the rules
#[test]
fn the_rules_hold_all_that_the_assessment_weighs() {
    let rules: Vec<&str> =
        JSON["rules"].as_array().unwrap().iter().map(|rule| rule["id"].as_str().unwrap()).collect();
    let mut weighed = 0;
    for party in JSON["assessment"]["against"].as_array().unwrap() {
        let leading = usize::try_from(party["leading"].as_u64().unwrap()).unwrap();
        let causes = party["causes"].as_array().unwrap().iter().map(|cause| &cause["id"]);
        let steps = party["carried_by"].as_array().unwrap().iter().take(leading).map(|step| &step["finding"]);
        for name in causes.chain(steps).map(|name| name.as_str().unwrap()) {
            assert!(rules.contains(&name), "{name}");
            weighed += 1;
        }
    }
    assert!(weighed > 20, "{weighed}");
}

#[test]
fn causes_and_checks_are_told_in_the_words_of_the_text() {
    let flat: String = TEXT.split_whitespace().collect::<Vec<_>>().join(" ");
    let told = JSON["causes"][0]["label"].as_str().unwrap();
    assert!(flat.contains(told) && PAGE.contains(told));
    let step =
        "A failed seal lets by what it should hold. Oil runs down the end of the roller and holds dust.";
    assert!(flat.contains(step) && PAGE.contains(step));
}

#[test]
fn json_holds_what_the_page_holds() {
    for name in [
        "made_by",
        "asked",
        "visit",
        "facts",
        "parts",
        "tracks",
        "sound",
        "not_possible",
        "curves",
        "photos",
        "rules",
        "robust",
        "assessment",
        "overall",
        "plan",
    ] {
        assert!(!JSON[name].is_null(), "{name}");
    }
    for name in
        ["causes", "conditions", "next_checks", "wear", "held", "rules_digest", "case_digest", "notice"]
    {
        assert!(!JSON[name].is_null(), "{name}");
    }
    for rule in JSON["rules"].as_array().unwrap() {
        let says: Vec<&str> =
            rule["says"].as_array().unwrap().iter().map(|says| says["about"].as_str().unwrap()).collect();
        assert!(says.contains(&"Where the rule comes from"), "{} gives no basis", rule["id"]);
    }
    let causes = JSON["rules"].as_array().unwrap().iter().filter(|rule| rule["sort"] == "cause");
    let names: Vec<&str> = causes.map(|rule| rule["id"].as_str().unwrap()).collect();
    assert!(names.contains(&"roller_seal_leaks") && names.contains(&"idler_out_of_line"), "{names:?}");
}

#[rstest]
#[case(&[], &PAGE)]
#[case(&["--format", "json"], &WRITTEN)]
fn a_second_run_gives_the_same_bytes(#[case] more: &[&str], #[case] first: &str) {
    assert_eq!(answer(&[&["report", CASE, "--draws", "100"], more].concat()), first);
}

#[test]
fn where_only_bounds_are_known_a_range_is_told() {
    let page = answer(&[
        "report",
        "tests/cli/entangled/web.yaml",
        "--rules",
        "tests/cli/entangled/rules",
        "--budget",
        "0.1",
    ]);
    assert!(page.contains("Made-up cause number 12: between 3 and 100 %"));
    assert!(page.contains("certain to hold the true one"));
}

#[test]
fn the_case_and_its_pictures_are_never_written_over() {
    let desk = Desk::with(&shipped(CASE));
    let case = desk.path("case.yaml");
    let (code, said) = refused(&["report", &case, "-o", &case]);
    assert_eq!(code, Some(2));
    assert!(said.contains("would be lost"), "{said}");
    assert_eq!(std::fs::read_to_string(&case).unwrap(), shipped(CASE));
}

#[test]
fn a_faulty_case_gives_its_problems_and_no_page() {
    let desk = Desk::with(
        "case: a\nmachine: {tag: A, facts: {rollers: 7}}\nseen: {left: {found: {nonsense: yes}}}\n",
    );
    let out = desk.path("out.html");
    let (code, said) = refused(&["report", &desk.path("case.yaml"), "-o", &out]);
    assert_eq!(code, Some(1));
    assert!(said.contains("case.yaml:3"), "{said}");
    assert!(!std::path::Path::new(&out).exists());
}

/// What stands under each check of an assessment is its own caution, not that of the one before
#[test]
fn a_check_that_would_settle_it_has_its_caution_right_after_its_title() {
    let after = PAGE.split("Rock the idler with a bar (10 min)</h4>").nth(1).unwrap().trim_start();
    assert!(after.starts_with("<p class=\"caution\">"), "{}", &after[..80]);
    let own = after.split("<h").next().unwrap();
    assert!(own.contains("Only with the machine on cribbing"), "{own}");
}

#[test]
fn an_assessment_stands_where_it_is_asked_for_and_nowhere_else() {
    let case = "cases/healthy_dozer.yaml";
    assert!(!answer(&["report", case]).contains("id=\"assessment\""));
    let page = answer(&["report", case, "--about", "flange_worn left", "--draws", "0"]);
    assert!(page.contains("id=\"assessment\""));
    let (code, said) = refused(&["report", case, "--about", "nonsense"]);
    assert_eq!((code, said.contains("nonsense")), (Some(2), true), "{said}");
}

/// Everything that the text of a diagnosis says under these heads stands in the page, word for word
#[rstest]
#[case("cases/quarry_dozer_two_faults.yaml")]
#[case("cases/landfill_dozer_old_rollers.yaml")]
fn the_page_says_what_the_text_says_of_wear_and_doubts(#[case] case: &str) {
    let page = answer(&["report", case, "--draws", "0"]);
    let diagnosis: Value = serde_json::from_str(&answer(&["diagnose", case, "--format", "json"])).unwrap();
    let whole = diagnosis["overall"].is_object();
    assert_eq!(page.contains("Overall ") || page.contains("one figure of the whole"), whole);
    for (part, head) in [("advice", "<h3>To mind</h3>"), ("held", "Not counted</h2>")] {
        let told = diagnosis[part].as_array().is_some_and(|told| !told.is_empty());
        assert_eq!(page.contains(head), told, "{part}");
    }
    assert!(page.contains("<h2 id=\"plan-head\">Work plan</h2>"));
}

#[rstest]
#[case("untouched", "First to look at: Sight along the track frame.")]
#[case("sighted", "Enough has been seen to go by: no check that is left is likely to bring up a cause")]
fn the_first_lines_say_whether_enough_has_been_seen(#[case] case: &str, #[case] told: &str) {
    let case = format!("tests/cli/cases/{case}.yaml");
    let page = answer(&["report", "--rules", "tests/cli/next_rules", &case, "--draws", "0"]);
    assert!(page.contains(told), "{page}");
}

/// Nothing counts against the one, the other or the third: `and` would say that it does not count against all of them at once
#[test]
fn parties_that_nothing_counts_against_are_joined_by_or() {
    let page = answer(&["report", "cases/clay_dozer_idler_kept.yaml", "--draws", "0"]);
    let words = "Nothing that could have brought it about counts against the site, operator or maker.";
    assert!(page.contains(words));
}
