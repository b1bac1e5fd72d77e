//! Lines and columns as editors count them.

use lsp_types::Position;
use pinboss::command::lsp::position::{Encoding, Lines};
use proptest::prelude::*;
use rstest::rstest;

const TEXT: &str = "äb\r\n𝄞c\rd\n";

#[rstest]
#[case(Encoding::Utf16, false, 2, (0, 1))]
#[case(Encoding::Utf8, false, 2, (0, 2))]
#[case(Encoding::Utf16, true, 2, (0, 2))]
#[case(Encoding::Utf8, true, 2, (0, 5))]
#[case(Encoding::Utf16, true, 9, (1, 2))]
#[case(Encoding::Utf8, false, 9, (1, 4))]
#[case(Encoding::Utf16, false, 11, (2, 0))]
#[case(Encoding::Utf16, false, 13, (3, 0))]
fn bytes_and_columns(
    #[case] encoding: Encoding,
    #[case] mark: bool,
    #[case] byte: usize,
    #[case] (line, character): (u32, u32),
) {
    let lines = Lines::new(TEXT, encoding, mark);
    assert_eq!(lines.position(byte), Position { line, character });
    assert_eq!(lines.byte(Position { line, character }), Some(byte));
}

#[rstest]
#[case(0, 99, Some(3))]
#[case(1, 1, Some(5))]
#[case(4, 0, None)]
fn columns_past_the_end_and_lines_past_the_last(
    #[case] line: u32,
    #[case] character: u32,
    #[case] byte: Option<usize>,
) {
    assert_eq!(Lines::new(TEXT, Encoding::Utf16, false).byte(Position { line, character }), byte);
}

proptest! {
    /// Any place between two signs of a line comes back from its line and column
    #[test]
    fn every_place_comes_back(text in "[aä𝄞\n ]{0,40}", utf8: bool, mark: bool) {
        let encoding = if utf8 { Encoding::Utf8 } else { Encoding::Utf16 };
        let lines = Lines::new(&text, encoding, mark);
        for (byte, _) in text.char_indices() {
            prop_assert_eq!(lines.byte(lines.position(byte)), Some(byte));
        }
    }
}
