//! What is said about rule files, in a shape that a table of tests can hold.

use crate::support::rules::{self, Rules};
use pinboss::model::Model;
use pinboss::problem::Problem;
use pinboss::problem::code::{Code, Severity};
use pinboss::source::Sources;
use pinboss::syntax::{self, tree};

/// Rules without an error, which mistakes are put into or added to
pub const SOUND: &str = r#"
scale
    always 98%   often 60%
kind upkeep: "put off" counts against owner
part idler, each side: "idler"
part roller, each side, numbered: "roller"
fact chain_type: "chain"
    choices dry 40%, sealed 60%
cause off_line, each side: "out of line"
    kind upkeep
    chance 5% of sides where chain_type is dry
    forms inboard, outboard
condition toe, each side: "toe"
    grades toed_in < straight > toed_out
    with off_line inboard: often toed_in
symptom edge, each side, of idler: "edge"
    grades none, slight, heavy
    with off_line: often slight
    with toe toed_in: always heavy
    without 2% slight
measure gap, each roller: "gap"
    unit mm   range 0 to 60   error 1
symptom close, each roller: "close"
    grades ample, small
    from gap: ample, small under 5 mm
    without 2% small
dimensions medium: "invented"
    gap 20 mm 0%, 4 mm 100%
check look, each side: "Look"
    shows edge
    takes 2 min
"#;

/// Parses and checks texts as the files of one set of rules
pub fn take(texts: &[&str]) -> Rules {
    rules::read((0..).zip(texts).map(|(number, text): (usize, _)| (format!("{number}.rules"), *text)))
}

impl Rules {
    /// Each problem asked for as `code | underlined | message`, in the order of places
    fn lines(&self, wanted: impl Fn(&Problem) -> bool) -> Vec<String> {
        let sorted = self.problems.sorted();
        let shown = sorted.into_iter().filter(|problem| wanted(problem)).map(|problem| {
            format!("{} | {} | {}", problem.code.slug(), self.sources.slice(problem.at), problem.message)
        });
        shown.collect()
    }

    /// The errors, in the order of places
    pub fn errors(&self) -> Vec<String> {
        self.lines(|problem| problem.code.severity() == Severity::Error)
    }

    /// The problems of one code, in the order of places
    pub fn of(&self, code: Code) -> Vec<String> {
        self.lines(|problem| problem.code == code)
    }

    /// The word on what to do about the first problem
    pub fn help(&self) -> String {
        self.problems.sorted().first().unwrap().help.clone()
    }
}

/// The errors of one file
pub fn errors(text: &str) -> Vec<String> {
    take(&[text]).errors()
}

/// The model of one file without an error
pub fn model(text: &str) -> Model {
    let taken = take(&[text]);
    assert_eq!(taken.errors(), Vec::<String>::new());
    taken.model
}

/// The only declaration of a text that parses without a problem
pub fn declaration(text: &str) -> tree::Declaration {
    let mut sources = Sources::default();
    let id = sources.add("one.rules", text);
    let (mut file, problems) = syntax::parse(&sources, id);
    let said: Vec<&str> = problems.sorted().iter().map(|problem| problem.message.as_str()).collect();
    assert_eq!(said, Vec::<&str>::new(), "{text}");
    assert_eq!(file.declarations.len(), 1, "{text}");
    file.declarations.remove(0)
}

/// The clauses of one indented line of a block
pub fn clauses(line: &str) -> Vec<tree::Clause> {
    let declaration = declaration(&format!("symptom s: \"a symptom\"\n    {line}\n"));
    declaration.clauses.into_iter().map(|clause| clause.value).collect()
}

/// What is said of the form of one file, each as `underlined | message | help`
pub fn form(text: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let id = sources.add("one.rules", text);
    let (_, problems) = syntax::parse(&sources, id);
    let sorted = problems.sorted();
    let shown = sorted.iter().map(|it| format!("{} | {} | {}", sources.slice(it.at), it.message, it.help));
    shown.collect()
}

/// The errors of the sound rules with more added, each as `code | underlined | message | help`
pub fn added(text: &str) -> Vec<String> {
    let taken = take(&[SOUND, text]);
    let sorted = taken.problems.sorted();
    let errors = sorted.into_iter().filter(|problem| problem.code.severity() == Severity::Error);
    let shown = errors.map(|it| {
        format!("{} | {} | {} | {}", it.code.slug(), taken.sources.slice(it.at), it.message, it.help)
    });
    shown.collect()
}
