//! Expressions over measures: what binds tighter, what is taken from the left, and every operand.

use crate::language::said::clauses;
use crate::language::shown::sum;
use pinboss::syntax::tree::Clause;
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("a", "a")]
#[case("5", "5")]
#[case("-2.5 mm", "-2.5mm")]
#[case("40%", "40%")]
#[case("worn a", "(worn a)")]
#[case("loss a", "(loss a)")]
#[case("new a", "(new a)")]
#[case("pace a", "(pace a)")]
#[case("life a", "(life a)")]
#[case("hours of chain", "(hours chain)")]
#[case("hours of chain since turned", "(hours-turned chain)")]
#[case("turn of chain", "(turn chain)")]
#[case("half of a", "(half a)")]
#[case("half of loss a", "(half (loss a))")]
#[case("half of (a + b)", "(half (+ a b))")]
#[case("mean of worn a across sides", "(mean sides (worn a))")]
#[case("largest of a across rollers", "(largest rollers a)")]
#[case("smallest of a across front half of rollers", "(smallest front rollers a)")]
#[case("spread of (a - b) across rear half of rollers", "(spread rear rollers (- a b))")]
#[case("lead of pace a across sides", "(lead sides (pace a))")]
#[case("limit a", "(limit a)")]
#[case("mean of a and b", "(mean a & b)")]
#[case("smallest of a and loss b and (c - d)", "(smallest a & (loss b) & (- c d))")]
#[case("a - b - c", "(- (- a b) c)")]
#[case("a - (b - c)", "(- a (- b c))")]
#[case("a + b * c", "(+ a (* b c))")]
#[case("a / b / c", "(/ (/ a b) c)")]
#[case("half of a + b", "(+ (half a) b)")]
#[case("new gap - loss height - half of loss tread", "(- (- (new gap) (loss height)) (half (loss tread)))")]
#[case("mean of a across rollers - mean of b across sides", "(- (mean rollers a) (mean sides b))")]
#[case("hours of chain / life height", "(/ (hours chain) (life height))")]
#[case("((a))", "a")]
#[case("a*2-1", "(- (* a 2) 1)")]
fn an_expression_reads_to(#[case] line: &str, #[case] expected: &str) {
    let clauses = clauses(&format!("is {line}"));
    let [Clause::Is { sum: of, .. }] = clauses.as_slice() else { panic!("{clauses:?}") };
    assert_eq!(sum(of), expected);
}
