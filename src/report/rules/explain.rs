//! What the codes of problems mean: one of them in full, or all of them by their titles.

use crate::problem::code::{Code, Group};
use crate::problem::explained::{self, BESIDE, Form, explained};
use crate::report::prose::Prose;
use crate::report::rules::problems::word;
use crate::report::words::capital;
use serde::Serialize;

/// A code with all that is said of it
#[derive(Debug, Serialize)]
pub struct Explanation {
    /// The code
    pub code: &'static str,
    /// `error` or `warning`
    pub severity: &'static str,
    /// What kind of fault it is, in a line
    pub title: &'static str,
    /// What is wrong and why it matters, a paragraph an item
    pub what: Vec<String>,
    /// What to do about it
    pub what_to_do: String,
    /// An example that brings it about
    pub wrong: Option<Example>,
    /// The same mended
    pub right: Option<Example>,
}

/// An example of a file
#[derive(Debug, Serialize)]
pub struct Example {
    /// `rules`, `case`, or `words` about a file that cannot be shown
    pub form: &'static str,
    /// Its text
    pub text: String,
}

/// All codes, and the rules their examples stand beside
#[derive(Debug, Serialize)]
pub struct List {
    /// The codes by what they are about
    pub groups: Vec<Listed>,
    /// The small set of rules that every example stands beside
    pub beside: &'static str,
}

/// The codes about one thing
#[derive(Debug, Serialize)]
pub struct Listed {
    /// What they are about
    pub title: &'static str,
    /// The codes
    pub codes: Vec<Titled>,
}

/// A code with its title
#[derive(Debug, Serialize)]
pub struct Titled {
    /// The code
    pub code: &'static str,
    /// `error` or `warning`
    pub severity: &'static str,
    /// What kind of fault it is, in a line
    pub title: &'static str,
}

/// All that is said of a code
pub fn explanation(code: Code) -> Explanation {
    let explained = explained(code);
    Explanation {
        code: code.slug(),
        severity: word(code.severity()),
        title: code.title(),
        what: explained.map_or_else(Vec::new, |own| own.what.split("\n\n").map(flowing).collect()),
        what_to_do: explained.map_or_else(String::new, |own| flowing(own.todo)),
        wrong: explained.map(|own| example(own.wrong)),
        right: explained.map(|own| example(own.right)),
    }
}

/// A paragraph on one line
pub fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn example(example: explained::Example) -> Example {
    let text = match example.form {
        Form::Words => flowing(example.text),
        Form::Rules | Form::Case => example.text.to_owned(),
    };
    Example { form: example.form.word(), text }
}

/// A code in full
pub fn text(explanation: &Explanation) -> Prose {
    let mut prose = Prose::new();
    let Explanation { code, severity, title, what, what_to_do, wrong, right } = explanation;
    prose.say(0, &format!("{code}: {title}"));
    prose.say(
        0,
        match *severity {
            "error" => "An error: nothing is computed until it is mended.",
            _ => "A warning: legal, but doubtful.",
        },
    );
    for paragraph in what {
        prose.gap();
        prose.say(0, paragraph);
    }
    prose.passage("What to do:");
    prose.say(2, what_to_do);
    for (heading, example) in [("Wrong:", wrong), ("Right:", right)] {
        let Some(example) = example else { continue };
        prose.passage(heading);
        match example.form {
            "words" => prose.say(2, &example.text),
            _ => prose.lines(4, &example.text),
        }
    }
    if wrong.as_ref().is_some_and(|example| example.form != "words") {
        prose.gap();
        prose.say(0, "The examples stand beside the small set of rules that `pinboss rules explain` shows.");
    }
    prose
}

/// All codes by what they are about
pub fn list() -> List {
    let of = |group: Group| {
        let own = Code::ALL.iter().filter(|code| code.group() == group);
        let titled =
            |code: &Code| Titled { code: code.slug(), severity: word(code.severity()), title: code.title() };
        Listed { title: group.title(), codes: own.map(titled).collect() }
    };
    List { groups: Group::ALL.map(of).into(), beside: BESIDE }
}

/// All codes
pub fn list_text(list: &List) -> Prose {
    let mut prose = Prose::new();
    for Listed { title, codes } in &list.groups {
        prose.passage(title);
        for Titled { code, severity, title } in codes {
            prose.say(2, &format!("{code} ({severity}): {title}"));
        }
    }
    prose.passage("The rules that the examples stand beside");
    prose.gap();
    prose.lines(2, list.beside);
    prose
}

/// What a code means, for a reader who knows its title
pub fn in_short(code: Code) -> [(&'static str, String); 2] {
    let explanation = explanation(code);
    [("What is wrong", capital(&explanation.what.join(" "))), ("What to do", explanation.what_to_do)]
}
