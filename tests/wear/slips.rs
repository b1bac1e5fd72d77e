//! Figures that cannot be on this machine, and what was probably meant.

use crate::support::rules;
use pinboss::{case, ground};
use rstest::rstest;

/// What is said of one reading on a machine whose chain is 800 mm over four links when new and 809 mm at its limit
fn said(read: &str) -> Vec<(String, String)> {
    let rules = format!("{}{}", crate::support::setting::START, crate::wear::visits::RULES);
    let rules::Rules { mut sources, model, .. } = rules::read([("test.rules", rules)]);
    let machine = "{tag: T, hours: 1000, size: medium, facts: {rollers: 3}}";
    let id = sources
        .add("case.yaml", format!("case: c\nmachine: {machine}\nseen: {{left: {{read: {{{read}}}}}}}\n"));
    let (inspection, problems) = case::read(&sources, id);
    assert!(!problems.any_error());
    let (_, problems) = ground::ground(&model, &inspection.unwrap());
    let told = problems.sorted().into_iter();
    told.map(|own| (own.message.clone(), own.help.clone())).collect()
}

/// Five pins have four links between them: what was divided by five is a fifth short (common practice). 805 mm over four links
/// are 161 mm when divided by five, 644 mm when that is taken four times, and 201.25 mm a link.
#[rstest]
#[case::a_fifth_short("644 mm", "1 part in 5 short", "805 mm")]
#[case::divided_by_five("161 mm", "divided by 5", "805 mm")]
#[case::one_link("201.25 mm", "the length of one of 4 links", "805 mm")]
#[case::one_link_too_many("1006.25 mm", "1 part in 4 too long", "805 mm")]
fn links_counted_wrongly(#[case] read: &str, #[case] what: &str, #[case] meant: &str) {
    let said = said(&format!("four_link_pitch: {read}"));
    assert_eq!(said.len(), 1, "{said:?}");
    let (message, help) = &said[0];
    assert!(message.starts_with("`four_link_pitch` cannot be "), "{message}");
    for words in [what, meant, "4 links", "never over the master joint"] {
        assert!(help.contains(words), "{help}");
    }
}

#[rstest]
#[case::centimetres_as_millimetres("link_height: 10.2 mm", "did you mean `10.2 cm`?")]
#[case::inches_as_millimetres("link_height: 4 mm", "did you mean `4 in`?")]
#[case::a_point_at_the_wrong_place(
    "link_height: 1013 mm",
    "is the point at the right place? Did you mean `101.3 mm`?"
)]
#[case::millimetres_as_inches("link_height: 101 in", "did you mean `101 mm`?")]
#[case::nothing_explains_it(
    "link_height: 300 mm",
    "it lies from 60 to 160 mm; check the figure and its unit"
)]
#[case::another_quantity("link_height: 101 h", "write it in `mm`, `cm`, `m`, `in` or `ft`")]
fn a_unit_mistaken(#[case] read: &str, #[case] help: &str) {
    let said = said(read);
    assert_eq!(said.len(), 1, "{said:?}");
    assert_eq!(said[0].1, help);
}

/// Odd is not absurd: a chain far past its limit, one better than new, and a link that no slip explains stand as read
#[rstest]
#[case("four_link_pitch: 825 mm")]
#[case("four_link_pitch: 795 mm")]
#[case("link_height: 150 mm")]
#[case("link_height: 4 1/64 in")]
fn what_may_be_is_not_questioned(#[case] read: &str) {
    assert_eq!(said(read), []);
}
