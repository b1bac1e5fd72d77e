//! Lists of things that can be offered.

use super::{Offer, What};
use crate::editor::Rules;
use crate::editor::keyword::{self, Keyword, Stands};
use crate::editor::mention::{is_numbered, rows};
use crate::editor::uses::scale;
use crate::editor::words::{label, words};
use crate::syntax::tree::{Declaration, Sort};

/// Words of the language, with what they say
pub(super) fn keywords(spelled: &[&str]) -> Vec<Offer> {
    let offer = |spelled: &&str| {
        let first = spelled.split_once(' ').map_or(*spelled, |(first, _)| first);
        let known = keyword::keywords().filter(|keyword| keyword.word == first);
        let said = known.min_by_key(|keyword| matches!(keyword.stands, Stands::Head(_)));
        Offer {
            word: (*spelled).to_owned(),
            what: What::Keyword,
            detail: said.map_or_else(String::new, |keyword| first_sentence(keyword.says)),
        }
    };
    spelled.iter().map(offer).collect()
}

fn first_sentence(says: &str) -> String {
    let first = says.split_inclusive(". ").next().unwrap_or(says); // else: it says nothing
    first.trim_end().to_owned()
}

/// The keywords of declarations
pub(super) fn sorts() -> Vec<Offer> {
    let offer = |keyword: Keyword| Offer {
        word: keyword.word.to_owned(),
        what: What::Keyword,
        detail: first_sentence(keyword.says),
    };
    keyword::heads().map(offer).collect()
}

/// Fixed words that say of themselves what they mean
pub(super) fn fixed(words: &[&str]) -> Vec<Offer> {
    words
        .iter()
        .map(|word| Offer { word: (*word).to_owned(), what: What::Fixed, detail: String::new() })
        .collect()
}

/// Names of blocks of some sorts, with their labels
pub(super) fn names(rules: &Rules, sorts: &[Sort]) -> Vec<Offer> {
    let blocks = rules.declarations().filter(|block| sorts.contains(&block.sort.value));
    blocks.map(name).collect()
}

fn name(block: &Declaration) -> Offer {
    Offer {
        word: block.name.value.clone(),
        what: What::Name(block.sort.value),
        detail: label(block).to_owned(),
    }
}

/// Names of numbered parts
pub(super) fn numbered_parts(rules: &Rules) -> Vec<Offer> {
    rules.declarations().filter(|block| is_numbered(block)).map(name).collect()
}

/// The plurals of numbered parts
pub(super) fn plurals(rules: &Rules) -> Vec<Offer> {
    let rows = rows(&rules.files);
    let offer = |(plural, part): (&String, &&str)| Offer {
        word: plural.clone(),
        what: What::Name(Sort::Part),
        detail: format!("all of `{part}` along a side"),
    };
    rows.iter().map(offer).collect()
}

/// The words of the scale, with their per cent
pub(super) fn shares(rules: &Rules) -> Vec<Offer> {
    let offer = |(word, percent): (&str, f64)| Offer {
        word: word.to_owned(),
        what: What::Share,
        detail: format!("{percent} %"),
    };
    scale(rules).into_iter().map(offer).collect()
}

/// The grades, forms or choices of a block; of grades the normal one only where asked for
pub(super) fn grades(block: &Declaration, with_normal: bool) -> Vec<Offer> {
    let Some(words) = words(block) else { return Vec::new() };
    let detail = format!("{} of `{}`", words.noun, block.name.value);
    let offer = |word: &str| Offer { word: word.to_owned(), what: What::Grade, detail: detail.clone() };
    if with_normal {
        words.all.iter().map(|word| offer(word)).collect()
    } else {
        words.abnormal().map(offer).collect()
    }
}
