//! One clause of a block.

use super::sum::sum;
use super::test::{frequency, line_where, number, percent, quantity, terms};
use crate::source::Spanned;
use crate::syntax::grammar::Rule;
use crate::syntax::piece::Piece;
use crate::syntax::tree::{
    As, Basis, Bounded, Chance, Clause, Counted, Drawn, Effect, Entry, Grades, Lasts, Line, Mended, Parent,
    Reach, Renewed, Taken,
};

/// The clause that a piece is
pub(super) fn clause(piece: &Piece<'_>) -> Option<Clause> {
    let inner = piece.inside().next()?;
    match inner.rule() {
        Rule::grades
        | Rule::with
        | Rule::mirror
        | Rule::without
        | Rule::shared
        | Rule::chance
        | Rule::recent
        | Rule::choices => weighing(&inner),
        Rule::from
        | Rule::counts
        | Rule::range
        | Rule::error
        | Rule::spans
        | Rule::is
        | Rule::against
        | Rule::advice
        | Rule::unit => measuring(&inner),
        Rule::takes
        | Rule::renews
        | Rule::along
        | Rule::lasts
        | Rule::costs
        | Rule::within
        | Rule::left
        | Rule::spread
        | Rule::as_class
        | Rule::seen
        | Rule::entry => figures(&inner),
        _ => naming(&inner),
    }
}

/// Clauses that carry chances
fn weighing(piece: &Piece<'_>) -> Option<Clause> {
    Some(match piece.rule() {
        Rule::grades => Clause::Grades(Grades {
            words: words(piece, Rule::grade),
            signs: piece.all(Rule::grade_sign).filter_map(|sign| sign.as_str().chars().next()).collect(),
        }),
        Rule::with => Clause::With(line(piece)?),
        Rule::mirror => Clause::Mirror(line(piece)?),
        Rule::without => Clause::Without(line(piece)?),
        Rule::shared => Clause::Shared(percent(piece)?),
        Rule::recent => Clause::Recent(percent(piece)?),
        Rule::chance => Clause::Chance(Chance {
            frequency: frequency(piece)?,
            noun: noun(piece),
            toward: piece.get(Rule::toward_one).map(|toward| Spanned::new((), toward.span())),
            test: line_where(piece),
        }),
        _ => Clause::Choices {
            choices: piece
                .all(Rule::choice)
                .filter_map(|choice| Some((choice.get(Rule::choice_word)?.text(), percent(&choice)?)))
                .collect(),
            test: line_where(piece),
        },
    })
}

fn noun(piece: &Piece<'_>) -> Option<Spanned<String>> {
    piece.get(Rule::of_noun)?.get(Rule::noun).map(|noun| noun.text())
}

fn line(piece: &Piece<'_>) -> Option<Line> {
    let effects = piece.get(Rule::effects)?;
    Some(Line {
        parents: piece.all(Rule::parent).filter_map(|it| parent(&it)).collect(),
        effects: effects
            .all(Rule::effect)
            .filter_map(|effect| {
                Some(Effect {
                    frequency: frequency(&effect)?,
                    grade: effect.get(Rule::grade).map(|grade| grade.text()),
                })
            })
            .collect(),
        slowly: piece.get(Rule::slowly).map(|slowly| Spanned::new((), slowly.span())),
        test: line_where(piece),
        because: None,
    })
}

fn parent(piece: &Piece<'_>) -> Option<Parent> {
    let reach = piece.inside().find_map(|part| {
        let reach = match part.rule() {
            Rule::either_side => Reach::EitherSide,
            Rule::any_part => Reach::Any(part.get(Rule::name)?.text()),
            Rule::toward_this => Reach::ThisSide,
            Rule::toward_other => Reach::OtherSide,
            _ => return None,
        };
        Some(Spanned::new(reach, part.span()))
    });
    Some(Parent {
        name: piece.get(Rule::name)?.text(),
        grade: piece.get(Rule::grade).map(|grade| grade.text()),
        reach,
    })
}

/// Clauses about readings
fn measuring(piece: &Piece<'_>) -> Option<Clause> {
    Some(match piece.rule() {
        Rule::from => Clause::From {
            sum: sum(piece)?,
            bounds: piece.all(Rule::bounded).filter_map(|it| bounded(&it)).collect(),
        },
        Rule::counts => Clause::Counts {
            grades: piece
                .all(Rule::counted)
                .filter_map(|counted| {
                    Some(Counted {
                        grade: counted.get(Rule::grade)?.text(),
                        from: quantity(&counted)?,
                        over: counted.has(Rule::kw_over),
                    })
                })
                .collect(),
            of: words(piece, Rule::thing),
        },
        Rule::spans => {
            let mut things = piece.all(Rule::thing).map(|thing| thing.text());
            Clause::Spans { count: number(piece)?, of: things.next()?, between: things.next()? }
        }
        Rule::range => {
            let mut numbers = piece.all(Rule::number).map(|number| number.figure());
            let bounds = (numbers.next()?, numbers.next()?);
            Clause::Range(Spanned::new(bounds, piece.span()))
        }
        Rule::error => Clause::Error(number(piece)?),
        Rule::is => Clause::Is { sum: sum(piece)?, test: line_where(piece) },
        Rule::against => Clause::Against {
            sum: sum(piece)?,
            tolerance: piece.get(Rule::tolerance).and_then(|it| quantity(&it)),
        },
        Rule::advice => Clause::Advice { text: piece.get(Rule::text)?.unquoted(), test: line_where(piece) },
        _ => Clause::Unit(piece.get(Rule::unit_word)?.text()),
    })
}

fn bounded(piece: &Piece<'_>) -> Option<Bounded> {
    let bound = quantity(piece).map(|figure| (piece.has(Rule::kw_over), figure));
    Some(Bounded { grade: piece.get(Rule::outcome)?.text(), bound })
}

/// Clauses with times, money and sizes
fn figures(piece: &Piece<'_>) -> Option<Clause> {
    Some(match piece.rule() {
        Rule::takes => Clause::Takes(quantity(piece)?),
        Rule::renews => Clause::Renews(piece.all(Rule::renewed).filter_map(|it| renewed(&it)).collect()),
        Rule::along => Clause::Along(piece.all(Rule::taken).filter_map(|it| taken(&it)).collect()),
        Rule::lasts => Clause::Lasts(Lasts {
            name: piece.get(Rule::name)?.text(),
            share: percent(piece)?,
            again: percent(&piece.get(Rule::whole)?)?,
            test: line_where(piece),
        }),
        Rule::costs => Clause::Costs(number(piece)?),
        Rule::within => {
            Clause::Within(quantity(piece)?, piece.get(Rule::over_percent).and_then(|it| percent(&it)))
        }
        Rule::left => Clause::Left(piece.get(Rule::text)?.unquoted(), number(piece)),
        Rule::spread => Clause::Spread(percent(piece)?),
        Rule::as_class => Clause::As(As {
            class: piece.get(Rule::name)?.text(),
            times: number(piece),
            nearest: piece.get(Rule::nearest).and_then(|it| quantity(&it)),
        }),
        Rule::seen => Clause::Seen { share: percent(piece)?, noun: noun(piece) },
        _ => Clause::Entry(Entry {
            name: piece.get(Rule::name)?.text(),
            points: piece
                .all(Rule::point)
                .filter_map(|point| Some((quantity(&point)?, percent(&point))))
                .collect(),
            after: piece.get(Rule::after).and_then(|after| number(&after)),
            tolerance: piece.get(Rule::tolerance).and_then(|it| quantity(&it)),
            test: line_where(piece),
        }),
    })
}

fn taken(piece: &Piece<'_>) -> Option<Taken> {
    Some(Taken { name: piece.get(Rule::name)?.text(), from: percent(piece)? })
}

fn renewed(piece: &Piece<'_>) -> Option<Renewed> {
    Some(Renewed {
        name: piece.get(Rule::name)?.text(),
        from: percent(piece)?,
        to: piece.get(Rule::to_percent).and_then(|to| percent(&to)),
    })
}

/// Clauses that name things or hold a text
fn naming(piece: &Piece<'_>) -> Option<Clause> {
    let name = || piece.get(Rule::name).map(|name| name.text());
    let text = || piece.get(Rule::text).map(|text| text.unquoted());
    let names = || {
        let list = piece.get(Rule::names);
        list.map(|list| list.all(Rule::name).map(|name| name.text()).collect())
    };
    Some(match piece.rule() {
        Rule::forms => Clause::Forms(words(piece, Rule::form)),
        Rule::drawn => Clause::Drawn { as_what: drawn(piece)?, test: terms(piece) },
        Rule::only_where => Clause::OnlyWhere(terms(piece)),
        Rule::kind_of => Clause::Kind(name()?),
        Rule::basis => Clause::Basis(basis(piece)?),
        Rule::explanation => Clause::Text(text()?),
        Rule::finds_out => Clause::FindsOut,
        Rule::on_site => Clause::OnSite,
        Rule::sets_right => Clause::SetsRight(piece.has(Rule::kw_last)),
        Rule::among_worst => Clause::AmongWorst,
        Rule::anew => Clause::Anew,
        Rule::gives_way => Clause::GivesWay(name()?),
        Rule::more => Clause::More(text()?),
        Rule::less => Clause::Less(text()?),
        Rule::needs => Clause::Needs(piece.all(Rule::text).map(|text| text.unquoted()).collect()),
        Rule::tell => Clause::Tell(text()?),
        Rule::shows => Clause::Shows(names()?),
        Rule::reads => Clause::Reads(names()?),
        Rule::while_state => Clause::While(name()?),
        Rule::makes => Clause::Makes(name()?),
        Rule::ends => Clause::Ends(names()?),
        Rule::access => Clause::Access(piece.get(Rule::stand)?.text()),
        Rule::caution => Clause::Caution(text()?),
        Rule::fixes => Clause::Fixes(names()?),
        Rule::mends => Clause::Mends(piece.all(Rule::mended).filter_map(|it| mended(&it)).collect()),
        Rule::spares => Clause::Spares(names()?),
        Rule::rubs => Clause::Rubs(name()?),
        _ => return None,
    })
}

/// Where a part stands in the picture
fn drawn(piece: &Piece<'_>) -> Option<Spanned<Drawn>> {
    if let Some(along) = piece.get(Rule::drawn_along) {
        let share = percent(&along)?;
        let run = along.has(Rule::kw_run);
        return Some(Spanned::new(
            if run { Drawn::TopRun(share) } else { Drawn::Frame(share) },
            along.span(),
        ));
    }
    let own = piece.get(Rule::drawn_as)?;
    let spots = [
        (Rule::kw_hub, Drawn::Hub),
        (Rule::kw_front, Drawn::FrontWheel),
        (Rule::kw_rear, Drawn::RearWheel),
        (Rule::kw_drive, Drawn::DriveWheel),
        (Rule::kw_raised, Drawn::RaisedWheel),
        (Rule::kw_bottom, Drawn::BottomRow(number(&own))),
        (Rule::kw_top, Drawn::TopRow(number(&own))),
    ];
    let (_, drawn) = spots.into_iter().find(|(rule, _)| own.has(*rule))?;
    Some(Spanned::new(drawn, own.span()))
}

fn mended(piece: &Piece<'_>) -> Option<Mended> {
    let grade = piece.get(Rule::grade).map(|grade| grade.text());
    Some(Mended { name: piece.get(Rule::name)?.text(), grade })
}

/// Where something comes from
pub(super) fn basis(piece: &Piece<'_>) -> Option<Basis> {
    Some(match piece.get(Rule::text) {
        Some(source) => Basis::Source(source.unquoted()),
        None if piece.has(Rule::common_practice) => Basis::CommonPractice,
        None => Basis::Estimate,
    })
}

fn words(piece: &Piece<'_>, rule: Rule) -> Vec<Spanned<String>> {
    piece.all(rule).map(|word| word.text()).collect()
}
