//! Which clauses of a block share a line.

use crate::syntax::tree::{Clause, Declaration, Sort};

/// Most columns of a line that holds several clauses
const WIDTH: usize = 120;
/// Columns before a line of clauses, and of its first word
const BEFORE: usize = 12;
/// What stands between a head and a clause behind it
const BETWEEN: &str = "  ";

/// The line in hand, while the clauses of a block are laid out
pub(super) struct Line<'t> {
    sort: Sort,
    /// The block has one `chance` alone, which says the same wherever it stands
    one_chance: bool,
    /// All of it goes behind the head
    behind_head: bool,
    before: Option<&'t Clause>,
    width: usize,
}

impl<'t> Line<'t> {
    /// The head line of a block, its columns, and those of all clauses
    pub(super) fn of(declaration: &'t Declaration, head: usize, clauses: usize) -> Self {
        let sort = declaration.sort.value;
        let all: Vec<&Clause> = declaration.clauses.iter().map(|clause| &clause.value).collect();
        let chances = all.iter().filter(|clause| matches!(clause, Clause::Chance(_))).count();
        let plain = sort == Sort::Cause && matches!(all.as_slice(), [Clause::Kind(_), Clause::Chance(_)]);
        let behind_head = plain && head + clauses + 2 * BETWEEN.len() <= WIDTH;
        Line { sort, one_chance: chances == 1, behind_head, before: None, width: head }
    }

    /// What goes between a clause and the one before, where the two belong on one line
    pub(super) fn joins(&mut self, clause: &'t Clause, words: &str) -> Option<&'static str> {
        let long = words.chars().count();
        let between = self.between(clause).filter(|between| self.width + between.len() + long <= WIDTH);
        self.width = between.map_or(BEFORE + long, |between| self.width + between.len() + long);
        self.before = Some(clause);
        between
    }

    fn between(&self, clause: &Clause) -> Option<&'static str> {
        match (self.sort, self.before, clause) {
            (Sort::Part, None | Some(Clause::Rubs(_)), Clause::Rubs(_) | Clause::OnlyWhere(_))
            | (Sort::Life, None, Clause::Spread(_))
            | (Sort::Fact, Some(Clause::Tell(_)), Clause::Takes(_)) => Some(BETWEEN),
            (Sort::Condition | Sort::Symptom, None, Clause::Grades(_)) => Some(BETWEEN),
            (Sort::Cause, _, _) if self.behind_head => Some(BETWEEN),
            (Sort::Cause, Some(Clause::Kind(_)), Clause::Chance(_)) if self.one_chance => Some("   "),
            (Sort::Scale, Some(Clause::Entry(_)), Clause::Entry(_)) => Some("   "),
            (sort, Some(before), clause) => {
                let group = group(sort, before);
                (group.is_some() && group == self::group(sort, clause)).then_some("   ")
            }
            _ => None,
        }
    }
}

/// Short clauses that are read together: what a job takes, what a check tells, how a measure is read
fn group(sort: Sort, clause: &Clause) -> Option<u8> {
    match (sort, clause) {
        (
            Sort::Measure,
            Clause::Unit(_) | Clause::Range(_) | Clause::Error(_) | Clause::AmongWorst | Clause::Needs(_),
        )
        | (
            Sort::Check,
            Clause::While(_) | Clause::Makes(_) | Clause::Takes(_) | Clause::Needs(_) | Clause::Access(_),
        )
        | (Sort::Remedy, Clause::While(_) | Clause::Takes(_) | Clause::Costs(_) | Clause::Within(..)) => {
            Some(0)
        }
        (Sort::Check, Clause::Shows(_) | Clause::Reads(_))
        | (
            Sort::Remedy,
            Clause::Fixes(_)
            | Clause::Mends(_)
            | Clause::FindsOut
            | Clause::OnSite
            | Clause::SetsRight(_)
            | Clause::Renews(_)
            | Clause::Along(_)
            | Clause::Spares(_),
        ) => Some(1),
        _ => None,
    }
}
