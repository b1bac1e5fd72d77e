//! A work plan as an owner or a foreman reads it.

use super::figures::{chance, cost, two_figures, worst};
use super::{place, turns, watch, wear};
use crate::model::subject::Subject;
use crate::plan::record::{Call, Job, MayTake, Plan, Suspected, Visit, When};
use crate::plan::swing::{Moved, Swing};
use crate::report::extent::{LOOK_FIRST_UNDER, MOST_JOBS};
use crate::report::prose::Prose;
use crate::report::record::diagnosis::NOTICE;
use crate::report::words::{about, at_most, capital, either, figure, listed, percent, plain, whole};

/// Share of its cost under which nobody minds how far a plan moves
const HARDLY: f64 = 0.1;

/// The whole plan, by itself
pub fn plan(plan: &Plan, swing: &Swing, title: &str) -> Prose {
    let mut prose = Prose::new();
    prose.say(0, title);
    everything(&mut prose, plan, swing);
    prose.heading("Beware");
    prose.say(2, NOTICE);
    prose
}

/// All of it but what it is of and what to beware of
pub fn everything(prose: &mut Prose, plan: &Plan, swing: &Swing) {
    prose.say(0, &money(plan));
    if plan.bounded {
        prose.say(0, "Some chances are known within bounds only. Work is planned by the lower bound, and by the upper one \
             where the machine may not be run until it is done.");
    }
    plan.misfit.iter().for_each(|misfit| wear::misfit(prose, 0, misfit));
    visits(prose, plan);
    self::swing(prose, plan, swing);
    turns::turns(prose, &plan.turns);
    watch::running(prose, plan);
    watch::watched(prose, plan);
}

/// The first of the work, in a few lines
pub(super) fn short(prose: &mut Prose, plan: &Plan) {
    prose.heading("Work to do");
    if plan.jobs().next().is_none() {
        prose.say(2, &nothing(plan));
        return;
    }
    let mut shown = 0;
    for visit in &plan.visits {
        let (when, meter) = at(visit);
        prose.say(2, &format!("{}{meter}: {}", when.to_uppercase(), sum(plan, visit)));
        let jobs: Vec<&Job> = visit.jobs.iter().take(MOST_JOBS.saturating_sub(shown).max(1)).collect();
        shown += jobs.len();
        for job in &jobs {
            prose.item(4, &format!("{}{}", capital(&place(&job.named.place)), first(job)));
        }
        if visit.jobs.len() > jobs.len() {
            prose.item(4, &format!("and {} more", visit.jobs.len() - jobs.len()));
        }
    }
    if !plan.on_site.is_empty() {
        prose.say(2, "ON SITE, BY THOSE WHO WORK THE MACHINE:");
        for job in &plan.on_site {
            prose.item(4, &format!("{}{}, {}", capital(&place(&job.named.place)), first(job), due(job)));
        }
    }
    prose.say(
        2,
        &format!(
            "{}`pinboss plan` tells the cautions of each job, why it is due, what it costs and saves, and what may \
             run on.",
            match plan.currency {
                Some(_) => "",
                None => "Costs are no money: an hour of labour counts 50. ",
            }
        ),
    );
}

/// What a job makes needless or puts off, with its place where that is another
fn named(other: &Subject, job: &Job) -> String {
    let at = if other.place == job.named.place { String::new() } else { place(&other.place) };
    format!("{at}{}", other.label)
}

/// The label, as it starts behind a place
fn first(job: &Job) -> String {
    let Subject { place: at, label, .. } = &job.named;
    if place(at).is_empty() { capital(label) } else { label.clone() }
}

fn money(plan: &Plan) -> String {
    match &plan.currency {
        Some(word) if plan.unpriced.by_rules.is_empty() && plan.unpriced.by_hours.is_empty() => {
            format!("Costs are in {word}, by your prices.")
        }
        Some(word) => {
            let without: Vec<&String> =
                plan.unpriced.by_rules.iter().chain(&plan.unpriced.by_hours).collect();
            let without: Vec<String> = without.into_iter().map(|label| format!("\"{label}\"")).collect();
            format!(
                "Costs are in {word}. Your prices do not name {}: what the rules reckon is taken instead, an hour of \
                 labour being worth 50 of their units.",
                listed(&without)
            )
        }
        None => {
            let by_hours = if plan.unpriced.by_hours.is_empty() {
                String::new()
            } else {
                let labels: Vec<String> =
                    plan.unpriced.by_hours.iter().map(|label| format!("\"{label}\"")).collect();
                format!(" {} is reckoned by its hours of labour alone.", listed(&labels))
            };
            format!(
                "Costs are points for comparing, and no money: an hour of labour is 50 of them.{by_hours} `--prices FILE` \
                 reckons with your own prices."
            )
        }
    }
}

fn nothing(plan: &Plan) -> String {
    if plan.misfit.is_some() {
        return "No work can be planned from wear before the sizes are right, and nothing else that was noted calls for any.".to_owned();
    }
    format!(
        "Nothing within the next {} h: {} calls for work that pays.",
        whole(plan.horizon),
        if plan.bounded {
            "by the least that each chance can be, nothing"
        } else {
            "nothing that was seen or read"
        }
    )
}

fn visits(prose: &mut Prose, plan: &Plan) {
    if plan.visits.is_empty() {
        prose.heading("No visit");
    }
    if plan.jobs().next().is_none() {
        prose.say(2, &nothing(plan));
        return;
    }
    for (number, visit) in plan.visits.iter().enumerate() {
        let (when, meter) = at(visit);
        prose.heading_beside(&when, &meter);
        let sum = sum(plan, visit);
        let sum = if number == 0 { format!("{} {}", sum, standing(plan)) } else { sum };
        prose.say(2, sum.trim_end());
        self::jobs(prose, plan, &visit.jobs);
    }
    on_site(prose, plan);
    prose.gap();
    let proven = if plan.visits.is_empty() {
        ""
    } else if plan.exact {
        "No other way to lay this work into visits costs less."
    } else {
        "There is so much of it that not every way to lay it into visits was tried; it can be done as it stands."
    };
    let horizon = whole(plan.horizon);
    let all = format!("All that falls due within {horizon} h: {}. {proven}", cost(plan, plan.cost));
    prose.say(0, all.trim_end());
}

/// What those do who work the machine
fn on_site(prose: &mut Prose, plan: &Plan) {
    if plan.on_site.is_empty() {
        return;
    }
    prose.heading("On site, by those who work the machine");
    let jobs = &plan.on_site;
    let (hours, sum) = (jobs.iter().map(|job| job.hours).sum(), jobs.iter().map(|job| job.cost).sum());
    prose.say(2, &format!("About {} h, {}; no workshop is needed.", figure(hours), cost(plan, sum)));
    self::jobs(prose, plan, jobs);
}

/// Jobs done together; what is to beware of at all of them is told once, ahead of them
fn jobs(prose: &mut Prose, plan: &Plan, jobs: &[Job]) {
    let alike = match jobs {
        [first, others @ ..] if !others.is_empty() => {
            let at_all = |caution: &&String| others.iter().all(|job| job.cautions.contains(caution));
            first.cautions.iter().filter(at_all).collect()
        }
        _ => Vec::new(),
    };
    if !alike.is_empty() {
        prose.say(2, "For all of this work:");
    }
    for caution in &alike {
        prose.caution(2, caution);
    }
    for (number, job) in jobs.iter().enumerate() {
        prose.gap();
        let own: Vec<&String> = job.cautions.iter().filter(|caution| !alike.contains(caution)).collect();
        self::job(prose, plan, number + 1, job, &own);
    }
}

/// What one reading that is off by its gauge's error would make of the cost, where that is enough to read it again first
fn swing(prose: &mut Prose, plan: &Plan, swing: &Swing) {
    let far = |moved: &&Moved| (moved.cost - plan.cost).abs() > HARDLY * plan.cost;
    let sentences: Vec<String> = [&swing.dearer, &swing.cheaper]
        .into_iter()
        .flatten()
        .filter(far)
        .map(|own| moved(plan, own))
        .collect();
    if !sentences.is_empty() {
        prose.say(
            0,
            &format!(
                "Before you order, read again what may be off by the error of its gauge. {}",
                sentences.join(" ")
            ),
        );
    }
}

/// What the cost is with one reading off
fn moved(plan: &Plan, own: &Moved) -> String {
    format!(
        "{}{}: were it {} {}, all would come to {} instead of {}.",
        capital(&place(&own.named.place)),
        own.named.label,
        figure((own.at * 100.0).round() / 100.0),
        own.unit.word(),
        two_figures(own.cost),
        whole(plan.cost)
    )
}

/// When a visit is, and what the meter will say then
fn at(visit: &Visit) -> (String, String) {
    if visit.at <= 0.0 {
        let banned = visit.jobs.iter().any(|job| job.when == When::Now);
        let when =
            if banned { "now, before the machine works again" } else { "as soon as it can be arranged" };
        return (format!("Visit {when}"), String::new());
    }
    let within = at_most(visit.at);
    let meter = visit.at_meter.map(|meter| meter - visit.at + within);
    let meter = meter.map_or_else(String::new, |meter| format!(" (meter {})", whole(meter)));
    (format!("Visit within {} h", whole(within)), meter)
}

fn sum(plan: &Plan, visit: &Visit) -> String {
    let saved = if visit.saved > 0.0 {
        format!(" ({} h saved by doing it together)", figure(visit.saved))
    } else {
        String::new()
    };
    format!("About {} h of work{saved}, {}.", figure(visit.hours), cost(plan, visit.cost))
}

/// What a visit costs besides its work, told once
fn standing(plan: &Plan) -> String {
    let visit = if plan.visit_costs > 0.0 {
        let cost = cost(plan, plan.visit_costs);
        format!(
            "Of that {} for bringing the machine in, as at every visit.",
            cost.trim_start_matches("cost ")
        )
    } else {
        String::new()
    };
    let hour = if plan.hour_stands > 0.0 {
        format!(" An hour of work counts {} more for the machine standing.", cost(plan, plan.hour_stands))
    } else {
        String::new()
    };
    format!("{visit}{hour}").trim_start().to_owned()
}

fn job(prose: &mut Prose, plan: &Plan, number: usize, job: &Job, cautions: &[&String]) {
    prose.entry(4, number, &format!("{}{}", capital(&place(&job.named.place)), first(job)));
    for caution in cautions {
        prose.caution(4, caution);
    }
    let why: Vec<String> = job.calls.iter().map(|it| because(it, job.due)).collect();
    prose.named(4, "Why", &format!("{}.", why.join("; ")));
    let shares =
        job.together.as_ref().map_or_else(String::new, |state| format!(" Done with the rest {state}."));
    prose.named(
        4,
        "Work",
        &format!("{} h, {}; {}.{shares}", figure(job.hours), cost(plan, job.cost), due(job)),
    );
    if let Some(by) = &job.taken_by {
        prose.say(4, &format!("It goes along with this, and sooner than by itself: {}.", named(by, job)));
    }
    prose.named(4, "If not done", &left(plan, job));
    for along in &job.may_take {
        prose.named(4, "Read before it", &may_take(plan, along));
    }
    for spared in &job.instead_of {
        prose.say(4, &format!("It makes this needless: {}.", named(spared, job)));
    }
    for later in &job.put_off {
        prose.say(
            4,
            &format!(
                "It puts back the wear that called for this, and so puts it off: {}.",
                named(later, job)
            ),
        );
    }
    if let Some(judged) = turns::judged(&plan.turns, job) {
        prose.named(4, "Judged", &judged);
    }
    if job.chance < LOOK_FIRST_UNDER && !job.finds_out {
        prose.say(
            4,
            "Look first: it is less likely than not, and `pinboss next` tells which look settles it.",
        );
    }
}

/// What has to be read before a job, and what then goes with it
fn may_take(plan: &Plan, along: &MayTake) -> String {
    let MayTake { named, from, hours, cost: own, unread } = along;
    format!(
        "{}. From {} % worn this goes with it: {} ({} h, {}).",
        either(&turns::readings(unread, either)),
        figure(*from),
        named.label,
        figure(*hours),
        cost(plan, *own)
    )
}

fn due(job: &Job) -> String {
    match job.when {
        When::Now => match job.floor {
            Some(floor) => format!(
                "from a chance of {} on the machine is not to be worked until it is done",
                percent(floor)
            ),
            None => "the machine is not to be worked until it is done".to_owned(),
        },
        When::Overdue => "overdue, for what it renews is used up".to_owned(),
        When::NextStop => format!("due at the next planned stop, within {} h", whole(at_most(job.due))),
        When::ByHours if job.due <= 0.0 => "due with what it goes along with".to_owned(),
        When::ByHours => format!("due within {} h", whole(at_most(job.due))),
    }
}

fn left(plan: &Plan, job: &Job) -> String {
    let text = job.left.as_deref();
    let text = text.unwrap_or("the rules do not say what happens."); // else: just that
    let (Some(loss), Some(saving)) = (job.loss, job.expected_saving) else {
        return format!("{} What that would cost, the rules do not say.", capital(text));
    };
    let saved = if saving >= 0.0 {
        format!("doing it likely saves about {}", two_figures(saving))
    } else {
        format!(
            "doing it likely costs about {} more than it saves, but it is more likely there than not",
            two_figures(-saving)
        )
    };
    format!("{} That loses {}; {saved}.", capital(text), cost(plan, loss).trim_start_matches("cost "))
}

/// Why, for work due by so many hours
fn because(call: &Call, by: f64) -> String {
    match call {
        Call::Hidden(Suspected { named, within, .. }) => {
            format!("{}{}, {}", place(&named.place), named.label, chance(*within))
        }
        Call::Seen { named, grade, probability, .. } => {
            let sure =
                if *probability < 0.95 { format!(", {}", percent(*probability)) } else { String::new() };
            format!("{}{}: {}{sure}", place(&named.place), named.label, plain(grade))
        }
        Call::Worn { named, percent: worn, from, reached, ends, places, worst, .. } => {
            let mean = if *places > 1 { format!(" as the mean of {places}") } else { String::new() };
            let reached = if *reached > 0.0 {
                format!("comes to {} % in about {} h", figure(*from), about(*reached))
            } else {
                format!("due from {} %", figure(*from))
            };
            let limit = if *from < 100.0 && *ends > 0.0 && *ends <= by {
                format!(" and to its end in about {} h", about(*ends))
            } else {
                String::new()
            };
            let worst = worst.as_ref().map_or_else(String::new, self::worst);
            format!("{}{}, {worn:.0} % worn{mean}, {reached}{limit}{worst}", place(&named.place), named.label)
        }
    }
}
