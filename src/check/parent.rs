//! The parents of a line: what they are, which grade, which of their places.

use super::context::CheckContext;
use super::grades::known_grade;
use crate::model::{CauseId, Extent, Forms, Hidden, Parent, ParentGrade, Reach};
use crate::problem::code::Code;
use crate::problem::{Problem, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{self, Sort};

/// The parents that open a line together, in an order of their own, seen from a block with these places; none when
/// one of them is at fault
pub(super) fn resolve_all(
    written: &[tree::Parent],
    extent: Extent,
    context: &mut CheckContext<'_>,
) -> Option<Vec<Parent>> {
    let resolved: Vec<Option<Parent>> =
        written.iter().map(|parent| resolve(parent, extent, context)).collect();
    let mut parents: Option<Vec<Parent>> = resolved.iter().cloned().collect();
    for (number, (parent, name)) in resolved.iter().zip(written.iter().map(|it| &it.name)).enumerate() {
        let before = || resolved.iter().take(number).flatten();
        let Some(parent) = parent else {
            continue;
        };
        let first = resolved.iter().zip(written).take(number);
        let first = first
            .filter(|(it, _)| it.as_ref().is_some_and(|it| it.of == parent.of))
            .map(|(_, it)| it.name.at);
        if let Some(first) = first.into_iter().next() {
            context.problems.push(
                Problem::new(
                    Code::RepeatedClause,
                    name.at,
                    format!("`{}` stands twice in this line", name.value),
                )
                .also(first, "first here")
                .help("name each cause or condition once; for two of its grades put a condition between"),
            );
            parents = None;
        } else if parent.reach == Reach::Each && before().any(|other| other.reach == Reach::Each) {
            context.problems.push(
                Problem::new(
                    Code::PlaceUseless,
                    name.at,
                    "only one of the parents of a line can be on any place",
                )
                .help("nothing says which places go together: put a condition of each place between"),
            );
            parents = None;
        }
    }
    if let Some(parents) = &mut parents {
        parents.sort_by_key(|parent| (parent.of, parent.reach, parent.grade));
    }
    parents
}

/// The parent that a line names
fn resolve(written: &tree::Parent, extent: Extent, context: &mut CheckContext<'_>) -> Option<Parent> {
    let of = context.names.hidden(&written.name, context.problems)?;
    let toward = written.reach.as_ref().and_then(|reach| match reach.value {
        tree::Reach::ThisSide => Some((ParentGrade::ThisSide, reach.at)),
        tree::Reach::OtherSide => Some((ParentGrade::OtherSide, reach.at)),
        tree::Reach::EitherSide | tree::Reach::Any(_) => None,
    });
    let grade = match (&written.grade, toward) {
        (Some(word), Some((_, at))) => {
            let message = format!("`{}` says already which side is meant", word.value);
            context.problems.push(
                Problem::new(Code::PlaceUseless, at, message)
                    .help("name the form, or the side, but not both"),
            );
            return None;
        }
        (Some(word), None) => grade(of, word, context)?,
        (None, Some((toward, at))) => {
            has_sides(of, extent, at, context)?;
            toward
        }
        (None, None) => ParentGrade::Any,
    };
    let reach = reach(of, written, extent, context)?;
    Some(Parent { of, grade, reach })
}

fn grade(of: Hidden, word: &Spanned<String>, context: &mut CheckContext<'_>) -> Option<ParentGrade> {
    let model = context.model;
    match of {
        Hidden::Condition(id) => match known_grade(word, &model[id], context)? {
            0 => {
                context.problems.push(
                    Problem::new(
                        Code::NormalGrade,
                        word.at,
                        format!("`{}` is the normal grade, which brings nothing about", word.value),
                    )
                    .also_at(context.names.grades(&model[id].common), "its grades, the normal one first")
                    .help("use `without` for what shows when nothing is wrong"),
                );
                None
            }
            grade => Some(ParentGrade::Grade(grade)),
        },
        Hidden::Cause(id) => {
            let forms = model[id].forms.names();
            if let Some(form) = forms.iter().position(|form| *form == word.value) {
                return Some(ParentGrade::Grade(form + 1));
            }
            if is_broken(id, context) {
                return None;
            }
            let known = forms.iter().map(String::as_str);
            let otherwise = match model[id].forms {
                Forms::Plain => "a cause without forms is there or not: leave the word out".to_owned(),
                _ => format!("its forms are {}", forms.join(", ")),
            };
            let message = format!("`{}` has no form `{}`", model[id].common.name, word.value);
            let help = did_you_mean(&word.value, known, &otherwise);
            let problem = Problem::new(Code::UnknownGrade, word.at, message).help(help);
            let forms = context.names.forms(&model[id].common);
            let declared = forms.unwrap_or(model[id].common.at); // else: it has no forms
            context.problems.push(problem.also(declared, "declared here"));
            None
        }
    }
}

/// True when the forms of a cause may stand on a line that could not be read
fn is_broken(id: CauseId, context: &CheckContext<'_>) -> bool {
    context.names.declaration(Sort::Cause, id.0).is_some_and(|cause| cause.broken)
}

fn has_sides(of: Hidden, extent: Extent, at: Span, context: &mut CheckContext<'_>) -> Option<()> {
    let sided = matches!(of, Hidden::Cause(id) if context.model[id].forms == Forms::Sides);
    if !sided && matches!(of, Hidden::Cause(id) if is_broken(id, context)) {
        return None;
    }
    let (message, help) = if !sided {
        let name = &context.model.common(of).name;
        (
            format!("`{name}` does not lie toward a side"),
            "only a cause whose chance says `toward one side` has a this side and another",
        )
    } else if extent == Extent::Machine {
        (
            "this block is one for the whole machine and has no side of its own".to_owned(),
            "name the form, `left` or `right`, or give the block `each side`",
        )
    } else {
        return Some(());
    };
    let declared = (!sided).then(|| context.model.common(of).at);
    let problem = Problem::new(Code::PlaceUseless, at, message).also_at(declared, "declared here");
    context.problems.push(problem.help(help));
    None
}

/// Which of the parent's places: a parent with more places than the block needs a word on it
fn reach(
    of: Hidden,
    written: &tree::Parent,
    extent: Extent,
    context: &mut CheckContext<'_>,
) -> Option<Reach> {
    let parent = context.model.common(of).extent;
    let name = &written.name.value;
    let word = match (parent, extent) {
        (Extent::Side, Extent::Machine) => Some("on either side".to_owned()),
        (Extent::Each(part), Extent::Machine | Extent::Side) => {
            Some(format!("on any {}", context.model[part].common.name))
        }
        (Extent::Each(part), Extent::Each(other)) if part != other => {
            let message = format!(
                "nothing says which {} `{name}` is to be taken from here",
                context.model[part].common.name
            );
            context.problems.push(
                Problem::new(Code::PlaceNeeded, written.name.at, message)
                    .also(context.model.common(of).at, "declared here")
                    .help("put a condition of each side between the two"),
            );
            return None;
        }
        _ => None,
    };
    let given = written.reach.as_ref().and_then(|reach| match &reach.value {
        tree::Reach::EitherSide => Some(("on either side".to_owned(), reach.at)),
        tree::Reach::Any(part) => Some((format!("on any {}", part.value), reach.at)),
        tree::Reach::ThisSide | tree::Reach::OtherSide => None,
    });
    match (word, given) {
        (None, None) => Some(Reach::Here),
        (Some(word), Some((given, _))) if word == given => Some(Reach::Each),
        (Some(word), given) => {
            let at = given.map_or(written.name.at, |(_, at)| at);
            let message = format!("`{name}` has more places than this block");
            context.problems.push(
                Problem::new(Code::PlaceNeeded, at, message)
                    .also(context.model.common(of).at, "declared here, with its places")
                    .help(format!("say which: write `{name} {word}`")),
            );
            None
        }
        (None, Some((given, at))) => {
            let message =
                format!("`{given}` does not fit: `{name}` has one place for each place of this block");
            context
                .problems
                .push(Problem::new(Code::PlaceUseless, at, message).help("leave these words out"));
            None
        }
    }
}
