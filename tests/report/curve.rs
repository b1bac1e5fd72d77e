//! Curves of wear as pictures: all that was read is drawn, and no figure or label breaks one.

use pinboss::report::draw::curve::{Curve, CurvePoint};
use pinboss::wear::rate::Ahead;
use rstest::rstest;

fn read(hours: f64, percent: f64) -> CurvePoint {
    CurvePoint { hours, percent, give_or_take: 3.0 }
}

fn sample() -> Curve {
    Curve {
        label: "link height, left <b>".to_owned(),
        points: vec![read(1200.0, 20.0), read(2400.0, 45.0)],
        ahead: vec![
            Ahead { hours: 2400.0, percent: 45.0, lower: 42.0, upper: 48.0 },
            Ahead { hours: 5000.0, percent: 100.0, lower: 80.0, upper: 320.0 },
        ],
        limit: 100.0,
        plan_from: Some(90.0),
        ..Curve::default()
    }
}

fn count(text: &str, what: &str) -> usize {
    text.matches(what).count()
}

#[test]
fn every_reading_has_its_mark_and_error_and_the_band_is_drawn() {
    let text = sample().svg();
    assert_eq!(count(&text, "<circle class=\"read\""), 2);
    assert_eq!(count(&text, "class=\"error\""), 2);
    assert_eq!(count(&text, "class=\"band\""), 1);
    assert_eq!((count(&text, "class=\"limit\""), count(&text, "class=\"plan\"")), (1, 1));
    assert!(text.contains(">worn out</text>") && text.contains(">plan the work from 90 %</text>"));
    assert!(roxmltree::Document::parse(&text).is_ok());
}

/// A file of its own says whose curve it is and of what, where it can be seen; on a page the caption does
#[test]
fn a_picture_alone_has_a_heading() {
    let curve = Curve { machine: "T4".to_owned(), ..sample() };
    let text = curve.svg();
    assert!(text.contains(">T4</text>") && text.contains(">link height, left &lt;b&gt;</text>"), "{text}");
    assert!(!curve.figure().contains(">T4</text>"));
}

#[test]
fn markup_in_the_label_stays_text() {
    let curve = Curve { label: "</title><script>alert(1)</script>\u{202e}".to_owned(), ..sample() };
    let text = curve.figure();
    assert!(!text.contains("<script"));
    assert!(roxmltree::Document::parse(&text).is_ok());
}

#[rstest]
#[case(Curve::default())]
#[case(Curve { points: vec![read(0.0, 0.0)], ..Curve::default() })]
#[case(Curve { points: vec![read(f64::NAN, 1.0), read(1.0, f64::INFINITY)], limit: f64::NAN, ..Curve::default() })]
#[case(Curve { points: vec![read(1e12, -500.0)], limit: 100.0, ..Curve::default() })]
fn odd_curves_are_drawn_all_the_same(#[case] curve: Curve) {
    let text = curve.svg();
    assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
    assert!(roxmltree::Document::parse(&text).is_ok());
}
