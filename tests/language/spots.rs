//! Where along a row a numbered part stands.

use pinboss::model::test::Spot;
use rstest::rstest;

#[rstest]
#[case(Spot::FrontHalf, 7, &[1, 2, 3])]
#[case(Spot::RearHalf, 7, &[5, 6, 7])]
#[case(Spot::FrontHalf, 6, &[1, 2, 3])]
#[case(Spot::RearHalf, 6, &[4, 5, 6])]
#[case(Spot::Last, 5, &[5])]
#[case(Spot::First, 1, &[1])]
fn spots_along_a_row(#[case] spot: Spot, #[case] count: u32, #[case] expected: &[u32]) {
    let found: Vec<u32> = (1..=count).filter(|&number| spot.holds(number, count)).collect();
    assert_eq!(found, expected);
}
