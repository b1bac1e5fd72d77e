//! What calls for work by itself, what is a look and no work, and what may be looked at on a machine that must stand.

use crate::support::shipped::consultation;
use pinboss::consultation::Consultation;
use pinboss::plan::record::{Call, Watched};
use rstest::rstest;

/// A machine of the shipped rules with what was found on it
fn asked(seen: &str) -> Consultation {
    let text = format!(
        "case: by itself\nmachine: {{tag: S1, hours: 1500, size: medium, facts: {{chain_type: sealed_lubricated, rollers: 7, \
         carriers: two, sag_rule: mean_of_two, bushings: first_side}}}}\nvisit: {{state: [packed, hot, cleaned, moved, \
         lifted]}}\nseen: {seen}\n"
    );
    consultation(&text)
}

/// Each job and what it makes needless by their names in the rules, with hours from now
fn jobs(asked: &Consultation) -> Vec<(String, String, f64)> {
    let plan = asked.plan().unwrap();
    let in_visits = plan.visits.iter().flat_map(|visit| visit.jobs.iter().map(move |job| (job, visit.at)));
    let all = in_visits.chain(plan.on_site.iter().map(|job| (job, job.due)));
    let done = all
        .flat_map(|(job, at)| std::iter::once(&job.named).chain(&job.instead_of).map(move |own| (own, at)));
    done.map(|(own, at)| (own.name.clone(), own.place.to_string(), at)).collect()
}

/// A fault that is seen or read calls for its work, whether or not its cause is known (common practice)
#[rstest]
#[case::pin_far_out("{left: {read: {pin_stand_out: 12 mm}}}", "hold_pin", "left", 0.0)]
#[case::sag_wrong(
    "{left: {read: {sag_clean: 29 mm}}, right: {read: {sag_clean: 29 mm}}}",
    "set_sag",
    "right",
    50.0
)]
#[case::sag_slack("{left: {read: {sag_clean: 60 mm}}}", "set_sag", "left", 50.0)]
#[case::bolts_loose("{left: {found: {shoe_bolts: several}}}", "refit_shoes", "left", 50.0)]
#[case::bushings_cracked("{left: {found: {bushing_cracked: one}}}", "run_chain_out", "left", 100.0)]
#[case::track_parted("{left: {found: {track_parted: yes}}}", "change_cracked_pins", "left", 0.0)]
#[case::wire_wound_in("{left: {found: {hub_wire: yes}}}", "clear_wire", "left", 0.0)]
fn a_fault_calls_for_its_work(#[case] seen: &str, #[case] name: &str, #[case] place: &str, #[case] by: f64) {
    let asked = asked(seen);
    let all = jobs(&asked);
    assert!(all.iter().any(|(own, at, hours)| own == name && at == place && *hours <= by), "{all:?}");
}

/// What no likely cause accounts for stands by itself, with its work; what one accounts for does not
#[test]
fn a_fault_without_a_cause_is_told() {
    let asked = asked(
        "{left: {read: {pin_stand_out: 12 mm}}, right roller 5: {found: {oil_streak: yes, roller_hot: yes, oil_comes_back: yes}}}",
    );
    let found = asked.weighing().diagnosis().unwrap();
    let alone = found.unclaimed(asked.model(), asked.ground());
    let names: Vec<&str> = alone
        .iter()
        .map(|number| asked.model()[asked.ground().observations[*number].symptom].effect.common.name.as_str())
        .collect();
    assert_eq!(names, ["pin_out"]);
}

/// A reading near its bound is as uncertain as its instrument: no order flips on a tenth of a millimetre
#[test]
fn a_reading_near_its_bound_is_as_uncertain_as_its_instrument() {
    let chance = |read: f64| {
        let asked = asked(&format!("{{left: {{read: {{sag_clean: {read} mm}}}}}}"));
        let plan = asked.plan().unwrap().clone();
        let mut calls = plan.jobs().flat_map(|job| job.calls.clone());
        calls.find_map(|call| match call {
            Call::Seen { probability, .. } => Some(probability),
            _ => None,
        })
    };
    let (tight, near) = (chance(30.0).unwrap(), chance(37.6).unwrap());
    assert!(tight > 0.95 && (0.5..0.75).contains(&near), "{tight} {near}");
    assert_eq!(chance(39.5), None);
}

/// What is rather not there than there is a look and no work: it stands in no visit, and among what to watch
#[test]
fn a_chance_under_one_half_is_no_work() {
    for seen in [
        "{left: {read: {sag_clean: 29 mm}}}",
        "{left: {found: {joint_weep: several}}}",
        "{left roller 2: {found: {oil_streak: yes}}}",
        "{machine: {found: {frost_told: suspected}}, left: {found: {roller_hollow: yes}}}",
    ] {
        let asked = asked(seen);
        let plan = asked.plan().unwrap();
        for job in plan.visits.iter().flat_map(|visit| &visit.jobs) {
            let floor = asked.model()[job.remedy].forbids_over.unwrap_or(0.5);
            let likely = |call: &Call| match call {
                Call::Hidden(own) => own.within.upper > floor,
                Call::Seen { probability, .. } => *probability > 0.5,
                Call::Worn { .. } => true,
            };
            assert!(job.calls.iter().all(likely), "{}: {:?}", job.named.name, job.calls);
        }
        assert!(
            plan.watched.iter().any(|own| matches!(own, Watched::Hidden { .. })) || plan.watched.is_empty()
        );
    }
}

/// To run it out lasts as long as the wear says of the face that ends first, to the same ends of the range
#[test]
fn what_is_run_out_lasts_as_the_wear_tells() {
    let asked = consultation(&std::fs::read_to_string("cases/healthy_dozer.yaml").unwrap());
    let turn = &asked.plan().unwrap().turns[0];
    let mut worn = asked.worn().iter().filter(|own| own.place == turn.named.place);
    let left =
        worn.find(|own| asked.model()[own.measure].common.name == "bushing_rev").unwrap().left.unwrap();
    let way = &turn.ways[0];
    assert_eq!((&way.label, way.hours, way.lower, way.upper), (&None, left.hours, left.lower, left.upper));
}

/// Nobody is sent to listen at a recoil spring that may be broken
#[test]
fn nobody_looks_near_the_stored_force_that_stops_the_machine() {
    let near = |found: &str| {
        let asked = asked(&format!("{{left: {{found: {{{found}}}}}}}"));
        let next = asked.next().unwrap().clone();
        let looks = next.checks.iter().filter(|check| {
            let id = match check.what {
                pinboss::reason::next::What::Check(id) => id,
                pinboss::reason::next::What::Tell(..) => return false,
            };
            asked.model()[id].common.name == "look_adjuster" && check.place.to_string() == "left"
        });
        (looks.count(), next.stands)
    };
    assert_eq!(near("joint_squeal: one").0, 1);
    let (looks, stands) = near("recoil_rattle: yes");
    let stands = stands.unwrap();
    assert_eq!(looks, 0, "{stands:?}");
    assert!(stands.too_near.iter().any(|label| label.contains("recoil spring")), "{stands:?}");
}

/// Nobody is sent to a rolling machine while a pin is on its way out
#[test]
fn a_machine_that_must_stand_is_not_moved_for_a_look() {
    let moved = |asked: &Consultation| {
        let next = asked.next().unwrap().clone();
        let access = |check: &pinboss::reason::next::NextCheck| match check.what {
            pinboss::reason::next::What::Check(id) => asked.model()[id].access.clone(),
            pinboss::reason::next::What::Tell(..) => None,
        };
        let count = next.checks.iter().filter(|check| access(check).as_deref() == Some("moved")).count();
        (count, next.stands)
    };
    let (before, stands) = moved(&asked("{left: {read: {pin_stand_out: 0.5 mm}}}"));
    assert!(before > 0 && stands.is_none());
    let (after, stands) = moved(&asked("{left: {read: {pin_stand_out: 12 mm}}}"));
    let stands = stands.unwrap();
    assert_eq!(after, 0);
    assert!(
        !stands.taken_off.is_empty() && stands.because.iter().any(|own| own.name == "pin_out"),
        "{stands:?}"
    );
}
