//! Every shape is a join-semilattice with the normal state at the bottom

use pinboss::network::shape::Shape;
use rstest::rstest;

#[rstest]
#[case::one_grade(Shape::Ladder { grades: 1 }, 1)]
#[case::two_grades(Shape::Ladder { grades: 2 }, 2)]
#[case::five_grades(Shape::Ladder { grades: 5 }, 5)]
#[case::two_alternatives(Shape::Alternatives { alternatives: 2 }, 4)]
#[case::four_alternatives(Shape::Alternatives { alternatives: 4 }, 6)]
#[case::even_arms(Shape::Arms { low: 1, high: 1 }, 4)]
#[case::uneven_arms(Shape::Arms { low: 3, high: 2 }, 12)]
#[case::one_arm(Shape::Arms { low: 0, high: 2 }, 3)]
fn joins_form_a_semilattice(#[case] shape: Shape, #[case] states: usize) {
    assert_eq!(shape.states(), states);
    for a in 0..states {
        assert_eq!(shape.join(a, a), a, "idempotent");
        assert_eq!(shape.join(0, a), a, "normal adds nothing");
        for b in 0..states {
            assert!(shape.join(a, b) < states, "closed");
            assert_eq!(shape.join(a, b), shape.join(b, a), "commutative");
            assert_eq!(shape.at_or_below(a, b), shape.join(a, b) == b);
            for c in 0..states {
                assert_eq!(shape.join(shape.join(a, b), c), shape.join(a, shape.join(b, c)), "associative");
            }
        }
    }
}

#[rstest]
#[case::worse_grade_shows(Shape::Ladder { grades: 4 }, 1, 3, 3)]
#[case::two_alternatives_show_as_both(Shape::Alternatives { alternatives: 2 }, 1, 2, 3)]
#[case::both_stays(Shape::Alternatives { alternatives: 2 }, 3, 1, 3)]
#[case::arms_join_one_by_one(Shape::Arms { low: 2, high: 2 }, 2 * 3, 1, 2 * 3 + 1)]
#[case::worse_grade_of_each_arm(Shape::Arms { low: 2, high: 2 }, 3 + 2, 2 * 3 + 1, 2 * 3 + 2)]
fn joins_as_the_shape_says(#[case] shape: Shape, #[case] a: usize, #[case] b: usize, #[case] joined: usize) {
    assert_eq!(shape.join(a, b), joined);
}

#[test]
fn one_arm_says_nothing_of_the_other() {
    let shape = Shape::Arms { low: 2, high: 2 };
    let (low, high) = (3, 1);
    assert!(!shape.at_or_below(low, high));
    assert!(!shape.at_or_below(high, low));
}
