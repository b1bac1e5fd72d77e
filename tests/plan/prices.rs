//! Price files: what they say, and every mistake in them at its line.

use crate::support::setting::{set, told};
use pinboss::case::prices;
use pinboss::plan::prices::Terms;
use pinboss::plan::record::Priced;
use pinboss::source::Sources;
use rstest::rstest;

const RULES: &str = "
cause slack, each side: \"track slack\"
    kind upkeep
    chance 5% of sides
remedy tighten, each side: \"Take up the slack\"
    fixes slack takes 2 h costs 150 within 50 h left \"It comes off.\" loses 600
remedy renew_valve, each side: \"New valve\"
    fixes slack takes 1 h
";
const CASE: &str = "case: c\nmachine: {tag: T, facts: {rollers: 5}}\n";

fn read(text: &str) -> (Option<Terms>, String) {
    let setting = set(RULES, CASE);
    let mut sources = Sources::default();
    let id = sources.add("prices.yaml", text);
    let (found, mut problems) = prices::read(&sources, id);
    let terms = found.map(|prices| {
        let (terms, said) = Terms::of(&prices, &setting.model);
        problems.append(said);
        terms
    });
    (terms, told(&problems, &sources))
}

#[test]
fn prices_take_the_place_of_what_the_rules_reckon() {
    let (terms, said) =
        read("currency: EUR\nlabour: 100\nstanding: {visit: 400, hour: 20}\nremedies: {tighten: 30}\n");
    assert_eq!(said, "");
    let terms = terms.unwrap();
    let setting = set(RULES, CASE);
    let cost = |number: usize| terms.cost(pinboss::model::RemedyId(number), &setting.model.remedies[number]);
    // 30 for parts, two hours of labour, and two hours that the machine stands.
    assert_eq!(cost(0), (270.0, Priced::Listed));
    assert_eq!(cost(1), (120.0, Priced::Hours));
    assert_eq!((terms.visit, terms.unit, terms.currency.as_deref()), (400.0, 2.0, Some("EUR")));
}

/// What to do about an empty file is told in the words of prices, not of a case
#[test]
fn an_empty_file_is_told_how_prices_begin() {
    let mut sources = Sources::default();
    let id = sources.add("prices.yaml", "");
    let (_, problems) = prices::read(&sources, id);
    assert!(problems.sorted()[0].help.contains("`labour: 65`"));
}

#[rstest]
#[case("labour: 65\n", "prices.yaml:1: the prices have no `currency` [key-missing]")]
#[case("currency: EUR\nlabour: 0\n", "prices.yaml:2: an hour of labour costs nothing [bad-value]")]
#[case(
    "currency: EUR\nlabour: 65 EUR\n",
    "prices.yaml:2: `labour` is a bare number, without `EUR` [wrong-unit-in-case]"
)]
#[case(
    "currency: EUR\nlabor: 65\n",
    "prices.yaml:1: the prices have no `labour` [key-missing]\nprices.yaml:2: `prices` has no key `labor` [unknown-key]"
)]
#[case(
    "currency: EUR\nlabour: 65\nremedies:\n  tihgten: 30\n  renew_valve: -2\n",
    "prices.yaml:4: no remedy is called `tihgten` [unknown-name-in-case]\nprices.yaml:5: `renew_valve` is under 0 [bad-value]"
)]
#[case(
    "- 3\n",
    "prices.yaml:1: a file such as this is made of keys with values, and this is none [case-shape]"
)]
#[case("", "prices.yaml:1: the file says nothing [key-missing]")]
fn every_mistake_is_told_at_its_line(#[case] text: &str, #[case] expected: &str) {
    assert_eq!(read(text).1, expected);
}
