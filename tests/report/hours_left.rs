//! Hours to go, in words.

use pinboss::report::record::hours_left::HoursLeft;
use rstest::rstest;

#[rstest]
#[case(576.0, 179.0, Some(1046.0), "about 580 h", "between 180 and 1,000 h", "about 580 (180 to 1,000)")]
#[case(2100.0, 1140.0, None, "about 2,100 h", "at least 1,100 h", "at least 1,100")]
#[case(9000.0, 4020.0, Some(30_000.0), "about 9,000 h", "at least 4,000 h", "at least 4,000")]
#[case(162_100.0, 15_700.0, None, "over 10,000 h", "at least 10,000 h", "over 10,000")]
#[case(0.0, 0.0, Some(140.0), "about 0 h", "between 0 and 140 h", "at its limit or past it")]
fn hours_to_go_in_words(
    #[case] hours: f64,
    #[case] lower: f64,
    #[case] upper: Option<f64>,
    #[case] middle: &str,
    #[case] between: &str,
    #[case] short: &str,
) {
    let left = HoursLeft { hours, lower, upper, longest: Some(10_000.0) };
    assert_eq!((left.middle().as_str(), left.between().as_str()), (middle, between));
    assert_eq!(left.short(), short);
}

#[rstest]
#[case(576.0, Some(1046.0), "about 580 h left (180 to 1,000)")]
#[case(576.0, None, "at least 180 h left")]
#[case(10_400.0, Some(12_000.0), "over 10,000 h left")]
fn what_is_left_with_its_ends(#[case] hours: f64, #[case] upper: Option<f64>, #[case] text: &str) {
    let left = HoursLeft { hours, lower: 179.0, upper, longest: Some(10_000.0) };
    assert_eq!(left.whole(), text);
}
