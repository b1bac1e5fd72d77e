//! What every block has: places, part, gate, basis; and the parts themselves.

use super::context::CheckContext;
use super::names::{Names, is_numbered};
use super::never::never;
use super::test;
use crate::model::test::Test;
use crate::model::{Basis, Common, Extent, Model, Part, PartId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, nearest};
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
    let mut seen: Vec<&str> = Vec::new();
    for attribute in &declaration.attributes {
        let word = word(&attribute.value);
        if !takes(declaration.sort.value, word) {
            problems.push(
                Problem::new(Code::PlaceUseless, attribute.at, misplaced(declaration.sort.value, word))
                    .help("take it out"),
            );
        } else if seen.contains(&word) {
            problems.push(
                Problem::new(
                    Code::RepeatedClause,
                    attribute.at,
                    format!("`{word}` stands twice in this line"),
                )
                .help("keep one of the two"),
            );
        } else {
            seen.push(word);
            place(&mut common, attribute, names, problems);
        }
    }
    if let Some(against) = declaration.against.as_ref().filter(|_| declaration.sort.value != Sort::Kind) {
        problems.push(
            Problem::new(Code::WrongClause, against.at, "only a kind counts against somebody")
                .help("take it out, and give the cause a `kind` that counts against them"),
        );
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

/// The word an attribute starts with
fn word(attribute: &Attribute) -> &'static str {
    match attribute {
        Attribute::Each(_) => "each",
        Attribute::Numbered(_) => "numbered",
        Attribute::Of(_) => "of",
    }
}

/// Whether a declaration of a sort can have an attribute
fn takes(sort: Sort, word: &str) -> bool {
    match sort {
        Sort::Scale | Sort::Kind | Sort::State | Sort::Dimensions | Sort::Life => false,
        Sort::Part => word != "of",
        _ => word != "numbered",
    }
}

fn misplaced(sort: Sort, word: &str) -> String {
    match word {
        "numbered" => "only a part can be `numbered`".to_owned(),
        "each" => format!("a block of `{}` has no places", sort.word()),
        _ => format!("a block of `{}` is not seen on a part", sort.word()),
    }
}

fn place(common: &mut Common, attribute: &Spanned<Attribute>, names: &Names<'_>, problems: &mut Problems) {
    match &attribute.value {
        Attribute::Each(word) if word.value == "side" => common.extent = Extent::Side,
        Attribute::Each(word) => {
            if let Some(part) = numbered(word, names, problems) {
                common.extent = Extent::Each(part);
                common.part = common.part.or(Some(part));
            }
        }
        Attribute::Of(name) => common.part = names.part(name, problems),
        Attribute::Numbered(_) => {}
    }
}

/// The numbered part of a name; where none has it, the one with the nearest name, so that one mistake stays one
fn numbered(word: &Spanned<String>, names: &Names<'_>, problems: &mut Problems) -> Option<PartId> {
    let all = || names.of(Sort::Part).filter(|(_, part)| is_numbered(part));
    let Some(part) = names.part(word, problems) else {
        let meant = nearest(&word.value, all().map(|(_, part)| part.name.value.as_str()));
        return all()
            .find(|(_, part)| Some(part.name.value.as_str()) == meant)
            .map(|(number, _)| PartId(number));
    };
    if !names.declaration(Sort::Part, part.0).is_some_and(is_numbered) {
        let message = format!("`{}` is not a numbered part", word.value);
        problems.push(
            Problem::new(Code::PlaceUseless, word.at, message)
                .help("write `each side`, or declare the part `numbered`"),
        );
        return None;
    }
    Some(part)
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
    let mut part = Part { common, numbered: None, rubs: None, drawn: Vec::new() };
    for attribute in &declaration.attributes {
        if let Attribute::Numbered(bounds) = attribute.value {
            let (least, most) = bounds.unwrap_or((0.0, MOST_IN_A_ROW)); // else: the rules leave it open
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
    for sort in Sort::ALL {
        for (number, declaration) in names.of(sort) {
            let Some(extent) = block(model, sort, number).map(|common| common.extent) else {
                continue;
            };
            for clause in &declaration.clauses {
                if let Clause::OnlyWhere(terms) = &clause.value {
                    // What a remedy asks of signs is its own affair: a gate hangs on facts alone.
                    let of_facts =
                        |term: &&tree::Term| sort != Sort::Remedy || !test::asks_a_sign(term, names);
                    let terms: Vec<tree::Term> = terms.iter().filter(of_facts).cloned().collect();
                    let own = test::resolve(&terms, extent, &mut CheckContext { model, names, problems });
                    if let Some(common) = block_mut(model, sort, number) {
                        common.gate = common.gate.and(&own);
                    }
                }
            }
        }
    }
    gates_of_parts(model, names, problems);
}

/// Adds the gate of its part to the gate of each block
fn gates_of_parts(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    for sort in
        [Sort::Fact, Sort::Cause, Sort::Condition, Sort::Symptom, Sort::Measure, Sort::Check, Sort::Remedy]
    {
        for (number, _) in names.of(sort) {
            let both =
                block(model, sort, number).and_then(|common| with_part(common, model, names, problems));
            if let Some((common, both)) = block_mut(model, sort, number).zip(both) {
                common.gate = both;
            }
        }
    }
}

/// The gate of a block together with that of its part; none where it is seen on no part
fn with_part(common: &Common, model: &Model, names: &Names<'_>, problems: &mut Problems) -> Option<Test> {
    let part = &model[common.part?].common.gate;
    let both = common.gate.and(part);
    let alone = never(&common.gate, model) || never(part, model);
    if !alone && never(&both, model) {
        let at = names.gate(common).unwrap_or(common.at); // else: the gate stands in a line that could not be read
        let message = format!("`{}` can never exist", common.name);
        problems.push(
            Problem::new(Code::GateNeverHolds, at, message)
                .also_at(names.gate_of_part(common, model), "the gate of its part")
                .help("its own `only where` and that of its part rule each other out: change one of them"),
        );
    }
    Some(both)
}

/// What every block of a sort has that can stand under a gate
fn block(model: &Model, sort: Sort, number: usize) -> Option<&Common> {
    match sort {
        Sort::Part => model.parts.get(number).map(|it| &it.common),
        Sort::Fact => model.facts.get(number).map(|it| &it.common),
        Sort::Cause => model.causes.get(number).map(|it| &it.common),
        Sort::Condition => model.conditions.get(number).map(|it| &it.common),
        Sort::Symptom => model.symptoms.get(number).map(|it| &it.effect.common),
        Sort::Measure => model.measures.get(number).map(|it| &it.common),
        Sort::Check => model.checks.get(number).map(|it| &it.common),
        Sort::Remedy => model.remedies.get(number).map(|it| &it.common),
        Sort::Scale | Sort::Kind | Sort::State | Sort::Dimensions | Sort::Life => None,
    }
}

/// The same, to be written
fn block_mut(model: &mut Model, sort: Sort, number: usize) -> Option<&mut Common> {
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
