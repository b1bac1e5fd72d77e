//! What drawings and pages share: text made safe, and ink that follows paper and screen.

/// Ink, paper and shades as CSS variables: dark ink on paper and on a light screen, light ink on a dark screen.
///
/// Each text colour keeps a contrast of at least 4.5:1 to `--paper` and to `--fill` (WCAG 2.2, 1.4.3).
pub const INK: &str = "\
:root{--ink:#1b1f24;--soft:#4d5661;--line:#b9c0c8;--faint:#dfe3e7;--paper:#ffffff;--fill:#edf0f3;--mark:#1f4e79}\
@media screen and (prefers-color-scheme:dark){\
:root{--ink:#e8eaed;--soft:#b3bac2;--line:#59616b;--faint:#363c44;--paper:#16191d;--fill:#23282e;--mark:#9cc4ea}}";

/// Text with nothing in it that XML 1.0 and HTML cannot hold
///
/// What they cannot hold becomes the replacement character, as do the marks that turn the direction of all text
/// after them, so that nothing in a case can make a line read otherwise than it is written.
pub fn printable(text: &str) -> String {
    let printed = |letter: char| match letter {
        '\t' | '\n' | '\r' => letter,
        '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
        _ => letter,
    };
    text.chars().map(printed).collect()
}

/// The same as HTML writes it, in elements and in attributes
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in printable(text).chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\r' => out.push_str("&#13;"),
            _ => out.push(letter),
        }
    }
    out
}

/// The text that [`escaped`] made safe
pub fn unescaped(safe: &str) -> String {
    let marks =
        [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#39;", "'"), ("&#13;", "\r"), ("&amp;", "&")];
    marks.iter().fold(safe.to_owned(), |text, (mark, letter)| text.replace(mark, letter))
}

/// Length as it is drawn: tenths, without needless decimals
pub fn length(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text); // else: it has tenths
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
