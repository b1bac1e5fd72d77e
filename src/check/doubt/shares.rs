//! Shares that stand the wrong way round, or say next to nothing.
//!
//! Paths are joined by noisy-MAX, so a cause that is there never makes a sign rarer. What an author can still get upside
//! down is how much a sign says: of places with the cause, `a + l - a·l` show a grade or worse, of those without it `l`,
//! so seen it multiplies the odds of the cause by `1 + a·(1 - l)/l`, and under 2 whenever `l` is over `a`.
//!
//! The doubt says what they do to odds (half a deciban, a factor of two), since noisy-MAX lets no cause make a sign rarer:
//! there is no share that is wrong by itself.

use crate::check::names::Names;
use crate::check::share::percent;
use crate::check::situation::{Situation, situations};
use crate::check::written::effects;
use crate::invariant::Hold;
use crate::model::grades::{Grades, Shape};
use crate::model::{Effect, Hidden, Leak, Line, Model, Parent, ParentGrade};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::Span;
use crate::syntax::tree::{self, Clause, Declaration};

/// Odds multiplied by less than this are half a deciban: 10^0.05
const LITTLE: f64 = 1.122_018_454_301_963_4;
/// Largest rounding when shares are added up
const ROUNDING: f64 = 1e-9;

/// A condition or symptom with its lines as they are written
struct Block<'m> {
    model: &'m Model,
    effect: &'m Effect,
    withs: Vec<(&'m Line, &'m tree::Line)>,
    withouts: Vec<(&'m Leak, &'m tree::Line)>,
}

/// What shows by a cause against what shows without any
struct Extremes<'s> {
    most: f64,
    with: &'s tree::Line,
    least: f64,
    without: Option<&'s tree::Line>,
}

/// Says which shares are lost in others or run against them
pub(super) fn check(model: &Model, names: &Names<'_>, problems: &mut Problems) {
    for (effect, declaration) in effects(model, names) {
        let block = block(model, effect, declaration);
        block.worse_shows_less(problems);
        if !block.commoner_without(problems) {
            block.says_little(problems);
        }
    }
}

fn block<'m>(model: &'m Model, effect: &'m Effect, declaration: &'m Declaration) -> Block<'m> {
    let clauses = || declaration.clauses.iter().map(|clause| &clause.value);
    let withs = clauses().filter_map(|it| if let Clause::With(line) = it { Some(line) } else { None });
    let withouts = clauses().filter_map(|it| if let Clause::Without(line) = it { Some(line) } else { None });
    Block {
        model,
        effect,
        withs: effect.lines.iter().zip(withs).collect(),
        withouts: effect.leaks.iter().zip(withouts).collect(),
    }
}

/// Share of places that a line brings to a grade or beyond
fn beyond(grades: &Grades, effects: &[(usize, f64)], grade: usize) -> f64 {
    let last = grades.names.len();
    let counted: Vec<usize> = match grades.shape {
        Shape::Ladder => (grade..last).collect(),
        Shape::Alternatives => vec![grade, last.saturating_sub(1)],
        Shape::Arms { low } if grade <= low => (grade..=low).collect(),
        Shape::Arms { .. } => (grade..last).collect(),
    };
    let states: Vec<usize> = counted.into_iter().map(|grade| grades.state(grade)).collect();
    effects.iter().filter(|(state, _)| states.contains(state)).map(|(_, share)| share).sum()
}

/// The piece of a line that brings about a grade or, on the same arm, one beyond it; the whole of its effects otherwise
fn piece(grades: &Grades, line: &tree::Line, grade: usize) -> Span {
    let spans = line.effects.iter().map(|effect| {
        let end = effect.grade.as_ref().map_or(effect.frequency.at, |grade| grade.at);
        let named = effect.grade.as_ref().and_then(|word| grades.find(&word.value));
        let named = named.unwrap_or(1); // else: what names no grade is of the first
        (named, effect.frequency.at.to(end))
    });
    let own = spans.clone().find(|(named, _)| *named == grade).map(|(_, span)| span);
    own.or_else(|| spans.map(|(_, span)| span).reduce(Span::to)).hold("a line has effects")
}

/// `yes`, or a grade `or worse` where there is one worse
fn words(grades: &Grades, grade: usize) -> String {
    let farthest = match grades.shape {
        Shape::Ladder => grades.names.len() - 1 == grade,
        Shape::Alternatives => true,
        Shape::Arms { low } => grade == low || grades.names.len() - 1 == grade,
    };
    let name = grades.name(grade);
    if farthest { format!("`{name}`") } else { format!("`{name}` or worse") }
}

impl Block<'_> {
    /// The `without` line that answers in each of some situations where the block exists; none where none does
    fn answering<'s>(
        &'s self,
        situations: &'s [Situation],
    ) -> impl Iterator<Item = Option<&'s (&'s Leak, &'s tree::Line)>> + 's {
        let here = situations.iter().filter(|situation| situation.holds(&self.effect.common.gate));
        here.map(|situation| self.withouts.iter().find(|(leak, _)| situation.holds(&leak.test)))
    }

    /// Every situation that the block's lines tell apart
    fn situations(&self) -> Option<Vec<Situation>> {
        let lines = self.withs.iter().map(|(line, _)| &line.test);
        let leaks = self.withouts.iter().map(|(leak, _)| &leak.test);
        situations(self.model, lines.chain(leaks).chain([&self.effect.common.gate]))
    }

    /// Tells a block whose grades all show without any cause, wherever it exists, more often than by any one of them
    fn commoner_without(&self, problems: &mut Problems) -> bool {
        let grades = &self.effect.grades;
        let Some(situations) = self.situations() else { return false };
        let brought: Vec<(usize, Extremes<'_>)> = (1..grades.names.len())
            .filter_map(|grade| Some((grade, self.against(grade, &situations)?)))
            .filter(|(_, against)| against.most > 0.0)
            .collect();
        let all = brought.iter().all(|(_, against)| against.least > against.most + ROUNDING);
        let Some((grade, against)) = brought.into_iter().find(|_| all) else { return false };
        let message = format!(
            "{} shows in {} % of places without any cause, and in at most {} % by one",
            words(grades, grade),
            percent(against.least),
            percent(against.most)
        );
        let at = against.without.map_or(self.effect.common.at, |line| piece(grades, line, grade));
        problems.push(
            Problem::new(Code::CommonerWithout, at, message)
                .also(piece(grades, against.with, grade), "the most that one brings about")
                .help("seen, it cannot even double the odds of a cause: look whether the shares are swapped, or say by facts where it is so common"),
        );
        true
    }

    /// The most that a line brings to a grade or beyond, against the least that shows without any cause
    fn against<'s>(&'s self, grade: usize, situations: &'s [Situation]) -> Option<Extremes<'s>> {
        let grades = &self.effect.grades;
        let withs = self.withs.iter().map(|with| (beyond(grades, &with.0.effects, grade), with.1));
        let (most, with) = withs.max_by(|one, other| one.0.total_cmp(&other.0))?;
        let leaks = self.answering(situations).map(|leak| match leak {
            Some(leak) => (beyond(grades, &leak.0.effects, grade), Some(leak.1)),
            None => (0.0, None),
        });
        let (least, without) = leaks.min_by(|one, other| one.0.total_cmp(&other.0))?;
        Some(Extremes { most, with, least, without })
    }

    /// Tells lines whose sign, seen or not seen, moves the odds of the parent by less than half a deciban
    fn says_little(&self, problems: &mut Problems) {
        let grades = &self.effect.grades;
        let Some(situations) = self.situations() else { return };
        for (line, written) in &self.withs {
            let all: f64 = line.effects.iter().map(|(_, share)| share).sum();
            let here: Vec<Situation> = situations.iter().filter(|it| it.holds(&line.test)).cloned().collect();
            let mut strongest: Option<(f64, usize, &tree::Line, f64)> = None;
            let mut silent = all > 0.0 && (1.0 - all) * LITTLE > 1.0;
            for leak in self.answering(&here) {
                for grade in 1..grades.names.len() {
                    let share = beyond(grades, &line.effects, grade);
                    let without = leak.map_or(0.0, |leak| beyond(grades, &leak.0.effects, grade));
                    let factor = 1.0 + share * (1.0 - without) / without;
                    silent &= share <= 0.0 || factor < LITTLE;
                    let stronger = strongest.is_none_or(|(known, ..)| factor > known);
                    if let Some((_, without_line)) = leak
                        && share > 0.0
                        && stronger
                    {
                        strongest = Some((factor, grade, without_line, without));
                    }
                }
            }
            if let Some((_, grade, without_line, without)) = strongest.filter(|_| silent) {
                let message = format!(
                    "{} by this line in {} % of places is lost in the {} % that show it without any cause",
                    words(grades, grade),
                    percent(beyond(grades, &line.effects, grade)),
                    percent(without)
                );
                problems.push(
                    Problem::new(Code::SignSaysLittle, piece(grades, written, grade), message)
                        .also(piece(grades, without_line, grade), "this often without any cause")
                        .help("take the line out, raise its share, or say by facts where the sign is so common without it"),
                );
            }
        }
    }

    /// Tells lines for a worse grade of a parent that bring a grade or worse about less often than a milder one's
    fn worse_shows_less(&self, problems: &mut Problems) {
        let grades = &self.effect.grades;
        if grades.shape == Shape::Alternatives {
            return;
        }
        for (number, (worse, written)) in self.withs.iter().enumerate() {
            let others = self.withs.iter().enumerate().filter(|(other, _)| *other != number);
            let upside_down =
                others.filter(|(_, (milder, _))| self.is_worse(worse, milder)).find_map(|(_, milder)| {
                    let less = |grade: &usize| {
                        beyond(grades, &worse.effects, *grade) + ROUNDING
                            < beyond(grades, &milder.0.effects, *grade)
                    };
                    Some(((1..grades.names.len()).find(less)?, milder))
                });
            if let Some((grade, (milder, milder_written))) = upside_down {
                let message = format!(
                    "{} follows from the worse grade in {} % of places, and from the milder one in {} %",
                    words(grades, grade),
                    percent(beyond(grades, &worse.effects, grade)),
                    percent(beyond(grades, &milder.effects, grade))
                );
                problems.push(
                    Problem::new(Code::WorseShowsLess, piece(grades, written, grade), message)
                        .also(piece(grades, milder_written, grade), "the milder grade")
                        .help("give the worse grade at least as much: add a share for the grades between"),
                );
            }
        }
    }

    /// Whether two lines differ in nothing but one parent's grade, the first one's being the worse
    fn is_worse(&self, worse: &Line, milder: &Line) -> bool {
        if worse.test != milder.test || worse.parents.len() != milder.parents.len() {
            return false;
        }
        let pairs: Vec<(&Parent, &Parent)> =
            worse.parents.iter().zip(&milder.parents).filter(|(one, other)| one != other).collect();
        let [(one, other)] = pairs.as_slice() else { return false };
        match (one.of, one.grade, other.grade) {
            (Hidden::Condition(id), ParentGrade::Grade(worse), ParentGrade::Grade(milder)) => {
                let same_arm = match self.model[id].grades.shape {
                    Shape::Ladder => true,
                    Shape::Alternatives => false,
                    Shape::Arms { low } => (worse <= low) == (milder <= low),
                };
                one.of == other.of && one.reach == other.reach && same_arm && worse > milder
            }
            _ => false,
        }
    }
}
