//! What a document says in short.

use super::assess::{ratio_shown, sign};
use super::causes::title;
use crate::report::extent::IN_SHORT_FROM;
use crate::report::prose::Prose;
use crate::report::record::assess::{PartyOpinion, Report as Assessment};
use crate::report::record::document::Document;
use crate::report::record::evidence;
use crate::report::words::{at, capital, either, plain, ratio_in_words};

/// What is asked and said of each party, then the likely causes, the most worn part and the first thing to look at
pub fn in_short(document: &Document) -> Prose {
    let mut prose = Prose::new();
    for line in document.assessment.iter().flat_map(asked) {
        prose.say(0, &line);
    }
    for line in lines(document) {
        prose.item(0, &line);
    }
    prose
}

/// What is asked and what is said of each party, a line each
fn asked(assessment: &Assessment) -> Vec<String> {
    let parties = assessment.against.iter().map(party);
    let nobody = nothing_against(assessment);
    std::iter::once(question(assessment)).chain(parties).chain(nobody).collect()
}

fn question(assessment: &Assessment) -> String {
    let damage: Vec<String> = assessment.in_question.iter().map(sign).collect();
    format!("In question: {}.", damage.join("; "))
}

/// `The owner: likelihood ratio 52 (14 to 130), moderate support for …`
fn party(own: &PartyOpinion) -> String {
    let weight = &own.weight;
    let who = capital(&format!("the {}", plain(&own.party)));
    let Some(ratio) = weight.ratio else {
        return format!("{who}: too many signs are entangled for an exact likelihood ratio.");
    };
    let ends = weight.range.map(|range| range.map(ratio_in_words)).filter(|[low, high]| low != high);
    let range = ends.map_or_else(String::new, |[low, high]| format!(" ({low} to {high})"));
    format!("{who}: likelihood ratio {}{range}, {}.", ratio_shown(weight, ratio), supports(own))
}

fn supports(own: &PartyOpinion) -> String {
    let (weight, party) = (&own.weight, plain(&own.party));
    let least = if weight.at_least { "at least " } else { "" };
    match (weight.supports, weight.word) {
        (Some("first"), Some(word)) => {
            format!("{least}{word} for a cause that counts against the {party} rather than none")
        }
        (Some("second"), Some(word)) => {
            format!("{least}{word} for no cause that counts against the {party} rather than one")
        }
        _ => "no support either way".to_owned(),
    }
}

fn nothing_against(assessment: &Assessment) -> Option<String> {
    let parties: Vec<String> = assessment.nothing_against.iter().map(|party| plain(party)).collect();
    let words = "Nothing that could have brought it about counts against the";
    (!parties.is_empty()).then(|| format!("{words} {}.", either(&parties)))
}

/// The likely causes, the most worn part and the first thing to look at, a line each
fn lines(document: &Document) -> Vec<String> {
    let report = &document.diagnosis;
    let likely = report.shown_causes().filter(|cause| cause.chance.lower >= IN_SHORT_FROM);
    // Beside a ratio, which is free of them, it must be said where a probability starts from.
    let start = if document.assessment.is_some() { ", from the rules' own starting chances" } else { "" };
    let mut lines: Vec<String> =
        likely.map(|cause| format!("{}: {}{start}.", title(cause), cause.chance.in_words())).collect();
    if lines.is_empty() {
        lines.push("No cause is more than a possibility on what was seen.".to_owned());
    }
    let worst = report.wear.iter().max_by(|a, b| a.percent.total_cmp(&b.percent));
    lines.extend(worst.map(|wear| {
        format!("Most worn of what was read: {}{}, {:.0} %.", wear.label, at(&wear.place), wear.percent)
    }));
    lines.extend(report.next_checks.first().map(|check| {
        if evidence::deciding(&report.next_checks) > 0 {
            format!("First to look at: {}{}.", check.label, at(&check.place))
        } else {
            "Enough has been seen to go by: no check that is left is likely to bring up a cause, or to clear one."
                .to_owned()
        }
    }));
    lines
}
