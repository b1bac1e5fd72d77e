//! The command over several files: what it reads, the order of visits, and what it refuses.

use crate::support::program::{json, pinboss};
use rstest::rstest;
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

const THIRD: &str = "cases/terrace_dozer_third_visit.yaml";

/// Named as `earlier`, named on the line in any order, or both: the same visits, the same bytes
#[rstest]
#[case(&["first", "second", "third"])]
#[case(&["third", "first", "second"])]
#[case(&["third", "second"])]
fn the_order_of_the_files_does_not_matter(#[case] visits: &[&str]) {
    let files: Vec<String> =
        visits.iter().map(|visit| format!("cases/terrace_dozer_{visit}_visit.yaml")).collect();
    let mut arguments: Vec<&str> = vec!["wear", "--format", "json"];
    arguments.extend(files.iter().map(String::as_str));
    let alone = pinboss(&["wear", "--format", "json", THIRD]);
    assert_eq!(pinboss(&arguments).stdout, alone.stdout);
}

#[rstest]
#[case("/machine")]
#[case("/rules_digest")]
#[case("/visits/2/case_digest")]
#[case("/parts/0/measure")]
#[case("/parts/0/points/2/percent")]
#[case("/parts/0/rates/all/per_hour_sigma")]
#[case("/parts/0/left/upper")]
#[case("/parts/0/ahead/3/lower")]
#[case("/ends/left/0")]
#[case("/contacts/0/left/hours")]
#[case("/sides/0/sigma")]
fn a_program_finds_what_it_looks_for(#[case] pointer: &str) {
    let report = json(&["wear", "--format", "json", THIRD]);
    assert!(report.pointer(pointer).is_some_and(|value| !value.is_null()), "{pointer}");
}

const CASE: &str = "\
case: c
machine: {tag: T4, hours: HOURS, size: medium, facts: {chain_type: sealed_lubricated, rollers: 7}}
visit: {on: DAY, state: [cleaned]}
seen: {left: {read: {link_height: READ}}}
";

fn case(hours: &str, day: &str, read: &str) -> String {
    CASE.replace("HOURS", hours).replace("DAY", day).replace("READ", read)
}

fn told(files: &[(&str, String)], named: &[&str]) -> (Option<i32>, String) {
    let folder = TempDir::new().unwrap();
    for (name, text) in files {
        fs::write(folder.path().join(name), text).unwrap();
    }
    let paths: Vec<String> =
        named.iter().map(|name| folder.path().join(name).display().to_string()).collect();
    let mut arguments = vec!["wear"];
    arguments.extend(paths.iter().map(String::as_str));
    let output = pinboss(&arguments);
    (output.status.code(), String::from_utf8(output.stderr).unwrap())
}

/// Hours that go backwards by the calendar, another machine, hours not told, a file that is not there
#[rstest]
#[case::backwards(
    case("900", "2026-05-01", "110 mm"),
    "fewer hours on 2026-05-01 than on 2025-05-01 before it"
)]
#[case::earlier_with_more(format!("{}earlier: [a.yaml]\n", case("600", "2026-05-01", "110 mm")), "named as an earlier visit, and 1000 h against 600 h")]
#[case::another_machine(case("2000", "2026-05-01", "110 mm").replace("T4", "T5"), "another machine than at the other visit")]
#[case::another_size(case("2000", "2026-05-01", "110 mm").replace("medium", "heavy"), "another size than at the other visit")]
#[case::no_hours(case("2000", "2026-05-01", "110 mm").replace(" hours: 2000,", ""), "the hours on the meter are not told")]
#[case::no_file(format!("{}earlier: [nowhere.yaml]\n", case("2000", "2026-05-01", "110 mm")), "the file of this earlier visit is not there")]
#[case::no_sizes(case("2000", "2026-05-01", "110 mm").replace("size: medium", "sizes: nowhere.yaml"), "the file of sizes is not there")]
fn visits_that_do_not_go_together_are_refused(#[case] second: String, #[case] said: &str) {
    let files = [("a.yaml", case("1000", "2025-05-01", "111 mm")), ("b.yaml", second)];
    let (code, told) = told(&files, &["b.yaml", "a.yaml"]);
    assert_eq!(code, Some(1), "{told}");
    assert!(told.contains(said), "{told}");
    assert!(told.contains(".yaml:"), "{told}");
}

/// A new meter that began at 0 when the old one showed 5,000 h: the hours go on, and so do those of the parts
#[test]
fn hours_go_on_over_a_meter_that_was_changed() {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: String| fs::write(folder.path().join(name), text).unwrap();
    let parts = "parts: [{part: chain, on: 4000 h}]\n";
    write("a.yaml", format!("{}{parts}", case("4800", "2025-05-01", "110.3 mm")));
    let second = case("600", "2026-05-01", "108.6 mm")
        .replace("hours: 600", "hours: 600, meter: {changed_at: 5000 h}");
    write("b.yaml", format!("{second}{parts}earlier: [a.yaml]\n"));
    let report = json(&["wear", "--format", "json", folder.path().join("b.yaml").to_str().unwrap()]);
    assert_eq!(report["visits"][1]["hours"], 5600.0);
    assert_eq!(report["parts"][0]["hours"], 1600.0);
    // 1.7 mm in the 800 h between the visits, 3.4 mm in 1,600 h from new, and 5.1 of 8.5 mm left.
    let left = report["parts"][0]["left"]["hours"].as_f64().unwrap();
    assert!((left - 2400.0).abs() < 1e-6, "{left}");
}

/// The main job tells the same hours left as `wear` where the case names earlier visits
#[test]
fn a_diagnosis_goes_by_the_visits_before() {
    let diagnosis = json(&["diagnose", "tests/cli/visits/second.yaml", "--format", "json"]);
    let wear = json(&["wear", "tests/cli/visits/second.yaml", "--format", "json"]);
    let hours = |list: &Value, left: &str| -> Vec<f64> {
        list.as_array().unwrap().iter().map(|own| own.pointer(left).unwrap().as_f64().unwrap()).collect()
    };
    let told = hours(&diagnosis["wear"], "/left/hours");
    assert_eq!(told.len(), 4);
    assert_eq!(told, hours(&wear["parts"], "/left/hours"));
}

/// Files that name one another as earlier are read once each
#[test]
fn visits_that_name_one_another_do_not_go_round() {
    let earlier = |file: &str| format!("earlier: [{file}]\n");
    let files = [
        ("a.yaml", case("1000", "2025-05-01", "111 mm") + &earlier("b.yaml")),
        ("b.yaml", case("2000", "2026-05-01", "110 mm") + &earlier("a.yaml")),
    ];
    assert_eq!(told(&files, &["b.yaml"]), (Some(0), String::new()));
}

/// The curve of one part as a file, and a page with the curves of all; what holds a case is not written over
#[test]
fn curves_as_pictures_and_on_a_page() {
    let folder = TempDir::new().unwrap();
    let out = |name: &str| folder.path().join(name).display().to_string();
    let run = |arguments: &[&str]| pinboss(&[&["wear", THIRD][..], arguments].concat());
    assert!(run(&["--format", "svg", "--of", "link_height  left", "-o", &out("a.svg")]).status.success());
    let picture = fs::read_to_string(out("a.svg")).unwrap();
    let picture = roxmltree::Document::parse(&picture).unwrap();
    let classes =
        |class: &str| picture.descendants().filter(|node| node.attribute("class") == Some(class)).count();
    assert_eq!((classes("read"), classes("band"), classes("limit")), (3, 1, 1));
    assert!(run(&["--format", "html", "-o", &out("a.html")]).status.success());
    let page = fs::read_to_string(out("a.html")).unwrap();
    let parts = json(&["wear", THIRD, "--format", "json"])["parts"].as_array().unwrap().len();
    assert_eq!(page.matches("<figure>").count(), parts);
    assert!(!page.contains("http://") && !page.contains("<script"));
    let which = run(&["--format", "svg"]);
    assert_eq!(which.status.code(), Some(2));
    assert!(String::from_utf8(which.stderr).unwrap().contains("link_height left"));
    let copy = out("case.yaml");
    fs::copy(format!("{}/{THIRD}", env!("CARGO_MANIFEST_DIR")), &copy).unwrap();
    fs::copy(
        format!("{}/cases/terrace_dozer_second_visit.yaml", env!("CARGO_MANIFEST_DIR")),
        out("terrace_dozer_second_visit.yaml"),
    )
    .unwrap();
    fs::copy(
        format!("{}/cases/terrace_dozer_first_visit.yaml", env!("CARGO_MANIFEST_DIR")),
        out("terrace_dozer_first_visit.yaml"),
    )
    .unwrap();
    let over = pinboss(&["wear", &copy, "--format", "html", "-o", &out("terrace_dozer_first_visit.yaml")]);
    assert_eq!(over.status.code(), Some(2), "{}", String::from_utf8_lossy(&over.stderr));
}

fn text(arguments: &[&str]) -> String {
    let output = pinboss(arguments);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let told = String::from_utf8(output.stdout).unwrap();
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A sag, and the stroke it stands for, are reckoned from a new size too, and are no gap between two parts
#[test]
fn only_what_wear_closes_is_a_gap() {
    let report = json(&["wear", "--format", "json", "cases/salt_dozer_whole_day.yaml"]);
    let measures: std::collections::BTreeSet<&str> =
        report["contacts"].as_array().unwrap().iter().map(|own| own["measure"].as_str().unwrap()).collect();
    assert_eq!(measures.into_iter().collect::<Vec<_>>(), ["flange_gap", "gap_by_sum", "idler_gap_by_sum"]);
}

/// A gap that hardly closes is no forecast: the rules give no part of a medium machine more than 10,000 h
#[test]
fn no_hours_are_told_past_the_life_of_any_part() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("a.yaml");
    let parts = "parts: [{part: chain, on: 0 h}, {part: roller, on: 0 h}]\n";
    let read = "seen: {left: {read: {link_height: 111.8 mm}, roller 1: {read: {roller_tread: 194.8 mm}}}}\n";
    let case = case("1500", "2026-05-01", "111.8 mm");
    let (head, _) = case.split_once("seen:").unwrap();
    fs::write(&path, format!("{head}{parts}{read}")).unwrap();
    let told = text(&["wear", path.to_str().unwrap()]);
    assert!(told.contains("19.7 mm, give or take 1.0; not closed within the life of the parts."), "{told}");
}

/// 801.83 mm on the left and 801.8 mm on the right of a chain turned at 3,020 h: the same hours left, and no pace of its own
#[test]
fn a_hundredth_of_a_millimetre_makes_no_thousands_of_hours() {
    let report = json(&["wear", "--format", "json", "cases/old_even_dozer.yaml"]);
    let pitch = |side: &str| {
        let parts = report["parts"].as_array().unwrap().iter();
        let mut own = parts.filter(|own| own["measure"] == "four_link_pitch" && own["place"] == side);
        let part = own.next().unwrap();
        assert_eq!((&part["by"], &part["rates"]["from_new"]), (&"usual".into(), &Value::Null));
        part["left"]["hours"].as_f64().unwrap()
    };
    assert!((pitch("left") - pitch("right")).abs() < 50.0);
    let told = text(&["wear", "cases/old_even_dozer.yaml"]);
    assert!(told.contains("It was turned at 3,020 h; how worn it was then nobody measured"), "{told}");
}

/// What the page's table says of hours left is what the text says, to the same figures
#[test]
fn hours_left_are_rounded_alike_in_text_and_table() {
    let told = text(&["wear", THIRD]);
    assert!(told.contains("about 490 h (between 0 and 1,200 h)"), "{told}");
    let page = text(&["wear", THIRD, "--format", "html"]);
    assert!(page.contains("<td>about 490 (0 to 1,200)</td>"), "{page}");
    assert!(page.contains(">3,010</td>"));
}

/// The band goes on to the far end of the hours left
#[test]
fn the_line_ahead_reaches_the_far_end_of_the_hours_left() {
    let report = json(&["wear", THIRD, "--format", "json"]);
    let parts = report["parts"].as_array().unwrap();
    assert!(parts.len() > 20);
    for part in parts {
        let figure = |pointer: &str| part.pointer(pointer).unwrap().as_f64().unwrap();
        let last = part["ahead"].as_array().unwrap().last().unwrap()["hours"].as_f64().unwrap();
        assert!((last - figure("/hours") - figure("/left/upper")).abs() < 1e-6, "{part}");
    }
}

/// Curves that stand side by side have one scale, and a picture alone says whose it is and what
#[test]
fn curves_of_one_measure_have_one_scale() {
    let words = |of: &str| -> Vec<String> {
        let picture = text(&["wear", THIRD, "--format", "svg", "--of", of]);
        let picture = roxmltree::Document::parse(&picture).unwrap();
        let texts = picture.descendants().filter(|node| node.has_tag_name("text"));
        texts.filter_map(|node| node.text().map(str::to_owned)).collect()
    };
    let [one, other] = ["roller_tread left roller 1", "roller_tread right roller 4"].map(words);
    assert_eq!(one[..2], ["T4", "Left roller 1: diameter of the roller tread"]);
    assert_eq!(one[2..], other[2..]);
    assert!(one.contains(&"worn out".to_owned()) && one.contains(&"plan the work from 90 %".to_owned()));
}

/// One word for one thing: at 100 % a part is worn out, from its own figure on the work is planned, and the work plan tells the
/// same hours for it
#[test]
fn planned_from_and_worn_out_are_two_things() {
    let told = text(&["wear", THIRD]);
    assert!(told.contains("the limit, where a part is worn out: 100 %"), "{told}");
    assert!(
        told.contains("Left: turn, it is due. The bushing across its reverse face is 98 % worn."),
        "{told}"
    );
    for said in [told, text(&["wear", THIRD, "--format", "html"]), text(&["diagnose", THIRD])] {
        assert!(!said.contains("work is due") && !said.contains("standard error"), "{said}");
    }
}

const READ: &str = "\
case: c
machine: {tag: T4, hours: 2000, size: medium, facts: {rollers: 7, bushings: first_side}}
parts: [{part: chain, on: 0 h}]
visit: {on: 2026-06-01, state: [cleaned]}
seen: {left: {read: {READING}}}
";

/// What was read and what a reader is told of it, by both commands that tell wear: impact decides how far a bushing may wear;
/// rails of 112 mm and a chain of 800 mm over four links are new whatever else is told
#[rstest]
#[case::millimetres("bushing_rev: 55.4 mm", "bushing across its reverse face", "tell `impact` under `facts`")]
#[case::inches("bushing_rev: 2.18 in", "bushing across its reverse face", "tell `impact` under `facts`")]
#[case::rail_too_high("link_height: 120 mm", "link height", "120 mm was read where a new one has 112 mm")]
#[case::chain_too_short(
    "four_link_pitch: 700 mm",
    "length over four links",
    "700 mm was read where a new one has 800 mm"
)]
fn no_reading_is_lost_without_a_word(#[case] read: &str, #[case] label: &str, #[case] why: &str) {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("a.yaml");
    fs::write(&path, READ.replace("READING", read)).unwrap();
    for command in ["wear", "diagnose"] {
        let told = text(&[command, path.to_str().unwrap()]);
        let (_, told) = told.split_once("NOT COUNTED").unwrap();
        assert!(told.to_lowercase().contains(&format!("left: {label}")) && told.contains(why), "{told}");
    }
}

/// A hair over the new size is a new part, and no wear under nothing
#[test]
fn under_nothing_a_part_is_as_new() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("a.yaml");
    fs::write(&path, READ.replace("READING", "link_height: 112.2 mm")).unwrap();
    let told = text(&["wear", path.to_str().unwrap()]);
    assert!(told.contains("Link height: 112.2 mm, as new, give or take 8 %, 2,000 h on it."), "{told}");
}

/// What does not count at an earlier visit is told with its day, beside what does not count at the last
#[test]
fn every_visit_tells_what_does_not_count() {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: String| fs::write(folder.path().join(name), text).unwrap();
    let [muddy, clean, again] = [
        case("1000", "2025-05-01", "111 mm"),
        case("1500", "2025-11-01", "110.5 mm"),
        case("2000", "2026-05-01", "120 mm"),
    ];
    write("a.yaml", muddy.replace("state: [cleaned]", "state: []"));
    write("b.yaml", clean);
    write("c.yaml", again + "earlier: [a.yaml, b.yaml]\n");
    let last = folder.path().join("c.yaml");
    let told = text(&["wear", last.to_str().unwrap()]);
    let (_, told) = told.split_once("NOT COUNTED ").unwrap();
    let (first, last_told) = told.split_once(" Visit at 2,000 h on 2026-05-01: - ").unwrap();
    assert!(first.starts_with("Visit at 1,000 h on 2025-05-01: - ") && !first.contains("1,500 h"), "{first}");
    assert!(first.contains("scraped and dry") && first.contains("eft: link height"), "{first}");
    assert!(last_told.contains("120 mm was read where a new one has 112 mm"), "{last_told}");
    let report = json(&["wear", "--format", "json", last.to_str().unwrap()]);
    let held = report["held"].as_array().unwrap().iter();
    let heights = held.filter(|own| own["reading"] == "link_height");
    assert_eq!(heights.map(|own| own["visit"].as_u64().unwrap()).collect::<Vec<_>>(), [0, 2]);
}
