//! Tracks drawn from the machine's facts.

use super::bench::{Desk, drawings};
use roxmltree::Document;
use rstest::rstest;

fn page(facts: &str, seen: &str) -> String {
    Desk::with(&format!(
        "case: drawn\nmachine: {{tag: D, hours: 2000, size: medium, facts: {{{facts}}}}}\nparts: [{{part: chain, on: 0 h}}, {{part: idler, on: 0 h}}]\nseen: {seen}\n"
    ))
    .report()
}

/// The drawing of a side, read as XML
fn drawing(page: &str, side: usize) -> String {
    let own = drawings(page, "track")[side].split("</svg>").next().unwrap().to_owned();
    format!("<svg class=\"track\"{own}</svg>")
}

/// Centres of all circles of a class
fn circles(drawing: &str, class: &str) -> Vec<(f64, f64)> {
    let document = Document::parse(drawing).unwrap();
    let of_class = document.descendants().filter(|node| node.attribute("class") == Some(class));
    let at =
        |node: roxmltree::Node<'_, '_>, name: &str| node.attribute(name).unwrap().parse::<f64>().unwrap();
    of_class.map(|node| (at(node, "cx"), at(node, "cy"))).collect()
}

#[rstest]
#[case("rollers: 5, carriers: none", 5, 0)]
#[case("rollers: 7, carriers: one", 7, 1)]
#[case("rollers: 9, carriers: two", 9, 2)]
#[case("rollers: 8, carriers: two, layout: elevated", 8, 2)]
fn there_are_as_many_rollers_as_the_facts_tell(
    #[case] facts: &str,
    #[case] rollers: usize,
    #[case] carriers: usize,
) {
    let page = page(facts, "{}");
    for side in 0..2 {
        let drawing = drawing(&page, side);
        assert_eq!(circles(&drawing, "wheel roller").len(), rollers);
        assert_eq!(circles(&drawing, "wheel carrier").len(), carriers);
        assert_eq!(circles(&drawing, "wheel idler").len(), 1);
        assert_eq!(circles(&drawing, "wheel sprocket").len(), 1);
    }
}

#[test]
fn a_raised_sprocket_stands_above_two_idlers_and_a_low_one_level_with_one() {
    let raised = drawing(&page("rollers: 8, layout: elevated", "{}"), 0);
    let (_, sprocket) = circles(&raised, "wheel sprocket")[0];
    let (_, rear) = circles(&raised, "wheel rear-idler")[0];
    assert!(sprocket + 30.0 < rear, "{sprocket} {rear}");
    let oval = drawing(&page("rollers: 8, layout: oval", "{}"), 0);
    assert_eq!(circles(&oval, "wheel rear-idler"), []);
    assert_eq!(circles(&oval, "wheel sprocket")[0].1, circles(&oval, "wheel idler")[0].1);
}

/// From outside the left track's front is to the left, the right track's to the right
#[test]
fn each_track_is_seen_from_outside() {
    let page = page("rollers: 6", "{}");
    let [left, right] = [0, 1].map(|side| drawing(&page, side));
    assert!(circles(&left, "wheel idler")[0].0 < circles(&left, "wheel sprocket")[0].0);
    assert!(circles(&right, "wheel idler")[0].0 > circles(&right, "wheel sprocket")[0].0);
}

#[test]
fn a_finding_on_a_roller_has_its_number_beneath_that_roller() {
    let seen =
        "{left: {roller 2: {found: {oil_streak: yes}}}, right: {roller 5: {found: {oil_streak: yes}}}}";
    let page = page("rollers: 6", seen);
    for (side, roller) in [(0, 2), (1, 5)] {
        let drawing = drawing(&page, side);
        let rings = circles(&drawing, "ring");
        let (x, y) = circles(&drawing, "wheel roller")[roller - 1];
        assert_eq!(rings.len(), 1);
        assert!(rings[0].0 == x && rings[0].1 > y, "right beneath it");
    }
    assert!(page.contains("<li value=\"1\"><strong>Bottom roller 2.</strong>"));
}

#[test]
fn what_is_worn_more_is_filled_higher_and_no_colour_says_so() {
    let page = page(
        "rollers: 6, abrasion: moderate, impact: high",
        "{machine: {looked: [scrape_tracks]}, left: {read: {idler_depth: 25 mm}}, right: {read: {idler_depth: 29 mm}}}",
    );
    let level = |side: usize| {
        let drawing = drawing(&page, side);
        let document = Document::parse(&drawing).unwrap();
        let path = document.descendants().find(|node| node.attribute("class") == Some("worn")).unwrap();
        let d = path.attribute("d").unwrap();
        d.split('A').next().unwrap().split(' ').nth(1).unwrap().parse::<f64>().unwrap()
    };
    assert!(
        level(1) < level(0),
        "a deeper tread is more worn, so its level stands higher: {} {}",
        level(0),
        level(1)
    );
}
