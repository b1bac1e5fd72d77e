//! Kinds and causes: forms, chances and the nouns of their shares.

use super::context::CheckContext;
use super::names::Names;
use super::never::dead_line;
use super::share::{in_range, share};
use super::test;
use crate::model::{Cause, Chance, Common, Extent, Forms, Kind, KindId, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::Spanned;
use crate::syntax::language::PARTIES;
use crate::syntax::tree::{self, Clause, Declaration, Sort};

/// Most forms of a cause: nobody tells more apart
const MOST_FORMS: usize = 16;

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
        None if declaration.broken => "nobody".to_owned(),
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
    let clauses = || declaration.clauses.iter().map(|clause| &clause.value);
    let named =
        clauses().find_map(|clause| if let Clause::Forms(names) = clause { Some(names) } else { None });
    let toward = clauses().find_map(|clause| {
        if let Clause::Chance(chance) = clause { Some(chance.toward.as_ref()?.at) } else { None }
    });
    if let Some(names) = named {
        repeated(names, problems);
    }
    if let Some(at) = toward {
        let fault = if common.extent != Extent::Machine {
            Some((
                "only a cause of the whole machine lies toward one side",
                "take `each …` out of the declaration, or `toward one side` out of the chance",
            ))
        } else {
            named.map(|_| {
                (
                    "this cause has forms of its own already",
                    "take out `forms` or `toward one side`: a cause has forms of one sort",
                )
            })
        };
        if let Some((message, help)) = fault {
            problems.push(Problem::new(Code::PlaceUseless, at, message).help(help));
        }
    }
    let forms = match (toward, named) {
        (Some(_), _) => Forms::Sides,
        (None, Some(names)) => Forms::Named(names.iter().map(|name| name.value.clone()).collect()),
        (None, None) => Forms::Plain,
    };
    let recent = clauses().find_map(|clause| match clause {
        Clause::Recent(percent) => Some(in_range(percent.value / 100.0, percent.at, problems)),
        _ => None,
    });
    Cause { common, kind: KindId(0), chances: Vec::new(), forms, recent }
}

/// Says which form stands twice, and when there are more than anybody tells apart
fn repeated(forms: &[Spanned<String>], problems: &mut Problems) {
    if let Some(form) = forms.get(MOST_FORMS) {
        problems.push(
            Problem::new(Code::TooMany, form.at, format!("a cause has no more than {MOST_FORMS} forms"))
                .help("put neighbouring forms together"),
        );
        return;
    }
    for (number, form) in forms.iter().enumerate() {
        if let Some(first) = forms.iter().take(number).find(|earlier| earlier.value == form.value) {
            problems.push(
                Problem::new(Code::DuplicateName, form.at, format!("the form `{}` stands twice", form.value))
                    .also(first.at, "first here")
                    .help("give each form a name of its own"),
            );
        }
    }
}

/// Kinds and chances of all causes
pub(super) fn fill(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    for (number, declaration) in names.of(Sort::Cause) {
        let mut context = CheckContext { model, names, problems };
        let filled = fill_one(declaration, number, &mut context);
        if let (Some(cause), Some((kind, chances))) = (model.causes.get_mut(number), filled) {
            cause.kind = kind;
            cause.chances = chances;
        }
    }
}

fn fill_one(
    declaration: &Declaration,
    number: usize,
    context: &mut CheckContext<'_>,
) -> Option<(KindId, Vec<Chance>)> {
    let common = &context.model.causes.get(number)?.common;
    let mut kind = KindId(0);
    let mut chances: Vec<Chance> = Vec::new();
    let mut open = None;
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Kind(name) => {
                if let Some(found) = context.names.kind(name, context.problems) {
                    kind = found;
                }
            }
            Clause::Chance(written) => {
                if open.is_some() {
                    dead_line(clause.at, open, context.problems);
                }
                let chance = chance(written, common, context);
                open = open.or(chance.test.always().then_some(clause.at));
                chances.push(chance);
            }
            _ => {}
        }
    }
    Some((kind, chances))
}

fn chance(written: &tree::Chance, common: &Common, context: &mut CheckContext<'_>) -> Chance {
    let extent = common.extent;
    let noun = match &written.noun {
        Some(noun) => noun_of(noun, extent, context).unwrap_or(extent), // else: the problem is told
        None => {
            let message = "this share does not say among what it is counted";
            context.problems.push(
                Problem::new(Code::BadShare, written.frequency.at, message).help(write_noun(extent, context)),
            );
            extent
        }
    };
    Chance {
        share: share(&written.frequency, context),
        noun,
        test: test::resolve_within(&written.test, common, context),
    }
}

fn noun_of(noun: &Spanned<String>, extent: Extent, context: &mut CheckContext<'_>) -> Option<Extent> {
    let found = match noun.value.as_str() {
        "machines" => Some(Extent::Machine),
        "sides" => Some(Extent::Side),
        word => context.model.row_of(word).map(Extent::Each),
    };
    if found.is_some() && nouns(extent, context).contains(&noun.value) {
        return found;
    }
    if !context.names.is_unread_noun(&noun.value) {
        let message = format!("a share of `{}` does not fit this block", noun.value);
        context
            .problems
            .push(Problem::new(Code::BadShare, noun.at, message).help(write_noun(extent, context)));
    }
    None
}

/// The nouns that a share of a block with these places can have, its own first
fn nouns(extent: Extent, context: &CheckContext<'_>) -> Vec<String> {
    let wider: &[&str] = match extent {
        Extent::Machine => &[],
        Extent::Side => &["machines"],
        Extent::Each(_) => &["sides", "machines"],
    };
    let wider = wider.iter().map(|&noun| noun.to_owned());
    std::iter::once(context.model.noun(extent)).chain(wider).collect()
}

fn write_noun(extent: Extent, context: &CheckContext<'_>) -> String {
    let nouns: Vec<String> = nouns(extent, context).iter().map(|noun| format!("`of {noun}`")).collect();
    format!("write {}", nouns.join(" or "))
}
