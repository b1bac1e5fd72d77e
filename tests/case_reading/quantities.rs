//! Numbers with units: how they are read and shown, and their factors against published definitions.

use pinboss::units::{Quantity, QuantityFault, Unit, parse_quantity};
use rstest::rstest;

// Outside the project: the pound is 0.453 592 37 kg (international yard and pound agreement of 1959), the inch
// 0.0254 m, standard gravity 9.806 65 m/s² (third General Conference on Weights and Measures, 1901).
#[rstest]
#[case(Unit::PoundForce, 0.453_592_37 * 9.806_65 / 1000.0)]
#[case(Unit::PoundFoot, 0.453_592_37 * 9.806_65 * 12.0 * 0.0254)]
#[case(Unit::PoundPerSquareInch, 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254) / 1e5)]
fn rounded_factors_agree_with_the_definitions(#[case] unit: Unit, #[case] base: f64) {
    assert!((unit.to_base(1.0) / base - 1.0).abs() < 5e-7);
}

// NIST SP 811 (2008), B.8: inch and foot exact, pound-force foot 1.355 818 N·m, psi 6.894 757 kPa, pound-force 4.448 222 N;
// B.6 and 4.2.1.1: the scales of temperature. From memory.
#[rstest]
#[case(1.0, Unit::Inch, 25.4)]
#[case(1.0, Unit::Foot, 304.8)]
#[case(212.0, Unit::Fahrenheit, 100.0)]
#[case(-40.0, Unit::Fahrenheit, -40.0)]
#[case(90.0, Unit::Minute, 1.5)]
#[case(10.0, Unit::Megapascal, 100.0)]
#[case(1.0, Unit::PoundFoot, 1.355_818)]
#[case(1.0, Unit::PoundPerSquareInch, 0.068_947_57)]
#[case(1.0, Unit::PoundForce, 0.004_448_222)]
#[case(100.0, Unit::Kilopascal, 1.0)]
#[case(2.5625, Unit::Inch, 65.087_5)]
#[case(3.0, Unit::Centimetre, 30.0)]
fn readings_go_to_the_base_unit_and_back(#[case] value: f64, #[case] unit: Unit, #[case] base: f64) {
    assert!((unit.to_base(value) - base).abs() < 1e-9);
    assert!((unit.from_base(base) - value).abs() < 1e-9);
}

/// Each unit has its own row, is found by every spelling of it, and is reckoned in a base that is its own base
#[test]
fn the_table_stands_in_the_order_of_the_units() {
    for (row, unit) in Unit::all().enumerate() {
        assert_eq!(unit as usize, row);
        for word in unit.words() {
            assert_eq!(Unit::parse(word), Some(unit));
        }
        let base = unit.dimension().base();
        assert_eq!(base.dimension(), unit.dimension());
        assert_eq!(base.to_base(7.0), 7.0);
    }
}

#[test]
fn a_difference_knows_no_zero_point() {
    assert!((Unit::Fahrenheit.step_to_base(9.0) - 5.0).abs() < 1e-12);
    assert_eq!(Unit::Inch.step_to_base(1.0), Unit::Inch.to_base(1.0));
}

#[rstest]
#[case("109.2 mm", 109.2, Unit::Millimetre, "109.2 mm")]
#[case("2 9/16 in", 2.5625, Unit::Inch, "2.5625 in")]
#[case("2-9/16 in", 2.5625, Unit::Inch, "2.5625 in")]
#[case("9/16\"", 0.5625, Unit::Inch, "0.5625 in")]
#[case("6240h", 6240.0, Unit::Hour, "6240 h")]
#[case("70%", 70.0, Unit::Percent, "70%")]
#[case("70 %", 70.0, Unit::Percent, "70%")]
#[case(" 12 N·m ", 12.0, Unit::NewtonMetre, "12 N·m")]
#[case("-3 mm", -3.0, Unit::Millimetre, "-3 mm")]
#[case("−2 1/2 mm", -2.5, Unit::Millimetre, "-2.5 mm")]
#[case("+.5 deg", 0.5, Unit::Degree, "0.5 deg")]
#[case("30 degrees", 30.0, Unit::Degree, "30 deg")]
#[case("30°", 30.0, Unit::Degree, "30 deg")]
#[case("150 lb ft", 150.0, Unit::PoundFoot, "150 lbf·ft")]
#[case("150 lbf·ft", 150.0, Unit::PoundFoot, "150 lbf·ft")]
#[case("6240 hrs", 6240.0, Unit::Hour, "6240 h")]
#[case("-0 mm", 0.0, Unit::Millimetre, "0 mm")]
#[case("0.00042 mm", 0.000_42, Unit::Millimetre, "0.00042 mm")]
#[case("20000000000000000 mm", 2e16, Unit::Millimetre, "2e16 mm")]
fn a_quantity_is_read_and_shown(
    #[case] text: &str,
    #[case] value: f64,
    #[case] unit: Unit,
    #[case] shown: &str,
) {
    let quantity = parse_quantity(text).unwrap();
    assert_eq!(quantity, Quantity { value, unit });
    assert_eq!(quantity.to_string(), shown);
}

#[rstest]
#[case("mm", QuantityFault::NoNumber)]
#[case("", QuantityFault::NoNumber)]
#[case(". mm", QuantityFault::NoNumber)]
#[case("1/ in", QuantityFault::NoNumber)]
#[case("109,2 mm", QuantityFault::Comma)]
#[case("6 240 h", QuantityFault::Gap)]
#[case("109-110 mm", QuantityFault::Gap)]
#[case("1/0 in", QuantityFault::DividedByZero)]
#[case("109.2", QuantityFault::NoUnit)]
#[case("109.2 mmm", QuantityFault::UnknownUnit { word: "mmm".to_owned() })]
#[case("1e3 mm", QuantityFault::UnknownUnit { word: "e3 mm".to_owned() })]
#[case(".nan mm", QuantityFault::NotFinite)]
#[case("-.inf", QuantityFault::NotFinite)]
fn a_text_that_is_no_quantity_says_why(#[case] text: &str, #[case] fault: QuantityFault) {
    assert_eq!(parse_quantity(text), Err(fault));
}

#[test]
fn a_number_too_large_is_not_finite() {
    let text = format!("{} mm", "9".repeat(400));
    assert_eq!(parse_quantity(&text), Err(QuantityFault::NotFinite));
}

#[test]
fn only_like_goes_to_like() {
    let inch = parse_quantity("1 in").unwrap();
    assert!((inch.to(Unit::Millimetre).unwrap().value - 25.4).abs() < 1e-12);
    assert_eq!(inch.to(Unit::Hour), None);
}
