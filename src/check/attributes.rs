//! What every block has: places, part, gate, basis; and the parts themselves.

use super::Desk;
use super::names::Names;
use super::test;
use crate::model::test::Test;
use crate::model::{Basis, Common, Extent, Model, Part, PartId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::Spanned;
use crate::syntax::tree::{self, Attribute, Clause, Declaration, Sort};

/// Name, label, places, part, basis and text of a block; its gate comes later
pub(super) fn common(declaration: &Declaration, names: &Names<'_>, problems: &mut Problems) -> Common {
    let mut common = Common {
        name: declaration.name.value.clone(),
        label: declaration.label.as_ref().map_or_else(String::new, |label| label.value.clone()),
        extent: Extent::Machine,
        part: None,
        gate: Test::default(),
        basis: None,
        text: None,
        at: declaration.name.at,
    };
    for attribute in &declaration.attributes {
        place(&mut common, declaration, attribute, names, problems);
    }
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Basis(tree::Basis::CommonPractice) => common.basis = Some(Basis::CommonPractice),
            Clause::Basis(tree::Basis::Estimate) => common.basis = Some(Basis::Estimate),
            Clause::Basis(tree::Basis::Source(source)) => {
                common.basis = Some(Basis::Source(source.value.clone()));
            }
            Clause::Text(text) => common.text = Some(text.value.clone()),
            _ => {}
        }
    }
    common
}

fn place(
    common: &mut Common,
    declaration: &Declaration,
    attribute: &Spanned<Attribute>,
    names: &Names<'_>,
    problems: &mut Problems,
) {
    let sort = declaration.sort.value;
    match &attribute.value {
        Attribute::Each(word) if word.value == "side" => common.extent = Extent::Side,
        Attribute::Each(word) => {
            if let Some(part) = names.part(word, problems) {
                if is_numbered(part, names) {
                    common.extent = Extent::Each(part);
                    common.part = common.part.or(Some(part));
                } else {
                    problems.push(
                        Problem::new(
                            Code::PlaceUseless,
                            word.at,
                            format!("`{}` is not a numbered part", word.value),
                        )
                        .help("write `each side`, or declare the part `numbered`"),
                    );
                }
            }
        }
        Attribute::Of(name) => common.part = names.part(name, problems),
        Attribute::Numbered(_) if sort == Sort::Part => {}
        Attribute::Numbered(_) => problems.push(
            Problem::new(Code::PlaceUseless, attribute.at, "only a part can be `numbered`")
                .help("for one of each write `each` and the part's name"),
        ),
    }
}

fn is_numbered(part: PartId, names: &Names<'_>) -> bool {
    names.of(Sort::Part).any(|(number, declaration)| {
        number == part.0 && declaration.attributes.iter().any(|it| matches!(it.value, Attribute::Numbered(_)))
    })
}

/// Most numbered parts a side can have: no track carries more of anything that is told apart by number
const MOST_IN_A_ROW: f64 = 99.0;

/// A part, with how many of it a side can have
pub(super) fn part(
    declaration: &Declaration,
    common: Common,
    names: &Names<'_>,
    problems: &mut Problems,
) -> Part {
    let mut part = Part { common, numbered: None, rubs: None };
    for attribute in &declaration.attributes {
        if let Attribute::Numbered(bounds) = attribute.value {
            let (least, most) = bounds.unwrap_or((0.0, MOST_IN_A_ROW));
            if least < 0.0 || most < least || most > MOST_IN_A_ROW || least.fract() + most.fract() > 0.0 {
                problems.push(
                    Problem::new(Code::BadBounds, attribute.at, "these are no numbers of parts along a side")
                        .help(format!("write two whole numbers, the smaller first, up to {MOST_IN_A_ROW}")),
                );
            }
            if part.common.extent != Extent::Side {
                problems.push(
                    Problem::new(Code::PlaceUseless, attribute.at, "a numbered part stands along a side")
                        .help("write `each side, numbered`"),
                );
            }
            part.numbered = Some((whole(least), whole(most)));
        }
    }
    for clause in &declaration.clauses {
        if let Clause::Rubs(other) = &clause.value {
            part.rubs = names.part(other, problems);
        }
    }
    part
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=99 first")]
fn whole(figure: f64) -> u32 {
    figure.clamp(0.0, MOST_IN_A_ROW) as u32
}

/// The gates of all blocks: their own `only where` and that of their part
pub(super) fn gates(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    let outline = model.clone();
    let mut desk = Desk { model: &outline, names, problems };
    for sort in Sort::ALL {
        for (number, declaration) in names.of(sort) {
            let Some(common) = block(model, sort, number) else {
                continue;
            };
            for clause in &declaration.clauses {
                if let Clause::OnlyWhere(terms) = &clause.value {
                    let own = test::resolve(terms, common.extent, &mut desk);
                    common.gate = common.gate.and(&own);
                }
            }
        }
    }
    let parts: Vec<Test> = model.parts.iter().map(|part| part.common.gate.clone()).collect();
    for sort in
        [Sort::Fact, Sort::Cause, Sort::Condition, Sort::Symptom, Sort::Measure, Sort::Check, Sort::Remedy]
    {
        for (number, _) in names.of(sort) {
            if let Some(common) = block(model, sort, number)
                && let Some(gate) = common.part.and_then(|part| parts.get(part.0))
            {
                common.gate = common.gate.and(gate);
            }
        }
    }
}

fn block(model: &mut Model, sort: Sort, number: usize) -> Option<&mut Common> {
    match sort {
        Sort::Part => model.parts.get_mut(number).map(|it| &mut it.common),
        Sort::Fact => model.facts.get_mut(number).map(|it| &mut it.common),
        Sort::Cause => model.causes.get_mut(number).map(|it| &mut it.common),
        Sort::Condition => model.conditions.get_mut(number).map(|it| &mut it.common),
        Sort::Symptom => model.symptoms.get_mut(number).map(|it| &mut it.effect.common),
        Sort::Measure => model.measures.get_mut(number).map(|it| &mut it.common),
        Sort::Check => model.checks.get_mut(number).map(|it| &mut it.common),
        Sort::Remedy => model.remedies.get_mut(number).map(|it| &mut it.common),
        Sort::Scale | Sort::Kind | Sort::State | Sort::Dimensions | Sort::Life => None,
    }
}
