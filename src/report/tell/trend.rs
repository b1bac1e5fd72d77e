//! The wear of a machine over its visits, as a mechanic reads it.

use super::held::reasons;
use super::outdated::outdated;
use super::wear::{misfit, numbered, row_in_words};
use super::{meter, place, turns};
use crate::ground::Held;
use crate::place::Side;
use crate::report::extent::MOST_ENDS;
use crate::report::prose::Prose;
use crate::report::record::hours_left::HoursLeft;
use crate::report::record::trend::{ClosingGap, DueWork, PartRate, PartWear, Trend, VisitRow};
use crate::report::words::{self, capital, figure, listed, plain, several, wear_percent, whole};
use std::collections::BTreeMap;

/// The whole report
pub fn trend(report: &Trend) -> Prose {
    let mut prose = Prose::new();
    head(&mut prose, report);
    ends(&mut prose, report);
    for side in [None, Some(Side::Left), Some(Side::Right)] {
        parts(&mut prose, report, side);
    }
    outdated(&mut prose, report);
    turns::turns(&mut prose, &report.turns);
    ahead(&mut prose, report);
    not_counted(&mut prose, report);
    prose.heading("Beware");
    prose.say(2, report.notice);
    prose
}

/// What does not count, and why; of several visits each with its day
fn not_counted(prose: &mut Prose, report: &Trend) {
    if !report.held.is_empty() {
        prose.heading("Not counted");
    }
    let is_only = report.visits.len() == 1;
    for (number, own) in report.visits.iter().enumerate() {
        let held = report.held.iter().filter(|held| held.visit == number);
        let held: Vec<&Held> = held.map(|held| &held.held).collect();
        if !held.is_empty() && !is_only {
            prose.say(2, &format!("Visit at {}:", visit(own)));
        }
        reasons(prose, !is_only, &held);
    }
}

/// What comes of it beyond the single parts: when work falls due, gaps that close, one part against the other
fn ahead(prose: &mut Prose, report: &Trend) {
    due(prose, report);
    contacts(prose, report);
    against_one_another(prose, report);
}

/// The same with what ends first, for a report that tells of the single parts otherwise
pub fn outlook(prose: &mut Prose, report: &Trend) {
    ends(prose, report);
    outdated(prose, report);
    ahead(prose, report);
}

fn head(prose: &mut Prose, report: &Trend) {
    let visits: Vec<String> = report.visits.iter().map(visit).collect();
    let count = several(report.visits.len(), "visit", "visits");
    prose.say(0, &format!("{}: {count}: {}.", report.machine, visits.join("; ")));
    report.misfit.iter().for_each(|own| misfit(prose, 0, own));
    if report.parts.is_empty() && !report.outdated.is_empty() {
        prose.say(0, "Nothing that was read says how worn the machine is now.");
        return;
    }
    if report.parts.is_empty() {
        prose.say(0, "Nothing with a limit was read on this machine.");
        return;
    }
    prose.say(
        0,
        "Per cent worn is the way gone from new to the limit, where a part is worn out: 100 %. Hours left are those to the limit, \
         counted from the last visit; they hold as long as ground, work and care stay as they were. Of ten readings nine lie \
         within what is given or taken, and of ten parts nine end between the two figures behind the hours.",
    );
}

fn visit(visit: &VisitRow) -> String {
    let hours = meter(visit.hours);
    visit.on.as_ref().map_or(hours.clone(), |on| format!("{hours} on {on}"))
}

/// What ends first on each side
fn ends(prose: &mut Prose, report: &Trend) {
    let sides = [("Left", &report.ends.left), ("Right", &report.ends.right)];
    if sides.iter().all(|(_, ends)| ends.is_empty()) {
        return;
    }
    prose.heading("What ends first");
    for (side, ends) in sides.iter().filter(|(_, ends)| !ends.is_empty()) {
        let first = ends.iter().filter_map(|number| report.parts.get(*number)).take(MOST_ENDS);
        let phrases = first.map(|part| format!("{} {}", whose(part), until(part.left)));
        prose.say(2, &format!("{side}: {}.", phrases.collect::<Vec<_>>().join("; ")));
    }
}

/// The measure, with the number in a row
fn whose(part: &PartWear) -> String {
    match numbered(&part.place) {
        Some((row, number)) => format!("{}, {} {number},", part.label, plain(row)),
        None => part.label.clone(),
    }
}

fn side_of(part: &PartWear) -> Option<Side> {
    part.place.split(' ').next().and_then(Side::from_word)
}

/// Everything read on one side, or on the machine as a whole
fn parts(prose: &mut Prose, report: &Trend, side: Option<Side>) {
    let here: Vec<&PartWear> = report.parts.iter().filter(|part| side_of(part) == side).collect();
    if here.is_empty() {
        return;
    }
    prose.heading(side.map_or("The machine", |side| match side {
        Side::Left => "Left",
        Side::Right => "Right",
    }));
    let mut rest = here.as_slice();
    while let Some(first) = rest.first() {
        let is_row = |other: &&&PartWear| numbered(&first.place).is_some() && other.measure == first.measure;
        let count = rest.iter().take_while(is_row).count().max(1);
        let (own, later) = rest.split_at(count);
        if own.len() > 1 {
            row(prose, report, own)
        } else {
            single(prose, report, first)
        }
        rest = later;
    }
}

fn single(prose: &mut Prose, report: &Trend, part: &PartWear) {
    let number =
        numbered(&part.place).map_or(String::new(), |(row, number)| format!("{} {number}: ", capital(row)));
    prose.say(2, &format!("{number}{}: {}", capital_unless(&number, &part.label), worn(part, report)));
    paces(prose, report, part);
}

fn capital_unless(before: &str, label: &str) -> String {
    if before.is_empty() { capital(label) } else { label.to_owned() }
}

/// A row of numbered parts: per cent by number, and all there is to say of the one that ends first
fn row(prose: &mut Prose, report: &Trend, row: &[&PartWear]) {
    let Some(first) = row.first() else { return };
    let name = numbered(&first.place).map_or("", |(name, _)| name);
    let number =
        |part: &PartWear| numbered(&part.place).map_or(String::new(), |(_, number)| number.to_owned());
    let each = row.iter().map(|part| (part.place.as_str(), part.percent, part.give_or_take));
    prose.say(2, &format!("{}, {}.", capital(&first.label), row_in_words(each)));
    let soonest = row.iter().min_by(|a, b| hours(a.left).total_cmp(&hours(b.left)));
    if let Some(part) = soonest.filter(|part| part.left.is_some()) {
        prose.say(4, &format!("{} {} ends first: {}", capital(name), number(part), worn(part, report)));
    }
    for part in row
        .iter()
        .filter(|part| soonest.is_some_and(|own| own.place == part.place) || !part.doubts.is_empty())
    {
        if soonest.is_none_or(|own| own.place != part.place) {
            prose.say(4, &format!("{} {}:", capital(name), number(part)));
        }
        paces(prose, report, part);
    }
}

/// What was read last, how worn that is, and the hours on it
fn worn(part: &PartWear, report: &Trend) -> String {
    let on = match (part.hours, &part.new) {
        (Some(hours), Some(new)) if new.turned => format!(", {} h since it was turned", whole(hours)),
        (Some(hours), Some(_)) => format!(", {} h on it", whole(hours)),
        _ if part.turned.is_some() => String::new(),
        _ => ", hours on it not told".to_owned(),
    };
    let when = if part.visit + 1 < report.visits.len() {
        let hours = report.visits.get(part.visit).and_then(|visit| visit.hours);
        hours.map_or_else(String::new, |hours| format!(" at {} h, and not since", whole(hours)))
    } else {
        String::new()
    };
    format!(
        "{} {}{when}, {}{on}.",
        figure(part.read),
        part.unit,
        words::worn(part.percent, part.give_or_take)
    )
}

/// How fast it wears and how long it will last
fn paces(prose: &mut Prose, report: &Trend, part: &PartWear) {
    left_out(prose, report, part);
    for doubt in &part.doubts {
        prose.say(4, &format!("{doubt} No pace is taken from these readings."));
    }
    let rates = &part.rates;
    let own = |rate: &Option<PartRate>, how: &str| {
        rate.as_ref().map(|rate| format!("{} {how}", per_thousand(rate.per_hour)))
    };
    let mut paces: Vec<String> = [
        own(&rates.from_new, "from new"),
        own(&rates.last_two, "between the last two readings"),
        own(&rates.all, "by all readings"),
    ]
    .into_iter()
    .flatten()
    .collect();
    if let Some(usual) = &rates.usual {
        paces.push(format!("{} is usual on such ground", per_thousand(100.0 / usual.usual.life)));
    }
    if !paces.is_empty() {
        prose.say(4, &format!("Per cent in 1,000 h: {}.", paces.join(", ")));
    }
    changed(prose, part);
    if let Some(left) = part.left {
        let young = match part.by {
            Some("usual") if part.young && part.new.is_some() => {
                " So little is worn that its own pace tells nothing yet."
            }
            _ => "",
        };
        prose.say(4, &format!("{}.{young}", hours_to_go(left, by(part))));
    }
}

/// Readings of the part that was there before, or before it was turned
fn left_out(prose: &mut Prose, report: &Trend, part: &PartWear) {
    let hours = |visit: usize| report.visits.get(visit).and_then(|visit| visit.hours);
    let read: Vec<String> =
        part.left_out.iter().filter_map(|own| Some(format!("{} h", whole(hours(own.visit)?)))).collect();
    if let Some(at) = part.turned {
        let words = format!(
            "It was turned at {} h; how worn it was then nobody measured, so its \
             hours tell nothing of its pace.",
            whole(at)
        );
        prose.say(4, &words);
    }
    if let Some(last) = part.left_out.last() {
        let did = if last.turned { "turned" } else { "changed" };
        let words = format!(
            "What was read at {} does not count: it was {did} at {} h.",
            listed(&read),
            whole(last.at)
        );
        prose.say(4, &words);
    }
}

/// Whether it wears faster or slower than before, and than the ground explains
fn changed(prose: &mut Prose, part: &PartWear) {
    if let Some(change) = &part.rates.change {
        let words = if change.errors > 0.0 {
            format!(
                "Wear is speeding up: {} times the pace from new between the last two readings. Look for a cause.",
                one_decimal(change.times)
            )
        } else if change.times > 0.0 {
            format!("Wear has slowed down to {} times the pace from new.", one_decimal(change.times))
        } else {
            "Wear has stood still between the last two readings.".to_owned()
        };
        prose.say(4, &words);
    }
    if let Some(against) = part.against.as_ref().filter(|against| against.clear) {
        prose.say(
            4,
            &format!(
                "{} times the usual pace on such ground, where nine of ten machines lie between {} and {}: the ground alone \
                 does not explain it.",
                one_decimal(against.times),
                one_decimal(against.lower),
                one_decimal(against.upper)
            ),
        );
    }
}

fn one_decimal(value: f64) -> String {
    format!("{value:.1}")
}

fn per_thousand(per_hour: f64) -> String {
    let percent = per_hour * 1000.0;
    if percent.abs() < 9.95 { format!("{percent:.1}") } else { format!("{percent:.0}") }
}

fn by(part: &PartWear) -> &'static str {
    match part.by {
        Some("from_new") => " at its pace from new",
        Some("last_two") => " at the pace of the last two readings",
        Some("all") => " at the pace of all readings",
        _ => " by the usual life on such ground",
    }
}

fn hours_to_go(left: HoursLeft, by: &str) -> String {
    if left.is_over() {
        return "At its limit or past it".to_owned();
    }
    let middle = capital(&left.middle());
    match left.beyond() {
        Some(_) => format!("{middle} left{by}: longer than any part lasts"),
        None => format!("{middle} left{by}, {}", left.between()),
    }
}

/// `in about 400 h`, or `is at its limit`
fn until(left: Option<HoursLeft>) -> String {
    match left {
        Some(left) if left.is_over() => "is at its limit".to_owned(),
        Some(left) => format!("in {}", with_ends(left)),
        None => String::new(),
    }
}

/// `about 400 h (between 300 and 500 h)`
fn with_ends(left: HoursLeft) -> String {
    match left.beyond() {
        Some(_) => left.middle(),
        None => format!("{} ({})", left.middle(), left.between()),
    }
}

/// Work to be planned on a side, each by the measure that calls for it first
fn due(prose: &mut Prose, report: &Trend) {
    let mut soonest: BTreeMap<(Option<Side>, &str), (&DueWork, &PartWear)> = BTreeMap::new();
    for part in &report.parts {
        for due in part.due.iter().filter(|due| !due.gives_life_again) {
            let own = soonest.entry((side_of(part), due.id.as_str())).or_insert((due, part));
            if hours(due.left) < hours(own.0.left) {
                *own = (due, part);
            }
        }
    }
    let is_foreseeable = |due: &DueWork| due.left.is_some_and(|left| left.beyond().is_none());
    let mut upcoming: Vec<_> = soonest.into_iter().filter(|(_, (due, _))| is_foreseeable(due)).collect();
    upcoming.sort_by(|a, b| hours(a.1.0.left).total_cmp(&hours(b.1.0.left)));
    if !upcoming.is_empty() || !report.work.is_empty() {
        prose.heading("When to plan work");
    }
    for own in &report.work {
        let when = match own.within {
            hours if hours > 0.0 => format!("Within {} h", whole(words::at_most(hours))),
            _ => "Now".to_owned(),
        };
        prose.say(2, &format!("{when}: {}{}.", place(&own.place), own.label));
    }
    for (_, (due, part)) in upcoming {
        let when = match due.left {
            Some(left) if !left.is_over() => format!("In {}", with_ends(left)),
            _ => due.within.map_or_else(
                || "Now".to_owned(),
                |within| format!("Now, to be done within {} h", whole(within)),
            ),
        };
        prose.say(
            2,
            &format!(
                "{when}: {}{}; plan the work from {} % worn. {}.",
                place(&part.place),
                part.label,
                figure(due.percent),
                what(due)
            ),
        );
    }
}

/// What to do, with what puts the wear back before, while that pays
fn what(due: &DueWork) -> String {
    match &due.put_back_by {
        Some(turn) => format!("{turn}: that puts it back. Where it does not pay: {}", due.label),
        None => due.label.clone(),
    }
}

fn hours(left: Option<HoursLeft>) -> f64 {
    left.map_or(f64::INFINITY, |left| left.hours)
}

/// Gaps that close, the soonest of each measure and side
fn contacts(prose: &mut Prose, report: &Trend) {
    let mut soonest: Vec<&ClosingGap> = Vec::new();
    for contact in &report.contacts {
        let side = |one: &ClosingGap| one.place.split(' ').next().map(str::to_owned);
        match soonest.iter_mut().find(|own| own.measure == contact.measure && side(own) == side(contact)) {
            Some(own) if (hours(contact.left), contact.gap) < (hours(own.left), own.gap) => *own = contact,
            Some(_) => {}
            None => soonest.push(contact),
        }
    }
    if !soonest.is_empty() {
        prose.heading("Gaps that close");
    }
    for contact in soonest {
        let left = match contact.left {
            Some(left) if left.is_over() => {
                "; the parts should touch already: look for bright spots".to_owned()
            }
            Some(left) if left.beyond().is_some() => "; not closed within the life of the parts".to_owned(),
            Some(left) => format!("; the parts touch in {}", with_ends(left)),
            None => String::new(),
        };
        prose.say(
            2,
            &format!(
                "{}{}: {} {}, give or take {}{left}.",
                capital(&place(&contact.place)),
                contact.label,
                one_decimal(contact.gap),
                contact.unit,
                one_decimal(contact.give_or_take)
            ),
        );
    }
}

/// Left against right, one of a row against the others, row against row
fn against_one_another(prose: &mut Prose, report: &Trend) {
    let sides = report.sides.iter().filter_map(|sides| Some((sides, sides.ahead?)));
    let mut lines: Vec<String> = sides
        .map(|(sides, ahead)| {
            format!(
                "{}: left {}, right {}: the {} side is clearly ahead.",
                capital(&sides.term.label),
                wear_percent(sides.left),
                wear_percent(sides.right),
                ahead.word()
            )
        })
        .collect();
    lines.extend(report.odd.iter().map(|odd| {
        format!(
            "{}{}: {} worn, the others of its side {} on the mean.",
            capital(&place(&odd.named.place)),
            odd.named.label,
            wear_percent(odd.percent),
            wear_percent(odd.others)
        )
    }));
    lines.extend(report.steps.iter().filter(|step| step.clear).map(|step| {
        format!(
            "{}{}: {} {}, give or take {}: clearly not even.",
            capital(&place(&step.named.place)),
            step.named.label,
            figure(step.read),
            step.unit.word(),
            figure(step.give_or_take)
        )
    }));
    let even: Vec<String> = report
        .sides
        .iter()
        .filter(|sides| sides.ahead.is_none())
        .map(|sides| sides.term.label.clone())
        .collect();
    if !even.is_empty() {
        lines.push(format!("Left and right alike, as far as the readings tell: {}.", listed(&even)));
    }
    if !lines.is_empty() {
        prose.heading("Side against side, part against part");
    }
    for line in lines {
        prose.say(2, &line);
    }
}
