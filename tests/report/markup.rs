//! Markup: elements in one another, and every text and figure in it safe.

use pinboss::report::draw::markup::Markup;
use pinboss::report::draw::picture::{escaped, length, unescaped};
use rstest::rstest;

#[test]
fn elements_stand_in_one_another_with_every_text_made_safe() {
    let text = Markup::of(|markup| {
        markup.within("g", &[("id", "a\"<b")], |inside| {
            inside.empty("circle", &[("r", "4"), ("class", "it's")]);
            inside.line();
            inside.words("title", &[], "a < b\u{0}");
        });
    });
    let wanted =
        "<g id=\"a&quot;&lt;b\"><circle r=\"4\" class=\"it&apos;s\"/>\n<title>a &lt; b\u{fffd}</title></g>";
    assert_eq!(text, wanted);
}

#[rstest]
#[case("a < b & \"c\"", "a &lt; b &amp; &quot;c&quot;")]
#[case("it's", "it&#39;s")]
#[case("a\u{0}b\u{1b}[1m", "a\u{fffd}b\u{fffd}[1m")]
#[case("left\u{202e}thgir", "left\u{fffd}thgir")]
#[case("ä → אב", "ä → אב")]
fn text_made_safe(#[case] text: &str, #[case] safe: &str) {
    assert_eq!(escaped(text), safe);
}

#[rstest]
#[case("a < b & \"c\" &lt; it's \r")]
#[case("ä → אב")]
fn text_made_safe_is_had_back(#[case] text: &str) {
    assert_eq!(unescaped(&escaped(text)), text);
}

#[rstest]
#[case(2.0, "2")]
#[case(-0.04, "0")]
#[case(1.26, "1.3")]
fn lengths_as_drawn(#[case] value: f64, #[case] text: &str) {
    assert_eq!(length(value), text);
}
