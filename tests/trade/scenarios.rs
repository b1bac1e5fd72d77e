//! Whole stories of invented machines, told by somebody who had not read the rules; what must come out of each was written down
//! before the program was asked. What does not hold yet stands in a list, which a test keeps honest.

use crate::support::shipped::consultation;
use pinboss::consultation::Consultation;
use pinboss::model::Hidden;
use pinboss::place::Place;
use rstest::rstest;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fs;

/// What must come out
#[derive(Deserialize)]
struct Expected {
    case: String,
    worn: Vec<PercentOf>,
    #[serde(default)]
    hours: Vec<HoursOf>,
    plan: PlanOf,
    causes: Causes,
}

#[derive(Deserialize)]
struct PercentOf {
    measure: String,
    places: Vec<String>,
    percent: f64,
}

#[derive(Deserialize)]
struct HoursOf {
    measure: String,
    places: Vec<String>,
    left: String,
}

#[derive(Deserialize)]
struct PlanOf {
    #[serde(default)]
    stands: Vec<Stands>,
    #[serde(default)]
    stands_not: Vec<StandsNot>,
}

#[derive(Deserialize)]
struct Stands {
    any: Vec<String>,
    places: Vec<String>,
    within: Option<String>,
}

#[derive(Deserialize)]
struct StandsNot {
    remedy: String,
    places: Vec<String>,
}

#[derive(Deserialize)]
struct Causes {
    over: BTreeMap<String, String>,
    under: BTreeMap<String, String>,
}

/// Points of a per cent and share of hours within which a figure agrees
const WITHIN: (f64, f64) = (3.0, 0.1);

fn expected(name: &str) -> Expected {
    let text = fs::read_to_string(format!("tests/trade/scenarios/{name}_expected.yaml")).unwrap();
    serde_yaml::from_str(&text).unwrap()
}

fn asked(own: &Expected) -> Consultation {
    consultation(&fs::read_to_string(format!("tests/trade/scenarios/{}", own.case)).unwrap())
}

fn figure(text: &str) -> f64 {
    text.trim_end_matches(|sign: char| !sign.is_ascii_digit()).parse().unwrap()
}

/// Per cents within three points, hours within a tenth
#[rstest]
fn wear_agrees_with_the_story(#[values("s02", "s04", "s08", "s10")] name: &str) {
    let own = expected(name);
    let asked = asked(&own);
    let worn = asked.worn();
    let at = |measure: &str, place: &str| {
        let found = worn
            .iter()
            .find(|it| asked.model()[it.measure].common.name == measure && it.place.to_string() == place);
        found.unwrap_or_else(|| panic!("{name}: {measure} {place} has no per cent"))
    };
    for row in &own.worn {
        for place in &row.places {
            let found = at(&row.measure, place).percent;
            assert!(
                (found - row.percent).abs() <= WITHIN.0,
                "{name}: {} {place}: {found}, not {}",
                row.measure,
                row.percent
            );
        }
    }
    for row in &own.hours {
        for place in &row.places {
            let (found, left) = (at(&row.measure, place).left.unwrap().hours, figure(&row.left));
            assert!(
                (found / left - 1.0).abs() <= WITHIN.1,
                "{name}: {} {place}: {found} h, not {left}",
                row.measure
            );
        }
    }
}

/// What the story says and the program does not yet, with why
const NOT_YET: &[(&str, &str)] = &[
    (
        "s04 over turn_missed left",
        "the story counts a turn as missed from 90 %, the rules from 115 %, up to which it is still done",
    ),
    ("s04 over turn_missed right", "the same"),
    (
        "s04 stands wash_salt machine",
        "of the salt nothing is told but its splash, which makes ground that eats steel no more than a chance",
    ),
    (
        "s10 over rear_heavy",
        "nothing in the story tells a heavy rear from a steady pull uphill, as it says itself",
    ),
    (
        "s10 stands fit_teeth left",
        "nothing was read of the teeth: the turn says to read them first, and from what they go with it",
    ),
    ("s10 stands fit_teeth right", "the same"),
    ("s10 stands renew_bogie_pads left", "the pads are renewed with the pins, as one job"),
];

/// Causes, work that must stand in the plan by its hour, and work that must not: all but what is listed
#[rstest]
fn causes_and_plan_agree_with_the_story(#[values("s02", "s04", "s08", "s10")] name: &str) {
    let own = expected(name);
    let asked = asked(&own);
    let found = asked.weighing().diagnosis().unwrap();
    let chance = |what: &str| {
        let all = found.causes.iter().chain(&found.conditions);
        let named = |it: &&pinboss::reason::Ranked| {
            let label = asked.model().common(it.hidden).name.as_str();
            what == label || what == format!("{label} {}", it.place)
        };
        let of_form = |it: &pinboss::reason::Ranked| match it.hidden {
            Hidden::Cause(id) if it.place == Place::Machine => {
                let cause = &asked.model()[id];
                let of = |form: &String| what == format!("{} {form}", cause.common.name);
                cause.forms.names().iter().position(of).and_then(|form| it.grades.get(form + 1).copied())
            }
            _ => None,
        };
        let whole = all.clone().filter(named).map(|it| it.probability);
        whole.chain(all.filter_map(of_form)).fold(0.0, f64::max)
    };
    let mut missed = Vec::new();
    for (cause, over) in &own.causes.over {
        if chance(cause) < figure(over) / 100.0 {
            missed.push(format!("{name} over {cause}"));
        }
    }
    for (cause, under) in &own.causes.under {
        if chance(cause) > figure(under) / 100.0 {
            missed.push(format!("{name} under {cause}"));
        }
    }
    let plan = asked.plan().unwrap();
    let planned = |remedy: &str, place: &str, by: f64| {
        let visits = plan.visits.iter().filter(|visit| visit.at <= by).flat_map(|visit| &visit.jobs);
        let jobs = visits.chain(plan.on_site.iter().filter(|job| job.due <= by));
        jobs.flat_map(|job| std::iter::once(&job.named).chain(&job.instead_of))
            .any(|own| own.name == remedy && own.place.to_string() == place)
    };
    for row in &own.plan.stands {
        let by = row.within.as_deref().map_or(f64::INFINITY, figure);
        for place in
            row.places.iter().filter(|place| !row.any.iter().any(|remedy| planned(remedy, place, by)))
        {
            missed.push(format!("{name} stands {} {place}", row.any[0]));
        }
    }
    let done = |remedy: &str, place: &str| {
        plan.jobs().any(|job| job.named.name == remedy && job.named.place.to_string() == place)
    };
    for row in &own.plan.stands_not {
        for place in row.places.iter().filter(|place| done(&row.remedy, place)) {
            missed.push(format!("{name} stands not {} {place}", row.remedy));
        }
    }
    let listed: Vec<&str> =
        NOT_YET.iter().map(|(what, _)| *what).filter(|what| what.starts_with(name)).collect();
    assert_eq!(missed, listed);
}
