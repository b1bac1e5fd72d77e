//! Causes that no remedy fixes, and remedies that nobody is ever led to.

use crate::check::names::Names;
use crate::check::situation::situations;
use crate::model::test::Test;
use crate::model::{CauseId, Hidden, MeasureId, Model, Remedy};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::Spanned;
use crate::syntax::tree::{Clause, Declaration};
use std::collections::BTreeSet;

/// Says which causes are left without a remedy, and which remedies without use
pub(super) fn check(model: &Model, names: &Names<'_>, problems: &mut Problems) {
    let fixed: BTreeSet<Hidden> = model.remedies.iter().flat_map(|it| it.fixes.iter().copied()).collect();
    for id in (0..model.causes.len()).map(CauseId) {
        let common = &model[id].common;
        // Rules without a remedy have not come to mending yet.
        if !model.remedies.is_empty() && !fixed.contains(&Hidden::Cause(id)) {
            let message = format!("no remedy fixes `{}`", common.name);
            problems.push(
                Problem::new(Code::CauseUnfixed, common.at, message)
                    .help("name it under `fixes` in a remedy: whoever finds it asks what to do"),
            );
        }
    }
    for remedy in &model.remedies {
        if let Some(declaration) = names.block(&remedy.common) {
            of_remedy(model, remedy, declaration, problems);
        }
    }
}

fn of_remedy(model: &Model, remedy: &Remedy, declaration: &Declaration, problems: &mut Problems) {
    let clauses = || declaration.clauses.iter().map(|clause| &clause.value);
    let fixes = clauses().flat_map(|clause| match clause {
        Clause::Fixes(names) => names.as_slice(),
        _ => &[],
    });
    for (&fixed, name) in remedy.fixes.iter().zip(fixes) {
        fixes_nothing(model, remedy, fixed, name, problems);
    }
    let renews = clauses().flat_map(|clause| match clause {
        Clause::Renews(renewed) => renewed.as_slice(),
        _ => &[],
    });
    for (own, written) in remedy.renews.iter().zip(renews) {
        renews_nothing(model, own.measure, &written.name, problems);
    }
}

fn fixes_nothing(
    model: &Model,
    remedy: &Remedy,
    fixed: Hidden,
    name: &Spanned<String>,
    problems: &mut Problems,
) {
    let common = model.common(fixed);
    let never = match fixed {
        Hidden::Cause(id) => model[id].chances.iter().all(|chance| chance.share <= 0.0),
        Hidden::Condition(_) => false,
    };
    let (message, help) = if never {
        (
            format!("`{}` has a chance of 0 %, so that there is nothing to fix", common.name),
            "give the cause its chance, or take it out here",
        )
    } else if !together(model, &remedy.common.gate, &common.gate) {
        (
            format!("`{}` is never there where `{}` can be done", common.name, remedy.common.name),
            "their `only where` rule each other out: change one of them, or take the name out here",
        )
    } else {
        return;
    };
    problems.push(
        Problem::new(Code::RemedyForNothing, name.at, message).also(common.at, "declared here").help(help),
    );
}

/// Whether two gates can hold at once; taken as so where there is too much to go through
fn together(model: &Model, one: &Test, other: &Test) -> bool {
    situations(model, [one, other])
        .is_none_or(|all| all.iter().any(|situation| situation.holds(one) && situation.holds(other)))
}

fn renews_nothing(model: &Model, id: MeasureId, name: &Spanned<String>, problems: &mut Problems) {
    let common = &model[id].common;
    let sized = model
        .sizes
        .values()
        .any(|size| size.dimensions.get(&id).into_iter().flatten().any(|row| row.points.len() > 1));
    let (message, help) = if !can_be_read(model, id) {
        (
            format!("no check reads `{}`, so that nobody learns when it is due", common.name),
            "name the measure under `reads` in a check",
        )
    } else if !sized {
        (
            format!("`{}` has no worn size in any size class, so that it is never due", common.name),
            "give it a row with per cents under `dimensions`",
        )
    } else {
        return;
    };
    problems.push(
        Problem::new(Code::RemedyForNothing, name.at, message).also(common.at, "declared here").help(help),
    );
}

/// Whether a check reads a measure, or all that it is reckoned from
pub(super) fn can_be_read(model: &Model, id: MeasureId) -> bool {
    let mut open = vec![id];
    let mut seen: BTreeSet<MeasureId> = BTreeSet::new();
    while let Some(id) = open.pop() {
        if !seen.insert(id) {
            continue;
        }
        let read = model.checks.iter().any(|check| check.reads.contains(&id));
        let sums = &model[id].sums;
        if !read && sums.is_empty() {
            return false;
        }
        if !read {
            open.extend(sums.iter().flat_map(|(sum, _)| sum.readings()));
        }
    }
    true
}
