//! Expressions over measures: names resolved, units compared, bounds turned into intervals.

use super::context::CheckContext;
use super::value::{Value, unknown_unit, value_of};
use crate::model::formula::{Bounds, Formula, Gather, Operator, Row};
use crate::model::{Effect, Extent, Fact, MeasureId, PartId};
use crate::problem::code::Code;
use crate::problem::{Problem, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{self, About, Bounded, Quantity, Sum};
use crate::units::{Dimension, Unit};

/// What a reading comes to: the grades of a symptom, or the choices of a fact
pub(super) struct Outcomes<'a> {
    owner: &'a str,
    names: &'a [String],
    code: Code,
    word: &'static str,
}

impl<'a> Outcomes<'a> {
    /// The grades of a symptom
    pub(super) fn grades(block: &'a Effect) -> Self {
        let Effect { common, grades, .. } = block;
        Outcomes { owner: &common.name, names: &grades.names, code: Code::UnknownGrade, word: "grade" }
    }

    /// The choices of a fact
    pub(super) fn choices(fact: &'a Fact) -> Self {
        let Fact { common, choices, .. } = fact;
        Outcomes { owner: &common.name, names: choices, code: Code::UnknownChoice, word: "choice" }
    }

    fn number(&self, word: &Spanned<String>, context: &mut CheckContext<'_>) -> Option<usize> {
        let found = self.names.iter().position(|name| *name == word.value);
        if found.is_none() && !self.names.is_empty() {
            let otherwise = format!("write one of {}", self.names.join(", "));
            let message = format!("`{}` has no {} `{}`", self.owner, self.word, word.value);
            context.problems.push(Problem::new(self.code, word.at, message).help(did_you_mean(
                &word.value,
                self.names.iter().map(String::as_str),
                &otherwise,
            )));
        }
        found
    }
}

/// The expression and the intervals of a `from` clause
pub(super) fn bounded(
    sum: &Spanned<Sum>,
    bounds: &[Bounded],
    grades: &Outcomes<'_>,
    extent: Extent,
    context: &mut CheckContext<'_>,
) -> Option<(Formula, Bounds)> {
    let (formula, value) = resolve(sum, extent, context)?;
    if matches!(formula, Formula::Turn(_)) {
        return turned(formula, bounds, grades, context);
    }
    let intervals = intervals(bounds, grades, value, context)?;
    Some((formula, Bounds { intervals }))
}

/// `from turn of chain: first_side, turned`: the first choice when not turned, the second when turned
fn turned(
    formula: Formula,
    bounds: &[Bounded],
    grades: &Outcomes<'_>,
    context: &mut CheckContext<'_>,
) -> Option<(Formula, Bounds)> {
    match bounds {
        [before, after] if before.bound.is_none() && after.bound.is_none() => {
            let before = grades.number(&before.grade, context)?;
            let after = grades.number(&after.grade, context)?;
            let intervals = vec![(before, f64::NEG_INFINITY, 0.5), (after, 0.5, f64::INFINITY)];
            Some((formula, Bounds { intervals }))
        }
        _ => {
            if let Some(first) = bounds.first() {
                context.problems.push(
                    Problem::new(Code::BadBounds, first.grade.at, "a part has been turned or not").help(
                        "name two words without bounds: the one for not turned, then the one for turned",
                    ),
                );
            }
            None
        }
    }
}

/// Intervals from a list of grades with the bounds they start at: the one without a bound fills what is between
fn intervals(
    bounds: &[Bounded],
    grades: &Outcomes<'_>,
    value: Value,
    context: &mut CheckContext<'_>,
) -> Option<Vec<(usize, f64, f64)>> {
    let mut open = None;
    let mut overs: Vec<(usize, f64, Span)> = Vec::new();
    let mut unders: Vec<(usize, f64, Span)> = Vec::new();
    for bounded in bounds {
        let grade = grades.number(&bounded.grade, context)?;
        match &bounded.bound {
            None if open.is_none() => open = Some(grade),
            None => {
                fault(bounded.grade.at, "only the first grade can do without a bound", context);
                return None;
            }
            Some((over, figure)) => {
                let bound = in_value(figure, value, context)?;
                let list = if *over { &mut overs } else { &mut unders };
                list.push((grade, bound, figure.at));
            }
        }
    }
    let Some(open) = open else {
        if let Some(first) = bounds.first() {
            fault(first.grade.at, "the first grade has a bound, so nothing is left for the rest", context);
        }
        return None;
    };
    let lowest_over = overs.first().map_or(f64::INFINITY, |over| over.1);
    let highest_under = unders.first().map_or(f64::NEG_INFINITY, |under| under.1);
    let crossed = overs.first().filter(|_| highest_under >= lowest_over);
    let stray = stray(&overs, |one, next| one < next).or_else(|| stray(&unders, |one, next| one > next));
    if let Some(&(_, _, at)) = stray.or(crossed) {
        let all = overs.iter().chain(&unders).map(|(_, _, at)| *at);
        let before = all.filter(|other| other.start < at.start).max_by_key(|other| other.start);
        let problem = out_of_order(at, "this bound does not follow the one before it");
        context.problems.push(problem.also_at(before, "the one before it"));
        return None;
    }
    let mut intervals = vec![(open, highest_under, lowest_over)];
    intervals.extend(chained(&overs, f64::INFINITY));
    intervals.extend(chained(&unders, f64::NEG_INFINITY).map(|(grade, from, to)| (grade, to, from)));
    Some(intervals)
}

/// The first bound that does not go on outward from the one before it
fn stray(list: &[(usize, f64, Span)], goes_on: fn(f64, f64) -> bool) -> Option<&(usize, f64, Span)> {
    list.iter().zip(list.iter().skip(1)).find(|(one, next)| !goes_on(one.1, next.1)).map(|(_, next)| next)
}

/// Each bound with the next one outward, the last with the open end
fn chained(list: &[(usize, f64, Span)], end: f64) -> impl Iterator<Item = (usize, f64, f64)> + '_ {
    let nexts = list.iter().skip(1).map(|next| next.1).chain([end]);
    list.iter().zip(nexts).map(|(&(grade, from, _), to)| (grade, from, to))
}

fn fault(at: Span, message: &str, context: &mut CheckContext<'_>) {
    context.problems.push(out_of_order(at, message));
}

fn out_of_order(at: Span, message: &str) -> Problem {
    Problem::new(Code::BadBounds, at, message)
        .help("name the normal grade without a bound, then each next one with a bound farther out")
}

/// A figure with its unit as a value of the expression's sort
fn in_value(figure: &Spanned<Quantity>, value: Value, context: &mut CheckContext<'_>) -> Option<f64> {
    let number = figure.value.value;
    let unit = figure.value.unit.as_ref().map(|unit| unit.value.as_str());
    let converted = match (value, unit) {
        (Value::Percent, Some("%")) | (Value::Ratio, None) | (Value::Unknown, _) => Some(number),
        (Value::Ratio, Some("%")) => Some(number / 100.0),
        (Value::Of(dimension), Some(unit)) => {
            Unit::parse(unit).filter(|unit| unit.dimension() == dimension).map(|unit| unit.to_base(number))
        }
        _ => None,
    };
    if converted.is_none() {
        let help = match value {
            Value::Percent => "write it in per cent, as in `over 40%`".to_owned(),
            Value::Ratio | Value::Unknown => "write a plain number or a per cent".to_owned(),
            Value::Of(dimension) => format!("write it in `{}`", dimension.base().word()),
        };
        context.problems.push(
            Problem::new(Code::BadUnit, figure.at, format!("{} cannot have this bound", value.word()))
                .help(help),
        );
    }
    converted
}

/// The expression with the sort of its value
pub(super) fn resolve(
    sum: &Spanned<Sum>,
    extent: Extent,
    context: &mut CheckContext<'_>,
) -> Option<(Formula, Value)> {
    match &sum.value {
        Sum::Figure(quantity) => figure(quantity, sum.at, context),
        Sum::Measure(name) => {
            let id = measure(name, extent, context)?;
            Some((Formula::Measure(id), value_of(id, context)))
        }
        // A new size, a limit and a life are of the class, and the same at every place.
        Sum::About(about @ (About::New | About::Limit | About::Life), name) => {
            let id = context.names.measure(name, context.problems)?;
            Some(of_measure(*about, id, context))
        }
        Sum::About(about, name) => {
            let id = measure(name, extent, context)?;
            Some(of_measure(*about, id, context))
        }
        Sum::Hours(name) => {
            part(name, extent, context).map(|part| (Formula::Hours(part), Value::Of(Dimension::Time)))
        }
        Sum::HoursSinceTurned(name) => part(name, extent, context)
            .map(|part| (Formula::HoursSinceTurned(part), Value::Of(Dimension::Time))),
        Sum::Turn(name) => part(name, extent, context).map(|part| (Formula::Turn(part), Value::Ratio)),
        Sum::Half(of) => {
            let (of, value) = resolve(of, extent, context)?;
            let half = Formula::Pair(Box::new(of), Operator::Times, Box::new(Formula::Figure(0.5)));
            Some((half, value))
        }
        Sum::Across { gather, of, half, row } => across(*gather, of, *half, row, extent, context),
        Sum::Among { gather, of } => among(*gather, of, extent, context),
        Sum::Pair(first, sign, second) => pair(first, *sign, second, sum.at, extent, context),
    }
}

fn figure(quantity: &Quantity, at: Span, context: &mut CheckContext<'_>) -> Option<(Formula, Value)> {
    let Some(unit) = &quantity.unit else {
        return Some((Formula::Figure(quantity.value), Value::Ratio));
    };
    if unit.value == "%" {
        return Some((Formula::Figure(quantity.value / 100.0), Value::Ratio));
    }
    match Unit::parse(&unit.value) {
        Some(known) => Some((Formula::Figure(known.to_base(quantity.value)), Value::Of(known.dimension()))),
        None => {
            context.problems.push(unknown_unit(unit, at));
            None
        }
    }
}

fn of_measure(about: About, id: MeasureId, context: &CheckContext<'_>) -> (Formula, Value) {
    let own = value_of(id, context);
    match about {
        About::Worn => (Formula::Worn(id), Value::Percent),
        About::Loss => (Formula::Loss(id), own),
        About::New => (Formula::New(id), own),
        About::Limit => (Formula::Limit(id), own),
        About::Pace => (Formula::Pace(id), Value::Ratio),
        About::Life => (Formula::Life(id), Value::Of(Dimension::Time)),
    }
}

/// A measure that the block's place has one of
fn measure(name: &Spanned<String>, extent: Extent, context: &mut CheckContext<'_>) -> Option<MeasureId> {
    let id = context.names.measure(name, context.problems)?;
    narrower(context.model[id].common.extent, extent, name, context).then_some(id)
}

fn part(name: &Spanned<String>, extent: Extent, context: &mut CheckContext<'_>) -> Option<PartId> {
    let id = context.names.part(name, context.problems)?;
    narrower(context.model.places_of(id), extent, name, context).then_some(id)
}

/// True when a block with places `extent` has one `own` for each; otherwise says that `across` is needed
fn narrower(own: Extent, extent: Extent, name: &Spanned<String>, context: &mut CheckContext<'_>) -> bool {
    let fits = match (own, extent) {
        (Extent::Machine, _) | (Extent::Side, Extent::Side | Extent::Each(_)) => true,
        (Extent::Each(one), Extent::Each(other)) => one == other,
        _ => false,
    };
    if !fits {
        let row = match own {
            Extent::Each(part) => context.model[part].plural(),
            _ => "sides".to_owned(),
        };
        context.problems.push(
            Problem::new(
                Code::PlaceNeeded,
                name.at,
                format!("`{}` has more places than this block", name.value),
            )
            .also_at(context.names.declared(&name.value), "declared here, with its places")
            .help(format!("write for instance `mean of … across {row}`")),
        );
    }
    fits
}

fn across(
    gather: tree::Gather,
    of: &Spanned<Sum>,
    half: Option<bool>,
    row: &Spanned<String>,
    extent: Extent,
    context: &mut CheckContext<'_>,
) -> Option<(Formula, Value)> {
    let row_at = row.at;
    let (inner, row) = match (row.value.as_str(), half) {
        ("sides", None) if extent == Extent::Machine => (Extent::Side, Row::Sides),
        (word, half) => match (context.model.row_of(word), half) {
            (Some(part), None) => (Extent::Each(part), Row::All(part)),
            (Some(part), Some(true)) => (Extent::Each(part), Row::Front(part)),
            (Some(part), Some(false)) => (Extent::Each(part), Row::Rear(part)),
            (None, _) => {
                context.problems.push(
                    Problem::new(Code::PlaceUseless, row.at, format!("nothing here goes across `{word}`"))
                        .help(
                            "write `sides` in a block of the whole machine, or a numbered part in the plural",
                        ),
                );
                return None;
            }
        },
    };
    let gather = gathered(gather);
    if gather == Gather::Lead && row != Row::Sides {
        context.problems.push(only_of_sides(row_at));
        return None;
    }
    let (of, value) = resolve(of, inner, context)?;
    let of = Box::new(of);
    Some((Formula::Across { gather, of, row }, value))
}

/// A lead is of the left over the right, and of nothing else
fn only_of_sides(at: Span) -> Problem {
    Problem::new(Code::PlaceUseless, at, "`lead` is that of the left less that of the right")
        .help("write `across sides` behind it, in a block of the whole machine; or gather by `spread`")
}

fn gathered(gather: tree::Gather) -> Gather {
    match gather {
        tree::Gather::Mean => Gather::Mean,
        tree::Gather::Largest => Gather::Largest,
        tree::Gather::Smallest => Gather::Smallest,
        tree::Gather::Spread => Gather::Spread,
        tree::Gather::Lead => Gather::Lead,
    }
}

fn among(
    gather: tree::Gather,
    of: &[Spanned<Sum>],
    extent: Extent,
    context: &mut CheckContext<'_>,
) -> Option<(Formula, Value)> {
    let mut figures = Vec::new();
    let mut sort = Value::Unknown;
    if let (tree::Gather::Lead, Some(first)) = (gather, of.first()) {
        context.problems.push(only_of_sides(first.at));
        return None;
    }
    for figure in of {
        let (formula, value) = resolve(figure, extent, context)?;
        if sort != Value::Unknown && value != Value::Unknown && value != sort {
            let message = format!("{} and {} do not make one figure", sort.word(), value.word());
            context
                .problems
                .push(Problem::new(Code::BadUnit, figure.at, message).help("name figures of one sort"));
            return None;
        }
        sort = if value == Value::Unknown { sort } else { value };
        figures.push(formula);
    }
    Some((Formula::Among { gather: gathered(gather), of: figures }, sort))
}

fn pair(
    first: &Spanned<Sum>,
    sign: char,
    second: &Spanned<Sum>,
    at: Span,
    extent: Extent,
    context: &mut CheckContext<'_>,
) -> Option<(Formula, Value)> {
    let first = resolve(first, extent, context);
    let second = resolve(second, extent, context);
    let (first, one) = first?;
    let (second, other) = second?;
    let (operator, value) = match (sign, one, other) {
        ('+', one, Value::Unknown) | ('+', Value::Unknown, one) => (Operator::Plus, Some(one)),
        ('-', one, Value::Unknown) | ('-', Value::Unknown, one) => (Operator::Minus, Some(one)),
        ('*', _, Value::Unknown) | ('*', Value::Unknown, _) => (Operator::Times, Some(Value::Unknown)),
        ('/', _, Value::Unknown) | ('/', Value::Unknown, _) => (Operator::Over, Some(Value::Unknown)),
        ('+', _, _) if one == other => (Operator::Plus, Some(one)),
        ('-', _, _) if one == other => (Operator::Minus, Some(one)),
        ('*', value, Value::Ratio) | ('*', Value::Ratio, value) => (Operator::Times, Some(value)),
        ('/', value, Value::Ratio) => (Operator::Over, Some(value)),
        ('/', one, other) if one == other => (Operator::Over, Some(Value::Ratio)),
        _ => (Operator::Plus, None),
    };
    let Some(value) = value else {
        let message = format!("`{sign}` between {} and {} makes no sense", one.word(), other.word());
        context.problems.push(
            Problem::new(Code::BadUnit, at, message)
                .help("add and take away like with like; multiply by plain numbers"),
        );
        return None;
    };
    Some((Formula::Pair(Box::new(first), operator, Box::new(second)), value))
}
