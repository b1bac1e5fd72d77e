//! Places in a YAML text: from the lines and columns its reader counts to bytes, and on to the end of what stands there.

/// A place that only moves forward, so that any number of places takes one pass over the text
pub(super) struct Walker<'t> {
    text: &'t str,
    byte: usize,
    line: usize,
    column: usize,
}

impl<'t> Walker<'t> {
    /// The front of a text
    pub(super) fn new(text: &'t str) -> Self {
        Walker { text, byte: 0, line: 1, column: 1 }
    }

    /// The byte at a line and column, both from 1, columns in characters; the byte reached last when that lies behind it
    pub(super) fn to(&mut self, line: usize, column: usize) -> usize {
        while (self.line, self.column) < (line, column) {
            let rest = self.text.get(self.byte..).unwrap_or_default();
            let Some(letter) = rest.chars().next() else {
                break;
            };
            if is_break(letter) {
                self.line += 1;
                self.column = 1;
            } else {
                self.column += 1;
            }
            self.byte += if rest.starts_with("\r\n") { 2 } else { letter.len_utf8() };
        }
        self.byte
    }
}

/// True for what ends a line in YAML 1.1: line feed, carriage return, next line, line and paragraph separator
pub(super) fn is_break(letter: char) -> bool {
    matches!(letter, '\n' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}')
}

/// Length of the first line of a text, without the space at its end
pub(super) fn first_line(text: &str) -> usize {
    let line = text.split(is_break).next().unwrap_or_default();
    line.trim_end().len()
}

/// End of the line that holds a byte, without the space before it
pub(super) fn line_end(text: &str, from: usize) -> usize {
    from + first_line(text.get(from..).unwrap_or_default())
}

/// Where a text stands: what it says from `start` to `end`, its quotes and all up to `after`
pub(super) struct Scalar {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) after: usize,
}

/// Where the text that starts at a byte and reads as `value` stands
pub(super) fn scalar(text: &str, start: usize, value: &str) -> Scalar {
    let rest = text.get(start..).unwrap_or_default();
    if let Some(quote @ ('"' | '\'')) = rest.chars().next() {
        let end = start + quoted_end(rest, quote);
        return Scalar { start: start + 1, end, after: (end + 1).min(text.len()) };
    }
    let length = if rest.starts_with(['|', '>']) { block_end(rest, value) } else { plain_end(rest, value) };
    let end = start + length;
    Scalar { start, end, after: end }
}

/// The closing quote of a text in quotes
fn quoted_end(rest: &str, quote: char) -> usize {
    let mut letters = rest.char_indices().skip(1).peekable();
    while let Some((at, letter)) = letters.next() {
        if letter == '\\' && quote == '"' {
            letters.next();
        } else if letter == quote {
            let doubled = quote == '\'' && letters.peek().is_some_and(|&(_, next)| next == quote);
            if !doubled {
                return at;
            }
            letters.next();
        }
    }
    rest.len()
}

/// End of a text after `|` or `>`: of the lines indented as far as its first one, less the space that belongs to that
fn block_end(rest: &str, value: &str) -> usize {
    let mut filled = value.split(is_break).filter(|line| !line.trim().is_empty());
    let space = filled.next().map_or(0, depth);
    let mut end = 0;
    let mut at = 0;
    let mut indent = None;
    for (number, line) in rest.split_inclusive(is_break).enumerate() {
        let blank = line.trim().is_empty();
        if number > 0 && !blank {
            let depth = depth(line);
            if depth < *indent.get_or_insert(depth.saturating_sub(space).max(1)) {
                break;
            }
        }
        if !blank {
            end = at + line.trim_end().len();
        }
        at += line.len();
    }
    end
}

/// Spaces at the front of a line
fn depth(line: &str) -> usize {
    line.len() - line.trim_start_matches(' ').len()
}

/// End of an unquoted text: its words as they stand, with whatever space and line ends between them
fn plain_end(rest: &str, value: &str) -> usize {
    let is_space = |letter| letter == ' ' || letter == '\t' || is_break(letter);
    let mut end = 0;
    for word in value.split(is_space).filter(|word| !word.is_empty()) {
        let after = rest.get(end..).unwrap_or_default();
        let ahead = after.trim_start_matches(is_space);
        if !ahead.starts_with(word) {
            break;
        }
        end += after.len() - ahead.len() + word.len();
    }
    end
}

/// The byte after the bracket that closes what opens at `start`, with no more than space, comments and commas between
/// `from` and it; none for a list or map without brackets
pub(super) fn closing(text: &str, start: usize, from: usize) -> Option<usize> {
    let bracket = match text.get(start..)?.chars().next()? {
        '[' => ']',
        '{' => '}',
        _ => return None,
    };
    let mut at = from.max(start + 1);
    loop {
        let rest = text.get(at..)?;
        match rest.chars().next()? {
            '#' => at += rest.find(is_break)?,
            letter @ (',' | ':' | '?') => at += letter.len_utf8(),
            letter if letter.is_whitespace() => at += letter.len_utf8(),
            letter if letter == bracket => return Some(at + 1),
            _ => return None,
        }
    }
}

/// The next byte with something on it that is no space, no comment and no mark of a list or map
pub(super) fn ahead(text: &str, from: usize) -> usize {
    let mut at = from;
    while let Some(rest) = text.get(at..)
        && let Some(letter) = rest.chars().next()
    {
        match letter {
            '#' => at += rest.find(is_break).unwrap_or(rest.len()),
            '-' | '?' | ':' | ',' | '[' | '{' => at += 1,
            letter if letter.is_whitespace() => at += letter.len_utf8(),
            _ => break,
        }
    }
    at
}

/// End of the word that starts at a byte: at least one character, as long as the text has one
pub(super) fn word_end(text: &str, from: usize) -> usize {
    let rest = text.get(from..).unwrap_or_default();
    let is_end = |letter: char| letter.is_whitespace() || ",[]{}".contains(letter);
    let first = rest.chars().next().map_or(0, char::len_utf8);
    let tail = rest.get(first..).unwrap_or_default();
    if rest.starts_with(is_end) {
        return from + first;
    }
    from + first + tail.find(is_end).unwrap_or(tail.len())
}
