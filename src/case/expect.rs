//! What a case expects of the rules: causes first, over or under a chance, checks that come early, findings left unexplained.

use crate::case::fields::{Notes, quoted};
use crate::case::inspection::{Expect, GivenWeight, NameAt};
use crate::case::names;
use crate::case::tree::{Entry, Value};
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::Spanned;
use crate::units::split_number;
use std::collections::BTreeMap;

/// What stands under `expect`; nothing is expected twice, or both over and under what it cannot be
pub(super) fn expect(notes: &mut Notes<'_>, entry: &Entry) -> Expect {
    let mut expect = Expect::default();
    for field in notes.map(entry) {
        match field.key.value.as_str() {
            "first" => expect.first = one_or_several(notes, field),
            "over" => expect.over = each(notes, field, Notes::share),
            "under" => expect.under = each(notes, field, Notes::share),
            "next" => {
                expect.next = each(notes, field, |notes, field| notes.count(&field.value, &field.key));
            }
            "unexplained" => expect.unexplained = one_or_several(notes, field),
            "held" => expect.held = one_or_several(notes, field),
            "weight" => expect.weight = weights(notes, field),
            _ => notes.say_unknown_key(&field.key, "expect", &super::keys::EXPECT),
        }
    }
    for list in [&expect.first, &expect.unexplained, &expect.held] {
        twice(notes, list.iter());
    }
    twice(notes, expect.over.iter().map(|(name, _)| name));
    twice(notes, expect.under.iter().map(|(name, _)| name));
    twice(notes, expect.next.iter().map(|(name, _)| name));
    at_odds(notes, &expect);
    expect
}

/// One name, or a list of them
fn one_or_several(notes: &mut Notes<'_>, entry: &Entry) -> Vec<NameAt> {
    if matches!(entry.value.value, Value::Text(_)) {
        let text = notes.text(entry);
        return text.and_then(|text| names::name(notes, &text)).into_iter().collect();
    }
    names::names(notes, entry)
}

/// Weights, one or a list of them
fn weights(notes: &mut Notes<'_>, entry: &Entry) -> Vec<GivenWeight> {
    let texts = match entry.value.value {
        Value::Text(_) => notes.text(entry).into_iter().collect(),
        _ => notes.texts(entry),
    };
    let mut all: Vec<GivenWeight> = Vec::new();
    for text in &texts {
        let Some(expected) = weight(notes, text) else { continue };
        let same =
            |own: &&GivenWeight| (&own.party.value, own.over) == (&expected.party.value, expected.over);
        match all.iter().find(same).map(|own| own.at) {
            Some(first) => {
                let what = format!("a weight for `{}` is expected", quoted(&expected.party.value));
                notes.say_twice(Code::CaseTwice, text.at, first, &what);
            }
            None => all.push(expected),
        }
    }
    all
}

/// `owner over 10`: a party, a word, and a ratio over 0
fn weight(notes: &mut Notes<'_>, text: &Spanned<String>) -> Option<GivenWeight> {
    let words: Vec<&str> = text.value.split_whitespace().collect();
    let parts = match words.as_slice() {
        [party, word @ ("over" | "under"), figure] => match split_number(figure) {
            Ok((ratio, "")) if ratio > 0.0 => Some((*party, *word == "over", ratio)),
            _ => None,
        },
        _ => None,
    };
    let Some((party, over, ratio)) = parts else {
        let message = format!("`{}` is no weight", quoted(&text.value));
        let help = "write the party, `over` or `under`, and a likelihood ratio over 0, as in `owner over 10`";
        notes.say(Problem::new(Code::CaseValue, text.at, message).help(help));
        return None;
    };
    let party = Spanned::new(party.to_owned(), notes.piece(text, 0, party.len()));
    Some(GivenWeight { party, over, ratio: Spanned::new(ratio, text.at), at: text.at })
}

/// Names as keys, each with a figure
fn each<'t, T>(
    notes: &mut Notes<'t>,
    entry: &Entry,
    figure: impl Fn(&mut Notes<'t>, &Entry) -> Option<T>,
) -> Vec<(NameAt, T)> {
    let fields = notes.map(entry).iter();
    let mut all = Vec::new();
    for field in fields {
        let name = names::name(notes, &field.key);
        if let (Some(figure), Some(name)) = (figure(notes, field), name) {
            all.push((name, figure));
        }
    }
    all
}

/// Notes names that stand twice in one list
fn twice<'e>(notes: &mut Notes<'_>, list: impl Iterator<Item = &'e NameAt>) {
    let mut places = BTreeMap::new();
    for name in list {
        match places.get(&key(name)) {
            Some(&first) => {
                let what = format!("`{}` is named", quoted(&name.name.value));
                notes.say_twice(Code::CaseTwice, name.at, first, &what);
            }
            None => {
                places.insert(key(name), name.at);
            }
        }
    }
}

/// Notes what would have to lie over one chance and under a smaller one
fn at_odds(notes: &mut Notes<'_>, expect: &Expect) {
    for (name, over) in &expect.over {
        let under = expect.under.iter().find(|(other, _)| key(other) == key(name));
        if let Some((_, under)) = under.filter(|(_, under)| under.value <= over.value) {
            let message = format!("`{}` cannot lie both over and under these", quoted(&name.name.value));
            notes.say(
                Problem::new(Code::CaseValue, over.at, message)
                    .also(under.at, "under this")
                    .help("let `over` name a smaller chance than `under`"),
            );
        }
    }
}

fn key(name: &NameAt) -> (String, Option<String>, String) {
    let spoken = |word: &Spanned<String>| word.value.clone();
    let place = name.place.as_ref().map_or_else(|| "machine".to_owned(), |place| place.value.to_string());
    (spoken(&name.name), name.grade.as_ref().map(spoken), place)
}
