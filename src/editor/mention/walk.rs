//! The walk over one declaration that finds all it names.

use super::{Mention, Thing};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{
    Attribute, Clause, Declaration, Effect, Entry, Frequency, Line, Mended, Parent, Reach, Relation, Sort,
    Sum, Term, Value,
};
use std::collections::BTreeMap;

/// Adds all that a declaration names
pub(super) fn declaration<'t>(
    within: &'t Declaration,
    rows: &BTreeMap<String, &'t str>,
    found: &mut Vec<Mention<'t>>,
) {
    let mut walk = Walk { within, rows, role: within.sort.value.word(), found };
    let name = within.name.value.as_str();
    match within.sort.value {
        Sort::Scale => {}
        Sort::Dimensions | Sort::Life => walk.note(Thing::Size(name), within.name.at, true),
        _ => walk.note(Thing::Block(name), within.name.at, true),
    }
    for attribute in &within.attributes {
        match &attribute.value {
            Attribute::Each(word) => {
                walk.role = "each";
                walk.place(word);
            }
            Attribute::Of(part) => {
                walk.role = "of";
                walk.block(part);
            }
            Attribute::Numbered(_) => {}
        }
    }
    for clause in &within.clauses {
        walk.role = clause.value.word();
        walk.clause(clause);
    }
}

struct Walk<'t, 'f> {
    within: &'t Declaration,
    rows: &'f BTreeMap<String, &'t str>,
    role: &'static str,
    found: &'f mut Vec<Mention<'t>>,
}

impl<'t> Walk<'t, '_> {
    fn note(&mut self, thing: Thing<'t>, at: Span, declares: bool) {
        self.found.push(Mention { thing, at, declares, role: self.role, within: self.within });
    }

    fn block(&mut self, name: &'t Spanned<String>) {
        self.note(Thing::Block(&name.value), name.at, false);
    }

    fn blocks(&mut self, names: &'t [Spanned<String>]) {
        for name in names {
            self.block(name);
        }
    }

    /// A word after `each` or `any`: a part, unless it is `side`
    fn place(&mut self, word: &'t Spanned<String>) {
        if word.value != "side" {
            self.block(word);
        }
    }

    /// A word in the plural: a row of parts, unless it is `sides` or `machines`
    fn row(&mut self, word: &'t Spanned<String>) {
        if let Some(part) = self.rows.get(&word.value) {
            self.note(Thing::Row(part), word.at, false);
        }
    }

    /// A grade, choice or form of the block in hand
    fn own(&mut self, word: &'t Spanned<String>, declares: bool) {
        self.note(Thing::Word { of: &self.within.name.value, word: &word.value }, word.at, declares);
    }

    fn clause(&mut self, clause: &'t Spanned<Clause>) {
        self.blocks(clause.value.names());
        self.test(clause.value.test());
        clause.value.sum().into_iter().for_each(|sum| self.sum(&sum.value));
        match &clause.value {
            Clause::Grades(grades) => grades.words.iter().for_each(|word| self.own(word, true)),
            Clause::Forms(forms) => forms.iter().for_each(|word| self.own(word, true)),
            Clause::With(line) | Clause::Mirror(line) | Clause::Without(line) => self.line(line),
            Clause::As(other) => self.note(Thing::Size(&other.class.value), other.class.at, false),
            Clause::Chance(chance) => {
                self.frequency(&chance.frequency);
                chance.noun.iter().for_each(|noun| self.row(noun));
            }
            Clause::Choices { choices, .. } => {
                let mut lines = self.within.clauses.iter();
                let first = lines.find(|it| matches!(it.value, Clause::Choices { .. }));
                let declares = first.is_some_and(|first| first.at == clause.at);
                choices.iter().for_each(|(word, _)| self.own(word, declares));
            }
            Clause::Seen { noun, .. } => noun.iter().for_each(|noun| self.row(noun)),
            Clause::From { bounds, .. } => bounds.iter().for_each(|it| self.own(&it.grade, false)),
            Clause::Counts { grades, .. } => grades.iter().for_each(|it| self.own(&it.grade, false)),
            Clause::Renews(renewed) => renewed.iter().for_each(|it| self.block(&it.name)),
            Clause::Mends(mended) => mended.iter().for_each(|it| self.mended(it)),
            Clause::Along(taken) => taken.iter().for_each(|it| self.block(&it.name)),
            Clause::Lasts(lasts) => self.block(&lasts.name),
            Clause::Entry(entry) => self.entry(entry),
            _ => {}
        }
    }

    fn mended(&mut self, mended: &'t Mended) {
        self.block(&mended.name);
        if let Some(grade) = &mended.grade {
            self.note(Thing::Word { of: &mended.name.value, word: &grade.value }, grade.at, false);
        }
    }

    fn line(&mut self, line: &'t Line) {
        for Parent { name, grade, reach } in &line.parents {
            self.block(name);
            if let Some(grade) = grade {
                self.note(Thing::Word { of: &name.value, word: &grade.value }, grade.at, false);
            }
            if let Some(Reach::Any(part)) = reach.as_ref().map(|reach| &reach.value) {
                self.place(part);
            }
        }
        for Effect { frequency, grade } in &line.effects {
            self.frequency(frequency);
            grade.iter().for_each(|grade| self.own(grade, false));
        }
    }

    fn frequency(&mut self, frequency: &'t Spanned<Frequency>) {
        if let Frequency::Word(word) = &frequency.value {
            self.note(Thing::Share(word), frequency.at, false);
        }
    }

    fn entry(&mut self, entry: &'t Entry) {
        match self.within.sort.value {
            Sort::Scale => self.note(Thing::Share(&entry.name.value), entry.name.at, true),
            _ => self.block(&entry.name),
        }
    }

    fn test(&mut self, terms: &'t [Term]) {
        let role = std::mem::replace(&mut self.role, "where");
        for Term { subject, relation } in terms {
            if ["side", "hours"].contains(&subject.value.as_str()) {
                continue;
            }
            if self.rows.contains_key(&subject.value) {
                self.row(subject);
                continue;
            }
            self.block(subject);
            let is_part = self.rows.values().any(|part| *part == subject.value);
            let Relation::Is { values, .. } = relation else { continue };
            // A part is first or last, which are words of the language.
            let values = if is_part { &[][..] } else { values };
            for value in values {
                if let Value::Word(word) = &value.value {
                    self.note(Thing::Word { of: &subject.value, word }, value.at, false);
                }
            }
        }
        self.role = role;
    }

    fn sum(&mut self, sum: &'t Sum) {
        match sum {
            Sum::Figure(_) => {}
            Sum::Measure(name)
            | Sum::About(_, name)
            | Sum::Hours(name)
            | Sum::HoursSinceTurned(name)
            | Sum::Turn(name) => self.block(name),
            Sum::Half(of) => self.sum(&of.value),
            Sum::Across { of, row, .. } => {
                self.sum(&of.value);
                self.row(row);
            }
            Sum::Among { of, .. } => of.iter().for_each(|of| self.sum(&of.value)),
            Sum::Pair(first, _, second) => {
                self.sum(&first.value);
                self.sum(&second.value);
            }
        }
    }
}
