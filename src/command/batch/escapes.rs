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
