//! What people do: checks and remedies.

use super::context::CheckContext;
use super::names::Names;
use super::share;
use super::test;
use super::value::in_unit;
use crate::model::{
    Check, Common, Extent, Lasts, Model, Remedy, RemedyId, Renewed, Setting, Sign, SymptomId,
};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::Spanned;
use crate::syntax::language::ACCESS;
use crate::syntax::tree::{self, Attribute, Clause, Declaration, Sort};
use crate::units::Unit;

/// A check that shows nothing yet
pub(super) fn check_outline(common: Common) -> Check {
    Check {
        common,
        shows: Vec::new(),
        reads: Vec::new(),
        needs_state: None,
        makes: None,
        ends: Vec::new(),
        minutes: 1.0,
        needs: Vec::new(),
        access: None,
        cautions: Vec::new(),
    }
}

/// A remedy that fixes nothing yet
pub(super) fn remedy_outline(common: Common) -> Remedy {
    Remedy {
        common,
        fixes: Vec::new(),
        mends: Vec::new(),
        finds_out: false,
        on_site: false,
        sets_right: None,
        renews: Vec::new(),
        along: Vec::new(),
        spares: Vec::new(),
        lasts: Vec::new(),
        signs: Vec::new(),
        state: None,
        hours: 0.0,
        costs: None,
        within: None,
        forbids_over: None,
        left: None,
        cautions: Vec::new(),
    }
}

/// All checks and remedies
pub(super) fn fill(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    // Nothing that a check or a remedy says hangs on another check or remedy but by its name.
    let outlines = std::mem::take(&mut model.checks);
    let mut context = CheckContext { model, names, problems };
    let checks = names.of(Sort::Check).zip(outlines);
    let checks =
        checks.map(|((_, declaration), outline)| check(declaration, outline, &mut context)).collect();
    model.checks = checks;
    let outlines = std::mem::take(&mut model.remedies);
    let mut context = CheckContext { model, names, problems };
    let remedies = names.of(Sort::Remedy).zip(outlines);
    let remedies = remedies.map(|((_, declaration), outline)| remedy(declaration, outline, &mut context));
    model.remedies = remedies.collect();
}

fn check(declaration: &Declaration, mut check: Check, context: &mut CheckContext<'_>) -> Check {
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Shows(names) => {
                for name in names {
                    let found = context.names.symptom(name, context.problems);
                    check.shows.extend(
                        found.filter(|&id| reaches(&check.common, ("check", "shows"), name, id, context)),
                    );
                }
            }
            Clause::Reads(names) => {
                let found = names.iter().filter_map(|name| context.names.measure(name, context.problems));
                check.reads.extend(found);
            }
            Clause::While(name) => check.needs_state = context.names.state(name, context.problems),
            Clause::Makes(name) => check.makes = context.names.state(name, context.problems),
            Clause::Ends(names) => {
                let found = names.iter().filter_map(|name| context.names.state(name, context.problems));
                check.ends.extend(found);
            }
            Clause::Takes(time) => {
                // else: the problem is told
                check.minutes = in_unit(time, Unit::parse("min"), context.problems).unwrap_or(1.0);
            }
            Clause::Needs(tools) => check.needs.extend(values(tools)),
            Clause::Access(word) => check.access = access(word, context),
            Clause::Caution(text) => check.cautions.push(text.value.clone()),
            _ => {}
        }
    }
    check
}

/// True when a check or a remedy at its own place reaches a symptom's places; otherwise says that it does not
fn reaches(
    own: &Common,
    (sort, does): (&str, &str),
    name: &Spanned<String>,
    id: SymptomId,
    context: &mut CheckContext<'_>,
) -> bool {
    let fits = match (own.extent, context.model[id].effect.common.extent) {
        (Extent::Machine, _) | (Extent::Side, Extent::Side | Extent::Each(_)) => true,
        (own, seen) => own == seen,
    };
    if !fits {
        context.problems.push(
            Problem::new(
                Code::PlaceNeeded,
                name.at,
                format!("`{}` has other places than this {sort}", name.value),
            )
            .also(context.model[id].effect.common.at, "declared here")
            .help(format!("a {sort} {does} what stands at its own place or within it: give it wider places")),
        );
    }
    fits
}

/// Says that a figure is under 0
fn not_negative(figure: &Spanned<f64>, what: &str, context: &mut CheckContext<'_>) {
    if figure.value < 0.0 {
        context.problems.push(
            Problem::new(Code::BadBounds, figure.at, format!("{what} is not under 0"))
                .help("write the number without its sign"),
        );
    }
}

fn values(texts: &[Spanned<String>]) -> impl Iterator<Item = String> + '_ {
    texts.iter().map(|text| text.value.clone())
}

fn access(word: &Spanned<String>, context: &mut CheckContext<'_>) -> Option<String> {
    if ACCESS.contains(&word.value.as_str()) {
        return Some(word.value.clone());
    }
    let otherwise = format!("write one of {}", ACCESS.join(", "));
    context.problems.push(
        Problem::new(Code::UnknownChoice, word.at, format!("a machine is not `{}` for a check", word.value))
            .help(did_you_mean(&word.value, ACCESS, &otherwise)),
    );
    None
}

fn remedy(declaration: &Declaration, mut remedy: Remedy, context: &mut CheckContext<'_>) -> Remedy {
    let hour = Unit::parse("h");
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Fixes(names) => {
                let found = names.iter().filter_map(|name| context.names.hidden(name, context.problems));
                remedy.fixes.extend(found);
            }
            Clause::Mends(mended) => {
                let found = mended.iter().filter_map(|it| called_for(it, &remedy.common, context));
                remedy.mends.extend(found);
            }
            Clause::FindsOut => remedy.finds_out = true,
            Clause::OnSite => remedy.on_site = true,
            Clause::SetsRight(last) => {
                remedy.sets_right = Some(if *last { Setting::Last } else { Setting::BehindRepairs });
            }
            Clause::Renews(renewed) => {
                remedy.renews.extend(renewed.iter().filter_map(|it| renewal(it, context)));
            }
            Clause::Along(all) => {
                for it in all {
                    not_negative(&it.from, "the per cent worn from which it is taken along", context);
                    let id = other(&it.name, ALONG, declaration, context);
                    remedy.along.extend(id.map(|id| (id, it.from.value)));
                }
            }
            Clause::Spares(names) => {
                let found = names.iter().filter_map(|name| other(name, SPARES, declaration, context));
                remedy.spares.extend(found);
            }
            Clause::OnlyWhere(terms) => {
                let asked = terms.iter().filter(|term| test::asks_a_sign(term, context.names));
                let extent = remedy.common.extent;
                remedy.signs.extend(asked.filter_map(|term| test::sign(term, extent, context)));
            }
            Clause::Lasts(lasts) => remedy.lasts.extend(lasting(lasts, &remedy.common, context)),
            Clause::While(name) => remedy.state = context.names.state(name, context.problems),
            // else: the problem is told
            Clause::Takes(time) => remedy.hours = in_unit(time, hour, context.problems).unwrap_or(0.0),
            Clause::Costs(money) => {
                not_negative(money, "a cost", context);
                remedy.costs = Some(money.value);
            }
            Clause::Within(time, over) => {
                remedy.within = in_unit(time, hour, context.problems);
                remedy.forbids_over = over.as_ref().and_then(|over| floor(time, over, context));
            }
            Clause::Left(text, loses) => {
                if let Some(loses) = loses {
                    not_negative(loses, "a loss", context);
                }
                remedy.left = Some((text.value.clone(), loses.as_ref().map_or(0.0, |loses| loses.value)));
            }
            Clause::Caution(text) => remedy.cautions.push(text.value.clone()),
            _ => {}
        }
    }
    remedy
}

/// A measure renewed, with the per cent worn from which, and up to which, that is done
fn renewal(written: &tree::Renewed, context: &mut CheckContext<'_>) -> Option<Renewed> {
    let found = context.names.measure(&written.name, context.problems);
    not_negative(&written.from, "the per cent worn from which it is due", context);
    if let Some(to) = written.to.as_ref().filter(|to| to.value <= written.from.value) {
        context.problems.push(
            Problem::new(Code::BadBounds, to.at, "this comes too late before it is due")
                .also(written.from.at, "due from here")
                .help(
                    "write the per cent from which it is due first, then the one past which it is too late",
                ),
        );
    }
    let to = written.to.as_ref().map(|to| to.value);
    found.map(|measure| Renewed { measure, from: written.from.value, to })
}

/// A sign that calls for a remedy by itself: the grades of it that do
fn called_for(written: &tree::Mended, own: &Common, context: &mut CheckContext<'_>) -> Option<Sign> {
    let symptom = context.names.symptom(&written.name, context.problems)?;
    if !reaches(own, ("remedy", "mends"), &written.name, symptom, context) {
        return None;
    }
    let grades = &context.model[symptom].effect.grades;
    let abnormal = grades.names.len();
    let Some(grade) = &written.grade else {
        return Some(Sign { symptom, grades: (1..abnormal).collect() });
    };
    let Some(from) = grades.find(&grade.value).filter(|from| *from > 0) else {
        let known: Vec<&str> = grades.names.iter().skip(1).map(String::as_str).collect();
        let otherwise = format!("write one of {}", known.join(", "));
        let help = did_you_mean(&grade.value, known.iter().copied(), &otherwise);
        let message = format!("`{}` is no grade of `{}` to mend", grade.value, written.name.value);
        context.problems.push(Problem::new(Code::UnknownGrade, grade.at, message).help(help));
        return None;
    };
    let (low, _) = grades.arms();
    let last = if from <= low { low + 1 } else { abnormal };
    Some(Sign { symptom, grades: (from..last).collect() })
}

/// The probability over which the machine may not be worked: a rule names it only where it does not let the work wait
fn floor(time: &Spanned<tree::Quantity>, over: &Spanned<f64>, context: &mut CheckContext<'_>) -> Option<f64> {
    if time.value.value > 0.0 {
        context.problems.push(
            Problem::new(Code::BadBounds, over.at, "work that may wait has no floor for not working")
                .also(time.at, "it may wait so long")
                .help("write `within 0 h` before it, or leave the per cent out"),
        );
        return None;
    }
    Some(share::in_range(over.value / 100.0, over.at, context.problems))
}

/// A remedy that another makes needless or takes along. No remedy makes itself needless, and only one of each side takes itself
/// along: on the other side
fn other(
    name: &Spanned<String>,
    (does, help): (&str, &str),
    own: &Declaration,
    context: &mut CheckContext<'_>,
) -> Option<RemedyId> {
    let on_the_other_side = does == ALONG.0 && is_of_each_side(own);
    if name.value == own.name.value && !on_the_other_side {
        let message = format!("`{}` {does}", name.value);
        context.problems.push(Problem::new(Code::Loop, name.at, message).help(help));
        return None;
    }
    context.names.remedy(name, context.problems)
}

fn is_of_each_side(own: &Declaration) -> bool {
    own.attributes.iter().any(|it| matches!(&it.value, Attribute::Each(word) if word.value == "side"))
}

const SPARES: (&str, &str) =
    ("makes itself needless", "name other remedies that need not be done once this one is");
const ALONG: (&str, &str) = (
    "takes itself along",
    "name other remedies that are done in the same visit; one `each side` may name itself, for the other side",
);

/// What must last for a remedy to pay
fn lasting(written: &tree::Lasts, own: &Common, context: &mut CheckContext<'_>) -> Option<Lasts> {
    not_negative(&written.share, "a share", context);
    if written.again.value <= 0.0 {
        context.problems.push(
            Problem::new(Code::BadBounds, written.again.at, "what is won lasts no time at all")
                .help("write how long it lasts as a share of the first life, such as `85%`"),
        );
    }
    let test = test::resolve_within(&written.test, own, context);
    let measure = context.names.measure(&written.name, context.problems)?;
    let (share, again) = (written.share.value / 100.0, written.again.value / 100.0);
    Some(Lasts { measure, share, again, test })
}
