//! Conditions and symptoms: their `with` and `without` lines, and what gives a grade directly.

use super::context::CheckContext;
use super::formula::{self, Outcomes};
use super::grades::known_grade;
use super::names::Names;
use super::never::dead_line;
use super::parent;
use super::share::{in_range, percent, share};
use super::test;
use crate::model::test::Test;
use crate::model::{Counted, Effect, Extent, Hidden, Leak, Line, Model, Parent, SymptomId, Threshold};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{self, Clause, Declaration, Sort};

/// Largest rounding allowed when shares are added up
const ROUNDING: f64 = 1e-9;

/// The lines of all conditions and symptoms
pub(super) fn fill(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    for (number, declaration) in names.of(Sort::Condition) {
        let mut context = CheckContext { model, names, problems };
        let Some(outline) = model.conditions.get(number) else {
            continue;
        };
        let (lines, leaks) = lines(declaration, outline, &mut context);
        if let Some(condition) = model.conditions.get_mut(number) {
            condition.lines = lines;
            condition.leaks = leaks;
        }
    }
    for (number, declaration) in names.of(Sort::Symptom) {
        let mut context = CheckContext { model, names, problems };
        let Some(outline) = model.symptoms.get(number) else {
            continue;
        };
        let (lines, leaks) = lines(declaration, &outline.effect, &mut context);
        let mut filled = outline.clone();
        filled.effect.lines = lines;
        filled.effect.leaks = leaks;
        for clause in &declaration.clauses {
            match &clause.value {
                Clause::From { sum, bounds } => {
                    let grades = Outcomes::grades(&outline.effect);
                    let extent = outline.effect.common.extent;
                    filled.reading = formula::bounded(sum, bounds, &grades, extent, &mut context);
                }
                Clause::Counts { grades, of } => {
                    filled.counts = counts(grades, of, &outline.effect, &mut context);
                    filled.counted = of.iter().map(|thing| thing.value.clone()).collect();
                }
                Clause::Seen { share, noun } => {
                    let extent = outline.effect.common.extent;
                    filled.seen = Some((seen(share, noun.as_ref(), extent, &mut context), clause.at));
                }
                Clause::GivesWay(name) => filled.gives_way.extend(gives_way(name, number, &mut context)),
                _ => {}
            }
        }
        if let Some(symptom) = model.symptoms.get_mut(number) {
            *symptom = filled;
        }
    }
}

/// The share of its own places that a symptom shows at in practice
fn seen(
    share: &Spanned<f64>,
    noun: Option<&Spanned<String>>,
    extent: Extent,
    context: &mut CheckContext<'_>,
) -> f64 {
    let own = context.model.noun(extent);
    if let Some(noun) = noun.filter(|noun| noun.value != own && !context.names.is_unread_noun(&noun.value)) {
        let message = format!("this symptom is seen on {own}, not on {}", noun.value);
        let help = format!("write `of {own}`: of a hundred of them, how many show it");
        context.problems.push(Problem::new(Code::BadShare, noun.at, message).help(help));
    }
    in_range(share.value / 100.0, share.at, context.problems)
}

fn gives_way(name: &Spanned<String>, number: usize, context: &mut CheckContext<'_>) -> Option<SymptomId> {
    let other = context.names.symptom(name, context.problems)?;
    let extent = |id: SymptomId| context.model[id].effect.common.extent;
    if extent(other) != extent(SymptomId(number)) {
        context.problems.push(
            Problem::new(Code::PlaceUseless, name.at, format!("`{}` has other places than this", name.value))
                .also(context.model[other].effect.common.at, "declared here")
                .help("a symptom gives way to one that is seen at the same place"),
        );
        return None;
    }
    Some(other)
}

fn lines(
    declaration: &Declaration,
    block: &Effect,
    context: &mut CheckContext<'_>,
) -> (Vec<Line>, Vec<Leak>) {
    let mut lines: Vec<Line> = Vec::new();
    let mut leaks: Vec<Leak> = Vec::new();
    let mut open_leak = None;
    let extent = block.common.extent;
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::With(written) => {
                let parents = parent::resolve_all(&written.parents, extent, context);
                let (effects, test, because) = line(written, block, context);
                let Some(parents) = parents else { continue };
                let open = lines.iter().find(|line| line.parents == parents && line.test.always());
                if let Some(open) = open {
                    dead_line(clause.at, Some(open.at), context.problems);
                }
                if let Some(slowly) = &written.slowly {
                    told_apart(slowly.at, &parents, context);
                }
                let slowly = written.slowly.is_some();
                lines.push(Line { parents, effects, slowly, test, because, at: clause.at });
            }
            Clause::Without(written) => {
                let (effects, test, because) = line(written, block, context);
                if open_leak.is_some() {
                    dead_line(clause.at, open_leak, context.problems);
                }
                open_leak = open_leak.or(test.always().then_some(clause.at));
                leaks.push(Leak { effects, test, because });
            }
            _ => {}
        }
    }
    (lines, leaks)
}

/// Says where nothing that a line names can have been at work only lately
fn told_apart(at: Span, parents: &[Parent], context: &mut CheckContext<'_>) {
    let has_times =
        |parent: &Parent| matches!(parent.of, Hidden::Cause(id) if context.model[id].recent.is_some());
    if !parents.iter().any(has_times) {
        let message = "of nothing that this line names is it said how often it is recent";
        let help = "add for instance `recent 40%` to the cause, or leave `slowly` out";
        context.problems.push(Problem::new(Code::MissingClause, at, message).help(help));
    }
}

type Resolved = (Vec<(usize, f64)>, Test, Option<String>);

fn line(written: &tree::Line, block: &Effect, context: &mut CheckContext<'_>) -> Resolved {
    let grades = &block.grades;
    let mut effects: Vec<(usize, f64)> = Vec::new();
    for effect in &written.effects {
        let share = share(&effect.frequency, context);
        let Some(grade) = grade_of(effect, block, context) else {
            continue;
        };
        let state = grades.state(grade);
        if effects.iter().any(|&(known, _)| known == state) {
            context.problems.push(
                Problem::new(
                    Code::RepeatedClause,
                    effect.frequency.at,
                    format!("the grade `{}` stands twice in this line", grades.name(grade)),
                )
                .help("keep one of the two"),
            );
        } else {
            effects.push((state, share));
        }
    }
    let sum: f64 = effects.iter().map(|&(_, share)| share).sum();
    let pieces = written.effects.iter().map(|effect| {
        effect.grade.as_ref().map_or(effect.frequency.at, |grade| effect.frequency.at.to(grade.at))
    });
    if let Some(at) = pieces.reduce(Span::to).filter(|_| sum > 1.0 + ROUNDING) {
        context.problems.push(
            Problem::new(
                Code::EffectsOver,
                at,
                format!("the effects of this line add up to {} %", percent(sum)),
            )
            .help("what is left of 100 % goes to the normal grade; lower one of them"),
        );
    }
    let test = test::resolve_within(&written.test, &block.common, context);
    let because = written.because.as_ref().map(|text| text.value.clone());
    (effects, test, because)
}

/// The grade an effect names; where there are two, the one that is not normal
fn grade_of(effect: &tree::Effect, block: &Effect, context: &mut CheckContext<'_>) -> Option<usize> {
    let grades = &block.grades;
    let Some(word) = &effect.grade else {
        match grades.names.len() {
            0 => return None,
            2 => return Some(1),
            _ => {}
        }
        let listed: Vec<&str> = grades.names.iter().skip(1).map(String::as_str).collect();
        context.problems.push(
            Problem::new(
                Code::UnknownGrade,
                effect.frequency.at,
                "this share does not say which grade it is for",
            )
            .help(format!("name one of {} behind it", listed.join(", "))),
        );
        return None;
    };
    let grade = known_grade(word, block, context)?;
    if grade == 0 {
        context.problems.push(
            Problem::new(
                Code::NormalGrade,
                word.at,
                format!("`{}` is the normal grade, and nothing brings that about", word.value),
            )
            .help("leave it out: what the line does not name goes to the normal grade"),
        );
        return None;
    }
    Some(grade)
}

fn counts(
    written: &[tree::Counted],
    of: &[Spanned<String>],
    block: &Effect,
    context: &mut CheckContext<'_>,
) -> Vec<Counted> {
    let things: Vec<&str> = of.iter().map(|thing| thing.value.as_str()).collect();
    let things = things.join(" or ");
    let mut counts: Vec<Counted> = Vec::new();
    for counted in written {
        let figure = &counted.from.value;
        let from = match figure.unit.as_ref().map(|unit| unit.value.as_str()) {
            None => Threshold::Number(figure.value),
            Some("%") => Threshold::Share(in_range(figure.value / 100.0, counted.from.at, context.problems)),
            Some(unit) => {
                context.problems.push(
                    Problem::new(
                        Code::BadUnit,
                        counted.from.at,
                        format!("{things} are not counted in `{unit}`"),
                    )
                    .help("write a plain number, or a per cent of all of them"),
                );
                continue;
            }
        };
        let Some(grade) = known_grade(&counted.grade, block, context) else {
            continue;
        };
        if counts.iter().any(|before| !goes_on(before, grade, from)) || grade == 0 || figure.value <= 0.0 {
            context.problems.push(
                Problem::new(Code::BadBounds, counted.from.at, "these numbers do not follow one another").help(
                    "name the grades from the least to the furthest from normal, each starting at more than the one before",
                ),
            );
            continue;
        }
        counts.push(Counted { grade, from, over: counted.over });
    }
    counts
}

/// Whether a grade that starts at `from` can stand behind another
fn goes_on(before: &Counted, grade: usize, from: Threshold) -> bool {
    let rises = match (before.from, from) {
        (Threshold::Number(before), Threshold::Number(from)) => before < from,
        (Threshold::Share(before), Threshold::Share(from)) => before < from,
        // How many a share is hangs on how many there are.
        (Threshold::Number(_), Threshold::Share(_)) => true,
        (Threshold::Share(_), Threshold::Number(_)) => false,
    };
    rises && before.grade < grade
}
