//! Weights against what the literature says of them; all figures of this file are from memory.

use crate::support::setting::set;
use pinboss::assess::scale::{Held, Strength, Support, Weight, after};
use pinboss::assess::{damage_at, ratios};
use pinboss::place::Place;
use pinboss::reason::decibans::ratio;
use rstest::rstest;

/// Borders of the verbal scale for likelihood ratios of the ENFSI Guideline for Evaluative Reporting in Forensic Science
/// (2015): 2 to 10 weak, to 100 moderate, to 1,000 moderately strong, to 10,000 strong, to 1,000,000 very strong, beyond
/// extremely strong; 1 supports neither
#[rstest]
#[case(1.0, "no support")]
#[case(1.9, "no support")]
#[case(2.0, "weak support")]
#[case(9.9, "weak support")]
#[case(10.0, "moderate support")]
#[case(99.0, "moderate support")]
#[case(100.0, "moderately strong support")]
#[case(999.0, "moderately strong support")]
#[case(1000.0, "strong support")]
#[case(9999.0, "strong support")]
#[case(10_000.0, "very strong support")]
#[case(999_999.0, "very strong support")]
#[case(1_000_000.0, "extremely strong support")]
fn words_of_the_scale(#[case] ratio: f64, #[case] word: &str) {
    assert_eq!(Strength::of(ratio).word(), word);
    if ratio > 1.0 && ratio < 999.5 {
        assert_eq!(Strength::of(1.0 / (ratio * 1.0001)).word(), word, "the same for the other statement");
    }
}

/// Good, Probability and the Weighing of Evidence (1950): ten decibans are a factor of ten; a factor of two is about three,
/// of five about seven; five to four on, the smallest weight that people can feel, about one
#[rstest]
#[case(10.0, 10.0, 1e-9)]
#[case(3.0, 2.0, 0.01)]
#[case(7.0, 5.0, 0.02)]
#[case(1.0, 1.25, 0.01)]
#[case(17.0, 50.0, 0.2)]
fn decibans_of_good(#[case] decibans: f64, #[case] factor: f64, #[case] room: f64) {
    assert!((ratio(decibans) - factor).abs() < room, "{}", ratio(decibans));
}

/// The word goes by the end of the range nearer 1, and there is none where 1 lies within
#[rstest]
#[case((12.0, 31.0), Strength::Moderate, true)]
#[case((-31.0, -4.0), Strength::Weak, false)]
#[case((-2.0, 31.0), Strength::None, true)]
fn the_cautious_end_names_the_word(
    #[case] range: (f64, f64),
    #[case] strength: Strength,
    #[case] first: bool,
) {
    assert_eq!(Support::throughout(range), Support { strength, first });
}

/// Draws that lie evenly about a middle, in decibans
fn about(middle: f64, spread: f64) -> Vec<f64> {
    (0..=200).map(|number| middle + spread * (f64::from(number) - 100.0) / 100.0).collect()
}

/// Where the whole range goes past what an estimate lets tell, the word is that of the band below, 1,000 to 10,000, and the
/// least that holds; where its nearer end does not, the word is that of this end
#[rstest]
#[case::far_past(61.0, 10.0, Strength::Strong, true)]
#[case::the_nearer_end_is_told(41.0, 10.0, Strength::Strong, false)]
#[case::past_against(-61.0, 10.0, Strength::Strong, true)]
#[case::not_past(25.0, 2.0, Strength::ModeratelyStrong, false)]
fn at_the_cap_the_word_is_the_least_that_holds(
    #[case] figure: f64,
    #[case] spread: f64,
    #[case] strength: Strength,
    #[case] at_least: bool,
) {
    let held = Held::new(figure, &about(figure, spread), true);
    let support = held.support.unwrap();
    assert_eq!((support.strength, support.first, held.at_least), (strength, figure > 0.0, at_least));
    // The same by published figures has no cap.
    let free = Held::new(figure, &about(figure, spread), false);
    assert!(!free.capped && !free.at_least && free.decibans == figure);
}

/// A word goes by a range, a range by enough draws, and it never leaves out the figure itself
#[rstest]
#[case::none(0, false)]
#[case::one(1, false)]
#[case::a_few(99, false)]
#[case::enough(100, true)]
fn no_word_without_a_range(#[case] draws: usize, #[case] is_there: bool) {
    let drawn: Vec<f64> = (0..draws).map(|_| 11.0).collect();
    let held = Held::new(13.5, &drawn, true);
    assert_eq!((held.range.is_some(), held.support.is_some()), (is_there, is_there));
    if let Some((low, high)) = held.range {
        assert!(low <= 11.0 && 13.5 <= high, "{low} {high}");
    }
}

/// The usual example of a screening test (Gigerenzer and Hoffrage 1995, after Eddy 1982): 1 % have the disease, 80 % of
/// these and 9.6 % of the others test positive; of those who do 7.8 % have it. The likelihood ratio is 8.3.
#[test]
fn a_screening_test() {
    let share = 100.0 * (1.0 - 0.2 / 0.904);
    let rules = format!(
        "cause ill: \"ill\"\n    kind upkeep\n    chance 1% of machines\n    basis common practice\n\
         symptom positive: \"test\"\n    with ill: {share:.9}%\n    without 9.6%\n    basis common practice\n\
         check test: \"Test\"\n    shows positive\n    takes 1 min\n"
    );
    let case = "case: c\nmachine: {tag: T, facts: {rollers: 5}}\nseen: {machine: {found: {positive: yes}}}\n";
    let own = set(&rules, case);
    let damage = damage_at(&own.model, &own.ground, "positive", None, Place::Machine).unwrap();
    let found = ratios(&own.weighing(), &[damage]).unwrap();
    let [(party, decibans)] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!(party.name, "owner");
    assert!((ratio(*decibans) - 0.8 / 0.096).abs() < 1e-6, "{}", ratio(*decibans));
    assert!((after(0.01, *decibans) - 0.078).abs() < 0.0005);
}

/// An even opinion goes to the ratio itself as odds: 9 to 90 %; a table of 99 opinions rises throughout
#[test]
fn opinions_go_by_odds() {
    let Weight::Exact(exact) = Weight::exact(10.0 * libm::log10(9.0), &[], Vec::new()) else { panic!() };
    assert_eq!(exact.curve.len(), 99);
    let half = exact.curve[49];
    assert!((half.from - 0.5).abs() < 1e-12 && (half.to - 0.9).abs() < 1e-12);
    assert!(exact.curve.windows(2).all(|pair| pair[0].to < pair[1].to));
}
