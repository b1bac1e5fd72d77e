//! The likelihood ratio on small sets of rules: by hand, by enumeration, and what is said about it.

use crate::support::setting::{Setting, set, split};
use pinboss::assess::but_for::but_for;
use pinboss::assess::overturn::Change;
use pinboss::assess::scale::{Held, Strength, Support, Weight};
use pinboss::assess::{
    self, Asked, Assessment, Damage, PartyOpinion, asked, assess, damage_at, parties, ratios,
};
use pinboss::ground::Origin;
use pinboss::infer::bounds::Budget;
use pinboss::infer::enumerate::enumerate;
use pinboss::infer::{Finding, Limits};
use pinboss::network::NodeId;
use pinboss::reason::Settings;
use pinboss::reason::decibans::ratio;
use pinboss::reason::evidence::findings;
use rstest::rstest;

/// Neglect, bad fitting and honest wear that make an idler thin; dirt tells of neglect, noise of all
pub(crate) const RULES: &str = "\
kind drive: \"how it was driven\" counts against operator
kind wear: \"honest wear\" counts against nobody
kind fitting: \"badly fitted\" counts against fitter
cause ungreased, each side: \"never greased\"
    kind upkeep
    chance 10% of sides
    basis common practice
cause unwashed, each side: \"never washed\"
    kind upkeep
    chance 5% of sides
    basis common practice
cause crooked, each side: \"fitted crooked\"
    kind fitting
    chance 8% of sides
    basis common practice
cause honest, each side: \"many hours\"
    kind wear
    chance 20% of sides
    basis common practice
cause raced: \"driven too fast\"
    kind drive
    chance 10% of machines
    basis common practice
condition dry, each side: \"dry bearing\"
    grades none, some, all
    with ungreased: often some, sometimes all
    with unwashed: sometimes some
    without 2% some
    basis common practice
symptom thin, each side, of idler: \"thin idler\"
    grades none, slight, heavy
    with dry some: 60% slight, 10% heavy
            \"A dry bearing wears.\"
    with dry all: 30% slight, 60% heavy
    with honest: 40% slight, 10% heavy
    with crooked: 30% heavy
    without 5% slight, 1% heavy
    basis common practice
symptom dirty, each side, of idler: \"caked idler\"
    with unwashed: 90%
    without 10%
    basis common practice
symptom noise: \"noise\"
    with raced: 50%
    with dry on either side: 40%
    without 5%
    basis common practice
check look, each side: \"Look at the idler\"
    shows thin
    takes 2 min
check scratch, each side: \"Look at the dirt\"
    shows dirty
    takes 1 min
check listen: \"Listen\"
    shows noise
    takes 3 min
";

pub(crate) fn case(found: &str) -> String {
    format!("case: c\nmachine: {{tag: T, facts: {{rollers: 5}}}}\nseen:\n  left: {{found: {{{found}}}}}\n")
}

fn damage(own: &Setting, name: &str) -> Vec<Damage> {
    let (name, place) = split(name);
    vec![damage_at(&own.model, &own.ground, name, None, place).unwrap()]
}

pub(crate) fn assessed(own: &Setting, name: &str) -> Assessment {
    let damage = damage(own, name);
    let asked = put(own, &damage);
    assess(&own.weighing(), &damage, &asked, &[]).unwrap()
}

/// All parties as they are put to the draws
fn put(own: &Setting, damage: &[Damage]) -> Vec<Asked> {
    let parties = parties(&own.model, &own.ground, damage);
    asked(&own.weighing(), &parties)
}

pub(crate) fn against<'a>(assessment: &'a Assessment, party: &str) -> &'a PartyOpinion {
    assessment.against.iter().find(|own| own.party.name == party).unwrap()
}

pub(crate) fn decibans(own: &PartyOpinion) -> f64 {
    let Weight::Exact(exact) = &own.weight else { panic!("{:?}", own.weight) };
    exact.held.decibans
}

/// 10 log10 of the likelihood ratio by three walks through every state of the network
pub(crate) fn by_enumeration(own: &Setting, causes: &[NodeId]) -> f64 {
    let network = &own.ground.network;
    let absent: Vec<Finding> = causes.iter().map(|cause| Finding::state(network, *cause, 0)).collect();
    let found = findings(&own.ground);
    let both: Vec<Finding> = found.iter().chain(&absent).cloned().collect();
    let chance = |found: &[Finding]| libm::exp(enumerate(network, found).log_evidence);
    let (before, after) = (chance(&absent), chance(&both) / chance(&found));
    10.0 * libm::log10((1.0 - after) / after / ((1.0 - before) / before))
}

/// P(not thin | neglect) = 0.2 x (0.8 + 0.2 x 0.6) x 0.95, without the 0.2 where it was greased
#[test]
fn one_cause_by_hand() {
    let rules = "\
kind wear: \"honest wear\" counts against nobody
cause ungreased, each side: \"never greased\"
    kind upkeep
    chance 10% of sides
    basis common practice
cause honest, each side: \"many hours\"
    kind wear
    chance 20% of sides
    basis common practice
symptom thin, each side, of idler: \"thin idler\"
    with ungreased: 80%
    with honest: 40%
    without 5%
    basis common practice
check look, each side: \"Look\"
    shows thin
    takes 1 min
";
    let own = set(rules, &case("thin: yes"));
    let found = ratios(&own.weighing(), &damage(&own, "thin left")).unwrap();
    let ratios: Vec<(&str, f64)> =
        found.iter().map(|(party, decibans)| (party.name.as_str(), ratio(*decibans))).collect();
    let sound = (0.8 + 0.2 * 0.6) * 0.95;
    let by_hand = (1.0 - 0.2 * sound) / (1.0 - sound);
    assert_eq!(ratios.len(), 1, "honest wear counts against nobody: {ratios:?}");
    assert!((ratios[0].1 - by_hand).abs() < 1e-9, "{ratios:?} {by_hand}");
}

/// Causes of one party that explain one another away are absent jointly, not one by one
#[rstest]
#[case("thin: heavy")]
#[case("thin: slight, dirty: yes")]
#[case("thin: none, dirty: no")]
#[case("thin: {saw: heavy, sure: 70%}, dirty: yes")]
fn joint_absence_by_enumeration(#[case] found: &str) {
    let own = set(RULES, &case(found));
    for (party, decibans) in ratios(&own.weighing(), &damage(&own, "thin left")).unwrap() {
        let expected = by_enumeration(&own, &party.causes);
        assert!((decibans - expected).abs() < 1e-9, "{}: {decibans} {expected}", party.name);
        let beliefs = enumerate(&own.ground.network, &findings(&own.ground));
        let singly: f64 = party.causes.iter().map(|cause| beliefs.probability(*cause, 0).unwrap()).product();
        let both: Vec<Finding> = findings(&own.ground)
            .into_iter()
            .chain(party.causes.iter().map(|cause| Finding::state(&own.ground.network, *cause, 0)))
            .collect();
        let jointly = libm::exp(enumerate(&own.ground.network, &both).log_evidence - beliefs.log_evidence);
        if found == "thin: heavy" && party.name == "owner" {
            assert!(
                (singly - jointly).abs() > 1e-3,
                "the product of marginals would do here: {singly} {jointly}"
            );
        }
    }
}

/// Only causes with an open path to the damage stand in the statements, at the place of the damage
#[test]
fn only_what_could_have_brought_it_about_counts() {
    let own = set(RULES, &case("thin: heavy"));
    let named = |name: &str| -> Vec<(String, usize)> {
        let parties = parties(&own.model, &own.ground, &damage(&own, name));
        parties.into_iter().map(|party| (party.name, party.causes.len())).collect()
    };
    let counts = |owner, operator, fitter| {
        vec![("owner".to_owned(), owner), ("operator".to_owned(), operator), ("fitter".to_owned(), fitter)]
    };
    assert_eq!(named("thin left"), counts(2, 0, 1));
    assert_eq!(named("noise"), counts(4, 1, 0));
    assert_eq!(assessed(&own, "thin left").untouched, ["operator"]);
}

/// A line that the facts told shut leaves no path open
#[rstest]
#[case("dry", 1)]
#[case("wet", 0)]
fn a_shut_line_is_no_path(#[case] ground: &str, #[case] causes: usize) {
    let rules = "\
fact ground: \"ground\"
    choices dry 50%, wet 50%
    tell \"Look.\" takes 1 min
cause ungreased, each side: \"never greased\"
    kind upkeep
    chance 10% of sides
    basis common practice
symptom thin, each side, of idler: \"thin idler\"
    with ungreased: 80% where ground is dry
    without 5%
    basis common practice
check look, each side: \"Look\"
    shows thin
    takes 1 min
";
    let text = case("thin: yes").replace("rollers: 5", &format!("rollers: 5, ground: {ground}"));
    let own = set(rules, &text);
    let all = parties(&own.model, &own.ground, &damage(&own, "thin left"));
    assert_eq!(all.iter().map(|party| party.causes.len()).collect::<Vec<_>>(), [causes]);
}

/// Steps are differences of one and the same figure: to the last digit they add up to the weight
#[rstest]
#[case("thin: heavy, dirty: yes")]
#[case("thin: slight, dirty: no")]
fn steps_add_up(#[case] found: &str) {
    let own = set(RULES, &(case(found) + "  machine: {found: {noise: yes}}\n"));
    let assessment = assessed(&own, "thin left");
    for against in &assessment.against {
        let sum: f64 = against.steps.iter().map(|step| step.decibans).sum();
        assert!((sum - decibans(against)).abs() < 1e-9);
        let led: f64 = against.steps.iter().take(against.leading).map(|step| step.decibans).sum();
        assert!((led + against.others - decibans(against)).abs() < 1e-9);
    }
}

/// A finding that the owner's causes do not bring about bears on them through what does: of two such, through the likelier
#[test]
fn a_rival_is_named() {
    let rules = format!(
        "{RULES}symptom old_meter: \"many hours on the meter\"\n    with honest on either side: 90%\n    with raced: 12%\n    \
         without 10%\n    basis common practice\ncheck meter: \"Read the meter\"\n    shows old_meter\n    takes 1 min\n"
    );
    for (seen, speaks_for) in [("no", true), ("yes", false)] {
        let found = case("thin: heavy") + &format!("  machine: {{found: {{old_meter: {seen}}}}}\n");
        let own = set(&rules, &found);
        let assessment = assessed(&own, "thin left");
        let owner = against(&assessment, "owner");
        let hours = own
            .ground
            .observations
            .iter()
            .position(|seen| own.model[seen.symptom].effect.common.name == "old_meter");
        let turn = owner.steps.iter().position(|step| step.observations[0] == hours.unwrap()).unwrap();
        assert!(owner.steps[turn].way.is_none());
        assert_eq!(owner.steps[turn].decibans > 0.0, speaks_for);
        let rival = owner.rivals[turn].map(|node| own.ground.origin(node).unwrap().clone());
        match rival {
            Some(Origin::Cause(id, place)) => {
                assert_eq!(
                    (own.model[id].common.name.as_str(), place.to_string()),
                    ("honest", "left".to_owned())
                );
            }
            other => assert!(turn >= owner.leading && other.is_none(), "{other:?}"),
        }
    }
}

/// A finding taken otherwise weighs as in a case that says so, and left out as in one that says nothing
#[test]
fn a_finding_taken_otherwise() {
    let own = set(RULES, &case("thin: heavy, dirty: no"));
    let assessment = assessed(&own, "thin left");
    let put = put(&own, &damage(&own, "thin left"));
    let owner = put.iter().find(|asked| asked.party.name == "owner").unwrap();
    let supposed = owner.supposed.as_ref().unwrap();
    let now = decibans(against(&assessment, "owner"));
    assert!(supposed.graded && !supposed.list.is_empty());
    for one in &supposed.list {
        let seen = &own.ground.observations[one.observation];
        let symptom = &own.model[seen.symptom].effect;
        let grade = match one.change {
            Change::LeftOut => None,
            Change::Grade(grade) => Some(symptom.grades.name(grade)),
        };
        let noted = |name: &str, as_is: &str| match (symptom.common.name == name, grade) {
            (true, None) => String::new(),
            (true, Some(grade)) => format!("{name}: {grade}, "),
            (false, _) => format!("{name}: {as_is}, "),
        };
        let other = set(RULES, &case(&(noted("thin", "heavy") + &noted("dirty", "no"))));
        let found = ratios(&other.weighing(), &damage(&other, "thin left")).unwrap();
        let (_, expected) = found.iter().find(|(party, _)| party.name == "owner").unwrap();
        assert!((one.decibans - expected).abs() < 1e-6, "{one:?} {expected}");
        assert!(one.decibans * now.signum() < now.abs(), "it takes from the weight: {one:?} {now}");
    }
}

/// With draws, what is listed leads to a weaker word or to the other statement by the rule of the weight itself, the end of
/// a range nearer 1; where neither statement is supported nothing is listed, for there is nothing to overturn
#[rstest]
#[case("thin: heavy, dirty: yes")]
#[case("thin: none, dirty: yes")]
#[case("thin: none, dirty: no")]
#[case("thin: slight")]
fn only_what_weakens_overturns(#[case] found: &str) {
    let own = set(RULES, &(case(found) + "  machine: {found: {noise: yes}}\n"));
    let damage = damage(&own, "thin left");
    let put = put(&own, &damage);
    let draw = |number| assess::draws::draw(&own.model, &own.ground, &put, &Limits::default(), number);
    let draws: Vec<_> = (0..100).filter_map(draw).collect();
    let told = assess(&own.weighing(), &damage, &put, &draws).unwrap();
    for against in &told.against {
        let Weight::Exact(exact) = &against.weight else { panic!() };
        let now = exact.held.support.unwrap();
        let overturns = against.overturns.as_ref().unwrap();
        let asked = put.iter().find(|asked| asked.party == against.party).unwrap();
        let supposed = &asked.supposed.as_ref().unwrap().list;
        if now.strength == Strength::None {
            assert!(overturns.overturning.is_empty() && overturns.nearest.is_none());
            continue;
        }
        for own in &overturns.overturning {
            let then = own.held.support.unwrap();
            assert!(then.strength < now.strength || then.first != now.first, "{own:?}");
            let (low, high) = own.held.range.unwrap();
            assert!(low <= own.held.decibans && own.held.decibans <= high);
            assert_eq!(then, Support::throughout((low, high)), "the rule of the weight itself");
        }
        // All that is left over keeps the word.
        for (number, one) in supposed.iter().enumerate() {
            let column: Vec<f64> = draws
                .iter()
                .map(|row| row[put.iter().position(|own| own == asked).unwrap()].supposed[number])
                .collect();
            let then = Held::new(one.decibans, &column, true).support.unwrap();
            let listed = overturns.overturning.iter().any(|own| own.supposed == *one);
            assert_eq!(listed, then.strength < now.strength || then.first != now.first, "{one:?}");
        }
    }
}

/// Damage that nobody looked at is taken to be there: the chance is that of a case in which it was found, not less by the
/// chance that there is none
#[rstest]
#[case::seen("thin: heavy, dirty: yes", "thin left", None)]
#[case::not_looked_at("dirty: yes", "thin left", Some("dirty: yes, thin: heavy"))]
fn but_for_supposes_damage_that_nobody_looked_at(
    #[case] found: &str,
    #[case] name: &str,
    #[case] same_as: Option<&str>,
) {
    let without = |found: &str| {
        let own = set(RULES, &case(found));
        let (named, place) = split(name);
        let damage = damage_at(&own.model, &own.ground, named, Some("heavy"), place).unwrap();
        let owner = parties(&own.model, &own.ground, std::slice::from_ref(&damage)).remove(0);
        but_for(&own.model, &own.ground, &damage, &owner.causes, &Limits::default()).unwrap()
    };
    let told = without(found);
    assert!(told.lower > 0.3, "{told:?}");
    if let Some(same_as) = same_as {
        assert!((told.lower - without(same_as).lower).abs() < 1e-9, "{told:?}");
    }
}

/// The bits of a check are the drop in entropy of the statement, by enumeration over what it can show
#[test]
fn what_would_settle_it_by_enumeration() {
    let own = set(RULES, &case("thin: heavy"));
    let assessment = assessed(&own, "thin left");
    let owner = against(&assessment, "owner");
    let settling = owner.settling.as_ref().unwrap();
    let named = |place: &str| {
        let is_it =
            |own: &&assess::settle::Settling| own.check.place.to_string() == place && own.outcomes.len() == 2;
        settling.iter().find(is_it).unwrap()
    };
    let check = named("left");
    let network = &own.ground.network;
    let dirty = network.find("dirty left").unwrap();
    let found = findings(&own.ground);
    let chance = |more: &[Finding]| {
        let all: Vec<Finding> = found.iter().chain(more).cloned().collect();
        libm::exp(enumerate(network, &all).log_evidence)
    };
    let absent: Vec<Finding> =
        owner.party.causes.iter().map(|cause| Finding::state(network, *cause, 0)).collect();
    let entropy = |p: f64| -p * libm::log2(p) - (1.0 - p) * libm::log2(1.0 - p);
    let mut bits = entropy(chance(&absent) / chance(&[]));
    for state in 0..2 {
        let seen = Finding::state(network, dirty, state);
        let both: Vec<Finding> = absent.iter().cloned().chain([seen.clone()]).collect();
        let all = chance(&[seen]);
        bits -= all / chance(&[]) * entropy(chance(&both) / all);
    }
    assert!((check.check.bits - bits).abs() < 1e-9, "{} {bits}", check.check.bits);
    // Each outcome gives the ratio of a case that has it.
    let then = set(RULES, &case("thin: heavy, dirty: yes"));
    let all = ratios(&then.weighing(), &damage(&then, "thin left")).unwrap();
    let shown = check.outcomes.iter().find(|outcome| outcome.shows.is_some()).unwrap();
    assert!((shown.decibans - all[0].1).abs() < 1e-9);
}

/// The worth of checks takes what work is allowed and no more, and for one party it is the same whether others are asked
/// about or not
#[test]
fn checks_are_ranked_party_by_party_within_the_budget() {
    let own = set(RULES, &case("thin: heavy"));
    let damage = damage(&own, "thin left");
    let put = put(&own, &damage);
    let told = |asked: &[Asked], seconds: f64| {
        let settings = Settings { budget: Budget::seconds(seconds), ..Settings::default() };
        assess(&own.weighing().within(settings), &damage, asked, &[]).unwrap()
    };
    let of = |against: &PartyOpinion| {
        let settling = against.settling.as_ref().map(|all| all.iter().map(|own| own.check.bits));
        settling.map(Iterator::collect::<Vec<f64>>)
    };
    assert!(told(&put, 0.0).against.iter().all(|against| of(against).is_none()));
    for against in &told(&put, 1.0).against {
        let alone: Vec<Asked> = put.iter().filter(|asked| asked.party == against.party).cloned().collect();
        let ranked = of(against).unwrap();
        assert!(!ranked.is_empty());
        assert_eq!(Some(ranked), of(&told(&alone, 1.0).against[0]));
    }
}

/// Over 10,000 only where every figure that carries it is published; the opinions then go by the figure that is told
#[rstest]
#[case("\"a table of 1950\"", None)]
#[case("common practice", Some(40.0))]
#[case("estimate", Some(40.0))]
fn no_figure_over_10_000_by_what_nobody_has_published(#[case] basis: &str, #[case] told: Option<f64>) {
    let rules = format!(
        "cause ungreased, each side: \"never greased\"\n    kind upkeep\n    chance 1% of sides\n    basis {basis}\n\
         symptom thin, each side, of idler: \"thin idler\"\n    with ungreased: 90%\n    without 0.001%\n    \
         basis \"a table of 1950\"\n\
         check look, each side: \"Look\"\n    shows thin\n    takes 1 min\n"
    );
    let own = set(&rules, &case("thin: yes"));
    let assessment = assessed(&own, "thin left");
    let Weight::Exact(exact) = &against(&assessment, "owner").weight else { panic!() };
    assert_eq!(exact.held.capped, told.is_some());
    match told {
        Some(told) => {
            assert!((exact.held.decibans - told).abs() < 1e-12);
            assert_eq!(exact.estimates, ["ungreased"]);
        }
        None => assert!(exact.held.decibans > 49.0, "{}", exact.held.decibans),
    }
    // The steps add up to the figure as reckoned, whatever may be told of it.
    let sum: f64 = against(&assessment, "owner").steps.iter().map(|step| step.decibans).sum();
    assert!((sum - exact.reckoned).abs() < 1e-9 && sum > 49.0, "{sum}");
}

/// The same draw twice gives the same, another gives another; the middle of many lies about the figure itself
#[test]
fn draws_go_by_number_and_lie_about_the_figure() {
    let own = set(RULES, &case("thin: heavy, dirty: yes"));
    let damage = damage(&own, "thin left");
    let put = put(&own, &damage);
    let draw =
        |number| assess::draws::draw(&own.model, &own.ground, &put, &Limits::default(), number).unwrap();
    assert_eq!(draw(3), draw(3));
    assert_ne!(draw(3), draw(4));
    let mut owner: Vec<f64> = (0..200).map(|number| draw(number)[0].decibans).collect();
    owner.sort_by(f64::total_cmp);
    let ratio = ratios(&own.weighing(), &damage).unwrap()[0].1;
    assert!(owner[10] < ratio && ratio < owner[189], "{} {ratio} {}", owner[10], owner[189]);
    assert!((owner[100] - ratio).abs() < 3.0, "{} {ratio}", owner[100]);
}

/// Past the width there are bounds, and they hold the figure; never a figure
#[test]
fn bounds_hold_the_ratio() {
    let own = set(RULES, &case("thin: heavy, dirty: yes"));
    let damage = damage(&own, "thin left");
    let put: Vec<Asked> = parties(&own.model, &own.ground, &damage)
        .into_iter()
        .map(|party| Asked { party, supposed: None })
        .collect();
    let exact = ratios(&own.weighing(), &damage).unwrap();
    let limits = Limits { table: 4, total: 1 << 10 };
    for seconds in [0.0, 1.0] {
        let settings =
            Settings { limits: limits.clone(), budget: Budget::seconds(seconds), ..Settings::default() };
        let told = assess(&own.weighing().within(settings), &damage, &put, &[]).unwrap();
        for (party, decibans) in &exact {
            let against = against(&told, &party.name);
            match against.weight {
                Weight::Within(bounds) => {
                    assert!(bounds.lower <= decibans + 1e-9 && decibans - 1e-9 <= bounds.upper, "{bounds:?}");
                    assert!(seconds < 1.0 || bounds.upper - bounds.lower < 0.1, "{bounds:?}");
                }
                Weight::Unknown => assert!(seconds < 1.0),
                Weight::Exact(_) => panic!("the limits are too wide for this test"),
            }
            assert!(against.steps.is_empty() && against.overturns.is_none());
        }
    }
}
