//! Whether a report is the one that its case and its rules make.
//!
//! Nothing that a page says is believed: the options that it names are read as a call's would be, with the same bounds, and of
//! its prices no more than a digest is taken. What they make is compared byte by byte.

use crate::invariant::Hold;
use crate::report::draw::picture::{escaped, unescaped};
use crate::report::form::html::MARKS;
use crate::report::prose::Prose;
use serde::Serialize;

/// What came of holding a report against the one made anew
#[derive(Debug, Eq, PartialEq, Serialize)]
pub struct Verdict {
    /// It is, byte for byte, the report that this case and these rules make
    pub belongs: bool,
    /// What differs, in the order of weight; empty when it belongs
    pub differences: Vec<Difference>,
}

/// One thing that differs
#[derive(Debug, Eq, PartialEq, Serialize)]
pub struct Difference {
    /// `form`, `case`, `rules`, `version`, `asked` or `text`
    pub what: &'static str,
    /// What the report says; empty where it says nothing
    pub in_report: String,
    /// What it would say if it were made now
    pub made_now: String,
    /// The first line that differs, from 1, where the difference is told by its line
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line: Option<usize>,
}

/// Holds a report against the one `made` anew, whose head says `marks`
///
/// Digests in the head are only a claim; what counts is that every byte is the same.
pub fn verdict(given: &str, made: &str, marks: &[(&'static str, &str); 4]) -> Verdict {
    if given == made {
        return Verdict { belongs: true, differences: Vec::new() };
    }
    let claims = MARKS.map(|name| claim(given, name));
    let mut differences = Vec::new();
    if claims.iter().all(Option::is_none) {
        differences.push(Difference {
            what: "form",
            in_report: String::new(),
            made_now: String::new(),
            line: None,
        });
        return Verdict { belongs: false, differences };
    }
    let sorts = ["version", "rules", "case", "asked"];
    for ((what, claim), (_, now)) in sorts.into_iter().zip(&claims).zip(marks) {
        if claim.as_deref() != Some(*now) {
            let in_report = claim.clone().unwrap_or_default(); // else: it claims nothing
            differences.push(Difference { what, in_report, made_now: (*now).to_owned(), line: None });
        }
    }
    if differences.is_empty() {
        differences.push(first_line(given, made));
    }
    Verdict { belongs: false, differences }
}

/// What a report says that it was made with: options of the command, as they would be given; a claim like all in its head
pub fn asked(given: &str) -> Option<String> {
    let [.., asked] = MARKS;
    claim(given, asked)
}

/// What the head of a report says under a name, without what would steer a terminal
fn claim(given: &str, name: &str) -> Option<String> {
    let head = given.split("</head>").next()?;
    let (_, rest) = head.split_once(&format!("<meta name=\"{name}\" content=\""))?;
    let (value, _) = rest.split_once('"')?;
    let shown = |letter: char| if letter.is_control() { '\u{fffd}' } else { letter };
    Some(unescaped(&escaped(&unescaped(value))).chars().map(shown).collect())
}

fn first_line(given: &str, made: &str) -> Difference {
    let mut lines = (1_usize..).zip(given.split('\n')).zip(made.split('\n'));
    let differing = lines.find(|((_, own), other)| own != other);
    let count = given.split('\n').count().min(made.split('\n').count());
    let ((line, own), now) = differing.unwrap_or(((count + 1, ""), "")); // else: one of them goes on longer
    Difference { what: "text", in_report: own.to_owned(), made_now: now.to_owned(), line: Some(line) }
}

/// The verdict as text, filled to a width
pub fn text(verdict: &Verdict) -> Prose {
    let mut prose = Prose::new();
    if verdict.belongs {
        prose.say(0, "The report belongs to this case and to these rules, and is as it was made.");
    } else {
        prose.say(0, "The report is not the one that this case and these rules make.");
    }
    for difference in &verdict.differences {
        prose.item(0, &sentence(difference));
    }
    prose
}

fn sentence(difference: &Difference) -> String {
    let Difference { what, in_report, made_now, line } = difference;
    let said = if in_report.is_empty() { "nothing" } else { in_report };
    match *what {
        "form" => "It is no report of this program: its head does not say what it belongs to.".to_owned(),
        "version" => {
            format!("It was made by {said}; this is {made_now}. Check it with the version that made it.")
        }
        "rules" => format!("The rules are others. The report says {said}; they are {made_now}."),
        "case" => {
            format!("The case is another, or was changed since. The report says {said}; it is {made_now}.")
        }
        "asked" => format!(
            "It says that it was made with {said}, and was checked with {made_now}. Options left out are taken as the \
             report names them."
        ),
        _ => format!(
            "Case, rules and version are those it was made from, and its text is another: it was changed afterwards, or a \
             picture or an earlier visit was. The first line that differs is {}.",
            line.hold("texts differ at a line")
        ),
    }
}
