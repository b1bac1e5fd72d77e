//! Every declared name with what it names, and the resolving of names.

use crate::model::{
    CauseId, Common, ConditionId, FactId, Hidden, KindId, MeasureId, PartId, RemedyId, StateId, SymptomId,
};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::language::has_rows;
use crate::syntax::tree::{Attribute, Declaration, File, Sort};
use std::collections::{BTreeMap, BTreeSet};

/// All declarations by sort, and all names
pub(super) struct Names<'a> {
    by_sort: BTreeMap<Sort, Vec<&'a Declaration>>,
    by_name: BTreeMap<&'a str, (Sort, usize, Span)>,
    unread: BTreeSet<&'a str>,
}

/// Words that stand for places in a case file, and would be taken for them there
const RESERVED: [&str; 3] = ["machine", "left", "right"];

/// Gathers the names of all files; a name declared twice counts where it stands first
pub(super) fn collect<'a>(files: &'a [File], problems: &mut Problems) -> Names<'a> {
    let mut names = Names {
        by_sort: BTreeMap::new(),
        by_name: BTreeMap::new(),
        unread: files.iter().flat_map(|file| &file.unread).map(String::as_str).collect(),
    };
    let mut tables: BTreeMap<(Sort, &str), Span> = BTreeMap::new();
    for declaration in files.iter().flat_map(|file| &file.declarations) {
        let sort = declaration.sort.value;
        let name = declaration.name.value.as_str();
        let at = declaration.name.at;
        let list = names.by_sort.entry(sort).or_default();
        let is_table = has_rows(sort);
        let before = if is_table {
            tables.insert((sort, name), at)
        } else {
            let first = names.by_name.entry(name).or_insert((sort, list.len(), at)).2;
            (first != at).then_some(first)
        };
        if let Some(first) = before {
            problems.push(twice(declaration, first));
        }
        // A block declared twice is looked through all the same; the rows of a table declared twice would mix.
        if before.is_none() || !is_table {
            list.push(declaration);
        }
    }
    names.reserved(problems);
    names
}

/// True when a part is one of several along a side
pub(super) fn is_numbered(part: &Declaration) -> bool {
    part.attributes.iter().any(|attribute| matches!(attribute.value, Attribute::Numbered(_)))
}

fn twice(declaration: &Declaration, first: Span) -> Problem {
    let name = &declaration.name.value;
    let help = if has_rows(declaration.sort.value) {
        "put the rows into one block"
    } else {
        "give one of the two another name"
    };
    Problem::new(Code::DuplicateName, declaration.name.at, format!("`{name}` is declared twice"))
        .also(first, "first declared here")
        .help(help)
}

impl<'a> Names<'a> {
    /// Says which names would be taken for something else
    fn reserved(&self, problems: &mut Problems) {
        for (&name, &(_, _, at)) in self.by_name.iter().filter(|(name, _)| RESERVED.contains(name)) {
            problems.push(
                Problem::new(Code::ReservedName, at, format!("`{name}` is a place in every case file"))
                    .help("choose another name"),
            );
        }
        for (_, part) in self.of(Sort::Part).filter(|(_, part)| is_numbered(part)) {
            let declared = part.name.at;
            let part = &part.name.value;
            if let Some(&(_, _, at)) = self.by_name.get(format!("{part}s").as_str()) {
                problems.push(
                    Problem::new(
                        Code::ReservedName,
                        at,
                        format!("`{part}s` says how many of `{part}` a side has"),
                    )
                    .also(declared, "the numbered part")
                    .help("choose another name"),
                );
            }
        }
    }

    /// Declarations of one sort with their numbers
    pub(super) fn of(&self, sort: Sort) -> impl Iterator<Item = (usize, &'a Declaration)> + '_ {
        let list = self.by_sort.get(&sort).map_or(&[][..], Vec::as_slice);
        list.iter().copied().enumerate()
    }

    /// A declaration by its sort and number
    pub(super) fn declaration(&self, sort: Sort, number: usize) -> Option<&'a Declaration> {
        self.by_sort.get(&sort)?.get(number).copied()
    }

    /// The declaration of a block
    pub(super) fn block(&self, block: &Common) -> Option<&'a Declaration> {
        let &(sort, number, at) = self.by_name.get(block.name.as_str())?;
        self.declaration(sort, number).filter(|_| at == block.at)
    }

    /// Where a name is declared
    pub(super) fn declared(&self, name: &str) -> Option<Span> {
        self.by_name.get(name).map(|&(_, _, at)| at)
    }

    /// The measure of a name, without a word when there is none
    pub(super) fn measure_of(&self, name: &str) -> Option<MeasureId> {
        match self.by_name.get(name) {
            Some(&(Sort::Measure, number, _)) => Some(MeasureId(number)),
            _ => None,
        }
    }

    /// True when a head line seems to declare a name, and does not even say what
    pub(super) fn is_unread(&self, name: &str) -> bool {
        self.unread.contains(name)
    }

    /// True when a noun is the plural of such a name
    pub(super) fn is_unread_noun(&self, noun: &str) -> bool {
        noun.strip_suffix('s').is_some_and(|part| self.is_unread(part))
    }

    /// What a name names, if anything
    pub(super) fn sort_of(&self, name: &str) -> Option<Sort> {
        self.by_name.get(name).map(|&(sort, _, _)| sort)
    }

    /// Number of a name among one of the sorts asked for; otherwise says what is wrong
    fn find(&self, name: &Spanned<String>, sorts: &[Sort], problems: &mut Problems) -> Option<(Sort, usize)> {
        let wanted: Vec<&str> = sorts.iter().map(|sort| sort.word()).collect();
        let wanted = wanted.join(" or ");
        match self.by_name.get(name.value.as_str()) {
            Some(&(sort, number, _)) if sorts.contains(&sort) => Some((sort, number)),
            Some(&(sort, _, at)) => {
                let message = format!("`{}` is a {}, where a {wanted} belongs", name.value, sort.word());
                let help = self.offer(&name.value, sorts, &format!("name a {wanted} here"), problems);
                let problem = Problem::new(Code::WrongSort, name.at, message);
                problems.push(problem.also(at, "declared here").help(help));
                None
            }
            None if self.unread.contains(name.value.as_str()) => None,
            None => {
                let message = format!("no {wanted} is called `{}`", name.value);
                let otherwise = format!("declare it, or name a {wanted} that is declared");
                let help = self.offer(&name.value, sorts, &otherwise, problems);
                problems.push(Problem::new(Code::UnknownName, name.at, message).help(help));
                None
            }
        }
    }

    /// The nearest name of these sorts; none is looked for once problems are only counted
    fn offer(&self, name: &str, sorts: &[Sort], otherwise: &str, problems: &Problems) -> String {
        if problems.is_full() {
            return otherwise.to_owned();
        }
        let known =
            self.by_name.iter().filter(|(_, (sort, _, _))| sorts.contains(sort)).map(|(&known, _)| known);
        did_you_mean(name, known, otherwise)
    }

    /// The cause or condition of a name
    pub(super) fn hidden(&self, name: &Spanned<String>, problems: &mut Problems) -> Option<Hidden> {
        let (sort, number) = self.find(name, &[Sort::Cause, Sort::Condition], problems)?;
        Some(match sort {
            Sort::Cause => Hidden::Cause(CauseId(number)),
            _ => Hidden::Condition(ConditionId(number)),
        })
    }

    /// Every name that facts and counts can be tested by
    pub(super) fn testable(&self) -> impl Iterator<Item = &'a str> + '_ {
        self.of(Sort::Fact).chain(self.of(Sort::Part)).map(|(_, declaration)| declaration.name.value.as_str())
    }
}

macro_rules! finders {
    ($( $(#[$doc:meta])* $finder:ident $sort:ident $id:ident; )*) => {
        impl Names<'_> {
            $(
                $(#[$doc])*
                pub(super) fn $finder(&self, name: &Spanned<String>, problems: &mut Problems) -> Option<$id> {
                    self.find(name, &[Sort::$sort], problems).map(|(_, number)| $id(number))
                }
            )*
        }
    };
}

finders! {
    /// The kind of a name
    kind Kind KindId;
    /// The state of a name
    state State StateId;
    /// The part of a name
    part Part PartId;
    /// The fact of a name
    fact Fact FactId;
    /// The symptom of a name
    symptom Symptom SymptomId;
    /// The measure of a name
    measure Measure MeasureId;
    /// The remedy of a name
    remedy Remedy RemedyId;
}
