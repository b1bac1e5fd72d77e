//! What may run on and till when, and what to look at again and when, as an owner or a foreman reads it.

use super::figures::{chance, cost, two_figures, worst};
use super::place;
use crate::place::within;
use crate::plan::record::{Plan, Running, Suspected, TurnDecision, Watched, Worst};
use crate::report::extent::MOST_RUNNING;
use crate::report::prose::Prose;
use crate::report::words::{about, at_most, capital, figure, whole};

/// Where the readings stand that a decision waits for
const HANGS: &str = "what to do hangs on the reading named under \"To turn, or not to turn\"";

/// How long what was read may run on
pub(super) fn running(prose: &mut Prose, plan: &Plan) {
    let shown: Vec<&Running> = plan.running.iter().take(MOST_RUNNING).collect();
    if shown.is_empty() {
        return;
    }
    prose.heading("How long what was read may run on");
    prose.say(2, "Hours from now, as far as wear alone goes; a cause at work can shorten them.");
    for own in shown {
        let till = till(own);
        prose.say(
            2,
            &format!(
                "{}{}, {:.0} % worn: {till}",
                capital(&place(&own.named.place)),
                own.named.label,
                own.percent
            ),
        );
    }
    if plan.running.len() > MOST_RUNNING {
        prose.say(2, "What else was read lasts longer.");
    }
}

/// Never later than the hours that wear leaves it
fn till(own: &Running) -> String {
    match (own.renewed, own.hours) {
        (Some(visit), _) if visit <= 0.0 => {
            "to be seen to at the first visit, and not to run past it".to_owned()
        }
        (Some(visit), Some(hours)) if hours <= 0.0 => {
            format!(
                "at its limit or past it; read it at every stop until the visit in {} h",
                whole(at_most(visit))
            )
        }
        (Some(visit), Some(hours)) if hours < visit => {
            format!(
                "till about {} h, which is before the visit in {} h: read it then",
                about(hours),
                whole(at_most(visit))
            )
        }
        (Some(visit), _) => format!("till the visit in {} h", whole(at_most(visit))),
        (None, Some(hours)) if hours <= 0.0 && own.undecided => {
            format!("at its limit or past it: {HANGS}")
        }
        (None, Some(hours)) if hours <= 0.0 => "at its limit or past it: read it at every stop".to_owned(),
        (None, Some(_)) if own.at_least.is_some_and(|least| least > 0.0) => format!(
            "too little to tell how long; {} h at least",
            about(own.at_least.unwrap_or(0.0)) // else: just that
        ),
        (None, Some(hours)) => format!("till about {} h", about(hours)),
        (None, None) => "no hours tell how long".to_owned(),
    }
}

/// What to look at again: what is suspected, then what wears, by the check that reads it
pub(super) fn watched(prose: &mut Prose, plan: &Plan) {
    if plan.watched.is_empty() {
        return;
    }
    prose.heading("What to watch");
    let mut looks: Vec<(Option<&str>, String)> = Vec::new();
    for own in &plan.watched {
        let named = own.named();
        match own {
            Watched::Hidden { suspected, check, costs, loss, look } => {
                let text = hidden(plan, suspected, check.as_deref(), (*costs, *loss), *look);
                prose.say(2, &format!("{}{text}", capital(&place(&named.place))));
            }
            Watched::Worn { check, percent, from, reached, look, worst, .. } => {
                let worn = worn(*percent, *from, *reached, worst.as_ref());
                let check = check.as_deref();
                match looks.iter_mut().find(|(other, _)| check.is_some() && *other == check) {
                    Some((_, text)) => {
                        text.push_str(&format!("; {}{}, {worn}", place(&named.place), named.label))
                    }
                    None => {
                        let named = capital(&format!("{}{}", place(&named.place), named.label));
                        looks.push((check, format!("{}{named}, {worn}", again(check, *look))));
                    }
                }
            }
        }
    }
    looks.iter().for_each(|(_, text)| prose.say(2, &format!("{text}.")));
}

/// When to look again, by the soonest of what a check reads
fn again(check: Option<&str>, look: Option<f64>) -> String {
    let when =
        look.map_or_else(|| "at the next stop".to_owned(), |hours| format!("in about {} h", about(hours)));
    check.map_or_else(String::new, |check| format!("Look again {when}: {check}. "))
}

/// How worn something is, and when it comes to the figure from which it is renewed
fn worn(percent: f64, from: f64, reached: Option<f64>, first: Option<&Worst>) -> String {
    let when = reached
        .map_or_else(|| "; no hours tell when".to_owned(), |hours| format!(" in about {} h", about(hours)));
    let first = first.map_or_else(String::new, worst);
    format!("{percent:.0} % worn, comes to {} %{when}{first}", figure(from))
}

/// What is suspected, with what mending and leaving it would cost, and when and how to look
fn hidden(
    plan: &Plan,
    Suspected { named, within: chances, .. }: &Suspected,
    check: Option<&str>,
    (costs, loss): (Option<f64>, Option<f64>),
    look: Option<f64>,
) -> String {
    let by = match look {
        Some(hours) if hours <= 0.0 => "before the machine works again".to_owned(),
        Some(hours) => format!("within {} h", whole(hours)),
        None => "at the next stop".to_owned(),
    };
    let look = |by: &str| check.map_or_else(String::new, |check| format!(" Look again{by}: {check}."));
    let suspicion = format!("{}, {}", named.label, chance(*chances));
    let open = |it: &TurnDecision| it.waits_for_a_reading() && within(&named.place, &it.named.place);
    match (costs, loss) {
        (Some(costs), Some(loss)) if loss > 0.0 => format!(
            "{suspicion}; a look {by} is worth it: to see to it costs {}, to leave it would likely lose about {}.{}",
            cost(plan, costs).trim_start_matches("cost "),
            two_figures(loss),
            look("")
        ),
        (None, _) if check.is_none() && plan.turns.iter().any(open) => format!("{suspicion}: {HANGS}."),
        _ => format!("{suspicion}.{}", look(&format!(" {by}"))),
    }
}
