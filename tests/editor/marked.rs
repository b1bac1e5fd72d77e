//! Rules with the cursor standing in them, written as `‸`.

use crate::support::rules;
use pinboss::editor::{Cursor, Rules};
use pinboss::source::Span;

/// A sound set of two files; the labels hold signs of two, three and four bytes
pub const PARTS: &str = r#"
scale
    always 98%   often 60%   seldom 8%
kind upkeep: "Wartung – versäumt" counts against owner
state cleaned: "scraped and dry"
part idler, each side: "Leitrad 𝄞"
part roller, each side, numbered 5 to 9: "bottom roller"
fact chain_type: "kind of chain"
    choices sealed 80%, dry 20%
    tell    "Look for an oil plug."  takes 2 min
fact age, each side: "age"
    choices early 60%, late 40% where chain_type is dry
    choices late 70%, early 30%
cause off_line, each side: "Leitrad läuft schräg"
    kind    upkeep
    chance  5% of sides where chain_type is dry
    forms   inboard, outboard
    basis   common practice
    text    "It stands off the middle."
cause seal_failed, each roller: "seal failed"
    kind    upkeep
    chance  0.3% of rollers
    basis   estimate
cause slope: "long work across a slope"
    kind    upkeep
    chance  seldom of machines, toward one side
    basis   "A book, page 3"
"#;

pub const SIGNS: &str = r#"
condition toe, each side: "frame points in or out"
    grades  toed_in < straight > toed_out
    with    off_line inboard: often toed_in
    with    slope toward this side: seldom toed_out
    without 1% toed_in, 1% toed_out
    basis   common practice
symptom edge, each side, of idler: "side wear – „Kante“"  grades none, slight, heavy
    with    off_line: often slight   # with off_line
            "off_line rubs."
    with    toe toed_in: always heavy
    without 2% slight where age is late
    basis   common practice
symptom streak, each roller: "oil run down"
    with    seal_failed: always
    without 1% where roller is first and rollers over 6
    basis   common practice
symptom wet, each side: "wet side"
    with    seal_failed on any roller: often
    without 1%
    basis   common practice
measure gap, each roller: "gap"
    unit mm   range 0 to 60   error 1
symptom close, each roller: "close"
    grades  ample, small
    from    mean of worn gap across rollers: ample, small over 80%
    without 2% small
    basis   common practice
dimensions medium: "invented"
    gap 20 mm 0%, 4 mm 100%
life medium: "invented"
    gap 5000 h
check look, each side: "Look"
    shows   edge, streak, wet
    while   cleaned
    takes   2 min
    caution "Engine off."
check scrape: "Scrape"
    makes   cleaned
    takes   20 min
remedy shim, each side: "Shim"
    fixes   off_line, toe
    renews  gap from 85%
    takes   3 h
    caution "Engine off."
    basis   estimate
"#;

/// Rules as far as they can be read
pub fn rules(texts: &[&str]) -> Rules {
    let names = ["parts.rules", "signs.rules", "third.rules"];
    let rules::Rules { sources, files, model, problems } =
        rules::read(names.into_iter().zip(texts.iter().copied()));
    let model = (!problems.any_error()).then_some(model);
    Rules { sources, files, model, problems }
}

/// The sound rules, with the cursor at the `‸` of a piece of them
pub fn sound(marked: &str) -> (Rules, Cursor) {
    let rules = rules(&[PARTS, SIGNS]);
    let errors = rules.problems.counts().0;
    assert_eq!(errors, 0, "{:?}", rules.problems);
    let cursor = cursor(&rules, marked);
    (rules, cursor)
}

/// The place of the `‸` of a piece of text that stands in the rules
pub fn cursor(rules: &Rules, marked: &str) -> Cursor {
    let (before, after) = marked.split_once('‸').expect("a piece of text with the sign of the cursor");
    let piece = format!("{before}{after}");
    let found = rules.sources.ids().find_map(|id| Some((id, rules.sources.text(id).find(&piece)?)));
    let (source, start) = found.unwrap_or_else(|| panic!("`{piece}` does not stand in the rules"));
    Cursor { source, at: start + before.len() }
}

/// Rules of one file more, in which the cursor stands
pub fn third(marked: &str) -> (Rules, Cursor) {
    let at = marked.find('‸').expect("the sign of the cursor");
    let rules = rules(&[PARTS, SIGNS, &marked.replace('‸', "")]);
    let source = rules.sources.ids().last().unwrap();
    (rules, Cursor { source, at })
}

/// A place as `file:line:column word`
pub fn shown(rules: &Rules, at: Span) -> String {
    let place = rules.sources.place(at);
    format!("{}:{}:{} {}", place.file, place.line, place.column, rules.sources.slice(at))
}
