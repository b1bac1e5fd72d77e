//! Rows that a size class has from another.

use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::Spanned;
use crate::syntax::tree::{As, Clause, Declaration, Entry, File, Sort};

/// The `as` clause of a size class
fn taken_over(declaration: &Declaration) -> Option<(&As, &Spanned<Clause>)> {
    declaration.clauses.iter().find_map(|clause| match &clause.value {
        Clause::As(other) => Some((other, clause)),
        _ => None,
    })
}

fn entry(clause: &Spanned<Clause>) -> Option<&Entry> {
    match &clause.value {
        Clause::Entry(entry) => Some(entry),
        _ => None,
    }
}

/// The first table of a size class
fn find<'t>(files: &'t [File], sort: Sort, class: &str) -> Option<&'t Declaration> {
    let mut all = files.iter().flat_map(|file| &file.declarations);
    all.find(|other| other.sort.value == sort && other.name.value == class)
}

/// The clauses of a size class with the rows that it has from another in the place of its `as`
pub(super) fn clauses(
    declaration: &Declaration,
    files: &[File],
    problems: &mut Problems,
) -> Vec<Spanned<Clause>> {
    let Some((other, clause)) = taken_over(declaration) else {
        return declaration.clauses.clone();
    };
    if !is_sound(other, problems) {
        return declaration.clauses.clone();
    }
    let Some(base) = base(declaration, other, files, problems) else {
        return declaration.clauses.clone();
    };
    let Some(taken) = rows(&base, declaration, other) else {
        let message = "rows of this class are not in the unit that is rounded to, or would be too large";
        let at = other.nearest.as_ref().map_or(clause.at, |nearest| nearest.at);
        problems.push(
            Problem::new(Code::BadUnit, at, message)
                .help("round to a figure in the unit of the rows, such as `50 h`"),
        );
        return declaration.clauses.clone();
    };
    let mut clauses = Vec::with_capacity(declaration.clauses.len() + taken.len());
    for own in &declaration.clauses {
        match &own.value {
            Clause::Entry(_) => {}
            Clause::As(_) => {
                clauses.extend(taken.iter().cloned().map(|row| Spanned::new(Clause::Entry(row), clause.at)));
            }
            _ => clauses.push(own.clone()),
        }
    }
    clauses
}

/// Says what is wrong with the figures of an `as`
fn is_sound(other: &As, problems: &mut Problems) -> bool {
    let times = other.times.as_ref().map(|times| (times.value, times.at));
    let nearest = other.nearest.as_ref().map(|nearest| (nearest.value.value, nearest.at));
    let mut sound = true;
    for (_, at) in times.into_iter().chain(nearest).filter(|(figure, _)| *figure <= 0.0) {
        sound = false;
        problems.push(
            Problem::new(
                Code::BadBounds,
                at,
                "sizes and hours are multiplied by, and rounded to, more than nothing",
            )
            .help("write a figure over 0"),
        );
    }
    sound
}

/// The rows of the class that another is like, which may themselves be those of a third
fn base(
    declaration: &Declaration,
    other: &As,
    files: &[File],
    problems: &mut Problems,
) -> Option<Vec<Entry>> {
    let sort = declaration.sort.value;
    let mut steps = vec![declaration];
    let mut next = other;
    loop {
        let Some(base) = find(files, sort, &next.class.value) else {
            let all = files.iter().flat_map(|file| &file.declarations);
            let known = all.filter(|own| own.sort.value == sort).map(|own| own.name.value.as_str());
            let message = format!("no `{}` is called `{}`", sort.word(), next.class.value);
            let otherwise = format!("declare it, or name a size class that has a `{}`", sort.word());
            problems.push(Problem::new(Code::UnknownName, next.class.at, message).help(did_you_mean(
                &next.class.value,
                known,
                &otherwise,
            )));
            return None;
        };
        if steps.iter().any(|step| step.name.value == base.name.value) {
            let message = format!("`{}` has its rows from itself", base.name.value);
            problems.push(
                Problem::new(Code::Loop, next.class.at, message)
                    .also(base.name.at, "declared here")
                    .help("write the rows of one of these classes out"),
            );
            return None;
        }
        steps.push(base);
        match taken_over(base) {
            Some((further, _)) => next = further,
            None => break,
        }
    }
    let mut rows_of: Option<Vec<Entry>> = None;
    for step in steps.iter().skip(1).rev() {
        rows_of = match (rows_of, taken_over(step)) {
            (Some(before), Some((other, _))) => rows(&before, step, other),
            _ => Some(step.clauses.iter().filter_map(entry).cloned().collect()),
        };
        rows_of.as_ref()?;
    }
    rows_of
}

/// The rows of a class: those of another, multiplied, but for its own. An own row with the same measure and the same `where`
/// takes the place of the other's; one with another `where` is asked before those of its measure.
///
/// None where a figure cannot be rounded as is said, or grows out of bounds.
pub fn rows(base: &[Entry], declaration: &Declaration, other: &As) -> Option<Vec<Entry>> {
    let own: Vec<&Entry> = declaration.clauses.iter().filter_map(entry).collect();
    let same = |one: &Entry, two: &Entry| one.name.value == two.name.value && one.test == two.test;
    let new = |row: &&Entry| !base.iter().any(|taken| same(taken, row));
    let mut rows: Vec<Entry> = Vec::with_capacity(base.len() + own.len());
    for taken in base {
        let name = taken.name.value.as_str();
        if !rows.iter().any(|row| row.name.value == name) {
            rows.extend(own.iter().copied().filter(new).filter(|row| row.name.value == name).cloned());
        }
        rows.push(match own.iter().find(|row| same(taken, row)) {
            Some(row) => (*row).clone(),
            None => multiplied(taken, other)?,
        });
    }
    let elsewhere = |row: &&Entry| !base.iter().any(|taken| taken.name.value == row.name.value);
    rows.extend(own.into_iter().filter(elsewhere).cloned());
    Some(rows)
}

/// A row with its sizes or hours multiplied and rounded; what it says in per cent stays
fn multiplied(row: &Entry, other: &As) -> Option<Entry> {
    let mut row = row.clone();
    for (size, _) in &mut row.points {
        let figure = &mut size.value;
        figure.value *= other.times.as_ref().map_or(1.0, |times| times.value);
        if let Some(nearest) = &other.nearest {
            let step = &nearest.value;
            let unit = |quantity: &crate::syntax::tree::Quantity| {
                quantity.unit.as_ref().map(|unit| unit.value.clone())
            };
            if unit(step) != unit(figure) {
                return None;
            }
            figure.value = (figure.value / step.value).round() * step.value;
        }
        if !figure.value.is_finite() {
            return None;
        }
    }
    Some(row)
}
