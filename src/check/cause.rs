//! Kinds and causes: forms, chances and the nouns of their shares.

use super::Desk;
use super::effect::{dead_line, share};
use super::names::Names;
use super::test;
use crate::model::{Cause, Chance, Common, Extent, Forms, Kind, KindId, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::Spanned;
use crate::syntax::tree::{self, Clause, Declaration, Sort};

/// Those a cause can count against
pub(super) const PARTIES: [&str; 6] = ["operator", "owner", "fitter", "maker", "site", "nobody"];

/// A kind of cause and the party it counts against
pub(super) fn kind(declaration: &Declaration, common: Common, problems: &mut Problems) -> Kind {
    let against = match &declaration.against {
        Some(party) if PARTIES.contains(&party.value.as_str()) => party.value.clone(),
        Some(party) => {
            let otherwise = format!("write one of {}", PARTIES.join(", "));
            problems.push(
                Problem::new(Code::UnknownName, party.at, format!("nobody here is called `{}`", party.value))
                    .help(did_you_mean(&party.value, PARTIES, &otherwise)),
            );
            "nobody".to_owned()
        }
        None => {
            problems.push(
                Problem::new(
                    Code::MissingClause,
                    declaration.name.at,
                    "this kind does not say against whom it counts",
                )
                .help(format!("end the line with `counts against` and one of {}", PARTIES.join(", "))),
            );
            "nobody".to_owned()
        }
    };
    Kind { common, against }
}

/// A cause with its forms and nothing else yet
pub(super) fn outline(declaration: &Declaration, common: Common, problems: &mut Problems) -> Cause {
    let mut forms = Forms::Plain;
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Forms(names) => {
                forms = Forms::Named(names.iter().map(|name| name.value.clone()).collect());
            }
            Clause::Chance(chance) => {
                if let Some(toward) = chance.toward {
                    forms = Forms::Sides;
                    if common.extent != Extent::Machine {
                        problems.push(
                            Problem::new(
                                Code::PlaceUseless,
                                toward,
                                "only a cause of the whole machine lies toward one side",
                            )
                            .help("take `each …` out of the declaration, or `toward one side` out of the chance"),
                        );
                    }
                }
            }
            _ => {}
        }
    }
    Cause { common, kind: KindId(0), chances: Vec::new(), forms }
}

/// Kinds and chances of all causes
pub(super) fn fill(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    for (number, declaration) in names.of(Sort::Cause) {
        let mut desk = Desk { model, names, problems };
        let filled = fill_one(declaration, number, &mut desk);
        if let (Some(cause), Some((kind, chances))) = (model.causes.get_mut(number), filled) {
            cause.kind = kind;
            cause.chances = chances;
        }
    }
}

fn fill_one(declaration: &Declaration, number: usize, desk: &mut Desk<'_>) -> Option<(KindId, Vec<Chance>)> {
    let extent = desk.model.causes.get(number)?.common.extent;
    let mut kind = KindId(0);
    let mut chances: Vec<Chance> = Vec::new();
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Kind(name) => {
                if let Some(found) = desk.names.kind(name, desk.problems) {
                    kind = found;
                }
            }
            Clause::Chance(written) => {
                if chances.iter().any(|chance| chance.test.always()) {
                    dead_line(clause.at, desk.problems);
                }
                chances.push(chance(written, extent, desk));
            }
            _ => {}
        }
    }
    Some((kind, chances))
}

fn chance(written: &tree::Chance, extent: Extent, desk: &mut Desk<'_>) -> Chance {
    let noun = written.noun.as_ref().and_then(|noun| noun_of(noun, extent, desk)).unwrap_or(extent);
    Chance { share: share(&written.frequency, desk), noun, test: test::resolve(&written.test, extent, desk) }
}

fn noun_of(noun: &Spanned<String>, extent: Extent, desk: &mut Desk<'_>) -> Option<Extent> {
    let found = match noun.value.as_str() {
        "machines" => Some(Extent::Machine),
        "sides" => Some(Extent::Side),
        word => desk.model.row_of(word).map(Extent::Each),
    };
    let fitting: Vec<String> = match extent {
        Extent::Machine => vec!["machines".to_owned()],
        Extent::Side => vec!["sides".to_owned(), "machines".to_owned()],
        Extent::Each(part) => vec![desk.model[part].plural(), "sides".to_owned(), "machines".to_owned()],
    };
    if found.is_some() && fitting.contains(&noun.value) {
        return found;
    }
    let listed = fitting.join("`, `of ");
    desk.problems.push(
        Problem::new(Code::BadShare, noun.at, format!("a share of `{}` does not fit this block", noun.value))
            .help(format!("write `of {listed}`")),
    );
    None
}
