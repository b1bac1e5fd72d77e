//! Grades in their three shapes, and which states of a node show them.

use pinboss::model::grades::{Grades, Shape};
use rstest::rstest;

fn sag() -> Grades {
    Grades {
        names: ["right", "tight", "bar_tight", "slack"].map(str::to_owned).to_vec(),
        shape: Shape::Arms { low: 2 },
    }
}

#[rstest]
#[case(0, &[0])]
#[case(1, &[2, 3])]
#[case(2, &[4, 5])]
#[case(3, &[1, 3, 5])]
fn a_grade_on_one_arm_says_nothing_of_the_other(#[case] grade: usize, #[case] states: &[usize]) {
    let grades = sag();
    assert_eq!(grades.states(), 6);
    let shown: Vec<usize> = (0..6).filter(|&state| grades.shows(grade, state)).collect();
    assert_eq!(shown, states);
    assert!(grades.shows(grade, grades.state(grade)));
}
