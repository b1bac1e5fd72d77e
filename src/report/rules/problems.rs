//! Problems as a person reads them on a terminal, or as a program reads them.

use crate::invariant::Hold;
use crate::problem::code::{Code, Severity};
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Sources, Span};
use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode};
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// How wide to draw and whether in colour
#[derive(Clone, Copy, Debug)]
pub struct Screen {
    /// Columns
    pub width: usize,
    /// Colours and boldness may be used
    pub colour: bool,
}

/// All problems in the order of files and places, with a count at the end; empty when there are none
pub fn text(problems: &Problems, sources: &Sources, screen: Screen) -> String {
    let theme = if screen.colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let handler = GraphicalReportHandler::new_themed(theme).with_width(screen.width);
    let mut drawn = String::new();
    let texts = Texts::of(sources);
    for problem in problems.sorted() {
        let shown = Shown::new(problem, sources, &texts);
        if handler.render_report(&mut drawn, &shown).is_err() {
            drawn.push_str(&problem.message);
        }
        drawn.push('\n');
    }
    if problems.left_out() > 0 {
        drawn.push_str(&format!("{}\n\n", left_out(problems)));
    }
    drawn + &count(problems)
}

/// Where more is told about problems of these codes; empty when there are none
pub fn where_more(problems: &Problems) -> String {
    let first = problems.sorted().first().map(|problem| problem.code.slug());
    first.map_or_else(String::new, |code| {
        format!(
            "`pinboss rules explain CODE` tells more about a problem, as in `pinboss rules explain {code}`.\n"
        )
    })
}

/// That some are only counted
pub(in crate::report) fn left_out(problems: &Problems) -> String {
    format!("{} more are left out: mend these first", problems.left_out())
}

fn count(problems: &Problems) -> String {
    let plural = |number: usize, word: &str| {
        let ending = if number == 1 { "" } else { "s" };
        format!("{number} {word}{ending}")
    };
    match problems.counts() {
        (0, 0) => String::new(),
        (errors, 0) => format!("{}\n", plural(errors, "error")),
        (0, warnings) => format!("{}\n", plural(warnings, "warning")),
        (errors, warnings) => {
            format!("{}, {}\n", plural(errors, "error"), plural(warnings, "warning"))
        }
    }
}

/// The texts of all files, each held once for all problems in it
struct Texts(BTreeMap<SourceId, Arc<String>>);

impl Texts {
    fn of(sources: &Sources) -> Self {
        Texts(sources.ids().map(|id| (id, Arc::new(sources.text(id).to_owned()))).collect())
    }
}

/// A problem in the shape the drawing library asks for
struct Shown<'a> {
    problem: &'a Problem,
    source: NamedSource<Arc<String>>,
    help: String,
}

impl<'a> Shown<'a> {
    fn new(problem: &'a Problem, sources: &Sources, texts: &Texts) -> Self {
        let id = problem.at.source;
        let text = texts.0.get(&id).cloned().hold("a problem stands in one of the texts");
        let source = NamedSource::new(sources.name(id), text);
        Shown { problem, source, help: help(problem, sources) }
    }
}

/// What to do, and the places in other files, which the drawing cannot point at
fn help(problem: &Problem, sources: &Sources) -> String {
    let elsewhere = problem.also.iter().filter(|(span, _)| span.source != problem.at.source);
    let places = elsewhere.map(|(span, words)| {
        let place = sources.place(*span);
        format!("{words}: {} line {}", place.file, place.line)
    });
    let help = (!problem.help.is_empty()).then(|| problem.help.clone());
    help.into_iter().chain(places).collect::<Vec<_>>().join("\n")
}

impl fmt::Display for Shown<'_> {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.problem.message)
    }
}

impl fmt::Debug for Shown<'_> {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.problem, out)
    }
}

impl std::error::Error for Shown<'_> {}

impl Diagnostic for Shown<'_> {
    fn code<'b>(&'b self) -> Option<Box<dyn fmt::Display + 'b>> {
        Some(Box::new(self.problem.code.slug()))
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.problem.code.severity() {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
        })
    }

    fn help<'b>(&'b self) -> Option<Box<dyn fmt::Display + 'b>> {
        (!self.help.is_empty()).then(|| Box::new(&self.help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        (!self.source.inner().is_empty()).then_some(&self.source as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        self.source_code()?;
        let here = self.problem.at.source;
        let at = self.problem.at;
        let main = LabeledSpan::new_primary_with_span(None, (at.start, at.end - at.start));
        let others = self.problem.also.iter();
        let same_file = others.filter(move |(span, _)| span.source == here);
        Some(Box::new(std::iter::once(main).chain(same_file.map(|(span, words)| label(words, *span)))))
    }
}

fn label(words: &str, span: Span) -> LabeledSpan {
    LabeledSpan::new(Some(words.to_owned()), span.start, span.end - span.start)
}

/// One problem for a program: places counted from 1, columns in characters
#[derive(Clone, Debug, Serialize)]
pub struct Line {
    code: &'static str,
    severity: &'static str,
    message: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    help: String,
    file: String,
    line: usize,
    column: usize,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<Also>,
}

#[derive(Clone, Debug, Serialize)]
struct Also {
    message: String,
    file: String,
    line: usize,
    column: usize,
}

/// All problems for a program, in the order of files and places
pub fn lines(problems: &Problems, sources: &Sources) -> Vec<Line> {
    let sorted = problems.sorted();
    let mut lines: Vec<Line> = sorted.iter().map(|problem| line(problem, sources)).collect();
    if let Some(last) = sorted.last().filter(|_| problems.left_out() > 0) {
        let (code, message) = (Code::TooMany.slug(), left_out(problems));
        lines.push(Line { code, message, help: String::new(), also: Vec::new(), ..line(last, sources) });
    }
    lines
}

/// All problems as a JSON array
///
/// # Errors
/// When the library that writes JSON fails, which it does not for these types.
pub fn json(problems: &Problems, sources: &Sources) -> Result<String, serde_json::Error> {
    crate::report::json(&lines(problems, sources))
}

/// How grave it is, as programs are told
pub(in crate::report) fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    }
}

fn line(problem: &Problem, sources: &Sources) -> Line {
    let place = sources.place(problem.at);
    Line {
        code: problem.code.slug(),
        severity: word(problem.code.severity()),
        message: problem.message.clone(),
        help: problem.help.clone(),
        file: place.file,
        line: place.line,
        column: place.column,
        also: also(problem, sources),
    }
}

fn also(problem: &Problem, sources: &Sources) -> Vec<Also> {
    let others = problem.also.iter();
    others
        .map(|(span, message)| {
            let place = sources.place(*span);
            Also { message: message.clone(), file: place.file, line: place.line, column: place.column }
        })
        .collect()
}
