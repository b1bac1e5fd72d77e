//! An assessment as an assessor reads it.

use super::robust::{self, ONE_STEP};
use super::{SIDES, causes, checks, head, place};
use crate::assess::expected::Worn;
use crate::invariant::Hold;
use crate::report::draw::opinion;
use crate::report::extent::{
    EXCESS_FROM, MOST_FIGURES, MOST_NAMED, MOST_OVERTURNS, MOST_RATIOS, MOST_SETTLING, MOST_USUAL,
    OTHERS_FROM,
};
use crate::report::prose::Prose;
use crate::report::record::assess::from_assessment::cause_in_words;
use crate::report::record::assess::{
    Carried, HangsOn, Overturn, PartyOpinion, Ratio, Report, Settling, Sign, Stands, Then, Weight,
};
use crate::report::record::evidence::in_words;
use crate::report::words::{
    at, capital, counted_roughly, either, minutes, one_in, percent, plain, ratio_in_words, several, times,
    whole,
};

/// What a step of an assessment speaks for or against
const STATEMENT: &str = "statement 1";

/// The whole assessment
pub fn assess(report: &Report) -> Prose {
    let mut prose = Prose::new();
    head(&mut prose, &report.machine, &report.case, report.hours);
    prose.say(0, SIDES);
    everything(&mut prose, report);
    prose
}

/// All of it but whose it is
pub fn everything(prose: &mut Prose, report: &Report) {
    question(prose, report);
    for own in &report.against {
        against(prose, own);
    }
    expected(prose, report);
    how_to_read(prose, report);
    prose.heading("What this is not");
    prose.say(2, report.this_is_not);
}

fn how_to_read(prose: &mut Prose, report: &Report) {
    prose.heading("How to read it");
    prose.say(
        2,
        &format!(
            "The words for a ratio are those of {}; they go by the end of the range that is nearer 1. The range is the \
             middle 90 % of the ratios by rules whose strengths are drawn anew around their values. Which opinion to \
             start from is not for this program to say.",
            report.scale
        ),
    );
    prose.say(
        2,
        "The ratio bears on whether such a cause was there, \"but for\" on whether it did this damage, all else being as \
         it was, by the findings and the rules' own chances of every cause. Where two causes act on one sign, the \
         other is taken to act the same without the first, and no stronger.",
    );
    prose.say(
        2,
        "The chances of causes that the diagnosis tells are another thing: they start from the rules' own chances before \
         anything was found and are held to no cap. The ratio starts from no chance at all, speaks of a whole list of \
         causes, and is told no further than 10,000 while figures that nobody has published carry it. So the one cannot \
         be had from the other.",
    );
}

fn question(prose: &mut Prose, report: &Report) {
    prose.heading("The question");
    for damage in &report.in_question {
        let found = match (&damage.grade, damage.normal) {
            (None, _) => " (not looked at, or hidden)",
            (_, true) => " (the normal grade: there is no damage here)",
            _ => "",
        };
        prose.item(2, &format!("{}{found}", capital(&sign(damage))));
    }
    prose.say(
        2,
        "For each party two statements are held against each other: that at least one cause was present which counts \
         against that party and could have brought this about, or that none was, which leaves fair wear and what \
         counts against nobody or somebody else.",
    );
    if !report.nothing_against.is_empty() {
        let parties: Vec<String> =
            report.nothing_against.iter().map(|party| format!("the {}", plain(party))).collect();
        let words = "By these rules nothing that could have brought it about counts against";
        prose.say(2, &format!("{words} {}.", either(&parties)));
    }
}

fn against(prose: &mut Prose, own: &PartyOpinion) {
    prose.heading(&format!("The {}", plain(&own.party)));
    prose.named(2, "Statement 1", "At least one of these causes was present.");
    prose.named(2, "Statement 2", "None of these causes was present.");
    for cause in &own.causes {
        prose.item(5, &cause_in_words(cause));
    }
    prose.gap();
    ratio(prose, own);
    if own.weight.supports != Some("neither") {
        curve(prose, &own.weight);
        carried(prose, own);
    }
    but_for(prose, own);
    overturned(prose, own);
    hangs(prose, own);
    settled(prose, own);
}

fn ratio(prose: &mut Prose, own: &PartyOpinion) {
    let weight = &own.weight;
    let Some(ratio) = weight.ratio else {
        entangled(prose, weight);
        return;
    };
    let most = if weight.stands(ratio) == Stands::There { "" } else { " or more" };
    let figure = if ratio >= 1.0 {
        format!("The findings are {}{most} times as probable if 1 is true as if 2 is", times(ratio))
    } else {
        format!("The findings are {}{most} times as probable if 2 is true as if 1 is", times(1.0 / ratio))
    };
    let range = weight.range.map_or_else(String::new, |range| format!(" {}", range_in_words(weight, range)));
    prose.say(2, &format!("{figure} (likelihood ratio {}).{range}", ratio_shown(weight, ratio)));
    prose.say(2, &supported(weight));
    if weight.capped {
        prose.say(
            2,
            &format!(
                "No ratio past 10,000 is told while it hangs on figures that nobody has published; here {}.",
                some_of(&weight.estimates)
            ),
        );
    }
}

fn range_in_words(weight: &Weight, [low, high]: [f64; 2]) -> String {
    let draws = format!("By {} draws of the strengths of the rules", whole(weight.draws as f64));
    match (weight.stands(low), weight.stands(high)) {
        (Stands::OrMore, _) => format!("{draws} it is nowhere under {}.", ratio_in_words(low)),
        (_, Stands::OrLess) => format!("{draws} it is nowhere over {}.", ratio_in_words(high)),
        _ => format!("{draws} it goes from {} to {}.", ratio_shown(weight, low), ratio_shown(weight, high)),
    }
}

/// A ratio of a weight, open where no more is told
pub(super) fn ratio_shown(weight: &Weight, ratio: f64) -> String {
    format!("{}{}", ratio_in_words(ratio), weight.stands(ratio).open())
}

/// What the whole range supports, by the scale's word
fn supported(weight: &Weight) -> String {
    let (one, other) = match weight.supports {
        Some("first") => (1, 2),
        Some("second") => (2, 1),
        Some(_) => return "This supports neither statement rather than the other.".to_owned(),
        None if weight.draws == 0 => {
            return "No word of the scale goes with it: that takes its range, by draws of the strengths of the rules."
                .to_owned();
        }
        None => {
            return "No word of the scale goes with it: that takes its range, and too few draws of the strengths of \
                    the rules could be weighed."
                .to_owned();
        }
    };
    let word = weight.word.hold("what supports a statement has a word");
    match weight.at_least {
        true => format!("This is at least {word} for statement {one} rather than {other}; more is not told."),
        false => format!("This is {word} for statement {one} rather than {other}."),
    }
}

/// The first names of a list in words, and how many more there are
fn some_of(names: &[String]) -> String {
    let first: Vec<String> = names.iter().take(MOST_NAMED).map(|name| plain(name)).collect();
    let more = names.len().saturating_sub(MOST_NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("those of {}{more}", first.join(", "))
}

/// A ratio that would come out, told no further than the ratio itself may be
fn would_be(ratio: f64, capped: bool) -> String {
    match capped {
        true if ratio > 1.0 => format!("over {}", ratio_in_words(ratio)),
        true => format!("under {}", ratio_in_words(ratio)),
        false => ratio_in_words(ratio),
    }
}

fn entangled(prose: &mut Prose, weight: &Weight) {
    let words = "So many signs share so many causes that no exact ratio can be had.";
    let text = match weight.between {
        Some([Some(low), Some(high)]) => {
            format!(
                "{words} It is certain to lie between {} and {}.",
                ratio_in_words(low),
                ratio_in_words(high)
            )
        }
        Some([Some(low), None]) => {
            format!("{words} It is certain to be no less than {}.", ratio_in_words(low))
        }
        Some([None, Some(high)]) => {
            format!("{words} It is certain to be no more than {}.", ratio_in_words(high))
        }
        _ => format!("{words} Nothing is said."),
    };
    prose.say(2, &text);
    prose.say(2, "Facts told and checks noted under `looked` untangle it most; more time narrows bounds: `--budget 10`.");
}

fn curve(prose: &mut Prose, weight: &Weight) {
    if weight.curve.is_empty() {
        return;
    }
    prose.gap();
    prose.say(2, "What that does to an opinion on statement 1 held before the findings:");
    for opinion in opinion::shown(weight) {
        prose.item(4, &opinion::in_words(opinion, weight));
    }
}

fn carried(prose: &mut Prose, own: &PartyOpinion) {
    if own.carried_by.is_empty() {
        return;
    }
    prose.gap();
    let sides = match (own.carried_by.iter().any(|step| step.decibans >= 0.0), own.others >= 0.0) {
        (false, false) => "speaks against statement 1",
        _ => "speaks for statement 1 and against it",
    };
    let past = own.weight.ratio.is_some_and(|ratio| own.weight.stands(ratio) != Stands::There);
    let words = match past {
        true => "in steps (ten decibans are a factor of ten)",
        false => "in steps that add up to the ratio (ten decibans are a factor of ten)",
    };
    prose.say(2, &format!("What {sides}, {words}:"));
    let (leading, rest) = own.carried_by.split_at(own.leading.min(own.carried_by.len()));
    for step in leading {
        prose.step(2, step.decibans >= 0.0, STATEMENT, &step_in_words(step));
    }
    let count: usize = rest.iter().map(|step| step.together_with.len() + 1).sum();
    if count > 0 && own.others.abs() >= OTHERS_FROM {
        let many = several(count, "smaller finding", "smaller findings together");
        let words = format!("{:.1} decibans: {many}.", own.others.abs());
        prose.step(2, own.others >= 0.0, STATEMENT, &words);
    }
    if let (true, Some(sum), Some(most)) = (past, own.weight.steps_come_to, own.weight.decibans) {
        let because = own.weight.capped_because.hold("what is capped says why");
        prose.say(
            2,
            &format!(
                "The steps come to {sum:.1} decibans; no more than {most:.0} are told, because {because}."
            ),
        );
    }
}

fn step_in_words(step: &Carried) -> String {
    let findings = causes::together(&step.finding, &step.together_with);
    let why = match (step.direct, step.decibans >= 0.0) {
        (true, true) if step.because.is_empty() => String::new(),
        (true, true) => format!(" {}", step.because),
        (true, false) => " With one of these causes it would mostly have shown otherwise.".to_owned(),
        (false, speaks_for) => {
            let most = |rival| format!("{}: {}", causes::OTHERS, cause_in_words(rival));
            let most = step.rival.as_ref().map_or_else(String::new, most);
            causes::through_rivals(speaks_for, &most)
        }
    };
    format!("{:.1} decibans: {findings}.{why}", step.decibans.abs())
}

fn but_for(prose: &mut Prose, own: &PartyOpinion) {
    prose.gap();
    prose.say(2, "But for these causes:");
    for but_for in &own.but_for {
        let answer = match (but_for.chance, but_for.other) {
            (None, _) => "too many signs are entangled to tell".to_owned(),
            (Some(_), _) if but_for.sign.normal => "there is nothing that could have been less".to_owned(),
            (Some(chance), Some(other)) if other >= 0.005 => {
                format!(
                    "{} that it would have been less, {} that it would have been of another sort",
                    percent(chance),
                    percent(other)
                )
            }
            (Some(chance), _) => format!("{} that it would have been less", percent(chance)),
        };
        let supposed = if but_for.if_there { "if it is damaged, " } else { "" };
        prose.item(2, &format!("{}: {supposed}{answer}.", capital(&sign(&but_for.sign))));
    }
}

fn overturned(prose: &mut Prose, own: &PartyOpinion) {
    let Some(overturns) = &own.overturned_by else { return };
    prose.gap();
    if overturns.by.is_empty() && overturns.nearest.is_none() {
        let words = match own.weight.supports {
            Some("neither") => "There is nothing to overturn, for neither statement is supported.",
            _ => "There is nothing to overturn.",
        };
        prose.say(2, words);
        return;
    }
    let scaled = own.weight.word.is_some();
    let tried = if overturns.other_grades { "left out, or at another grade" } else { "left out" };
    if overturns.by.is_empty() {
        let word = if scaled { " or to a weaker word of the scale" } else { "" };
        prose.say(2, &format!("No single finding, {tried}, would take the ratio past 1{word}."));
        if let Some(nearest) = &overturns.nearest {
            prose.item(2, &format!("Nearest to it: {}.", overturn(nearest)));
        }
        return;
    }
    prose.say(2, &format!("What would overturn it, if that one finding were wrong ({tried}):"));
    for one in overturns.by.iter().take(MOST_OVERTURNS) {
        let word = match (one.supports, one.word) {
            (None, _) | (_, None) => String::new(),
            (Some("first"), Some(word)) => format!(": {word} for statement 1"),
            (Some("second"), Some(word)) => format!(": {word} for statement 2"),
            (Some(_), Some(_)) => ": no support either way".to_owned(),
        };
        prose.item(2, &format!("{}{word}.", capital(&overturn(one))));
    }
    if overturns.by.len() > MOST_OVERTURNS {
        let more = several(overturns.by.len() - MOST_OVERTURNS, "more finding", "more findings");
        let then = if scaled { "lead to a weaker word of the scale" } else { "take the ratio past 1" };
        prose.say(4, &format!("At least {more} would {then}."));
    }
}

fn overturn(own: &Overturn) -> String {
    let taken = own
        .taken_as
        .as_ref()
        .map_or_else(|| "left out".to_owned(), |grade| format!("taken as {}", plain(grade)));
    let range = own.range.filter(|_| !own.capped).map_or_else(String::new, |[low, high]| {
        format!(" (from {} to {})", ratio_in_words(low), ratio_in_words(high))
    });
    format!("{}; {taken}, the ratio is {}{range}", in_words(&own.finding), would_be(own.ratio, own.capped))
}

/// The figures of the rules that the ratio hangs on; none of those that leave it where it is not told
fn hangs(prose: &mut Prose, own: &PartyOpinion) {
    let Some(hangs_on) = &own.hangs_on else { return };
    prose.gap();
    let bears = |one: &&HangsOn| !one.down.capped || !one.up.capped;
    let bearing: Vec<&HangsOn> = hangs_on.iter().filter(bears).take(MOST_FIGURES).collect();
    if bearing.is_empty() {
        let words = "No figure of the rules, moved alone";
        let kept =
            if own.weight.capped { "makes it less than 10,000 to one" } else { "changes the ratio much" };
        prose.say(2, &format!("{words} {ONE_STEP}, {kept}."));
        return;
    }
    prose.say(2, &format!("What in the rules it hangs on most, each figure moved alone {ONE_STEP}:"));
    for one in bearing {
        let at = |then: &Then| {
            format!("at {} the ratio is {}", percent(then.share), would_be(then.ratio, then.capped))
        };
        let turns = one.turns_at.map_or_else(String::new, |share| {
            format!(", and past {} it is on the other side of 1", percent(share))
        });
        prose.item(2, &robust::figure(&one.figure, &format!("{}, {}{turns}", at(&one.down), at(&one.up))));
    }
}

fn settled(prose: &mut Prose, own: &PartyOpinion) {
    prose.gap();
    match &own.settled_by {
        None => prose.say(
            2,
            &format!(
                "What to look at cannot be ranked in the time allowed. Give it more, for this party alone: \
                 `--party {} --budget 60`; or tell more facts of the machine first.",
                own.party
            ),
        ),
        Some(checks) if checks.is_empty() => {
            prose.say(2, "Nothing that is left to look at would tell more of it.");
        }
        Some(checks) => {
            prose.say(2, "What to look at that would settle it, cautions first:");
            let mut previous: Option<&Settling> = None;
            for (number, check) in checks.iter().take(MOST_SETTLING).enumerate() {
                prose.gap();
                let before = previous.filter(|before| before.check.id == check.check.id);
                settling(prose, number + 1, check, before);
                previous = Some(check);
            }
        }
    }
}

/// A check with what can come out; `before` is the same check at another place, when that stands just before
fn settling(prose: &mut Prose, number: usize, settling: &Settling, before: Option<&Settling>) {
    let check = &settling.check;
    let at = capital(&place(&check.place));
    let time = minutes(check.minutes);
    let title = match before {
        Some(before) => {
            prose.cautions_as_before(5, &check.cautions);
            format!("{at}The same as on the {} ({time})", plain(&before.check.place))
        }
        None => {
            checks::before(prose, 5, check);
            format!("{at}{} ({time})", check.label)
        }
    };
    prose.entry(5, number, &title);
    for ratio in settling.ratios.iter().take(MOST_RATIOS) {
        prose.say(5, &come_out(ratio));
    }
}

fn come_out(own: &Ratio) -> String {
    let shown = own
        .sign
        .as_ref()
        .map_or_else(|| "If all is normal".to_owned(), |own| format!("If it shows {}", sign(own)));
    format!("{shown} (chance {}), the ratio is {}.", percent(own.chance), would_be(own.ratio, own.capped))
}

fn expected(prose: &mut Prose, report: &Report) {
    prose.heading("What fair wear would give");
    if report.worn.is_empty() && report.usual.is_empty() {
        prose.say(
            2,
            "Nothing was read whose hours and life are known, and nothing was seen to hold against it.",
        );
    }
    for row in rows(&report.worn) {
        prose.item(2, &row);
    }
    let (asked, others): (Vec<_>, Vec<_>) = report.usual.iter().partition(|usual| usual.in_question);
    for usual in asked.into_iter().chain(others.into_iter().take(MOST_USUAL)) {
        let or_worse = if usual.or_worse { " or worse" } else { "" };
        prose.item(
            2,
            &format!(
                "{}{or_worse}: on {} such machines where nothing counts against anybody.",
                capital(&sign(&usual.sign)),
                counted_roughly(usual.chance)
            ),
        );
    }
}

/// What was read against what hours let expect, one row for all places of a measure of which the same is to be said
fn rows(worn: &[Worn]) -> Vec<String> {
    let mut rows: Vec<(String, Vec<String>, String)> = Vec::new();
    for own in worn {
        let expected =
            format!("after {} h on such ground about {:.0} % is usual", whole(own.hours), own.expected);
        let chance = format!("standard errors (chance alone about {})", one_in(own.by_chance));
        let comparison = match own.excess {
            excess if excess >= EXCESS_FROM => format!("{expected}: past that by {excess:.1} {chance}"),
            excess if excess <= -EXCESS_FROM => {
                format!("{expected}: short of that by {:.1} {chance}", -excess)
            }
            _ => format!("{expected}, and this is within the spread of reading and life"),
        };
        let read = format!("{}{:.0} %", place(&own.named.place).replace(':', ""), own.percent);
        match rows.iter_mut().find(|(label, _, known)| (label, known) == (&own.named.label, &comparison)) {
            Some((_, places, _)) => places.push(read),
            None => rows.push((own.named.label.clone(), vec![read], comparison)),
        }
    }
    let row = |(label, places, comparison): (String, Vec<String>, String)| {
        format!("{}: {} worn; {comparison}.", capital(&label), places.join(", "))
    };
    rows.into_iter().map(row).collect()
}

/// Label, place and grade of a sign
pub fn sign(own: &Sign) -> String {
    let grade = own.grade.as_ref().map_or_else(String::new, |grade| format!(": {}", plain(grade)));
    format!("{}{}{grade}", own.label, at(&own.place))
}
