//! What each code means, with a wrong and a right example, from the texts in the folder beside this file.

use super::code::{Code, Group};

/// The small set of rules that every example stands beside
pub const BESIDE: &str = include_str!("explained/beside.rules");

/// What a code means and what to do, as it is written
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct Explained {
    /// What is wrong and why it matters; paragraphs with an empty line between
    pub what: &'static str,
    /// What to do about it
    pub todo: &'static str,
    /// An example that brings the code about
    pub wrong: Example,
    /// The same mended
    pub right: Example,
    /// All of it as Markdown, without a heading
    pub markdown: &'static str,
}

/// An example of a file
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct Example {
    /// What it is
    pub form: Form,
    /// Its text, with a line end behind every line
    pub text: &'static str,
}

/// What an example is
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Form {
    /// Rules that stand beside [`BESIDE`]
    Rules,
    /// A whole case file, weighed by [`BESIDE`]
    Case,
    /// Words about a file that cannot be shown
    Words,
}

impl Form {
    /// The word behind the fence of an example
    pub fn word(self) -> &'static str {
        match self {
            Form::Rules => "rules",
            Form::Case => "case",
            Form::Words => "words",
        }
    }

    fn find(word: &str) -> Option<Form> {
        [Form::Rules, Form::Case, Form::Words].into_iter().find(|form| form.word() == word)
    }
}

/// The texts of a group of codes
fn text(group: Group) -> &'static str {
    match group {
        Group::Files => include_str!("explained/files.md"),
        Group::Form => include_str!("explained/form.md"),
        Group::Names => include_str!("explained/names.md"),
        Group::Numbers => include_str!("explained/numbers.md"),
        Group::Whole => include_str!("explained/whole.md"),
        Group::Cases => include_str!("explained/cases.md"),
    }
}

/// What a code means; none when its text is missing or not laid out like the others
pub fn explained(code: Code) -> Option<Explained> {
    let entries = text(code.group()).split("\n## ");
    let entry = entries.skip(1).find_map(|entry| entry.strip_prefix(code.slug())?.strip_prefix('\n'))?;
    let markdown = entry.trim();
    let (what, rest) = markdown.split_once("\n\nWhat to do: ")?;
    let (todo, rest) = rest.split_once("\n\nWrong:\n\n")?;
    let (wrong, right) = rest.split_once("\n\nRight:\n\n")?;
    Some(Explained { what, todo, wrong: example(wrong)?, right: example(right)?, markdown })
}

/// What stands between two fences
fn example(fenced: &'static str) -> Option<Example> {
    let (form, text) = fenced.strip_prefix("```")?.strip_suffix("```")?.split_once('\n')?;
    Some(Example { form: Form::find(form)?, text })
}
