//! The grades, forms and choices of a block as far as its declaration can be read, and how sorts and places are said.

use crate::syntax::tree::{Attribute, Clause, Declaration, Sort};

/// The words that a block can be: grades of a condition or symptom, forms of a cause, choices of a fact
#[derive(Debug, PartialEq)]
pub(super) struct Words<'t> {
    /// The words, in order
    pub(super) all: Vec<&'t str>,
    /// Which of them is the normal one
    pub(super) normal: Option<usize>,
    /// What one of them is called
    pub(super) noun: &'static str,
}

impl<'t> Words<'t> {
    /// The words without the normal one
    pub(super) fn abnormal(&self) -> impl Iterator<Item = &'t str> {
        let abnormal = self.all.iter().enumerate().filter(|(number, _)| Some(*number) != self.normal);
        abnormal.map(|(_, word)| *word)
    }
}

/// The words that a block can be; none of any other sort of block
pub(super) fn words(block: &Declaration) -> Option<Words<'_>> {
    Some(match block.sort.value {
        Sort::Condition | Sort::Symptom => grades(block),
        Sort::Cause => Words { all: forms(block), normal: None, noun: "form" },
        Sort::Fact => Words { all: choices(block), normal: None, noun: "choice" },
        _ => return None,
    })
}

fn grades(block: &Declaration) -> Words<'_> {
    let grades = block.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Grades(grades) => Some(grades),
        _ => None,
    });
    let Some(grades) = grades else {
        return Words { all: vec!["no", "yes"], normal: Some(0), noun: "grade" };
    };
    let all = grades.words.iter().map(|word| word.value.as_str()).collect();
    // On two arms the normal grade stands between the last `<` and the first `>`; else it comes first.
    let low = grades.signs.iter().take_while(|sign| **sign == '<').count();
    Words { all, normal: Some(low), noun: "grade" }
}

fn forms(block: &Declaration) -> Vec<&str> {
    let mut forms = Vec::new();
    for clause in &block.clauses {
        match &clause.value {
            Clause::Forms(named) => forms.extend(named.iter().map(|form| form.value.as_str())),
            Clause::Chance(chance) if chance.toward.is_some() && forms.is_empty() => {
                forms.extend(["left", "right"]);
            }
            _ => {}
        }
    }
    forms
}

fn choices(block: &Declaration) -> Vec<&str> {
    let choices = block.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Choices { choices, .. } => Some(choices),
        _ => None,
    });
    choices.into_iter().flatten().map(|(choice, _)| choice.value.as_str()).collect()
}

/// `one for the machine`, `one for each side`, `one for each roller of each side`
pub(super) fn places(block: &Declaration) -> String {
    let each = block.attributes.iter().find_map(|attribute| match &attribute.value {
        Attribute::Each(word) => Some(word.value.as_str()),
        _ => None,
    });
    let numbered = block.attributes.iter().any(|it| matches!(it.value, Attribute::Numbered(_)));
    match each {
        None => "one for the machine".to_owned(),
        Some("side") if numbered => "several along each side".to_owned(),
        Some("side") => "one for each side".to_owned(),
        Some(part) => format!("one for each {part} of each side"),
    }
}

/// The part that a block is seen on, where it says so
pub(super) fn part(block: &Declaration) -> Option<&str> {
    block.attributes.iter().find_map(|attribute| match &attribute.value {
        Attribute::Of(part) => Some(part.value.as_str()),
        _ => None,
    })
}

/// The label of a block, or its name where it has none that could be read
pub(super) fn label(block: &Declaration) -> &str {
    block.label.as_ref().map_or(block.name.value.as_str(), |label| label.value.as_str())
}

/// Several words with commas, and another word before the last
pub(super) fn listed<T: AsRef<str>>(words: &[T], last: &str) -> String {
    match words {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [rest @ .., end] => {
            let rest: Vec<&str> = rest.iter().map(AsRef::as_ref).collect();
            format!("{} {last} {}", rest.join(", "), end.as_ref())
        }
    }
}
