//! The field of a picture: round figures on its axes, and words where they are free.

use pinboss::report::draw::field::{Axis, Beside, Field, Said};
use rstest::rstest;

fn whole() -> Field {
    let axis = || Axis::over([0.0, 100.0].into_iter(), "", "");
    Field::new(axis(), axis())
}

#[rstest]
#[case(0.0, 4300.0, &["0", "1,000", "2,000", "3,000", "4,000", "5,000"])]
#[case(6240.0, 6900.0, &["6,200", "6,400", "6,600", "6,800", "7,000"])]
#[case(-4.0, 104.0, &["-25", "0", "25", "50", "75", "100", "125"])]
#[case(7.0, 7.0, &["0", "2", "4", "6", "8"])]
fn ticks_are_round(#[case] low: f64, #[case] high: f64, #[case] ticks: &[&str]) {
    let axis = Axis::over([low, high].into_iter(), "", "");
    let field = Field::new(axis, Axis::over([].into_iter(), "", ""));
    let said = Said { attributes: "", title: "", described: "", first: "" };
    let drawn = field.picture(&said, "", "");
    let document = roxmltree::Document::parse(&drawn).unwrap();
    let across = document.descendants().filter(|node| node.attribute("text-anchor") == Some("middle"));
    assert_eq!(across.filter_map(|node| node.text()).collect::<Vec<_>>(), ticks);
}

/// Words beside a line make way for what is marked there
#[test]
fn words_stand_where_it_is_free() {
    let field = whole();
    let start = |marks: &[(f64, f64)]| {
        let drawn = field.level("limit", 50.0, ("worn out", Beside::Above), marks);
        let x = drawn.split(" x=\"").nth(1).and_then(|rest| rest.split('"').next()).map(str::to_owned);
        x.unwrap().parse::<f64>().unwrap()
    };
    let free = start(&[]);
    let mark = (free + 10.0, field.y(50.0) - 8.0);
    assert!(start(&[mark]) > mark.0);
    assert!((start(&[(mark.0, field.y(10.0))]) - free).abs() < 1e-9);
}

#[test]
fn what_is_more_stands_higher_and_what_comes_later_further_right() {
    let field = whole();
    assert!(field.y(45.0) < field.y(20.0));
    assert!(field.x(45.0) > field.x(20.0));
}
