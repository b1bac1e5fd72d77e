//! The `grades` clause: which of the three shapes it is.

use super::context::CheckContext;
use super::declared::words;
use super::share::shared;
use crate::model::grades::{Grades, Shape};
use crate::model::{Common, Effect, Symptom};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{self, Clause, Declaration};

/// A condition with its grades and nothing else yet
pub(super) fn effect(declaration: &Declaration, common: Common, problems: &mut Problems) -> Effect {
    let written = declaration.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Grades(grades) => Some((grades, clause.at)),
        _ => None,
    });
    let shared = shared(declaration, common.extent, problems);
    Effect {
        common,
        grades: match written {
            Some((grades, _)) if grades.words.len() > MOST_GRADES => {
                if let Some(problem) = too_many(grades) {
                    problems.push(problem);
                }
                Grades::unread()
            }
            Some((grades, at)) => shape(grades, at, problems),
            None if declaration.broken => Grades::unread(),
            None => Grades::no_yes(),
        },
        lines: Vec::new(),
        leaks: Vec::new(),
        shared,
    }
}

/// A symptom with its grades and nothing else yet
pub(super) fn symptom(declaration: &Declaration, common: Common, problems: &mut Problems) -> Symptom {
    Symptom {
        effect: effect(declaration, common, problems),
        reading: None,
        counts: Vec::new(),
        counted: Vec::new(),
        gives_way: Vec::new(),
        seen: None,
    }
}

/// Most grades of a block: nobody tells more apart
const MOST_GRADES: usize = 16;

fn too_many(grades: &tree::Grades) -> Option<Problem> {
    let first = grades.words.get(MOST_GRADES)?;
    let message = format!("nobody tells more than {MOST_GRADES} grades apart");
    Some(Problem::new(Code::TooMany, first.at, message).help("put neighbouring grades together"))
}

fn shape(grades: &tree::Grades, at: Span, problems: &mut Problems) -> Grades {
    let names: Vec<String> = grades.words.iter().map(|word| word.value.clone()).collect();
    for (number, word) in grades.words.iter().enumerate() {
        if let Some(first) = grades.words.iter().take(number).find(|earlier| earlier.value == word.value) {
            problems.push(
                Problem::new(Code::BadGrades, word.at, format!("the grade `{}` stands twice", word.value))
                    .also(first.at, "first here")
                    .help("give each grade a name of its own"),
            );
        }
    }
    let signs: String = grades.signs.iter().collect();
    let found = match signs.as_str() {
        "" => None,
        signs if signs.chars().all(|sign| sign == ',') => Some(Shape::Ladder),
        signs if is_alternatives(signs) => Some(Shape::Alternatives),
        signs if is_arms(signs) => Some(Shape::Arms { low: signs.matches('<').count() }),
        _ => None,
    };
    match found {
        Some(Shape::Arms { low }) => Grades { names: normal_first(&names, low), shape: Shape::Arms { low } },
        Some(shape) => Grades { names, shape },
        None => {
            let at = words(&grades.words).unwrap_or(at); // else: no word of it could be read
            problems.push(
                Problem::new(Code::BadGrades, at, "these grades fit none of the three shapes").help(
                    "write a ladder `none, slight, heavy`, alternatives `none, inboard | outboard, both` \
                     with a last grade for two that come together, or two arms `tight < right > slack`",
                ),
            );
            Grades::unread()
        }
    }
}

/// `none, a | b | c, last`
fn is_alternatives(signs: &str) -> bool {
    signs
        .strip_prefix(',')
        .and_then(|rest| rest.strip_suffix(','))
        .is_some_and(|between| !between.is_empty() && between.chars().all(|sign| sign == '|'))
}

/// `far_low < low < normal > high > far_high`
fn is_arms(signs: &str) -> bool {
    let low = signs.matches('<').count();
    let high = signs.matches('>').count();
    low > 0 && high > 0 && signs == format!("{}{}", "<".repeat(low), ">".repeat(high))
}

/// The grades of two arms with the normal one first, then each arm outward
fn normal_first(names: &[String], low: usize) -> Vec<String> {
    let below = names.iter().take(low).rev();
    let normal = names.iter().skip(low).take(1);
    let above = names.iter().skip(low + 1);
    normal.chain(below).chain(above).cloned().collect()
}

/// Number of a grade of a block by its name, or a problem with the nearest one
pub(super) fn known_grade(
    word: &Spanned<String>,
    block: &Effect,
    context: &mut CheckContext<'_>,
) -> Option<usize> {
    let grades = &block.grades;
    let found = grades.find(&word.value);
    if found.is_none() && !grades.names.is_empty() {
        let known = grades.names.iter().map(String::as_str);
        let otherwise = format!("the grades are {}", grades.names.join(", "));
        let message = format!("`{}` has no grade `{}`", block.common.name, word.value);
        let help = did_you_mean(&word.value, known, &otherwise);
        let problem = Problem::new(Code::UnknownGrade, word.at, message);
        let grades = context.names.grades(&block.common);
        context.problems.push(problem.also_at(grades, "its grades").help(help));
    }
    found
}
