//! What JSON writes in a way that YAML has not: a letter past the first plane as two escapes, as in `\ud83d\ude9c`.
//!
//! But for these JSON is YAML, so that a line is read by the reader of case files: reading takes some 4 % of the time of a
//! case, and a second reader would gain nothing.

use crate::invariant::Hold;
use std::borrow::Cow;

/// Why a piece of the line is there
const WITHIN: &str = "a pair of escapes lies within the line";

/// The line with every such pair of escapes as the letter it stands for; a half without its other half stays
pub(super) fn plain(line: &[u8]) -> Cow<'_, [u8]> {
    let mut plain = Vec::new();
    let mut copied = 0;
    let mut at = 0;
    while let Some(step) = line.get(at..).and_then(|rest| rest.iter().position(|byte| *byte == b'\\')) {
        at += step;
        match letter(line.get(at..).hold(WITHIN)) {
            Some(letter) => {
                plain.extend_from_slice(line.get(copied..at).hold(WITHIN));
                plain.extend_from_slice(letter.encode_utf8(&mut [0; 4]).as_bytes());
                at += PAIR;
                copied = at;
            }
            // A backslash and what it stands before, which may be another.
            None => at += 2,
        }
    }
    if copied == 0 {
        return Cow::Borrowed(line);
    }
    plain.extend_from_slice(line.get(copied..).hold(WITHIN));
    Cow::Owned(plain)
}

/// Bytes of one escape, and of two
const ESCAPE: usize = 6;
const PAIR: usize = 2 * ESCAPE;

/// The letter that two escapes at the front of a text stand for
fn letter(text: &[u8]) -> Option<char> {
    let (first, second) = text.get(..PAIR)?.split_at(ESCAPE);
    let halves = [half(first)?, half(second)?];
    char::decode_utf16(halves).next()?.ok().filter(|letter| letter.len_utf16() == 2)
}

fn half(escape: &[u8]) -> Option<u16> {
    let digits = std::str::from_utf8(escape.strip_prefix(b"\\u")?).ok()?;
    let is_hex = digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    is_hex.then(|| u16::from_str_radix(digits, 16).ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use rstest::rstest;

    #[rstest]
    #[case::none(r#"{"a": "b"}"#, r#"{"a": "b"}"#)]
    #[case::one(r#""x \ud83d\uDE9C y""#, "\"x \u{1f69c} y\"")]
    #[case::two_in_a_row(r#""\ud83d\ude9c\ud83d\ude9c""#, "\"\u{1f69c}\u{1f69c}\"")]
    #[case::other_escapes_stay(r#""\u00e9 \n \" \\""#, r#""\u00e9 \n \" \\""#)]
    #[case::behind_a_backslash_of_its_own(r#""\\ud83d\\ude9c""#, r#""\\ud83d\\ude9c""#)]
    #[case::halves_stay(r#""\ud83d \ude9c \ud83dx\ude9c""#, r#""\ud83d \ude9c \ud83dx\ude9c""#)]
    #[case::torn(r#""\ud83d\ude9"#, r#""\ud83d\ude9"#)]
    fn pairs_become_letters(#[case] line: &str, #[case] expected: &str) {
        assert_eq!(plain(line.as_bytes()), expected.as_bytes());
    }

    proptest! {
        /// Whatever text is written with escapes alone comes back, and any bytes are taken
        #[test]
        fn what_is_escaped_comes_back(text in "[\u{10000}-\u{10ffff}a\\\\]*", bytes: Vec<u8>) {
            let escaped: String = text
                .chars()
                .flat_map(|letter| letter.encode_utf16(&mut [0; 2]).to_vec())
                .map(|half| format!("\\u{half:04x}"))
                .collect();
            let back = plain(escaped.as_bytes()).into_owned();
            let back = String::from_utf8(back).unwrap().replace("\\u0061", "a").replace("\\u005c", "\\");
            prop_assert_eq!(back, text);
            plain(&bytes);
        }
    }
}
