//! The picture of what findings do to an opinion.

use pinboss::assess::scale;
use pinboss::report::draw::opinion::{figure, shown};
use pinboss::report::record::assess::{PartyOpinion, Weight};
use rstest::rstest;

/// A party against whom findings weigh so many decibans
fn against(decibans: f64, range: Option<[f64; 2]>) -> PartyOpinion {
    let weighed = scale::Weight::exact(decibans, &[], Vec::new());
    let scale::Weight::Exact(exact) = weighed else { panic!("it is exact") };
    let [low, high] = range.unwrap_or_default();
    let opinion = |own: &scale::Opinion| scale::Opinion { from: own.from, to: own.to, between: [low, high] };
    PartyOpinion {
        party: "plant_owner".to_owned(),
        first: String::new(),
        second: String::new(),
        causes: Vec::new(),
        before: None,
        weight: Weight {
            exact: true,
            ratio: None,
            decibans: Some(decibans),
            range,
            draws: 0,
            between: None,
            capped: false,
            capped_because: None,
            steps_come_to: Some(decibans),
            estimates: Vec::new(),
            word: None,
            at_least: false,
            supports: Some(if decibans == 0.0 { "neither" } else { "first" }),
            curve: exact.curve.iter().map(opinion).collect(),
        },
        carried_by: Vec::new(),
        leading: 0,
        others: 0.0,
        but_for: Vec::new(),
        overturned_by: None,
        settled_by: None,
        hangs_on: None,
    }
}

/// A ratio of ten takes odds of 1 to 9 to 10 to 9: 10 % to 53 %
#[rstest]
#[case(10.0, None, "10 % becomes 53 %")]
#[case(10.0, Some([0.4, 0.6]), "10 % becomes 53 % (from 40 % to 60 %)")]
#[case(-10.0, None, "50 % becomes 9 %")]
fn a_picture_tells_in_words_what_it_shows(
    #[case] decibans: f64,
    #[case] range: Option<[f64; 2]>,
    #[case] words: &str,
) {
    let against = against(decibans, range);
    let picture = figure(&against).unwrap();
    assert!(picture.contains(words), "{picture}");
    assert!(picture.contains("counts against the plant owner</title>"));
    assert_eq!(picture.matches("<circle").count(), shown(&against.weight).count());
    assert_eq!(picture.matches("class=\"band\"").count(), usize::from(range.is_some()));
    assert!(roxmltree::Document::parse(&picture).is_ok());
}

#[test]
fn findings_that_support_neither_statement_have_no_picture() {
    assert_eq!(figure(&against(0.0, None)), None);
}
